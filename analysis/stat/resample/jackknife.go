package resample

import (
	"fmt"
	"math"

	"pourback/analysis/stat"
)

// Jack is what leaving each unit out once found, a value for each answer.
type Jack struct {
	Estimate     []float64
	SE           []float64 // √((n−1)/n·Σ(θᵢ−θ̄)²)
	Bias         []float64 // (n−1)(θ̄ − θ̂)
	Acceleration []float64 // Σd³/(6(Σd²)^1.5), d = θ̄−θᵢ; 0 when nothing moves
	Units        int
}

// Jackknife computes the statistic with each unit of the plan left out. Fewer
// than 2 units give [stat.ErrTooFew]; a unit without which there is no answer
// is named in the error.
func Jackknife(plan Plan, start func() Statistic) (*Jack, error) {
	u, err := unitsOf(plan.Rows, plan.Clusters)
	if err != nil {
		return nil, err
	}
	if u.n < 2 {
		return nil, fmt.Errorf("%d unit to leave out, want at least 2: %w", u.n, stat.ErrTooFew)
	}
	k := max(1, plan.Outputs)
	estimate, err := onData(plan.Rows, k, start)
	if err != nil {
		return nil, err
	}
	flat, errs := make([]float64, k*u.n), make([]error, u.n)
	stat.Workers(u.n, plan.Workers, func() func(int) {
		compute := start()
		weights, counts := u.buffers(plan.Rows)
		return func(left int) {
			for i := range counts {
				counts[i] = 1
			}
			counts[left] = 0
			u.spread(weights, counts)
			out := flat[left*k : (left+1)*k]
			if errs[left] = compute(out, weights); errs[left] == nil {
				errs[left] = stat.Finite("answer", out...)
			}
		}
	})
	for left, err := range errs {
		if err != nil {
			return nil, fmt.Errorf("without unit %d: %w", left, err)
		}
	}
	return summarise(estimate, flat, u.n), nil
}

func summarise(estimate, flat []float64, n int) *Jack {
	k := len(estimate)
	j := &Jack{Estimate: estimate, Units: n, SE: make([]float64, k), Bias: make([]float64, k), Acceleration: make([]float64, k)}
	for c := range k {
		var mean, two, three float64
		for i := range n {
			mean += flat[i*k+c] / float64(n)
		}
		for i := range n {
			d := mean - flat[i*k+c]
			two += d * d
			three += d * d * d
		}
		j.SE[c] = math.Sqrt(float64(n-1) / float64(n) * two)
		j.Bias[c] = float64(n-1) * (mean - estimate[c])
		if two > 0 {
			j.Acceleration[c] = three / (6 * math.Pow(two, 1.5))
		}
	}
	return j
}
