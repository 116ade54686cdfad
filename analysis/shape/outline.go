// Package shape is the geometry of a slab as an owner draws it: outlines of
// straight sides and arcs, holes, depths by corner, thickened edges, steps and
// curbs. It knows what each piece of the volume is and how it was worked out, so
// that a person can check it with a pencil. Lengths are in ft and sections of
// concrete in inches, where a name does not say otherwise; volumes in ft³.
package shape

import "math"

// Point is a place on the ground, in ft.
type Point struct{ X, Y float64 }

// Corner is a corner of an outline. The side from it to the next corner is
// straight, or an arc of Radius where that is not 0: bulging out of the outline
// where it is above 0, hollow where it is below, and never more than half a
// circle.
type Corner struct{ X, Y, Radius float64 }

// Outline are the corners of a closed line, in order, either way around.
type Outline []Corner

func (c Corner) at() Point { return Point{c.X, c.Y} }

func (p Point) minus(q Point) Point        { return Point{p.X - q.X, p.Y - q.Y} }
func (p Point) plus(q Point) Point         { return Point{p.X + q.X, p.Y + q.Y} }
func (p Point) times(k float64) Point      { return Point{p.X * k, p.Y * k} }
func (p Point) dot(q Point) float64        { return p.X*q.X + p.Y*q.Y }
func (p Point) cross(q Point) float64      { return p.X*q.Y - p.Y*q.X }
func (p Point) length() float64            { return math.Hypot(p.X, p.Y) }
func (p Point) left() Point                { return Point{-p.Y, p.X} }
func (p Point) distance(q Point) float64   { return p.minus(q).length() }
func middle(p, q Point) Point              { return p.plus(q).times(0.5) }
func (o Outline) corner(i int) Corner      { return o[((i%len(o))+len(o))%len(o)] }
func (o Outline) chord(i int) (a, b Point) { return o.corner(i).at(), o.corner(i + 1).at() }
func (o Outline) chordFt(i int) float64    { a, b := o.chord(i); return a.distance(b) }
func (o Outline) straight() bool           { return !o.any(func(c Corner) bool { return c.Radius != 0 }) }
func (o Outline) any(f func(c Corner) bool) bool {
	for _, c := range o {
		if f(c) {
			return true
		}
	}
	return false
}

// chordArea is the signed area between the chords, above 0 where the corners run
// counter-clockwise (the shoelace formula).
func (o Outline) chordArea() float64 {
	points := make([]Point, len(o))
	for i, c := range o {
		points[i] = c.at()
	}
	return signedArea(points)
}

// signedArea is the shoelace formula, reckoned from the first point so that far
// from the origin no digits are lost.
func signedArea(points []Point) float64 {
	sum := 0.0
	for i := 1; i+1 < len(points); i++ {
		sum += points[i].minus(points[0]).cross(points[i+1].minus(points[0]))
	}
	return sum / 2
}

// turn is 1 where the outline runs counter-clockwise, else -1. Where the chords
// enclose nothing, as those of a circle of two corners, either would do.
func (o Outline) turn() float64 {
	if o.chordArea() < -1e-9 {
		return -1
	}
	return 1
}

// arc is the circle of a side: its center, its radius, and the angles from and to
// which it runs as its outline does.
type arc struct {
	center   Point
	radius   float64
	from, to float64
}

// arcOf is the arc of side i, which must have one that meets its corners.
func (o Outline) arcOf(i int) arc {
	a, b := o.chord(i)
	r := o.corner(i).Radius
	half, along := a.distance(b)/2, b.minus(a)
	// The center lies on the other side of the chord than the bulge.
	inward := along.left().times(o.turn() / along.length())
	height := math.Sqrt(max(0, r*r-half*half))
	if r < 0 {
		height = -height
	}
	c := arc{center: middle(a, b).plus(inward.times(height)), radius: math.Abs(r)}
	c.from = math.Atan2(a.Y-c.center.Y, a.X-c.center.X)
	sweep := 2 * math.Asin(min(1, half/c.radius)) * o.turn()
	if r < 0 {
		sweep = -sweep
	}
	c.to = c.from + sweep
	return c
}

func (c arc) point(angle float64) Point {
	return Point{c.center.X + c.radius*math.Cos(angle), c.center.Y + c.radius*math.Sin(angle)}
}

func (c arc) sweep() float64 { return math.Abs(c.to - c.from) }

// segmentFt2 is the area between side i and its chord: r²/2·(θ − sin θ), the
// circular segment; below 0 where the side is hollow.
func (o Outline) segmentFt2(i int) float64 {
	r := o.corner(i).Radius
	if r == 0 {
		return 0
	}
	angle := o.arcOf(i).sweep()
	return math.Copysign(r*r/2*(angle-math.Sin(angle)), r)
}

// AreaFt2 is what the outline encloses, exactly.
func (o Outline) AreaFt2() float64 {
	sum := math.Abs(o.chordArea())
	for i := range o {
		sum += o.segmentFt2(i)
	}
	return sum
}

// SideFt is how long side i is, counted from 0.
func (o Outline) SideFt(i int) float64 {
	if o.corner(i).Radius == 0 {
		return o.chordFt(i)
	}
	c := o.arcOf(i)
	return c.radius * c.sweep()
}

// PerimeterFt is the length of all sides.
func (o Outline) PerimeterFt() float64 {
	sum := 0.0
	for i := range o {
		sum += o.SideFt(i)
	}
	return sum
}

// Stretch is a straight piece of an outline, or of an arc of it, from its first
// point to that of the next.
type Stretch struct {
	From Point
	Side int // counted from 0
}

// Fine is the outline counter-clockwise in straight stretches, arcs in steps of at
// most step radians.
func (o Outline) Fine(step float64) []Stretch {
	var out []Stretch
	for i := range o {
		if out = append(out, Stretch{o.corner(i).at(), i}); o[i].Radius == 0 {
			continue
		}
		c := o.arcOf(i)
		n := max(2, int(math.Ceil(c.sweep()/step-1e-9)))
		for k := 1; k < n; k++ {
			out = append(out, Stretch{c.point(c.from + (c.to-c.from)*float64(k)/float64(n)), i})
		}
	}
	if o.turn() < 0 { // the other way around a stretch begins where it ended
		back := make([]Stretch, len(out))
		for k := range out {
			back[len(out)-1-k] = Stretch{out[(k+1)%len(out)].From, out[k].Side}
		}
		return back
	}
	return out
}

// drawnStep is how fine arcs are drawn and laid out, in radians: on a radius of
// 15 ft the line strays by less than a quarter of an inch.
const drawnStep = math.Pi / 48

// Points are the corners of the outline as it is drawn, arcs as fine lines.
func (o Outline) Points() []Point {
	fine := o.Fine(drawnStep)
	points := make([]Point, len(fine))
	for i, s := range fine {
		points[i] = s.From
	}
	return points
}

// Bounds are the least and the greatest of an outline's points.
func (o Outline) Bounds() (low, high Point) {
	low, high = Point{math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1)}
	for _, p := range o.Points() {
		low, high = Point{min(low.X, p.X), min(low.Y, p.Y)}, Point{max(high.X, p.X), max(high.Y, p.Y)}
	}
	return low, high
}

// Inside says whether a point lies within the outline as it is drawn.
func (o Outline) Inside(p Point) bool { return inside(o.Points(), p) }

func inside(ring []Point, p Point) bool {
	in := false
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(p.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
			in = !in
		}
	}
	return in
}
