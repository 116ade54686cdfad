package findings

import (
	"fmt"
	"testing"

	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
)

func BenchmarkFindings(b *testing.B) {
	for _, n := range []int{100_000, 1_000_000} {
		h := trial.FlatHistory(n)
		opt, _ := setting.Options{}.Complete()
		f := answersTo(b, h, opt, "crews", "pump", "margin")
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				Of(h, f, opt)
			}
		})
	}
}
