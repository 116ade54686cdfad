package decide

import (
	"fmt"
	"math"

	"pourback/analysis/stat"
)

type mixture struct {
	parts   []Predictive
	weights []float64 // sum to 1
}

// Mixture is one of several beliefs, each with its weight: weights need not
// sum to 1. Parts of no weight are dropped. No parts give [stat.ErrNoData], a
// weight for each part that is missing [stat.ErrShape], weights that are
// negative or all 0 [stat.ErrDomain].
func Mixture(parts []Predictive, weights []float64) (Predictive, error) {
	if len(parts) == 0 {
		return nil, fmt.Errorf("mixture of nothing: %w", stat.ErrNoData)
	}
	if len(parts) != len(weights) {
		return nil, fmt.Errorf("%d parts with %d weights: %w", len(parts), len(weights), stat.ErrShape)
	}
	if err := stat.Finite("weight", weights...); err != nil {
		return nil, err
	}
	var total float64
	for i, w := range weights {
		if w < 0 {
			return nil, fmt.Errorf("weight %d is %v, want 0 or more: %w", i, w, stat.ErrDomain)
		}
		total += w
	}
	if !(total > 0) || math.IsInf(total, 0) {
		return nil, fmt.Errorf("weights sum to %v: %w", total, stat.ErrDomain)
	}
	var m mixture
	for i, w := range weights {
		if w > 0 {
			m.parts = append(m.parts, parts[i])
			m.weights = append(m.weights, w/total)
		}
	}
	return m, nil
}

func (m mixture) average(f func(Predictive) float64) (sum float64) {
	for i, p := range m.parts {
		sum += m.weights[i] * f(p)
	}
	return sum
}

func (m mixture) Mean() float64 { return m.average(Predictive.Mean) }

func (m mixture) CDF(x float64) float64 {
	return min(1, m.average(func(p Predictive) float64 { return p.CDF(x) }))
}

func (m mixture) Survival(x float64) float64 {
	return min(1, m.average(func(p Predictive) float64 { return p.Survival(x) }))
}

func (m mixture) Shortage(q float64) float64 {
	return m.average(func(p Predictive) float64 { return p.Shortage(q) })
}

// Quantile halves the span between the parts' own quantiles to the last bit.
func (m mixture) Quantile(p float64) (float64, error) {
	low, high := math.Inf(1), math.Inf(-1)
	for _, part := range m.parts {
		x, err := part.Quantile(p)
		if err != nil {
			return 0, err
		}
		low, high = min(low, x), max(high, x)
	}
	for {
		mid := low + (high-low)/2
		if mid <= low || mid >= high {
			return mid, nil
		}
		// Each tail is judged by the function that is exact in it.
		if p < 0.5 && m.CDF(mid) < p || p >= 0.5 && m.Survival(mid) > 1-p {
			low = mid
		} else {
			high = mid
		}
	}
}
