package shape

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

// star draws an outline of 3 to 12 corners around a point, some sides of it arcs.
func star(t *rapid.T, arcs bool) Outline {
	n := rapid.IntRange(3, 12).Draw(t, "corners")
	var o Outline
	for i := range n {
		angle := 2 * math.Pi * (float64(i) + rapid.Float64Range(0.1, 0.9).Draw(t, "angle")) / float64(n)
		r := rapid.Float64Range(6, 20).Draw(t, "reach")
		o = append(o, Corner{X: r * math.Cos(angle), Y: r * math.Sin(angle)})
	}
	if arcs && rapid.Bool().Draw(t, "an arc") {
		i := rapid.IntRange(0, n-1).Draw(t, "side")
		o[i].Radius = o.chordFt(i) * rapid.Float64Range(0.6, 4).Draw(t, "radius") * rapid.SampledFrom([]float64{1, -1}).Draw(t, "bulge")
	}
	return o
}

func slabOf(t *rapid.T) Slab {
	s := Slab{Outline: star(t, true), ThicknessIn: rapid.Float64Range(3, 8).Draw(t, "thickness")}
	if rapid.Bool().Draw(t, "slope") {
		for range s.Outline {
			s.DepthsIn = append(s.DepthsIn, rapid.Float64Range(3, 10).Draw(t, "depth"))
		}
	}
	if rapid.Bool().Draw(t, "hole") {
		s.Holes = []Outline{Rectangle(1, 1.5).At(-0.5, -0.7)}
	}
	if rapid.Bool().Draw(t, "edge") {
		s.Edge = Edge{WidthIn: rapid.Float64Range(4, 12).Draw(t, "width"), DepthIn: 12, TaperIn: rapid.Float64Range(0, 8).Draw(t, "taper")}
		if rapid.Bool().Draw(t, "some sides") {
			s.Edge.Sides = []int{1, 2}
		}
	}
	return s
}

// TestMovingChangesNothing: moved, turned and mirrored, begun at another corner or
// run the other way around, a slab has the same volume and area.
func TestMovingChangesNothing(t *testing.T) {
	worked := 0
	rapid.Check(t, func(t *rapid.T) {
		s := slabOf(t)
		w, p := s.WorkOut()
		turn, x, y := rapid.Float64Range(0, 7).Draw(t, "turn"), rapid.Float64Range(-900, 900).Draw(t, "x"), rapid.Float64Range(-900, 900).Draw(t, "y")
		mirror := rapid.SampledFrom([]float64{1, -1}).Draw(t, "mirror")
		move := func(o Outline) Outline {
			out := make(Outline, len(o))
			for i, c := range o {
				px, py := c.X*mirror, c.Y
				out[i] = Corner{px*math.Cos(turn) - py*math.Sin(turn) + x, px*math.Sin(turn) + py*math.Cos(turn) + y, c.Radius}
			}
			return out
		}
		moved := s
		moved.Outline, moved.Holes = move(s.Outline), nil
		for _, h := range s.Holes {
			moved.Holes = append(moved.Holes, move(h))
		}
		w2, p2 := moved.WorkOut()
		if (p == nil) != (p2 == nil) {
			t.Fatalf("%v, moved %v", p, p2)
		}
		if p != nil {
			return
		}
		worked++
		if math.Abs(w.Ft3/w2.Ft3-1) > 1e-7 || math.Abs(w.AreaFt2/w2.AreaFt2-1) > 1e-7 {
			t.Fatalf("%v ft³ of %v ft², moved %v of %v", w.Ft3, w.AreaFt2, w2.Ft3, w2.AreaFt2)
		}
		if s.Edge.Sides != nil {
			return
		}
		k := rapid.IntRange(0, len(s.Outline)-1).Draw(t, "first corner")
		begun := s
		begun.Outline = append(append(Outline{}, s.Outline[k:]...), s.Outline[:k]...)
		if s.DepthsIn != nil {
			begun.DepthsIn = append(append([]float64{}, s.DepthsIn[k:]...), s.DepthsIn[:k]...)
		}
		if w3, p := begun.WorkOut(); p != nil || math.Abs(w3.Ft3/w.Ft3-1) > 1e-7 {
			t.Fatalf("%v ft³, begun at corner %d %v (%v)", w.Ft3, k+1, w3.Ft3, p)
		}
	})
	if worked < 30 {
		t.Errorf("only %d slabs could be worked out", worked)
	}
}

// TestSplittingAddsUp: a rectangle cut in two at any place, the depth at the cut
// between those of its ends, has the volume of its parts.
func TestSplittingAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		length, width := rapid.Float64Range(2, 60).Draw(t, "length"), rapid.Float64Range(2, 60).Draw(t, "width")
		at := rapid.Float64Range(0.1, 0.9).Draw(t, "at")
		var d [4]float64
		for i := range d {
			d[i] = rapid.Float64Range(3, 10).Draw(t, "depth")
		}
		low, high := d[0]+(d[1]-d[0])*at, d[3]+(d[2]-d[3])*at
		whole := Slab{Outline: Rectangle(length, width), DepthsIn: d[:]}
		a := Slab{Outline: Rectangle(length*at, width), DepthsIn: []float64{d[0], low, high, d[3]}}
		b := Slab{Outline: Rectangle(length*(1-at), width), DepthsIn: []float64{low, d[1], d[2], high}}
		sum := 0.0
		for _, s := range []Slab{a, b} {
			w, p := s.WorkOut()
			if p != nil {
				t.Fatal(p)
			}
			sum += w.Ft3
		}
		if w, _ := whole.WorkOut(); math.Abs(w.Ft3-sum) > 1e-9*sum {
			t.Fatalf("%v ft³ whole, %v in two", w.Ft3, sum)
		}
	})
}

// TestAPlaneNeedsNoTriangles: where the depths lie in a plane, the triangles come
// to the area times the depth at its centroid, whatever they are.
func TestAPlaneNeedsNoTriangles(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := star(t, false)
		a, b := rapid.Float64Range(-0.1, 0.1).Draw(t, "a"), rapid.Float64Range(-0.1, 0.1).Draw(t, "b")
		s := Slab{Outline: o}
		var x, y, area float64
		for i, c := range o {
			s.DepthsIn = append(s.DepthsIn, 8+a*c.X+b*c.Y)
			d := o.corner(i + 1)
			k := c.X*d.Y - d.X*c.Y
			x, y, area = x+(c.X+d.X)*k, y+(c.Y+d.Y)*k, area+k/2
		}
		want := math.Abs(area) * (8 + a*x/(6*area) + b*y/(6*area)) / 12 // corners may run either way round
		if w, p := s.WorkOut(); p != nil || math.Abs(w.Ft3/want-1) > 1e-9 {
			t.Fatalf("%v ft³, by the centroid %v (%v)", w.Ft3, want, p)
		}
	})
}

// TestVolumesByChance holds volumes against points thrown at the slab: what the
// depth is at each is worked out anew, from distances alone.
func TestVolumesByChance(t *testing.T) {
	plane := func(p Point) float64 { return 6 + 0.1*p.X - 0.05*p.Y }
	ring := Outline{{0, 0, 0}, {24, 0, 20}, {24, 18, 0}, {10, 18, -9}, {0, 8, 0}}
	for name, s := range map[string]Slab{
		"arcs and a hole":      {Outline: ring, ThicknessIn: 5, Holes: []Outline{Circle(3).At(12, 4)}},
		"slope, edge, L":       {Outline: L(24, 18, 9, 7), Edge: Edge{WidthIn: 10, DepthIn: 14, TaperIn: 9}, DepthsIn: depthsOn(L(24, 18, 9, 7), plane)},
		"edge on some sides":   {Outline: T(24, 18, 8, 7), ThicknessIn: 4, Edge: Edge{WidthIn: 14, DepthIn: 12, TaperIn: 6, Sides: []int{2, 3, 5}}},
		"edge along an arc":    {Outline: ring, ThicknessIn: 4, Edge: Edge{WidthIn: 12, DepthIn: 10, TaperIn: 6, Sides: []int{2}}},
		"edge square, U":       {Outline: U(24, 18, 9, 7), ThicknessIn: 4, Edge: Edge{WidthIn: 9, DepthIn: 16}},
		"slanted, edge, slope": {Outline: Outline{{0, 0, 0}, {20, 2, 0}, {17, 15, 0}, {-3, 11, 0}}, DepthsIn: depthsOn(Outline{{0, 0, 0}, {20, 2, 0}, {17, 15, 0}, {-3, 11, 0}}, plane), Edge: Edge{WidthIn: 12, DepthIn: 12}},
	} {
		w, p := s.WorkOut()
		if p != nil {
			t.Errorf("%s: %v", name, p)
			continue
		}
		got, sd := thrown(s, plane)
		if math.Abs(w.Ft3-got) > 4*sd {
			t.Errorf("%s: %v ft³, by chance %v ± %v", name, w.Ft3, got, sd)
		}
	}
}

func depthsOn(o Outline, plane func(Point) float64) []float64 {
	out := make([]float64, len(o))
	for i, c := range o {
		out[i] = plane(c.at())
	}
	return out
}

// thrown is the volume by points thrown at random, with its standard error.
func thrown(s Slab, plane func(Point) float64) (ft3, sd float64) {
	const n = 100_000
	rng := rand.New(rand.NewPCG(4, 4))
	low, high := s.Outline.Bounds()
	box := (high.X - low.X) * (high.Y - low.Y)
	rim := s.Outline.Fine(0.03)
	points := make([]Point, len(rim))
	for i := range rim {
		points[i] = rim[i].From
	}
	sum, squares := 0.0, 0.0
	for range n {
		p := Point{low.X + rng.Float64()*(high.X-low.X), low.Y + rng.Float64()*(high.Y-low.Y)}
		d := 0.0
		if inside(points, p) {
			d = s.ThicknessIn
			if s.DepthsIn != nil {
				d = plane(p)
			}
			if s.Edge.WidthIn > 0 {
				d += (s.Edge.DepthIn - d) * edgeShare(&s, rim, p)
			}
		}
		for _, h := range s.Holes {
			if h.Inside(p) {
				d = 0
			}
		}
		sum, squares = sum+d/12, squares+d*d/144
	}
	mean := sum / n
	return mean * box, box * math.Sqrt((squares/n-mean*mean)/n)
}

// edgeShare is how much of the way down to the edge's depth a point is: 1 under
// the edge, less on its taper.
func edgeShare(s *Slab, rim []Stretch, p Point) float64 {
	distance := math.Inf(1)
	for i, st := range rim {
		chosen := len(s.Edge.Sides) == 0
		for _, n := range s.Edge.Sides {
			chosen = chosen || n == st.Side+1
		}
		if a, b := st.From, rim[(i+1)%len(rim)].From; chosen {
			u := b.minus(a).times(1 / a.distance(b))
			along, across := p.minus(a).dot(u), u.cross(p.minus(a))
			const slack = 1.6 // past its ends a stretch counts as far as the miter goes
			if across >= 0 && along >= -math.Min(slack, across+1e-3) && along <= a.distance(b)+math.Min(slack, across+1e-3) {
				distance = min(distance, across)
			}
		}
	}
	w, t := s.Edge.WidthIn/12, s.Edge.TaperIn/12
	switch {
	case distance <= w:
		return 1
	case distance < w+t:
		return (w + t - distance) / t
	}
	return 0
}
