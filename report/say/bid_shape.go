package say

import (
	"strings"

	"pourback/analysis/bid"
	"pourback/analysis/shape"
)

// ofGeometry says what is wrong with what is drawn, and names the piece.
func (w Bid) ofGeometry(p bid.Problem) (said Problem, ok bool) {
	a := p.Amounts
	switch p.What {
	case bid.OutlineAndSides:
		return Problem{Wrong: w.text("an outline beside a length and a width"), Right: w.text("give one of the two")}, true
	case bid.ManyCorners:
		return Problem{Wrong: w.say("{n} corners", with{"n": Grouped(a.Is, 0)}), Right: w.say("up to {most}; draw a curve as an arc: [x, y, radius]", with{"most": Grouped(a.Most, 0)})}, true
	case bid.BadShape:
		wrong, right := w.badShape(a.Shape)
		if a.Shape.Hole > 0 && a.Shape.What != shape.EdgeInHole {
			wrong = w.say("hole {n}: {wrong}", with{"n": Count(a.Shape.Hole), "wrong": wrong})
		}
		return Problem{Wrong: wrong, Right: right}, true
	}
	return Problem{}, false
}

// badShape is what is wrong with a shape, and what would be right.
func (w Bid) badShape(p shape.Problem) (wrong, right string) {
	side := with{"side": Count(p.Side), "other": Count(p.Other), "least": w.Feet(p.Limit), "is": w.Feet(p.Value)}
	switch p.What {
	case shape.FewCorners:
		return w.say("{n} corners enclose nothing", with{"n": Grouped(p.Value, 0)}), w.say("at least {least}, in order around the slab", with{"least": Grouped(p.Limit, 0)})
	case shape.NoSide:
		return w.say("side {side} has no length: two corners lie on the same spot", side), w.text("leave one of the two corners out")
	case shape.ArcShort:
		return w.say("the arc of side {side} does not meet: a radius of {is} does not reach from corner to corner", side), w.say("a radius of {least} or more, half the straight distance", side)
	case shape.Crosses:
		return w.say("side {side} crosses side {other}", side), w.text("give the corners in order around the slab")
	case shape.NoArea:
		return w.text("the outline encloses nothing"), w.text("give the corners in order around the slab")
	case shape.HoleOutside:
		return w.text("it is not inside the slab"), w.text("a hole lies wholly inside; cut a corner or an edge out of the outline instead")
	case shape.HolesMeet:
		return w.say("it runs into hole {other}", side), w.text("draw the two as one")
	case shape.DepthCount:
		return w.say("{n} depths for {corners} corners", with{"n": Grouped(p.Value, 0), "corners": Grouped(p.Limit, 0)}), w.text("one for each corner, in the order of the outline")
	case shape.NoDepth:
		if p.Corner > 0 {
			return w.say("no depth at corner {n}", with{"n": Count(p.Corner)}), w.text("the concrete's thickness there, in inches")
		}
		return w.text("no thickness"), w.say("such as {usual}", with{"usual": "4"})
	case shape.NoSteps:
		return w.text("steps without a number or a size"), w.text("risers, rise, tread and width, each above 0")
	case shape.ThickerWaist:
		return w.text("steps on fill without a thickness"), w.text("the placement's thickness, or solid: yes")
	case shape.NoCurb:
		return w.text("a curb without a size"), w.text("length, width and height, each above 0")
	}
	return w.badEdge(p)
}

// badEdge is what is wrong with a thickened edge.
func (w Bid) badEdge(p shape.Problem) (wrong, right string) {
	in := with{"side": Count(p.Side), "other": Count(p.Other), "is": w.Inches(p.Value), "slab": w.Inches(p.Limit), "hole": Count(p.Hole), "most": Grouped(p.Limit, 0), "n": Grouped(p.Value, 0)}
	switch p.What {
	case shape.EdgeShallow:
		return w.say("the edge is {is} deep, and the slab at side {side} {slab}", in), w.text("edge_depth is the whole depth at the edge, more than the slab's")
	case shape.EdgeNarrow:
		return w.text("a thickened edge without a width"), w.text("write edge_width, such as 12 in")
	case shape.EdgeWide:
		if p.Other > 0 {
			return w.say("the thickened edges of sides {side} and {other} meet in the middle", in), w.text("a narrower edge, or make the slab that thick")
		}
		return w.say("the thickened edge of side {side} runs past the slab", in), w.text("a narrower edge, or make the slab that thick")
	case shape.EdgeNoSide:
		return w.say("there is no side {n}", in), w.say("1 to {most}; side 1 runs from the first corner to the second", in)
	case shape.EdgeOfArc:
		return w.say("a thickened edge along the arc of side {side}, where depths differ", in), w.text("one thickness, or a placement of its own for the round part")
	case shape.EdgeInHole:
		return w.say("the thickened edge of side {side} runs into hole {hole}", in), w.text("a narrower edge, or move the hole")
	}
	return w.text("not a shape that can be poured"), w.text("check the dimensions")
}

// BidVolume names what the table on a placement's neat volume holds.
type BidVolume struct{ Title, Caption, Piece, How, Volume, All string }

// VolumeOf says what the pieces of a placement's volume are of.
func (w Bid) VolumeOf(part string) BidVolume {
	return BidVolume{Title: w.say("Concrete as drawn: {placement}", with{"placement": part}), Caption: w.say("How the volume of {placement} is worked out", with{"placement": part}),
		Piece: w.text("Piece"), How: w.text("Worked out"), Volume: w.text("Volume"), All: w.text("all together")}
}

// Hundredths is a volume to check with a pencil: "4.94 yd".
func (w Bid) Hundredths(yd float64) string {
	if w.Units.Si {
		return Grouped(yd*w.Units.Volume.Factor, 2) + " m³"
	}
	return w.unit(Grouped(yd, 2), " yd")
}

// PieceName is what a piece is.
func (w Bid) PieceName(p bid.Piece) string {
	if p.Hole > 0 {
		return w.say("less hole {n}", with{"n": Count(p.Hole)})
	}
	side := with{"side": Count(p.Side)}
	switch p.Kind {
	case shape.OfTriangle:
		corners := make([]string, len(p.Corners))
		for i, c := range p.Corners {
			corners[i] = Count(c)
		}
		said := w.say("triangle of corners {corners}", with{"corners": strings.Join(corners, ", ")})
		if p.Half {
			return w.say("half of the {piece}", with{"piece": said})
		}
		return said
	case shape.OfBulge:
		if p.Ft3 < 0 {
			return w.say("less the hollow of side {side}", side)
		}
		return w.say("the bulge of side {side}", side)
	case shape.OfBand:
		return w.say("the stretch along side {side}", side)
	case shape.OfEdge:
		return w.say("thickened edge, side {side}", side)
	case shape.OfTaper, shape.OfWedge:
		return w.say("taper of the edge, side {side}", side)
	case shape.OfSteps:
		return w.text("steps, solid")
	case shape.OfWaist:
		return w.text("steps: the slab along the slope")
	case shape.OfRisers:
		return w.text("steps: the treads on it")
	case shape.OfCurb:
		return w.text("curb")
	}
	return w.text("slab")
}

// PieceHow is how a piece is worked out, in numbers.
func (w Bid) PieceHow(p bid.Piece) string {
	s := p.Sizes
	at := func(i int) float64 {
		if i < len(s) {
			return s[i]
		}
		return 0
	}
	switch p.Kind {
	case shape.OfRectangle:
		return w.times(w.exact(at(0)), w.exact(at(1)), w.deep(p, at(2)))
	case shape.OfTriangle:
		return w.times("½", w.exact(at(0)), w.exact(at(1)), w.deep(p, at(2)))
	case shape.OfCircle:
		return w.times("π", w.exact(at(0)), w.exact(at(0)), w.deep(p, at(1)))
	case shape.OfBand:
		return w.times(w.say("{length} along the middle", with{"length": w.exact(at(0))}), w.exact(at(1)), w.deep(p, at(2)))
	case shape.OfBulge:
		return w.times(w.say("{area} between the arc (radius {radius}) and its {chord} chord", with{"area": w.exactArea(at(2)), "radius": w.exact(at(0)), "chord": w.exact(at(1))}), w.deep(p, at(3)))
	case shape.OfArea:
		return w.times(w.exactArea(at(0)), w.deep(p, at(1)))
	}
	return w.pieceBeside(p, at)
}

// pieceBeside is that of what is poured in one with the slab.
func (w Bid) pieceBeside(p bid.Piece, at func(int) float64) string {
	n := p.Count
	switch p.Kind {
	case shape.OfEdge:
		return w.times(w.say("{length} along its middle", with{"length": w.exact(at(0))}), w.exactIn(at(1)), w.say("{depth} deeper", with{"depth": w.exactIn(at(2))}))
	case shape.OfTaper:
		return w.times("½", w.say("{length} along its middle", with{"length": w.exact(at(0))}), w.exactIn(at(1)), w.exactIn(at(2)))
	case shape.OfWedge:
		return w.times("("+w.exact(at(0))+" ÷ 3 + "+w.exact(at(1))+" ÷ 6)", w.exactIn(at(2)), w.exactIn(at(3)))
	case shape.OfSteps:
		sum := "1"
		if n > 1 {
			sum = w.say("(1 + … + {n} = {sum})", with{"n": Count(n), "sum": Count(n * (n + 1) / 2)})
		}
		return w.times(sum, w.exactIn(at(1)), w.exactIn(at(2)), w.exact(at(0)))
	case shape.OfWaist:
		return w.times(Count(n), "√("+w.exactIn(at(1))+"² + "+w.exactIn(at(2))+"²)", w.exactIn(at(3)), w.exact(at(0)))
	case shape.OfRisers:
		return w.times(Count(n), "½", w.exactIn(at(1)), w.exactIn(at(2)), w.exact(at(0)))
	case shape.OfCurb:
		return w.times(w.exact(at(0)), w.exactIn(at(1)), w.exactIn(at(2)))
	}
	return ""
}

func (w Bid) times(factors ...string) string { return strings.Join(factors, " × ") }

// deep is a depth, with those that it is the mean of where they differ.
func (w Bid) deep(p bid.Piece, mean float64) string {
	if len(p.DepthsIn) < 2 {
		return w.exactIn(mean)
	}
	each := make([]string, len(p.DepthsIn))
	for i, d := range p.DepthsIn {
		each[i] = trimmed(d, 2)
		if w.Units.Si {
			each[i] = trimmed(25.4*d, 0)
		}
	}
	return w.say("{mean} (mean of {depths})", with{"mean": w.exactIn(mean), "depths": strings.Join(each, ", ")})
}

// exact is a length for a pencil: to a hundredth of a foot.
func (w Bid) exact(ft float64) string {
	if w.Units.Si {
		return trimmed(ft*w.Units.Spacing.Factor, 3) + " m"
	}
	return w.unit(trimmed(ft, 2), " ft")
}

func (w Bid) exactIn(in float64) string {
	if w.Units.Si {
		return trimmed(25.4*in, 1) + " mm"
	}
	return w.unit(trimmed(in, 3), " in")
}

func (w Bid) exactArea(ft2 float64) string {
	if w.Units.Si {
		return trimmed(ft2*w.Units.Area.Factor, 3) + " m²"
	}
	return w.unit(trimmed(ft2, 2), " sq ft")
}
