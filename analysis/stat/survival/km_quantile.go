package survival

import (
	"fmt"
	"math"

	"pourback/analysis/stat"
)

// Median is the quantile of one half; see [KM.Quantile].
func (k *KM) Median(level float64, scale Limits) (stat.Estimate, error) {
	return k.Quantile(.5, level, scale)
}

// Quantile is the time by which the share p has had the event: the first time
// with S(t) ≤ 1−p or, where S rests exactly at 1−p, halfway along that step.
// The limits are the times at which those of S, on the chosen scale, cross
// 1−p (Brookmeyer & Crowley 1982, Biometrics 38, 29-41); High is +Inf where the
// upper one never does. N is the number of rows.
//
// Errors: [stat.ErrDomain] for p, level or scale, [stat.ErrTooFew] when S stays above
// 1−p as far as anybody was followed.
func (k *KM) Quantile(p, level float64, scale Limits) (stat.Estimate, error) {
	if !(p > 0 && p < 1) {
		return stat.Estimate{}, fmt.Errorf("quantile %v is not between 0 and 1: %w", p, stat.ErrDomain)
	}
	if err := k.checkAsk(0, level, scale); err != nil {
		return stat.Estimate{}, err
	}
	value, ok := k.crossing(1-p, k.Survival)
	if !ok {
		return stat.Estimate{}, fmt.Errorf("quantile %g: %.4g of %d are still without the event at %g, the longest follow-up: %w",
			p, k.Survival[len(k.Survival)-1], k.N, k.Last(), stat.ErrTooFew)
	}
	lower, upper := k.band(level, scale)
	est := stat.Estimate{Value: value, Low: value, High: math.Inf(1), Level: level, N: k.N,
		Method: "Kaplan-Meier, Brookmeyer-Crowley limits, " + scale.String()}
	if t, ok := k.crossing(1-p, lower); ok {
		est.Low = t
	}
	if t, ok := k.crossing(1-p, upper); ok {
		est.High = t
	}
	return est, nil
}

// band gives the pointwise limits of S at every time: 1 before the first
// event, and the last that exist once S is 0.
func (k *KM) band(level float64, scale Limits) (lower, upper []float64) {
	z := normalQuantile(level)
	lower, upper = make([]float64, len(k.Time)), make([]float64, len(k.Time))
	lo, hi := 1., 1.
	for i, s := range k.Survival {
		if s > 0 && s < 1 {
			lo, hi = scale.interval(s, math.Sqrt(k.Greenwood[i]), z)
		}
		lower[i], upper[i] = lo, hi
	}
	return lower, upper
}

// crossing is the first time at which the curve is down to y, or the middle of
// its step when the curve rests at y.
func (k *KM) crossing(y float64, curve []float64) (float64, bool) {
	const same = 1.5e-8 // rounding of a product of many factors
	for i, s := range curve {
		if s > y+same {
			continue
		}
		if s < y-same {
			return k.Time[i], true
		}
		for j := i + 1; j < len(curve); j++ {
			if curve[j] < s {
				return (k.Time[i] + k.Time[j]) / 2, true
			}
		}
		return k.Time[i], true
	}
	return 0, false
}
