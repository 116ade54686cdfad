package say

import (
	"testing"

	"pourback/analysis/bid"
)

// TestShapesOnAProposal: a circle and steps alone are said as a customer says them.
func TestShapesOnAProposal(t *testing.T) {
	w, es := Proposal{PourDay{Bid{New("", "", "")}}}, Proposal{PourDay{Bid{New("es", "si", "")}}}
	circle := bid.Placement{Outline: [][]float64{{15, 0, 15}, {-15, 0, 15}}, ThicknessIn: 4}
	solid := bid.Placement{Steps: bid.Steps{Risers: 3, RiseIn: 7, TreadIn: 11, WidthFt: 4, Solid: true}}
	onFill := bid.Placement{Steps: bid.Steps{Risers: 3, RiseIn: 7, TreadIn: 11, WidthFt: 4}, ThicknessIn: 5}
	round, steps := &bid.Part{AreaSqft: 706.858}, &bid.Part{AreaSqft: 11}
	round.Joints.Drawn = true
	for _, c := range []struct{ got, want string }{
		{w.Size(circle, round), "a circle 30 ft across, 707 sq ft"}, {es.Size(circle, round), "un círculo de 9.1 m de lado a lado, 66 m²"},
		{w.Thick(circle, 4), "4 in"},
		{w.Size(solid, steps), "3 steps, 4 ft wide"}, {w.Thick(solid, 9), "solid to the ground"}, {w.Thick(onFill, 9), "5 in under the steps"}, {w.JointsOf(solid, &steps.Joints), "no joints"},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
}
