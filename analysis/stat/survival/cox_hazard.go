package survival

import (
	"fmt"
	"math"
	"slices"

	"pourback/analysis/stat"
)

// Hazard is the cumulative hazard of one stratum at given covariates.
type Hazard struct {
	Stratum int       // code; 0 where there are no strata
	Time    []float64 // event times
	Cum     []float64 // H at and after each
}

// CumHazard gives H₀(t)·e^{x'β} in each stratum, where H₀ steps by Σ_{l<d} w̄/D_l
// at a time of d events: Breslow's estimator (1974, Biometrics 30), with
// Efron's D_l where the fit used it. At x = 0 it is H₀, but that may lie far
// from the data; at the column means it does not.
//
// Errors: [stat.ErrShape], [stat.ErrNotFinite]; [stat.ErrDomain] when x is so
// far out that H is no number.
func (c *Cox) CumHazard(x []float64) ([]Hazard, error) {
	if len(x) != len(c.Coef) {
		return nil, fmt.Errorf("cumulative hazard: %d values for %d columns: %w", len(x), len(c.Coef), stat.ErrShape)
	}
	if err := stat.Finite("covariate", x...); err != nil {
		return nil, fmt.Errorf("cumulative hazard: %w", err)
	}
	eta := 0.
	for j, b := range c.Coef {
		eta += b * (x[j] - c.sets.mean[j])
	}
	s := c.sets
	h := s.hazards(nil)
	factor := math.Exp(eta)
	if !(factor <= math.MaxFloat64/(1+slices.Max(h))) {
		return nil, fmt.Errorf("cumulative hazard: x'β is %g above its mean: %w", eta, stat.ErrDomain)
	}
	var out []Hazard
	for i, code := range s.label {
		curve := Hazard{Stratum: code}
		for b := s.first[i]; b < s.first[i+1]; b++ {
			curve.Time = append(curve.Time, s.time[b])
			curve.Cum = append(curve.Cum, factor*h[2*b])
		}
		out = append(out, curve)
	}
	return out, nil
}

// At is the cumulative hazard at t.
func (h Hazard) At(t float64) float64 {
	if i := lastAtOrBefore(h.Time, t); i >= 0 {
		return h.Cum[i]
	}
	return 0
}
