package pool

import (
	"fmt"
	"math"

	"pourback/analysis/stat"
)

const (
	studentIterations = 200
	studentTolerance  = 1e-7 // largest change of a weight
)

// FitStudent refits the model with errors of heavier tails, t with nu degrees of
// freedom, by EM: weights (ν+1)/(ν+r²/s²), r the distance from the posterior line
// and s² = σ²(1+κh) at its posterior mean over the grid (Lange, Little & Taylor
// 1989, JASA 84, 881-896). It returns the weights too: a row well under one is a
// record to look at. They multiply any weights that the data carry.
func (m Model) FitStudent(d Data, nu float64) (*Posterior, []float64, error) {
	if err := positive("degrees of freedom", nu); err != nil {
		return nil, nil, err
	}
	post, err := m.Fit(d)
	if err != nil {
		return nil, nil, err
	}
	weights := make([]float64, len(d.Y))
	reweighted := d
	reweighted.Weight = make([]float64, len(d.Y))
	for iteration := 1; iteration <= studentIterations; iteration++ {
		change := post.studentWeights(d, nu, weights)
		if change < studentTolerance {
			return post, weights, nil
		}
		for i, w := range weights {
			reweighted.Weight[i] = w
			if d.Weight != nil {
				reweighted.Weight[i] *= d.Weight[i]
			}
		}
		if post, err = m.Fit(reweighted); err != nil {
			return nil, nil, err
		}
		post.Iterations = iteration
	}
	post.Converged = false
	post.Warnings = append(post.Warnings, fmt.Sprintf("weights still move after %d reweightings", studentIterations))
	return post, weights, nil
}

// studentWeights updates the weights and returns the largest change.
func (post *Posterior) studentWeights(d Data, nu float64, weights []float64) float64 {
	change := 0.0
	for i, r := range post.residuals(d) {
		w := (nu + 1) / (nu + r*r)
		change = math.Max(change, math.Abs(w-weights[i]))
		weights[i] = w
	}
	return change
}

// Residuals are the distances of outcomes from the posterior line of their group,
// over the posterior standard deviation of their error, √(Σ weight·(S/ν)(1+κh)/q).
// The groups must be among those that were fitted.
func (post *Posterior) Residuals(d Data) ([]float64, error) {
	groups, err := d.check(0)
	if err != nil {
		return nil, err
	}
	if d.columns() != len(post.Model.Mean) || groups > post.Groups {
		return nil, fmt.Errorf("%d columns and %d groups, the fit has %d and %d: %w", d.columns(), groups, len(post.Model.Mean), post.Groups, stat.ErrShape)
	}
	return post.residuals(d), nil
}

func (post *Posterior) residuals(d Data) []float64 {
	base, slope := 0.0, 0.0
	beta, effects := make([]float64, d.columns()), make([]float64, post.Groups)
	for i := range post.Cells {
		c := &post.Cells[i]
		base += c.Weight * c.Sigma2
		slope += c.Weight * c.Sigma2 * c.Kappa
		for j, b := range c.Beta {
			beta[j] += c.Weight * b
		}
		for g := range effects {
			_, effect, _ := c.group(g)
			effects[g] += c.Weight * effect
		}
	}
	out := shifted(d, beta)
	for i := range out {
		if d.Group != nil {
			out[i] -= effects[d.Group[i]]
		}
		variance := base
		if d.H != nil {
			variance += slope * d.H[i]
		}
		if d.Weight != nil {
			variance /= d.Weight[i]
		}
		out[i] /= math.Sqrt(variance)
	}
	return out
}
