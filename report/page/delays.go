package page

import (
	"fmt"

	"pourback/analysis/work"
	"pourback/report/chart"
	"pourback/report/say"
)

// delayExhibits show where time went, which only a history handed in in full
// can tell: by cause, for clogs by where they sat, and what followed late
// loads.
func (a *Author) delayExhibits() []Exhibit {
	d := a.f.Pump.Delays
	if d == nil {
		return nil
	}
	var out []Exhibit
	if len(d.Causes) > 0 {
		out = append(out, Exhibit{Title: "Where time went, all placements", Says: a.delaysSay(d.Causes),
			Chart: a.pareto("chart-delays", d.Causes), Table: a.delayTable("Delays by cause, the costliest first", "Cause", d.Causes)})
	}
	if len(d.Spots) > 0 {
		out = append(out, Exhibit{Title: "Where clogs sat", Says: "A clog in the hose is quick to find; one in the pump itself takes longest. Leave the clearing to the trained operator.",
			Table: a.delayTable("Clogs by spot, the costliest first", "Spot", d.Spots)})
	}
	return append(out, a.lateLoads()...)
}

// delaysSay names the causes that come before the others.
func (a *Author) delaysSay(causes []work.DelayCause) string {
	if len(causes) == 1 {
		return "All delays on record have one cause: " + causeName(causes[0].Name) + "."
	}
	named := causes[0]
	if named.Name != "other" && named.Name != "unknown" {
		return fmt.Sprintf("Most time goes to %s: %s of all minutes lost.", causeName(named.Name), a.At(say.Percent, named.Share))
	}
	next := causes[1]
	return fmt.Sprintf("%s of all minutes lost stand under “%s”: note the cause at each delay. Of the rest most goes to %s (%s).",
		a.At(say.Percent, named.Share), causeName(named.Name), causeName(next.Name), a.At(say.Percent, next.Share))
}

func causeName(s string) string { return say.Clean(s, say.ShortName) }

func (a *Author) pareto(id string, rows []work.DelayCause) *chart.Chart {
	plot := chart.ParetoPlot{Id: id, Scale: "minutes lost", Amount: "minutes", Running: a.RunningShare(), Few: a.TooFewCauses,
		Says: "A bar for each cause, the costliest first: the minutes lost to it; the line adds up their share of all. The table holds the same figures."}
	for _, r := range rows {
		plot.Rows = append(plot.Rows, chart.ParetoRow{Label: r.Name, Amount: float64(r.Minutes), Running: r.Running,
			Tip: causeName(r.Name) + ": " + say.Count(int(r.Minutes)) + " minutes, " + a.At(say.Percent, r.Share) + " of all"})
	}
	return plot.Chart()
}

func (a *Author) delayTable(caption, head string, rows []work.DelayCause) *Table {
	type cause = work.DelayCause
	return TableOf(caption, rows,
		wordsIn(head, func(c cause) string { return causeName(c.Name) }),
		numbers("Minutes", func(c cause) say.Cell { return say.Whole(int(c.Minutes)) }),
		numbers("Share", func(c cause) say.Cell { return say.Valued(a.At(say.Percent, c.Share), c.Share) }),
		numbers("With those above", func(c cause) say.Cell { return say.Valued(a.At(say.Percent, c.Running), c.Running) }),
		counts("Times", func(c cause) int { return c.Times }),
		numbers("Minutes each", func(c cause) say.Cell { return a.Cell(say.Wholes, c.Each) }),
		numbers("The crew's wait", func(c cause) say.Cell { return a.MoneyCell(c.Cost) }))
}

// lateLoads compare the pours that had a load past the time limit with those
// that had none.
func (a *Author) lateLoads() []Exhibit {
	d := a.f.Pump.Delays
	if d.Late.Known == 0 {
		return nil
	}
	type row struct {
		name string
		work.Followed
	}
	rows := []row{{"with a late load", d.Late.With}, {"without one", d.Late.Without}}
	return []Exhibit{{Title: "Loads past the time limit", Says: a.Said(d.Late.Says),
		Table: TableOf("Pours by whether a load came late, and the callbacks that followed", rows,
			wordsIn("Pours", func(r row) string { return r.name }),
			counts("Number", func(r row) int { return r.Pours }),
			counts("Callbacks", func(r row) int { return r.Callbacks }),
			numbers("Callbacks a year, on 100 pours", func(r row) say.Cell { return a.Cell(say.Wholes, r.PerYear) }))}}
}

// lateNote says what is odd about the times and the crews behind the delays.
func (a *Author) lateNote() []string {
	d := a.f.Pump.Delays
	if d == nil {
		return nil
	}
	var notes []string
	if d.Late.Share.Known() {
		notes = append(notes, a.Long(say.ShareOf(d.Late.Share, "{value} in 100 loads", "{value} in 1,000 loads"), d.Late.Share)+" come late.")
	}
	if n := d.Late.Unlikely; n > 0 {
		notes = append(notes, say.Plural(n, "load")+" took so long that the times themselves deserve a look.")
	}
	if n := d.Assumed; n > 0 {
		notes = append(notes, say.Plural(n, "delay")+" of placements without a crew size "+say.Were(n)+" reckoned with the usual crew of "+say.Grouped(d.UsualCrew, 0)+".")
	}
	return notes
}
