package interval

import (
	"fmt"
	"math"

	gstat "gonum.org/v1/gonum/stat"

	"pourback/analysis/stat"
)

// MeanT returns the mean of xs with the interval x̄ ± t(1−α/2; n−1)·s/√n.
// N is the number of values.
//
// No values give [stat.ErrNoData], one gives [stat.ErrTooFew], NaN or infinity
// gives [stat.ErrNotFinite]. Values all alike give [stat.ErrNoVariation]: they
// carry no estimate of spread, and an interval of no width would claim
// certainty.
//
// Source: "Student" (1908), Biometrika 6:1.
func MeanT(xs []float64, level float64) (stat.Estimate, error) {
	if err := checkLevel(level); err != nil {
		return stat.Estimate{}, err
	}
	mean, sd, err := meanSD("values", xs)
	if err != nil {
		return stat.Estimate{}, err
	}
	se := sd / math.Sqrt(float64(len(xs)))
	if noSpread(se, mean) {
		return stat.Estimate{}, fmt.Errorf("all %d values are %v, so their spread is unknown: %w", len(xs), mean, stat.ErrNoVariation)
	}
	return meanInterval(mean, se, level, len(xs), "t interval for a mean")
}

// meanSD returns the mean and the standard deviation (divisor n−1) of at
// least two finite values, called name in errors.
func meanSD(name string, xs []float64) (mean, sd float64, err error) {
	if len(xs) == 0 {
		return 0, 0, fmt.Errorf("no %s: %w", name, stat.ErrNoData)
	}
	if len(xs) == 1 {
		return 0, 0, fmt.Errorf("only one of the %s, want at least 2: %w", name, stat.ErrTooFew)
	}
	if err := stat.Finite(name, xs...); err != nil {
		return 0, 0, err
	}
	mean, sd = gstat.MeanStdDev(xs, nil)
	if err := stat.Finite("mean and standard deviation of the "+name, mean, sd); err != nil {
		return 0, 0, err
	}
	return mean, sd, nil
}

// meanInterval is value ± t(1−α/2; n−1)·se.
func meanInterval(value, se, level float64, n int, method string) (stat.Estimate, error) {
	t, err := StudentQuantile((1-level)/2, float64(n-1))
	if err != nil {
		return stat.Estimate{}, err
	}
	return finite(stat.Estimate{
		Value: value, Low: value + t*se, High: value - t*se,
		Level: level, N: n, Method: method,
	})
}
