package survival

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/floats"

	"pourback/analysis/stat"
)

// Arm sets columns of X, by their positions, to the values they have in it.
type Arm map[int]float64

// Standardised holds the risks of arms, each as if all rows were in it.
type Standardised struct {
	Horizon  float64
	Risk     []float64 // of each arm
	AtRisk   int       // rows followed to the horizon or beyond
	Warnings []string
}

// StandardisedRisk estimates for each arm the mean over all rows of
// 1 − exp(−H₀(horizon)·e^{x(a)'β}), x(a) being the row with its columns set as
// in the arm, by weight and with the H₀ of the row's own stratum
// (g-computation; Robins 1986, Math. Modelling 7, 1393-1512). It assumes that
// the covariates hold all that drives both the choice of arm and the risk.
// Limits come from fitting again to resampled rows: see [Cox.Refit].
//
// Errors: [stat.ErrDomain] for an arm that sets a column there is not, or for a
// horizon below 0; [stat.ErrNotFinite].
func (c *Cox) StandardisedRisk(horizon float64, arms ...Arm) (*Standardised, error) {
	if err := checkTimes("horizon", []float64{horizon}); err != nil {
		return nil, fmt.Errorf("standardised risk: %w", err)
	}
	out := &Standardised{Horizon: horizon}
	for a, arm := range arms {
		risk, err := c.armRisk(horizon, arm)
		if err != nil {
			return nil, fmt.Errorf("standardised risk: arm %d: %w", a, err)
		}
		out.Risk = append(out.Risk, risk)
	}
	longest := make([]float64, len(c.sets.label))
	for i, t := range c.sets.data.Time {
		if c.weightOf(i) == 0 {
			continue
		}
		s := c.sets.stratumOf(i)
		longest[s] = max(longest[s], t)
		if t >= horizon {
			out.AtRisk++
		}
	}
	for s, last := range longest {
		if last < horizon {
			out.Warnings = append(out.Warnings, fmt.Sprintf(
				"stratum %d: nobody was followed to %g, the last to %g: the risk is a lower bound", c.sets.label[s], horizon, last))
		}
	}
	return out, nil
}

func (c *Cox) weightOf(i int) float64 {
	if c.weight == nil {
		return 1
	}
	return c.weight[i]
}

// armRisk is the mean risk with all rows in one arm.
func (c *Cox) armRisk(horizon float64, arm Arm) (float64, error) {
	d, p := c.sets.data, len(c.Coef)
	shift := 0. // Σβ·(set value − mean); the other columns follow row by row
	var free []int
	for j := range p {
		if v, set := arm[j]; set {
			if err := stat.Finite(d.name(j), v); err != nil {
				return 0, err
			}
			shift += c.Coef[j] * (v - c.sets.mean[j])
			continue
		}
		free = append(free, j)
		shift -= c.Coef[j] * c.sets.mean[j]
	}
	if len(free)+len(arm) != p {
		return 0, fmt.Errorf("it sets a column outside 0 … %d: %w", p-1, stat.ErrDomain)
	}
	hazard := c.hazardAt(horizon)
	eta := make([]float64, len(d.Time))
	for _, j := range free {
		floats.AddScaled(eta, c.Coef[j], d.X[j])
	}
	var sum, weight float64
	for i, e := range eta {
		w := c.weightOf(i)
		if w == 0 {
			continue // not drawn
		}
		weight += w
		sum -= w * math.Expm1(-hazard[c.sets.stratumOf(i)]*math.Exp(min(e+shift, 700)))
	}
	return sum / weight, nil
}

// hazardAt is the cumulative hazard of each stratum at t and the column means.
func (c *Cox) hazardAt(t float64) []float64 {
	s := c.sets
	h := s.hazards(nil)
	out := make([]float64, len(s.label))
	for i := range out {
		from, to := s.first[i], s.first[i+1]
		if b := lastAtOrBefore(s.time[from:to], t); b >= 0 {
			out[i] = h[2*(from+b)]
		}
	}
	return out
}
