package pool

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mathext"

	"pourback/analysis/stat"
)

// Variation is the one-way analysis of variance.
type Variation struct {
	F, P                float64 // ratio of mean squares, and P(F' > F) were all groups alike
	SSBetween, SSWithin float64
	DFBetween, DFWithin int
	Tau2                float64 // moments estimate of the variance between groups, at least zero
	Sigma2              float64 // mean square within groups
	Mean                float64
	N                   int
}

// OneWayANOVA splits the variation of outcomes into that between groups and that
// within: F = [SSB/(k−1)]/[SSW/(n−k)], τ² = (MSB−MSW)/n₀ with
// n₀ = (n−Σn_g²/n)/(k−1) (Searle, Casella & McCulloch 1992, §3.6). Group numbers
// run from zero; those without rows do not count.
func OneWayANOVA(y []float64, group []int) (*Variation, error) {
	if len(y) == 0 {
		return nil, fmt.Errorf("variation of no outcomes: %w", stat.ErrNoData)
	}
	if err := stat.Finite("outcome", y...); err != nil {
		return nil, err
	}
	if len(group) != len(y) {
		return nil, fmt.Errorf("%d group numbers for %d outcomes: %w", len(group), len(y), stat.ErrShape)
	}
	count, err := countGroups(group, len(y))
	if err != nil {
		return nil, err
	}
	mean, rows := groupMeans(y, group, count)
	v := &Variation{N: len(y), Mean: meanFrom(y, y[0])}
	for g, n := range rows {
		if n > 0 {
			v.DFBetween++
			v.SSBetween += n * (mean[g] - v.Mean) * (mean[g] - v.Mean)
		}
	}
	v.DFWithin = v.N - v.DFBetween
	v.DFBetween--
	if v.DFBetween < 1 || v.DFWithin < 1 {
		return nil, fmt.Errorf("%d outcomes in %d groups: two groups and more outcomes than groups are needed: %w", v.N, v.DFBetween+1, stat.ErrTooFew)
	}
	for i, yi := range y {
		v.SSWithin += (yi - mean[group[i]]) * (yi - mean[group[i]])
	}
	between := v.SSBetween / float64(v.DFBetween)
	v.Sigma2 = v.SSWithin / float64(v.DFWithin)
	if v.Sigma2 == 0 {
		return nil, fmt.Errorf("outcomes do not vary within groups: %w", stat.ErrNoVariation)
	}
	v.F = between / v.Sigma2
	d1, d2 := float64(v.DFBetween), float64(v.DFWithin)
	v.P = mathext.RegIncBeta(d2/2, d1/2, d2/(d2+d1*v.F))
	v.Tau2 = math.Max(0, (between-v.Sigma2)/(unevenness(rows)/d1))
	if err := stat.Finite("variation", v.F, v.P, v.Tau2); err != nil {
		return nil, err
	}
	return v, nil
}

// groupMeans returns each group's mean and number of rows. Means are taken from
// the first outcome, so that a common level costs no digits.
func groupMeans(y []float64, group []int, count int) (mean, rows []float64) {
	mean, rows = make([]float64, count), make([]float64, count)
	for i, g := range group {
		rows[g]++
		mean[g] += y[i] - y[0]
	}
	for g, n := range rows {
		if n > 0 {
			mean[g] = y[0] + mean[g]/n
		}
	}
	return mean, rows
}

// meanFrom is the mean of xs, summed as distances from origin.
func meanFrom(xs []float64, origin float64) float64 {
	sum := 0.0
	for _, x := range xs {
		sum += x - origin
	}
	return origin + sum/float64(len(xs))
}
