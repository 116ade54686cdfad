package trade

import (
	"math"
	"math/rand/v2"
	"testing"
)

// By hand: 24 × 36 ft at 12 ft is 3 × 2 squares with 24+24 (two cuts across) and
// 36 ft (one along), 84 ft of cuts. A 4 × 40 ft walk at 8 ft: 4 ft wide panels
// may be 5 ft long at 1.25, so 8 of them, 7 cuts of 4 ft.
func TestPanelsByHand(t *testing.T) {
	for _, c := range []struct {
		length, width, spacing float64
		panels                 int
		cutFt, longest, ratio  float64
	}{
		{36, 24, 12, 6, 84, 12, 1},
		{24, 36, 12, 6, 84, 12, 1},
		{40, 4, 8, 8, 28, 5, 1.25},
		{10, 10, 15, 1, 0, 10, 1},
		{4.2, 3, 10, 1, 0, 4.2, 1.4},  // one panel within 1.5 is better than crumbs
		{40, 0.5, 10, 4, 1.5, 10, 20}, // a curb keeps the spacing alone
	} {
		l, err := Panels(c.length, c.width, c.spacing)
		if err != nil {
			t.Fatal(err)
		}
		if len(l.Panels) != c.panels || !alike(l.CutFt(), c.cutFt) || !alike(l.LongestFt(), c.longest) || !alike(l.Ratio(), c.ratio) {
			t.Errorf("%v × %v at %v: %d panels, %v ft of cuts, longest %v, ratio %v; want %d, %v, %v, %v",
				c.length, c.width, c.spacing, len(l.Panels), l.CutFt(), l.LongestFt(), l.Ratio(), c.panels, c.cutFt, c.longest, c.ratio)
		}
	}
}

// The bounds on panels for 10,000 random rectangles and Ls: no side above the
// spacing, which is at most 15 ft (NRMCA CIP 6, from memory); no panel longer
// than 1.5 times its width (ACI 360-06, as quoted) unless its rectangle is
// under 3 ft wide; and the panels cover the slab, no more and no less.
func TestPanelsKeepTheirBounds(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 7))
	between := func(low, high float64) float64 { return low + (high-low)*rng.Float64() }
	tight, all := 0, 0
	for range 10_000 {
		length, width, spacing := math.Exp(between(1, 5.5)), math.Exp(between(-0.5, 5)), between(4, SpacingCapFt)
		var l Layout
		var err error
		area := length * width
		if rng.IntN(2) == 0 {
			l, err = Panels(length, width, spacing)
		} else {
			a, b := length*between(.1, .9), width*between(.1, .9)
			area -= a * b
			l, err = PanelsOfL(length, width, a, b, spacing)
		}
		if err != nil {
			t.Fatal(err)
		}
		checkLayout(t, l, spacing, area)
		for _, p := range l.Panels {
			if min(p.W, p.H) >= NarrowFt {
				all++
				if max(p.W, p.H)/min(p.W, p.H) <= AspectLimit+1e-9 {
					tight++
				}
			}
		}
	}
	if share := float64(tight) / float64(all); share < 0.95 {
		t.Errorf("%.3f of the panels are within 1.25: want nearly all", share)
	}
}

func checkLayout(t *testing.T, l Layout, spacing, area float64) {
	t.Helper()
	covered := 0.0
	for _, p := range l.Panels {
		covered += p.W * p.H
	}
	if math.Abs(covered/area-1) > 1e-9 {
		t.Fatalf("panels cover %v of %v ft²", covered, area)
	}
	if l.LongestFt() > spacing+1e-6 {
		t.Fatalf("a side of %v ft at a spacing of %v", l.LongestFt(), spacing)
	}
	at := 0
	for _, r := range l.Outline {
		inside := 0.0
		for ; at < len(l.Panels) && inside < r.W*r.H*(1-1e-9); at++ {
			p := l.Panels[at]
			inside += p.W * p.H
			if ratio := max(p.W, p.H) / min(p.W, p.H); min(r.W, r.H) >= NarrowFt && ratio > AspectLimitLoose+1e-9 {
				t.Fatalf("a panel of %v × %v ft in %v × %v at %v", p.W, p.H, r.W, r.H, spacing)
			}
		}
	}
}

// Every panel's inner edge lies on a cut: the sum of the panels' perimeters is
// that of the outline's rectangles with each cut inside one counted twice.
func TestCutsAreThePanelsEdges(t *testing.T) {
	l, err := PanelsOfL(40, 30, 15, 12, 10)
	if err != nil {
		t.Fatal(err)
	}
	edges, outline := 0.0, 0.0
	for _, p := range l.Panels {
		edges += 2 * (p.W + p.H)
	}
	for _, r := range l.Outline {
		outline += 2 * (r.W + r.H)
	}
	if inner := l.CutFt() - l.Cuts[0].Length(); !alike(edges, outline+2*inner) {
		t.Errorf("edges %v, outline %v, cuts within %v", edges, outline, inner)
	}
	if c := l.Cuts[0]; !(c.X2 == 25 && c.Y2 == 18) {
		t.Errorf("the first cut %+v does not meet the inside corner at 25, 18", c)
	}
}

// A joint that ends at another one goes on as a crack: where a grid runs
// through, every joint ends at an edge of the slab. Most Ls have such a grid.
func TestJointsOfAnLRunThrough(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 7))
	grids, all := 0, 0
	for range 2000 {
		between := func(low, high float64) float64 { return low + (high-low)*random.Float64() }
		length, width := between(12, 80), between(12, 60)
		a, b := length*between(.25, .75), width*between(.25, .75)
		l, err := PanelsOfL(length, width, a, b, between(6, 15))
		if err != nil {
			t.Fatal(err)
		}
		all++
		if !l.Through {
			continue
		}
		grids++
		left, low := length-a, width-b
		edge := func(x, y float64) bool {
			on := func(u, v float64) bool { return math.Abs(u-v) < 1e-9 }
			return on(x, 0) || on(y, 0) || on(x, length) || on(y, width) || on(x, left) && y >= low-1e-9 || on(y, low) && x >= left-1e-9
		}
		for _, c := range l.Cuts {
			if !edge(c.X1, c.Y1) || !edge(c.X2, c.Y2) {
				t.Fatalf("L %v × %v less %v × %v: the joint %+v ends inside the slab", length, width, a, b, c)
			}
		}
	}
	if share := float64(grids) / float64(all); share < 0.5 {
		t.Errorf("%.2f of the Ls have joints that run through: want most", share)
	} else {
		t.Logf("%.2f of the Ls have joints that run through", share)
	}
}

// 44 × 24 ft less 12 × 8, joints 10 ft apart at most, by hand: columns 32/4 = 8
// and 12/2 = 6, rows 16/2 = 8 and 8/1 = 8: 4·2 + 2·2 + 4·1 = 16 panels, the
// worst 8 by 6.
func TestAnLByHand(t *testing.T) {
	l, err := PanelsOfL(44, 24, 12, 8, 10)
	if err != nil {
		t.Fatal(err)
	}
	if !l.Through || len(l.Panels) != 16 || !alike(l.Ratio(), 8./6) {
		t.Errorf("through %v, %d panels, worst ratio %v", l.Through, len(l.Panels), l.Ratio())
	}
	// Joints: upright at 8, 16, 24 for 24 ft, at 32 for 16 (the corner), at 38 for
	// 16; level at 8 for 44 ft, at 16 for 32 (the corner).
	if want := 3*24. + 16 + 16 + 44 + 32; !alike(l.CutFt(), want) {
		t.Errorf("%v ft of joints, want %v", l.CutFt(), want)
	}
}

func TestPanelsRefuseWhatIsNoSlab(t *testing.T) {
	for _, c := range [][3]float64{{-1, 10, 10}, {10, math.NaN(), 10}, {10, 10, 30}, {10, 10, 0.2}, {1e9, 10, 10}} {
		if _, err := Panels(c[0], c[1], c[2]); err == nil {
			t.Errorf("%v: want an error", c)
		}
	}
	if _, err := PanelsOfL(10, 10, 10, 3, 10); err == nil {
		t.Error("a notch as long as the slab: want an error")
	}
}

func alike(a, b float64) bool { return math.Abs(a-b) < 1e-9 }
