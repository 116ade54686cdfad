package interval

import (
	"fmt"
	"math"

	"pourback/analysis/stat"
)

// EValue returns how strongly, as a risk ratio with both the treatment and
// the outcome, something unmeasured would have to act to explain away a risk
// ratio above 1, and to move the limit nearest 1 to 1:
//
//	E = r + √(r(r−1)),  r the ratio or, below 1, its inverse
//
// limit is 1 when the interval holds 1. A hazard ratio may stand for the risk
// ratio where the outcome is rare, under some 15 %. A ratio not above 0, or
// outside its own interval, gives [stat.ErrDomain].
//
// It says nothing of whether such a thing exists, and nothing of error in
// measurement or selection.
//
// Source: VanderWeele & Ding (2017), Ann. Intern. Med. 167:268.
func EValue(ratio stat.Estimate) (value, limit float64, err error) {
	if err := stat.Finite("ratio", ratio.Value); err != nil {
		return 0, 0, err
	}
	if ratio.Value <= 0 || !(ratio.Low <= ratio.Value && ratio.Value <= ratio.High) {
		return 0, 0, fmt.Errorf("ratio %v with interval %v to %v, want a ratio above 0 inside its interval: %w",
			ratio.Value, ratio.Low, ratio.High, stat.ErrDomain)
	}
	near := ratio.Low
	if ratio.Value < 1 {
		near = ratio.High
	}
	limit = 1
	if (near > 1) == (ratio.Value > 1) {
		limit = eValue(near)
	}
	value = eValue(ratio.Value)
	if err := stat.Finite("E-value", value, limit); err != nil {
		return 0, 0, err
	}
	return value, limit, nil
}

func eValue(ratio float64) float64 {
	if ratio < 1 {
		ratio = 1 / ratio
	}
	return ratio + math.Sqrt(ratio)*math.Sqrt(ratio-1)
}
