package interval_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"pourback/analysis/stat/interval"
)

// ratios are made-up overage ratios with the ties of yards rounded to ¼.
func ratios(n int) []float64 {
	r := rand.New(rand.NewPCG(1, uint64(n)))
	xs := make([]float64, n)
	for i := range xs {
		neat := 2 + 18*r.Float64()
		xs[i] = float64(int(4*neat*(1.05+0.05*r.NormFloat64()))) / 4 / neat
	}
	return xs
}

func groupsOf(n, groups int) []int {
	r := rand.New(rand.NewPCG(2, uint64(groups)))
	g := make([]int, n)
	for i := range g {
		g[i] = r.IntN(groups)
	}
	return g
}

// Grouped quantiles .1 .5 .9, the shapes being ordinary and hostile.
func BenchmarkGroupQuantiles(b *testing.B) {
	for _, n := range []int{100_000, 1_000_000} {
		xs := ratios(n)
		for _, groups := range []int{1, 12, 10_000} {
			group := groupsOf(n, groups)
			b.Run(fmt.Sprintf("n=%d/groups=%d", n, groups), func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					if _, err := interval.GroupQuantiles(xs, group, groups, .1, .5, .9); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}

func BenchmarkQuantiles(b *testing.B) {
	const n = 1_000_000
	shapes := map[string]func(i int) float64{
		"rising":     func(i int) float64 { return float64(i) },
		"falling":    func(i int) float64 { return float64(n - i) },
		"one value":  func(int) float64 { return 1 },
		"two values": func(i int) float64 { return float64(i & 1) },
		"organ pipe": func(i int) float64 { return float64(min(i, n-i)) },
		"saw":        func(i int) float64 { return float64(i % 1000) },
	}
	samples := map[string][]float64{"ratios": ratios(n)}
	for name, f := range shapes {
		xs := make([]float64, n)
		for i := range xs {
			xs[i] = f(i)
		}
		samples[name] = xs
	}
	for name, xs := range samples {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if _, err := interval.Quantiles(xs, .1, .5, .9); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkLimits(b *testing.B) {
	b.Run("Wilson", func(b *testing.B) {
		for b.Loop() {
			interval.Wilson(81, 263, 0.95)
		}
	})
	b.Run("ClopperPearson", func(b *testing.B) {
		for b.Loop() {
			interval.ClopperPearson(81, 263, 0.95)
		}
	})
	b.Run("Garwood", func(b *testing.B) {
		for b.Loop() {
			interval.Garwood(10, 31.5, 0.95)
		}
	})
	b.Run("MiettinenNurminen", func(b *testing.B) {
		for b.Loop() {
			interval.MiettinenNurminen(table(56, 70, 48, 80), 0.95)
		}
	})
	b.Run("FisherMillion", func(b *testing.B) {
		for b.Loop() {
			interval.Fisher(table(250_400, 500_000, 249_600, 500_000))
		}
	})
	b.Run("OddsRatioMillion", func(b *testing.B) {
		for b.Loop() {
			interval.OddsRatio(table(250_400, 500_000, 249_600, 500_000), 0.95)
		}
	})
	b.Run("EqualRatesNearCap", func(b *testing.B) {
		rates := make([]interval.Rate, 6)
		for i := range rates {
			rates[i] = interval.Rate{Events: 6 + i%3, Exposure: float64(100 + 7*i)}
		}
		for b.Loop() {
			t, err := interval.EqualRates(rates)
			if err != nil || !t.Exact {
				b.Fatal(t, err)
			}
		}
	})
}
