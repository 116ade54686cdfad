package page

import (
	"math"

	"pourback/analysis/bid"
	"pourback/analysis/shape"
	"pourback/report/chart"
)

// SlabPlan is a slab drawn so that a place on the drawing is one on the slab: what
// bounds the slab fills the drawing from edge to edge, so a share of one is the same
// share of the other.
type SlabPlan struct {
	Drawing        *chart.Drawing
	WideFt, HighFt float64
	Drawn          bool // as it was bid; else a rectangle stands for the slab
	Stretched      bool // a long and narrow slab, drawn wider than it is, so that a finger finds its place
	Ninths         []PlanSpot
}

// PlanSpot is a place on a plan, in shares of its width from the left and of its
// height from the top.
type PlanSpot struct {
	X, Y        float64
	Row, Column int // of the nine equal parts of the plan, from 0, row 0 at the top
}

// PlanMark is something that was found on a slab, at shares as a [PlanSpot] has them.
type PlanMark struct {
	X, Y float64
	Tip  string
}

// The width of a plan in drawing units, and how high it may be: three rows for
// fingers at least, and not more than a phone shows.
const (
	tapWide  = 320.0
	tapLeast = 168.0
	tapMost  = 420.0
)

// PlanOfSlab draws the slab of a placement as it was bid, or a rectangle of an area of
// ft² where j is nil; 0 is an area that is not known. The marks stand on it, and says
// what it shows.
func PlanOfSlab(j *bid.JointPlan, areaSqft float64, marks []PlanMark, says string) SlabPlan {
	p := SlabPlan{Drawn: j != nil && j.Drawn && len(j.Shape) > 2}
	if !p.Drawn {
		j = standIn(areaSqft)
	}
	for _, v := range j.Shape {
		p.WideFt, p.HighFt = max(p.WideFt, v.X), max(p.HighFt, v.Y)
	}
	high := tapWide * p.HighFt / p.WideFt
	d := &chart.Drawing{Says: says, Width: tapWide, Height: math.Round(max(tapLeast, min(tapMost, high)))}
	p.Stretched = p.Drawn && math.Abs(d.Height-high) > 1
	drawSlab(d, j, func(x, y float64) chart.Point {
		return chart.Point{X: x / p.WideFt * d.Width, Y: (1 - y/p.HighFt) * d.Height}
	})
	for _, m := range marks {
		d.Shapes = append(d.Shapes, chart.Shape{Kind: chart.DotShape, Class: "found", Points: []chart.Point{{X: m.X * d.Width, Y: m.Y * d.Height}}, Size: 6, Tip: m.Tip})
	}
	p.Drawing, p.Ninths = d, ninths(j, p.WideFt, p.HighFt)
	return p
}

// standIn is a rectangle of an area, four to three.
func standIn(areaSqft float64) *bid.JointPlan {
	if !(areaSqft > 0) {
		areaSqft = 12
	}
	high := math.Sqrt(areaSqft * 3 / 4)
	wide := areaSqft / high
	return &bid.JointPlan{Shape: []bid.PlanPoint{{}, {X: wide}, {X: wide, Y: high}, {Y: high}}}
}

// ninths are the parts of a plan in which something of the slab lies, each with its
// middle, or the place on the slab that is nearest to it.
func ninths(j *bid.JointPlan, wide, high float64) (spots []PlanSpot) {
	const fine = 9 // places looked at along each side of a part
	on := onSlab(j)
	for row := range 3 {
		for column := range 3 {
			best, found := math.Inf(1), PlanSpot{}
			for i := range fine * fine {
				dx, dy := (float64(i%fine)+.5)/fine-.5, (float64(i/fine)+.5)/fine-.5
				s := PlanSpot{X: (float64(column) + .5 + dx) / 3, Y: (float64(row) + .5 + dy) / 3, Row: row, Column: column}
				if away := math.Hypot(dx, dy); away < best && on(s.X*wide, (1-s.Y)*high) {
					best, found = away, s
				}
			}
			if best < 1 {
				spots = append(spots, found)
			}
		}
	}
	return spots
}

// onSlab says of places in ft whether they lie on a slab, and in none of its holes.
func onSlab(j *bid.JointPlan) func(x, y float64) bool {
	outline := outlineOf(j.Shape)
	holes := make([]shape.Outline, len(j.Holes))
	for i, h := range j.Holes {
		holes[i] = outlineOf(h)
	}
	return func(x, y float64) bool {
		at := shape.Point{X: x, Y: y}
		if !outline.Inside(at) {
			return false
		}
		for _, h := range holes {
			if h.Inside(at) {
				return false
			}
		}
		return true
	}
}

func outlineOf(points []bid.PlanPoint) shape.Outline {
	o := make(shape.Outline, len(points))
	for i, v := range points {
		o[i] = shape.Corner{X: v.X, Y: v.Y}
	}
	return o
}
