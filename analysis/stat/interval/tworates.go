package interval

import (
	"fmt"
	"math"

	"pourback/analysis/stat"
)

// Rate is a count of events over an exposure in the unit the rate is wanted
// in.
type Rate struct {
	Events   int
	Exposure float64
}

func (r Rate) value() float64 { return float64(r.Events) / r.Exposure }

// RateComparison sets a first rate against a second. Ratio and High are +Inf
// when the second had no events.
type RateComparison struct {
	Ratio, Low, High   float64 // first over second, with the exact interval
	Level              float64
	P                  float64 // exact, two-sided: sum of probabilities not above the observed
	MidP               float64 // twice the smaller tail, half the observed probability in each
	Difference, DiffSE float64 // first minus second
	N                  int     // events in both
	Method             string
}

// CompareRates tests whether two Poisson rates are equal, given their total:
// the first count is then binomial with odds ρE1/E2, ρ the ratio of rates.
// The interval turns the Clopper-Pearson limits π of that binomial into
// ρ = π/(1−π)·E2/E1; the standard error of the difference is √(y1/E1² + y2/E2²).
//
// The exact test sums probabilities while the interval uses tails: near the
// level one may exclude 1 and the other not. No events in either give
// [stat.ErrNoEvents], an exposure not above 0 [stat.ErrDomain].
//
// Source: Przyborowski & Wilenski (1940), Biometrika 31:313; Sahai & Khurshid
// (1996), Statistics in Epidemiology, p. 172; mid-p by Lancaster (1961),
// J. Am. Stat. Assoc. 56:223.
func CompareRates(first, second Rate, level float64) (RateComparison, error) {
	err := firstOf(checkLevel(level),
		checkRate(first.Events, first.Exposure), checkRate(second.Events, second.Exposure))
	if err != nil {
		return RateComparison{}, err
	}
	n := first.Events + second.Events
	if n == 0 {
		return RateComparison{}, fmt.Errorf("neither rate has an event to compare by: %w", stat.ErrNoEvents)
	}
	odds := first.Exposure / second.Exposure
	if !(odds > 0) || math.IsInf(odds, 0) {
		return RateComparison{}, fmt.Errorf("exposures %v and %v are too far apart to compare: %w", first.Exposure, second.Exposure, stat.ErrDomain)
	}
	t := binomial(n, odds).about(first.Events)
	low, high := clopperPearsonLimits(first.Events, n, level)
	turn := func(p float64) float64 { return p / (1 - p) / odds }
	c := RateComparison{
		Ratio: float64(first.Events) / float64(second.Events) / odds, Low: turn(low), High: turn(high), Level: level,
		P: t.twoSided(), MidP: t.midP(),
		Difference: first.value() - second.value(),
		DiffSE:     math.Hypot(math.Sqrt(float64(first.Events))/first.Exposure, math.Sqrt(float64(second.Events))/second.Exposure),
		N:          n, Method: "two Poisson rates, conditional exact",
	}
	if err := stat.Finite("rates, difference and its error", first.value(), second.value(), c.Difference, c.DiffSE); err != nil {
		return RateComparison{}, err
	}
	return c, nil
}
