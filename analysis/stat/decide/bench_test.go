package decide

import (
	"math"
	"math/rand/v2"
	"testing"

	"pourback/analysis/stat/interval"
	"pourback/analysis/stat/resample"
)

const benchDraws = 1_000_000

// BenchmarkBidSimulation does what numpy and R are timed at: a million draws of
// yards, labor, clogs and callback; the cheapest of 41 order sizes; quantiles
// of the total; the chance of a loss at 31 bids.
func BenchmarkBidSimulation(b *testing.B) {
	need, rest, total := make([]float64, benchDraws), make([]float64, benchDraws), make([]float64, benchDraws)
	noClog := math.Exp(-.4 * .28)
	b.ReportAllocs()
	for b.Loop() {
		err := resample.MonteCarlo(benchDraws, 1, func(rng *rand.Rand, lo, hi int) {
			for i := lo; i < hi; i++ {
				need[i] = 27 * math.Exp(.055+.075*rng.NormFloat64())
				rest[i] = 400 + 46*58*math.Exp(.2*rng.NormFloat64()) + 90*float64(poisson(rng, noClog))
				if rng.Float64() < .04 {
					rest[i] += 700
				}
			}
		})
		noError(b, err)
		costs := UnitCosts{Price: 165, Disposal: 45, Short: 260, Lacking: 210}
		sweep, err := SweepOrders(need, Grid{First: 26, Step: .25, Count: 41})
		noError(b, err)
		q := sweep.Grid.At(sweep.Cheapest(costs))
		resample.Blocks(benchDraws, func() func(int, int, int) {
			return func(_, lo, hi int) {
				for i := lo; i < hi; i++ {
					total[i] = rest[i] + costs.Price*q + costs.Disposal*max(0, q-need[i])
					if need[i] > q {
						total[i] += costs.Short + costs.Lacking*(need[i]-q)
					}
				}
			}
		})
		p, err := interval.Quantiles(total, .1, .5, .9)
		noError(b, err)
		bids, err := SweepOrders(total, Grid{First: p[1], Step: .01 * p[1], Count: 31})
		noError(b, err)
		// The peers' figures, with a standard error or so of room: 27.75 yd³,
		// 7360, 8154 and 9130 dollars, 13.9 % at 10 % over the median.
		near(b, "order", q, 27.75, 0)
		near(b, "first decile", p[0], 7360, 10)
		near(b, "median", p[1], 8154, 10)
		near(b, "last decile", p[2], 9130, 10)
		near(b, "chance of a loss", bids.Short[10], .139, .002)
	}
}

// poisson draws by the product of uniforms (Knuth 1969), for small means, of
// which it is handed e^−mean.
func poisson(rng *rand.Rand, limit float64) (k int) {
	for p := rng.Float64(); p > limit; p *= rng.Float64() {
		k++
	}
	return k
}

// The sweep alone, over needs that spread over the sizes, lie all upon one, or
// lie all beyond.
func BenchmarkSweepOrders(b *testing.B) {
	spread, tied, beyond := make([]float64, benchDraws), make([]float64, benchDraws), make([]float64, benchDraws)
	noError(b, resample.MonteCarlo(benchDraws, 1, func(rng *rand.Rand, lo, hi int) {
		for i := lo; i < hi; i++ {
			spread[i], tied[i], beyond[i] = 27*math.Exp(.055+.075*rng.NormFloat64()), 30, 1e6
		}
	}))
	for name, draws := range map[string][]float64{"spread": spread, "tied": tied, "beyond": beyond} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := SweepOrders(draws, Grid{First: 26, Step: .25, Count: 41}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// The best order for a mixture of 63 Student beliefs, as the overage model
// hands on.
func BenchmarkBestOrderOfMixture(b *testing.B) {
	var parts []Predictive
	var weights []float64
	for i := range 63 {
		u, err := Student(9+.01*float64(i), .4+.005*float64(i), 54)
		parts, weights = append(parts, belief(b, u, err)), append(weights, 1/(1+float64(i)))
	}
	u, err := Mixture(parts, weights)
	belief(b, u, err)
	costs := OrderCosts{Price: 162, Disposal: 40, Unplanned: 330, LeastBalance: 1, Increment: .25, Trucks: Trucks{Capacity: 10, LeastLoad: 7, ShortFee: 35}}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := costs.Best(u); err != nil {
			b.Fatal(err)
		}
	}
}
