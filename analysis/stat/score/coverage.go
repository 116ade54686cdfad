package score

import (
	"fmt"

	"pourback/analysis/stat"
	"pourback/analysis/stat/interval"
)

// Coverage is the share of intervals, ends included, that held what came, with
// Wilson limits at a confidence level. Hold it against the level the intervals
// were made for.
func Coverage(ys, lows, highs []float64, level float64) (stat.Estimate, error) {
	if len(lows) != len(ys) || len(highs) != len(ys) {
		return stat.Estimate{}, fmt.Errorf("%d values with %d and %d limits: %w", len(ys), len(lows), len(highs), stat.ErrShape)
	}
	held := 0
	for i, y := range ys {
		if err := stat.Finite("value and limits", y, lows[i], highs[i]); err != nil {
			return stat.Estimate{}, err
		}
		if lows[i] <= y && y <= highs[i] {
			held++
		}
	}
	return interval.Wilson(held, len(ys), level)
}
