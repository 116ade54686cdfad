package resample

import (
	"fmt"
	"math"

	gonum "gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"pourback/analysis/stat"
	"pourback/analysis/stat/interval"
)

// SE is the bootstrap standard error of answer j: the standard deviation of
// its draws.
func (s *Sample) SE(j int) (float64, error) {
	if err := s.checkOutput(j); err != nil {
		return 0, err
	}
	return gonum.StdDev(s.Draws[j], nil), nil
}

// Percentile gives the limits of answer j at a confidence level as type-7
// quantiles of its draws. N is the number of units. Too few draws for the
// level, so that a limit would be the outermost draw, give [stat.ErrTooFew].
func (s *Sample) Percentile(j int, level float64) (stat.Estimate, error) {
	if err := s.checkOutput(j); err != nil {
		return stat.Estimate{}, err
	}
	if err := s.checkTails(j, level); err != nil {
		return stat.Estimate{}, err
	}
	tail := (1 - level) / 2
	return s.between(j, level, "bootstrap percentile", tail, 1-tail)
}

// BCa gives bias-corrected and accelerated limits of answer j. The jackknife
// must be of the same plan and statistic. A draw distribution wholly on one
// side of the estimate, or so skewed that the correction folds over, gives
// [stat.ErrDomain].
func (s *Sample) BCa(j int, level float64, jack *Jack) (stat.Estimate, error) {
	if err := s.checkOutput(j); err != nil {
		return stat.Estimate{}, err
	}
	if err := s.checkTails(j, level); err != nil {
		return stat.Estimate{}, err
	}
	z0, err := s.BiasZ(j)
	if err != nil {
		return stat.Estimate{}, err
	}
	if jack == nil || j >= len(jack.Acceleration) {
		return stat.Estimate{}, fmt.Errorf("no jackknife of answer %d: %w", j, stat.ErrShape)
	}
	low, err := corrected(z0, jack.Acceleration[j], (1-level)/2)
	if err != nil {
		return stat.Estimate{}, err
	}
	high, err := corrected(z0, jack.Acceleration[j], (1+level)/2)
	if err != nil {
		return stat.Estimate{}, err
	}
	return s.between(j, level, "bootstrap BCa", low, high)
}

// BiasZ is z0, the normal deviate of the share of draws below the estimate.
func (s *Sample) BiasZ(j int) (float64, error) {
	if err := s.checkOutput(j); err != nil {
		return 0, err
	}
	below := 0
	for _, x := range s.Draws[j] {
		if x < s.Estimate[j] {
			below++
		}
	}
	n := len(s.Draws[j])
	if below == 0 || below == n {
		return 0, fmt.Errorf("%d of %d draws lie below the estimate, so its bias cannot be judged: %w", below, n, stat.ErrDomain)
	}
	return distuv.UnitNormal.Quantile(float64(below) / float64(n)), nil
}

// corrected is the probability at which BCa reads the draws in place of p.
func corrected(z0, a, p float64) (float64, error) {
	z := z0 + distuv.UnitNormal.Quantile(p)
	scale := 1 - a*z
	if !(scale > 0) {
		return 0, fmt.Errorf("acceleration %.3g is too large for the level: %w", a, stat.ErrDomain)
	}
	return distuv.UnitNormal.CDF(z0 + z/scale), nil
}

func (s *Sample) checkTails(j int, level float64) error {
	if err := stat.CheckLevel(level); err != nil {
		return err
	}
	if n, tail := len(s.Draws[j]), (1-level)/2; float64(n)*tail < 1-1e-9 {
		return fmt.Errorf("%d draws for a level of %v, want at least %.0f: %w", n, level, math.Ceil(1/tail), stat.ErrTooFew)
	}
	return nil
}

func (s *Sample) between(j int, level float64, method string, low, high float64) (stat.Estimate, error) {
	q, err := interval.Quantiles(s.Draws[j], low, high)
	if err != nil {
		return stat.Estimate{}, err
	}
	return stat.Estimate{
		Value: s.Estimate[j], Low: q[0], High: q[1], Level: level, N: s.Units,
		Method: fmt.Sprintf("%s, %d draws", method, len(s.Draws[j])),
	}, nil
}
