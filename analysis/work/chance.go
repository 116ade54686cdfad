package work

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Limits are the rates of clogs in 100 yd³ within which luck keeps an outfit
// like all together, level of the time, once it has pumped so many yards; and
// whether a count lies outside them.
func (p *Pump) Limits(yd, level float64) (low, high float64) {
	low, high = chanceCounts(p.All.ClogsPer100.Value*yd/100, level)
	return 100 * low / yd, 100 * high / yd
}

// Outside says whether an outfit's clogs lie outside the limits.
func (p *Pump) Outside(o PumpOutfit, level float64) bool {
	low, high := chanceCounts(p.All.ClogsPer100.Value*o.PumpedYd/100, level)
	return float64(o.Clogs) < low || float64(o.Clogs) > high
}

// largeMean is the mean from which the normal distribution does.
const largeMean = 1000

// chanceCounts are the limits within which a count of events that come at
// random, with this mean, stays level of the time: quantiles of the Poisson
// distribution, drawn out between whole numbers so that a line of them is
// smooth (Spiegelhalter 2005, Statistics in Medicine 24, 1185-1202, appendix
// A.1.1).
func chanceCounts(mean, level float64) (low, high float64) {
	if !(mean > 0) || math.IsInf(mean, 1) || !(level > 0 && level < 1) {
		return 0, math.Inf(1)
	}
	if mean > largeMean {
		half := distuv.UnitNormal.Quantile((1+level)/2) * math.Sqrt(mean)
		return mean - half, mean + half
	}
	return max(0, poissonQuantile(mean, (1-level)/2)), poissonQuantile(mean, (1+level)/2)
}

// poissonQuantile is the r with P(X ≤ r) = p, the steps of the distribution
// being joined by lines: k − (P(X ≤ k) − p)/P(X = k) at the least whole k with
// P(X ≤ k) ≥ p.
func poissonQuantile(mean, p float64) float64 {
	sum := 0.0
	for k := 0.0; ; k++ {
		lg, _ := math.Lgamma(k + 1)
		at := math.Exp(k*math.Log(mean) - mean - lg)
		if sum+at >= p || k > mean && at < 1e-300 {
			if at == 0 {
				return k
			}
			return k - (sum+at-p)/at
		}
		sum += at
	}
}
