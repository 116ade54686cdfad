package control

import (
	"fmt"
	"math"

	gstat "gonum.org/v1/gonum/stat"

	"pourback/analysis/stat"
	"pourback/analysis/stat/interval"
)

// Factors of the chart of individuals, moving ranges of two.
const (
	d2         = 1.128 // mean range of two in standard deviations, 2/√π
	natural    = 2.66  // 3/d2 as printed in tables
	byMedian   = 3.145 // 3/.954, .954 the median range of two in standard deviations
	rangeUpper = 3.268 // D4
	freedom    = 0.62  // effective degrees of freedom of mR̄ for each of m−1 ranges
	strictTail = 1 - tailLimit
)

// Individuals is a chart of individual values and moving ranges.
type Individuals struct {
	Center       float64
	MRBar        float64 // mean of the moving ranges
	MedianMR     float64
	Sigma        float64 // MRBar/1.128
	ThreeSigma   Limits  // Center ± 3·Sigma
	Natural      Limits  // Center ± 2.66·MRBar: worth a look
	ByMedian     Limits  // Center ± 3.145·MedianMR, where a few jumps swell MRBar
	Strict       Limits  // allow for how few points the base has: a real change
	MRHigh       float64 // 3.268·MRBar
	MovingRanges []float64
	Signals      Signals // BeyondLimits by Natural, BeyondStrict, RangeJump, run rules
	N, Base      int
	Warnings     []string
}

// XmR charts xs, in order of time, with limits from the first base of them;
// base = len(xs) judges the points by themselves. The index of a RangeJump is
// that of the later point.
//
// The strict limits are those for one new observation when the spread is
// estimated from m = base points by mR̄, whose effective degrees of freedom are
// close to .62(m−1); at base points they err on the quiet side. Run rules wait
// for a base of [MinRunPoints], and a warning says so.
//
// A base under [MinPoints] gives [stat.ErrTooFew], one over len(xs)
// [stat.ErrDomain], values all alike [stat.ErrNoVariation], NaN or infinity
// [stat.ErrNotFinite].
//
// Source: Shewhart (1931), Economic Control of Quality; Wheeler & Chambers
// (1992), Understanding Statistical Process Control, 2nd ed., for the factors;
// degrees of freedom by matching the variance of mR̄ (Patnaik 1950, Biometrika
// 37:78).
func XmR(xs []float64, base int) (Individuals, error) {
	if err := checkBase(len(xs), base); err != nil {
		return Individuals{}, err
	}
	if err := stat.Finite("value", xs...); err != nil {
		return Individuals{}, err
	}
	c := Individuals{N: len(xs), Base: base, Center: gstat.Mean(xs[:base], nil), MovingRanges: movingRanges(xs)}
	c.MRBar = gstat.Mean(c.MovingRanges[:base-1], nil)
	if c.MRBar == 0 {
		return Individuals{}, fmt.Errorf("all %d points of the base are %v: %w", base, xs[0], stat.ErrNoVariation)
	}
	if err := c.setLimits(); err != nil {
		return Individuals{}, err
	}
	c.findSignals(xs)
	return c, nil
}

func (c *Individuals) setLimits() error {
	median, err := interval.Quantiles(c.MovingRanges[:c.Base-1], 0.5)
	if err != nil {
		return err
	}
	c.MedianMR = median[0]
	c.Sigma = c.MRBar / d2
	c.ThreeSigma = about(c.Center, 3*c.Sigma)
	c.Natural = about(c.Center, natural*c.MRBar)
	c.ByMedian = about(c.Center, byMedian*c.MedianMR)
	c.MRHigh = rangeUpper * c.MRBar
	m := float64(c.Base)
	t, err := interval.StudentQuantile(strictTail, freedom*(m-1))
	if err != nil {
		return err
	}
	c.Strict = about(c.Center, t*math.Sqrt(1+1/m)*c.Sigma)
	return stat.Finite("limits of the chart", c.Center, c.MRHigh, c.ByMedian.Low, c.ByMedian.High, c.Strict.Low, c.Strict.High)
}

func (c *Individuals) findSignals(xs []float64) {
	var s Signals
	s = s.outside(BeyondLimits, xs, func(int) Limits { return c.Natural })
	s = s.outside(BeyondStrict, xs, func(int) Limits { return c.Strict })
	for i, mr := range c.MovingRanges {
		if mr > c.MRHigh {
			s = append(s, Signal{i + 1, RangeJump, true})
		}
	}
	if c.Base >= MinRunPoints {
		s = append(s, runSignals(xs, c.Center, c.Sigma)...)
	} else {
		c.Warnings = append(c.Warnings, fmt.Sprintf("limits from %d points: runs are not judged under %d", c.Base, MinRunPoints))
	}
	c.Signals = s
}

// movingRanges returns |xᵢ − xᵢ₋₁|, one fewer than xs.
func movingRanges(xs []float64) []float64 {
	mr := make([]float64, len(xs)-1)
	for i := range mr {
		mr[i] = math.Abs(xs[i+1] - xs[i])
	}
	return mr
}
