package pool

import (
	"fmt"

	"pourback/analysis/stat"
)

// Contrast is the posterior of Σ times[g]·u_g over the groups from 0: with
// 1 − 1/G for one and −1/G for the others, how it differs from the average of
// those at hand. Effect compares with the average of all that could be, and is
// vaguer where groups are few.
func (post *Posterior) Contrast(times []float64) (Mixture, error) {
	if len(times) > post.Groups {
		return Mixture{}, fmt.Errorf("%d coefficients for %d groups: %w", len(times), post.Groups, stat.ErrShape)
	}
	if err := stat.Finite("coefficient", times...); err != nil {
		return Mixture{}, err
	}
	terms := make([]term, len(times))
	for g, c := range times {
		terms[g] = term{g, c}
	}
	return post.law(make([]float64, len(post.Model.Mean)), noError, terms...)
}
