package interval_test

import (
	"fmt"

	"pourback/analysis/stat/interval"
)

// Three callbacks in forty slabs: what the rate may be.
func ExampleWilson() {
	e, err := interval.Wilson(3, 40, 0.95)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f %% (%.1f to %.1f)\n", 100*e.Value, 100*e.Low, 100*e.High)
	// Output: 7.5 % (2.6 to 19.9)
}

// No clog in 900 yd still leaves room for one in some 250.
func ExampleGarwood() {
	e, err := interval.Garwood(0, 9, 0.95) // exposure in 100 yd
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f per 100 yd (%.2f to %.2f)\n", e.Value, e.Low, e.High)
	// Output: 0.00 per 100 yd (0.00 to 0.41)
}

// A bound that the next job stays under nine times in ten needs nine jobs.
func ExampleConformalUpper() {
	_, err := interval.ConformalUpper([]float64{4.1, 5.0, 4.4}, 0.9)
	fmt.Println(err)
	// Output: 3 values, want at least 9 to bound the next at 0.9: too few observations
}
