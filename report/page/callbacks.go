package page

import (
	"slices"

	"pourback/analysis/figure"
	"pourback/analysis/visits"
	"pourback/report/chart"
	"pourback/report/say"
)

// callbacks says what customers called about, what it cost and what is open.
func (a *Author) callbacks() Page {
	w := say.Callbacks{Voice: a.Voice}
	p := Page{Slug: callbacksSlug, Title: w.Title(), Method: w.Method()}
	if a.empty() {
		return a.begin(p, w.WillSay(), w.Takes())
	}
	c := &a.f.Visits.Callbacks
	p.Answer, p.Basis = w.Answer(c), w.Basis(c, a.f.Placements)
	p.Exhibits, p.Do = inHand(some(a.openCallbacks(a.f.Visits))), []string{say.Todo{Voice: a.Voice}.NoCall()}
	if len(c.Open) > 0 {
		p.Do[0] = say.Todo{Voice: a.Voice}.CloseCalls()
	}
	p.Notes = []string{w.Control(&c.Control)}
	for i := range c.Groups {
		g := &c.Groups[i]
		p.Exhibits = append(p.Exhibits, some(a.callGroup(g))...)
		p.Notes = append(p.Notes, w.GroupNote(g, c.Calls))
	}
	p.Exhibits = append(p.Exhibits, some(a.callMonths(c), a.returned(c))...)
	p.Notes = append(p.Notes, w.Closing(c)...)
	return p
}

func (a *Author) callGroup(g *visits.CallbackGroup) Exhibit {
	type row = visits.CallbackRow
	w := say.Callbacks{Voice: a.Voice}
	heads := w.GroupHeads(g.By)
	return Exhibit{Title: w.GroupTitle(g.By), Table: firstRows(a, w.GroupCaption(g.By), g.Rows, chart.MostKinds,
		wordsIn(heads.Group, func(r row) string { return w.RowName(g, r.Name) }),
		counts(heads.Calls, func(r row) int { return r.Calls }),
		numbers(heads.Cost, func(r row) say.Cell { return a.spent(r.Cost) }),
		numbers(heads.Each, func(r row) say.Cell { return a.spent(r.CostEach) }),
		numbers(heads.Rate, func(r row) say.Cell { return a.Cell(say.Plain, r.Rate) }),
		counts(heads.Placements, func(r row) int { return r.Placements }))}
}

// spent is the cell of a cost, a dash where none is on record.
func (a *Author) spent(f figure.Figure) say.Cell {
	if !f.Known() {
		return say.Cell{Text: "–"}
	}
	return a.Known(a.Cash(), f)
}

// callMonths shows the months of the chart, those with calls at least.
func (a *Author) callMonths(c *visits.Callbacks) Exhibit {
	if c.Control.Why != nil {
		return a.callsByMonth(c)
	}
	type point = visits.CallPoint
	w := say.Callbacks{Voice: a.Voice}
	heads := w.MonthHeads()
	all := map[string]visits.CallbackMonth{}
	for _, m := range c.Months {
		all[m.Month] = m
	}
	shown := lastOf(c.Control.Points, MostMonths)
	latest := slices.Clone(c.Control.Points)
	slices.Reverse(latest)
	t := firstOf(w.PointsCaption(), latest, MostMonths,
		monthsIn(heads.Month, func(p point) string { return p.Month }, a.Month),
		counts(heads.Within, func(p point) int { return p.Calls }),
		numbers(heads.Usual, func(p point) say.Cell { return a.Known(say.Plain, figure.Figure{Value: p.Expected}) }),
		numbers(heads.Slabs, func(p point) say.Cell { return a.Exact(say.Plain, p.Exposure) }),
		counts(heads.All, func(p point) int { return all[p.Month].Calls }),
		numbers(heads.AllCost, func(p point) say.Cell { return a.spent(all[p.Month].Cost) }),
		wordsIn(heads.Out, func(p point) string { return w.StandsOut(p.Signal) }))
	if t.Left > 0 {
		t.More = w.EarlierMonths(t.Left)
	}
	return Exhibit{Title: w.MonthsTitle(), Chart: a.callsChart(shown), Table: t}
}

// callsByMonth are the months with calls, where there are too few for a chart.
func (a *Author) callsByMonth(c *visits.Callbacks) Exhibit {
	type month = visits.CallbackMonth
	w := say.Callbacks{Voice: a.Voice}
	heads := w.MonthHeads()
	latest := slices.Clone(c.Months)
	slices.Reverse(latest)
	return Exhibit{Title: w.MonthsTitle(), Table: visitsTable(a, w.MonthsCaption(), latest,
		monthsIn(heads.Month, func(m month) string { return m.Month }, a.Month),
		counts(heads.Calls, func(m month) int { return m.Calls }),
		counts(heads.Open, func(m month) int { return m.Open }),
		numbers(heads.Cost, func(m month) say.Cell { return a.spent(m.Cost) }))}
}

func (a *Author) callsChart(points []visits.CallPoint) *chart.Chart {
	w := say.Callbacks{Voice: a.Voice}
	words := w.Chart()
	plot := chart.ColumnPlot{ID: "chart-calls", Says: words.Says, Up: words.Calls, Usual: words.Usual, Marked: a.Outside(), Counts: true}
	for i := range points {
		p := &points[i]
		calls := chart.None()
		calls.Value, calls.Tip = float64(p.Calls), w.CallsTip(p)
		plot.Columns = append(plot.Columns, chart.Column{Label: a.ShortMonth(p.Month), Amount: calls, Usual: p.Expected, UsualTip: w.UsualTip(p), Out: p.Signal})
	}
	plot.Notes = a.callNotes(points)
	return plot.Chart()
}

// callNotes name the latest months that stand out.
func (a *Author) callNotes(points []visits.CallPoint) (notes []chart.Note) {
	const most = 3
	for i, p := range slices.Backward(points) {
		if p.Signal && len(notes) < most {
			notes = append(notes, chart.Note{X: float64(i), Y: float64(p.Calls), Text: say.Callbacks{Voice: a.Voice}.CallsNote(&p)})
		}
	}
	return notes
}

func (a *Author) returned(c *visits.Callbacks) Exhibit {
	type row = visits.Returned
	w := say.Callbacks{Voice: a.Voice}
	heads := w.AgainHeads()
	return Exhibit{Title: w.AgainTitle(), Table: visitsTable(a, w.AgainCaption(), c.Returned,
		ColumnOf[row]{Head: heads.Slab, Cell: func(r row) say.Cell { return a.placed(r.JobNo, r.JobNo+" "+r.Placement) }},
		wordsIn(heads.First, func(r row) string { return a.Word(r.First) }),
		ColumnOf[row]{Head: heads.Closed, Cell: func(r row) say.Cell { return a.day(r.Closed) }},
		wordsIn(heads.Again, func(r row) string { return a.Word(r.Again) }),
		ColumnOf[row]{Head: heads.On, Cell: func(r row) say.Cell { return a.day(r.On) }},
		numbers(heads.Cost, func(r row) say.Cell { return a.spent(r.Cost) }))}
}
