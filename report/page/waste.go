package page

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"pourback/analysis/concrete"
	"pourback/analysis/figure"
	"pourback/analysis/findings"
	"pourback/report/chart"
	"pourback/report/say"
)

const wasteTakes = "the area and thickness of each placement, the yards delivered and the yards left over"

// waste says how much more concrete than the drawing calls for to order next
// time, and where the rest goes.
func (a *Author) waste() Page {
	o := a.f.Overage
	p := Page{Slug: wasteSlug, Title: "Waste", Method: append([]string{
		"Waste is concrete used over the volume on the drawing, less one. Used is delivered less left over; the drawing's volume is as drawn, or area × thickness.",
		"The next job is predicted from all placements at once: a share of the volume that differs by kind of work, plus yards lost whatever the size that differ by way of placing, each kind borrowing from the others the more the fewer placements it has (Box and Tiao 1973; Gelman 2006).",
		"The order is the one of least expected cost: a yard too many is paid for and hauled away, a yard short brings a load nobody planned (Arrow, Harris and Marschak 1951; Silver, Pyke and Thomas 2017). Its range is the order if the average of the kind stood at the ends of its own range.",
		"Averages of the past have a range from Student's t distribution; all concrete together has that of a ratio of totals (Cochran 1977, §6.4). “Half stayed under” and the like are quantiles (type 7 of Hyndman and Fan 1996) with ranges by order statistics (Conover 1999, §3.2).",
		"Odd placements are found by a second fit that weighs the far ones down (Lange, Little and Taylor 1989).",
	}, a.orderAssumptions()...)}
	if a.empty() {
		return a.begin(p, "how much concrete to order over the drawing", wasteTakes)
	}
	p.Basis = a.basis(o.All.N, "placement")
	if o.All.N == 0 {
		p.Answer = "The records cannot say how much concrete is wasted: no placement has both what was delivered and what was left over."
		p.Notes = []string{"It takes " + wasteTakes + " (the columns delivered_yd and leftover_yd)."}
		return p
	}
	p.Answer = a.wasteAnswer()
	p.Exhibits = slices.Concat(a.ordersBySize(), a.presentAllowance(), a.nextJobs(), a.usedOnNeat(), []Exhibit{a.pastWaste()}, a.whereLost(), a.fixedLoss(), a.wasteByCrew(), a.orderFirmness())
	if said := say.Sentences(a.Said(o.Answer)); len(said) > 1 && !o.All.OrderYd.Known() {
		p.Notes = append(p.Notes, said[1:]...) // what to do until there is an order
	}
	p.Notes = append(p.Notes, a.wastePast(o.All))
	for _, n := range o.Notes {
		if !strings.Contains(n, " left out: ") {
			p.Notes = append(p.Notes, a.Said(n))
		}
	}
	p.Notes = append(p.Notes, leftOut(o.LeftOut)...)
	if n := len(o.Own.Told); n > 0 {
		p.Notes = append(p.Notes, "At your own prices ("+a.Said(strings.Join(o.Own.Told, "; "))+") the order of "+say.Plural(o.Own.Orders, "kind")+" of job would come out different.")
	}
	p.Notes = append(p.Notes, "Concrete over is not always spilled: a slab that comes out thicker than drawn shows as waste too. "+a.eighth())
	return p
}

// wasteAnswer speaks of the use placed most often: "On the next driveway order
// 12% over the drawing by chute (9.25 yd³ for 8.2) and 15% by pump …".
func (a *Author) wasteAnswer() string {
	kinds := a.commonKinds()
	if len(kinds) == 0 {
		g := mostPlaced(a.f.Overage.Groups)
		return "The records cannot say yet how much to order over the drawing (" + a.Reason(g.OrderYd.Why) + ")."
	}
	var said []string
	for i, g := range kinds {
		over := ""
		if i == 0 {
			over = " over the drawing"
		}
		said = append(said, fmt.Sprintf("%s%s by %s (%s for %s)", a.Value(say.Percent, g.OrderAllowance), over, say.Clean(g.Method, say.LabelName), a.yards(g.OrderYd.Value), a.bareYards(g.TypicalYd)))
	}
	s := "On the next " + say.Clean(kinds[0].Use, say.LabelName) + " order " + say.Listed(said)
	if small, ok := a.smallOrder(kinds[len(kinds)-1]); ok {
		s += "; a small job takes a larger share, " + small
	}
	return s + "."
}

func mostPlaced(groups []concrete.Group) concrete.Group {
	return slices.MaxFunc(groups, func(x, y concrete.Group) int { return cmp.Compare(x.N, y.N) })
}

// commonKinds are the two commonest ways of placing the commonest use, as far
// as there is an order for them.
func (a *Author) commonKinds() []concrete.Group {
	by := map[string]int{}
	for _, g := range a.f.Overage.Groups {
		by[g.Use] += g.N
	}
	var kinds []concrete.Group
	for _, g := range a.f.Overage.Groups {
		if !g.OrderAllowance.Known() {
			continue
		}
		switch {
		case len(kinds) == 0 || by[g.Use] > by[kinds[0].Use]:
			kinds = []concrete.Group{g}
		case g.Use == kinds[0].Use:
			kinds = append(kinds, g)
		}
	}
	kinds = most(kinds, func(g concrete.Group) int { return g.N })
	return kinds[:min(len(kinds), 2)]
}

// smallOrder is the order of a kind for a job smaller than usual.
func (a *Author) smallOrder(g concrete.Group) (string, bool) {
	for _, s := range a.f.Overage.BySize {
		if s.Use == g.Use && s.Method == g.Method && s.NeatYd <= g.TypicalYd/2 && s.NeatYd >= g.TypicalYd/4 && s.OrderYd.Known() {
			return fmt.Sprintf("%s on %s by %s", a.At(say.Percent, s.OrderYd.Value/s.NeatYd-1), a.yards(s.NeatYd), say.Clean(s.Method, say.LabelName)), true
		}
	}
	return "", false
}

// yards is a volume as it is ordered: to the quarter yard, or in metric to a
// tenth.
func (a *Author) yards(v float64) string { return a.bareYards(v) + a.Units.Volume.Unit }

func (a *Author) bareYards(v float64) string {
	decimals := 2
	if a.Units.Si || v*4 != float64(int(v*4)) {
		decimals = 1
	}
	s := say.Grouped(v*a.Units.Volume.Factor, decimals)
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}

// eighth says what an eighth of an inch is worth.
func (a *Author) eighth() string {
	if a.Units.Si {
		return "Three millimeters on a 100 mm slab are 3%."
	}
	return "An eighth of an inch on a 4 in slab is 3%."
}

// sizeRow is what to order of one kind at each size of the table.
type sizeRow struct {
	name string
	n    int
	at   []concrete.OverageSize
}

// sizeRows are the kinds with an order at each size, the commonest first, and
// then each way of placing whatever the kind.
func (a *Author) sizeRows() (rows []sizeRow) {
	n := map[string]int{}
	for _, g := range a.f.Overage.Groups {
		n[g.Use+", "+g.Method] = g.N
		n["all, "+g.Method] += 0 // after all kinds
	}
	for _, s := range a.f.Overage.BySize {
		name := s.Use + ", " + s.Method
		if len(rows) == 0 || rows[len(rows)-1].name != name {
			rows = append(rows, sizeRow{name: name, n: n[name]})
		}
		rows[len(rows)-1].at = append(rows[len(rows)-1].at, s)
	}
	return most(rows, func(r sizeRow) int { return r.n })
}

// anyKind is the name of a row: a use and a way of placing, or whatever was
// placed that way.
func (r sizeRow) shown() string {
	if method, found := strings.CutPrefix(r.name, "all, "); found {
		return say.Clean("anything, "+method, say.ShortName)
	}
	return say.Clean(r.name, say.ShortName)
}

// ordersBySize is what to carry next time by kind of job and size.
func (a *Author) ordersBySize() []Exhibit {
	rows := a.sizeRows()
	if len(rows) == 0 {
		return nil
	}
	columns := []ColumnOf[sizeRow]{wordsIn("Kind", sizeRow.shown)}
	for k, size := range rows[0].at {
		columns = append(columns, numbers("For "+a.yards(size.NeatYd), func(r sizeRow) say.Cell {
			if k >= len(r.at) {
				return say.Blank()
			}
			return a.orderCell(r.at[k])
		}))
	}
	return []Exhibit{{Title: "What to order next time",
		Says:  "Find the kind of job and the size nearest to the drawing: how much to order, and how much that adds to the drawing.",
		Chart: a.allowanceChart(rows), Table: TableOf("Order in"+a.Units.Volume.Unit+" by volume on the drawing, with what that adds", rows, columns...)}}
}

// orderCell: "2.75 (38%)".
func (a *Author) orderCell(s concrete.OverageSize) say.Cell {
	if !s.OrderYd.Known() {
		return say.Unsaid(a.Reason(s.OrderYd.Why))
	}
	return say.Valued(a.bareYards(s.OrderYd.Value)+" ("+a.At(say.Percent, s.OrderYd.Value/s.NeatYd-1)+")", s.OrderYd.Value)
}

// allowanceChart draws the share to add against the size of the job, for each
// way of placing.
func (a *Author) allowanceChart(rows []sizeRow) *chart.Chart {
	m := a.Units.Volume
	var drawn []sizeRow
	for _, r := range rows {
		if strings.HasPrefix(r.name, "all, ") && len(drawn) < len(chart.Dashes) {
			drawn = append(drawn, r)
		}
	}
	return &chart.Chart{ID: "chart-orders", Height: 340,
		Says: "A line for each way of placing, whatever is placed: the size of the job across, how much to add to the drawing upward. The last rows of the table hold the same figures.",
		Draw: func() *chart.Board {
			b := chart.NewBoard(chart.ScaleAlong("on the drawing,"+m.Unit), chart.ValueAxis("to add, %"))
			for i, r := range drawn {
				var at []chart.Spot
				for _, s := range r.at {
					if s.OrderYd.Known() {
						at = append(at, chart.Spot{X: s.NeatYd * m.Factor, Y: 100 * (s.OrderYd.Value/s.NeatYd - 1), Tip: r.shown() + ", " + a.yards(s.NeatYd) + ": order " + a.yards(s.OrderYd.Value)})
					}
				}
				b.Line(strings.TrimPrefix(r.shown(), "anything, "), chart.Dashes[i], at)
			}
			return b
		}}
}

// nextJobs says what to expect of the next job of each kind, at its usual size.
func (a *Author) nextJobs() []Exhibit {
	type group = concrete.Group
	groups := most(a.f.Overage.Groups, func(g group) int { return g.N })
	if len(groups) == 0 || !groups[0].OrderYd.Known() {
		return nil
	}
	order := say.Measure{Factor: a.Units.Volume.Factor}
	table := TableOf("The next job of each kind at its usual size, volumes in"+a.Units.Volume.Unit, groups,
		wordsIn("Kind", func(g group) string { return kindName(g, say.ShortName) }),
		numbers("Usual size", func(g group) say.Cell { return say.Valued(a.bareYards(g.TypicalYd), g.TypicalYd) }),
		numbers("Order", func(g group) say.Cell { return a.volumeCell(g.OrderYd) }),
		numbers("That adds", func(g group) say.Cell { return a.Cell(say.Percent, g.OrderAllowance) }),
		numbers("Runs short, in 100", func(g group) say.Cell { return a.Cell(say.OfHundred, g.ChanceShort) }),
		numbers("Left over", func(g group) say.Cell { return a.Cell(order, g.LeftoverYd) }),
		numbers("Uses over the drawing", func(g group) say.Cell { return a.Cell(say.Percent, g.PooledMean) }),
		numbers("1 in 10 uses over", func(g group) say.Cell { return a.Cell(say.Percent, g.NextJob.P90) }))
	return []Exhibit{{Title: "The next job of each kind", Table: table,
		Says: "Each order is the one that costs least in the long run: here is how often it still runs short, and what is left over on average."}}
}

func (a *Author) volumeCell(f figure.Figure) say.Cell {
	if !f.Known() {
		return say.Unsaid(a.Reason(f.Why))
	}
	return say.Valued(a.bareYards(f.Value), f.Value)
}

// presentAllowance says what the present way of ordering costs, where that is
// among the facts most worth money.
func (a *Author) presentAllowance() []Exhibit {
	type finding = findings.Finding
	of := slices.DeleteFunc(slices.Clone(a.f.Findings), func(f finding) bool { return f.Topic != "overage" })
	if len(of) == 0 {
		return nil
	}
	return []Exhibit{{Title: "What the present way of ordering costs", Says: a.Said(of[0].Sentence),
		Table: TableOf("Of the facts most worth money, those about waste", of,
			ColumnOf[finding]{Head: "Rank", Cell: func(f finding) say.Cell { return say.Whole(f.Rank) }},
			numbers("Worth a year", func(f finding) say.Cell { return a.Cell(a.About(), f.Dollars) }),
			numbers("How sure, in 100", func(f finding) say.Cell { return say.Valued(sureText(f.Sure), f.Sure) }),
			counts("Placements", func(f finding) int { return f.Dollars.N }))}}
}

// leftOut says which placements the figures do without, and what they lack.
func leftOut(l concrete.LeftOut) []string {
	if l.Placements == 0 {
		return nil
	}
	var lack []string
	for _, r := range []struct {
		n    int
		says string
	}{{l.NoNeat, "without a volume on the drawing"}, {l.NoDelivered, "without what was delivered"}, {l.NoLeftover, "without what was left over"}, {l.Impossible, "with more left over than delivered"}} {
		if r.n > 0 {
			lack = append(lack, say.Count(r.n)+" "+r.says)
		}
	}
	return []string{say.Plural(l.Placements, "placement") + " " + say.Were(l.Placements) + " left out: " + say.Listed(lack) + "."}
}

// orderAssumptions are the money and the beliefs behind an order.
func (a *Author) orderAssumptions() []string {
	c, p := a.f.Overage.Assumptions.Order, a.f.Overage.Assumptions.Priors
	money := func(v float64) string {
		return a.Number(say.Measure{Factor: 1, Sign: a.Sign(), Digits: say.Cents}, v, 2)
	}
	return a.SaidAll([]string{
		fmt.Sprintf("Settings behind an order: concrete %s a yard, hauling away what is left %s a yard, a load nobody planned %s and its concrete %s a yard more, a load called in time %s; a plant sends %s yd or more in steps of %s yd, a truck holds %s yd, and a load under %s yd pays %s for each yard it lacks; the last load is called with %s yd on hand.",
			money(c.PricePerYd), money(c.DisposalPerYd), money(c.BalanceLoad), money(c.BalancePerYd), money(c.Call),
			plainNumber(c.LeastBalanceYd), plainNumber(c.IncrementYd), plainNumber(c.TruckYd), plainNumber(c.ShortLoadYd), money(c.ShortLoadPerYd), plainNumber(c.CallAheadYd)),
		fmt.Sprintf("Held to be likely before any record: %s%% of the volume (give or take %s), and %s yd lost whatever the size (give or take %s yd), by pump %s yd (give or take %s yd). The more placements, the less that counts.",
			plainNumber(100*p.Share.Mean), plainNumber(100*p.Share.SD), plainNumber(p.FixedYd.Mean), plainNumber(p.FixedYd.SD), plainNumber(p.PumpYd.Mean), plainNumber(p.PumpYd.SD)),
	})
}

// plainNumber is a setting as it was set.
func plainNumber(v float64) string { return strconv.FormatFloat(v, 'g', 6, 64) }
