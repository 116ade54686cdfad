package page

import (
	"slices"
	"strings"

	"github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"
	"github.com/go-echarts/go-echarts/v2/types"

	"pourback/analysis/figure"
	"pourback/analysis/visits"
	"pourback/report/chart"
	"pourback/report/say"
)

// callbacks says what customers called about, what it cost and what is open.
func (a *Author) callbacks() Page {
	p := Page{Slug: "callbacks", Title: "Callbacks", Method: []string{
		"A callback is open until it has a closing date, until a later callback of its kind has one, or until a visit finds the slab sound.",
		"Days to close: the median of a Kaplan-Meier curve on which open callbacks count for as long as they have been open (Brookmeyer and Crowley 1982).",
		"Callbacks a year: calls in 100 placement-years since the pour, with exact limits (Garwood 1936). That the rows of a table are alike is tested given their time (exact multinomial test, or chi-squared), with all tables looked at (Benjamini and Hochberg 1995).",
		"Months: calls within the warranty over the time that slabs were under warranty in the month; a month stands out where so many calls, or so few, have a chance under 0.00135 (Poisson). The last twelve months are judged by those before them, once there are twelve.",
	}}
	const takes = "visits whose why is callback, with their finding, cost and resolved_on"
	if a.empty() {
		return a.begin(p, "which callbacks are open and what callbacks cost", takes)
	}
	c := a.f.Visits.Callbacks
	p.Answer = a.Said(c.Answer)
	p.Basis = say.Plural(c.Calls, "callback") + " about " + say.Plural(c.Slabs, "slab") + " of " + say.Count(a.f.Placements) + "."
	p.Exhibits = a.some(a.openCallbacks(a.f.Visits))
	for _, g := range c.Groups {
		p.Exhibits = append(p.Exhibits, a.some(a.callGroup(g))...)
		p.Notes = append(p.Notes, "By "+g.By+": "+a.Said(g.Says))
	}
	p.Exhibits = append(p.Exhibits, a.some(a.callMonths(c), a.returned(c))...)
	p.Notes = append([]string{a.Said(c.Control.Says)}, p.Notes...)
	p.Notes = append(p.Notes, a.closingNotes(c)...)
	return p
}

func (a *Author) closingNotes(c visits.Callbacks) []string {
	var notes []string
	if c.DaysToClose.Known() {
		notes = append(notes, "Half of the callbacks were closed within "+a.Long(say.Plain.As("{value} days"), c.DaysToClose)+".")
	}
	if c.Closed30.Known() {
		notes = append(notes, "Within 30 days "+a.Long(say.InHundred, c.Closed30)+" were closed.")
	}
	if c.Again.Known() {
		notes = append(notes, "Of slabs that were repaired "+a.Long(say.InHundred, c.Again)+" were called about again.")
	}
	if c.Undated > 0 {
		notes = append(notes, "A job log does not say when a callback was closed: "+say.Plural(c.Undated, "callback")+" known from one alone "+say.Were(c.Undated)+" taken for closed.")
	}
	return append(notes, "The plant has no column of its own: it shows where the mix names it. A group poured long ago has had more time to be called about, so compare what is called a year.")
}

func (a *Author) callGroup(g visits.CallbackGroup) Exhibit {
	type row = visits.CallbackRow
	shown := g.Rows
	if len(shown) > chart.MostKinds {
		shown = shown[:chart.MostKinds]
	}
	t := visitsTable("Callbacks by "+g.By, shown,
		ColumnOf[row]{Head: say.Capital(g.By), Cell: func(r row) say.Cell { return say.Word(r.Name) }},
		ColumnOf[row]{Head: "Calls", Number: true, Cell: func(r row) say.Cell { return say.Whole(r.Calls) }},
		ColumnOf[row]{Head: "Cost", Number: true, Cell: func(r row) say.Cell { return a.spent(r.Cost) }},
		ColumnOf[row]{Head: "Each", Number: true, Cell: func(r row) say.Cell { return a.spent(r.CostEach) }},
		ColumnOf[row]{Head: "A year, in 100 slabs", Number: true, Cell: func(r row) say.Cell { return a.Cell(say.Plain, r.Rate) }},
		ColumnOf[row]{Head: "Placements", Number: true, Cell: func(r row) say.Cell { return say.Whole(r.Placements) }})
	if n := len(g.Rows) - len(shown); n > 0 {
		t.More = "And " + say.Count(n) + " more; `pourback factors visits --json` has them all."
	}
	return Exhibit{Title: "By " + g.By, Table: t}
}

// spent is the cell of a cost, a dash where none is on record.
func (a *Author) spent(f figure.Figure) say.Cell {
	if !f.Known() {
		return say.Cell{Text: "–"}
	}
	return a.Known(a.Cash(), f)
}

// callMonths shows the months of the chart, those with calls at least.
func (a *Author) callMonths(c visits.Callbacks) Exhibit {
	type point = visits.CallPoint
	shown := c.Control.Points[max(0, len(c.Control.Points)-MostMonths):]
	if c.Control.Why != "" {
		type month = visits.CallbackMonth
		latest := slices.Clone(c.Months)
		slices.Reverse(latest)
		return Exhibit{Title: "By month", Table: visitsTable("Callbacks by month, the latest first", latest,
			ColumnOf[month]{Head: "Month", Cell: func(m month) say.Cell { return say.Cell{Text: say.MonthText(m.Month)} }},
			ColumnOf[month]{Head: "Calls", Number: true, Cell: func(m month) say.Cell { return say.Whole(m.Calls) }},
			ColumnOf[month]{Head: "Still open", Number: true, Cell: func(m month) say.Cell { return say.Whole(m.Open) }},
			ColumnOf[month]{Head: "Cost", Number: true, Cell: func(m month) say.Cell { return a.spent(m.Cost) }})}
	}
	costs := map[string]visits.CallbackMonth{}
	for _, m := range c.Months {
		costs[m.Month] = m
	}
	latest := slices.Clone(shown)
	slices.Reverse(latest)
	t := visitsTable("Callbacks within the warranty by full month, the latest first", latest,
		ColumnOf[point]{Head: "Month", Cell: func(p point) say.Cell { return say.Cell{Text: say.MonthText(p.Month)} }},
		ColumnOf[point]{Head: "Calls within it", Number: true, Cell: func(p point) say.Cell { return say.Whole(p.Calls) }},
		ColumnOf[point]{Head: "Usual", Number: true, Cell: func(p point) say.Cell { return a.Known(say.Plain, figure.Figure{Value: p.Expected}) }},
		ColumnOf[point]{Head: "Slabs under warranty", Number: true, Cell: func(p point) say.Cell { return a.Exact(say.Plain, p.Exposure) }},
		ColumnOf[point]{Head: "Calls in all", Number: true, Cell: func(p point) say.Cell { return say.Whole(costs[p.Month].Calls) }},
		ColumnOf[point]{Head: "Cost of all", Number: true, Cell: func(p point) say.Cell { return a.spent(costs[p.Month].Cost) }},
		ColumnOf[point]{Head: "Stands out", Cell: func(p point) say.Cell { return say.Cell{Text: map[bool]string{true: "yes", false: "–"}[p.Signal]} }})
	if n := len(c.Control.Points) - len(shown); n > 0 {
		t.More = "And " + say.Plural(n, "earlier month") + "; `pourback factors visits --json` has them all."
	}
	return Exhibit{Title: "By month", Chart: &chart.Chart{ID: "chart-calls", Height: 320,
		Says: "A bar for each full month: callbacks within the warranty; a diamond where the usual rate would put them. The table holds the same figures.",
		Draw: func() *chart.Board { return callsChart(shown) }}, Table: t}
}

func callsChart(points []visits.CallPoint) *chart.Board {
	labels := make([]string, len(points))
	calls := make([]opts.BarData, len(points))
	usual := make([]opts.ScatterData, len(points))
	for i, p := range points {
		labels[i] = p.Month
		calls[i] = opts.BarData{Name: say.MonthText(p.Month) + ": " + say.Plural(p.Calls, "callback"), Value: p.Calls}
		usual[i] = opts.ScatterData{Name: say.MonthText(p.Month) + ": usually " + say.Grouped(p.Expected, 1), Value: []any{i, chart.Finite(p.Expected)}}
	}
	b := chart.NewBoard(opts.XAxis{Type: "category", Data: labels}, opts.YAxis{Type: "value", Name: "callbacks", NameLocation: "end", Min: 0, AxisLabel: &opts.AxisLabel{}})
	b.Add(charts.SingleSeries{Name: "callbacks", Type: types.ChartBar, Data: calls, BarMaxWidth: "26"})
	b.Add(charts.SingleSeries{Name: "usual", Type: types.ChartScatter, Symbol: "diamond", SymbolSize: 11, Data: usual})
	return b
}

func (a *Author) returned(c visits.Callbacks) Exhibit {
	type row = visits.Returned
	return Exhibit{Title: "Called about again", Table: visitsTable("What came back after a repair, the latest first", c.Returned,
		ColumnOf[row]{Head: "Slab", Cell: func(r row) say.Cell { return say.Word(strings.TrimSpace(r.JobNo + " " + r.Placement)) }},
		ColumnOf[row]{Head: "First", Cell: func(r row) say.Cell { return say.Word(r.First) }},
		ColumnOf[row]{Head: "Closed", Cell: func(r row) say.Cell { return day(r.Closed) }},
		ColumnOf[row]{Head: "Again", Cell: func(r row) say.Cell { return say.Word(r.Again) }},
		ColumnOf[row]{Head: "On", Cell: func(r row) say.Cell { return day(r.On) }},
		ColumnOf[row]{Head: "Cost of all", Number: true, Cell: func(r row) say.Cell { return a.spent(r.Cost) }})}
}
