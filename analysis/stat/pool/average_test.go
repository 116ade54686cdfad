package pool

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"pourback/analysis/stat/regress"
)

// A group's difference from the average is that of the law of the whole contrast,
// 1 − 1/G for it and −1/G for the others, and all of them add up to nothing.
func TestFromAverageAgreesWithTheContrast(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(6, 30).Draw(t, "n")
		d := Data{X: regress.Design{make([]float64, n)}, Y: make([]float64, n), Group: make([]int, n)}
		for i := range n {
			d.X[0][i], d.Group[i] = 1, i%3
			d.Y[i] = rapid.Float64Range(-2, 2).Draw(t, "y")
		}
		r, _ := DefaultGrid()
		post, err := Model{GridR: r, GridKappa: []float64{0}, Prior: Prior{Mean: []float64{0}, SD: []float64{1}, Sigma: 1, Nu: 4, RScale: .75}}.Fit(d)
		if err != nil {
			t.Fatal(err)
		}
		same := func(what string, a, b Mixture) {
			if math.Abs(a.Mean()-b.Mean()) > 1e-12 || math.Abs(a.Var()-b.Var()) > 1e-12*(1+b.Var()) {
				t.Fatalf("%s: %v ± %v, want %v ± %v", what, a.Mean(), a.Var(), b.Mean(), b.Var())
			}
		}
		must := func(m Mixture, err error) Mixture {
			if err != nil {
				t.Fatal(err)
			}
			return m
		}
		from, sum := post.FromAverage(), 0.0
		for g := range 3 {
			terms := []term{{0, -1. / 3}, {1, -1. / 3}, {2, -1. / 3}}
			terms[g].times++
			same("contrast", must(from.Of(g)), must(post.law([]float64{0}, noError, terms...)))
			sum += must(from.Of(g)).Mean()
		}
		if _, err := from.Of(3); err == nil {
			t.Fatal("there is no fourth group")
		}
		if math.Abs(sum) > 1e-12 {
			t.Fatalf("differences from the average add up to %v", sum)
		}
	})
}
