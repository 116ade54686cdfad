package score

import (
	"fmt"

	"pourback/analysis/stat"
	"pourback/analysis/stat/resample"
)

// Comparison is the mean difference of two rules' losses.
type Comparison struct {
	stat.Estimate      // of loss a − loss b: below 0, a is the better
	Settled       bool // the limits leave 0 out
	Warnings      []string
}

// PairedDifference compares the losses of two rules on the same rows. Rows of
// a period go together: periods are drawn, not rows, and the limits are
// bootstrap percentiles. Limits that straddle 0 mean that the simpler rule is
// as good.
func PairedDifference(a, b []float64, periods []int, draws int, seed uint64, level float64) (Comparison, error) {
	if len(a) != len(b) || len(a) != len(periods) {
		return Comparison{}, fmt.Errorf("%d and %d losses over %d periods: %w", len(a), len(b), len(periods), stat.ErrShape)
	}
	if err := stat.Finite("loss a", a...); err != nil {
		return Comparison{}, err
	}
	if err := stat.Finite("loss b", b...); err != nil {
		return Comparison{}, err
	}
	difference := func(out, weights []float64) error {
		var sum, n float64
		for i, w := range weights {
			sum += w * (a[i] - b[i])
			n += w
		}
		out[0] = sum / n
		return nil
	}
	plan := resample.Plan{Rows: len(a), Clusters: periods, Draws: draws, Seed: seed}
	s, err := resample.Bootstrap(plan, resample.Stateless(difference))
	if err != nil {
		return Comparison{}, err
	}
	if s.Units < 2 {
		return Comparison{}, fmt.Errorf("%d period to draw from, want at least 2: %w", s.Units, stat.ErrTooFew)
	}
	e, err := s.Percentile(0, level)
	if err != nil {
		return Comparison{}, err
	}
	return Comparison{Estimate: e, Settled: e.Low > 0 || e.High < 0, Warnings: s.Warnings}, nil
}
