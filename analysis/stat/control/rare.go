package control

import (
	"fmt"
	"math"

	"pourback/analysis/stat"
)

// nelsonPower brings an exponential gap close to a normal law.
const nelsonPower = 1 / 3.6

// Gaps is a chart of the time or volume between rare events.
type Gaps struct {
	Transformed Individuals // the chart of x^(1/3.6)
	Center      float64     // back in the unit of the gaps, as are the limits
	Limits      Limits      // from the 3-sigma limits; Low 0 where that is below 0
	Strict      Limits      // the same from the strict limits
	Mean        float64     // of the gaps in the base
	PShorter    []float64   // probability of so short a gap, exponential with that mean
	Signals     Signals     // BeyondLimits, BeyondStrict, ExactTail, run rules
	N, Base     int
	Warnings    []string
}

// RareEvents charts the gaps between events, in order, such as yards pumped
// from clog to clog, with limits from the first base gaps: an [XmR] chart of
// gap^(1/3.6), turned back. Long gaps are good news, short ones bad; where the
// low limit is 0 no single gap can be too short, and only the exponential tail
// or a run can tell.
//
// The stretch since the last event is no gap yet and does not belong in gaps.
// A gap below 0 gives [stat.ErrDomain]; other errors are those of XmR.
//
// Source: Nelson (1994), J. Quality Technology 26:328.
func RareEvents(gaps []float64, base int) (Gaps, error) {
	y := make([]float64, len(gaps))
	for i, x := range gaps {
		if x < 0 {
			return Gaps{}, fmt.Errorf("gaps[%d] is %v, want 0 or more: %w", i, x, stat.ErrDomain)
		}
		y[i] = math.Pow(x, nelsonPower)
	}
	chart, err := XmR(y, base)
	if err != nil {
		return Gaps{}, err
	}
	g := Gaps{
		Transformed: chart, Center: untransform(chart.Center),
		Limits: chart.ThreeSigma.untransformed(), Strict: chart.Strict.untransformed(),
		N: len(gaps), Base: base, Warnings: chart.Warnings,
	}
	for _, x := range gaps[:base] {
		g.Mean += x / float64(base)
	}
	if err := stat.Finite("mean gap and limits", g.Mean, g.Limits.High, g.Strict.High); err != nil {
		return Gaps{}, err
	}
	g.findSignals(gaps)
	return g, nil
}

func (g *Gaps) findSignals(gaps []float64) {
	longer := make([]float64, len(gaps))
	for i, x := range gaps {
		g.PShorter = append(g.PShorter, -math.Expm1(-x/g.Mean))
		longer[i] = math.Exp(-x / g.Mean)
	}
	s := g.Signals.outside(BeyondLimits, gaps, func(int) Limits { return g.Limits })
	s = s.outside(BeyondStrict, gaps, func(int) Limits { return g.Strict })
	s = s.tails(g.PShorter, longer)
	for _, signal := range g.Transformed.Signals {
		if signal.Rule >= TwoOfThree {
			s = append(s, signal)
		}
	}
	g.Signals = s
}

func untransform(y float64) float64 { return math.Pow(max(y, 0), 1/nelsonPower) }

func (l Limits) untransformed() Limits {
	return Limits{untransform(l.Low), untransform(l.High)}
}
