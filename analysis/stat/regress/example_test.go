package regress_test

import (
	"errors"
	"fmt"
	"math"

	"pourback/analysis/stat"
	"pourback/analysis/stat/regress"
)

// Hours against area on the log scale: what the next 600 ft² may take.
func ExampleLinear_At() {
	area := []float64{220, 300, 340, 410, 480, 560, 700, 900}
	hours := []float64{9, 12.5, 13, 15.5, 20, 21, 27, 32}
	x := regress.Design{regress.Ones(len(area)), make([]float64, len(area))}
	y := make([]float64, len(area))
	for i := range area {
		x[1][i], y[i] = math.Log(area[i]), math.Log(hours[i])
	}
	fit, err := regress.OLS(x, y)
	if err != nil {
		fmt.Println(err)
		return
	}
	row := []float64{1, math.Log(600)}
	next, err := fit.At(row, 1)
	if err != nil {
		fmt.Println(err)
		return
	}
	mean, err := fit.LognormalMean(row)
	fmt.Printf("half the time under %.1f h, nine times in ten under %.1f h; mean %.1f h %v\n",
		math.Exp(next.Quantile(.5)), math.Exp(next.Quantile(.9)), mean, err)
	// Output: half the time under 22.8 h, nine times in ten under 24.4 h; mean 22.8 h <nil>
}

// No callback in the rebar arm: maximum likelihood has no answer and says why,
// Firth's method has one with a wide interval.
func ExampleFirth() {
	x := regress.Design{{1, 1}, {0, 1}} // intercept, rebar
	callbacks, placements := []float64{6, 0}, []float64{80, 30}
	_, err := regress.Logistic(x, callbacks, placements)
	fmt.Println(errors.Is(err, stat.ErrSeparated))
	fit, err := regress.Firth(x, callbacks, placements)
	if err != nil {
		fmt.Println(err)
		return
	}
	limits, err := fit.Profile(1, .95)
	fmt.Printf("odds ratio %.2f (%.3f to %.2f) %v\n", math.Exp(limits.Value), math.Exp(limits.Low), math.Exp(limits.High), err)
	// Output:
	// true
	// odds ratio 0.19 (0.001 to 1.67) <nil>
}
