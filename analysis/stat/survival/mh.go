package survival

import (
	"fmt"
	"math"

	"pourback/analysis/stat"
)

// Effect compares arm 1 with arm 0: an [stat.Estimate] whose N counts events,
// with its standard error: that of the value for a difference, that of its
// logarithm for a ratio.
type Effect struct {
	stat.Estimate
	SE float64
}

// ratio is the effect top/bottom with normal limits on the log scale, from the
// variance of its logarithm.
func ratio(method string, top, bottom, variance, level float64, events int) (Effect, error) {
	if top == 0 || bottom == 0 {
		return Effect{}, fmt.Errorf("%s: for want of events in an arm the ratio or its error is infinite: %w", method, stat.ErrNoEvents)
	}
	value, se := top/bottom, math.Sqrt(variance)
	half := math.Exp(normalQuantile(level) * se)
	if err := stat.Finite(method, value, half); err != nil {
		return Effect{}, err
	}
	return Effect{SE: se, Estimate: stat.Estimate{Value: value, Low: value / half, High: value * half,
		Level: level, N: events, Method: method}}, nil
}

// difference is the effect with normal limits, which are cut at ±most.
func difference(method string, value, variance, level, most float64, events int) (Effect, error) {
	if events == 0 {
		return Effect{}, fmt.Errorf("%s: neither arm has events: %w", method, stat.ErrNoEvents)
	}
	if err := stat.Finite(method, value, variance); err != nil {
		return Effect{}, err
	}
	if variance <= 0 {
		return Effect{}, fmt.Errorf("%s: each stratum has all or nothing in each arm: %w", method, stat.ErrNoVariation)
	}
	se := math.Sqrt(variance)
	half := normalQuantile(level) * se
	return Effect{SE: se, Estimate: stat.Estimate{Value: value, Low: max(-most, value-half), High: min(most, value+half),
		Level: level, N: events, Method: method}}, nil
}
