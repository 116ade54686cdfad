package page

import (
	"pourback/analysis/bid"
	"pourback/analysis/figure"
	"pourback/report/chart"
	"pourback/report/say"
)

// cost is the cost of the job by item.
func (a *bidAuthor) cost() Exhibit {
	c, w := a.b.Cost, a.w.Cost(a.b.Draws)
	items := append([]bid.CostItem{{Item: bid.CostName(w.All), Named: true, Cost: c.Total}}, c.Items...)
	for _, more := range []struct {
		name bid.CostName
		of   bid.Number
	}{{bid.CostOverhead, c.Overhead}, {bid.CostContingency, c.Contingency}} {
		if v := more.of.Figure.Value; v > 0 {
			items = append(items, bid.CostItem{Item: more.name, Cost: bid.Spread{Mean: v, P10: v, P50: v, P80: v, P90: v, Basis: more.of.Basis}})
		}
	}
	if c.Loaded.Mean > c.Total.Mean {
		items = append(items, bid.CostItem{Item: bid.CostName(w.Loaded), Named: true, Cost: c.Loaded})
	}
	money := func(head string, of func(bid.Spread) float64) ColumnOf[bid.CostItem] {
		return ColumnOf[bid.CostItem]{Head: head, Number: true, Cell: func(i bid.CostItem) say.Cell {
			return a.MoneyFigure(figure.Figure{Value: of(i.Cost)}, 0)
		}}
	}
	table := TableOf(w.Caption, items,
		ColumnOf[bid.CostItem]{Head: w.Item, Cell: func(i bid.CostItem) say.Cell { return say.Cell{Text: a.w.Item(i)} }},
		money(w.Mean, func(s bid.Spread) float64 { return s.Mean }),
		money(w.Tenth, func(s bid.Spread) float64 { return s.P10 }), money(w.Half, func(s bid.Spread) float64 { return s.P50 }),
		money(w.Eight, func(s bid.Spread) float64 { return s.P80 }), money(w.Nine, func(s bid.Spread) float64 { return s.P90 }),
		from(a.w, func(i bid.CostItem) bid.Basis { return i.Cost.Basis }))
	table.Below = append(a.w.Covers(&c), w.Below)
	if leans := a.w.Leans(a.b.Lean); leans != "" {
		table.Below = append(table.Below, leans)
	}
	return Exhibit{Title: w.Title, Table: table}
}

// drivers are what the cost swings with: a tornado.
func (a *bidAuthor) drivers() Exhibit {
	drivers, w := a.b.Cost.Drivers, a.w.Drivers()
	at := func(head string, of func(bid.Driver) float64) ColumnOf[bid.Driver] {
		return ColumnOf[bid.Driver]{Head: head, Number: true, Cell: func(d bid.Driver) say.Cell { return say.Cell{Text: a.w.UnsureAt(d, of(d))} }}
	}
	table := TableOf(w.Caption, drivers,
		ColumnOf[bid.Driver]{Head: w.What, Cell: func(d bid.Driver) say.Cell { return say.Cell{Text: a.w.Unsure(d.Name)} }},
		at(w.From, func(d bid.Driver) float64 { return d.AtP10 }), at(w.To, func(d bid.Driver) float64 { return d.AtP90 }),
		ColumnOf[bid.Driver]{Head: w.Cost, Number: true, Cell: func(d bid.Driver) say.Cell { return say.Cell{Text: a.w.Range(d.Low, d.High)} }},
		from(a.w, func(d bid.Driver) bid.Basis { return d.Basis }))
	table.Drawing = a.tornado(drivers)
	return Exhibit{Title: w.Title, Table: table}
}

// priceTurns is what would bring the margin under its target.
func (a *bidAuthor) priceTurns() []Exhibit {
	levers := a.b.Price.TurnedBy
	return leversOf(a.Voice, decision{says: say.Levers{Voice: a.Voice}.Say(levers), caption: a.w.TurnsCaption(), head: a.w.TurnsHead(), comes: a.Exactly, turns: turnsOf("", levers)})
}

// tornado draws the swing of the cost as a bar a driver, around the cost with
// all at their medians.
func (a *bidAuthor) tornado(drivers []bid.Driver) *chart.Drawing {
	if len(drivers) == 0 {
		return nil
	}
	mid := drivers[0].Mid
	plot := chart.TornadoPlot{Says: a.w.Tornado(mid), Middle: chart.Rule{Name: a.Amount(mid, 0), At: mid}}
	for _, d := range drivers {
		plot.Rows = append(plot.Rows, chart.Swing{Label: a.w.Unsure(d.Name), AtLow: d.Low, AtHigh: d.High, LowText: a.Amount(d.Low, 0), HighText: a.Amount(d.High, 0)})
	}
	c := plot.Chart()
	if c == nil {
		return nil
	}
	return c.Drawing()
}

// price is what to ask, by how sure the margin is to be.
func (a *bidAuthor) price() Exhibit {
	p, w := a.b.Price, a.w.Price()
	text := func(what, figure string, b bid.Basis) fact { return fact{what, say.Cell{Text: figure}, b} }
	lines := []fact{
		text(w.Asked, a.Amount(p.Asked, 0), p.Basis),
		text(w.Price, a.Amount(p.Price, 2), p.Basis),
		text(w.Target, a.w.Share(p.Target), a.b.Setting(bid.SetTarget).Basis),
		text(w.Certainty, a.TimesIn100(p.Certainty), a.b.Setting(bid.SetCertainty).Basis),
		text(w.Margin, a.w.Share(p.ExpectedMargin), p.Basis),
		text(w.Loss, a.TimesIn100(p.ChanceOfLoss), p.Basis),
		text(w.PerArea, a.Amount(p.PerSqft/a.Units.Area.Factor, 2), p.Basis),
	}
	for _, pair := range p.ByCertainty {
		lines = append(lines, text(a.w.PriceAt(pair.Certainty), a.Amount(pair.Price, 2), p.Basis))
	}
	x := Exhibit{Title: w.Title, Table: a.facts(w.Caption, lines)}
	x.Table.Below = []string{a.w.MarginOn(&a.b.Cost)}
	if len(a.b.Winning.Prices) == 0 {
		x.Table.Below = append(x.Table.Below, a.w.WinningNotes(&a.b.Winning)...)
	}
	return x
}

// winning is what each price leaves times the chance to win at it, where the marked
// bids tell; what they do not tell is said below the price.
func (a *bidAuthor) winning() (Exhibit, bool) {
	n, w := &a.b.Winning, a.w.Winning()
	if len(n.Prices) == 0 {
		return Exhibit{}, false
	}
	column := func(head string, cell func(bid.WinPrice) say.Cell) ColumnOf[bid.WinPrice] {
		return ColumnOf[bid.WinPrice]{Head: head, Number: true, Cell: cell}
	}
	table := TableOf(w.Caption, n.Prices,
		column(w.Price, func(p bid.WinPrice) say.Cell {
			price := a.Amount(p.Price, 0)
			if p.Own {
				price = a.w.OwnPrice(price)
			}
			return say.Valued(price, p.Price)
		}),
		column(w.Markup, func(p bid.WinPrice) say.Cell { return say.Valued(a.Percent(p.Markup), p.Markup) }),
		column(w.Margin, func(p bid.WinPrice) say.Cell { return say.Valued(a.Amount(p.Margin, 0), p.Margin) }),
		column(w.Chance, func(p bid.WinPrice) say.Cell { return a.w.Chance(p.Chance) }),
		column(w.Expected, func(p bid.WinPrice) say.Cell { return say.Valued(a.Amount(p.Expected, 0), p.Expected) }),
		from(a.w, func(bid.WinPrice) bid.Basis {
			return bid.Basis{From: bid.FromRecords, N: n.Won + n.Lost, Of: bid.OfMarked}
		}))
	table.Below = a.w.WinningNotes(n)
	return Exhibit{Title: w.Title, Table: table}, true
}

// settings are the prices and beliefs that the bid stands on.
func (a *bidAuthor) settings() Exhibit {
	w := a.w.Settings()
	return Exhibit{Title: w.Title, Table: TableOf(w.Caption, a.b.Settings,
		ColumnOf[bid.Setting]{Head: w.Setting, Cell: func(s bid.Setting) say.Cell { return say.Cell{Text: a.w.SettingName(s)} }},
		ColumnOf[bid.Setting]{Head: w.Value, Number: true, Cell: func(s bid.Setting) say.Cell { return say.Cell{Text: a.w.SettingValue(s)} }},
		from(a.w, func(s bid.Setting) bid.Basis { return s.Basis }))}
}
