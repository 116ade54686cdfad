package layout

import (
	"math"
	"testing"

	"pourback/analysis/shape"
)

func lay(t testing.TB, a Ask) Plan {
	t.Helper()
	p, err := Lay(a)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// circle is one of diameterFt, its lower left bounds at the origin.
func circle(diameterFt float64) shape.Outline {
	r := diameterFt / 2
	return shape.Outline{{X: 0, Y: r, Radius: r}, {X: diameterFt, Y: r, Radius: r}}
}

// uShape is lengthFt × widthFt less a bay bayLengthFt × bayWidthFt from the middle of
func alike(a, b float64) bool { return math.Abs(a-b) < 1e-6 }

// By hand: 24 × 36 ft at 12 ft is 3 × 2 squares with 24+24 (two cuts across) and
// 36 ft (one along), 84 ft of cuts. A 4 × 40 ft walk at 8 ft: 4 ft wide panels
// may be 5 ft long at 1.25, so 8 of them, 7 cuts of 4 ft. A driveway of 24 × 40 ft
// at 10 ft: 4 × 3 panels of 10 by 8, three cuts of 24 and two of 40.
func TestRectanglesByHand(t *testing.T) {
	for _, c := range []struct {
		length, width, spacing float64
		panels                 int
		cutFt, longest, ratio  float64
	}{
		{40, 24, 10, 12, 152, 10, 1.25},
		{36, 24, 12, 6, 84, 12, 1},
		{24, 36, 12, 6, 84, 12, 1},
		{40, 4, 8, 8, 28, 5, 1.25},
		{10, 10, 15, 1, 0, 10, 1},
		{4.2, 3, 10, 1, 0, 4.2, 1.4},  // one panel within 1.5 is better than crumbs
		{40, 0.5, 10, 4, 1.5, 10, 20}, // a curb keeps the spacing alone
	} {
		p := lay(t, Ask{Outline: shape.Rectangle(c.length, c.width), SpacingFt: c.spacing})
		if len(p.Panels) != c.panels || !alike(p.CutFt(), c.cutFt) || !alike(p.LongestFt(), c.longest) || !alike(p.Ratio(), c.ratio) {
			t.Errorf("%v × %v at %v: %d panels, %v ft of cuts, longest %v, ratio %v; want %d, %v, %v, %v",
				c.length, c.width, c.spacing, len(p.Panels), p.CutFt(), p.LongestFt(), p.Ratio(), c.panels, c.cutFt, c.longest, c.ratio)
		}
	}
}

// 44 × 24 ft less 12 × 8, joints 10 ft apart at most, by hand: columns 32/4 = 8
// and 12/2 = 6, rows 16/2 = 8 and 8/1 = 8: 4·2 + 2·2 + 4·1 = 16 panels, the
// worst 8 by 6. Joints: upright at 8, 16, 24 for 24 ft, at 32 for 16 (the corner),
// at 38 for 16; level at 8 for 44 ft, at 16 for 32 (the corner).
func TestAnLByHand(t *testing.T) {
	p := lay(t, Ask{Outline: shape.L(44, 24, 12, 8), SpacingFt: 10})
	if want := 3*24. + 16 + 16 + 44 + 32; len(p.Panels) != 16 || !alike(p.Ratio(), 8./6) || !alike(p.CutFt(), want) || len(p.Bars) != 0 {
		t.Errorf("%d panels, worst ratio %v, %v ft of joints, want 16, 1.33, %v", len(p.Panels), p.Ratio(), p.CutFt(), want)
	}
	if c := p.Cuts[0]; !c.Corner || !alike(c.Length(), 32) || !alike(c.Y1, 16) {
		t.Errorf("the first to cut is %+v, want the longest at the inside corner, level at 16", c)
	}
}

// A circle of 30 ft with a hole of 4 ft in its middle: joints from the hole both
// ways, and one more on either side: 4 × 4 panels less those that the circle leaves
// out.
func TestACircleByHand(t *testing.T) {
	p := lay(t, Ask{Outline: circle(30), Holes: []shape.Outline{circle(4).At(13, 13)}, SpacingFt: 10})
	if len(p.Bars) != 0 || p.Ratio() > 1.5 || len(p.Isolation) == 0 {
		t.Errorf("bars %v, ratio %v, isolation %d", p.Bars, p.Ratio(), len(p.Isolation))
	}
	through := 0
	for _, c := range p.Cuts {
		if c.Corner {
			through++
			if !alike(c.Length(), 13) {
				t.Errorf("a joint from the hole is %v ft long, want 13", c.Length())
			}
		}
	}
	if through != 4 {
		t.Errorf("%d joints begin at the hole, want 4", through)
	}
	t.Logf("%d panels, worst %v, %v ft", len(p.Panels), p.Ratio(), p.CutFt())
}

// A walk of 4 ft around a quarter of a circle, 10 ft to its middle: 5π = 15.71 ft
// along it make 4 panels of 3.93 ft, by 3 joints of 4 ft square across.
func TestACurvedWalkByHand(t *testing.T) {
	p := lay(t, Ask{Outline: shape.Outline{{X: 0, Y: 12, Radius: 12}, {X: 12, Y: 0}, {X: 12, Y: 4, Radius: -8}, {X: 4, Y: 12}}, SpacingFt: 8})
	if len(p.Panels) != 4 || !alike(p.CutFt(), 12) || !alike(p.Panels[0].W, 5*math.Pi/4) || !alike(p.Panels[0].H, 4) {
		t.Errorf("%d panels, %v ft, the first %+v", len(p.Panels), p.CutFt(), p.Panels[0])
	}
	for _, c := range p.Cuts { // the center is at 12, 12
		if cross := (c.X1-12)*(c.Y2-12) - (c.X2-12)*(c.Y1-12); !alike(cross, 0) {
			t.Errorf("%+v does not run square across", c)
		}
	}
}

// A post in the middle of a patio: joints through it, bars at its four corners. One
// side is the house.
func TestAPostAndAHouse(t *testing.T) {
	p := lay(t, Ask{Outline: shape.Rectangle(20, 20), Holes: []shape.Outline{shape.Rectangle(1, 1).At(9.5, 9.5)}, SpacingFt: 10, Against: []int{3}})
	if len(p.Panels) != 4 || len(p.Bars) != 4 || len(p.Isolation) != 5 {
		t.Errorf("%d panels, %d bars, %d isolation joints; want 4, 4, 1 + 4", len(p.Panels), len(p.Bars), len(p.Isolation))
	}
}

// The slab beside it has joints at 7 and 15 ft: the new ones go on from there.
func TestExistingJointsAreMet(t *testing.T) {
	p := lay(t, Ask{Outline: shape.Rectangle(24, 20), SpacingFt: 10, Meets: []shape.Point{{X: 7, Y: 0}, {X: 15, Y: 0}}})
	met := 0
	for _, c := range p.Cuts {
		if alike(c.X1, c.X2) && (alike(c.X1, 7) || alike(c.X1, 15)) && alike(c.Length(), 20) {
			met++
		}
	}
	if met != 2 || len(p.Missed) != 0 {
		t.Errorf("%d of 2 are met: %+v", met, p.Cuts)
	}
}

// A slab drawn at a slant is laid out as if it lay straight.
func TestASlantedSlab(t *testing.T) {
	c, s := math.Cos(0.3), math.Sin(0.3)
	turned := shape.Outline{{}, {X: 40 * c, Y: 40 * s}, {X: 40*c - 24*s, Y: 40*s + 24*c}, {X: -24 * s, Y: 24 * c}}
	p := lay(t, Ask{Outline: turned, SpacingFt: 10})
	if len(p.Panels) != 12 || !alike(p.CutFt(), 152) {
		t.Errorf("%d panels, %v ft", len(p.Panels), p.CutFt())
	}
}

func TestLayRefusesASpacing(t *testing.T) {
	for _, spacing := range []float64{0, 0.2, 30, math.NaN()} {
		if _, err := Lay(Ask{Outline: shape.Rectangle(10, 10), SpacingFt: spacing}); err == nil {
			t.Errorf("%v ft: want an error", spacing)
		}
	}
}

// 24 × 40 ft, bars at 18 in and 3 in from the form: 23.5·12/18 = 15.67, so 16 bars
// of 39.5 ft, and 27 of 23.5 ft: 43, which cross 16 × 27 = 432 times.
func TestBarsByHand(t *testing.T) {
	p := lay(t, Ask{Outline: shape.Rectangle(40, 24), SpacingFt: 10})
	lines, crossings := p.Lines(1.5, 0.25)
	long := 0
	for _, ft := range lines {
		if alike(ft, 39.5) {
			long++
		} else if !alike(ft, 23.5) {
			t.Errorf("a bar of %v ft", ft)
		}
	}
	if len(lines) != 43 || long != 16 || crossings != 432 {
		t.Errorf("%d bars, %d of them along, %d crossings", len(lines), long, crossings)
	}
	// 20 × 16 less 8 × 6, bars each 2 ft from 1 ft in: level at 1 to 9 five of 18 ft,
	// at 11, 13, 15 three of 10; upright at 1 to 11 six of 14 ft, at 13 to 19 four of 8.
	l := lay(t, Ask{Outline: shape.L(20, 16, 8, 6), SpacingFt: 8})
	lines, _ = l.Lines(2, 1)
	sum := 0.0
	for _, ft := range lines {
		sum += ft
	}
	if len(lines) != 18 || !alike(sum, 5*18+3*10+6*14+4*8) {
		t.Errorf("%d bars of %v ft together: %v", len(lines), sum, lines)
	}
}

// An outline of many corners, a comb of 60 with 14 bays of 3 ft along a slab of 120
// ft, has joints as any other; the search does not try every way of leaving one out.
func TestACombOfManyCorners(t *testing.T) {
	comb := shape.Outline{{}, {X: 120}}
	for i := range 14 {
		x := 120 - 8*float64(i)
		comb = append(comb, shape.Corner{X: x, Y: 20}, shape.Corner{X: x - 5, Y: 20}, shape.Corner{X: x - 5, Y: 15}, shape.Corner{X: x - 8, Y: 15})
	}
	comb = append(comb, shape.Corner{X: 8, Y: 20}, shape.Corner{Y: 20})
	p := lay(t, Ask{Outline: comb, SpacingFt: 8})
	sum := 0.0
	for _, q := range p.Panels {
		sum += q.AreaFt2
	}
	if want := 120*20 - 14*3*5.; !alike(sum, want) || p.LongestFt() > 8+1e-6 {
		t.Errorf("%d panels cover %v of %v ft², the longest side %v", len(p.Panels), sum, want, p.LongestFt())
	}
}
