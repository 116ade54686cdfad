package page

import (
	"math"

	"pourback/analysis/visits"
	"pourback/report/chart"
	"pourback/report/say"
)

// warranty says what slabs still under warranty may cost.
func (a *Author) warranty() Page {
	w := say.Warranty{Voice: a.Voice}
	p := Page{Slug: warrantySlug, Title: w.Title(), Method: w.Method()}
	if a.empty() {
		return a.begin(p, w.WillSay(), w.Takes())
	}
	d := &a.f.Visits.Warranty
	p.Answer, p.Basis, p.Notes = w.Answer(d), w.Basis(d, a.f.Placements), w.Notes()
	p.Exhibits = some(a.expiries(d), a.reserveTable(d))
	if d.Cost.Known() {
		p.Do = []string{say.Todo{Voice: a.Voice}.NoReserve()}
		if d.Cost.Value > 0 {
			p.Do[0] = say.Todo{Voice: a.Voice}.KeepBack(d.Cost.Value)
		}
	}
	if left := w.Unpriced(d); left != "" {
		p.Notes = append(p.Notes, left)
	}
	return p
}

func (a *Author) expiries(d *visits.Warranty) Exhibit {
	type month = visits.WarrantyMonth
	w := say.Warranty{Voice: a.Voice}
	heads := w.ExpiryHeads()
	t := visitsTable(a, w.ExpiryCaption(), d.Months,
		monthsIn(heads.Ends, func(m month) string { return m.Month }, a.Month),
		counts(heads.Slabs, func(m month) int { return m.Placements }),
		numbers(heads.Callbacks, func(m month) say.Cell { return a.Cell(say.Plain, m.Callbacks) }),
		numbers(heads.Cost, func(m month) say.Cell { return a.Cell(a.About(), m.Cost) }))
	e := Exhibit{Title: w.ExpiryTitle(), Table: t}
	shown := d.Months[:min(len(d.Months), MostMonths)]
	if d.Cost.Known() && d.Cost.Value > 0 && len(shown) > 0 {
		e.Chart = a.expiryChart(shown)
	}
	return e
}

func (a *Author) expiryChart(shown []visits.WarrantyMonth) *chart.Chart {
	w := say.Warranty{Voice: a.Voice}
	words := w.Chart()
	plot := chart.ColumnPlot{ID: "chart-warranty", Says: words.Says, Up: words.Axis}
	for i := range shown {
		m := &shown[i]
		plot.Columns = append(plot.Columns, chart.Column{Label: a.ShortMonth(m.Month), Amount: chart.Of(m.Cost, 1, w.MonthTip(m)), Usual: math.NaN()})
	}
	return plot.Chart()
}

// reserveTable sets what is to come beside what is booked.
func (a *Author) reserveTable(d *visits.Warranty) Exhibit {
	type row struct {
		name string
		cell say.Cell
	}
	w := say.Warranty{Voice: a.Voice}
	names := w.ReserveRows()
	rows := []row{
		{names.Callbacks, a.Cell(say.Plain, d.Callbacks)},
		{names.Cracks, a.Cell(say.Plain, d.Cracks)},
		{names.Each, a.spent(d.CostEach)},
		{names.Cost, a.Cell(a.About(), d.Cost)},
		{names.Open, a.spent(d.OpenCost)},
		{names.Margin, a.spent(d.Booked.Margin)},
		{names.Share, a.Cell(say.Plain, d.Booked.Share)},
	}
	return Exhibit{Title: w.ReserveTitle(), Table: visitsTable(a, w.ReserveCaption(), rows,
		wordsIn(names.Figure, func(r row) string { return r.name }),
		numbers(names.Amount, func(r row) say.Cell { return r.cell }))}
}
