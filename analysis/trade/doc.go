// Package trade holds published formulas of flatwork: how much a form holds,
// how fast its surface dries, how far apart its joints stand, how much steel
// it takes, what a pump line holds and how old a slab is in warmth.
//
// One subject a file, each formula with its publication. The units are in the
// names and comments: feet, inches, cubic yards, pounds and °F unless a name
// says SI. Inputs outside the possible range are refused by an error wrapping
// [ErrRange]; no function returns NaN.
//
// These are guides of practice. They do not design a slab: local codes and a
// licensed engineer decide.
package trade

import (
	"errors"
	"fmt"
)

// ErrRange marks an input that no slab, load or day can have.
var ErrRange = errors.New("outside the possible range")

// Ends for quantities that have no natural ones, so that no product or
// quotient of two of them overflows.
const (
	huge = 1e9
	tiny = 1e-9
)

// within refuses x unless low ≤ x ≤ high; NaN is refused.
func within(name, unit string, x, low, high float64) error {
	if x >= low && x <= high {
		return nil
	}
	if unit != "" {
		unit = " " + unit
	}
	return fmt.Errorf("%s is %v%s, want %v to %v: %w", name, x, unit, low, high, ErrRange)
}

// positive refuses x unless tiny ≤ x ≤ huge; NaN is refused.
func positive(name, unit string, x float64) error {
	if x >= tiny && x <= huge {
		return nil
	}
	return fmt.Errorf("%s is %v %s, want more than 0: %w", name, x, unit, ErrRange)
}

// firstOf returns the first error that is not nil.
func firstOf(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}
