package layout

import (
	"math"
	"slices"

	"pourback/analysis/shape"
)

// cells is the slab cut by lines from end to end: convex pieces, and the chords
// that lie between them. A chord is a line's stretch within the slab, from edge to
// edge; it may be left out again.
type cells struct {
	pieces []piece
	links  []link
	chords []chord
}

type piece struct{ minX, maxX, minY, maxY, area float64 }

// link joins two pieces that touch, across a chord or, where that is -1, freely.
type link struct {
	a, b, chord int
	line        int // 2·i for the i-th upright line, 2·i + 1 for a level one, -1
	low, high   float64
}

// chord is a joint that could be made.
type chord struct {
	upright   bool
	at        float64 // x of an upright one, y of a level one
	low, high float64 // its ends
	kept      bool    // it relieves an inside corner, or meets an existing joint
	out       bool
}

func (c chord) cut() Cut {
	if c.upright {
		return Cut{X1: c.at, Y1: c.low, X2: c.at, Y2: c.high}
	}
	return Cut{X1: c.low, Y1: c.at, X2: c.high, Y2: c.at}
}

const tiny = 1e-7 // ft, below which two places are one

// edge is a stretch of a ring that is not upright, from left to right.
type edge struct{ a, b shape.Point }

func (e edge) y(x float64) float64 { return e.a.Y + (x-e.a.X)/(e.b.X-e.a.X)*(e.b.Y-e.a.Y) }

// rings are the slab's and its holes' edges, with the places where one begins.
func ringsOf(f frame) (edges []edge, xs []float64) {
	for _, o := range append([]shape.Outline{f.outline}, f.holes...) {
		points := o.Points()
		for i, p := range points {
			q := points[(i+1)%len(points)]
			xs = append(xs, p.X)
			switch {
			case q.X > p.X+tiny:
				edges = append(edges, edge{p, q})
			case q.X < p.X-tiny:
				edges = append(edges, edge{q, p})
			}
		}
	}
	return edges, once(xs)
}

// once are numbers in order, each but once.
func once(xs []float64) []float64 {
	slices.Sort(xs)
	return slices.CompactFunc(xs, func(a, b float64) bool { return math.Abs(a-b) < tiny })
}

// cellsOf cuts the slab by upright lines at xs and level ones at ys.
func cellsOf(edges []edge, corners, xs, ys []float64) *cells {
	c := &cells{}
	columns := once(append(slices.Clone(corners), xs...))
	var before []poly
	for k := 0; k+1 < len(columns); k++ {
		now := c.column(edges, columns[k], columns[k+1], ys)
		line := -1
		if i := slices.IndexFunc(xs, func(x float64) bool { return math.Abs(x-columns[k]) < tiny }); i >= 0 {
			line = 2 * i
		}
		for _, p := range before {
			for _, q := range now {
				if low, high := max(p.rightLow, q.leftLow), min(p.rightHigh, q.leftHigh); high-low > tiny {
					c.links = append(c.links, link{p.id, q.id, -1, line, low, high})
				}
			}
		}
		before = now
	}
	c.gather(xs, ys)
	return c
}

// poly is a piece while it is cut.
type poly struct {
	id                                     int
	leftLow, leftHigh, rightLow, rightHigh float64
}

// column cuts what of the slab lies between two upright lines, between which no
// edge begins.
func (c *cells) column(edges []edge, from, to float64, ys []float64) []poly {
	mid := (from + to) / 2
	var across []edge
	for _, e := range edges {
		if e.a.X < mid && e.b.X > mid {
			across = append(across, e)
		}
	}
	slices.SortFunc(across, func(d, e edge) int {
		if d.y(mid) < e.y(mid) {
			return -1
		}
		return 1
	})
	var out []poly
	for i := 0; i+1 < len(across); i += 2 {
		out = append(out, c.stack(across[i], across[i+1], from, to, ys)...)
	}
	return out
}

// stack cuts what lies between two edges in a column by the level lines.
func (c *cells) stack(low, high edge, from, to float64, ys []float64) []poly {
	ring := []shape.Point{{X: from, Y: low.y(from)}, {X: to, Y: low.y(to)}, {X: to, Y: high.y(to)}, {X: from, Y: high.y(from)}}
	var out []poly
	last := -1
	for j := range len(ys) + 1 {
		part := ring
		if j < len(ys) {
			part = half(ring, ys[j], -1)
			ring = half(ring, ys[j], 1)
		}
		if area(part) <= tiny*tiny {
			if j < len(ys) && area(ring) > tiny*tiny {
				continue
			}
			break
		}
		p := c.add(part, from, to)
		if last >= 0 && j > 0 {
			low, high := spanAt(part, ys[j-1])
			if high-low > tiny {
				c.links = append(c.links, link{last, p.id, -1, 2*(j-1) + 1, low, high})
			}
		}
		out, last = append(out, p), p.id
	}
	return out
}

// add keeps a piece.
func (c *cells) add(ring []shape.Point, from, to float64) poly {
	p := poly{id: len(c.pieces)}
	q := piece{minX: from, maxX: from, minY: math.Inf(1), maxY: math.Inf(-1), area: area(ring)}
	p.leftLow, p.leftHigh, p.rightLow, p.rightHigh = math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	q.minX = math.Inf(1)
	for _, v := range ring {
		q.minX, q.maxX, q.minY, q.maxY = min(q.minX, v.X), max(q.maxX, v.X), min(q.minY, v.Y), max(q.maxY, v.Y)
		if v.X < from+tiny {
			p.leftLow, p.leftHigh = min(p.leftLow, v.Y), max(p.leftHigh, v.Y)
		}
		if v.X > to-tiny {
			p.rightLow, p.rightHigh = min(p.rightLow, v.Y), max(p.rightHigh, v.Y)
		}
	}
	c.pieces = append(c.pieces, q)
	return p
}

// half is the part of a convex ring below a level line, or above it where side is
// 1.
func half(ring []shape.Point, y, side float64) []shape.Point {
	out := make([]shape.Point, 0, len(ring)+1)
	for i, p := range ring {
		q := ring[(i+1)%len(ring)]
		dp, dq := side*(p.Y-y), side*(q.Y-y)
		if dp >= 0 {
			out = append(out, p)
		}
		if dp > 0 && dq < 0 || dp < 0 && dq > 0 {
			out = append(out, shape.Point{X: p.X + (q.X-p.X)*dp/(dp-dq), Y: y})
		}
	}
	return out
}

// spanAt is from where to where a ring lies on a level line.
func spanAt(ring []shape.Point, y float64) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, p := range ring {
		if math.Abs(p.Y-y) < tiny {
			low, high = min(low, p.X), max(high, p.X)
		}
	}
	return low, high
}

func area(ring []shape.Point) float64 {
	sum := 0.0
	for i := 1; i+1 < len(ring); i++ {
		a, b, c := ring[0], ring[i], ring[i+1]
		sum += (b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X)
	}
	return math.Abs(sum) / 2
}

// gather makes chords of the links along each line.
func (c *cells) gather(xs, ys []float64) {
	order := make([]int, 0, len(c.links))
	for i := range c.links {
		if c.links[i].line >= 0 {
			order = append(order, i)
		}
	}
	slices.SortFunc(order, func(i, j int) int {
		a, b := &c.links[i], &c.links[j]
		if a.line != b.line {
			return a.line - b.line
		}
		if a.low < b.low {
			return -1
		}
		return 1
	})
	line := -1
	for _, i := range order {
		l := &c.links[i]
		if n := len(c.chords) - 1; l.line != line || l.low > c.chords[n].high+tiny {
			lines := [2][]float64{xs, ys}[l.line%2]
			at := lines[l.line/2]
			c.chords = append(c.chords, chord{upright: l.line%2 == 0, at: at, low: l.low, high: l.high})
			line = l.line
		} else {
			c.chords[n].high = max(c.chords[n].high, l.high)
		}
		l.chord = len(c.chords) - 1
	}
}

// region is a panel while chords are chosen.
type region struct{ piece }

func (r region) panel() Panel {
	return Panel{X: r.minX, Y: r.minY, W: r.maxX - r.minX, H: r.maxY - r.minY, AreaFt2: r.area}
}

// fill is the share of its bounds that a region takes.
func (r region) fill() float64 { return r.area / ((r.maxX - r.minX) * (r.maxY - r.minY)) }

func (r region) with(q region) region {
	return region{piece{min(r.minX, q.minX), max(r.maxX, q.maxX), min(r.minY, q.minY), max(r.maxY, q.maxY), r.area + q.area}}
}

// regions are the panels between the chords that are in, and which one each piece
// belongs to.
func (c *cells) regions() (of []int, all []region) {
	root := make([]int, len(c.pieces))
	for i := range root {
		root[i] = i
	}
	find := func(i int) int {
		for root[i] != i {
			root[i] = root[root[i]]
			i = root[i]
		}
		return i
	}
	for _, l := range c.links {
		if l.chord < 0 || c.chords[l.chord].out {
			root[find(l.a)] = find(l.b)
		}
	}
	of = make([]int, len(c.pieces))
	index := map[int]int{}
	for i, p := range c.pieces {
		r := find(i)
		k, known := index[r]
		if !known {
			k = len(all)
			index[r] = k
			all = append(all, region{p})
		} else {
			all[k] = all[k].with(region{p})
		}
		of[i] = k
	}
	return of, all
}
