package chart

import (
	"math"

	"pourback/analysis/figure"
	"pourback/report/say"
)

// ForestPlot draws ratios with their ranges on a scale on which doubling and
// halving are the same way off from no difference.
type ForestPlot struct {
	ID, Says string
	Scale    string // what the ratio compares: "risk of a crack, times that of bare slabs"
	None     string // the name of the line at 1: "no difference"
	Ratio    string // the name of what is drawn: "ratio"
	Undrawn  string // why there is no chart, where no ratio is known
	Rows     []ForestRow
}

// ForestRow is one ratio with its name and what is said of it.
type ForestRow struct {
	Label string
	Ratio figure.Figure
	Tip   string
}

// mostTimes bounds the scale of ratios: a range that goes beyond is drawn to
// the edge.
const mostTimes = 16

func (p ForestPlot) Chart() *Chart {
	var rows []ForestRow
	for _, r := range p.Rows {
		if r.Ratio.Known() && r.Ratio.Value > 0 && Finite(r.Ratio.Value) != nil && len(rows) < MostKinds {
			rows = append(rows, r)
		}
	}
	if len(rows) == 0 {
		return Undrawn(p.ID, p.Undrawn)
	}
	return &Chart{ID: p.ID, Says: p.Says, Height: SidewaysHeight(len(rows)) + 24, Draw: func() *Board { return p.draw(rows) }}
}

func (p ForestPlot) draw(rows []ForestRow) *Board {
	labels, marks := make([]string, len(rows)), make([]ShownFigure, len(rows))
	edge := 2.0
	for i, r := range rows {
		labels[i] = say.Clean(r.Label, say.LabelName)
		for _, v := range []float64{r.Ratio.Value, r.Ratio.Low, r.Ratio.High} {
			if away := math.Max(v, 1/v); Finite(away) != nil {
				edge = math.Max(edge, math.Min(mostTimes, math.Exp2(math.Ceil(math.Log2(away)))))
			}
		}
	}
	for i, r := range rows {
		marks[i] = ShownFigure{within(r.Ratio, 1/edge, edge), r.Tip}
	}
	b := Sideways(labels, p.Scale)
	b.XAxisList[0].Type, b.XAxisList[0].Min, b.XAxisList[0].Max = "log", 1/edge, edge
	b.above = 24 // for the name of the line
	b.Marks(p.Ratio, "rect", say.Plain, marks)
	b.rules(true, Rule{p.None, 1})
	b.ErrorBars(p.Ratio, say.Plain, marks)
	return b
}

// within keeps a figure and its range between two bounds.
func within(f figure.Figure, low, high float64) figure.Figure {
	bound := func(v float64) float64 { return math.Min(math.Max(v, low), high) }
	f.Value, f.Low, f.High = bound(f.Value), bound(f.Low), bound(f.High)
	return f
}

// FunnelPlot draws rates by how much each rests on, between the limits within
// which chance alone would keep them: the less a rate rests on, the wider.
type FunnelPlot struct {
	ID, Says string
	Basis    string // the scale along the foot: "pumped, 100 yd³"
	Rate     string // the upright scale
	All      string // the name of the line at the rate of all
	Words    FunnelWords
	Center   float64
	Inner    []Reach // limits of 95 in 100 over the basis
	Outer    []Reach // limits of 998 in 1,000; none where empty
	Points   []FunnelPoint
}

// FunnelWords name what is drawn, and say why nothing is.
type FunnelWords struct {
	ByChance, Outside string // the points within the limits and those beyond
	Inner, Outer      string // the limits
	TooFew            string // why there is no chart
}

// FewestGroups is how many rates a funnel takes.
const FewestGroups = 3

// FunnelPoint is one rate.
type FunnelPoint struct {
	Spot
	Name    string // written beside the point
	Outside bool   // stands out
}

func (p FunnelPlot) Chart() *Chart {
	const least = FewestGroups
	var points []FunnelPoint
	for _, f := range p.Points {
		if f.drawable() {
			points = append(points, f)
		}
	}
	if len(points) < least {
		return Undrawn(p.ID, p.Words.TooFew)
	}
	return &Chart{ID: p.ID, Says: p.Says, Height: 360, Draw: func() *Board { return p.draw(points) }}
}

func (p FunnelPlot) draw(points []FunnelPoint) *Board {
	x, y := ScaleAlong(p.Basis), ValueAxis(p.Rate)
	x.Min, y.Min = 0, 0
	b := NewBoard(x, y)
	var within, beyond, names []Spot
	for _, f := range points {
		if f.Outside {
			beyond = append(beyond, f.Spot)
		} else {
			within = append(within, f.Spot)
		}
		names = append(names, Spot{f.X, f.Y, say.Clean(f.Name, say.LabelName)})
	}
	b.spots(p.Words.ByChance, "circle", 11, within)
	b.rules(false, Rule{p.All, p.Center})
	b.spots(p.Words.Outside, "diamond", 15, beyond)
	b.limits(p.Words.Inner, "dashed", p.Inner)
	b.limits(p.Words.Outer, "dotted", p.Outer)
	b.texts(0, "right", names)
	return b
}

// limits draws both ends of ranges as lines of one name.
func (b *Board) limits(name, dash string, ranges []Reach) {
	if len(ranges) == 0 {
		return
	}
	low, high := make([]Spot, len(ranges)), make([]Spot, len(ranges))
	for i, r := range ranges {
		low[i], high[i] = Spot{X: r.X, Y: r.Low}, Spot{X: r.X, Y: r.High}
	}
	b.Line(name, dash, low)
	b.Line(name, dash, high)
}
