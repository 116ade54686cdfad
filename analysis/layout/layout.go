// Package layout puts joints into a slab as a hand would lay them: panels near
// square, each joint running on from edge to edge, so that none ends at the side of
// a panel, where it would go on as a crack; a joint both ways at every inside
// corner, or a bar across it; holes and what the slab is poured against isolated.
// (Common practice; the limits are those of package trade, with their sources.)
package layout

import (
	"cmp"
	"math"
	"slices"

	"pourback/analysis/shape"
	"pourback/analysis/trade"
)

// Ask is a slab to lay out. Lengths are in ft.
type Ask struct {
	Outline   shape.Outline
	Holes     []shape.Outline
	SpacingFt float64
	Against   []int         // sides at a house or at existing concrete, counted from 1
	Meets     []shape.Point // where existing joints come to the outline
}

// Plan is where the joints of a slab go. Its places are in ft from the lower left
// of the slab, which is turned so that its longest straight side lies level or
// upright.
type Plan struct {
	Shape     []shape.Point   // the outline, arcs as fine lines
	Holes     [][]shape.Point // the same of holes
	Panels    []Panel
	Cuts      []Cut // joints to make, the first to cut first
	Isolation []Cut // joints against the slab's neighbors
	Bars      []Bar
	Missed    []shape.Point // existing joints that no joint meets
}

// Panel is what lies between joints, by its bounds. Along a curved walk W is along
// the middle and H across.
type Panel struct{ X, Y, W, H, AreaFt2 float64 }

// Ratio is the longer side over the shorter.
func (p Panel) Ratio() float64 { return max(p.W, p.H) / min(p.W, p.H) }

// Cut is a straight stretch of a joint. Corner says that it begins at an inside
// corner or at a hole.
type Cut struct {
	X1, Y1, X2, Y2 float64
	Corner         bool
}

// Length is the cut's.
func (c Cut) Length() float64 { return math.Hypot(c.X2-c.X1, c.Y2-c.Y1) }

// Bar is a bar across an inside corner that no joint both ways relieves, by its
// ends.
type Bar struct{ X1, Y1, X2, Y2 float64 }

// CutFt is the length of all joints to make.
func (p *Plan) CutFt() float64 {
	sum := 0.0
	for _, c := range p.Cuts {
		sum += c.Length()
	}
	return sum
}

// LongestFt is the longest side of any panel.
func (p *Plan) LongestFt() float64 {
	longest := 0.0
	for _, q := range p.Panels {
		longest = max(longest, q.W, q.H)
	}
	return longest
}

// Ratio is that of the panel for which it is most.
func (p *Plan) Ratio() float64 {
	most := 0.0
	for _, q := range p.Panels {
		most = max(most, q.Ratio())
	}
	return most
}

// Beyond counts the panels longer than so many times their width.
func (p *Plan) Beyond(limit float64) int {
	n := 0
	for _, q := range p.Panels {
		if q.Ratio() > limit+1e-9 {
			n++
		}
	}
	return n
}

// Lay lays out a slab, whose outline and holes must be sound
// ([shape.Outline.Check]).
func Lay(a Ask) (Plan, error) {
	if _, _, err := trade.Division(1, 1, a.SpacingFt); err != nil {
		return Plan{}, err
	}
	f := frameOf(a)
	p := Plan{Shape: f.outline.Points()}
	for _, h := range f.holes {
		p.Holes = append(p.Holes, h.Points())
	}
	p.isolate(f, a.Against)
	if band, ok := f.outline.Band(); ok && len(f.holes) == 0 && len(f.meets) == 0 && f.curved() {
		p.bandJoints(band, a.SpacingFt)
	} else if err := p.gridJoints(f, a.SpacingFt); err != nil {
		return Plan{}, err
	}
	slices.SortStableFunc(p.Cuts, func(c, d Cut) int { // a joint at a corner first, then the longest
		if c.Corner != d.Corner {
			if c.Corner {
				return -1
			}
			return 1
		}
		return cmp.Compare(math.Round(d.Length()*1e6), math.Round(c.Length()*1e6))
	})
	return p, nil
}

// frame is the slab as it is laid out: turned, its lower left at the origin.
type frame struct {
	outline shape.Outline
	holes   []shape.Outline
	meets   []shape.Point
	w, h    float64
}

func (f *frame) curved() bool {
	return slices.ContainsFunc(f.outline, func(c shape.Corner) bool { return c.Radius != 0 })
}

// frameOf turns the slab so that its longest straight side is level or upright,
// and no further than it has to.
func frameOf(a Ask) frame {
	longest, turn := 0.0, 0.0
	for i, c := range a.Outline {
		d := a.Outline[(i+1)%len(a.Outline)]
		if ft := math.Hypot(d.X-c.X, d.Y-c.Y); c.Radius == 0 && ft > longest*(1+1e-9) {
			longest, turn = ft, math.Atan2(d.Y-c.Y, d.X-c.X)
		}
	}
	turn -= math.Round(turn/(math.Pi/2)) * math.Pi / 2
	cos, sin := math.Cos(turn), math.Sin(turn)
	if math.Abs(turn) < 1e-9 {
		cos, sin = 1, 0
	}
	point := func(x, y float64) shape.Point { return shape.Point{X: x*cos + y*sin, Y: y*cos - x*sin} }
	turned := func(o shape.Outline) shape.Outline {
		out := make(shape.Outline, len(o))
		for i, c := range o {
			p := point(c.X, c.Y)
			out[i] = shape.Corner{X: p.X, Y: p.Y, Radius: c.Radius}
		}
		return out
	}
	var f frame
	f.outline = turned(a.Outline)
	low, high := f.outline.Bounds()
	f.outline, f.w, f.h = f.outline.At(-low.X, -low.Y), high.X-low.X, high.Y-low.Y
	for _, h := range a.Holes {
		f.holes = append(f.holes, turned(h).At(-low.X, -low.Y))
	}
	for _, m := range a.Meets {
		p := point(m.X, m.Y)
		f.meets = append(f.meets, shape.Point{X: p.X - low.X, Y: p.Y - low.Y})
	}
	return f
}

// isolate marks the sides that are poured against something, and the holes.
func (p *Plan) isolate(f frame, against []int) {
	around := func(o shape.Outline, side func(int) bool) {
		fine := o.Fine(math.Pi / 48)
		for i, s := range fine {
			if t := fine[(i+1)%len(fine)]; side(s.Side) {
				p.Isolation = append(p.Isolation, Cut{X1: s.From.X, Y1: s.From.Y, X2: t.From.X, Y2: t.From.Y})
			}
		}
	}
	around(f.outline, func(side int) bool { return slices.Contains(against, side+1) })
	for _, h := range f.holes {
		around(h, func(int) bool { return true })
	}
}

// bandJoints lays joints square across a curved walk, and along it where it is
// wide.
func (p *Plan) bandJoints(band shape.Band, spacing float64) {
	whole := 0.0
	for _, s := range band.Sections {
		whole += s.LengthFt
	}
	_, rows, err := trade.Division(whole, band.WidthFt, spacing)
	if err != nil {
		return
	}
	for k, s := range band.Sections {
		columns, _, err := trade.Division(s.LengthFt, band.WidthFt/float64(rows), spacing)
		if err != nil {
			return
		}
		for i := range columns {
			from, to := float64(i)/float64(columns), float64(i+1)/float64(columns)
			a, b := s.Across(from)
			if i > 0 || k > 0 {
				p.Cuts = append(p.Cuts, Cut{X1: a.X, Y1: a.Y, X2: b.X, Y2: b.Y})
			}
			for r := range rows {
				c, d := s.Across(to)
				q := Panel{X: min(a.X, b.X, c.X, d.X), Y: min(a.Y, b.Y, c.Y, d.Y), W: s.LengthFt / float64(columns), H: band.WidthFt / float64(rows)}
				q.AreaFt2 = bandArea(s, band.WidthFt, rows, r) / float64(columns)
				p.Panels = append(p.Panels, q)
			}
		}
		p.along(s, rows)
	}
}

// bandArea is the area of row r of a section: lengths grow evenly across it.
func bandArea(s shape.Section, width float64, rows, r int) float64 {
	a, b := s.LongFt(0), s.LongFt(1)
	at := (float64(r) + 0.5) / float64(rows)
	return (a + (b-a)*at) * width / float64(rows)
}

// along lays the joints that run with a section, in fine stretches.
func (p *Plan) along(s shape.Section, rows int) {
	const steps = 24
	for r := 1; r < rows; r++ {
		share := float64(r) / float64(rows)
		at := func(k int) shape.Point {
			a, b := s.Across(float64(k) / steps)
			return shape.Point{X: a.X + (b.X-a.X)*share, Y: a.Y + (b.Y-a.Y)*share}
		}
		for k := range steps {
			a, b := at(k), at(k+1)
			p.Cuts = append(p.Cuts, Cut{X1: a.X, Y1: a.Y, X2: b.X, Y2: b.Y})
		}
	}
}
