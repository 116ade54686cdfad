package shape

import (
	"math"
	"testing"
)

// Circle is one of diameterFt, its lower left bounds at the origin.
func Circle(diameterFt float64) Outline {
	r := diameterFt / 2
	return Outline{{0, r, r}, {diameterFt, r, r}}
}

// T is a bar lengthFt × barFt with a leg legFt wide from the middle of its lower
// side, widthFt over all.
func T(lengthFt, widthFt, barFt, legFt float64) Outline {
	left, low := (lengthFt-legFt)/2, widthFt-barFt
	return Outline{{left, 0, 0}, {left + legFt, 0, 0}, {left + legFt, low, 0}, {lengthFt, low, 0},
		{lengthFt, widthFt, 0}, {0, widthFt, 0}, {0, low, 0}, {left, low, 0}}
}

// U is lengthFt × widthFt less a bay from the middle of its upper side.
func U(lengthFt, widthFt, bayLengthFt, bayWidthFt float64) Outline {
	left, low := (lengthFt-bayLengthFt)/2, widthFt-bayWidthFt
	return Outline{{0, 0, 0}, {lengthFt, 0, 0}, {lengthFt, widthFt, 0}, {left + bayLengthFt, widthFt, 0},
		{left + bayLengthFt, low, 0}, {left, low, 0}, {left, widthFt, 0}, {0, widthFt, 0}}
}

// Published volumes, in yd³: 324 ft² of an inch are a yard, 81 ft² at 4 in the
// handbook's; the others by arithmetic.
func TestPublishedVolumes(t *testing.T) {
	for _, c := range []struct{ length, width, thickness, yd float64 }{{9, 9, 4, 1}, {40, 20, 4, 9.877}, {10, 10, 3.5, 1.080}, {50, 30, 6, 27.778}, {36, 24, 5, 13.333}} {
		w, p := (&Slab{Outline: Rectangle(c.length, c.width), ThicknessIn: c.thickness}).WorkOut()
		if p != nil || math.Abs(w.Yd3()-c.yd) > 5e-4 {
			t.Errorf("%+v: %v yd³ (%v)", c, w.Yd3(), p)
		}
	}
}

// Each case is worked by hand, step by step, in ft³.
func TestVolumesByHand(t *testing.T) {
	walk := Outline{{0, 12, 12}, {12, 0, 0}, {12, 4, -8}, {4, 12, 0}} // a quarter ring: radii 12 and 8 about (12, 12)
	for _, c := range []struct {
		name string
		slab Slab
		ft3  float64
		ft2  float64
	}{
		// 40 × 24 = 960 ft² × 5/12 ft.
		{"driveway", Slab{Outline: Rectangle(40, 24), ThicknessIn: 5}, 400, 960},
		// 20·16 − 8·6 = 272 ft² × 4/12.
		{"L", Slab{Outline: L(20, 16, 8, 6), ThicknessIn: 4}, 272. / 3, 272},
		// bar 20 × 6 = 120, leg 8 × 10 = 80: 200 ft² × 4/12.
		{"T", Slab{Outline: T(20, 16, 6, 8), ThicknessIn: 4}, 200. / 3, 200},
		// 20 × 16 − 8 × 10 = 240 ft² × 6/12.
		{"U", Slab{Outline: U(20, 16, 8, 10), ThicknessIn: 6}, 120, 240},
		// π·15² − π·2² = 221π ft² × 4/12.
		{"circle less its hole", Slab{Outline: Circle(30), Holes: []Outline{Circle(4).At(13, 13)}, ThicknessIn: 4}, 221 * math.Pi / 3, 221 * math.Pi},
		// (12 + 8)/2 · π/2 · 4 = 20π ft² × 4/12.
		{"curved walk", Slab{Outline: walk, ThicknessIn: 4}, 20 * math.Pi / 3, 20 * math.Pi},
		// 20 × 10 and half a circle of radius 5 on one end: 200 + 12.5π.
		{"rounded end", Slab{Outline: Outline{{0, 0, 0}, {20, 0, 5}, {20, 10, 0}, {0, 10, 0}}, ThicknessIn: 6}, (200 + 12.5*math.Pi) / 2, 200 + 12.5*math.Pi},
		// 20 × 20 × mean (4 + 4 + 10 + 10)/4 = 7 in.
		{"slope of 6 in", Slab{Outline: Rectangle(20, 20), DepthsIn: []float64{4, 4, 10, 10}}, 400 * 7. / 12, 400},
		// A right triangle 12 × 9, depths 4, 6, 8: 54 ft² × 6/12.
		{"triangle", Slab{Outline: Outline{{0, 0, 0}, {12, 0, 0}, {0, 9, 0}}, DepthsIn: []float64{4, 6, 8}}, 27, 54},
		// 20² − 18² = 76 ft² of edge, 8 in deeper than 4: 400/3 + 76·8/12.
		{"thick edge all around", Slab{Outline: Rectangle(20, 20), ThicknessIn: 4, Edge: Edge{WidthIn: 12, DepthIn: 12}}, 400./3 + 76*8./12, 400},
		// Sides 1 and 2 alone: 20 + 19 = 39 ft².
		{"thick edge on two sides", Slab{Outline: Rectangle(20, 20), ThicknessIn: 4, Edge: Edge{WidthIn: 12, DepthIn: 12, Sides: []int{1, 2}}}, 400./3 + 39*8./12, 400},
		// One side, square to the slab: 20 × 1 ft, 8 in deeper, and a taper of 12 in:
		// half of 20 × 1 × 8/12.
		{"tapered", Slab{Outline: Rectangle(20, 20), ThicknessIn: 4, Edge: Edge{WidthIn: 12, DepthIn: 12, TaperIn: 12, Sides: []int{1}}}, 400./3 + 20*8./12*1.5, 400},
		// The taper all around, 12 in wide inside 18 × 18: rings of side 18 − 2s, so
		// ∫ 4(18 − 2s)(1 − s)·8/12 ds from 0 to 1 = 4·8/12·(18 − 9 − 1 + 2/3) = 208/9.
		{"tapered all around", Slab{Outline: Rectangle(20, 20), ThicknessIn: 4, Edge: Edge{WidthIn: 12, DepthIn: 12, TaperIn: 12}}, 400./3 + 76*8./12 + 208./9, 400},
		// The slope with the edge: low and high sides 20 × 1 ft (to the corners), the
		// other two 18 × 1. The depth along y is 4 + 6y/20, at y = .5 4.15, at 19.5
		// 9.85, its mean along 1 to 19 is 7: 20·(12 − 4.15) + 20·(12 − 9.85) + 36·(12 − 7), all /12.
		{"slope with a thick edge", Slab{Outline: Rectangle(20, 20), DepthsIn: []float64{4, 4, 10, 10}, Edge: Edge{WidthIn: 12, DepthIn: 12}},
			400*7./12 + (20*7.85+20*2.15+36*5)/12, 400},
		// π(15² − 14²) = 29π ft² of edge, 8 in deeper.
		{"thick edge of a circle", Slab{Outline: Circle(30), ThicknessIn: 4, Edge: Edge{WidthIn: 12, DepthIn: 12}}, math.Pi*75 + 29*math.Pi*8/12, 225 * math.Pi},
		// An L's edge meets its inside corner in a miter: 20 × 16 less 8 × 6, its
		// inside 1 ft in is 18 × 14 less 8 × 6: (320 − 48) − (252 − 48) = 68 ft².
		{"thick edge of an L", Slab{Outline: L(20, 16, 8, 6), ThicknessIn: 4, Edge: Edge{WidthIn: 12, DepthIn: 12}}, 272./3 + 68*8./12, 272},
		// (1 + 2 + 3 + 4) × 7 × 12 in = 840 in² × 4 ft.
		{"four solid steps", Slab{Steps: Steps{Risers: 4, RiseIn: 7, TreadIn: 12, WidthFt: 4, Solid: true}}, 840. / 144 * 4, 16},
		// On fill, 5 in rise and 12 in tread: slope 13 in. 3·13·4 + 3·5·12/2 = 246 in² × 6 ft.
		{"steps on fill", Slab{Steps: Steps{Risers: 3, RiseIn: 5, TreadIn: 12, WidthFt: 6, WaistIn: 4}}, 246. / 144 * 6, 18},
		// 30 ft of 6 × 6 in on 30 × 10 × 4 in: 100 + 7.5.
		{"curb", Slab{Outline: Rectangle(30, 10), ThicknessIn: 4, Curb: Curb{30, 6, 6}}, 107.5, 300},
		// A hole 2 × 2 in the middle of the slope, under which it is 7 in.
		{"hole in a slope", Slab{Outline: Rectangle(20, 20), DepthsIn: []float64{4, 4, 10, 10}, Holes: []Outline{Rectangle(2, 2).At(9, 9)}}, 396 * 7. / 12, 396},
		// The same at the low side, y from 16 to 18, under which it is 4 + 6·17/20 = 9.1.
		{"hole where it is deep", Slab{Outline: Rectangle(20, 20), DepthsIn: []float64{4, 4, 10, 10}, Holes: []Outline{Rectangle(2, 2).At(9, 16)}}, (400*7 - 4*9.1) / 12, 396},
	} {
		w, p := c.slab.WorkOut()
		if p != nil {
			t.Errorf("%s: %v", c.name, p)
			continue
		}
		if math.Abs(w.Ft3/c.ft3-1) > 3e-6 || math.Abs(w.AreaFt2/c.ft2-1) > 1e-9 {
			t.Errorf("%s: %.6f ft³ of %.6f ft², want %.6f of %.6f", c.name, w.Ft3, w.AreaFt2, c.ft3, c.ft2)
		}
		for _, piece := range w.Pieces {
			if got := pencil(piece); math.Abs(got-piece.Ft3) > 3e-6*math.Abs(piece.Ft3) {
				t.Errorf("%s: %+v comes to %v by its own sizes", c.name, piece, got)
			}
		}
	}
}

// pencil works a piece out from the sizes that are shown of it.
func pencil(p Piece) float64 {
	s, v := p.Sizes, 0.0
	n := float64(p.Count)
	switch p.Kind {
	case OfRectangle, OfBand:
		v = s[0] * s[1] * s[2] / 12
	case OfTriangle:
		v = s[0] * s[1] / 2 * s[2] / 12
	case OfCircle:
		v = math.Pi * s[0] * s[0] * s[1] / 12
	case OfBulge:
		angle := 2 * math.Asin(s[1]/2/s[0])
		v = s[0] * s[0] / 2 * (angle - math.Sin(angle)) * s[3] / 12
	case OfArea:
		v = s[0] * s[1] / 12
	case OfEdge:
		v = s[0] * s[1] * s[2] / 144
	case OfTaper:
		v = s[0] * s[1] * s[2] / 144 / 2
	case OfWedge:
		v = (s[0]/3 + s[1]/6) * s[2] * s[3] / 144
	case OfSteps:
		v = n * (n + 1) / 2 * s[1] * s[2] / 144 * s[0]
	case OfWaist:
		v = n * math.Hypot(s[1], s[2]) * s[3] / 144 * s[0]
	case OfRisers:
		v = n * s[1] * s[2] / 2 / 144 * s[0]
	case OfCurb:
		v = s[0] * s[1] * s[2] / 144
	}
	if p.Half {
		v /= 2
	}
	if p.Hole > 0 || p.Ft3 < 0 {
		v = -v
	}
	return v
}

// TestWhatIsNoShape: each piece that is wrong is named.
func TestWhatIsNoShape(t *testing.T) {
	bow := Outline{{0, 0, 0}, {10, 10, 0}, {10, 0, 0}, {0, 10, 0}}
	for _, c := range []struct {
		slab Slab
		want Problem
	}{
		{Slab{Outline: bow, ThicknessIn: 4}, Problem{What: Crosses, Side: 1, Other: 3}},
		{Slab{Outline: Outline{{0, 0, 0}, {10, 0, 0}}, ThicknessIn: 4}, Problem{What: FewCorners, Value: 2, Limit: 3}},
		{Slab{Outline: Outline{{0, 0, 0}, {10, 0, 4}, {10, 10, 0}}, ThicknessIn: 4}, Problem{What: ArcShort, Side: 2, Value: 4, Limit: 5}},
		{Slab{Outline: Outline{{0, 0, 0}, {10, 0, 0}, {10, 0, 0}, {0, 10, 0}}, ThicknessIn: 4}, Problem{What: NoSide, Side: 2}},
		{Slab{Outline: Outline{{0, 0, 0}, {10, 0, 0}, {20, 0, 0}}, ThicknessIn: 4}, Problem{What: Crosses, Side: 2, Other: 3}},
		{Slab{Outline: Rectangle(10, 10), ThicknessIn: 4, Holes: []Outline{Circle(4).At(8, 3)}}, Problem{What: HoleOutside, Hole: 1}},
		{Slab{Outline: Rectangle(10, 10), ThicknessIn: 4, Holes: []Outline{Rectangle(2, 2).At(20, 3)}}, Problem{What: HoleOutside, Hole: 1}},
		{Slab{Outline: Rectangle(10, 10), ThicknessIn: 4, Holes: []Outline{Rectangle(4, 4).At(3, 3), Rectangle(1, 1).At(4, 4)}}, Problem{What: HolesMeet, Hole: 2, Other: 1}},
		{Slab{Outline: Rectangle(10, 10), DepthsIn: []float64{4, 4, 0, 4}}, Problem{What: NoDepth, Corner: 3}},
		{Slab{Outline: Rectangle(10, 10), DepthsIn: []float64{4, 4, 4}}, Problem{What: DepthCount, Value: 3, Limit: 4}},
		{Slab{Outline: Rectangle(10, 10)}, Problem{What: NoDepth}},
		{Slab{Outline: Rectangle(10, 10), ThicknessIn: 4, Edge: Edge{WidthIn: 12, DepthIn: 4}}, Problem{What: EdgeShallow, Side: 1, Value: 4, Limit: 4}},
		{Slab{Outline: Rectangle(10, 10), ThicknessIn: 4, Edge: Edge{DepthIn: 12}}, Problem{What: EdgeNarrow}},
		{Slab{Outline: Rectangle(10, 3), ThicknessIn: 4, Edge: Edge{WidthIn: 20, DepthIn: 12, Sides: []int{1, 3}}}, Problem{What: EdgeWide, Side: 1, Other: 3}},
		{Slab{Outline: Rectangle(10, 10), ThicknessIn: 4, Edge: Edge{WidthIn: 12, DepthIn: 12, Sides: []int{5}}}, Problem{What: EdgeNoSide, Value: 5, Limit: 4}},
		{Slab{Outline: Rectangle(10, 10), ThicknessIn: 4, Edge: Edge{WidthIn: 12, DepthIn: 12}, Holes: []Outline{Rectangle(1, 1).At(0.5, 5)}}, Problem{What: EdgeInHole, Side: 4, Hole: 1}},
		{Slab{Steps: Steps{Risers: 3}}, Problem{What: NoSteps}},
		{Slab{Steps: Steps{Risers: 3, RiseIn: 7, TreadIn: 11, WidthFt: 4}}, Problem{What: ThickerWaist}},
		{Slab{Outline: Rectangle(10, 10), ThicknessIn: 4, Curb: Curb{LengthFt: 10}}, Problem{What: NoCurb}},
	} {
		w, p := c.slab.WorkOut()
		if p == nil || *p != c.want {
			t.Errorf("%+v: %v, want %+v", c.slab, p, c.want)
		}
		if w.Ft3 != 0 || len(w.Pieces) != 0 {
			t.Errorf("%+v: something was kept: %+v", c.slab, w)
		}
	}
}
