package report

import (
	"fmt"

	"pourback/analysis/work"
)

// delayExhibits show where time went, which only a history handed in in full
// can tell: by cause, for clogs by where they sat, and what followed late
// loads.
func (a *author) delayExhibits() []Exhibit {
	d := a.f.Pump.Delays
	if d == nil {
		return nil
	}
	var out []Exhibit
	if len(d.Causes) > 0 {
		out = append(out, Exhibit{Title: "Where time went, all placements", Says: delaysSay(d.Causes),
			Chart: a.pareto("chart-delays", d.Causes), Table: a.delayTable("Delays by cause, the costliest first", "Cause", d.Causes)})
	}
	if len(d.Spots) > 0 {
		out = append(out, Exhibit{Title: "Where clogs sat", Says: "A clog in the hose is quick to find; one in the pump itself takes longest. Leave the clearing to the trained operator.",
			Table: a.delayTable("Clogs by spot, the costliest first", "Spot", d.Spots)})
	}
	return append(out, a.lateLoads()...)
}

// delaysSay names the causes that come before the others.
func delaysSay(causes []work.DelayCause) string {
	if len(causes) == 1 {
		return "All delays on record have one cause: " + causeName(causes[0].Name) + "."
	}
	named := causes[0]
	if named.Name != "other" && named.Name != "unknown" {
		return fmt.Sprintf("Most time goes to %s: %s of all minutes lost.", causeName(named.Name), percent.at(named.Share))
	}
	next := causes[1]
	return fmt.Sprintf("%s of all minutes lost stand under “%s”: note the cause at each delay. Of the rest most goes to %s (%s).",
		percent.at(named.Share), causeName(named.Name), causeName(next.Name), percent.at(next.Share))
}

func causeName(s string) string { return clean(s, shortName) }

func (a *author) pareto(id string, rows []work.DelayCause) *Chart {
	plot := paretoPlot{id: id, scale: "minutes lost", amount: "minutes",
		says: "A bar for each cause, the costliest first: the minutes lost to it; the line adds up their share of all. The table holds the same figures."}
	for _, r := range rows {
		plot.rows = append(plot.rows, paretoRow{label: r.Name, amount: float64(r.Minutes), running: r.Running,
			tip: causeName(r.Name) + ": " + count(int(r.Minutes)) + " minutes, " + percent.at(r.Share) + " of all"})
	}
	return plot.chart()
}

func (a *author) delayTable(caption, head string, rows []work.DelayCause) *Table {
	type cause = work.DelayCause
	return tableOf(caption, rows,
		wordsIn(head, func(c cause) string { return causeName(c.Name) }),
		numbers("Minutes", func(c cause) Cell { return whole(int(c.Minutes)) }),
		numbers("Share", func(c cause) Cell { return valued(percent.at(c.Share), c.Share) }),
		numbers("With those above", func(c cause) Cell { return valued(percent.at(c.Running), c.Running) }),
		counts("Times", func(c cause) int { return c.Times }),
		numbers("Minutes each", func(c cause) Cell { return wholes.cell(c.Each) }),
		numbers("The crew's wait", func(c cause) Cell { return a.moneyCell(c.Cost) }))
}

// lateLoads compare the pours that had a load past the time limit with those
// that had none.
func (a *author) lateLoads() []Exhibit {
	d := a.f.Pump.Delays
	if d.Late.Known == 0 {
		return nil
	}
	type row struct {
		name string
		work.Followed
	}
	rows := []row{{"with a late load", d.Late.With}, {"without one", d.Late.Without}}
	return []Exhibit{{Title: "Loads past the time limit", Says: a.said(d.Late.Says),
		Table: tableOf("Pours by whether a load came late, and the callbacks that followed", rows,
			wordsIn("Pours", func(r row) string { return r.name }),
			counts("Number", func(r row) int { return r.Pours }),
			counts("Callbacks", func(r row) int { return r.Callbacks }),
			numbers("Callbacks a year, on 100 pours", func(r row) Cell { return wholes.cell(r.PerYear) }))}}
}

// lateNote says what is odd about the times and the crews behind the delays.
func (a *author) lateNote() []string {
	d := a.f.Pump.Delays
	if d == nil {
		return nil
	}
	var notes []string
	if d.Late.Share.Known() {
		notes = append(notes, share(d.Late.Share).of("loads").long(d.Late.Share)+" come late.")
	}
	if n := d.Late.Unlikely; n > 0 {
		notes = append(notes, plural(n, "load")+" took so long that the times themselves deserve a look.")
	}
	if n := d.Assumed; n > 0 {
		notes = append(notes, plural(n, "delay")+" of placements without a crew size "+were(n)+" reckoned with the usual crew of "+grouped(d.UsualCrew, 0)+".")
	}
	return notes
}
