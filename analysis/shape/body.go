package shape

import (
	"math"
	"slices"
)

// body are the pieces of the slab itself: a rectangle, a circle or a band as
// such, an outline of right corners as rectangles, and any other as triangles
// between its corners. Over a triangle the depth is even from corner to corner,
// so that its mean is that of the three (the prismoid); a quadrilateral is cut by
// either diagonal and counted half each time, for neither has a right to be the
// one. Along an arc the depth is the mean of its two corners.
func (s *Slab) body() []Piece {
	o := s.Outline
	if a, b, ok := o.IsRectangle(); ok {
		d := s.depths(0, 1, 2, 3)
		return []Piece{{Kind: OfRectangle, Sizes: []float64{a, b, mean(d)}, DepthsIn: d, Ft3: a * b * mean(d) / 12}}
	}
	if s.level() {
		if pieces := s.plain(); pieces != nil {
			return pieces
		}
	}
	var pieces []Piece
	for _, f := range s.facets() {
		d := s.depths(f.corners[:]...)
		base, height := f.baseHeight()
		p := Piece{Kind: OfTriangle, Corners: []int{f.corners[0] + 1, f.corners[1] + 1, f.corners[2] + 1}, Half: f.weight < 1,
			Sizes: []float64{base, height, mean(d)}, DepthsIn: d, Ft3: f.weight * f.areaFt2() * mean(d) / 12}
		pieces = append(pieces, p)
	}
	return append(pieces, s.bulges()...)
}

// plain are the pieces of an even depth that need no triangles, nil where there
// are none.
func (s *Slab) plain() []Piece {
	o, d := s.Outline, s.depth(0)
	if _, r, ok := o.IsCircle(); ok {
		return []Piece{{Kind: OfCircle, Sizes: []float64{r, d}, Ft3: math.Pi * r * r * d / 12}}
	}
	var pieces []Piece
	if band, ok := o.Band(); ok && !o.straight() {
		for _, sec := range band.Sections {
			pieces = append(pieces, Piece{Kind: OfBand, Side: sec.Side + 1, Sizes: []float64{sec.LengthFt, band.WidthFt, d}, Ft3: sec.LengthFt * band.WidthFt * d / 12})
		}
		return pieces
	}
	for _, r := range o.rectangles() {
		pieces = append(pieces, Piece{Kind: OfRectangle, Sizes: []float64{r.W, r.H, d}, Ft3: r.W * r.H * d / 12})
	}
	return pieces
}

// bulges are the circular segments along the sides that are arcs.
func (s *Slab) bulges() []Piece {
	var pieces []Piece
	for i, c := range s.Outline {
		if c.Radius != 0 {
			d, ft2 := s.depths(i, i+1), s.Outline.segmentFt2(i)
			pieces = append(pieces, Piece{Kind: OfBulge, Side: i + 1, Sizes: []float64{abs(c.Radius), s.Outline.chordFt(i), abs(ft2), mean(d)}, DepthsIn: d, Ft3: ft2 * mean(d) / 12})
		}
	}
	return pieces
}

// hole is what a hole takes away.
func (s *Slab) hole(k int, h Outline) Piece {
	d := s.meanDepth(h)
	p := Piece{Kind: OfArea, Hole: k + 1, Sizes: []float64{h.AreaFt2(), d}, Ft3: -h.AreaFt2() * d / 12}
	if _, r, ok := h.IsCircle(); ok {
		p.Kind, p.Sizes = OfCircle, []float64{r, d}
	} else if a, b, ok := h.IsRectangle(); ok {
		p.Kind, p.Sizes = OfRectangle, []float64{a, b, d}
	}
	return p
}

// meanDepth is the mean depth of the slab under a hole.
func (s *Slab) meanDepth(h Outline) float64 {
	if s.level() {
		return s.depth(0)
	}
	ring, facets := h.Points(), s.facets()
	sum, area := 0.0, 0.0
	for _, t := range ears(ring) {
		hole := []Point{ring[t[0]], ring[t[1]], ring[t[2]]}
		for _, f := range facets {
			part := clip(hole, f.at[:])
			sum += f.weight * integral(part, f.depthAt)
			area += f.weight * abs(signedArea(part))
		}
	}
	if area == 0 { // under an arc's bulge alone
		return mean(s.DepthsIn)
	}
	return sum / area
}

// rectangles cut an outline whose sides all run along its first or square to it
// into rectangles side by side, their sizes in ft; nil for any other.
func (o Outline) rectangles() []Rect {
	if !o.straight() {
		return nil
	}
	a, b := o.chord(0)
	u := b.minus(a).times(1 / a.distance(b))
	turned := make([]Point, len(o))
	for i, c := range o {
		p := c.at().minus(a)
		turned[i] = Point{p.dot(u), u.cross(p)}
	}
	return Rectangles(turned)
}

// Rect is a rectangle by its lower left corner.
type Rect struct{ X, Y, W, H float64 }

// Rectangles cut a ring of level and upright sides at each of its corners, nil
// where it has others.
func Rectangles(ring []Point) []Rect {
	for i := range ring {
		if d := ring[(i+1)%len(ring)].minus(ring[i]); min(abs(d.X), abs(d.Y)) > 1e-9*d.length() {
			return nil
		}
	}
	xs := sortedOnce(ring, func(p Point) float64 { return p.X })
	var out []Rect
	var lasts []float64 // the ends of the column before, which this one may go on
	for k := 0; k+1 < len(xs); k++ {
		mid, wide := (xs[k]+xs[k+1])/2, xs[k+1]-xs[k]
		var ys []float64
		for i, p := range ring {
			if q := ring[(i+1)%len(ring)]; (p.X > mid) != (q.X > mid) {
				ys = append(ys, (p.Y+q.Y)/2)
			}
		}
		slices.Sort(ys)
		if sameFloats(ys, lasts) {
			for j := range ys[:len(ys)/2] {
				out[len(out)-len(ys)/2+j].W += wide
			}
			continue
		}
		for j := 0; j+1 < len(ys); j += 2 {
			out = append(out, Rect{xs[k], ys[j], wide, ys[j+1] - ys[j]})
		}
		lasts = ys
	}
	return out
}
