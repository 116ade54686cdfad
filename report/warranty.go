package report

import "pourback/analysis/visits"

// warranty says what slabs still under warranty may cost.
func (a *author) warranty() Page {
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
	p.Answer = a.said(w.Answer)
	p.Basis = plural(w.Placements, "slab") + " under warranty without a callback, " + count(w.Called) + " with one; of " + plural(a.f.Placements, "placement") + "."
	p.Exhibits = a.some(a.expiries(w), a.reserveTable(w))
	p.Notes = a.saidAll(w.Notes)
	if w.Booked.Unpriced > 0 {
		p.Notes = append(p.Notes, plural(w.Booked.Unpriced, "job")+" under warranty without a price or a cost "+were(w.Booked.Unpriced)+" left out of the margin.")
	}
	return p
}

func (a *author) expiries(w visits.Warranty) Exhibit {
	type month = visits.WarrantyMonth
	t := visitsTable("Still to come, by the month in which the warranty ends", w.Months,
		column[month]{head: "Ends", cell: func(m month) Cell { return Cell{Text: monthText(m.Month)} }},
		column[month]{head: "Slabs", number: true, cell: func(m month) Cell { return whole(m.Placements) }},
		column[month]{head: "Callbacks expected", number: true, cell: func(m month) Cell { return plain.cell(m.Callbacks) }},
		column[month]{head: "Cost", number: true, cell: func(m month) Cell { return a.about().cell(m.Cost) }})
	e := Exhibit{Title: "By month of expiry", Table: t}
	shown := w.Months[:min(len(w.Months), mostMonths)]
	if w.Cost.Known() && w.Cost.Value > 0 && len(shown) > 0 {
		e.Chart = &Chart{ID: "chart-warranty", Height: sidewaysHeight(len(shown)),
			Says: "A bar for each month in which warranties end: what the callbacks still to come on those slabs are expected to cost, with the range. The table holds the same figures.",
			draw: func() *board {
				labels, rows := make([]string, len(shown)), make([]shownFigure, len(shown))
				for i, m := range shown {
					labels[i] = monthText(m.Month)
					rows[i] = shownFigure{m.Cost, monthText(m.Month) + ": " + a.about().long(m.Cost) + ", from " + plural(m.Placements, "slab")}
				}
				b := sideways(labels, "expected cost, "+a.currency)
				b.bars("cost", a.about(), rows)
				b.errorBars("cost", a.about(), rows)
				return b
			}}
	}
	return e
}

// reserveTable sets what is to come beside what is booked.
func (a *author) reserveTable(w visits.Warranty) Exhibit {
	type row struct {
		name string
		cell Cell
	}
	rows := []row{
		{"Callbacks expected", plain.cell(w.Callbacks)},
		{"of them about cracks", plain.cell(w.Cracks)},
		{"Cost of each", a.spent(w.CostEach)},
		{"Expected cost", a.about().cell(w.Cost)},
		{"Open callbacks at that cost", a.spent(w.OpenCost)},
		{"Margin booked on their jobs", a.spent(w.Booked.Margin)},
		{"Expected cost in % of it", plain.cell(w.Booked.Share)},
	}
	return Exhibit{Title: "Reserve", Table: visitsTable("What is to come, beside what is booked", rows,
		column[row]{head: "Figure", cell: func(r row) Cell { return Cell{Text: r.name} }},
		column[row]{head: "Amount", number: true, cell: func(r row) Cell { return r.cell }})}
}
