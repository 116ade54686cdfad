package interval

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mathext"
	"gonum.org/v1/gonum/stat/distuv"

	"pourback/analysis/stat"
)

// zTwoSided returns the standard normal deviate that leaves (1−level)/2 in
// each tail, taken from the lower tail where the probability is exact.
func zTwoSided(level float64) float64 {
	return -distuv.UnitNormal.Quantile((1 - level) / 2)
}

// maxLevel leaves 1e-6 in each tail. Further out gonum's inverses of the beta
// integral can be wrong in every digit, so no answer is given there.
const maxLevel = 1 - 2e-6

func checkLevel(level float64) error {
	if level > maxLevel && level < 1 {
		return fmt.Errorf("confidence level %v is above %v, beyond the accuracy of the limits: %w", level, maxLevel, stat.ErrDomain)
	}
	return stat.CheckLevel(level)
}

func betaQuantile(a, b, p float64) float64 {
	return distuv.Beta{Alpha: a, Beta: b}.Quantile(p)
}

// manyDegrees is where the expansion of [StudentQuantile] in 1/ν is exact to
// the last few digits of a float64.
const manyDegrees = 1e4

// StudentQuantile returns the p-quantile of Student's t with nu > 0 degrees of
// freedom, nu not necessarily whole; 0 < p < 1, else an error wrapping
// [stat.ErrDomain]. So few degrees that it overflows give [stat.ErrNotFinite].
//
// t² / (ν + t²) is Beta(½, ν/2) (Abramowitz & Stegun 1964, 26.7.1); above
// ν = 10⁴ the expansion about the normal deviate serves (26.7.5). Relative
// error is under 1e-11 for 1e-6 ≤ p ≤ 1−1e-6, where the quantile of
// gonum/distuv loses half its digits at ν = 500 and all of them at 10⁵.
// Further out digits are lost, to some six at p = 1e-12.
func StudentQuantile(p, nu float64) (float64, error) {
	if !(p > 0 && p < 1) {
		return 0, fmt.Errorf("probability %v is not between 0 and 1: %w", p, stat.ErrDomain)
	}
	if !(nu > 0) {
		return 0, fmt.Errorf("%v degrees of freedom, want more than 0: %w", nu, stat.ErrDomain)
	}
	if p == 0.5 {
		return 0, nil
	}
	q := lowerStudent(min(p, 1-p), nu)
	if p > 0.5 {
		q = -q
	}
	if err := stat.Finite("quantile of t", q); err != nil {
		return 0, fmt.Errorf("at probability %v and %v degrees of freedom: %w", p, nu, err)
	}
	return q, nil
}

// lowerStudent is the quantile for a tail probability p < ½.
func lowerStudent(p, nu float64) float64 {
	if nu > manyDegrees {
		return studentExpansion(distuv.UnitNormal.Quantile(p), nu)
	}
	x := mathext.InvRegIncBeta(0.5, nu/2, 1-2*p)
	if x > 0.5 { // few degrees and a far tail: the complement keeps the digits
		c := mathext.InvRegIncBeta(nu/2, 0.5, 2*p)
		return -math.Sqrt(nu * (1 - c) / c)
	}
	return -math.Sqrt(nu * x / (1 - x))
}

// studentExpansion is Abramowitz & Stegun 26.7.5.
func studentExpansion(z, nu float64) float64 {
	z2 := z * z
	g1 := (z2 + 1) * z / 4
	g2 := ((5*z2+16)*z2 + 3) * z / 96
	g3 := (((3*z2+19)*z2+17)*z2 - 15) * z / 384
	g4 := ((((79*z2+776)*z2+1482)*z2-1920)*z2 - 945) * z / 92160
	return z + (g1+(g2+(g3+g4/nu)/nu)/nu)/nu
}

// fallingZero returns the point of (lo, hi) at which f falls through 0, by
// halving until no number lies between, or the end towards which it never
// does. f is not called at the ends.
func fallingZero(f func(float64) float64, lo, hi float64) float64 {
	mid := lo + (hi-lo)/2
	for range 200 { // enough for 60 digits about 0
		if mid <= lo || mid >= hi {
			break
		}
		if f(mid) > 0 {
			lo = mid
		} else {
			hi = mid
		}
		mid = lo + (hi-lo)/2
	}
	return mid
}

// noSpread reports that se is no more than rounding leaves beside value, by
// the measure of R's t.test.
func noSpread(se, value float64) bool {
	return se <= 10*0x1p-52*math.Abs(value)
}

// finite passes e on unless overflow left something in it that is no number.
func finite(e stat.Estimate) (stat.Estimate, error) {
	if err := stat.Finite(e.Method+": value", e.Value); err != nil {
		return stat.Estimate{}, err
	}
	if math.IsNaN(e.Low) || math.IsNaN(e.High) {
		return stat.Estimate{}, fmt.Errorf("%s: limits overflow: %w", e.Method, stat.ErrNotFinite)
	}
	return e, nil
}
