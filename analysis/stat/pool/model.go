package pool

import (
	"fmt"
	"math"
	"slices"

	"pourback/analysis/stat"
	"pourback/analysis/stat/regress"
)

// Prior is what is believed before the data, and is printed with the result.
type Prior struct {
	Mean   []float64 // m0, one a column
	SD     []float64 // s0, one a column, above zero, in units of the outcome at σ = Sigma
	Sigma  float64   // σ0, a first guess of the error's standard deviation
	Nu     float64   // ν0, how many observations that guess is worth
	RScale float64   // s_r, the median of r, the groups' spread over the error's
}

// Model is a prior with the grid it is laid out on.
type Model struct {
	Prior
	GridR     []float64 // rising from zero or above; 0 is no difference between groups
	GridKappa []float64 // zero or above; {0} where h plays no part
}

// DefaultGrid is the grid that overage is fitted on.
func DefaultGrid() (r, kappa []float64) {
	return []float64{0, .1, .2, .35, .5, .75, 1, 1.5, 2.5}, []float64{0, .5, 1, 2, 4, 8, 16}
}

// Data are n outcomes with what is known about each.
type Data struct {
	X      regress.Design // columns, each of length n; an intercept is a column of ones. nil where Cells hold them
	Cells  Cells
	Y      []float64
	H      []float64 // what the variance grows with, zero or above; nil: all zero
	Group  []int     // numbers from 0; nil: no groups, and GridR plays no part
	Weight []float64 // multiplies the precision of a row, above zero; nil: all one
}

// columns is their number.
func (d Data) columns() int {
	if d.Cells.Of != nil {
		return d.Cells.columns()
	}
	return len(d.X)
}

// largestGroup bounds the group numbers, so that a stray code does not ask for
// all of the memory.
const largestGroup = 1 << 22

// clone copies the model, so that a posterior keeps the one it was made with.
func (m Model) clone() Model {
	m.Mean, m.SD = slices.Clone(m.Mean), slices.Clone(m.SD)
	m.GridR, m.GridKappa = slices.Clone(m.GridR), slices.Clone(m.GridKappa)
	return m
}

// check validates the model against the number of columns.
func (m Model) check(columns int) error {
	if len(m.Mean) != columns || len(m.SD) != columns {
		return fmt.Errorf("prior has %d means and %d deviations for %d columns: %w", len(m.Mean), len(m.SD), columns, stat.ErrShape)
	}
	if err := stat.Finite("prior mean", m.Mean...); err != nil {
		return err
	}
	if err := positive("prior deviation", m.SD...); err != nil {
		return err
	}
	for name, v := range map[string]float64{"prior Sigma": m.Sigma, "prior Nu": m.Nu, "prior RScale": m.RScale} {
		if err := positive(name, v); err != nil {
			return err
		}
	}
	if len(m.GridR) == 0 || len(m.GridKappa) == 0 {
		return fmt.Errorf("a grid of r and one of κ are needed: %w", stat.ErrNoData)
	}
	for _, grid := range [][]float64{m.GridR, m.GridKappa} {
		if err := nonNegative("grid", grid); err != nil {
			return err
		}
	}
	for k := 1; k < len(m.GridR); k++ {
		if m.GridR[k] <= m.GridR[k-1] {
			return fmt.Errorf("the grid of r does not rise at %v: %w", m.GridR[k], stat.ErrDomain)
		}
	}
	return nil
}

// check validates the data and returns the number of groups.
func (d Data) check(maxKappa float64) (groups int, err error) {
	n := len(d.Y)
	if d.Cells.Of != nil {
		err = d.Cells.check(n, d.Group)
	} else {
		err = d.X.Check(n)
	}
	if err != nil {
		return 0, err
	}
	if err := stat.Finite("outcome", d.Y...); err != nil {
		return 0, err
	}
	for name, xs := range map[string][]float64{"H": d.H, "weight": d.Weight} {
		if xs != nil && len(xs) != n {
			return 0, fmt.Errorf("%s has %d values for %d outcomes: %w", name, len(xs), n, stat.ErrShape)
		}
	}
	if err := nonNegative("H", d.H); err != nil {
		return 0, err
	}
	if len(d.H) > 0 && slices.Max(d.H)*maxKappa > 1e100 {
		return 0, fmt.Errorf("an H of %v is beyond any size: %w", slices.Max(d.H), stat.ErrDomain)
	}
	if err := positive("weight", d.Weight...); err != nil {
		return 0, err
	}
	return countGroups(d.Group, n)
}

// countGroups validates group numbers, one a row unless nil, and returns one more
// than the largest.
func countGroups(group []int, n int) (int, error) {
	if group == nil {
		return 0, nil
	}
	if len(group) != n {
		return 0, fmt.Errorf("%d group numbers for %d outcomes: %w", len(group), n, stat.ErrShape)
	}
	groups := 0
	for i, g := range group {
		if g < 0 || g > largestGroup {
			return 0, fmt.Errorf("group of row %d is %d, not from 0 to %d: %w", i, g, largestGroup, stat.ErrDomain)
		}
		groups = max(groups, g+1)
	}
	return groups, nil
}

// paired returns an error unless two lists hold one value for each of two groups
// or more.
func paired(a string, as []float64, b string, bs []float64) error {
	switch {
	case len(as) == 0:
		return fmt.Errorf("%s of no groups: %w", a, stat.ErrNoData)
	case len(as) != len(bs):
		return fmt.Errorf("%d %s for %d %s: %w", len(as), a, len(bs), b, stat.ErrShape)
	case len(as) < 2:
		return fmt.Errorf("one group has nothing to be compared with: %w", stat.ErrTooFew)
	}
	return nil
}

// positive returns an error naming the first value that is not above zero and
// finite.
func positive(name string, xs ...float64) error {
	for i, x := range xs {
		if !(x > 0) || math.IsInf(x, 1) {
			return fmt.Errorf("%s %d is %v, not above zero and finite: %w", name, i, x, stat.ErrDomain)
		}
	}
	return nil
}

// nonNegative returns an error naming the first value that is below zero or not
// finite.
func nonNegative(name string, xs []float64) error {
	for i, x := range xs {
		if !(x >= 0) || math.IsInf(x, 1) {
			return fmt.Errorf("%s %d is %v, not zero or above and finite: %w", name, i, x, stat.ErrDomain)
		}
	}
	return nil
}
