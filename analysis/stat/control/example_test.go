package control_test

import (
	"fmt"

	"pourback/analysis/stat/control"
)

// A year of margins in percent, then four months judged by it: the third is
// worth a look, and a real change.
func ExampleXmR() {
	months := []float64{21, 19, 22, 20, 23, 21, 18, 20, 22, 21, 19, 20, 21, 22, 9, 20}
	c, err := control.XmR(months, 12)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f, limits %.1f to %.1f, strict %.1f to %.1f\n",
		c.Center, c.Natural.Low, c.Natural.High, c.Strict.Low, c.Strict.High)
	for _, s := range c.Signals {
		fmt.Println("month", s.Index+1, s.Rule)
	}
	// Output:
	// 20.5, limits 14.9 to 26.1, strict 11.7 to 29.3
	// month 15 outside the limits
	// month 15 outside the strict limits
	// month 15 jump from the point before
	// month 16 jump from the point before
}
