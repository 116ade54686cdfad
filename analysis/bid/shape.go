package bid

import (
	"math"

	"pourback/analysis/shape"
	"pourback/analysis/trade"
)

// Steps are those of a placement: so many risers, with a tread behind each.
type Steps struct {
	Risers  int     `json:"risers,omitempty" mapstructure:"risers"`
	RiseIn  float64 `json:"rise_in,omitempty" mapstructure:"rise_in"`
	TreadIn float64 `json:"tread_in,omitempty" mapstructure:"tread_in"`
	WidthFt float64 `json:"width_ft,omitempty" mapstructure:"width_ft"`
	Solid   bool    `json:"solid,omitempty" mapstructure:"solid"` // down to the ground; else on fill, as thick as the placement
}

// Curb is one on top of a placement.
type Curb struct {
	LengthFt float64 `json:"length_ft,omitempty" mapstructure:"length_ft"`
	WidthIn  float64 `json:"width_in,omitempty" mapstructure:"width_in"`
	HeightIn float64 `json:"height_in,omitempty" mapstructure:"height_in"`
}

// drawn says whether the shape is known, and not only an area.
func (p Placement) drawn() bool { return len(p.Outline) > 0 || p.LengthFt > 0 && p.WidthFt > 0 }

// StepsOnly says whether nothing but steps is poured.
func (p Placement) StepsOnly() bool { return p.Steps.Risers > 0 && !p.drawn() && p.AreaSqft == 0 }

// CircleFt is how far it is across a placement that is a circle, 0 of any other shape.
func (p Placement) CircleFt() float64 {
	if len(p.Outline) == 0 {
		return 0
	}
	_, radius, ok := outlineOf(p.Outline).IsCircle()
	if !ok {
		return 0
	}
	return 2 * radius
}

// outline is the placement's from above: as drawn, of its dimensions, or, where
// only an area is known, the rectangle that stands for it.
func (p Placement) outline() shape.Outline {
	switch {
	case len(p.Outline) > 0:
		return outlineOf(p.Outline)
	case p.StepsOnly():
		return nil
	case p.drawn() && p.NotchLengthFt > 0:
		return shape.L(p.LengthFt, p.WidthFt, p.NotchLengthFt, p.NotchWidthFt)
	}
	return shape.Rectangle(p.sides())
}

func outlineOf(corners [][]float64) shape.Outline {
	o := make(shape.Outline, len(corners))
	for i, c := range corners {
		if len(c) > 1 {
			o[i] = shape.Corner{X: c[0], Y: c[1]}
		}
		if len(c) > 2 {
			o[i].Radius = c[2]
		}
	}
	return o
}

func (p Placement) holes() []shape.Outline {
	out := make([]shape.Outline, len(p.Holes))
	for i, h := range p.Holes {
		out[i] = outlineOf(h)
	}
	return out
}

// slab is the placement's geometry.
func (p Placement) slab() shape.Slab {
	s := shape.Slab{Outline: p.outline(), Holes: p.holes(), ThicknessIn: p.ThicknessIn, DepthsIn: p.Depths,
		Edge:  shape.Edge{WidthIn: p.EdgeWidthIn, DepthIn: p.EdgeDepthIn, TaperIn: p.EdgeTaperIn, Sides: p.EdgeSides},
		Steps: shape.Steps{Risers: p.Steps.Risers, RiseIn: p.Steps.RiseIn, TreadIn: p.Steps.TreadIn, WidthFt: p.Steps.WidthFt, Solid: p.Steps.Solid},
		Curb:  shape.Curb(p.Curb)}
	if s.Steps.Risers > 0 && !s.Steps.Solid {
		s.Steps.WaistIn = p.ThicknessIn
	}
	return s
}

// workOut is the placement's volume piece by piece. Of an area alone there is one
// piece, whatever rectangle stands for it.
func (p Placement) workOut() (shape.Whole, *shape.Problem) {
	s := p.slab()
	w, wrong := s.WorkOut()
	if wrong == nil && !p.drawn() && !p.StepsOnly() && len(w.Pieces) > 0 && len(p.Depths) == 0 {
		w.Pieces[0] = shape.Piece{Kind: shape.OfArea, Sizes: []float64{p.AreaSqft, p.ThicknessIn}, Ft3: w.Pieces[0].Ft3}
	}
	return w, wrong
}

// sides are the length and width of what bounds the slab, in ft: as given, or those
// that make the area, a square where neither is known.
func (p Placement) sides() (length, width float64) {
	switch area := p.AreaSqft; {
	case len(p.Outline) > 0:
		low, high := outlineOf(p.Outline).Bounds()
		return high.X - low.X, high.Y - low.Y
	case p.drawn():
		return p.LengthFt, p.WidthFt
	case p.WidthFt > 0:
		return area / p.WidthFt, p.WidthFt
	case p.LengthFt > 0:
		return p.LengthFt, area / p.LengthFt
	default:
		return math.Sqrt(area), math.Sqrt(area)
	}
}

// leastIn is the thickness where the slab is thinnest, by which joints go.
func (p Placement) leastIn() float64 {
	least := p.ThicknessIn
	for i, d := range p.Depths {
		if i == 0 || d < least {
			least = d
		}
	}
	return least
}

// meanIn is the thickness that an even slab of that volume and area would have: by
// it hours go.
func meanIn(w shape.Whole) float64 { return w.Yd3() * trade.FootSquareInchesPerYd3 / w.AreaFt2 }

// shaped says whether the spec draws more than a rectangle or an L.
func (p Placement) shaped() bool {
	return len(p.Outline)+len(p.Holes)+len(p.Depths)+len(p.EdgeSides) > 0 || p.EdgeWidthIn != 0 || p.EdgeDepthIn != 0 || p.EdgeTaperIn != 0 || p.Steps != (Steps{}) || p.Curb != (Curb{})
}

// geometry checks what is drawn.
func (c *bidCheck) geometry(p Placement) bool {
	if !p.shaped() {
		return true
	}
	if len(p.Outline) > 0 && (p.LengthFt > 0 || p.WidthFt > 0) {
		c.bad("outline", "", OutlineAndSides)
		return false
	}
	if len(p.Outline) > mostCorners {
		c.bad("outline", "", ManyCorners, Amounts{Is: float64(len(p.Outline)), Most: mostCorners})
		return false
	}
	if _, wrong := p.workOut(); wrong != nil {
		c.bad(fieldOf(wrong), "", BadShape, Amounts{Shape: *wrong})
		return false
	}
	for _, n := range p.Against {
		if n < 1 || n > len(p.outline()) {
			c.bad("against", plain(float64(n)), BadShape, Amounts{Shape: shape.Problem{What: shape.EdgeNoSide, Value: float64(n), Limit: float64(len(p.outline()))}})
		}
	}
	return true
}

// mostCorners bounds an outline, so that its joints can be searched for.
const mostCorners = 60

// fieldOf is the key of the spec that a shape's problem is about.
func fieldOf(p *shape.Problem) string {
	switch p.What {
	case shape.NoDepth, shape.DepthCount:
		return "depths"
	case shape.EdgeShallow, shape.EdgeOfArc:
		return "edge_depth"
	case shape.EdgeNarrow, shape.EdgeWide, shape.EdgeInHole:
		return "edge_width"
	case shape.EdgeNoSide:
		return "edge_sides"
	case shape.NoSteps, shape.ThickerWaist:
		return "steps"
	case shape.NoCurb:
		return "curb"
	}
	if p.Hole > 0 {
		return "holes"
	}
	return "outline"
}
