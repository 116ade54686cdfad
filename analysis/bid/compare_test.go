package bid

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"testing"

	"pourback/analysis/setting"
)

// TestComparedBids: each quantity is that of its bid, what differs is marked and what
// does not is not, and the lines of cost make up the difference of the cost.
func TestComparedBids(t *testing.T) {
	spec := Spec{Draws: 2000, Placements: []Placement{{Use: "driveway", LengthFt: 40, WidthFt: 20, ThicknessIn: 4, Reinforcement: "none"}}}
	a := bidOf(t, stranger(), spec, setting.Options{})
	spec.Placements = []Placement{{Use: "driveway", LengthFt: 40, WidthFt: 20, ThicknessIn: 5, Reinforcement: "rebar"}}
	spec.Items, spec.Prices.ConcretePerYd = []Item{{"stamp", 300}}, 171
	b := bidOf(t, stranger(), spec, setting.Options{})
	c := Compare(&Kept{ID: 3, Bid: a}, &Kept{ID: 5, Bid: b})
	for what, want := range map[ComparedWhat][2]float64{
		CompareAsked: {a.Price.Asked, b.Price.Asked}, CompareOrder: {a.Days[0].Order.Yd, b.Days[0].Order.Yd}, CompareNeat: {800 * 4 / 324.0, 800 * 5 / 324.0},
		CompareHours: {a.Labor.Mean.Figure.Value, b.Labor.Mean.Figure.Value}, CompareLoss: {a.Price.ChanceOfLoss, b.Price.ChanceOfLoss}, CompareSteel: {0, b.Placements[0].Steel[2].WeightLb},
	} {
		if r := c.Row(what); math.Abs(r.One-want[0])+math.Abs(r.Other-want[1]) > 1e-9 {
			t.Errorf("%s: %v and %v, want %v", what, r.One, r.Other, want)
		}
	}
	if c.Row(CompareArea).Differs || c.Row(CompareTarget).Differs || !c.Row(CompareAsked).Differs || c.Same() {
		t.Errorf("%+v", c.Rows)
	}
	apart := 0.0
	for _, r := range c.Rows {
		if r.What == CompareCost {
			apart += r.Other - r.One
		}
	}
	if total := c.Row(CompareTotal); math.Abs(apart-(total.Other-total.One)) > 1e-6 {
		t.Errorf("lines come to %v more, the cost to %v", apart, total.Other-total.One)
	}
	big := c.Biggest()
	if len(big) == 0 || len(big) > mostNamed || !slices.ContainsFunc(big, func(r Compared) bool { return r.Item.Item == CostSteel }) {
		t.Errorf("the biggest are %+v", big)
	}
	want := "[{ thickness_in 4 5} { reinforcement none rebar} { concrete_per_yd  171} { items.stamp  300}]"
	if got := fmt.Sprint(c.Spec); got != want {
		t.Errorf("changes %s, want %s", got, want)
	}
	if !slices.ContainsFunc(c.Settings, func(s SettingChange) bool { return s.Other.Name == SetConcrete && s.Other.Value == 171 }) {
		t.Errorf("settings %+v", c.Settings)
	}
	if same := Compare(&Kept{ID: 3, Bid: a}, &Kept{ID: 4, Bid: a}); !same.Same() || len(same.Biggest()) > 0 || len(same.Settings) > 0 {
		t.Errorf("a bid beside itself: %+v", same)
	}
}

// TestSpecChangesOfPlacements are known by the placement's name, and shapes by their corners.
func TestSpecChangesOfPlacements(t *testing.T) {
	a := Spec{Crew: "Heron", Placements: []Placement{{Name: "drive", AreaSqft: 400}, {Use: "walkway", AreaSqft: 90, Steps: Steps{Risers: 2, RiseIn: 7}}}}
	b := Spec{Placements: []Placement{{Name: "drive", AreaSqft: 420, Outline: [][]float64{{0, 0}, {1, 0.5}}}, {Use: "walkway", AreaSqft: 90, Steps: Steps{Risers: 3, RiseIn: 7}}}}
	want := "[{ crew Heron } {drive area_sqft 400 420} {B steps.risers 2 3} {drive outline  [[0,0],[1,0.5]]}]"
	if got := fmt.Sprint(specChanges(a, b)); got != want {
		t.Errorf("%s, want %s", got, want)
	}
}

// TestCodesAreRecalled: a bid read from its JSON with its codes has every exported
// field of the first.
func TestCodesAreRecalled(t *testing.T) {
	for name, b := range explained(t) {
		text, err := json.Marshal(b)
		if err != nil {
			t.Fatal(err)
		}
		codes, err := json.Marshal(b.Codes())
		if err != nil {
			t.Fatal(err)
		}
		var again Bid
		var raw map[string]json.RawMessage
		if err := json.Unmarshal(text, &again); err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(codes, &raw); err != nil {
			t.Fatal(err)
		}
		if err := again.Recall(raw); err != nil {
			t.Fatal(err)
		}
		before, err := json.Marshal(b.Codes())
		if err != nil {
			t.Fatal(err)
		}
		after, err := json.Marshal(again.Codes())
		if err != nil || string(before) != string(after) || len(raw) < 50 {
			t.Errorf("%s: %d codes, %v", name, len(raw), err)
		}
		raw["Labor.Gone.3.Away"] = json.RawMessage(`"x"`)
		if err := again.Recall(raw); err != nil {
			t.Errorf("a field that is no more: %v", err)
		}
	}
}
