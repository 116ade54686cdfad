package control

import (
	"fmt"

	"pourback/analysis/stat"
)

const (
	// MinPoints is the least base of a chart. From fewer, limits are so
	// uncertain that they inform nobody (common practice, no published source).
	MinPoints = 8
	// MinRunPoints is the least base of run rules, which lean on the centre
	// line being known (common practice, no published source).
	MinRunPoints = 24
)

// Rule is a reason to look at a point.
type Rule int

const (
	BeyondLimits   Rule = iota // outside the 3-sigma limits: worth a look
	BeyondStrict               // outside the limits that allow for a short base: a real change
	BeyondLaney                // outside Laney's limits
	ExactTail                  // as far out as this with probability under .00135
	RangeJump                  // moving range above its limit
	TwoOfThree                 // two of three beyond 2 sigma on one side
	FourOfFive                 // four of five beyond 1 sigma on one side
	EightOnOneSide             // eight in a row on one side of the centre
)

var ruleNames = [...]string{
	BeyondLimits:   "outside the limits",
	BeyondStrict:   "outside the strict limits",
	BeyondLaney:    "outside Laney's limits",
	ExactTail:      "exact tail probability under .00135",
	RangeJump:      "jump from the point before",
	TwoOfThree:     "two of three beyond 2 sigma",
	FourOfFive:     "four of five beyond 1 sigma",
	EightOnOneSide: "eight in a row on one side",
}

// String names the rule in a few words.
func (r Rule) String() string {
	if r < 0 || int(r) >= len(ruleNames) {
		return fmt.Sprintf("rule %d", int(r))
	}
	return ruleNames[r]
}

// tailLimit is the probability beyond three standard deviations of a normal
// law on one side.
const tailLimit = 0.00135

// Signal is a point, counted from 0, that a rule picks out; High tells the
// side. The point of a run rule is the last of its pattern.
type Signal struct {
	Index int
	Rule  Rule
	High  bool
}

// Signals are in the order of rules, and of points within a rule.
type Signals []Signal

// By returns the points, counted from 0, that a rule picks out.
func (s Signals) By(rule Rule) []int {
	var points []int
	for _, signal := range s {
		if signal.Rule == rule {
			points = append(points, signal.Index)
		}
	}
	return points
}

// outside adds the points of xs strictly beyond limits that may differ from
// point to point.
func (s Signals) outside(rule Rule, xs []float64, limits func(i int) Limits) Signals {
	for i, x := range xs {
		if l := limits(i); x < l.Low || x > l.High {
			s = append(s, Signal{i, rule, x > l.High})
		}
	}
	return s
}

// tails adds the points whose lower or upper tail probability is too small.
func (s Signals) tails(lower, upper []float64) Signals {
	for i := range lower {
		if lower[i] < tailLimit || upper[i] < tailLimit {
			s = append(s, Signal{i, ExactTail, upper[i] < lower[i]})
		}
	}
	return s
}

// Limits bound what a stable process is expected to show.
type Limits struct{ Low, High float64 }

// about returns centre ± half.
func about(centre, half float64) Limits { return Limits{centre - half, centre + half} }

// clipped keeps limits within what the points can be.
func (l Limits) clipped(low, high float64) Limits {
	return Limits{max(l.Low, low), min(l.High, high)}
}

func checkBase(points, base int) error {
	if base < MinPoints {
		return fmt.Errorf("limits from %d points, want at least %d: %w", base, MinPoints, stat.ErrTooFew)
	}
	if base > points {
		return fmt.Errorf("limits from %d points where there are %d: %w", base, points, stat.ErrDomain)
	}
	return nil
}
