package say

import (
	"testing"

	"pourback/analysis/bid"
)

// TestComparedInWords: what was entered is named as the form names it, and shares
// differ by points.
func TestComparedInWords(t *testing.T) {
	w, es := Compared{New("", "", "")}, Compared{New("es", "", "")}
	for _, c := range []struct{ got, want string }{
		{w.Key(bid.SpecChange{Key: "thickness_in"}), "Thickness, in"},
		{w.Key(bid.SpecChange{Of: "drive", Key: "joint_spacing_ft"}), "drive, Joints no farther apart than, ft"},
		{w.Key(bid.SpecChange{Key: "items.permit"}), "Cost: permit"},
		{es.Key(bid.SpecChange{Key: "thickness_in"}), "Espesor, pulg."},
		{w.Entered("thickness_in", "4.5"), "4.5"}, {w.Entered("target_margin", "0.25"), "25%"}, {w.Entered("outline", "[[0,0],[1,0.5]]"), "as entered"},
		{w.Entered("steps.solid", "true"), "yes"}, {w.Entered("crew", ""), "not given"}, {es.Entered("method", "pump"), "bomba"},
		{w.Amount("share", 0.25, false), "25%"}, {w.Amount("share", 0.015, true), "+1.5 points"}, {w.Amount("share", -0.01, true), "−1 point"}, {es.Amount("share", 0.02, true), "+2 puntos"},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
}
