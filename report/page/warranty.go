package page

import (
	"pourback/analysis/visits"
	"pourback/report/chart"
	"pourback/report/say"
)

// warranty says what slabs still under warranty may cost.
func (a *Author) warranty() Page {
	p := Page{Slug: "warranty", Title: "Warranty", Method: []string{
		"For each slab under warranty that nobody has called about: the share of slabs without a call at its age that are called about by the end of the warranty (Kaplan-Meier), added up. The ranges take both the uncertain curve, which all slabs share, and chance; they are normal and cut at 0.",
		"In money: times the mean cost of slabs called about, which counts as known. Each slab has its own job's warranty, or the most common one where its job states none.",
		"Margin booked is the contract prices less the actual costs of the jobs with a slab under warranty, exact to the cent. The margin page charges crack callbacks alone, by month of the pour, over the most common warranty.",
	}}
	const takes = "callbacks with their dates and costs, and the warranty_months of each job"
	if a.empty() {
		return a.begin(p, "what slabs under warranty may still cost", takes)
	}
	w := a.f.Visits.Warranty
	p.Answer = a.Said(w.Answer)
	p.Basis = say.Plural(w.Placements, "slab") + " under warranty without a callback, " + say.Count(w.Called) + " with one; of " + say.Plural(a.f.Placements, "placement") + "."
	p.Exhibits = a.some(a.expiries(w), a.reserveTable(w))
	p.Notes = a.SaidAll(w.Notes)
	if w.Booked.Unpriced > 0 {
		p.Notes = append(p.Notes, say.Plural(w.Booked.Unpriced, "job")+" under warranty without a price or a cost "+say.Were(w.Booked.Unpriced)+" left out of the margin.")
	}
	return p
}

func (a *Author) expiries(w visits.Warranty) Exhibit {
	type month = visits.WarrantyMonth
	t := visitsTable("Still to come, by the month in which the warranty ends", w.Months,
		ColumnOf[month]{Head: "Ends", Cell: func(m month) say.Cell { return say.Cell{Text: say.MonthText(m.Month)} }},
		ColumnOf[month]{Head: "Slabs", Number: true, Cell: func(m month) say.Cell { return say.Whole(m.Placements) }},
		ColumnOf[month]{Head: "Callbacks expected", Number: true, Cell: func(m month) say.Cell { return a.Cell(say.Plain, m.Callbacks) }},
		ColumnOf[month]{Head: "Cost", Number: true, Cell: func(m month) say.Cell { return a.Cell(a.About(), m.Cost) }})
	e := Exhibit{Title: "By month of expiry", Table: t}
	shown := w.Months[:min(len(w.Months), MostMonths)]
	if w.Cost.Known() && w.Cost.Value > 0 && len(shown) > 0 {
		e.Chart = &chart.Chart{ID: "chart-warranty", Height: chart.SidewaysHeight(len(shown)),
			Says: "A bar for each month in which warranties end: what the callbacks still to come on those slabs are expected to cost, with the range. The table holds the same figures.",
			Draw: func() *chart.Board {
				labels, rows := make([]string, len(shown)), make([]chart.ShownFigure, len(shown))
				for i, m := range shown {
					labels[i] = say.MonthText(m.Month)
					rows[i] = chart.ShownFigure{Figure: m.Cost, Tip: say.MonthText(m.Month) + ": " + a.Long(a.About(), m.Cost) + ", from " + say.Plural(m.Placements, "slab")}
				}
				b := chart.Sideways(labels, "expected cost, "+a.Currency)
				b.Bars("cost", a.About(), rows)
				b.ErrorBars("cost", a.About(), rows)
				return b
			}}
	}
	return e
}

// reserveTable sets what is to come beside what is booked.
func (a *Author) reserveTable(w visits.Warranty) Exhibit {
	type row struct {
		name string
		cell say.Cell
	}
	rows := []row{
		{"Callbacks expected", a.Cell(say.Plain, w.Callbacks)},
		{"of them about cracks", a.Cell(say.Plain, w.Cracks)},
		{"Cost of each", a.spent(w.CostEach)},
		{"Expected cost", a.Cell(a.About(), w.Cost)},
		{"Open callbacks at that cost", a.spent(w.OpenCost)},
		{"Margin booked on their jobs", a.spent(w.Booked.Margin)},
		{"Expected cost in % of it", a.Cell(say.Plain, w.Booked.Share)},
	}
	return Exhibit{Title: "Reserve", Table: visitsTable("What is to come, beside what is booked", rows,
		ColumnOf[row]{Head: "Figure", Cell: func(r row) say.Cell { return say.Cell{Text: r.name} }},
		ColumnOf[row]{Head: "Amount", Number: true, Cell: func(r row) say.Cell { return r.cell }})}
}
