package regress

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/mathext"

	"pourback/analysis/stat"
)

// ToleranceFactor is the k for which mean + k·sd of n normal outcomes is, with
// this confidence, above the share content of all outcomes:
// k = t'_{confidence, n−1}(z_content·√n)/√n, t' the noncentral t quantile (Hahn
// & Meeker 1991, Statistical Intervals, §4.6.3).
func ToleranceFactor(n int, content, confidence float64) (float64, error) {
	if n < 2 {
		return 0, fmt.Errorf("tolerance bound from %d outcomes, two are needed: %w", n, stat.ErrTooFew)
	}
	if !(content > 0 && content < 1) {
		return 0, fmt.Errorf("content %v is not between 0 and 1: %w", content, stat.ErrDomain)
	}
	if err := stat.CheckLevel(confidence); err != nil {
		return 0, err
	}
	root := math.Sqrt(float64(n))
	nu, delta := float64(n-1), mathext.NormalQuantile(content)*root
	excess := func(t float64) (float64, error) { return noncentralT(t, nu, delta) - confidence, nil }
	low, high := delta-1, delta+1
	for span := 1.0; noncentralT(low, nu, delta) > confidence; span *= 2 {
		low -= span
	}
	for span := 1.0; noncentralT(high, nu, delta) < confidence; span *= 2 {
		high += span
	}
	t, err := Root(excess, low, high)
	return t / root, err
}

// noncentralT is P(T ≤ t) for T = (Z+δ)/U, U = √(χ²_ν/ν), by quadrature over
// whichever of Z and U leaves the smoother integrand.
func noncentralT(t, nu, delta float64) float64 {
	if t < 0 {
		return 1 - noncentralT(-t, nu, -delta)
	}
	normal := func(z float64) float64 { return math.Erfc(-z/math.Sqrt2) / 2 }
	if t <= math.Sqrt(2*nu) {
		weight := func(u float64) float64 { return math.Exp((nu-1)*math.Log(u) - nu*(u*u-1)/2) }
		spread := 13 / math.Sqrt(2*nu)
		low, high := math.Max(0, 1-spread), 1+spread
		total := panels(weight, low, high)
		return panels(func(u float64) float64 { return weight(u) * normal(t*u-delta) }, low, high) / total
	}
	above := func(z float64) float64 {
		u := (z + delta) / t
		return math.Exp(-z*z/2) / math.Sqrt(2*math.Pi) * mathext.GammaIncRegComp(nu/2, nu*u*u/2)
	}
	if delta < -39 {
		return 1
	}
	return normal(-delta) + panels(above, math.Max(-delta, -39), 39)
}

// panels integrates f by Gauss-Legendre quadrature on 64 equal panels.
func panels(f func(float64) float64, low, high float64) float64 {
	const n = 64
	sum, width := 0.0, (high-low)/n
	for k := range n {
		sum += quad.Fixed(f, low+float64(k)*width, low+float64(k+1)*width, 16, quad.Legendre{}, 0)
	}
	return sum
}
