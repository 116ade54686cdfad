package pool

import (
	"fmt"
	"math"

	"pourback/analysis/stat"
)

// Dispersion says how much more than Poisson counts vary from unit to unit: the
// variance of a count is Phi times its mean.
type Dispersion struct {
	Estimate    float64   // Σ(y−μ)²/μ over the degrees of freedom
	Phi, Weight []float64 // values of Phi with their probabilities
}

// dispersionGrid are the values of φ that are weighed.
var dispersionGrid = []float64{1, 1.15, 1.3, 1.5, 1.75, 2, 2.5, 3, 4, 6}

// CountDispersion weighs φ by Pearson's X² = Σ(y−μ)²/μ over units, each with the
// rate of its group: X²/ν is about normal with mean φ and variance
// φ²·(2 + mean of 1/μ)/ν, ν the units less the groups (McCullagh & Nelder 1989,
// Generalized Linear Models, 2nd ed., section 4.5; the variance of X² for small
// counts from section 6.2, of Poisson counts). The prior on φ is 1/φ² over the
// grid. With no degree of freedom φ is 1.
//
// Errors: [stat.ErrShape]; [stat.ErrDomain] for a count below 0 or an exposure
// not above it.
func CountDispersion(events, exposure []float64, group []int) (Dispersion, error) {
	if len(events) != len(exposure) || len(events) != len(group) {
		return Dispersion{}, fmt.Errorf("%d counts, %d exposures, %d groups: %w", len(events), len(exposure), len(group), stat.ErrShape)
	}
	y, e := map[int]float64{}, map[int]float64{}
	for i, g := range group {
		if !(events[i] >= 0) || !(exposure[i] > 0) {
			return Dispersion{}, fmt.Errorf("unit %d: %v events in %v: %w", i, events[i], exposure[i], stat.ErrDomain)
		}
		y[g] += events[i]
		e[g] += exposure[i]
	}
	groups := 0.
	for _, n := range y {
		if n > 0 {
			groups++ // one without events has no variance, and tells nothing
		}
	}
	var chi, inverse, units float64
	for i, g := range group {
		if mu := exposure[i] * y[g] / e[g]; mu > 0 {
			chi += (events[i] - mu) * (events[i] - mu) / mu
			inverse += 1 / mu
			units++
		}
	}
	nu := units - groups
	if nu < 1 {
		return Dispersion{Estimate: 1, Phi: []float64{1}, Weight: []float64{1}}, nil
	}
	d := Dispersion{Estimate: chi / nu, Phi: dispersionGrid}
	for _, phi := range d.Phi {
		variance := phi * phi * (2 + inverse/units) / nu
		gap := d.Estimate - phi
		d.Weight = append(d.Weight, -gap*gap/(2*variance)-math.Log(variance)/2-2*math.Log(phi))
	}
	normalise(d.Weight)
	return d, nil
}

// Dispersed averages the laws of a group's rate over φ: events and exposures
// count φ-th as much (quasi-likelihood: Wedderburn 1974, Biometrika 61, 439-447).
// of gives the group's law where all of them count so.
func (d Dispersion) Dispersed(of func(phi float64) (GammaMixture, error)) (GammaMixture, error) {
	var out GammaMixture
	for k, w := range d.Weight {
		if w < negligible {
			continue
		}
		law, err := of(d.Phi[k])
		if err != nil {
			return GammaMixture{}, err
		}
		if out.Weight == nil {
			most := len(d.Weight) * len(law.Weight)
			out.Weight, out.Shape, out.Rate = make([]float64, 0, most), make([]float64, 0, most), make([]float64, 0, most)
		}
		for j := range law.Weight {
			if both := w * law.Weight[j]; both >= negligible {
				out.Weight, out.Shape, out.Rate = append(out.Weight, both), append(out.Shape, law.Shape[j]), append(out.Rate, law.Rate[j])
			}
		}
	}
	return out, nil
}
