package control

import (
	"fmt"

	"gonum.org/v1/gonum/mathext"

	"pourback/analysis/stat"
)

// P charts the proportions counts/trials, in order of time, with limits
// p̄ ± 3√(p̄(1−p̄)/nᵢ) from the first base points, and exact binomial tails. The
// tails serve small counts, where the limits mislead; Laney's limits serve
// large ones that vary more than chance allows.
//
// A base under [MinPoints] gives [stat.ErrTooFew], one over the points
// [stat.ErrDomain], lengths that differ [stat.ErrShape], counts out of range
// [stat.ErrDomain]; a base without events [stat.ErrNoEvents], with nothing but
// events [stat.ErrNoVariation].
//
// Source: Shewhart (1931); Laney (2002), Quality Engineering 14:531.
func P(counts, trials []int, base int) (Attributes, error) {
	n := make([]float64, len(trials))
	for i, t := range trials {
		n[i] = float64(t)
		if i < len(counts) && counts[i] > t {
			return Attributes{}, fmt.Errorf("counts[%d] is %d of %d: %w", i, counts[i], t, stat.ErrDomain)
		}
	}
	c, err := newAttributes(counts, n, base)
	if err != nil {
		return Attributes{}, err
	}
	if c.Center >= 1 {
		return Attributes{}, fmt.Errorf("every trial of the base is an event: %w", stat.ErrNoVariation)
	}
	for i, x := range counts {
		lower, upper := binomialTails(float64(x), n[i], c.Center)
		c.PLower, c.PUpper = append(c.PLower, lower), append(c.PUpper, upper)
	}
	return c.finish(n, c.Center*(1-c.Center), 1)
}

// binomialTails returns P(X ≤ x) and P(X ≥ x) by the incomplete beta integral
// (Abramowitz & Stegun 1964, 26.5.24).
func binomialTails(x, n, p float64) (lower, upper float64) {
	lower, upper = 1, 1
	if x < n {
		lower = mathext.RegIncBeta(n-x, x+1, 1-p)
	}
	if x > 0 {
		upper = mathext.RegIncBeta(x, n-x+1, p)
	}
	return lower, upper
}
