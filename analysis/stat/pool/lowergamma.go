package pool

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mathext"
)

// lowerGamma is the regularised lower incomplete gamma function P(a, x) of one
// shape a, for many x: what depends on the shape alone is made once.
type lowerGamma struct {
	shape    float64
	logGamma float64   // log Γ(a+1)
	over     []float64 // 1/(a+n), n from 1 on, as far as it was wanted
}

// largestSeries bounds a and x for the series; beyond it the library's expansions
// are faster, and the series' front factor begins to lose digits.
const largestSeries = 64

// usualTerms is how many terms the series mostly wants.
const usualTerms = 48

// lowerGammas are those of the shapes of a mixture.
type lowerGammas struct {
	all  []lowerGamma
	last int // asked for
}

// shape is the function of that shape. On a grid the shapes come in turn, so the
// next one is looked at first.
func (g *lowerGammas) shape(a float64) *lowerGamma {
	if g.last++; g.last >= len(g.all) || g.all[g.last].shape != a {
		g.last = slices.IndexFunc(g.all, func(l lowerGamma) bool { return l.shape == a })
	}
	if g.last < 0 {
		g.last = len(g.all)
		lg, _ := math.Lgamma(a + 1)
		g.all = append(g.all, lowerGamma{shape: a, logGamma: lg, over: make([]float64, 0, usualTerms)})
	}
	return &g.all[g.last]
}

// at is P(a, x) for x > 0, and its slope in log x. The series
// xᵃe⁻ˣ/Γ(a+1)·(1 + x/(a+1) + x²/((a+1)(a+2)) + …) has no subtraction in it
// (NIST Digital Library of Mathematical Functions, 8.11.4).
func (g *lowerGamma) at(x float64) (lower, slope float64) {
	front := math.Exp(g.shape*math.Log(x) - x - g.logGamma)
	if g.shape > largestSeries || x > largestSeries {
		return mathext.GammaIncReg(g.shape, x), front * g.shape
	}
	sum, term := 1.0, 1.0
	for n := 0; term > 1e-17*sum; n++ {
		if n == len(g.over) {
			g.over = append(g.over, 1/(g.shape+float64(n+1)))
		}
		term *= x * g.over[n]
		sum += term
	}
	return front * sum, front * g.shape
}
