package control

import (
	"fmt"
	"math"

	gstat "gonum.org/v1/gonum/stat"

	"pourback/analysis/stat"
)

// Attributes is a p or u chart.
type Attributes struct {
	Center   float64   // total of counts over total of trials or exposure
	Rates    []float64 // the points
	Limits   []Limits  // Center ± 3·sigma at each point, within what rates can be
	SigmaZ   float64   // Laney's factor: above 1, rates vary more than chance allows
	Laney    []Limits  // Center ± 3·sigma·SigmaZ
	PLower   []float64 // probability of so few or fewer at the centre's rate
	PUpper   []float64 // of so many or more
	Signals  Signals   // BeyondLimits, BeyondLaney, ExactTail
	N, Base  int
	Warnings []string
}

// newAttributes checks the input and sets the points and the centre.
func newAttributes(counts []int, n []float64, base int) (Attributes, error) {
	if len(counts) != len(n) {
		return Attributes{}, fmt.Errorf("%d counts over %d trials or exposures: %w", len(counts), len(n), stat.ErrShape)
	}
	if err := checkBase(len(counts), base); err != nil {
		return Attributes{}, err
	}
	c := Attributes{N: len(counts), Base: base}
	var events, total float64
	for i, x := range counts {
		if x < 0 || !(n[i] > 0) || math.IsInf(n[i], 0) {
			return Attributes{}, fmt.Errorf("counts[%d] is %d over %v, want 0 or more over a finite amount above 0: %w", i, x, n[i], stat.ErrDomain)
		}
		c.Rates = append(c.Rates, float64(x)/n[i])
		if i < base {
			events += float64(x)
			total += n[i]
		}
	}
	if events == 0 {
		return Attributes{}, fmt.Errorf("no event in the %d points of the base: %w", base, stat.ErrNoEvents)
	}
	c.Center = events / total
	if !(c.Center > 0) {
		return Attributes{}, fmt.Errorf("exposure of the base adds up to %v: %w", total, stat.ErrNotFinite)
	}
	return c, nil
}

// finish sets limits and signals for points whose variance is v/nᵢ and that
// lie between 0 and high.
func (c Attributes) finish(n []float64, v, high float64) (Attributes, error) {
	sd, z := make([]float64, len(n)), make([]float64, len(n))
	for i, r := range c.Rates {
		sd[i] = math.Sqrt(v / n[i])
		z[i] = (r - c.Center) / sd[i]
	}
	if err := firstOf(stat.Finite("standard deviation of rate", sd...), stat.Finite("standardised rate", z...)); err != nil {
		return Attributes{}, err
	}
	c.SigmaZ = gstat.Mean(movingRanges(z[:c.Base]), nil) / d2
	if c.SigmaZ == 0 {
		c.Warnings = append(c.Warnings, "the points of the base are all alike: Laney's limits have no width")
	}
	for _, s := range sd {
		c.Limits = append(c.Limits, about(c.Center, 3*s).clipped(0, high))
		c.Laney = append(c.Laney, about(c.Center, 3*s*c.SigmaZ).clipped(0, high))
	}
	c.Signals = c.Signals.outside(BeyondLimits, c.Rates, func(i int) Limits { return c.Limits[i] })
	if c.SigmaZ > 0 {
		c.Signals = c.Signals.outside(BeyondLaney, c.Rates, func(i int) Limits { return c.Laney[i] })
	}
	c.Signals = c.Signals.tails(c.PLower, c.PUpper)
	return c, nil
}

func firstOf(a, b error) error {
	if a != nil {
		return a
	}
	return b
}
