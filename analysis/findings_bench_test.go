package analysis

import (
	"fmt"
	"testing"
)

func BenchmarkFindings(b *testing.B) {
	for _, n := range []int{100_000, 1_000_000} {
		h := flatHistory(n)
		opt, _ := Options{}.complete()
		f := answersTo(b, h, opt, "crews", "pump", "margin")
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				findings(h, f, opt)
			}
		})
	}
}
