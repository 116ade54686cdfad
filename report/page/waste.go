package page

import (
	"slices"

	"pourback/analysis/concrete"
	"pourback/analysis/findings"
	"pourback/report/chart"
	"pourback/report/say"
)

// waste says how much more concrete than the drawing calls for to order next
// time, and where the rest goes.
func (a *Author) waste() Page {
	o, w := a.f.Overage, say.Waste{Voice: a.Voice}
	p := Page{Slug: wasteSlug, Title: w.Title(), Method: w.Method(o)}
	if a.empty() {
		return a.begin(p, w.Will(), w.Takes())
	}
	p.Basis, p.Answer = a.basis(o.All.N, a.Placements), w.Answer(o)
	if o.All.N == 0 {
		p.Notes = []string{w.TakesColumns()}
		return p
	}
	p.Exhibits = slices.Concat(a.ordersBySize(w), a.presentAllowance(w), a.nextJobs(w), a.orderTurns(w), a.usedOnNeat(w), []Exhibit{a.pastWaste(w)}, a.whereLost(w), a.fixedLoss(w), a.wasteByCrew(w), a.orderFirmness(w))
	p.Notes = w.Notes(o)
	if own := w.OwnPrices(o.Own); own != "" {
		p.Notes = append(p.Notes, own)
	}
	return p
}

// sizeRow is what to order of one kind at each size of the table, and on how
// many placements that rests.
type sizeRow struct {
	n  int
	at []concrete.OverageSize
}

func (r sizeRow) anyUse() bool { return r.at[0].Use == concrete.AllUses }

// sizeRows are the kinds with an order at each size, the commonest first, and
// then each way of placing whatever the kind.
func (a *Author) sizeRows() (rows []sizeRow) {
	type kind struct{ use, method string }
	n := map[kind]int{}
	for _, g := range a.f.Overage.Groups {
		n[kind{g.Use, g.Method}] = g.N
	}
	last := kind{}
	for _, s := range a.f.Overage.BySize {
		if k := (kind{s.Use, s.Method}); len(rows) == 0 || k != last {
			rows, last = append(rows, sizeRow{n: n[k]}), k
		}
		r := &rows[len(rows)-1]
		r.at = append(r.at, s)
	}
	return most(rows, func(r sizeRow) int { return r.n })
}

// ordersBySize is what to carry next time by kind of job and size.
func (a *Author) ordersBySize(w say.Waste) []Exhibit {
	rows := a.sizeRows()
	if len(rows) == 0 {
		return nil
	}
	columns := []ColumnOf[sizeRow]{wordsIn(w.Heads().Kind, func(r sizeRow) string { return w.SizeKind(r.at[0]) })}
	for k, size := range rows[0].at {
		columns = append(columns, numbers(w.SizeHead(size.NeatYd), func(r sizeRow) say.Cell {
			if k >= len(r.at) {
				return say.Blank()
			}
			return w.OrderAt(r.at[k])
		}))
	}
	return []Exhibit{{Title: w.SizesTitle(), Says: w.SizesSay(), Chart: a.allowanceChart(w, rows), Table: TableOf(w.SizesCaption(), rows, columns...)}}
}

// allowanceChart draws the share to add against the size of the job, for each
// way of placing.
func (a *Author) allowanceChart(w say.Waste, rows []sizeRow) *chart.Chart {
	var drawn []sizeRow
	for _, r := range rows {
		if r.anyUse() && len(drawn) < len(chart.Dashes) {
			drawn = append(drawn, r)
		}
	}
	return &chart.Chart{ID: "chart-orders", Height: 340, Says: w.SizesChart(),
		Draw: func() *chart.Board {
			b := chart.NewBoard(chart.ScaleAlong(w.DrawnAxis()), chart.ValueAxis(w.AddAxis()))
			for i, r := range drawn {
				var at []chart.Spot
				for _, s := range r.at {
					if s.OrderYd.Known() {
						at = append(at, chart.Spot{X: s.NeatYd * a.Units.Volume.Factor, Y: 100 * (s.OrderYd.Value/s.NeatYd - 1), Tip: w.OrderTip(s)})
					}
				}
				b.Line(say.Clean(w.Word(r.at[0].Method), say.LabelName), chart.Dashes[i], at)
			}
			return b
		}}
}

// nextJobs says what to expect of the next job of each kind, at its usual size.
func (a *Author) nextJobs(w say.Waste) []Exhibit {
	type group = concrete.Group
	groups := most(a.f.Overage.Groups, func(g group) int { return g.N })
	if len(groups) == 0 || !groups[0].OrderYd.Known() {
		return nil
	}
	h, left := w.Heads(), say.Measure{Factor: a.Units.Volume.Factor}
	table := TableOf(w.NextCaption(), groups,
		wordsIn(h.Kind, func(g group) string { return w.Kind(g, say.ShortName) }),
		numbers(h.UsualSize, func(g group) say.Cell { return say.Valued(w.YardsBare(g.TypicalYd), g.TypicalYd) }),
		numbers(h.Order, func(g group) say.Cell { return w.Volume(g.OrderYd) }),
		numbers(h.Adds, func(g group) say.Cell { return a.Cell(say.Percent, g.OrderAllowance) }),
		numbers(h.RunsShort, func(g group) say.Cell { return a.Cell(say.OfHundred, g.ChanceShort) }),
		numbers(h.LeftOver, func(g group) say.Cell { return a.Cell(left, g.LeftoverYd) }),
		ColumnOf[group]{Head: h.CapCosts, Number: true, Ahead: true, Cell: func(g group) say.Cell {
			return a.Cell(say.Measure{Factor: 1, Sign: a.Sign(), Digits: say.Cents}, g.CapCosts)
		}},
		numbers(h.Uses, func(g group) say.Cell { return a.Cell(say.Percent, g.PooledMean) }),
		numbers(h.Tenth, func(g group) say.Cell { return a.Cell(say.Percent, g.NextJob.P90) }))
	return []Exhibit{{Title: w.NextTitle(), Table: table, Says: w.NextSay(a.f.Overage)}}
}

// orderTurns is what would make the orders spoken of first other ones.
func (a *Author) orderTurns(w say.Waste) []Exhibit {
	var turns []turn
	for _, k := range a.f.Overage.First {
		g := a.f.Overage.Groups[k]
		turns = append(turns, turnsOf(w.Kind(g, say.ShortName), g.TurnedBy)...)
	}
	return leversOf(a.Voice, w.TurnsSay(a.f.Overage), w.TurnsCaption(), w.TurnsHead(), w.YardsBare, turns)
}

// presentAllowance says what the present way of ordering costs, where that is
// among the facts most worth money.
func (a *Author) presentAllowance(w say.Waste) []Exhibit {
	type finding = findings.Finding
	of := slices.DeleteFunc(slices.Clone(a.f.Findings), func(f finding) bool { return f.Topic != "overage" })
	if len(of) == 0 {
		return nil
	}
	h := w.Heads()
	return []Exhibit{{Title: w.PresentTitle(), Says: w.PresentSay(of[0].Dollars),
		Table: TableOf(w.PresentCaption(), of,
			ColumnOf[finding]{Head: h.Rank, Cell: func(f finding) say.Cell { return say.Whole(f.Rank) }},
			numbers(h.Worth, func(f finding) say.Cell { return a.Cell(a.About(), f.Dollars) }),
			numbers(h.Sure, func(f finding) say.Cell { return say.Valued(a.Odds(f.Sure), f.Sure) }),
			counts(h.Placements, func(f finding) int { return f.Dollars.N }))}}
}
