package page

import (
	"pourback/analysis/bid"
	"pourback/analysis/figure"
	"pourback/report/chart"
	"pourback/report/say"
)

// cost is the cost of the job by item.
func (a *bidAuthor) cost() Exhibit {
	c := a.b.Cost
	items := append([]bid.CostItem{{Item: "all together", Cost: c.Total}}, c.Items...)
	money := func(head string, of func(bid.Spread) float64) ColumnOf[bid.CostItem] {
		return ColumnOf[bid.CostItem]{Head: head, Number: true, Cell: func(i bid.CostItem) say.Cell {
			return a.MoneyFigure(figure.Figure{Value: of(i.Cost)}, 0)
		}}
	}
	table := TableOf("Cost by item, drawn "+say.Count(a.b.Draws)+" times", items,
		ColumnOf[bid.CostItem]{Head: "Item", Cell: func(i bid.CostItem) say.Cell { return say.Word(i.Item) }},
		money("Mean", func(s bid.Spread) float64 { return s.Mean }),
		money("P10", func(s bid.Spread) float64 { return s.P10 }), money("P50", func(s bid.Spread) float64 { return s.P50 }),
		money("P80", func(s bid.Spread) float64 { return s.P80 }), money("P90", func(s bid.Spread) float64 { return s.P90 }),
		ColumnOf[bid.CostItem]{Head: "Stands on", Cell: func(i bid.CostItem) say.Cell { return a.standsOn(i.Cost.Basis) }})
	table.More = "P90 is the amount that 9 jobs in 10 like this one stay under. The means add up to the whole; the others do not, since not everything goes wrong at once."
	return Exhibit{Title: "Cost", Table: table}
}

// drivers are what the cost swings with: a tornado.
func (a *bidAuthor) drivers() Exhibit {
	drivers := a.b.Cost.Drivers
	at := func(v float64, unit string) string {
		if unit == moneyUnit {
			return a.Amount(v, 0)
		}
		return quantity(a.measureOf(unit), v, 1)
	}
	table := TableOf("What the cost swings with, each by itself", drivers,
		ColumnOf[bid.Driver]{Head: "What is not known", Cell: func(d bid.Driver) say.Cell { return say.Cell{Text: say.Clean(d.Name, say.LongName)} }},
		ColumnOf[bid.Driver]{Head: "From", Number: true, Cell: func(d bid.Driver) say.Cell { return say.Cell{Text: at(d.AtP10, d.Unit)} }},
		ColumnOf[bid.Driver]{Head: "To", Number: true, Cell: func(d bid.Driver) say.Cell { return say.Cell{Text: at(d.AtP90, d.Unit)} }},
		ColumnOf[bid.Driver]{Head: "Cost then", Number: true, Cell: func(d bid.Driver) say.Cell {
			return say.Cell{Text: a.Amount(d.Low, 0) + " to " + a.Amount(d.High, 0)}
		}},
		ColumnOf[bid.Driver]{Head: "Stands on", Cell: func(d bid.Driver) say.Cell { return a.standsOn(d.Basis) }})
	table.Drawing = a.tornado(drivers)
	return Exhibit{Title: "What drives the cost", Table: table}
}

// tornado draws the swing of the cost as a bar a driver, around the cost with
// all at their medians.
func (a *bidAuthor) tornado(drivers []bid.Driver) *chart.Drawing {
	const mostBars, width, left, right, row, top = 8, 640.0, 190.0, 60.0, 30.0, 22.0
	drivers = drivers[:min(len(drivers), mostBars)]
	if len(drivers) == 0 {
		return nil
	}
	low, high := drivers[0].Mid, drivers[0].Mid
	for _, d := range drivers {
		low, high = min(low, d.Low, d.High), max(high, d.Low, d.High)
	}
	if high <= low {
		return nil
	}
	d := &chart.Drawing{Width: width, Height: top + row*float64(len(drivers)) + 8,
		Says: "The cost with everything at its median is " + a.Amount(drivers[0].Mid, 0) + "; each bar is how far it swings as one thing goes from its lower to its upper tenth, the widest first."}
	x := func(v float64) float64 { return left + 52 + (v-low)/(high-low)*(width-left-52-right) }
	mid := x(drivers[0].Mid)
	d.Words("small", "middle", a.Amount(drivers[0].Mid, 0), mid, 14)
	d.Line("axis", mid, top, mid, d.Height-4)
	for i, dr := range drivers {
		y := top + row*float64(i)
		from, to := min(dr.Low, dr.High), max(dr.Low, dr.High)
		d.Words("label", "start", say.Clean(dr.Name, 30), 0, y+19)
		d.Box("bar", x(from), y+5, max(1, x(to)-x(from)), row-10)
		d.Words("small", "end", a.Amount(from, 0), x(from)-5, y+19)
		d.Words("small", "start", a.Amount(to, 0), x(to)+5, y+19)
	}
	return d
}

// price is what to ask, by how sure the margin is to be.
func (a *bidAuthor) price() Exhibit {
	p := a.b.Price
	perArea := a.Units.Area
	lines := []fact{
		{"Price for the target margin", say.Cell{Text: a.Amount(p.Price, 2)}, p.Basis},
		{"Target margin", say.Cell{Text: quantity(say.Percent, p.Target, 1)}, a.settingOf("target margin").Basis},
		{"Chance to earn it", say.Cell{Text: a.At(say.InHundred, p.Certainty)}, a.settingOf("certainty").Basis},
		{"Margin on average", say.Cell{Text: say.Grouped(100*p.ExpectedMargin, 1) + "%"}, p.Basis},
		{"Chance of a loss", say.Cell{Text: timesIn100(p.ChanceOfLoss)}, p.Basis},
		{"Price per" + perArea.Unit, say.Cell{Text: a.Amount(p.PerSqft/perArea.Factor, 2)}, p.Basis},
	}
	for _, pair := range p.ByCertainty {
		lines = append(lines, fact{"Price to be " + quantity(say.Percent, pair.Certainty, 1) + " sure of the margin", say.Cell{Text: a.Amount(pair.Price, 2)}, p.Basis})
	}
	return Exhibit{Title: "Price", Table: a.facts("What to ask", lines)}
}
