package bid

import "fmt"

// timesIn100 is a chance in words.
func timesIn100(p float64) string {
	switch n := 100 * p; {
	case n < 0.5:
		return "less than once in 100"
	case n < 1.5:
		return "about once in 100"
	case n > 99.5:
		return "almost every time"
	default:
		return fmt.Sprintf("about %.0f times in 100", n)
	}
}
