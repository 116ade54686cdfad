package analysis

import (
	"fmt"
	"testing"
)

func BenchmarkMargin(b *testing.B) {
	for _, n := range []int{100_000, 1_000_000} {
		h := flatHistory(n)
		model, err := FitHours(h, DefaultHoursPriors())
		if err != nil {
			b.Fatal(err)
		}
		opt, _ := Options{}.complete()
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				margin(h, opt, model)
			}
		})
	}
}
