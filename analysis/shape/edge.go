package shape

import (
	"math"
	"slices"
)

// fineStep is how fine arcs are taken along a thickened edge, in radians: the
// volume is then good to two parts in a million.
const fineStep = 2 * math.Pi / 2048

// edges are the pieces of a thickened edge, side by side, and its taper. Where two
// thickened sides meet the corner is shared between them along the miter, and so
// counted once.
func (s *Slab) edges() ([]Piece, *Problem) {
	e := s.Edge
	if e.WidthIn == 0 && e.DepthIn == 0 && e.TaperIn == 0 && len(e.Sides) == 0 {
		return nil, nil
	}
	if !(e.WidthIn > 0) || e.TaperIn < 0 {
		return nil, &Problem{What: EdgeNarrow, Value: e.WidthIn}
	}
	chosen := make([]bool, len(s.Outline))
	for _, n := range e.Sides {
		if n < 1 || n > len(s.Outline) {
			return nil, &Problem{What: EdgeNoSide, Value: float64(n), Limit: float64(len(s.Outline))}
		}
		chosen[n-1] = true
	}
	if len(e.Sides) == 0 {
		for i := range chosen {
			chosen[i] = true
		}
	}
	if p := s.checkEdge(chosen); p != nil {
		return nil, p
	}
	fine := s.Outline.Fine(fineStep)
	var square, taper []Piece
	for side := range s.Outline {
		if !chosen[side] {
			continue
		}
		flat := edgeStrips(fine, chosen, 0, e.WidthIn/12, side)
		ft2, ft3 := s.deeper(flat, func(Point, strip) float64 { return 1 })
		square = append(square, Piece{Kind: OfEdge, Side: side + 1, Sizes: []float64{ft2 / (e.WidthIn / 12), e.WidthIn, 12 * ft3 / ft2}, Ft3: ft3})
		if e.TaperIn > 0 {
			slope := edgeStrips(fine, chosen, e.WidthIn/12, (e.WidthIn+e.TaperIn)/12, side)
			ft2, _ := s.deeper(slope, func(Point, strip) float64 { return 1 })
			_, ft3 := s.deeper(slope, func(p Point, t strip) float64 { return (t.to - t.distance(p)) / (t.to - t.from) })
			p := Piece{Kind: OfTaper, Side: side + 1, Sizes: []float64{ft2 / (e.TaperIn / 12), e.TaperIn, 2 * 12 * ft3 / ft2}, Ft3: ft3}
			if s.level() {
				outer, inner := lengthOf(slope)
				p.Kind, p.Sizes = OfWedge, []float64{outer, inner, e.TaperIn, e.DepthIn - s.depth(0)}
			}
			taper = append(taper, p)
		}
	}
	return append(square, taper...), nil
}

// checkEdge finds a thickened edge that is no deeper than the slab, that meets
// another or runs past the slab.
func (s *Slab) checkEdge(chosen []bool) *Problem {
	e := s.Edge
	for i := range s.Outline {
		if !chosen[i] {
			continue
		}
		if beside := max(s.depth(i), s.depth(i+1)); !(e.DepthIn > beside) && !(e.DepthIn == beside && !s.level()) {
			return &Problem{What: EdgeShallow, Side: i + 1, Value: e.DepthIn, Limit: beside}
		}
		if s.Outline[i].Radius != 0 && !s.level() {
			return &Problem{What: EdgeOfArc, Side: i + 1}
		}
	}
	coarse := s.Outline.Fine(drawnStep)
	all := edgeStrips(coarse, chosen, 0, (e.WidthIn+e.TaperIn)/12, -1)
	rim := s.Outline.Points()
	for i, t := range all {
		if t.crooked() || !within(rim, t.ring) {
			return &Problem{What: EdgeWide, Side: t.side + 1}
		}
		for _, u := range all[i+1:] {
			if abs(signedArea(clip(t.ring, u.ring))) > 1e-6 {
				return &Problem{What: EdgeWide, Side: t.side + 1, Other: u.side + 1}
			}
		}
		for k, h := range s.Holes {
			if abs(signedArea(clip(h.Points(), t.ring))) > 1e-9 {
				return &Problem{What: EdgeInHole, Side: t.side + 1, Hole: k + 1}
			}
		}
		if !s.level() && s.shallow(t) {
			return &Problem{What: EdgeShallow, Side: t.side + 1, Value: e.DepthIn, Limit: slices.Max(s.DepthsIn)}
		}
	}
	return nil
}

// shallow says whether the slab is anywhere deeper than the edge under a strip.
func (s *Slab) shallow(t strip) bool {
	for _, f := range s.facets() {
		for _, p := range clip(t.ring, f.at[:]) {
			if f.depthAt(p) > s.Edge.DepthIn+1e-6 {
				return true
			}
		}
	}
	return false
}

// deeper is the area of strips, and the volume by which the edge goes below the
// slab there, times a factor that is even over each.
func (s *Slab) deeper(strips []strip, factor func(Point, strip) float64) (ft2, ft3 float64) {
	var facets []facet
	if !s.level() {
		facets = s.facets()
	}
	for _, t := range strips {
		ft2 += abs(signedArea(t.ring))
		if facets == nil {
			ft3 += (s.Edge.DepthIn - s.depth(0)) / 12 * integral(t.ring, func(p Point) float64 { return factor(p, t) })
		}
		for _, f := range facets {
			ft3 += f.weight / 12 * integral(clip(t.ring, f.at[:]), func(p Point) float64 { return (s.Edge.DepthIn - f.depthAt(p)) * factor(p, t) })
		}
	}
	return ft2, ft3
}

// strip is what lies between two distances from a stretch of the outline, in ft.
type strip struct {
	side     int
	ring     []Point // counter-clockwise, the outer line first
	a, u     Point   // the stretch's beginning and its direction
	from, to float64
}

func (t strip) distance(p Point) float64 { return t.u.cross(p.minus(t.a)) }

// lengthOf is how long strips are together along their outer and their inner line.
func lengthOf(strips []strip) (outer, inner float64) {
	for _, t := range strips {
		outer += t.ring[0].distance(t.ring[1])
		inner += t.ring[3].distance(t.ring[2])
	}
	return outer, inner
}

// crooked says whether a strip is so deep that its inner line runs backwards.
func (t strip) crooked() bool {
	return t.ring[2].minus(t.ring[3]).dot(t.u) < -1e-9 || t.ring[1].minus(t.ring[0]).dot(t.u) < -1e-9
}

// within says whether a polygon's corners lie in a ring or on it, as seen from a
// little inside.
func within(rim, ring []Point) bool {
	var middle Point
	for _, p := range ring {
		middle = middle.plus(p.times(1 / float64(len(ring))))
	}
	for _, p := range ring {
		if !inside(rim, p.plus(middle.minus(p).times(1e-6))) {
			return false
		}
	}
	return true
}

// edgeStrips are the strips of a side, or of all where side is below 0, between two
// distances. A strip ends at the miter where the next stretch is thickened too;
// else along that stretch, or square where the outline turns inward there.
func edgeStrips(fine []Stretch, chosen []bool, from, to float64, side int) []strip {
	var out []strip
	n := len(fine)
	for i, st := range fine {
		if !chosen[st.Side] || side >= 0 && st.Side != side {
			continue
		}
		before, after := fine[(i+n-1)%n], fine[(i+1)%n]
		a, b := st.From, after.From
		u := b.minus(a).times(1 / a.distance(b))
		u0 := a.minus(before.From).times(1 / a.distance(before.From))
		c := fine[(i+2)%n].From
		u1 := c.minus(b).times(1 / c.distance(b))
		start := func(d float64) Point { return end(a, u, u0, d, chosen[before.Side], u0.cross(u)) }
		stop := func(d float64) Point { return end(b, u, u1, d, chosen[after.Side], u.cross(u1)) }
		out = append(out, strip{side: st.Side, ring: []Point{start(from), stop(from), stop(to), start(to)}, a: a, u: u, from: from, to: to})
	}
	return out
}

// end is where the line at distance d inside a stretch of direction u ends at its
// corner, the stretch beyond which runs along v: at the miter where that is
// thickened too, else on that stretch itself.
func end(corner, u, v Point, d float64, both bool, turns float64) Point {
	square := corner.plus(u.left().times(d))
	if abs(turns) < 1e-9 || !both && turns < 0 {
		return square
	}
	other := corner
	if both {
		other = corner.plus(v.left().times(d))
	}
	// square + k·u lies on the line through other along v.
	k := other.minus(square).cross(v) / u.cross(v)
	return square.plus(u.times(k))
}
