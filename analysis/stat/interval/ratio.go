package interval

import (
	"fmt"
	"math"

	"pourback/analysis/stat"
)

// Ratio returns the ratio of totals r = Σnum/Σden with the interval
// r ± t(1−α/2; n−1)·se, se as in [RatioSE]. N is the number of pairs.
//
// Errors are those of RatioSE, and [stat.ErrNoVariation] when every pair has
// the same ratio, which says nothing of the next one.
func Ratio(num, den []float64, level float64) (stat.Estimate, error) {
	if err := checkLevel(level); err != nil {
		return stat.Estimate{}, err
	}
	r, se, err := RatioSE(num, den)
	if err != nil {
		return stat.Estimate{}, err
	}
	if noSpread(se, r) {
		return stat.Estimate{}, fmt.Errorf("all %d pairs have the ratio %v, so its spread is unknown: %w", len(num), r, stat.ErrNoVariation)
	}
	return meanInterval(r, se, level, len(num), "ratio of totals, Cochran standard error")
}

// RatioSE returns r = Σnum/Σden and its large-sample standard error
//
//	√[Σ(num − r·den)² / ((n−1)n)] / mean(den)
//
// with no finite-population correction: the pairs are a sample of jobs to
// come. Use it for a past average; it is no rule for ordering (see doc).
//
// Lengths that differ give [stat.ErrShape]; no pairs [stat.ErrNoData], one
// [stat.ErrTooFew]; NaN or infinity [stat.ErrNotFinite]; a den below 0 or all
// of them 0 [stat.ErrDomain].
//
// Source: Cochran (1977), Sampling Techniques, 3rd ed., §6.4.
func RatioSE(num, den []float64) (r, se float64, err error) {
	if err := checkPairs(num, den); err != nil {
		return 0, 0, err
	}
	var sumNum, sumDen float64
	for i, d := range den {
		if d < 0 {
			return 0, 0, fmt.Errorf("denominator[%d] is %v, want 0 or more: %w", i, d, stat.ErrDomain)
		}
		sumNum += num[i]
		sumDen += d
	}
	if sumDen == 0 {
		return 0, 0, fmt.Errorf("all denominators are 0: %w", stat.ErrDomain)
	}
	r = sumNum / sumDen
	var squares float64
	for i, d := range den {
		e := num[i] - r*d
		squares += e * e
	}
	n := float64(len(num))
	se = math.Sqrt(squares/((n-1)*n)) / (sumDen / n)
	if err := stat.Finite("ratio and its standard error", r, se); err != nil {
		return 0, 0, err
	}
	return r, se, nil
}

// MeanOfRatios returns the mean and the standard deviation (divisor n−1) of
// num/den: the ratio of the average pair, where [RatioSE] gives that of the
// average unit. Never order by it: small jobs weigh in it as much as large.
// Every den must be above 0, else [stat.ErrDomain]; other errors are those of
// RatioSE.
func MeanOfRatios(num, den []float64) (mean, sd float64, err error) {
	return ratioMoments(num, den, func(r float64) float64 { return r })
}

// MeanLogRatio returns the mean and the standard deviation (divisor n−1) of
// log(num/den). Every num and den must be above 0, else [stat.ErrDomain];
// other errors are those of [RatioSE].
func MeanLogRatio(num, den []float64) (mean, sd float64, err error) {
	for i, x := range num {
		if x <= 0 {
			return 0, 0, fmt.Errorf("numerator[%d] is %v, want more than 0 for a logarithm: %w", i, x, stat.ErrDomain)
		}
	}
	return ratioMoments(num, den, math.Log)
}

func ratioMoments(num, den []float64, of func(float64) float64) (mean, sd float64, err error) {
	if err := checkPairs(num, den); err != nil {
		return 0, 0, err
	}
	ratios := make([]float64, len(num))
	for i, d := range den {
		if d <= 0 {
			return 0, 0, fmt.Errorf("denominator[%d] is %v, want more than 0: %w", i, d, stat.ErrDomain)
		}
		ratios[i] = of(num[i] / d)
	}
	return meanSD("ratios", ratios)
}

func checkPairs(num, den []float64) error {
	switch {
	case len(num) != len(den):
		return fmt.Errorf("%d numerators and %d denominators: %w", len(num), len(den), stat.ErrShape)
	case len(num) == 0:
		return fmt.Errorf("no pairs: %w", stat.ErrNoData)
	case len(num) == 1:
		return fmt.Errorf("one pair, want at least 2 for an interval: %w", stat.ErrTooFew)
	}
	if err := stat.Finite("numerator", num...); err != nil {
		return err
	}
	return stat.Finite("denominator", den...)
}
