package pool

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mathext"

	"pourback/analysis/stat"
	"pourback/analysis/stat/regress"
)

// RateFit is the gamma law that rates of groups come from, fitted by maximum
// marginal likelihood.
type RateFit struct {
	stat.Fit
	A, B       float64 // shape and rate of the gamma law; +Inf both when Pooled
	LogLik     float64 // Σ[log Γ(a+y)−log Γ(a)+a·log b−(a+y)log(b+E)]; the Poisson limit, less its constants, when Pooled
	PooledRate float64 // Σy/ΣE
	BetweenVar float64 // moments estimate of the variance between rates, at least zero
	Pooled     bool    // the likelihood sees no difference between the groups
	N          int

	events, exposure []float64
}

// largestShape is where a gamma law counts as a point: its coefficient of
// variation is under one per cent.
const largestShape = 1 << 14

// GammaPoisson fits y_o ~ Poisson(λ_oE_o), λ_o ~ Gamma(a, b) by maximising the
// negative-binomial marginal likelihood (Gaver & O'Muircheartaigh 1987,
// Technometrics 29, 1-15): for each a the best b is the root of a decreasing
// function, and a is where the profile score is zero. BetweenVar is
// [ΣE(y/E−m)²−(k−1)m]/(ΣE−ΣE²/ΣE), m the pooled rate. With few groups the
// maximum is often at no difference; [GammaPoissonGrid] does not fall for that.
func GammaPoisson(events, exposure []float64) (*RateFit, error) {
	f, err := newRateFit(events, exposure)
	if err != nil {
		return nil, err
	}
	a, err := f.bestShape()
	if err != nil {
		return nil, err
	}
	f.Converged = true
	if a >= largestShape {
		f.A, f.B, f.Pooled = math.Inf(1), math.Inf(1), true
		f.LogLik = f.limit()
		f.Warnings = append(f.Warnings, "the differences between groups are no more than chance makes: all take the pooled rate, and its own uncertainty is left out")
		return f, nil
	}
	f.A, f.B = a, f.bestRate(a)
	f.LogLik = f.logLik(f.A, f.B)
	return f, nil
}

func newRateFit(events, exposure []float64) (*RateFit, error) {
	if err := paired("counts", events, "exposures", exposure); err != nil {
		return nil, err
	}
	if err := nonNegative("count", events); err != nil {
		return nil, err
	}
	if err := positive("exposure", exposure...); err != nil {
		return nil, err
	}
	f := &RateFit{N: len(events), events: slices.Clone(events), exposure: slices.Clone(exposure)}
	total := floats.Sum(exposure)
	f.PooledRate = floats.Sum(events) / total
	if f.PooledRate == 0 {
		return nil, fmt.Errorf("no events in an exposure of %v: %w", total, stat.ErrNoEvents)
	}
	scatter := 0.0
	for o, e := range exposure {
		d := events[o]/e - f.PooledRate
		scatter += e * d * d
	}
	f.BetweenVar = math.Max(0, (scatter-float64(f.N-1)*f.PooledRate)/unevenness(exposure))
	if err := stat.Finite("variance between rates", f.BetweenVar); err != nil {
		return nil, err
	}
	return f, nil
}

// logLik is the marginal log-likelihood without terms free of a and b.
func (f *RateFit) logLik(a, b float64) float64 {
	one, _ := math.Lgamma(a)
	sum := 0.0
	for o, y := range f.events {
		rising, _ := math.Lgamma(a + y)
		sum += rising - one - y*math.Log(b+f.exposure[o]) - a*math.Log1p(f.exposure[o]/b)
	}
	return sum
}

// limit is logLik as a and b grow with a/b the pooled rate.
func (f *RateFit) limit() float64 {
	sum := 0.0
	for o, y := range f.events {
		sum += y*math.Log(f.PooledRate) - f.PooledRate*f.exposure[o]
	}
	return sum
}

// bestRate is the b that maximises the likelihood given a: the root of
// Σ(aE−yb)/(b+E), which falls in b.
func (f *RateFit) bestRate(a float64) float64 {
	slope := func(b float64) float64 {
		sum := 0.0
		for o, y := range f.events {
			sum += (a*f.exposure[o] - y*b) / (b + f.exposure[o])
		}
		return sum
	}
	low, high := a/f.PooledRate, a/f.PooledRate
	for slope(low) < 0 {
		low /= 2
	}
	for slope(high) > 0 {
		high *= 2
	}
	b, err := regress.Root(func(b float64) (float64, error) { return slope(b), nil }, low, high)
	if err != nil {
		return low // both ends are the root
	}
	return b
}

// bestShape scans a and finds where the profile score is zero, or returns
// largestShape.
func (f *RateFit) bestShape() (float64, error) {
	best, highest := 0.0, math.Inf(-1)
	for a := 1.0 / 1024; a < largestShape; a *= math.Sqrt2 {
		f.Iterations++
		if ll := f.logLik(a, f.bestRate(a)); ll > highest {
			best, highest = a, ll
		}
	}
	low, high := best/math.Sqrt2, best*math.Sqrt2
	if f.shapeScore(low) <= 0 || f.shapeScore(high) >= 0 {
		if low < 1.0/1024 {
			return 0, fmt.Errorf("rates of groups differ without bound: the likelihood rises as the shape falls to %v: %w", best, stat.ErrNotConverged)
		}
		return largestShape, nil
	}
	return regress.Root(func(a float64) (float64, error) {
		f.Iterations++
		return f.shapeScore(a), nil
	}, low, high)
}

// shapeScore is the slope of the profile likelihood in a.
func (f *RateFit) shapeScore(a float64) float64 {
	b, one, sum := f.bestRate(a), mathext.Digamma(a), 0.0
	for o, y := range f.events {
		sum += mathext.Digamma(a+y) - one - math.Log1p(f.exposure[o]/b)
	}
	return sum
}

// Posterior is the law of the rate of group o, Gamma(a+y, b+E).
func (f *RateFit) Posterior(o int) (GammaMixture, error) {
	if o < 0 || o >= f.N {
		return GammaMixture{}, fmt.Errorf("group %d of %d: %w", o, f.N, stat.ErrDomain)
	}
	if f.Pooled {
		return GammaMixture{}, fmt.Errorf("the groups do not differ: each has the pooled rate %v: %w", f.PooledRate, stat.ErrNoVariation)
	}
	return GammaMixture{N: int(f.events[o]), Weight: []float64{1}, Shape: []float64{f.A + f.events[o]}, Rate: []float64{f.B + f.exposure[o]}}, nil
}
