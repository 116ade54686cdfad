package control

import (
	"math"

	"gonum.org/v1/gonum/mathext"

	"pourback/analysis/stat"
)

// U charts the rates counts/exposure, in order of time, with limits
// ū ± 3√(ū/nᵢ) from the first base points, and exact Poisson tails. Exposure
// must be finite and above 0, else [stat.ErrDomain]; other inputs, errors and
// sources are those of [P].
func U(counts []int, exposure []float64, base int) (Attributes, error) {
	c, err := newAttributes(counts, exposure, base)
	if err != nil {
		return Attributes{}, err
	}
	for i, x := range counts {
		if err := stat.Finite("expected count", c.Center*exposure[i]); err != nil {
			return Attributes{}, err
		}
		lower, upper := poissonTails(float64(x), c.Center*exposure[i])
		c.PLower, c.PUpper = append(c.PLower, lower), append(c.PUpper, upper)
	}
	return c.finish(exposure, c.Center, math.Inf(1))
}

// poissonTails returns P(X ≤ x) and P(X ≥ x) by the incomplete gamma integral
// (Abramowitz & Stegun 1964, 26.4.21).
func poissonTails(x, mean float64) (lower, upper float64) {
	upper = 1
	if x > 0 {
		upper = mathext.GammaIncReg(x, mean)
	}
	return mathext.GammaIncRegComp(x+1, mean), upper
}
