package survival_test

import (
	"fmt"

	"pourback/analysis/stat/survival"
)

// Twelve driveways, days to the first crack callback or to the data date.
func ExampleKM_Risk() {
	days := []float64{90, 400, 210, 500, 365, 700, 120, 330, 800, 640, 150, 90}
	callback := []bool{true, false, true, false, false, false, false, false, false, false, false, false}
	km, err := survival.KaplanMeier(days, callback)
	if err != nil {
		fmt.Println(err)
		return
	}
	risk, err := km.Risk(365, .95)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.3f (%.3f to %.3f), %d followed for the whole year\n", risk.Value, risk.Low, risk.High, risk.N)

	// No callback at all: the limits say how little that proves.
	km, err = survival.KaplanMeier(days, make([]bool, len(days)))
	if err != nil {
		fmt.Println(err)
		return
	}
	risk, err = km.Risk(365, .95)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.3f (%.3f to %.3f): %s\n", risk.Value, risk.Low, risk.High, risk.Method)
	// Output:
	// 0.198 (0.052 to 0.597), 6 followed for the whole year
	// 0.000 (0.000 to 0.459): Kaplan-Meier; no events, Clopper-Pearson limit on the 6 at risk
}

// Rebar went into the hot months: the risks of the two arms as if each had all
// the placements and their temperatures.
func ExampleCox_StandardisedRisk() {
	data := survival.CoxData{
		Time:  []float64{60, 365, 200, 365, 365, 90, 365, 365, 300, 365, 150, 365},
		Event: []bool{true, false, true, false, false, true, false, false, true, false, true, false},
		X: [][]float64{
			{1, 1, 1, 0, 0, 0, 0, 0, 0, 1, 1, 0},             // rebar
			{95, 88, 92, 60, 55, 90, 70, 62, 78, 85, 97, 66}, // temperature
		},
		Names: []string{"rebar", "temperature"},
	}
	fit, err := survival.FitCox(data, survival.CoxOptions{Ties: survival.Breslow, Firth: true})
	if err != nil {
		fmt.Println(err)
		return
	}
	s, err := fit.StandardisedRisk(365, survival.Arm{0: 0}, survival.Arm{0: 1})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("mesh %.2f, rebar %.2f\n", s.Risk[0], s.Risk[1])
	ratio, err := fit.Profile(0, .95)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("hazard ratio %.2f (%.2f to %.2f) from %d callbacks\n", ratio.Value, ratio.Low, ratio.High, ratio.N)
	// Output:
	// mesh 0.55, rebar 0.35
	// hazard ratio 0.05 (0.00 to 0.73) from 5 callbacks
}

// Young slabs, 30 to 300 days old, at 1,800 dollars a callback.
func ExampleKM_Reserve() {
	days := []float64{90, 400, 210, 500, 365, 700, 120, 330, 800, 640, 150, 90}
	callback := []bool{true, false, true, false, false, false, false, true, false, false, false, false}
	km, err := survival.KaplanMeier(days, callback)
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := km.Reserve([]float64{30, 120, 300}, 365, 1800, .95)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f dollars (%.0f to %.0f)\n", r.Value, r.Low, r.High)
	// Output:
	// 1270 dollars (0 to 4202)
}
