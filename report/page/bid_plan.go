package page

import (
	"math"
	"slices"
	"unicode/utf8"

	"pourback/analysis/bid"
	"pourback/analysis/clock"
	"pourback/report/chart"
	"pourback/report/say"
)

// joints are where a placement's joints go, with the published guidance beside
// the company's own record.
func (a *bidAuthor) joints(p *bid.Part) Exhibit {
	j, w := &p.Joints, a.w.Joints(a.part(p))
	text := func(what, figure string, b bid.Basis) fact { return fact{what, say.Cell{Text: figure}, b} }
	drawn := bid.Basis{From: bid.FromDrawing}
	x := Exhibit{Title: w.Title, Table: a.facts(w.Caption, []fact{
		text(w.Panels, say.Count(len(j.Panels)), drawn),
		text(w.Longest, a.w.Side(j.LongestFt), drawn),
		text(w.Worst, say.Grouped(j.WorstRatio, 2), drawn),
		text(w.Spacing, a.w.Side(j.MaxFt.Figure.Value), j.MaxFt.Basis),
		text(w.Cut, a.w.Quantity(j.CutFt.Figure.Value, "ft", 0), j.CutFt.Basis),
		{w.Depth, a.w.Depth(j.DepthIn), j.DepthIn.Basis},
		{w.Early, a.w.Depth(j.EarlyIn), j.EarlyIn.Basis},
		a.number(w.OwnRisk, j.Own),
	})}
	x.Table.Drawing = a.plan(p, screenPlan)
	x.Table.Below = a.w.JointNotes(j, a.sawnByClock(p.Name))
	return x
}

// sawnByClock says whether a day's clock tells when a placement is sawn.
func (a *bidAuthor) sawnByClock(placement string) bool {
	return slices.ContainsFunc(a.b.Days, func(d bid.Day) bool {
		return d.Clock != nil && slices.ContainsFunc(d.Clock.Saw, func(s clock.Saw) bool { return s.Placement == placement })
	})
}

// How large a slab is drawn beside words of a fixed size: smaller ones stay
// readable on a phone and on paper.
const (
	screenPlan = 520.0
	paperPlan  = 250.0
)

// plan draws the slab to scale, with its joints and the dimensions of the whole and
// of the panels along its edges.
func (a *bidAuthor) plan(p *bid.Part, most float64) *chart.Drawing {
	j := &p.Joints
	if len(j.Panels) == 0 {
		return nil
	}
	var wide, high float64
	for _, v := range j.Shape {
		wide, high = max(wide, v.X), max(high, v.Y)
	}
	const near, far = 10.0, 64.0 // what dimensions take beside the slab
	sides := sidesOf(j, wide, high)
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
	drawSlab(d, j, at)
	a.dimensions(d, sides, wide, high, at)
	d.Says = a.w.Plan(a.part(p), a.w.Side(wide), a.w.Side(high), j)
	return d
}

// drawSlab draws a slab with its joints, at places that at says.
func drawSlab(d *chart.Drawing, j *bid.JointPlan, at func(x, y float64) chart.Point) {
	ring := func(class string, points []bid.PlanPoint) {
		corners := make([]chart.Point, len(points))
		for i, v := range points {
			corners[i] = at(v.X, v.Y)
		}
		d.Polygon(class, corners)
	}
	ring("panel", j.Shape)
	for _, h := range j.Holes {
		ring("hole", h)
	}
	lines := func(class string, cuts []bid.PlanCut) {
		for _, c := range cuts {
			d.Shapes = append(d.Shapes, chart.Shape{Class: class, Points: []chart.Point{at(c.X1, c.Y1), at(c.X2, c.Y2)}})
		}
	}
	if j.Tooled {
		lines("tooled", j.Cuts)
	} else {
		lines("cut", j.Cuts)
	}
	ring("edge", j.Shape)
	for _, run := range runs(j.Isolation) { // the solid edge gives way to dots
		points := make([]chart.Point, len(run))
		for i, v := range run {
			points[i] = at(v.X, v.Y)
		}
		d.Shapes = append(d.Shapes, chart.Shape{Class: "gap", Points: points}, chart.Shape{Class: "apart", Points: points})
	}
	lines("bar", j.Bars)
}

// runs are stretches that follow on each other as lines.
func runs(cuts []bid.PlanCut) [][]bid.PlanPoint {
	var out [][]bid.PlanPoint
	for _, c := range cuts {
		from, to := bid.PlanPoint{X: c.X1, Y: c.Y1}, bid.PlanPoint{X: c.X2, Y: c.Y2}
		if n := len(out) - 1; n >= 0 && out[n][len(out[n])-1] == from {
			out[n] = append(out[n], to)
		} else {
			out = append(out, []bid.PlanPoint{from, to})
		}
	}
	return out
}

// planSides are where panels begin and end along the edges of a plan, those of
// the upper and the right edge only where they differ from the opposite ones.
type planSides struct{ bottom, left, top, right []float64 }

func sidesOf(j *bid.JointPlan, wide, high float64) planSides {
	near := func(a, b float64) bool { return math.Abs(a-b) < 1e-6 }
	x, y := func(p bid.PlanPoint) float64 { return p.X }, func(p bid.PlanPoint) float64 { return p.Y }
	s := planSides{bottom: ticks(j, y, x, 0), top: ticks(j, y, x, high), left: ticks(j, x, y, 0), right: ticks(j, x, y, wide)}
	if s.bottom == nil { // a round slab touches its bounds nowhere along
		s.bottom = []float64{0, wide}
	}
	if s.left == nil {
		s.left = []float64{0, high}
	}
	if slices.EqualFunc(s.top, s.bottom, near) {
		s.top = nil
	}
	if slices.EqualFunc(s.right, s.left, near) {
		s.right = nil
	}
	return s
}

// dimensions writes the sides of panels along the edges, and those of the whole
// below and on the left. Even sides that are too short for words each are named
// together, so that no line is left to guess.
func (a *bidAuthor) dimensions(d *chart.Drawing, s planSides, wide, high float64, at func(x, y float64) chart.Point) {
	const near, far, tick = 14.0, 40.0, 4.0
	fits := func(words string, room float64) bool { return room >= 6+7*float64(utf8.RuneCountInString(words)) }
	wideSays := func(from, to, y, off, words float64, says string) {
		if p, q := at(from, y), at(to, y); fits(says, q.X-p.X) {
			d.Words("small", "middle", says, (p.X+q.X)/2, p.Y+off+words)
		}
	}
	highSays := func(from, to, x, off, words float64, says string) {
		if p, q := at(x, from), at(x, to); fits(says, p.Y-q.Y) {
			d.Upwards("small", says, p.X+off+words, (p.Y+q.Y)/2)
		}
	}
	along := func(from, to, y, off, words float64) {
		p, q := at(from, y), at(to, y)
		d.Line("dim", p.X, p.Y+off, q.X, q.Y+off)
		d.Line("dim", p.X, p.Y+off-tick, p.X, p.Y+off+tick)
		d.Line("dim", q.X, q.Y+off-tick, q.X, q.Y+off+tick)
		wideSays(from, to, y, off, words, a.w.Side(to-from))
	}
	up := func(from, to, x, off, words float64) {
		p, q := at(x, from), at(x, to)
		d.Line("dim", p.X+off, p.Y, q.X+off, q.Y)
		d.Line("dim", p.X+off-tick, p.Y, p.X+off+tick, p.Y)
		d.Line("dim", q.X+off-tick, q.Y, q.X+off+tick, q.Y)
		highSays(from, to, x, off, words, a.w.Side(to-from))
	}
	scale := at(1, 0).X - at(0, 0).X
	chain := func(at []float64, draw func(from, to float64), says func(from, to float64, words string)) {
		for i := 1; i < len(at); i++ {
			draw(at[i-1], at[i])
		}
		if side := even(at); side > 0 && !fits(a.w.Side(side), side*scale) {
			says(at[0], at[len(at)-1], a.w.EvenSides(len(at)-1, side))
		}
	}
	const below, beside, above = 15.0, 14.0, -5.0
	chain(s.bottom, func(from, to float64) { along(from, to, 0, near, below) }, func(from, to float64, s string) { wideSays(from, to, 0, near, below, s) })
	chain(s.top, func(from, to float64) { along(from, to, high, -near/2, above) }, func(from, to float64, s string) { wideSays(from, to, high, -near/2, above, s) })
	chain(s.left, func(from, to float64) { up(from, to, 0, -near, above) }, func(from, to float64, s string) { highSays(from, to, 0, -near, above, s) })
	chain(s.right, func(from, to float64) { up(from, to, wide, near/2, beside) }, func(from, to float64, s string) { highSays(from, to, wide, near/2, beside, s) })
	if len(s.bottom) > 2 {
		along(0, wide, 0, far, below)
	}
	if len(s.left) > 2 {
		up(0, high, 0, -far, above)
	}
}

// even is how far apart all of several marks are, 0 where they differ.
func even(at []float64) float64 {
	if len(at) < 3 {
		return 0
	}
	side := at[1] - at[0]
	for i := 2; i < len(at); i++ {
		if math.Abs(at[i]-at[i-1]-side) > 1e-6 {
			return 0
		}
	}
	return side
}

// ticks are where the slab's corners and the ends of its joints lie along a line
// across it, in order and each once; nil where no side of it lies on that line.
func ticks(j *bid.JointPlan, across, along func(bid.PlanPoint) float64, at float64) []float64 {
	on := func(p bid.PlanPoint) bool { return math.Abs(across(p)-at) < 1e-6 }
	var all []float64
	for i, p := range j.Shape {
		if q := j.Shape[(i+1)%len(j.Shape)]; on(p) && on(q) {
			all = append(all, along(p), along(q))
		}
	}
	if all == nil {
		return nil
	}
	for _, c := range j.Cuts {
		for _, p := range []bid.PlanPoint{{X: c.X1, Y: c.Y1}, {X: c.X2, Y: c.Y2}} {
			if on(p) {
				all = append(all, along(p))
			}
		}
	}
	slices.Sort(all)
	return slices.CompactFunc(all, func(a, b float64) bool { return math.Abs(b-a) < 1e-6 })
}

// Plan is the drawing of a slab, with the slab's name.
type Plan struct {
	Name    string
	Drawing *chart.Drawing
}

// BidPlans are the drawings of a bid's slabs, of those that have joints.
func BidPlans(b *bid.Bid, opt Options) (plans []Plan) {
	a := newBidAuthor(b, opt)
	for i := range b.Placements {
		if d := a.plan(&b.Placements[i], screenPlan); d != nil {
			plans = append(plans, Plan{a.part(&b.Placements[i]), d})
		}
	}
	return plans
}
