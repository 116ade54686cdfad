package bid

import (
	"errors"
	"math"
	"testing"

	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
	"pourback/analysis/shape"
)

func corners(o shape.Outline) [][]float64 {
	out := make([][]float64, len(o))
	for i, c := range o {
		out[i] = []float64{c.X, c.Y, c.Radius}
	}
	return out
}

// circle is one of diameterFt, its lower left bounds at the origin.
func circle(diameterFt float64) shape.Outline {
	r := diameterFt / 2
	return shape.Outline{{X: 0, Y: r, Radius: r}, {X: diameterFt, Y: r, Radius: r}}
}

// Six jobs worked by hand, as an owner would: volume, area, panels and feet to cut.
func TestShapesOfABid(t *testing.T) {
	slab := func(p Placement) Placement {
		p.Use = "patio"
		if p.ThicknessIn == 0 && len(p.Depths) == 0 {
			p.ThicknessIn = 4
		}
		return p
	}
	for _, c := range []struct {
		name     string
		p        Placement
		yd, sqft float64
		panels   int
		cutFt    float64
	}{
		// 960 × 5/324; joints 24 × 5 in = 10 ft apart: 3 × 24 + 2 × 40.
		{"driveway", Placement{LengthFt: 40, WidthFt: 24, ThicknessIn: 5}, 14.8148, 960, 12, 152},
		// 168 × 4/324; joints 8 ft apart at most: 2 × 2 of 7 × 6, 12 + 14.
		{"patio", Placement{LengthFt: 14, WidthFt: 12}, 2.0741, 168, 4, 26},
		// 272 × 4/324; upright at 6 (16 ft), 12 and 16 (10 ft each), level at 5 (20) and 10 (12).
		{"L patio", Placement{Outline: corners(shape.L(20, 16, 8, 6))}, 3.3580, 272, 10, 68},
		// 400 × 7/12 = 233.33 ft³; edge (20·7.85 + 20·2.15 + 36·5)/12 = 31.667 ft³: 265/27.
		{"edge on a slope", Placement{Outline: corners(shape.Rectangle(20, 20)), Depths: []float64{4, 4, 10, 10}, EdgeWidthIn: 12, EdgeDepthIn: 12}, 265. / 27, 400, 9, 80},
		// 10 × 7 × 12 in × 4 ft = 23.333 ft³, and no joints.
		{"steps", Placement{Steps: Steps{4, 7, 12, 4, true}, ThicknessIn: 4}, 23.33333 / 27, 16, 0, 0},
		// 15.708 × 4 ft = 62.83 ft² × 4/324; 4 panels, 3 joints of 4 ft.
		{"curved walk", Placement{Outline: [][]float64{{0, 12, 12}, {12, 0}, {12, 4, -8}, {4, 12}}}, 62.8319 * 4 / 324, 62.8319, 4, 12},
		// (225 − 4)·π = 694.29 ft² × 4/324; four joints of 13 ft from the hole, and four
		// chords of 2·√(15² − 7.5²) = 25.98 ft.
		{"circle", Placement{Outline: corners(circle(30)), Holes: [][][]float64{corners(circle(4).At(13, 13))}}, 694.2920 * 4 / 324, 694.2920, 16, 155.92},
	} {
		b := bidOf(t, stranger(), Spec{Draws: 10, Placements: []Placement{slab(c.p)}}, setting.Options{})
		part := b.Placements[0]
		trial.Near(t, c.name+": yards", b.NeatYd.Figure.Value, c.yd, 1e-4)
		trial.Near(t, c.name+": yards of the placement", part.NeatYd.Figure.Value, c.yd, 1e-4)
		trial.Near(t, c.name+": area", b.AreaSqft.Figure.Value, c.sqft, 1e-3)
		trial.Near(t, c.name+": joints", part.Joints.CutFt.Figure.Value, c.cutFt, 0.02)
		if len(part.Joints.Panels) != c.panels {
			t.Errorf("%s: %d panels, want %d", c.name, len(part.Joints.Panels), c.panels)
		}
		sum := 0.0
		for _, piece := range part.Pieces {
			sum += piece.Yd
		}
		trial.Near(t, c.name+": sum of the pieces", sum, c.yd, 1e-4)
	}
}

// What cannot be poured is refused by name, and nothing of it is kept.
func TestShapesThatAreRefused(t *testing.T) {
	square := corners(shape.Rectangle(10, 10))
	for field, p := range map[string]Placement{
		"outline":    {Outline: [][]float64{{0, 0}, {10, 10}, {10, 0}, {0, 10}}, ThicknessIn: 4},
		"holes":      {Outline: square, Holes: [][][]float64{corners(circle(4).At(9, 3))}, ThicknessIn: 4},
		"depths":     {Outline: square, Depths: []float64{4, 0, 4, 4}},
		"edge_depth": {Outline: square, ThicknessIn: 4, EdgeWidthIn: 12, EdgeDepthIn: 3},
		"edge_width": {Outline: square, ThicknessIn: 4, EdgeDepthIn: 12},
		"edge_sides": {Outline: square, ThicknessIn: 4, EdgeWidthIn: 12, EdgeDepthIn: 12, EdgeSides: []int{7}},
		"against":    {Outline: square, ThicknessIn: 4, Against: []int{5}},
		"steps":      {Steps: Steps{Risers: 3}, ThicknessIn: 4},
		"curb":       {Outline: square, ThicknessIn: 4, Curb: Curb{LengthFt: 3}},
	} {
		p.Use = "patio"
		b, err := Make(stranger(), Spec{Draws: 10, Placements: []Placement{p}}, setting.Options{})
		var wrong Problems
		if !errors.As(err, &wrong) || len(wrong) != 1 || wrong[0].Field != field || wrong[0].What != BadShape || b != nil {
			t.Errorf("%s: %v", field, err)
		}
	}
	both := Placement{Use: "patio", Outline: square, LengthFt: 10, WidthFt: 10, ThicknessIn: 4}
	if fatal := Check(Spec{Placements: []Placement{both}}).Fatal(); len(fatal) != 1 || fatal[0].What != OutlineAndSides {
		t.Errorf("%v", fatal)
	}
}

// The steel of the first: 16 bars of 39.5 ft with two laps each and 27 of 23.5 ft
// with one: 32 + 27 sticks, and of the rests three of 5.167 ft a stick, with the
// short ones of 2.833 ft beside and after them: 9 and 1. Ties at every second of
// 432 crossings and two at each of 59 laps. 24 sheets: 960 × 1.05/42.75 = 23.6.
func TestSteelToBuy(t *testing.T) {
	p := Placement{Use: "driveway", LengthFt: 40, WidthFt: 24, ThicknessIn: 5, Reinforcement: "rebar", Bar: "#4", BarSpacingIn: 18}
	b := bidOf(t, stranger(), Spec{Draws: 10, Placements: []Placement{p}}, setting.Options{})
	for _, way := range b.Placements[0].Steel {
		switch way.Way {
		case "rebar":
			if way.Takeoff.Lines != 43 || way.Takeoff.Laps != 59 || way.Sticks != 69 || way.Chairs != 60 || way.Ties != 216+118 {
				t.Errorf("%+v", way)
			}
		case "mesh":
			if way.Quantity != 24 || way.Rolls != 2 || way.Chairs != 60 {
				t.Errorf("%+v", way)
			}
		}
	}
	if len(b.Cautions) != 0 {
		t.Errorf("the default contradicts itself: %v", b.Cautions)
	}
	if feet := 1.05 * (16*39.5 + 32*20./12 + 27*23.5 + 27*20./12); math.Abs(b.Placements[0].Steel[2].Quantity-feet) > 1e-6 {
		t.Errorf("%v ft, want %v", b.Placements[0].Steel[2].Quantity, feet)
	}
}
