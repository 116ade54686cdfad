package report

import (
	"slices"
	"strings"

	"github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"
	"github.com/go-echarts/go-echarts/v2/types"

	"pourback/analysis/figure"
	"pourback/analysis/visits"
)

// callbacks says what customers called about, what it cost and what is open.
func (a *author) callbacks() Page {
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
	p.Answer = a.said(c.Answer)
	p.Basis = plural(c.Calls, "callback") + " about " + plural(c.Slabs, "slab") + " of " + count(a.f.Placements) + "."
	p.Exhibits = a.some(a.openCallbacks(a.f.Visits))
	for _, g := range c.Groups {
		p.Exhibits = append(p.Exhibits, a.some(a.callGroup(g))...)
		p.Notes = append(p.Notes, "By "+g.By+": "+a.said(g.Says))
	}
	p.Exhibits = append(p.Exhibits, a.some(a.callMonths(c), a.returned(c))...)
	p.Notes = append([]string{a.said(c.Control.Says)}, p.Notes...)
	p.Notes = append(p.Notes, a.closingNotes(c)...)
	return p
}

func (a *author) closingNotes(c visits.Callbacks) []string {
	var notes []string
	if c.DaysToClose.Known() {
		notes = append(notes, "Half of the callbacks were closed within "+plain.of("days").long(c.DaysToClose)+".")
	}
	if c.Closed30.Known() {
		notes = append(notes, "Within 30 days "+inHundred.long(c.Closed30)+" were closed.")
	}
	if c.Again.Known() {
		notes = append(notes, "Of slabs that were repaired "+inHundred.long(c.Again)+" were called about again.")
	}
	if c.Undated > 0 {
		notes = append(notes, "A job log does not say when a callback was closed: "+plural(c.Undated, "callback")+" known from one alone "+were(c.Undated)+" taken for closed.")
	}
	return append(notes, "The plant has no column of its own: it shows where the mix names it. A group poured long ago has had more time to be called about, so compare what is called a year.")
}

func (a *author) callGroup(g visits.CallbackGroup) Exhibit {
	type row = visits.CallbackRow
	shown := g.Rows
	if len(shown) > mostKinds {
		shown = shown[:mostKinds]
	}
	t := visitsTable("Callbacks by "+g.By, shown,
		column[row]{head: capital(g.By), cell: func(r row) Cell { return word(r.Name) }},
		column[row]{head: "Calls", number: true, cell: func(r row) Cell { return whole(r.Calls) }},
		column[row]{head: "Cost", number: true, cell: func(r row) Cell { return a.spent(r.Cost) }},
		column[row]{head: "Each", number: true, cell: func(r row) Cell { return a.spent(r.CostEach) }},
		column[row]{head: "A year, in 100 slabs", number: true, cell: func(r row) Cell { return plain.cell(r.Rate) }},
		column[row]{head: "Placements", number: true, cell: func(r row) Cell { return whole(r.Placements) }})
	if n := len(g.Rows) - len(shown); n > 0 {
		t.More = "And " + count(n) + " more; `pourback factors visits --json` has them all."
	}
	return Exhibit{Title: "By " + g.By, Table: t}
}

// spent is the cell of a cost, a dash where none is on record.
func (a *author) spent(f figure.Figure) Cell {
	if !f.Known() {
		return Cell{Text: "–"}
	}
	return a.cash().known(f)
}

// callMonths shows the months of the chart, those with calls at least.
func (a *author) callMonths(c visits.Callbacks) Exhibit {
	type point = visits.CallPoint
	shown := c.Control.Points[max(0, len(c.Control.Points)-mostMonths):]
	if c.Control.Why != "" {
		type month = visits.CallbackMonth
		latest := slices.Clone(c.Months)
		slices.Reverse(latest)
		return Exhibit{Title: "By month", Table: visitsTable("Callbacks by month, the latest first", latest,
			column[month]{head: "Month", cell: func(m month) Cell { return Cell{Text: monthText(m.Month)} }},
			column[month]{head: "Calls", number: true, cell: func(m month) Cell { return whole(m.Calls) }},
			column[month]{head: "Still open", number: true, cell: func(m month) Cell { return whole(m.Open) }},
			column[month]{head: "Cost", number: true, cell: func(m month) Cell { return a.spent(m.Cost) }})}
	}
	costs := map[string]visits.CallbackMonth{}
	for _, m := range c.Months {
		costs[m.Month] = m
	}
	latest := slices.Clone(shown)
	slices.Reverse(latest)
	t := visitsTable("Callbacks within the warranty by full month, the latest first", latest,
		column[point]{head: "Month", cell: func(p point) Cell { return Cell{Text: monthText(p.Month)} }},
		column[point]{head: "Calls within it", number: true, cell: func(p point) Cell { return whole(p.Calls) }},
		column[point]{head: "Usual", number: true, cell: func(p point) Cell { return plain.known(figure.Figure{Value: p.Expected}) }},
		column[point]{head: "Slabs under warranty", number: true, cell: func(p point) Cell { return plain.exact(p.Exposure) }},
		column[point]{head: "Calls in all", number: true, cell: func(p point) Cell { return whole(costs[p.Month].Calls) }},
		column[point]{head: "Cost of all", number: true, cell: func(p point) Cell { return a.spent(costs[p.Month].Cost) }},
		column[point]{head: "Stands out", cell: func(p point) Cell { return Cell{Text: map[bool]string{true: "yes", false: "–"}[p.Signal]} }})
	if n := len(c.Control.Points) - len(shown); n > 0 {
		t.More = "And " + plural(n, "earlier month") + "; `pourback factors visits --json` has them all."
	}
	return Exhibit{Title: "By month", Chart: &Chart{ID: "chart-calls", Height: 320,
		Says: "A bar for each full month: callbacks within the warranty; a diamond where the usual rate would put them. The table holds the same figures.",
		draw: func() *board { return callsChart(shown) }}, Table: t}
}

func callsChart(points []visits.CallPoint) *board {
	labels := make([]string, len(points))
	calls := make([]opts.BarData, len(points))
	usual := make([]opts.ScatterData, len(points))
	for i, p := range points {
		labels[i] = p.Month
		calls[i] = opts.BarData{Name: monthText(p.Month) + ": " + plural(p.Calls, "callback"), Value: p.Calls}
		usual[i] = opts.ScatterData{Name: monthText(p.Month) + ": usually " + grouped(p.Expected, 1), Value: []any{i, finite(p.Expected)}}
	}
	b := newBoard(opts.XAxis{Type: "category", Data: labels}, opts.YAxis{Type: "value", Name: "callbacks", NameLocation: "end", Min: 0, AxisLabel: &opts.AxisLabel{}})
	b.add(charts.SingleSeries{Name: "callbacks", Type: types.ChartBar, Data: calls, BarMaxWidth: "26"})
	b.add(charts.SingleSeries{Name: "usual", Type: types.ChartScatter, Symbol: "diamond", SymbolSize: 11, Data: usual})
	return b
}

func (a *author) returned(c visits.Callbacks) Exhibit {
	type row = visits.Returned
	return Exhibit{Title: "Called about again", Table: visitsTable("What came back after a repair, the latest first", c.Returned,
		column[row]{head: "Slab", cell: func(r row) Cell { return word(strings.TrimSpace(r.JobNo + " " + r.Placement)) }},
		column[row]{head: "First", cell: func(r row) Cell { return word(r.First) }},
		column[row]{head: "Closed", cell: func(r row) Cell { return day(r.Closed) }},
		column[row]{head: "Again", cell: func(r row) Cell { return word(r.Again) }},
		column[row]{head: "On", cell: func(r row) Cell { return day(r.On) }},
		column[row]{head: "Cost of all", number: true, cell: func(r row) Cell { return a.spent(r.Cost) }})}
}
