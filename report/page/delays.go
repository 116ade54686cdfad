package page

import (
	"pourback/analysis/work"
	"pourback/report/chart"
	"pourback/report/say"
)

// delayExhibits show where time went, which only a history handed in in full
// can tell: by cause, for clogs by where they sat, and what followed late
// loads.
func (a *Author) delayExhibits() []Exhibit {
	d, w := a.f.Pump.Delays, say.Delays{Voice: a.Voice}
	if d == nil {
		return nil
	}
	var out []Exhibit
	if len(d.Causes) > 0 {
		out = append(out, Exhibit{Title: w.Title(), Says: w.Most(d.Causes), Chart: a.pareto("chart-delays", d.Causes), Table: a.delayTable(w.Caption(), w.HeadCause(), d.Causes)})
	}
	if len(d.Spots) > 0 {
		out = append(out, Exhibit{Title: w.SpotsTitle(), Says: w.SpotsSay(), Table: a.delayTable(w.SpotsCaption(), w.HeadSpot(), d.Spots)})
	}
	return append(out, a.lateLoads()...)
}

func (a *Author) pareto(id string, rows []work.DelayCause) *chart.Chart {
	w := say.Delays{Voice: a.Voice}
	plot := chart.ParetoPlot{ID: id, Scale: w.Axis(), Running: a.RunningShare(), Few: a.TooFewCauses, Says: w.Chart()}
	for _, r := range rows {
		plot.Rows = append(plot.Rows, chart.ParetoRow{Label: a.Word(r.Name), Amount: float64(r.Minutes), Running: r.Running, Text: a.At(say.Percent, r.Running), Tip: w.Tip(r)})
	}
	return plot.Chart()
}

func (a *Author) delayTable(caption, head string, rows []work.DelayCause) *Table {
	type cause = work.DelayCause
	w := say.Delays{Voice: a.Voice}
	return TableOf(caption, rows,
		wordsIn(head, func(c cause) string { return a.Word(c.Name) }),
		numbers(w.HeadMinutes(), func(c cause) say.Cell { return say.Whole(int(c.Minutes)) }),
		numbers(w.HeadShare(), func(c cause) say.Cell { return a.In(say.Percent, say.Valued(a.At(say.Percent, c.Share), c.Share)) }),
		numbers(w.HeadRunning(), func(c cause) say.Cell { return a.In(say.Percent, say.Valued(a.At(say.Percent, c.Running), c.Running)) }),
		counts(w.HeadTimes(), func(c cause) int { return c.Times }),
		numbers(w.HeadEach(), func(c cause) say.Cell { return a.Cell(say.Wholes, c.Each) }),
		numbers(w.HeadWait(), func(c cause) say.Cell { return a.MoneyCell(c.Cost) }))
}

// lateLoads compare the pours that had a load past the time limit with those
// that had none.
func (a *Author) lateLoads() []Exhibit {
	late, w := &a.f.Pump.Delays.Late, say.Delays{Voice: a.Voice}
	if late.Known == 0 {
		return nil
	}
	type row struct {
		name string
		work.Followed
	}
	rows := []row{{w.WithLate(), late.With}, {w.WithoutLate(), late.Without}}
	return []Exhibit{{Title: w.LateTitle(), Says: w.Late(late),
		Table: TableOf(w.LateCaption(), rows,
			wordsIn(w.HeadPours(), func(r row) string { return r.name }),
			counts(w.HeadNumber(), func(r row) int { return r.Pours }),
			counts(w.HeadCallbacks(), func(r row) int { return r.Callbacks }),
			numbers(w.HeadYearly(), func(r row) say.Cell { return a.Cell(say.Wholes, r.PerYear) }))}}
}
