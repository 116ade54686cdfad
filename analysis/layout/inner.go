package layout

import (
	"math"

	"pourback/analysis/shape"
)

// innersOf finds where the slab would crack first, and the existing joints.
func innersOf(f frame, spacing float64) []inner {
	all := cornersOf(f.outline, 1)
	for _, h := range f.holes {
		all = append(all, holeOf(h, spacing))
		if n := &all[len(all)-1]; len(n.corners) == 0 && n.round == 0 { // a large hole goes by its corners
			all = append(all[:len(all)-1], cornersOf(h, -1)...)
		}
	}
	for _, m := range f.meets {
		all = append(all, f.meeting(m))
	}
	return all
}

// cornersOf are the corners at which an outline turns inward, or with side -1
// outward: the inside corners of a slab around a hole.
func cornersOf(o shape.Outline, side float64) []inner {
	fine := o.Fine(math.Pi / 48)
	var out []inner
	for i, s := range fine {
		before, after := fine[(i+len(fine)-1)%len(fine)], fine[(i+1)%len(fine)]
		u, v := unit(before.From, s.From), unit(s.From, after.From)
		turn := (u.X*v.Y - u.Y*v.X) * side
		if turn > -0.1 || before.Side == s.Side { // within an arc nothing turns
			continue
		}
		into := shape.Point{X: u.X - v.X, Y: u.Y - v.Y}
		d := math.Hypot(into.X, into.Y)
		out = append(out, inner{at: s.From, bisector: shape.Point{X: into.X / d, Y: into.Y / d}, x: true, y: true})
	}
	return out
}

func unit(a, b shape.Point) shape.Point {
	d := math.Hypot(b.X-a.X, b.Y-a.Y)
	return shape.Point{X: (b.X - a.X) / d, Y: (b.Y - a.Y) / d}
}

// holeOf is a round hole, or one too small for joints from each of its corners:
// joints run through its middle.
func holeOf(h shape.Outline, spacing float64) inner {
	if center, r, ok := h.IsCircle(); ok {
		return inner{at: center, round: r, x: true, y: true}
	}
	low, high := h.Bounds()
	n := inner{at: shape.Point{X: (low.X + high.X) / 2, Y: (low.Y + high.Y) / 2}, x: true, y: true}
	if max(high.X-low.X, high.Y-low.Y) < spacing/2 {
		n.corners = cornersOf(h, -1)
	}
	return n
}

// meeting is where an existing joint comes to the slab: the joint that goes on
// from there is square to the side that it comes to, as near as may be.
func (f frame) meeting(m shape.Point) inner {
	n := inner{at: m, must: true}
	nearest := math.Inf(1)
	points := f.outline.Points()
	for i, a := range points {
		b := points[(i+1)%len(points)]
		u := unit(a, b)
		along := min(max((m.X-a.X)*u.X+(m.Y-a.Y)*u.Y, 0), math.Hypot(b.X-a.X, b.Y-a.Y))
		if d := math.Hypot(m.X-a.X-along*u.X, m.Y-a.Y-along*u.Y); d < nearest {
			nearest = d
			n.x, n.y = math.Abs(u.X) >= math.Abs(u.Y), math.Abs(u.X) < math.Abs(u.Y)
		}
	}
	return n
}
