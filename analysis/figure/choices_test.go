package figure

import (
	"encoding/json"
	"math"
	"slices"
	"testing"
)

// So many loaves as are a third of the guests, in whole ones: 31 guests want 11,
// 30 want 10 and 34 want 12. The price changes none, and what has no answer at an
// end is left out.
func TestChoicesByHand(t *testing.T) {
	loaves := func(guests float64) float64 { return math.Ceil(guests / 3) }
	levers := Choices([]Input{
		{What: "price", Unit: Dollar, Value: 2, Low: 1, High: 4, Comes: func(float64) float64 { return loaves(31) }},
		{What: "guests", Value: 31, Low: 20, High: 40, Comes: loaves},
		{What: "weather", Value: 1, Low: 0.5, High: 2, Comes: func(v float64) float64 { return math.Sqrt(1 - v) }},
	})
	if len(levers) != 2 || levers[0].Input != "guests" || levers[1].Input != "price" {
		t.Fatalf("%+v", levers)
	}
	g, p := levers[0], levers[1]
	if g.AtLow != 7 || g.AtHigh != 14 || g.Now != 11 || !g.Within || g.Turns.V > 30 || g.Turns.V < 29.7 {
		t.Errorf("%+v: want about 30", g)
	}
	if p.Turns.OK || p.Within || p.AtLow != 11 || p.AtHigh != 11 {
		t.Errorf("%+v", p)
	}
}

// What a lever turns at is read as it was written, known or not: kept bids are.
func TestLeversAreReadAsWritten(t *testing.T) {
	want := []Lever{{Input: "hours", Value: 40, Low: 33, High: 50, AtLow: 20, AtHigh: -5, Turns: Known(47.5), Within: true}, {Input: "yards"}}
	text, err := json.Marshal(want)
	if err != nil {
		t.Fatal(err)
	}
	var got []Lever
	if err := json.Unmarshal(text, &got); err != nil || !slices.Equal(got, want) {
		t.Errorf("%+v, %v: want %+v", got, err, want)
	}
}
