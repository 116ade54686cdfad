package report

import (
	"math"

	"pourback/analysis/figure"
)

// forestPlot draws ratios with their ranges on a scale on which doubling and
// halving are the same way off from no difference.
type forestPlot struct {
	id, says string
	scale    string // what the ratio compares: "risk of a crack, times that of bare slabs"
	none     string // the name of the line at 1: "no difference"
	rows     []forestRow
}

type forestRow struct {
	label string
	ratio figure.Figure
	tip   string
}

// mostTimes bounds the scale of ratios: a range that goes beyond is drawn to
// the edge.
const mostTimes = 16

func (p forestPlot) chart() *Chart {
	var rows []forestRow
	for _, r := range p.rows {
		if r.ratio.Known() && r.ratio.Value > 0 && finite(r.ratio.Value) != nil && len(rows) < mostKinds {
			rows = append(rows, r)
		}
	}
	if len(rows) == 0 {
		return undrawn(p.id, "No chart is drawn: the records support no ratio.")
	}
	return &Chart{ID: p.id, Says: p.says, Height: sidewaysHeight(len(rows)) + 24, draw: func() *board { return p.draw(rows) }}
}

func (p forestPlot) draw(rows []forestRow) *board {
	labels, marks := make([]string, len(rows)), make([]shownFigure, len(rows))
	edge := 2.0
	for i, r := range rows {
		labels[i] = clean(r.label, labelName)
		for _, v := range []float64{r.ratio.Value, r.ratio.Low, r.ratio.High} {
			if away := math.Max(v, 1/v); finite(away) != nil {
				edge = math.Max(edge, math.Min(mostTimes, math.Exp2(math.Ceil(math.Log2(away)))))
			}
		}
	}
	for i, r := range rows {
		marks[i] = shownFigure{within(r.ratio, 1/edge, edge), r.tip}
	}
	b := sideways(labels, p.scale)
	b.XAxisList[0].Type, b.XAxisList[0].Min, b.XAxisList[0].Max = "log", 1/edge, edge
	b.above = 24 // for the name of the line
	b.marks("ratio", "rect", plain, marks)
	b.rules(true, rule{p.none, 1})
	b.errorBars("ratio", plain, marks)
	return b
}

// within keeps a figure and its range between two bounds.
func within(f figure.Figure, low, high float64) figure.Figure {
	bound := func(v float64) float64 { return math.Min(math.Max(v, low), high) }
	f.Value, f.Low, f.High = bound(f.Value), bound(f.Low), bound(f.High)
	return f
}

// funnelPlot draws rates by how much each rests on, between the limits within
// which chance alone would keep them: the less a rate rests on, the wider.
type funnelPlot struct {
	id, says string
	basis    string // the scale along the foot: "pumped, 100 yd³"
	rate     string // the upright scale
	all      string // the name of the line at the rate of all
	center   float64
	inner    []reach // limits of 95 in 100 over the basis
	outer    []reach // limits of 998 in 1,000; none where empty
	points   []funnelPoint
}

type funnelPoint struct {
	spot
	name    string // written beside the point
	outside bool   // stands out
}

func (p funnelPlot) chart() *Chart {
	const least = 3
	var points []funnelPoint
	for _, f := range p.points {
		if f.drawable() {
			points = append(points, f)
		}
	}
	if len(points) < least {
		return tooFew(p.id, len(points), least, "group")
	}
	return &Chart{ID: p.id, Says: p.says, Height: 360, draw: func() *board { return p.draw(points) }}
}

func (p funnelPlot) draw(points []funnelPoint) *board {
	x, y := scaleAlong(p.basis), valueAxis(p.rate)
	x.Min, y.Min = 0, 0
	b := newBoard(x, y)
	var within, beyond, names []spot
	for _, f := range points {
		if f.outside {
			beyond = append(beyond, f.spot)
		} else {
			within = append(within, f.spot)
		}
		names = append(names, spot{f.x, f.y, clean(f.name, labelName)})
	}
	b.spots("as chance would have it", "circle", 11, within)
	b.rules(false, rule{p.all, p.center})
	b.spots("stands out", "diamond", 15, beyond)
	b.limits("19 in 20 by chance", "dashed", p.inner)
	b.limits("998 in 1,000 by chance", "dotted", p.outer)
	b.texts(0, "right", names)
	return b
}

// limits draws both ends of ranges as lines of one name.
func (b *board) limits(name, dash string, ranges []reach) {
	if len(ranges) == 0 {
		return
	}
	low, high := make([]spot, len(ranges)), make([]spot, len(ranges))
	for i, r := range ranges {
		low[i], high[i] = spot{x: r.x, y: r.low}, spot{x: r.x, y: r.high}
	}
	b.line(name, dash, low)
	b.line(name, dash, high)
}
