package regress

import (
	"fmt"
	"math"

	"pourback/analysis/stat"
)

// Design is the matrix of a regression by columns: x[j][i] is column j of
// observation i. An intercept is a column of ones like any other, see [Ones].
type Design [][]float64

// Ones returns the column of an intercept.
func Ones(n int) []float64 {
	ones := make([]float64, n)
	for i := range ones {
		ones[i] = 1
	}
	return ones
}

// With returns the design with every value of column j replaced by value. The
// other columns are shared, not copied.
func (x Design) With(j int, value float64) Design {
	y := append(Design(nil), x...)
	y[j] = make([]float64, len(x[j]))
	for i := range y[j] {
		y[j][i] = value
	}
	return y
}

// Check returns an error unless the design has at least one column, and every
// column n finite values.
func (x Design) Check(n int) error {
	if n == 0 {
		return fmt.Errorf("regression on no observations: %w", stat.ErrNoData)
	}
	if len(x) == 0 {
		return fmt.Errorf("regression on no columns: %w", stat.ErrNoData)
	}
	for j, column := range x {
		if len(column) != n {
			return fmt.Errorf("column %d has %d values for %d outcomes: %w", j, len(column), n, stat.ErrShape)
		}
		if err := finite(fmt.Sprintf("column %d", j), column); err != nil {
			return err
		}
	}
	return nil
}

// finite is [stat.Finite] for a column of any length.
func finite(name string, xs []float64) error {
	for i, x := range xs {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return fmt.Errorf("%s, value %d: %w", name, i, stat.Finite("it", x))
		}
	}
	return nil
}

// hasCoefficient returns an error unless j is the number of a coefficient.
func hasCoefficient(j int, coef []float64) error {
	if j < 0 || j >= len(coef) {
		return fmt.Errorf("coefficient %d of %d: %w", j, len(coef), stat.ErrDomain)
	}
	return nil
}

// checked returns the fit, or an error if a number of it is beyond what floating
// point holds.
func checked[T any](fit *T, coef, se []float64, more ...float64) (*T, error) {
	for _, numbers := range [][]float64{coef, se, more} {
		if err := stat.Finite("estimate", numbers...); err != nil {
			return nil, fmt.Errorf("columns, outcomes or weights are of too different a size: %w", err)
		}
	}
	return fit, nil
}

// nonNegative returns an error naming the first value of xs that is below zero
// or not finite, or a length other than n.
func nonNegative(name string, xs []float64, n int) error {
	if len(xs) != n {
		return fmt.Errorf("%s has %d values for %d outcomes: %w", name, len(xs), n, stat.ErrShape)
	}
	if err := finite(name, xs); err != nil {
		return err
	}
	for i, x := range xs {
		if x < 0 {
			return fmt.Errorf("%s, value %d: %v is below zero: %w", name, i, x, stat.ErrDomain)
		}
	}
	return nil
}

// eta writes the linear predictor Xβ into dst.
func (x Design) eta(beta, dst []float64) {
	clear(dst)
	for j, column := range x {
		b := beta[j]
		for i, v := range column {
			dst[i] += b * v
		}
	}
}

// hasIntercept tells whether some column is constant and not zero.
func (x Design) hasIntercept() bool {
	for _, column := range x {
		constant := column[0] != 0
		for _, v := range column {
			constant = constant && v == column[0]
		}
		if constant {
			return true
		}
	}
	return false
}
