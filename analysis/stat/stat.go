// Package stat is the floor that the statistical methods stand on: the shape
// of an answer, and the ways in which a question can have none.
//
// Each method has a package of its own below this one. They are pure functions
// of numbers: no clock, no file, no global source of randomness, no record
// type. Every exported method cites the source of its formula.
//
// An error means that the question has no answer; a warning, carried inside
// the result, means that it has one with a reservation. No method returns NaN.
package stat

import (
	"errors"
	"fmt"
	"math"
)

// Estimate is a number with its evidence: an interval at a confidence level,
// the count it rests on and the method that made it. Low and High may be
// infinite where the data bound one side only; Value never is.
type Estimate struct {
	Value, Low, High float64
	Level            float64 // confidence of the interval, in (0, 1)
	N                int     // observations, trials or events: the method says which
	Method           string
}

// Fit tells how an iterative method ended.
type Fit struct {
	Iterations int
	Converged  bool
	Warnings   []string
}

// The reasons for which a question has no answer. Methods wrap them with what
// was wrong and where, so callers test with errors.Is.
var (
	ErrNoData       = errors.New("no data")
	ErrTooFew       = errors.New("too few observations")
	ErrNotFinite    = errors.New("not a finite number")
	ErrDomain       = errors.New("outside the possible range")
	ErrShape        = errors.New("lengths do not match")
	ErrNoEvents     = errors.New("no events")
	ErrNoVariation  = errors.New("no variation")
	ErrCollinear    = errors.New("columns are linearly dependent")
	ErrSeparated    = errors.New("outcomes are perfectly separated")
	ErrNotConverged = errors.New("did not converge")
)

// Finite returns an error wrapping [ErrNotFinite] that names the first value
// of xs that is NaN or infinite, or nil.
func Finite(name string, xs ...float64) error {
	for i, x := range xs {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			if len(xs) == 1 {
				return fmt.Errorf("%s is %v: %w", name, x, ErrNotFinite)
			}
			return fmt.Errorf("%s[%d] is %v: %w", name, i, x, ErrNotFinite)
		}
	}
	return nil
}

// CheckLevel returns an error wrapping [ErrDomain] unless 0 < level < 1.
func CheckLevel(level float64) error {
	if !(level > 0 && level < 1) {
		return fmt.Errorf("confidence level %v is not between 0 and 1: %w", level, ErrDomain)
	}
	return nil
}
