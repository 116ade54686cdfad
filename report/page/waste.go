package page

import (
	"math"
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
		p.Notes = []string{a.itTakes(w.Takes())}
		return p
	}
	p.Exhibits = slices.Concat(inHand(a.ordersBySize(w)), a.presentAllowance(w), a.nextJobs(w), a.orderTurns(w), a.usedOnNeat(w), []Exhibit{a.pastWaste(w)}, a.whereLost(w), a.fixedLoss(w), a.wasteByCrew(w), a.orderFirmness(w))
	p.Do = a.todo(1, findings.KindOrders, findings.KindLeftover)
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
	columns := []ColumnOf[alikeRow]{wordsIn(w.Heads().Kind, func(r alikeRow) string { return w.SizeKinds(r.uses, r.any, r.at[0].Method) })}
	for k, size := range rows[0].at {
		columns = append(columns, numbers(w.SizeHead(size.NeatYd), func(r alikeRow) say.Cell {
			if k >= len(r.at) {
				return say.Blank()
			}
			return w.OrderAt(r.at[k])
		}))
	}
	return []Exhibit{{Title: w.SizesTitle(), Says: w.SizesSay(a.f.Overage.Assumptions.Order.IncrementYd), Chart: a.allowanceChart(w, rows), Table: TableOf(w.SizesCaption(), a.alikeRows(rows), columns...)}}
}

// alikeRow are the uses, placed in one way, that may be ordered alike.
type alikeRow struct {
	sizeRow
	uses []string
	any  bool // whatever else is placed that way
}

// alikeRows puts kinds on one row that may be ordered alike: a use that lies within
// one step of the plant's of what any job placed so takes, at every size, stands
// with those. The ways of placing that most pours went by come first, and in each
// what holds for any other job last.
func (a *Author) alikeRows(rows []sizeRow) (out []alikeRow) {
	step := a.f.Overage.Assumptions.Order.IncrementYd
	rows = a.byMethod(rows)
	for _, any := range rows {
		if !any.anyUse() {
			continue
		}
		for _, r := range rows {
			if r.at[0].Method != any.at[0].Method || r.within(step, any) {
				continue
			}
			i := slices.IndexFunc(out, func(o alikeRow) bool { return o.at[0].Method == r.at[0].Method && r.within(0, o.sizeRow) })
			if i < 0 {
				i = len(out)
				out = append(out, alikeRow{sizeRow: r})
			}
			out[i].uses = append(out[i].uses, r.at[0].Use)
		}
		out = append(out, alikeRow{sizeRow: any, any: true})
	}
	return out
}

// within says whether a kind's orders lie no farther than a step from another's, at
// every size.
func (r sizeRow) within(step float64, of sizeRow) bool {
	if len(r.at) != len(of.at) {
		return false
	}
	for i := range r.at {
		if one, two := r.at[i].OrderYd, of.at[i].OrderYd; one.Known() != two.Known() || math.Abs(one.Value-two.Value) > step+1e-9 {
			return false
		}
	}
	return true
}

// allowanceChart draws the share to add against the size of the job, for each
// way of placing.
func (a *Author) allowanceChart(w say.Waste, rows []sizeRow) *chart.Chart {
	plot := chart.LinePlot{ID: "chart-orders", Says: w.SizesChart(), Across: chart.Axis{Name: w.DrawnAxis()}, Up: chart.Axis{Name: w.AddAxis(), From: chart.At(0)}, And: a.List}
	for _, r := range rows {
		if !r.anyUse() {
			continue
		}
		method := r.at[0].Method
		line := chart.Series{Name: say.Clean(w.Word(method), say.LabelName), Hue: chart.HueOf(method), Dots: true}
		for _, s := range r.at {
			if s.OrderYd.Known() {
				line.At = append(line.At, chart.Spot{X: s.NeatYd * a.Units.Volume.Factor, Y: 100 * (s.OrderYd.Value/s.NeatYd - 1), Tip: w.OrderTip(s)})
			}
		}
		plot.Lines = append(plot.Lines, line)
	}
	plot.Lines = plot.Lines[:min(len(plot.Lines), mostMethods)]
	return plot.Chart()
}

// mostMethods is how many ways of placing are drawn beside each other.
const mostMethods = 6

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
		numbers(h.UsualSize, func(g group) say.Cell { return a.In(a.Units.Volume, say.Valued(w.YardsBare(g.TypicalYd), g.TypicalYd)) }),
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
	return leversOf(a.Voice, decision{id: "chart-order-turns", says: w.TurnsSay(a.f.Overage), caption: w.TurnsCaption(), head: w.TurnsHead(), comes: w.YardsBare,
		turns: turns, scale: w.TurnsAxis(), factor: a.Units.Volume.Factor, moved: true})
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
			numbers(h.Sure, func(f finding) say.Cell { return a.In(say.OfHundred, say.Valued(a.Odds(f.Sure), f.Sure)) }),
			counts(h.Placements, func(f finding) int { return f.Dollars.N }))}}
}
