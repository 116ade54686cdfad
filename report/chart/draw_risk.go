package chart

import (
	"math"

	"pourback/analysis/figure"
	"pourback/report/say"
)

// ForestPlot draws ratios with their ranges on a scale on which doubling and
// halving are the same way off from no difference.
type ForestPlot struct {
	Id, Says string
	Scale    string // what the ratio compares: "risk of a crack, times that of bare slabs"
	None     string // the name of the line at 1: "no difference"
	Rows     []ForestRow
}

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
		return Undrawn(p.Id, "No chart is drawn: the records support no ratio.")
	}
	return &Chart{ID: p.Id, Says: p.Says, Height: SidewaysHeight(len(rows)) + 24, Draw: func() *Board { return p.draw(rows) }}
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
	b.Marks("ratio", "rect", say.Plain, marks)
	b.rules(true, Rule{p.None, 1})
	b.ErrorBars("ratio", say.Plain, marks)
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
	Id, Says string
	Basis    string // the scale along the foot: "pumped, 100 yd³"
	Rate     string // the upright scale
	All      string // the name of the line at the rate of all
	Center   float64
	Inner    []Reach // limits of 95 in 100 over the basis
	Outer    []Reach // limits of 998 in 1,000; none where empty
	Points   []FunnelPoint
}

type FunnelPoint struct {
	Spot
	Name    string // written beside the point
	Outside bool   // stands out
}

func (p FunnelPlot) Chart() *Chart {
	const least = 3
	var points []FunnelPoint
	for _, f := range p.Points {
		if f.drawable() {
			points = append(points, f)
		}
	}
	if len(points) < least {
		return tooFew(p.Id, len(points), least, "group")
	}
	return &Chart{ID: p.Id, Says: p.Says, Height: 360, Draw: func() *Board { return p.draw(points) }}
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
	b.spots("as chance would have it", "circle", 11, within)
	b.rules(false, Rule{p.All, p.Center})
	b.spots("stands out", "diamond", 15, beyond)
	b.limits("19 in 20 by chance", "dashed", p.Inner)
	b.limits("998 in 1,000 by chance", "dotted", p.Outer)
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
