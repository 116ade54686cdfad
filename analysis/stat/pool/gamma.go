package pool

import (
	"math"

	"gonum.org/v1/gonum/mathext"
	"gonum.org/v1/gonum/stat/distuv"

	"pourback/analysis/stat"
	"pourback/analysis/stat/regress"
)

// GammaMixture is the law of a rate: a mixture of gamma laws with these weights,
// shapes and rate parameters.
type GammaMixture struct {
	Weight, Shape, Rate []float64
	N                   int // events of the group itself
}

// Mean is the mean rate.
func (m GammaMixture) Mean() float64 {
	sum := 0.0
	for k, w := range m.Weight {
		sum += w * m.Shape[k] / m.Rate[k]
	}
	return sum
}

// Var is the variance of the rate.
func (m GammaMixture) Var() float64 {
	mean, sum := m.Mean(), 0.0
	for k, w := range m.Weight {
		d := m.Shape[k]/m.Rate[k] - mean
		sum += w * (m.Shape[k]/(m.Rate[k]*m.Rate[k]) + d*d)
	}
	return sum
}

// CDF is P(rate ≤ x).
func (m GammaMixture) CDF(x float64) float64 {
	cdf, _, _ := m.at(x, new(lowerGammas))
	return cdf
}

// at is P(rate ≤ x), with the density of the rate's logarithm there and its slope.
func (m GammaMixture) at(x float64, of *lowerGammas) (cdf, density, slope float64) {
	if x <= 0 {
		return 0, 0, 0
	}
	for k, w := range m.Weight {
		lower, d := of.shape(m.Shape[k]).at(m.Rate[k] * x)
		cdf += w * lower
		density += w * d
		slope += w * d * (m.Shape[k] - m.Rate[k]*x)
	}
	return math.Min(cdf, 1), density, slope
}

// Quantile is the rate with P(rate ≤ x) = p: zero at p ≤ 0, +∞ at p ≥ 1. It is
// found on the logarithm of the rate and the normal deviate of the probability, in
// which such laws are all but straight, by steps along a parabola inside a bracket.
func (m GammaMixture) Quantile(p float64) float64 { return m.quantile(p, new(lowerGammas)) }

func (m GammaMixture) quantile(p float64, of *lowerGammas) float64 {
	mean := m.Mean()
	switch {
	case p >= 1:
		return math.Inf(1)
	case p <= 0 || !(mean > 0):
		return 0
	}
	const near = 1e-5 // a step so short leaves an error of its cube
	spread := math.Log1p(m.Var() / (mean * mean))
	want := distuv.UnitNormal.Quantile(p)
	low, high := -745.0, 709.0 // logarithms of all numbers above zero
	x := math.Log(mean) - spread/2 + want*math.Sqrt(spread)
	for range 200 {
		if !(x > low && x < high) {
			x = low + (high-low)/2
		}
		cdf, density, slope := m.at(math.Exp(x), of)
		if cdf < p {
			low = x
		} else {
			high = x
		}
		z := distuv.UnitNormal.Quantile(cdf)
		rise := density / distuv.UnitNormal.Prob(z)
		bend := rise*slope/density + z*rise*rise
		step := 2 * (want - z) / (rise + math.Sqrt(rise*rise+2*bend*(want-z))) // NaN far out, where the next is the middle
		if math.Abs(step) < near {
			return math.Exp(x + step)
		}
		if high-low <= 1e-15*math.Abs(x) {
			break
		}
		x += step
	}
	return math.Exp(x)
}

// Interval is the mean with the central interval at this level.
func (m GammaMixture) Interval(level float64) (stat.Estimate, error) {
	if err := stat.CheckLevel(level); err != nil {
		return stat.Estimate{}, err
	}
	var of lowerGammas
	return stat.Estimate{Value: m.Mean(), Low: m.quantile((1-level)/2, &of), High: m.quantile((1+level)/2, &of), Level: level, N: m.N, Method: "gamma-Poisson, central interval on the group's events"}, nil
}

// Next is the law of the count in the next exposure, above zero: a mixture of
// negative binomials.
func (m GammaMixture) Next(exposure float64) (CountMixture, error) {
	if err := positive("exposure", exposure); err != nil {
		return CountMixture{}, err
	}
	out := CountMixture{Weight: m.Weight, Shape: m.Shape, Odds: make([]float64, len(m.Rate))}
	for k, b := range m.Rate {
		out.Odds[k] = exposure / b
	}
	return out, nil
}

// CountMixture is a mixture of negative binomial laws: with shape a and odds
// v/b, P(0) = (b/(b+v))^a (Greenwood & Yule 1920, JRSS 83, 255-279).
type CountMixture struct{ Weight, Shape, Odds []float64 }

// Mean is the expected count.
func (m CountMixture) Mean() float64 {
	sum := 0.0
	for k, w := range m.Weight {
		sum += w * m.Shape[k] * m.Odds[k]
	}
	return sum
}

// None is P(0).
func (m CountMixture) None() float64 {
	sum := 0.0
	for k, w := range m.Weight {
		sum += w * math.Exp(-m.Shape[k]*math.Log1p(m.Odds[k]))
	}
	return math.Min(sum, 1)
}

// AtLeastOne is P(≥1), kept accurate when it is small.
func (m CountMixture) AtLeastOne() float64 {
	sum := 0.0
	for k, w := range m.Weight {
		sum -= w * math.Expm1(-m.Shape[k]*math.Log1p(m.Odds[k]))
	}
	return math.Min(sum, 1)
}

// CDF is P(count ≤ n).
func (m CountMixture) CDF(n int) float64 {
	if n < 0 {
		return 0
	}
	sum := 0.0
	for k, w := range m.Weight {
		sum += w * mathext.RegIncBeta(m.Shape[k], float64(n)+1, 1/(1+m.Odds[k]))
	}
	return math.Min(sum, 1)
}

// Probability is P(count = n).
func (m CountMixture) Probability(n int) float64 {
	if n < 0 {
		return 0
	}
	sum, x := 0.0, float64(n)
	for k, w := range m.Weight {
		a, o := m.Shape[k], m.Odds[k]
		choose, _ := math.Lgamma(a + x)
		one, _ := math.Lgamma(a)
		two, _ := math.Lgamma(x + 1)
		sum += w * math.Exp(choose-one-two-a*math.Log1p(o)-x*math.Log1p(1/o))
	}
	return sum
}

// maxCount bounds [CountMixture.Quantile].
const maxCount = 1 << 40

// Quantile is the least count with P(count ≤ n) ≥ p, at most 2⁴⁰.
func (m CountMixture) Quantile(p float64) int {
	low, high := -1, 1
	for m.CDF(high) < p && high < maxCount {
		low, high = high, 2*high
	}
	for high-low > 1 {
		if mid := low + (high-low)/2; m.CDF(mid) < p {
			low = mid
		} else {
			high = mid
		}
	}
	return high
}

// positiveQuantile solves cdf(x) = p on the logarithm of x > 0, outward from a
// guess.
func positiveQuantile(cdf func(float64) float64, p, guess float64) float64 {
	if p <= 0 || !(guess > 0) {
		return 0
	}
	low, high := math.Log(guess)-1, math.Log(guess)+1
	for span := 1.0; cdf(math.Exp(low)) > p; span *= 2 {
		if low -= span; low < -744 {
			return 0 // below the smallest number there is
		}
	}
	for span := 1.0; cdf(math.Exp(high)) < p && high < 709; span *= 2 {
		high += span
	}
	x, err := regress.Root(func(x float64) (float64, error) { return cdf(math.Exp(x)) - p, nil }, low, high)
	if err != nil {
		return math.Exp(high)
	}
	return math.Exp(x)
}
