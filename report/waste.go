package report

import (
	"slices"

	"github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"
	"github.com/go-echarts/go-echarts/v2/types"

	"pourback/analysis"
)

// waste says how much more concrete than the drawings called for was used.
func (a *author) waste() Page {
	p := Page{Slug: "waste", Title: "Waste", Method: []string{
		"Waste is concrete used over neat volume, less one. Used is delivered less left over; neat is the volume on the drawing, or area × thickness (324 ft²·in to the yard).",
		"The average of a kind is the mean over its placements, with a range from Student's t distribution.",
		"The overall figure is all concrete used over all neat volume, with the standard error of a ratio (Cochran 1977, §6.4). It is what was wasted in the past and no rule for ordering.",
		"“Half stayed under” and “9 in 10 stayed under” are quantiles of the placements themselves (type 7 of Hyndman and Fan 1996), with ranges by order statistics that hold whatever the distribution (Conover 1999, §3.2).",
	}}
	const takes = "the area and thickness of each placement, the yards delivered and the yards left over"
	o := a.f.Overage
	if a.empty() {
		return a.begin(p, "how much concrete to add to the neat volume", takes)
	}
	p.Basis = a.basis(o.All.N, "placement")
	if o.All.N == 0 {
		p.Answer = "The records cannot say how much concrete is wasted: no placement has both what was delivered and what was left over."
		p.Notes = []string{"It takes " + takes + " (the columns delivered_yd and leftover_yd)."}
		return p
	}
	p.Answer = a.told(o.Answer, wasteAnswer(o.All))
	p.Exhibits = []Exhibit{a.wasteByKind(o)}
	if mean, ratio := o.All.RawMean, o.All.RatioOfTotals; mean.Known() && mean.Value > ratio.Value+0.005 {
		p.Notes = append(p.Notes, "The average placement used "+percent.long(mean)+" over, more than all concrete taken together: small placements lose a larger share.")
	}
	p.Notes = append(p.Notes,
		"This is what past placements used, not yet what to order: a short load costs more than a yard left over.",
		"A yard over is not always spilled: a slab that comes out thicker than bid shows as waste too. An eighth of an inch on a 4 in slab is 3%.")
	return p
}

func wasteAnswer(all analysis.OverageGroup) string {
	ratio, more := all.RatioOfTotals, "more"
	if ratio.Value < 0 {
		ratio.Value, ratio.Low, ratio.High, more = -ratio.Value, -ratio.High, -ratio.Low, "less"
	}
	s := "Your jobs used " + percent.of(more+" concrete than the drawings called for").long(ratio)
	if all.Past.P90.Known() {
		s += "; 9 placements in 10 stayed under " + percent.long(all.Past.P90)
	}
	return s + "."
}

func kindName(g analysis.OverageGroup, most int) string {
	if g.Use == "" {
		return "all"
	}
	return clean(g.Use+", "+g.Method, most)
}

func (a *author) wasteByKind(o *analysis.Overage) Exhibit {
	type group = analysis.OverageGroup
	order := most(indices(len(o.Groups)), func(i int) int { return o.Groups[i].N })
	groups := make([]group, len(order))
	for k, i := range order {
		groups[k] = o.Groups[i]
	}
	table := tableOf("Waste by kind of placement", append(allKinds(o, len(groups)), groups...),
		column[group]{head: "Kind", cell: func(g group) Cell { return word(kindName(g, shortName)) }},
		column[group]{head: "Order this much more", number: true, ahead: true, cell: func(g group) Cell { return percent.cell(g.OrderAllowance) }},
		column[group]{head: "Average", number: true, cell: func(g group) Cell { return percent.cell(g.RawMean) }},
		column[group]{head: "Half stayed under", number: true, cell: func(g group) Cell { return percent.cell(g.Past.P50) }},
		column[group]{head: "9 in 10 stayed under", number: true, cell: func(g group) Cell { return percent.cell(g.Past.P90) }},
		column[group]{head: "Placements", number: true, cell: func(g group) Cell { return whole(g.N) }})
	shown := groups[:min(len(groups), mostKinds)]
	chart := &Chart{ID: "chart-waste", Height: sidewaysHeight(len(shown)) + legendHeight,
		Says: "For each kind of placement, the average waste with its range, the waste that half and that 9 in 10 of the placements stayed under, and a faint stroke for each placement. The table holds the same figures.",
		draw: func() *board { return wasteChart(o, shown, order[:len(shown)]) }}
	return Exhibit{"By kind of placement", chart, table}
}

// mostKinds keeps a chart readable on a phone.
const mostKinds = 12

// allKinds is the row of all placements, where there are several kinds.
func allKinds(o *analysis.Overage, kinds int) []analysis.OverageGroup {
	if kinds < 2 {
		return nil
	}
	return []analysis.OverageGroup{o.All}
}

func indices(n int) []int {
	all := make([]int, n)
	for i := range all {
		all[i] = i
	}
	return all
}

func wasteChart(o *analysis.Overage, groups []analysis.OverageGroup, which []int) *board {
	labels := make([]string, len(groups))
	mean, half, nine := make([]shownFigure, len(groups)), make([]shownFigure, len(groups)), make([]shownFigure, len(groups))
	for i, g := range groups {
		labels[i] = kindName(g, labelName)
		tip := func(f analysis.Figure, what string) shownFigure {
			return shownFigure{f, kindName(g, shortName) + ": " + what + " " + percent.long(f) + ", from " + plural(g.N, "placement")}
		}
		mean[i], half[i], nine[i] = tip(g.RawMean, "on average"), tip(g.Past.P50, "half stayed under"), tip(g.Past.P90, "9 in 10 stayed under")
	}
	b := sideways(labels, "waste, % of neat volume")
	b.add(charts.SingleSeries{Name: "a placement", Type: types.ChartScatter, Symbol: "rect", SymbolSize: []int{2, 18},
		ItemStyle: &opts.ItemStyle{Opacity: opts.Float(0.35)}, Data: placementStrokes(o, groups, which)})
	b.marks("average", "diamond", percent, mean)
	b.marks("half under", "circle", percent, half)
	b.marks("9 in 10 under", "triangle", percent, nine)
	b.errorBars("average", percent, mean)
	return b
}

// mostStrokes is how many placements a kind shows on a chart: beyond it, every
// so manieth in the order of waste.
const mostStrokes = 50

func placementStrokes(o *analysis.Overage, groups []analysis.OverageGroup, which []int) []opts.ScatterData {
	rowOf := map[int]int{}
	for row, group := range which {
		rowOf[group] = row
	}
	ratios := make([][]float64, len(groups))
	for _, p := range o.Points {
		if row, ok := rowOf[p.Group]; ok {
			ratios[row] = append(ratios[row], p.Ratio())
		}
	}
	data := []opts.ScatterData{}
	for row, rs := range ratios {
		slices.Sort(rs)
		n := min(len(rs), mostStrokes)
		for k := range n {
			r := rs[k*len(rs)/n]
			data = append(data, opts.ScatterData{Name: kindName(groups[row], shortName) + ": one placement, " + grouped(100*r, 0) + "%", Value: []any{finite(100 * r), row}})
		}
	}
	return data
}
