package figure

import (
	"math"
	"testing"
)

// A van costs 30,000 or 100 a trip: bought where 100 × trips > 30,000. With
// 400 trips (350 to 450) it is worth 10,000, and turns at 300, log(4/3) =
// 2.3 halves of log(9/7) away; with a fare of 100 (60 to 140) at 75, within the
// range. The price (29,000 to 31,000) turns it at 40,000, 8.6 halves away. What
// is known exactly is no lever.
func TestLeversByHand(t *testing.T) {
	worth := func(trips, fare, price float64) float64 { return trips*fare - price }
	levers := Levers([]Input{
		{"price", Dollar, 30_000, 29_000, 31_000, 0, func(v float64) float64 { return worth(400, 100, v) }},
		{"trips", AYear, 400, 350, 450, 0, func(v float64) float64 { return worth(v, 100, 30_000) }},
		{"color", NoUnit, 1, 1, 1, 0, func(float64) float64 { return 10_000 }},
		{"mood", NoUnit, 1, 0.5, 2, 0, func(v float64) float64 { return 10_000 + v }},
		{"luck", Chance, 0.4, 0.3, 0.5, 1, func(v float64) float64 { return 25_000 - 15_000*v }}, // would turn at 1.67
		{"fare", Dollar, 100, 60, 140, 0, func(v float64) float64 { return worth(400, v, 30_000) }},
	})
	want := []Lever{
		{Input: "fare", Unit: Dollar, Value: 100, Low: 60, High: 140, AtLow: -6_000, AtHigh: 26_000, Turns: Known(75), Within: true, Now: 10_000},
		{Input: "trips", Unit: AYear, Value: 400, Low: 350, High: 450, AtLow: 5_000, AtHigh: 15_000, Turns: Known(300), Now: 10_000},
		{Input: "price", Unit: Dollar, Value: 30_000, Low: 29_000, High: 31_000, AtLow: 11_000, AtHigh: 9_000, Turns: Known(40_000), Now: 10_000},
		{Input: "luck", Unit: Chance, Value: 0.4, Low: 0.3, High: 0.5, AtLow: 20_500, AtHigh: 17_500, Now: 19_000},
		{Input: "mood", Value: 1, Low: 0.5, High: 2, AtLow: 10_000.5, AtHigh: 10_002, Now: 10_001},
	}
	if len(levers) != len(want) {
		t.Fatalf("%+v", levers)
	}
	for i, l := range levers {
		if math.Abs(l.Turns.V-want[i].Turns.V) > 1e-9 {
			t.Errorf("%s turns at %v, want %v", l.Input, l.Turns.V, want[i].Turns.V)
		}
		l.Turns.V = want[i].Turns.V
		if l != want[i] {
			t.Errorf("%+v\nwant %+v", l, want[i])
		}
	}
}
