package survival

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"

	"pourback/analysis/stat"
)

// Wald estimates the hazard ratio e^β of a column with limits e^(β±z·se), the
// robust standard error where there are clusters. N is the number of events.
// Errors: [stat.ErrDomain] for a column there is not, the level, or a ratio too
// great to be a number.
func (c *Cox) Wald(column int, level float64) (stat.Estimate, error) {
	if err := c.checkColumn(column, level); err != nil {
		return stat.Estimate{}, err
	}
	half := normalQuantile(level) * c.SE()[column]
	return c.ratio(column, -half, half, level, "Wald")
}

// Profile estimates the hazard ratio of a column with the limits at which
// twice the fall of the profile likelihood, the other coefficients at their
// best, is the χ²₁ quantile of the level. The likelihood is the penalised one
// where there are penalties (Heinze & Schemper 2001); it takes no account of
// clusters. A limit is 0 or +Inf where the profile never falls so far. Errors as
// [Cox.Wald], and [stat.ErrNotConverged].
func (c *Cox) Profile(column int, level float64) (stat.Estimate, error) {
	if err := c.checkColumn(column, level); err != nil {
		return stat.Estimate{}, err
	}
	low, err := c.profileLimit(column, -1, level)
	if err != nil {
		return stat.Estimate{}, fmt.Errorf("profile: lower limit: %w", err)
	}
	high, err := c.profileLimit(column, +1, level)
	if err != nil {
		return stat.Estimate{}, fmt.Errorf("profile: upper limit: %w", err)
	}
	b := c.Coef[column]
	return c.ratio(column, low-b, high-b, level, "profile")
}

// ratio is e^β of a column with limits so far below and above β.
func (c *Cox) ratio(column int, below, above, level float64, limits string) (stat.Estimate, error) {
	b := c.Coef[column]
	est := stat.Estimate{Value: math.Exp(b), Low: math.Exp(b + below), High: math.Exp(b + above), Level: level, N: c.Events,
		Method: c.method() + ", " + limits + " limits"}
	if math.IsInf(est.Value, 1) {
		return stat.Estimate{}, fmt.Errorf("hazard ratio of %s: e^%g is too great a number; measure it in larger units: %w",
			c.sets.data.name(column), b, stat.ErrDomain)
	}
	return est, nil
}

func (c *Cox) checkColumn(column int, level float64) error {
	if column < 0 || column >= len(c.Coef) {
		return fmt.Errorf("no column %d among %d: %w", column, len(c.Coef), stat.ErrDomain)
	}
	return stat.CheckLevel(level)
}

func (c *Cox) method() string {
	m := "Cox, " + c.options.Ties.String() + " ties"
	if c.options.Firth {
		m += ", Firth's penalty"
	}
	if len(c.options.Priors) > 0 {
		m += ", normal prior"
	}
	return m
}

// profile follows the profile likelihood of one coefficient.
type profile struct {
	climber *climber
	top     float64
	beta    []float64 // where the last search ended
	tangent []float64 // how the others go with the coefficient, at the top
}

// rootFall is √(2·(top − profile likelihood)) with the coefficient at b, which
// grows about linearly away from the top; ok is false where it cannot be had.
func (p *profile) rootFall(b float64) (fall float64, ok bool) {
	beta := slices.Clone(p.beta)
	floats.AddScaled(beta, b-beta[p.climber.fixed], p.tangent)
	beta[p.climber.fixed] = b
	if _, err := p.climber.maximise(beta); err != nil {
		return 0, false
	}
	p.beta = beta
	return math.Sqrt(2 * max(0, p.top-p.climber.value(beta))), true
}

// profileLimit finds the limit on one side: first a point beyond it, then the
// limit between.
func (c *Cox) profileLimit(column int, side, level float64) (float64, error) {
	const farOut = 100 // spreads of the column
	sets := newRiskSets(c.sets.coxRows, c.options)
	sets.weighBy(c.weight)
	target := &coxTarget{options: c.options, sets: sets}
	p := &profile{climber: target.climber(column), top: c.Penalised, beta: slices.Clone(c.Coef), tangent: make([]float64, len(c.Coef))}
	for j := range p.tangent {
		p.tangent[j] = c.Cov.At(j, column) / c.Cov.At(column, column)
	}
	z := normalQuantile(level)
	inner, innerFall := c.Coef[column], 0.
	for step := z * math.Sqrt(c.Cov.At(column, column)); ; step *= 2 {
		outer := inner + side*step
		fall, ok := p.rootFall(outer)
		if !ok || math.Abs(outer-c.Coef[column])*c.sets.scale[column] > farOut {
			return side * math.Inf(1), nil
		}
		if fall >= z {
			return p.between(inner, innerFall, outer, fall, z)
		}
		inner, innerFall = outer, fall
	}
}

// between finds where the root fall is z by regula falsi, halving the weight
// of an end that stays twice (the Illinois rule).
func (p *profile) between(inner, innerFall, outer, outerFall, z float64) (float64, error) {
	a, fa, b, fb := inner, innerFall-z, outer, outerFall-z
	kept := 0
	for range mostSteps {
		x := b - fb*(b-a)/(fb-fa)
		fall, ok := p.rootFall(x)
		if !ok {
			return 0, fmt.Errorf("the profile at %g: %w", x, stat.ErrNotConverged)
		}
		f := fall - z
		if math.Abs(f) < 1e-9*z || math.Abs(b-a) <= 1e-12*(1+math.Abs(b)) {
			return x, nil
		}
		if f < 0 {
			a, fa = x, f
			if kept == -1 {
				fb /= 2
			}
			kept = -1
		} else {
			b, fb = x, f
			if kept == +1 {
				fa /= 2
			}
			kept = +1
		}
	}
	return 0, fmt.Errorf("the profile limit after %d steps: %w", mostSteps, stat.ErrNotConverged)
}
