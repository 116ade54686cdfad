package interval

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"pourback/analysis/stat"
)

// Garwood returns the rate events/exposure with the exact Poisson interval
// χ²(α/2; 2y)/2 and χ²(1−α/2; 2y+2)/2, both over the exposure. The low limit
// is 0 when there were no events. N is the number of events.
//
// Exposure is in the unit the rate is wanted in (100 yd, placement-years) and
// must be finite and above 0, else [stat.ErrDomain]; so must the level lie in
// (0, 1) and events not be negative.
//
// Source: Garwood (1936), Biometrika 28:437.
func Garwood(events int, exposure, level float64) (stat.Estimate, error) {
	if err := checkRate(events, exposure); err != nil {
		return stat.Estimate{}, err
	}
	if err := checkLevel(level); err != nil {
		return stat.Estimate{}, err
	}
	low, high := garwoodLimits(events, level)
	return finite(stat.Estimate{
		Value: float64(events) / exposure, Low: low / exposure, High: high / exposure,
		Level: level, N: events, Method: "Garwood exact Poisson interval",
	})
}

// garwoodLimits bounds the mean of a Poisson count.
func garwoodLimits(events int, level float64) (low, high float64) {
	y, tail := float64(events), (1-level)/2
	if events > 0 {
		low = distuv.ChiSquared{K: 2 * y}.Quantile(tail) / 2
	}
	return low, distuv.ChiSquared{K: 2*y + 2}.Quantile(1-tail) / 2
}

func checkRate(events int, exposure float64) error {
	if events < 0 {
		return fmt.Errorf("%d events, want 0 or more: %w", events, stat.ErrDomain)
	}
	if !(exposure > 0) || math.IsInf(exposure, 0) {
		return fmt.Errorf("exposure %v, want a finite amount above 0: %w", exposure, stat.ErrDomain)
	}
	return nil
}
