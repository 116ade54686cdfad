package pool

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"pourback/analysis/stat/regress"
)

// Two groups against each other are Difference, one alone is Effect, and the
// differences from the average add up to nothing.
func TestContrastAgreesWithItsSpecialCases(t *testing.T) {
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
		same("difference", must(post.Contrast([]float64{1, -1, 0})), must(post.Difference(0, 1)))
		same("effect", must(post.Contrast([]float64{0, 1})), must(post.Effect(1)))
		sum := 0.0
		for g := range 3 {
			times := []float64{-1. / 3, -1. / 3, -1. / 3}
			times[g]++
			sum += must(post.Contrast(times)).Mean()
		}
		if math.Abs(sum) > 1e-12 {
			t.Fatalf("differences from the average add up to %v", sum)
		}
	})
}
