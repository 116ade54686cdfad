package shape

import (
	"math"
	"slices"
)

// facet is a triangle between three corners of the outline, over which the depth
// is even.
type facet struct {
	corners [3]int
	at      [3]Point // counter-clockwise
	depthIn [3]float64
	weight  float64
}

func (f *facet) areaFt2() float64 { return abs(signedArea(f.at[:])) }

// baseHeight are the longest side and the height over it, in ft.
func (f *facet) baseHeight() (base, height float64) {
	for i := range f.at {
		base = max(base, f.at[i].distance(f.at[(i+1)%3]))
	}
	return base, 2 * f.areaFt2() / base
}

// depthAt is the depth in inches at a point of the facet.
func (f *facet) depthAt(p Point) float64 {
	whole := signedArea(f.at[:])
	sum := 0.0
	for i := range f.at {
		sum += f.depthIn[i] * signedArea([]Point{p, f.at[(i+1)%3], f.at[(i+2)%3]}) / whole
	}
	return sum
}

// facets are the triangles between the outline's corners.
func (s *Slab) facets() []facet {
	o := s.Outline
	ring := make([]Point, len(o))
	order := make([]int, len(o))
	for i := range o {
		order[i] = i
	}
	if o.turn() < 0 {
		slices.Reverse(order)
	}
	for k, i := range order {
		ring[k] = o[i].at()
	}
	triangles, weight := ears(ring), 1.0
	if len(o) == 4 && convex(ring) {
		triangles, weight = [][3]int{{0, 1, 2}, {2, 3, 0}, {1, 2, 3}, {3, 0, 1}}, 0.5
		if s.level() {
			triangles, weight = triangles[:2], 1
		}
	}
	out := make([]facet, 0, len(triangles))
	for _, t := range triangles {
		f := facet{weight: weight}
		for k, at := range t {
			f.corners[k], f.at[k], f.depthIn[k] = order[at], ring[at], s.depth(order[at])
		}
		out = append(out, f)
	}
	return out
}

func convex(ring []Point) bool {
	for i := range ring {
		a, b, c := ring[i], ring[(i+1)%len(ring)], ring[(i+2)%len(ring)]
		if b.minus(a).cross(c.minus(b)) <= 0 {
			return false
		}
	}
	return true
}

// ears cut a counter-clockwise ring into triangles between its points, each time
// at the corner whose triangle is the least pointed, so that where the ring
// begins does not matter. What runs back on itself has none.
func ears(ring []Point) [][3]int {
	left := make([]int, len(ring))
	for i := range left {
		left[i] = i
	}
	var out [][3]int
	for len(left) > 2 {
		best, sharpest := -1, -1.0
		for k := range left {
			a, b, c := left[(k+len(left)-1)%len(left)], left[k], left[(k+1)%len(left)]
			if sharp := leastAngle(ring[a], ring[b], ring[c]); sharp > sharpest && isEar(ring, left, a, b, c) {
				best, sharpest = k, sharp
			}
		}
		if best < 0 {
			return out
		}
		a, c := left[(best+len(left)-1)%len(left)], left[(best+1)%len(left)]
		if sharpest > 1e-12 {
			out = append(out, [3]int{a, left[best], c})
		}
		left = slices.Delete(left, best, best+1)
	}
	return out
}

// isEar says whether a triangle lies within what is left of a ring.
func isEar(ring []Point, left []int, a, b, c int) bool {
	p, q, r := ring[a], ring[b], ring[c]
	if q.minus(p).cross(r.minus(q)) < -1e-12 {
		return false
	}
	for _, i := range left {
		x := ring[i]
		if i == a || i == b || i == c || x == p || x == q || x == r {
			continue
		}
		if q.minus(p).cross(x.minus(p)) >= 0 && r.minus(q).cross(x.minus(q)) >= 0 && p.minus(r).cross(x.minus(r)) >= 0 {
			return false
		}
	}
	return true
}

func leastAngle(a, b, c Point) float64 {
	least := math.Pi
	for _, t := range [3][3]Point{{a, b, c}, {b, c, a}, {c, a, b}} {
		u, v := t[0].minus(t[1]), t[2].minus(t[1])
		least = min(least, math.Atan2(abs(u.cross(v)), u.dot(v)))
	}
	return least
}

// clip is the part of a polygon within a convex counter-clockwise one (Sutherland
// and Hodgman 1974).
func clip(subject, by []Point) []Point {
	out := subject
	for i, a := range by {
		b := by[(i+1)%len(by)]
		in := out
		out = nil
		for k, p := range in {
			q := in[(k+1)%len(in)]
			dp, dq := b.minus(a).cross(p.minus(a)), b.minus(a).cross(q.minus(a))
			if dp >= 0 {
				out = append(out, p)
			}
			if dp >= 0 != (dq >= 0) {
				out = append(out, p.plus(q.minus(p).times(dp/(dp-dq))))
			}
		}
	}
	return out
}

// integral of f over a convex polygon, exact for polynomials up to the second
// degree (the rule of the three midpoints).
func integral(ring []Point, f func(Point) float64) float64 {
	sum := 0.0
	for i := 1; i+1 < len(ring); i++ {
		a, b, c := ring[0], ring[i], ring[i+1]
		sum += abs(signedArea([]Point{a, b, c})) / 3 * (f(middle(a, b)) + f(middle(b, c)) + f(middle(c, a)))
	}
	return sum
}

func sameFloats(a, b []float64) bool {
	return slices.EqualFunc(a, b, func(x, y float64) bool { return abs(x-y) < 1e-9 })
}

// sortedOnce are a coordinate's values in order, each once.
func sortedOnce(ring []Point, of func(Point) float64) []float64 {
	xs := make([]float64, len(ring))
	for i, p := range ring {
		xs[i] = of(p)
	}
	slices.Sort(xs)
	return slices.CompactFunc(xs, func(a, b float64) bool { return abs(a-b) < 1e-9 })
}
