package pool

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"pourback/analysis/stat/regress"
)

// overageModel has the priors and grid of the overage page.
func overageModel() Model {
	r, kappa := DefaultGrid()
	return Model{
		Prior: Prior{Mean: []float64{.05, .10, .35}, SD: []float64{.05, .25, .35}, Sigma: .05, Nu: 4, RScale: .75},
		GridR: r, GridKappa: kappa,
	}
}

// placements draws n rows of invented overage with the given number of groups;
// giant puts all but one row in each other group into group 0.
func placements(n, groups int, giant bool) Data {
	rng := rand.New(rand.NewPCG(1, 2))
	d := Data{X: regress.Design{regress.Ones(n), make([]float64, n), make([]float64, n)}, Y: make([]float64, n), H: make([]float64, n), Group: make([]int, n)}
	effect := make([]float64, groups)
	for g := range effect {
		effect[g] = .02 * rng.NormFloat64()
	}
	for i := range n {
		v := 2 + 20*rng.Float64()
		d.H[i] = 1 / v
		d.Group[i] = rng.IntN(groups)
		if giant && i >= groups {
			d.Group[i] = 0
		}
		d.X[1+rng.IntN(2)][i] = 1 / v
		d.Y[i] = .055 + .1*d.X[1][i] + .3*d.X[2][i] + effect[d.Group[i]] + .04*math.Sqrt(1+2/v)*rng.NormFloat64()
	}
	return d
}

// BenchmarkOverage is the row "hierarchical overage model" of the speed goals:
// the whole grid, and three quantiles of the next placement of each of the uses.
func BenchmarkOverage(b *testing.B) {
	for _, n := range []int{1_000, 100_000, 1_000_000} {
		benchFit(b, fmt.Sprintf("n=%d", n), placements(n, 10, false))
	}
}

// BenchmarkOverageHostile has ten thousand groups, and one giant one.
func BenchmarkOverageHostile(b *testing.B) {
	for _, n := range []int{100_000, 1_000_000} {
		benchFit(b, fmt.Sprintf("groups=10000/n=%d", n), placements(n, 10_000, false))
		benchFit(b, fmt.Sprintf("giant/n=%d", n), placements(n, 10, true))
	}
}

func benchFit(b *testing.B, name string, d Data) {
	b.Run(name, func(b *testing.B) {
		m := overageModel()
		b.ReportAllocs()
		for b.Loop() {
			post, err := m.Fit(d)
			if err != nil {
				b.Fatal(err)
			}
			for use := range 10 {
				next, err := post.Predict([]float64{1, .2, 0}, .2, use)
				if err != nil {
					b.Fatal(err)
				}
				for _, p := range []float64{.1, .5, .9} {
					next.Quantile(p)
				}
			}
		}
	})
}

func BenchmarkPredictiveQuantile(b *testing.B) {
	post, err := overageModel().Fit(placements(500, 10, false))
	if err != nil {
		b.Fatal(err)
	}
	next, err := post.Predict([]float64{1, .2, 0}, .2, 3)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		next.Quantile(.9)
	}
}
