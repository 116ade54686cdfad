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

// Beta is the beta law of a share, shapes A and B above zero.
type Beta struct{ A, B float64 }

// Mean is A/(A+B).
func (b Beta) Mean() float64 { return b.A / (b.A + b.B) }

// CDF is P(share ≤ x).
func (b Beta) CDF(x float64) float64 {
	switch {
	case x <= 0:
		return 0
	case x >= 1:
		return 1
	}
	return mathext.RegIncBeta(b.A, b.B, x)
}

// Quantile is the share with P(share ≤ x) = p, in [0, 1].
func (b Beta) Quantile(p float64) float64 {
	switch {
	case p <= 0:
		return 0
	case p >= 1:
		return 1
	case b.CDF(0.5) < p:
		return 1 - Beta{b.B, b.A}.lower(1-p)
	}
	return b.lower(p)
}

// lower is a quantile of at most ½.
func (b Beta) lower(p float64) float64 { return positiveQuantile(b.CDF, p, math.Min(b.Mean(), 0.5)) }

// Interval is the mean with the central interval at this level. How many trials
// it rests on is for the caller to say.
func (b Beta) Interval(level float64) (stat.Estimate, error) {
	if err := stat.CheckLevel(level); err != nil {
		return stat.Estimate{}, err
	}
	return stat.Estimate{Value: b.Mean(), Low: b.Quantile((1 - level) / 2), High: b.Quantile((1 + level) / 2), Level: level, Method: "beta-binomial, central interval"}, nil
}

// ShareFit is the beta law that shares of groups come from, fitted by maximum
// marginal likelihood.
type ShareFit struct {
	stat.Fit
	A, B        float64 // +Inf both when Pooled
	LogLik      float64 // Σlog[B(a+y, b+n−y)/B(a, b)]
	PooledShare float64 // Σy/Σn
	Pooled      bool    // the likelihood sees no difference between the groups
	N           int

	events, trials []float64
}

// BetaBinomial fits y_o ~ Binomial(n_o, p_o), p_o ~ Beta(a, b) by maximising the
// beta-binomial marginal likelihood (Griffiths 1973, Biometrics 29, 637-648): for
// each a+b the best mean is the root of a decreasing function, and a+b is where
// the profile score is zero.
func BetaBinomial(events, trials []float64) (*ShareFit, error) {
	f, err := newShareFit(events, trials)
	if err != nil {
		return nil, err
	}
	size, err := f.bestSize()
	if err != nil {
		return nil, err
	}
	f.Converged = true
	if size >= largestSize {
		f.A, f.B, f.Pooled = math.Inf(1), math.Inf(1), true
		f.LogLik = f.limit()
		f.Warnings = append(f.Warnings, "the differences between groups are no more than chance makes: all take the pooled share, and its own uncertainty is left out")
		return f, nil
	}
	mean := f.bestMean(size)
	f.A, f.B = size*mean, size*(1-mean)
	f.LogLik = f.logLik(f.A, f.B)
	return f, nil
}

func newShareFit(events, trials []float64) (*ShareFit, error) {
	if err := paired("counts", events, "numbers of trials", trials); err != nil {
		return nil, err
	}
	if err := nonNegative("count", events); err != nil {
		return nil, err
	}
	if err := positive("trials", trials...); err != nil {
		return nil, err
	}
	for o, y := range events {
		if y > trials[o] {
			return nil, fmt.Errorf("group %d has %v events in %v trials: %w", o, y, trials[o], stat.ErrDomain)
		}
	}
	sum, total := floats.Sum(events), floats.Sum(trials)
	switch sum {
	case 0:
		return nil, fmt.Errorf("no events in %v trials: %w", total, stat.ErrNoEvents)
	case total:
		return nil, fmt.Errorf("every one of %v trials is an event: %w", total, stat.ErrNoVariation)
	}
	return &ShareFit{N: len(events), PooledShare: sum / total, events: slices.Clone(events), trials: slices.Clone(trials)}, nil
}

func (f *ShareFit) logLik(a, b float64) float64 {
	sum := -float64(f.N) * mathext.Lbeta(a, b)
	for o, y := range f.events {
		sum += mathext.Lbeta(a+y, b+f.trials[o]-y)
	}
	return sum
}

// limit is logLik as a and b grow with a/(a+b) the pooled share.
func (f *ShareFit) limit() float64 {
	sum := 0.0
	for o, y := range f.events {
		sum += y*math.Log(f.PooledShare) + (f.trials[o]-y)*math.Log1p(-f.PooledShare)
	}
	return sum
}

// scores are the slopes of the log-likelihood in a and in b.
func (f *ShareFit) scores(a, b float64) (inA, inB float64) {
	zeroA, zeroB, zero := mathext.Digamma(a), mathext.Digamma(b), mathext.Digamma(a+b)
	for o, y := range f.events {
		all := mathext.Digamma(a+b+f.trials[o]) - zero
		inA += mathext.Digamma(a+y) - zeroA - all
		inB += mathext.Digamma(b+f.trials[o]-y) - zeroB - all
	}
	return inA, inB
}

// bestMean is the a/(a+b) that maximises the likelihood given a+b. The slope in
// the mean falls from +∞ at 0 to −∞ at 1.
func (f *ShareFit) bestMean(size float64) float64 {
	slope := func(logit float64) (float64, error) {
		mean := 1 / (1 + math.Exp(-logit))
		inA, inB := f.scores(size*mean, size*(1-mean))
		return (inA - inB) * mean * (1 - mean), nil
	}
	centre := math.Log(f.PooledShare / (1 - f.PooledShare))
	for span := 1.0; span < 32; span *= 2 {
		if logit, err := regress.Root(slope, centre-span, centre+span); err == nil {
			return 1 / (1 + math.Exp(-logit))
		}
	}
	return f.PooledShare
}

// sizeScore is the slope of the profile likelihood in log(a+b).
func (f *ShareFit) sizeScore(size float64) float64 {
	mean := f.bestMean(size)
	inA, inB := f.scores(size*mean, size*(1-mean))
	return size * (inA*mean + inB*(1-mean))
}

// largestSize is where a beta law counts as a point.
const largestSize = 1 << 20

// bestSize scans a+b and finds where the profile score is zero, or returns
// largestSize.
func (f *ShareFit) bestSize() (float64, error) {
	const smallest = 1.0 / 1024
	best, highest := 0.0, math.Inf(-1)
	for size := smallest; size < largestSize; size *= 2 {
		f.Iterations++
		mean := f.bestMean(size)
		if ll := f.logLik(size*mean, size*(1-mean)); ll > highest {
			best, highest = size, ll
		}
	}
	low, high := best/2, best*2
	switch {
	case f.sizeScore(low) <= 0:
		return 0, fmt.Errorf("every group is all or nothing: the likelihood rises as a+b falls to %v: %w", best, stat.ErrNotConverged)
	case f.sizeScore(high) >= 0:
		return largestSize, nil
	}
	return regress.Root(func(size float64) (float64, error) {
		f.Iterations++
		return f.sizeScore(size), nil
	}, low, high)
}

// Posterior is the law of the share of group o, Beta(a+y, b+n−y).
func (f *ShareFit) Posterior(o int) (Beta, error) {
	if o < 0 || o >= f.N {
		return Beta{}, fmt.Errorf("group %d of %d: %w", o, f.N, stat.ErrDomain)
	}
	if f.Pooled {
		return Beta{}, fmt.Errorf("the groups do not differ: each has the pooled share %v: %w", f.PooledShare, stat.ErrNoVariation)
	}
	return Beta{f.A + f.events[o], f.B + f.trials[o] - f.events[o]}, nil
}
