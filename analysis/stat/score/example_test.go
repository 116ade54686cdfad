package score_test

import (
	"fmt"

	"pourback/analysis/stat/score"
)

// A load of 11 yd³ at $162.25 against 10 planned at $160: where $184.75 went.
func ExampleMaterial_Variance() {
	m := score.Material{
		Planned: 10_000, Built: 10_200, Used: 10_500, Delivered: 11_000, // thousandths of a yd³
		StandardPrice: 1_600_000, ActualPrice: 1_622_500, // hundredths of a cent
	}
	v, err := m.Variance()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("price %d, geometry %d, use %d, leftover %d: %d cents over\n", v.Price, v.Geometry, v.Use, v.Leftover, v.Total)
	// Output: price 2475, geometry 3200, use 4800, leftover 8000: 18475 cents over
}
