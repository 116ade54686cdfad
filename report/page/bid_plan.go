package page

import (
	"math"
	"slices"

	"pourback/analysis/bid"
	"pourback/report/chart"
	"pourback/report/say"
)

// joints are where a placement's joints go, with the published guidance beside
// the company's own record.
func (a *bidAuthor) joints(p *bid.Part) Exhibit {
	j := &p.Joints
	x := Exhibit{Title: "Joints: " + a.part(p)}
	feet := a.measureOf("ft")
	drawn := bid.Basis{From: bid.FromDrawing}
	lines := []fact{
		{"Panels", say.Cell{Text: say.Count(len(j.Panels))}, drawn},
		{"Longest side of a panel", say.Cell{Text: a.side(j.LongestFt)}, drawn},
		{"Longer over shorter side, the worst panel", say.Cell{Text: say.Grouped(j.WorstRatio, 2)}, drawn},
		{"Spacing kept to", say.Cell{Text: a.side(j.MaxFt.Figure.Value)}, j.MaxFt.Basis},
		{"Joints to cut", say.Cell{Text: quantity(feet, j.CutFt.Figure.Value, 0)}, j.CutFt.Basis},
		{"Depth of the cut", a.depth(j.DepthIn), j.DepthIn.Basis},
		{"Depth of an early-entry cut", a.depth(j.EarlyIn), j.EarlyIn.Basis},
		a.number("Own record: cracks within the warranty at this spacing", j.Own),
	}
	x.Table = a.facts("Joints and cuts: "+a.part(p), lines)
	x.Table.Drawing = a.plan(p)
	for _, s := range append([]string{sawing(j.Saw), "Guidance: " + j.Guide, j.OwnSays}, j.Notes...) {
		if s = a.Said(s); s != "" {
			x.Table.Below = append(x.Table.Below, s)
		}
	}
	return x
}

// sawing is when to saw, "" where nothing is sawn.
func sawing(when string) string {
	if when == "" {
		return ""
	}
	return "When to saw: " + when
}

// depth is the two ends of a depth to cut to, in eighths of an inch.
func (a *bidAuthor) depth(n bid.Number) say.Cell {
	f, inches := n.Figure, a.measureOf("in")
	text := func(v float64) string {
		if a.Units.Si {
			return say.Grouped(v*inches.Factor, 0)
		}
		return eighths(v)
	}
	switch {
	case !f.Known():
		return a.Cell(inches, f)
	case f.Bounded && text(f.High) != text(f.Low):
		return say.Cell{Text: text(f.Low) + " to " + text(f.High) + inches.Unit}
	}
	return say.Cell{Text: text(f.Value) + inches.Unit}
}

// eighths is a length to the nearest eighth: 1⅜.
func eighths(v float64) string {
	n := int(math.Round(v * 8))
	whole, part := n/8, string([]rune(" ⅛¼⅜½⅝¾⅞")[n%8])
	switch {
	case n%8 == 0:
		return say.Count(whole)
	case whole == 0:
		return part
	}
	return say.Count(whole) + part
}

// plan draws the panels to scale, with the dimensions of the whole and of the
// panels along its lower and left edge.
func (a *bidAuthor) plan(p *bid.Part) *chart.Drawing {
	j := &p.Joints
	if len(j.Panels) == 0 {
		return nil
	}
	var wide, high float64
	for _, r := range j.Panels {
		wide, high = max(wide, r.X+r.W), max(high, r.Y+r.H)
	}
	const most, near, far = 520.0, 10.0, 64.0 // what dimensions take beside the slab
	sides := sidesOf(j.Panels, wide, high)
	top, right := near, near
	if sides.top != nil {
		top = far / 2
	}
	if sides.right != nil {
		right = far / 2
	}
	scale := min(most/wide, most*0.8/high)
	d := &chart.Drawing{Width: math.Ceil(far + wide*scale + right), Height: math.Ceil(top + high*scale + far)}
	at := func(x, y float64) chart.Point { return chart.Point{X: far + x*scale, Y: top + (high-y)*scale} }
	corners := func(r bid.PlanRect) []chart.Point {
		return []chart.Point{at(r.X, r.Y), at(r.X+r.W, r.Y), at(r.X+r.W, r.Y+r.H), at(r.X, r.Y+r.H)}
	}
	for _, r := range j.Panels {
		d.Polygon("edge", corners(r)) // what is inside the slab the panels cover
	}
	for _, r := range j.Panels {
		d.Polygon("panel", corners(r))
	}
	for _, c := range j.Cuts {
		d.Shapes = append(d.Shapes, chart.Shape{Class: "cut", Points: []chart.Point{at(c.X1, c.Y1), at(c.X2, c.Y2)}})
	}
	a.dimensions(d, sides, wide, high, at)
	d.Says = say.Capital(a.part(p)) + ", " + a.side(wide) + " by " + a.side(high) + ": " + say.Plural(len(j.Panels), "panel") + ", drawn to scale; dashed lines are joints to cut."
	return d
}

// planSides are where panels begin and end along the edges of a plan, those of
// the upper and the right edge only where they differ from the opposite ones.
type planSides struct{ bottom, left, top, right []float64 }

func sidesOf(panels []bid.PlanRect, wide, high float64) planSides {
	near := func(a, b float64) bool { return math.Abs(a-b) < 1e-6 }
	alongX := func(on func(bid.PlanRect) bool) []float64 {
		return edges(panels, on, func(r bid.PlanRect) (from, to float64) { return r.X, r.X + r.W })
	}
	alongY := func(on func(bid.PlanRect) bool) []float64 {
		return edges(panels, on, func(r bid.PlanRect) (from, to float64) { return r.Y, r.Y + r.H })
	}
	s := planSides{
		bottom: alongX(func(r bid.PlanRect) bool { return near(r.Y, 0) }), top: alongX(func(r bid.PlanRect) bool { return near(r.Y+r.H, high) }),
		left: alongY(func(r bid.PlanRect) bool { return near(r.X, 0) }), right: alongY(func(r bid.PlanRect) bool { return near(r.X+r.W, wide) })}
	if slices.EqualFunc(s.top, s.bottom, near) {
		s.top = nil
	}
	if slices.EqualFunc(s.right, s.left, near) {
		s.right = nil
	}
	return s
}

// dimensions writes the sides of panels along the edges, and those of the whole
// below and on the left.
func (a *bidAuthor) dimensions(d *chart.Drawing, s planSides, wide, high float64, at func(x, y float64) chart.Point) {
	const near, far, tick, room = 14.0, 40.0, 4.0, 34.0
	along := func(from, to, y, off, words float64) {
		p, q := at(from, y), at(to, y)
		d.Line("dim", p.X, p.Y+off, q.X, q.Y+off)
		d.Line("dim", p.X, p.Y+off-tick, p.X, p.Y+off+tick)
		d.Line("dim", q.X, q.Y+off-tick, q.X, q.Y+off+tick)
		if q.X-p.X >= room {
			d.Words("small", "middle", a.side(to-from), (p.X+q.X)/2, p.Y+off+words)
		}
	}
	up := func(from, to, x, off, words float64) {
		p, q := at(x, from), at(x, to)
		d.Line("dim", p.X+off, p.Y, q.X+off, q.Y)
		d.Line("dim", p.X+off-tick, p.Y, p.X+off+tick, p.Y)
		d.Line("dim", q.X+off-tick, q.Y, q.X+off+tick, q.Y)
		if p.Y-q.Y >= room {
			d.Upwards("small", a.side(to-from), p.X+off+words, (p.Y+q.Y)/2)
		}
	}
	chain := func(at []float64, draw func(from, to float64)) {
		for i := 1; i < len(at); i++ {
			draw(at[i-1], at[i])
		}
	}
	const below, beside, above = 15.0, 14.0, -5.0
	chain(s.bottom, func(from, to float64) { along(from, to, 0, near, below) })
	chain(s.top, func(from, to float64) { along(from, to, high, -near/2, above) })
	chain(s.left, func(from, to float64) { up(from, to, 0, -near, above) })
	chain(s.right, func(from, to float64) { up(from, to, wide, near/2, beside) })
	if len(s.bottom) > 2 {
		along(0, wide, 0, far, below)
	}
	if len(s.left) > 2 {
		up(0, high, 0, -far, above)
	}
}

// edges are the places at which panels on one edge begin or end, in order and
// each once.
func edges(panels []bid.PlanRect, on func(bid.PlanRect) bool, of func(bid.PlanRect) (from, to float64)) []float64 {
	var all []float64
	for _, r := range panels {
		if on(r) {
			from, to := of(r)
			all = append(all, from, to)
		}
	}
	slices.Sort(all)
	return slices.CompactFunc(all, func(a, b float64) bool { return math.Abs(b-a) < 1e-6 })
}

// side is a length as it is laid out: 7' 6", or 2.29 m.
func (a *bidAuthor) side(ft float64) string {
	if a.Units.Si {
		return quantity(a.Units.Spacing, ft, 2)
	}
	whole, inches := math.Floor(ft), math.Round((ft-math.Floor(ft))*12)
	if inches == 12 {
		whole, inches = whole+1, 0
	}
	if inches == 0 {
		return say.Grouped(whole, 0) + "′"
	}
	return say.Grouped(whole, 0) + "′ " + say.Grouped(inches, 0) + "″"
}
