package survival

import (
	"math"
	"testing"
)

// Months to breast retraction (Finkelstein & Wolfe 1985, Biometrics 41,
// 933-945): radiotherapy alone, and with chemotherapy. Data and masses, as
// printed to four places with the R package interval, are from memory; each
// confirms the other, as a wrong datum would move the masses.
var inf = math.Inf(1)

var radiotherapy = []Interval{
	{45, inf}, {6, 10}, {0, 7}, {46, inf}, {46, inf}, {7, 16}, {17, inf}, {7, 14}, {37, 44}, {0, 8},
	{4, 11}, {15, inf}, {11, 15}, {22, inf}, {46, inf}, {46, inf}, {25, 37}, {46, inf}, {26, 40}, {46, inf},
	{27, 34}, {36, 44}, {46, inf}, {36, 48}, {37, inf}, {40, inf}, {17, 25}, {46, inf}, {11, 18}, {38, inf},
	{5, 12}, {37, inf}, {0, 5}, {18, inf}, {24, inf}, {36, inf}, {5, 11}, {19, 35}, {17, 25}, {24, inf},
	{32, inf}, {33, inf}, {19, 26}, {37, inf}, {34, inf}, {36, inf},
}

func TestTurnbullBreastRetraction(t *testing.T) {
	want := []struct {
		at   Interval
		mass float64
	}{{Interval{4, 5}, .0463}, {Interval{6, 7}, .0334}, {Interval{7, 8}, .0887}, {Interval{11, 12}, .0708},
		{Interval{24, 25}, .0926}, {Interval{33, 34}, .0818}, {Interval{38, 40}, .1209}, {Interval{46, 48}, .4656}}
	fit, err := TurnbullNPMLE(radiotherapy)
	if err != nil {
		t.Fatal(err)
	}
	if !fit.Converged || len(fit.Mass) != len(want) {
		t.Fatalf("%+v", fit)
	}
	for j, w := range want {
		if fit.At[j] != w.at {
			t.Errorf("interval %d: %v, want %v", j, fit.At[j], w.at)
		}
		near(t, "mass", fit.Mass[j], w.mass, 6e-5)
	}
}
