package money

import (
	"fmt"
	"testing"

	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
	"pourback/analysis/work"
)

func BenchmarkMargin(b *testing.B) {
	for _, n := range []int{100_000, 1_000_000} {
		h := trial.FlatHistory(n)
		model, err := work.FitHours(h, work.DefaultHoursPriors())
		if err != nil {
			b.Fatal(err)
		}
		opt, _ := setting.Options{}.Complete()
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				Of(h, opt, model)
			}
		})
	}
}
