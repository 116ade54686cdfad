package regress

import (
	"fmt"
	"math"

	"pourback/analysis/stat"
)

// When a combination δ of the columns never points against an outcome, the
// likelihood rises for ever along δ and no finite coefficient is best (Albert &
// Anderson 1984, Biometrika 71, 1-10). Newton's steps turn into such a direction,
// which then proves the separation.

// separates tells whether moving η by move goes against no row: not up where
// there was no event, not down where every trial was one, not at all between.
func (f *irls) separates(move []float64) bool {
	longest := 0.0
	for _, d := range move {
		longest = math.Max(longest, math.Abs(d))
	}
	if longest == 0 {
		return false
	}
	slack := 1e-6 * longest
	for i, d := range move {
		switch {
		case f.size[i] == 0:
		case f.y[i] == 0:
			if d > slack {
				return false
			}
		case f.family.ceiling && f.y[i] == f.size[i]:
			if d < -slack {
				return false
			}
		case math.Abs(d) > slack:
			return false
		}
	}
	return true
}

// separated is the error that names the columns of the direction.
func (f *irls) separated(move []float64) error {
	return fmt.Errorf("%s regression: columns %v together predict some outcomes perfectly, so their coefficients have no finite value; use Firth's method or leave them out: %w", f.family.name, f.columns(move), stat.ErrSeparated)
}

// columns lists the columns that take part in the step.
func (f *irls) columns(move []float64) []int {
	reach := func(j int) float64 {
		largest := 0.0
		for _, v := range f.x[j] {
			largest = math.Max(largest, math.Abs(v))
		}
		return math.Abs(f.step[j]) * largest
	}
	var found []int
	for j := range f.x {
		if reach(j) > 0.01 {
			found = append(found, j)
		}
	}
	return found
}

// diverged explains iterations that ended without a maximum.
func (f *irls) diverged(move []float64) error {
	if f.separates(move) || f.exact() {
		return f.separated(move)
	}
	return fmt.Errorf("%s regression after %d iterations: %w", f.family.name, glmIterations, stat.ErrNotConverged)
}

// exact tells whether every row is fitted to its outcome.
func (f *irls) exact() bool {
	for i, eta := range f.eta {
		if _, r := f.family.weigh(f.y[i], eta, f.size[i]); math.Abs(r) > 1e-8*(1+f.y[i]) {
			return false
		}
	}
	return true
}
