package shape

import "fmt"

// What is the matter with a shape.
type What string

// What may be the matter with a shape. The report has words for each.
const (
	FewCorners   What = "few corners"   // an outline encloses nothing: Value corners
	NoSide       What = "no side"       // of no length
	ArcShort     What = "arc short"     // Value is the radius, Limit the least that meets both corners
	Crosses      What = "crosses"       // side Side runs across side Other
	NoArea       What = "no area"       // the outline encloses nothing
	HoleOutside  What = "hole outside"  // not within the outline
	HolesMeet    What = "holes meet"    // Hole runs into hole Other
	DepthCount   What = "depth count"   // Value depths for Limit corners
	NoDepth      What = "no depth"      // at corner Corner
	EdgeShallow  What = "edge shallow"  // Value is the edge's depth, Limit the slab's beside it
	EdgeNarrow   What = "edge narrow"   // no width
	EdgeWide     What = "edge wide"     // thickened edges meet in the middle, or run past a side
	EdgeNoSide   What = "edge no side"  // Value is no number of a side, which are 1 to Limit
	EdgeOfArc    What = "edge of arc"   // along an arc with depths that differ
	EdgeInHole   What = "edge in hole"  // a thickened edge runs into hole Hole
	NoSteps      What = "no steps"      // a number or size of steps is not above 0
	NoCurb       What = "no curb"       // a size of a curb is not above 0
	ThickerWaist What = "thicker waist" // steps on fill need the thickness of their concrete
)

// Problem is one thing that is wrong with a shape, with the piece that has it.
// Corners and sides are counted from 1, as an owner counts them; side n runs from
// corner n. Hole is 0 where the outline itself has it.
type Problem struct {
	What         What
	Hole         int
	Side, Other  int
	Corner       int
	Value, Limit float64
}

func (p *Problem) Error() string {
	return fmt.Sprintf("%s: hole %d, side %d, other %d, corner %d: %v, %v", p.What, p.Hole, p.Side, p.Other, p.Corner, p.Value, p.Limit)
}
