package control_test

import (
	"math"
	"slices"
	"testing"

	"pourback/analysis/stat/control"
)

func TestXmRByHand(t *testing.T) {
	// 1 3 2 2 4 2 1 1: mean 2; moving ranges 2 1 0 2 2 1 0, mean 8/7, in order
	// 0 0 1 1 2 2 2, median 1.
	xs := []float64{1, 3, 2, 2, 4, 2, 1, 1}
	c := must[control.Individuals](t)(control.XmR(xs, 8))
	mr := 8.0 / 7
	near(t, "centre", c.Center, 2, 1e-15)
	near(t, "mean moving range", c.MRBar, mr, 1e-15)
	near(t, "median moving range", c.MedianMR, 1, 0)
	near(t, "2.66", c.Natural.High, 2+2.66*mr, 1e-14)
	near(t, "3/1.128", c.ThreeSigma.Low, 2-3*mr/1.128, 1e-14)
	near(t, "3.145", c.ByMedian.High, 2+3.145, 1e-14)
	near(t, "ranges", c.MRHigh, 3.268*mr, 1e-14)
	// .62·7 = 4.34 degrees of freedom; t(.99865; 4.34) = 6.15091134 by inverting
	// the incomplete beta integral in 40-digit arithmetic (mpmath).
	near(t, "strict", c.Strict.High, 2+6.15091134*math.Sqrt(9.0/8)*mr/1.128, 1e-7)
	if len(c.Signals) != 0 || len(c.Warnings) != 1 {
		t.Errorf("got signals %v and warnings %q, want none and one", c.Signals, c.Warnings)
	}
}

func TestXmRSignalsByHand(t *testing.T) {
	// Base 0 1 0 1 0 1 0 1: centre ½, mR̄ 1, limits ½ ± 2.66 and, with t = 6.15,
	// ½ ± 5.78. After it 4 and −3 are worth a look and 7 is a real change; of
	// the jumps 4, 3 and 10, the first and the last pass 3.268.
	xs := []float64{0, 1, 0, 1, 0, 1, 0, 1, 0, 4, 7, -3}
	c := must[control.Individuals](t)(control.XmR(xs, 8))
	for rule, want := range map[control.Rule][]int{
		control.BeyondLimits: {9, 10, 11},
		control.BeyondStrict: {10},
		control.RangeJump:    {9, 11},
		control.TwoOfThree:   nil, // the base is too short for run rules
	} {
		if got := c.Signals.By(rule); !slices.Equal(got, want) {
			t.Errorf("%v: got points %v, want %v", rule, got, want)
		}
	}
	if c.Signals[0].High != true || c.Signals[2].High != false {
		t.Errorf("sides of %v", c.Signals)
	}
}

func TestRunsByHand(t *testing.T) {
	for name, c := range map[string]struct {
		xs   []float64
		rule control.Rule
		want []int
	}{
		"two of three":           {[]float64{0, 2.1, 0, 2.1, 0}, control.TwoOfThree, []int{3}},
		"on either side":         {[]float64{2.1, -2.1, 2.1, -2.1}, control.TwoOfThree, []int{2, 3}},
		"two of four":            {[]float64{2.1, 0, 0, 2.1}, control.TwoOfThree, nil},
		"on the line":            {[]float64{2, 2, 2}, control.TwoOfThree, nil},
		"four of five":           {[]float64{1.1, 1.1, 0, 1.1, 1.1, 0}, control.FourOfFive, []int{4}},
		"four of five below":     {[]float64{-1.1, -1.1, -1.1, -1.1}, control.FourOfFive, []int{3}},
		"four of six":            {[]float64{1.1, 1.1, 0, 0, 1.1, 1.1}, control.FourOfFive, nil},
		"eight":                  {[]float64{.1, .1, .1, .1, .1, .1, .1, .1, -.1}, control.EightOnOneSide, []int{7}},
		"seven":                  {[]float64{.1, .1, .1, .1, .1, .1, .1, -.1}, control.EightOnOneSide, nil},
		"eight with one between": {[]float64{.1, .1, .1, .1, 0, .1, .1, .1, .1}, control.EightOnOneSide, nil},
		"nine":                   {[]float64{-1, -1, -1, -1, -1, -1, -1, -1, -1}, control.EightOnOneSide, []int{7, 8}},
	} {
		if got := control.RunSignals(c.xs, 0, 1).By(c.rule); !slices.Equal(got, c.want) {
			t.Errorf("%s: got points %v, want %v", name, got, c.want)
		}
	}
}

func TestPByHand(t *testing.T) {
	// One of four each time but 0 and 2: p̄ = 8/32 = ¼; sd = √(3/16/4) = .216506;
	// limits ¼ ± .65: 0 and .8995. P(X ≤ 0) = .75⁴ and P(X ≥ 2) = 1 − .75⁴ −
	// 4·.25·.75³ = .26171875.
	c := must[control.Attributes](t)(control.P([]int{1, 1, 0, 2, 1, 1, 1, 1}, []int{4, 4, 4, 4, 4, 4, 4, 4}, 8))
	near(t, "centre", c.Center, 0.25, 0)
	near(t, "low", c.Limits[0].Low, 0, 0)
	near(t, "high", c.Limits[0].High, 0.25+3*math.Sqrt(3./64), 1e-15)
	near(t, "P(X ≤ 0)", c.PLower[2], math.Pow(0.75, 4), 1e-15)
	near(t, "P(X ≥ 0)", c.PUpper[2], 1, 0)
	near(t, "P(X ≥ 2)", c.PUpper[3], 0.26171875, 1e-14)
	// z steps of ¼/sd twice and ½/sd once over seven: mean (1/7)/.216506.
	near(t, "Laney's factor", c.SigmaZ, 1/7./math.Sqrt(3./64)/1.128, 1e-14)
	near(t, "Laney's limit", c.Laney[0].High, 0.25+3/7./1.128, 1e-14)
}

func TestUByHand(t *testing.T) {
	// Sixteen events over exposure 8, then 5 over 4: ū = 2; limits of the ninth
	// 2 ± 3√(2/4). P(X ≤ 0; 2) = e⁻², P(X ≥ 2; 2) = 1 − 3e⁻².
	counts := []int{2, 2, 0, 4, 2, 2, 2, 2, 5}
	c := must[control.Attributes](t)(control.U(counts, []float64{1, 1, 1, 1, 1, 1, 1, 1, 4}, 8))
	near(t, "centre", c.Center, 2, 0)
	near(t, "rate", c.Rates[8], 1.25, 0)
	near(t, "high", c.Limits[8].High, 2+3*math.Sqrt(0.5), 1e-15)
	near(t, "low", c.Limits[8].Low, 0, 0)
	near(t, "P(X ≤ 0)", c.PLower[2], math.Exp(-2), 1e-15)
	near(t, "P(X ≥ 2)", c.PUpper[0], 1-3*math.Exp(-2), 1e-14)
	// z steps √2, 2√2 and √2 over seven ranges: 4√2/7.
	near(t, "Laney's factor", c.SigmaZ, 4*math.Sqrt2/7/1.128, 1e-14)
}

// At a rate of 1 five in one point have P(X ≥ 5) = .0037, worth no signal; six
// have .0006. Over an exposure of 8 none has P(X ≤ 0) = e⁻⁸ = .0003.
func TestExactTailsByHand(t *testing.T) {
	x := []int{1, 1, 1, 1, 1, 1, 1, 1, 5, 6, 0}
	c := must[control.Attributes](t)(control.U(x, []float64{1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 8}, 8))
	want := control.Signals{{Index: 9, Rule: control.ExactTail, High: true}, {Index: 10, Rule: control.ExactTail}}
	var got control.Signals
	for _, s := range c.Signals {
		if s.Rule == control.ExactTail {
			got = append(got, s)
		}
	}
	if !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}

// Twenty-four gaps of 3 and 5 in turn, then eight more of 5: with the 5 that
// ends the base the run is eight long at point 30, counted from 0.
func TestRunOfGapsByHand(t *testing.T) {
	var gaps []float64
	for range 12 {
		gaps = append(gaps, 3, 5)
	}
	for range 8 {
		gaps = append(gaps, 5)
	}
	c := must[control.Gaps](t)(control.RareEvents(gaps, 24))
	if got := c.Signals.By(control.EightOnOneSide); !slices.Equal(got, []int{30, 31}) {
		t.Errorf("got points %v, want 30 and 31", got)
	}
}

func TestRareEventsByHand(t *testing.T) {
	// Gaps 1 and 2^3.6 in turn become 1 and 2: centre 1.5, mR̄ 1, high limit
	// 1.5 + 3/1.128; turned back by the power 3.6. Mean gap (1 + 2^3.6)/2.
	long := math.Pow(2, 3.6)
	gaps := []float64{1, long, 1, long, 1, long, 1, long}
	c := must[control.Gaps](t)(control.RareEvents(gaps, 8))
	near(t, "centre", c.Center, math.Pow(1.5, 3.6), 1e-13)
	near(t, "high", c.Limits.High, math.Pow(1.5+3/1.128, 3.6), 1e-10)
	near(t, "low", c.Limits.Low, 0, 0)
	near(t, "mean", c.Mean, (1+long)/2, 1e-14)
	near(t, "P(so short)", c.PShorter[0], 1-math.Exp(-2/(1+long)), 1e-15)
}
