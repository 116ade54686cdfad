package decide

import "math"

type mixture struct {
	parts   []Predictive
	weights []float64 // sum to 1
}

// Mixture is one of several beliefs, each with its weight, as the overage model
// hands one on: a [Predictive] of another package for the laws to hold of.
// Weights need not sum to 1.
func Mixture(parts []Predictive, weights []float64) (Predictive, error) {
	var total float64
	for _, w := range weights {
		total += w
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
