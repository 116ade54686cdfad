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

// By hand: a rectangle's joints all cross or end at an edge. In an L of 42 × 30
// less 18 × 14 ft at 8 ft the lower 42 ft have five joints upward, at 7 to 35 ft,
// three of them below the joint of 24 ft; the upper 24 ft have two, at 8 and 16:
// five joints end at that one, none in line with another. In an L of 40 × 40 less
// 20 × 20 ft at 10 ft they are all in line, and the corner's own runs on.
func TestTsByHand(t *testing.T) {
	for _, c := range []struct {
		length, width, notchLength, notchWidth, spacing float64
		want                                            int
	}{{40, 20, 0, 0, 10, 0}, {42, 30, 18, 14, 8, 5}, {40, 40, 20, 20, 10, 0}} {
		l, err := Panels(c.length, c.width, c.spacing)
		if c.notchLength > 0 {
			l, err = PanelsOfL(c.length, c.width, c.notchLength, c.notchWidth, c.spacing)
		}
		if err != nil || l.Ts() != c.want {
			t.Errorf("%+v: %d Ts, %v", c, l.Ts(), err)
		}
	}
}
