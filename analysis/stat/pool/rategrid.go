package pool

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"

	"pourback/analysis/stat"
)

// RatePrior is the prior on the shape a of the law that rates come from: weight
// 1/(1+a/Scale) on each point of the grid.
//
// Spread, where given, are the factors of the pooled rate over which the mean m
// of that law may lie, each as likely as the next beforehand. Without it m is
// the pooled rate and counts as known, which promises too much of few events.
type RatePrior struct {
	A      []float64 // above zero
	Scale  float64   // above zero
	Spread []float64 // above zero; nil is {1}
}

// DefaultRatePrior has 25 shapes from .3 to 30, evenly spaced in their logarithm,
// and a Scale of 3.
func DefaultRatePrior() RatePrior {
	return RatePrior{A: floats.LogSpan(make([]float64, 25), 0.3, 30), Scale: 3}
}

// WideRatePrior is DefaultRatePrior with a mean anywhere from a quarter of the
// pooled rate to four times it, on 13 points evenly spaced in their logarithm.
func WideRatePrior() RatePrior {
	prior := DefaultRatePrior()
	prior.Spread = floats.LogSpan(make([]float64, 13), 1./4, 4)
	return prior
}

// RateGrid is the gamma-Poisson model with a averaged out, and m over its
// spread: y_o ~ Poisson(λ_oE_o), λ_o ~ Gamma(a, a/m). An a of .3 lets outfits
// differ widely, one of 30 hardly at all.
type RateGrid struct {
	Prior      RatePrior
	Weight     []float64 // posterior probability of each a, for each of the spread in turn
	PooledRate float64
	N          int

	events, exposure []float64
}

// GammaPoissonGrid finds the posterior on the grid of a: prior times the
// negative-binomial marginal likelihood at b = a/m. It starts from the pooled
// rate, so it needs events; without any, the exact limits of the pooled count
// are all there is.
func GammaPoissonGrid(events, exposure []float64, prior RatePrior) (*RateGrid, error) {
	if err := positive("shape", prior.A...); err != nil {
		return nil, err
	}
	if err := positive("scale of the prior", prior.Scale); err != nil {
		return nil, err
	}
	if err := positive("spread", prior.Spread...); err != nil {
		return nil, err
	}
	if len(prior.A) == 0 {
		return nil, fmt.Errorf("an empty grid of shapes: %w", stat.ErrNoData)
	}
	f, err := newRateFit(events, exposure)
	if err != nil {
		return nil, err
	}
	spread := prior.Spread
	if len(spread) == 0 {
		spread = []float64{1}
	}
	g := &RateGrid{Prior: RatePrior{slices.Clone(prior.A), prior.Scale, slices.Clone(spread)}, PooledRate: f.PooledRate, N: f.N, events: f.events, exposure: f.exposure}
	for _, times := range spread {
		for _, a := range prior.A {
			g.Weight = append(g.Weight, f.logLik(a, a/(times*f.PooledRate))-math.Log1p(a/prior.Scale))
		}
	}
	normalise(g.Weight)
	return g, nil
}

// Outfit is the law of the rate of group o, a mixture of Gamma(a+y, a/m+E).
func (g *RateGrid) Outfit(o int) (GammaMixture, error) {
	if o < 0 || o >= g.N {
		return GammaMixture{}, fmt.Errorf("group %d of %d: %w", o, g.N, stat.ErrDomain)
	}
	return g.law(g.events[o], g.exposure[o]), nil
}

// New is the law of the rate of a group not seen before.
func (g *RateGrid) New() GammaMixture { return g.law(0, 0) }

func (g *RateGrid) law(events, exposure float64) GammaMixture {
	m := GammaMixture{N: int(events)}
	for k, w := range g.Weight {
		if w < negligible {
			continue // most of a wide grid
		}
		a, times := g.Prior.A[k%len(g.Prior.A)], g.Prior.Spread[k/len(g.Prior.A)]
		m.Weight = append(m.Weight, w)
		m.Shape = append(m.Shape, a+events)
		m.Rate = append(m.Rate, a/(times*g.PooledRate)+exposure)
	}
	return m
}

// normalise turns log weights into weights that sum to one.
func normalise(w []float64) {
	highest := floats.Max(w)
	for k := range w {
		w[k] = math.Exp(w[k] - highest)
	}
	floats.Scale(1/floats.Sum(w), w)
}
