package regress

import (
	"fmt"
	"math"

	"pourback/analysis/stat"
)

// Root finds the zero of f between a and b, where f has opposite signs, by
// regula falsi with the Illinois rule (Dowell & Jarratt 1971, BIT 11, 168-174)
// and a bisection now and then. It is good to a few units in the last place of
// the larger of the root and 1e-15 of the interval.
func Root(f func(float64) (float64, error), a, b float64) (float64, error) {
	fa, err := f(a)
	if err != nil {
		return 0, err
	}
	fb, err := f(b)
	if err != nil {
		return 0, err
	}
	switch {
	case fa == 0:
		return a, nil
	case fb == 0:
		return b, nil
	case (fa > 0) == (fb > 0) || math.IsNaN(fa) || math.IsNaN(fb):
		return 0, fmt.Errorf("no change of sign between %v (%v) and %v (%v): %w", a, fa, b, fb, stat.ErrNotConverged)
	}
	grain, last := 1e-15*math.Abs(b-a), math.Inf(1)
	for i := range 300 {
		c := b - fb*(b-a)/(fb-fa)
		if i%6 == 5 || !(c > math.Min(a, b) && c < math.Max(a, b)) {
			c = a + (b-a)/2
		}
		fc, err := f(c)
		if err != nil {
			return 0, err
		}
		if near := grain + 1e-15*math.Abs(c); fc == 0 || math.Abs(c-last) <= near || math.Abs(b-a) <= near {
			return c, nil
		}
		if (fc > 0) == (fb > 0) {
			fa /= 2
		} else {
			a, fa = b, fb
		}
		b, fb, last = c, fc, c
	}
	return last, nil
}

// outward finds the root of a function that is negative at start and rises away
// from it in the direction of step, which is also the first guess of how far.
func outward(f func(float64) (float64, error), start, step float64) (float64, error) {
	for range 60 {
		v, err := f(start + step)
		if err != nil {
			return 0, err
		}
		if v >= 0 {
			return Root(f, start, start+step)
		}
		start, step = start+step, 2*step
	}
	return 0, fmt.Errorf("no limit up to %v: %w", start, stat.ErrNotConverged)
}
