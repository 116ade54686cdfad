package pool

import (
	"math"

	"gonum.org/v1/gonum/floats"

	"pourback/analysis/stat"
)

// RateBelief is what is believed of the common rate of groups before any record:
// m ~ Gamma(Events, Events/Rate), as if so many events had been seen at that rate.
type RateBelief struct {
	Rate   float64 // above zero
	Events float64 // above zero
}

// Groups differ by a coefficient of variation of 1/√a: from as much as the rate
// itself to a fifth of it, each a as likely as the next beforehand; the common rate
// lies on a grid that spans all of its belief.
var (
	believedShapes  = floats.LogSpan(make([]float64, 8), 1, 30)
	believedSpreads = floats.LogSpan(make([]float64, 41), 1./64, 64)
)

// BelievedRateGrid is the gamma-Poisson model y_o ~ Poisson(λ_oE_o),
// λ_o ~ Gamma(a, a/m) with a belief about m, averaged over both. Unlike
// [GammaPoissonGrid] it needs no events and no groups: the rates are drawn to the
// belief until the records carry them. (Gelman and others, Bayesian Data Analysis,
// 3rd ed., §2.6 and §5; the priors are assumptions.)
func BelievedRateGrid(events, exposure []float64, belief RateBelief) (*RateGrid, error) {
	if err := positive("rate and events of the belief", belief.Rate, belief.Events); err != nil {
		return nil, err
	}
	if err := nonNegative("count", events); err != nil {
		return nil, err
	}
	if err := positive("exposure", exposure...); err != nil {
		return nil, err
	}
	if len(events) != len(exposure) {
		return nil, stat.ErrShape
	}
	f := &RateFit{N: len(events), events: events, exposure: exposure}
	g := &RateGrid{Prior: RatePrior{A: believedShapes, Spread: believedSpreads}, PooledRate: belief.Rate, N: f.N, events: events, exposure: exposure}
	for _, times := range believedSpreads {
		// The density of log m at this point, less constants.
		prior := belief.Events * (math.Log(times) - times)
		for _, a := range believedShapes {
			g.Weight = append(g.Weight, prior+f.logLik(a, a/(times*belief.Rate)))
		}
	}
	normalise(g.Weight)
	return g, nil
}
