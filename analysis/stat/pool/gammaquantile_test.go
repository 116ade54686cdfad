package pool

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mathext"
)

// clogs is the law of an outfit's rate as it comes from a grid of shapes and means
// for each of ten dispersions: some three thousand components.
func clogs(t testing.TB, outfit int) GammaMixture {
	events, exposure := []float64{12, 9, 20, 0}, []float64{15, 12, 14, 6}
	d := Dispersion{Phi: dispersionGrid, Weight: []float64{.3, .25, .2, .1, .06, .04, .03, .01, .005, .005}}
	m, err := d.Dispersed(func(phi float64) (GammaMixture, error) {
		y, e := make([]float64, len(events)), make([]float64, len(events))
		for i := range y {
			y[i], e[i] = events[i]/phi, exposure[i]/phi
		}
		g, err := GammaPoissonGrid(y, e, WideRatePrior())
		if err != nil {
			return GammaMixture{}, err
		}
		return g.Outfit(outfit)
	})
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// slowQuantile is the quantile by the library's incomplete gamma function and a
// bracketed root.
func slowQuantile(m GammaMixture, p float64) float64 {
	return positiveQuantile(func(x float64) float64 {
		sum := 0.0
		for k, w := range m.Weight {
			sum += w * mathext.GammaIncReg(m.Shape[k], m.Rate[k]*x)
		}
		return math.Min(sum, 1)
	}, p, m.Mean())
}

// Newton's steps on shared series give the root that the library's function has.
func TestGammaQuantileAgainstRoot(t *testing.T) {
	laws := map[string]GammaMixture{
		"many clogs": clogs(t, 2), "no clog": clogs(t, 3),
		"one, all but zero":   {Weight: []float64{1}, Shape: []float64{0.02}, Rate: []float64{3}},
		"one, all but a line": {Weight: []float64{1}, Shape: []float64{0.3}, Rate: []float64{1e-3}},
		"one, all but sure":   {Weight: []float64{1}, Shape: []float64{1e7}, Rate: []float64{2e6}},
		"far apart":           {Weight: []float64{0.4, 0.6}, Shape: []float64{400, 20}, Rate: []float64{4, 4000}},
		"on the bound":        {Weight: []float64{0.3, 0.7}, Shape: []float64{63.9, 64.1}, Rate: []float64{1, 1}},
	}
	for name, law := range laws {
		for _, p := range []float64{1e-4, 0.05, 0.5, 0.95, 1 - 1e-4} {
			// No closer than the rounding of a probability: 1e-16 over the density.
			near(t, name, law.Quantile(p)/slowQuantile(law, p), 1, 4e-13+1e-15/min(p, 1-p))
		}
	}
}

// The series is good to the digits that its front factor keeps.
func TestLowerGamma(t *testing.T) {
	var of lowerGammas
	for _, a := range []float64{0.01, 0.3, 1, 7.5, 30, 64} {
		for x := 1e-6; x < 200; x *= 1.7 {
			got, slope := of.shape(a).at(x)
			near(t, "P(a, x)", got, mathext.GammaIncReg(a, x), 1e-13)
			const h = 1e-5
			near(t, "slope in log x", slope, (mathext.GammaIncReg(a, x*math.Exp(h))-mathext.GammaIncReg(a, x*math.Exp(-h)))/(2*h), 1e-8)
		}
	}
}

func BenchmarkGammaQuantile(b *testing.B) {
	law := clogs(b, 0)
	b.Run("here", func(b *testing.B) {
		for b.Loop() {
			law.Quantile(0.05)
		}
	})
	b.Run("root of the library's function", func(b *testing.B) {
		for b.Loop() {
			slowQuantile(law, 0.05)
		}
	})
}
