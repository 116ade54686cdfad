package layout

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"pourback/analysis/shape"
	"pourback/analysis/trade"
)

// stairs draws an outline of right corners, 4 to 12 of them: two stairs, one along
// the top and one along the bottom.
func stairs(t *rapid.T) shape.Outline {
	steps := rapid.IntRange(1, 3).Draw(t, "columns")
	x, y := []float64{0}, []float64{}
	low := []float64{}
	for range steps {
		x = append(x, x[len(x)-1]+rapid.Float64Range(5, 25).Draw(t, "wide"))
		low = append(low, rapid.Float64Range(0, 8).Draw(t, "low"))
		y = append(y, rapid.Float64Range(14, 30).Draw(t, "high"))
	}
	var o shape.Outline
	for i := range steps {
		o = append(o, shape.Corner{X: x[i], Y: low[i]}, shape.Corner{X: x[i+1], Y: low[i]})
	}
	for i := steps - 1; i >= 0; i-- {
		o = append(o, shape.Corner{X: x[i+1], Y: y[i]}, shape.Corner{X: x[i], Y: y[i]})
	}
	return o
}

// star draws one of 3 to 12 corners around a point.
func star(t *rapid.T) shape.Outline {
	n := rapid.IntRange(3, 12).Draw(t, "corners")
	var o shape.Outline
	for i := range n {
		angle := 2 * math.Pi * (float64(i) + rapid.Float64Range(0.1, 0.9).Draw(t, "angle")) / float64(n)
		r := rapid.Float64Range(8, 25).Draw(t, "reach")
		o = append(o, shape.Corner{X: 30 + r*math.Cos(angle), Y: 30 + r*math.Sin(angle)})
	}
	return o
}

func askOf(t *rapid.T) Ask {
	a := Ask{SpacingFt: rapid.Float64Range(6, 15).Draw(t, "spacing")}
	switch rapid.IntRange(0, 2).Draw(t, "kind") {
	case 0:
		a.Outline = stairs(t)
	case 1:
		a.Outline = star(t)
		if rapid.Bool().Draw(t, "arc") {
			a.Outline[0].Radius = math.Hypot(a.Outline[1].X-a.Outline[0].X, a.Outline[1].Y-a.Outline[0].Y) * rapid.Float64Range(0.6, 3).Draw(t, "radius")
		}
	case 2:
		a.Outline = uShape(rapid.Float64Range(20, 50).Draw(t, "u long"), rapid.Float64Range(16, 40).Draw(t, "u wide"), rapid.Float64Range(5, 12).Draw(t, "bay"), rapid.Float64Range(4, 10).Draw(t, "bay deep"))
	}
	low, high := a.Outline.Bounds()
	if rapid.Bool().Draw(t, "hole") {
		x, y := (low.X+high.X)/2+rapid.Float64Range(-4, 4).Draw(t, "hole x"), (low.Y+high.Y)/2+rapid.Float64Range(-4, 4).Draw(t, "hole y")
		hole := circle(2)
		if rapid.Bool().Draw(t, "square") {
			hole = shape.Rectangle(rapid.Float64Range(0.5, 6).Draw(t, "hole long"), 1)
		}
		a.Holes = []shape.Outline{hole.At(x, y)}
	}
	s := shape.Slab{Outline: a.Outline, Holes: a.Holes, ThicknessIn: 4}
	if _, p := s.WorkOut(); p != nil {
		a.Holes = nil
	}
	s.Holes = a.Holes
	if _, p := s.WorkOut(); p != nil {
		t.Skip("no outline")
	}
	return a
}

// TestJointsAsAHandWouldLayThem, on any outline of up to 12 corners: the panels
// cover the slab; none is longer than the spacing; every joint runs from edge to
// edge, so that none ends at the side of a panel; every inside corner has a joint
// both ways or a bar; a panel beyond the ratio is counted as such.
func TestJointsAsAHandWouldLayThem(t *testing.T) {
	plans, square, bars, inside := 0, 0, 0, 0
	rapid.Check(t, func(t *rapid.T) {
		a := askOf(t)
		p, err := Lay(a)
		if err != nil {
			t.Fatal(err)
		}
		plans++
		covered, want := 0.0, ringArea(p.Shape)
		for _, h := range p.Holes {
			want -= ringArea(h)
		}
		for _, q := range p.Panels {
			covered += q.AreaFt2
			if max(q.W, q.H) > a.SpacingFt+1e-5 {
				t.Fatalf("a panel of %v × %v ft at %v", q.W, q.H, a.SpacingFt)
			}
		}
		if math.Abs(covered/want-1) > 1e-6 {
			t.Fatalf("panels cover %v of %v ft²", covered, want)
		}
		if p.Beyond(trade.AspectLimitLoose) == 0 {
			square++
		}
		for _, c := range p.Cuts {
			for _, e := range []shape.Point{{X: c.X1, Y: c.Y1}, {X: c.X2, Y: c.Y2}} {
				if d := toEdge(p, e); d > 1e-5 {
					t.Fatalf("the joint %+v ends %v ft from every edge", c, d)
				}
			}
			if !inSlab(p, (c.X1+c.X2)/2, (c.Y1+c.Y2)/2) {
				t.Fatalf("the joint %+v runs outside", c)
			}
		}
		for _, corner := range insideCorners(p) {
			inside++
			up, level := false, false
			for _, c := range p.Cuts {
				at := func(x, y float64) bool { return math.Hypot(x-corner.X, y-corner.Y) < 1e-5 }
				meets := at(c.X1, c.Y1) || at(c.X2, c.Y2) || through(c, corner)
				up, level = up || meets && c.X1 == c.X2, level || meets && c.Y1 == c.Y2
			}
			barred := false
			for _, b := range p.Bars {
				barred = barred || math.Hypot((b.X1+b.X2)/2-corner.X, (b.Y1+b.Y2)/2-corner.Y) < 0.51
			}
			if barred {
				bars++
			}
			if !(up && level) && !barred {
				t.Fatalf("the inside corner %v has neither a joint both ways nor a bar: %+v", corner, p.Cuts)
			}
		}
	})
	t.Logf("%d plans, %d with every panel within 1.5; %d inside corners, %d with a bar", plans, square, inside, bars)
	if plans < 50 || square < plans/3 {
		t.Errorf("of %d plans %d keep the ratio: want more", plans, square)
	}
}

// TestRightCornersKeepTheRatio: of slabs of right corners, jogs of inches among them, most have only
// panels within 1.5.
func TestRightCornersKeepTheRatio(t *testing.T) {
	plans, square := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		p, err := Lay(Ask{Outline: stairs(t), SpacingFt: rapid.Float64Range(8, 15).Draw(t, "spacing")})
		if err != nil {
			t.Fatal(err)
		}
		plans++
		if p.Beyond(trade.AspectLimitLoose) == 0 {
			square++
		}
	})
	t.Logf("%d of %d", square, plans)
	if square*2 < plans {
		t.Errorf("%d of %d keep the ratio", square, plans)
	}
}

// TestMovingChangesNoJoint: a slab that is moved, or turned by right angles, has as
// many panels and as much to cut.
func TestMovingChangesNoJoint(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := Ask{Outline: stairs(t), SpacingFt: rapid.Float64Range(8, 15).Draw(t, "spacing")}
		p, err := Lay(a)
		if err != nil {
			t.Fatal(err)
		}
		b := Ask{SpacingFt: a.SpacingFt, Outline: a.Outline.At(rapid.Float64Range(-50, 50).Draw(t, "x"), 7)}
		q, err := Lay(b)
		if err != nil || len(q.Panels) != len(p.Panels) || math.Abs(q.CutFt()-p.CutFt()) > 1e-4 {
			t.Fatalf("%d panels and %v ft, moved %d and %v (%v)", len(p.Panels), p.CutFt(), len(q.Panels), q.CutFt(), err)
		}
	})
}

func ringArea(ring []shape.Point) float64 { return area(ring) }

// toEdge is how far a place is from the nearest edge of the slab or of a hole.
func toEdge(p Plan, e shape.Point) float64 {
	least := math.Inf(1)
	for _, ring := range append([][]shape.Point{p.Shape}, p.Holes...) {
		for i, a := range ring {
			b := ring[(i+1)%len(ring)]
			u := unit(a, b)
			along := min(max((e.X-a.X)*u.X+(e.Y-a.Y)*u.Y, 0), math.Hypot(b.X-a.X, b.Y-a.Y))
			least = min(least, math.Hypot(e.X-a.X-along*u.X, e.Y-a.Y-along*u.Y))
		}
	}
	return least
}

func inSlab(p Plan, x, y float64) bool {
	in := false
	for _, ring := range append([][]shape.Point{p.Shape}, p.Holes...) {
		for i, a := range ring {
			b := ring[(i+1)%len(ring)]
			if (a.Y > y) != (b.Y > y) && x < a.X+(y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
				in = !in
			}
		}
	}
	return in
}

func through(c Cut, at shape.Point) bool {
	return c.X1 == c.X2 && math.Abs(at.X-c.X1) < 1e-5 && at.Y > c.Y1 && at.Y < c.Y2 || c.Y1 == c.Y2 && math.Abs(at.Y-c.Y1) < 1e-5 && at.X > c.X1 && at.X < c.X2
}

// insideCorners are found anew from the rings: those that turn by 10° and more
// against the way around.
func insideCorners(p Plan) []shape.Point {
	var out []shape.Point
	for k, ring := range append([][]shape.Point{p.Shape}, p.Holes...) {
		if len(ring) > 20 { // a round hole
			continue
		}
		for i, b := range ring {
			u, v := unit(ring[(i+len(ring)-1)%len(ring)], b), unit(b, ring[(i+1)%len(ring)])
			turn := u.X*v.Y - u.Y*v.X
			if k > 0 {
				turn = -turn
			}
			if turn < -0.18 {
				out = append(out, b)
			}
		}
	}
	return out
}

// uShape is lengthFt × widthFt less a bay from the middle of its upper side.
func uShape(lengthFt, widthFt, bayLengthFt, bayWidthFt float64) shape.Outline {
	left, low := (lengthFt-bayLengthFt)/2, widthFt-bayWidthFt
	return shape.Outline{{}, {X: lengthFt}, {X: lengthFt, Y: widthFt}, {X: left + bayLengthFt, Y: widthFt},
		{X: left + bayLengthFt, Y: low}, {X: left, Y: low}, {X: left, Y: widthFt}, {Y: widthFt}}
}
