package score

import (
	"fmt"

	"pourback/analysis/stat"
)

// IntervalScore is the loss of an interval of the given level for what came
// out as y: its width, and 2/α times the distance by which y missed it, with
// α = 1 − level.
//
// Source: Gneiting & Raftery (2007) §6.2.
func IntervalScore(y, low, high, level float64) (float64, error) {
	if err := stat.Finite("value and limits", y, low, high); err != nil {
		return 0, err
	}
	if err := stat.CheckLevel(level); err != nil {
		return 0, err
	}
	if low > high {
		return 0, fmt.Errorf("interval from %v down to %v: %w", low, high, stat.ErrDomain)
	}
	return intervalScore(y, low, high, level), nil
}

func intervalScore(y, low, high, level float64) float64 {
	return high - low + 2/(1-level)*max(0, low-y, y-high)
}
