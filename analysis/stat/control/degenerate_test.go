package control_test

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"pourback/analysis/stat"
	"pourback/analysis/stat/control"
)

var (
	nan = math.NaN()
	inf = math.Inf(1)
)

// failure drops the answer of a call and keeps its error.
func failure[T any](_ T, err error) error { return err }

func with(n int, x float64, rest ...float64) []float64 {
	xs := rest
	for len(xs) < n {
		xs = append(xs, x)
	}
	return xs
}

func counts(n, x int, rest ...int) []int {
	xs := rest
	for len(xs) < n {
		xs = append(xs, x)
	}
	return xs
}

func TestQuestionsWithoutAnswer(t *testing.T) {
	for name, c := range map[string]struct{ got, want error }{
		"nothing":                {failure(control.XmR(nil, 0)), stat.ErrTooFew},
		"one point":              {failure(control.XmR([]float64{1}, 1)), stat.ErrTooFew},
		"seven points":           {failure(control.XmR(with(7, 1, 2), 7)), stat.ErrTooFew},
		"base of seven":          {failure(control.XmR(with(9, 1, 2), 7)), stat.ErrTooFew},
		"base beyond the points": {failure(control.XmR(with(9, 1, 2), 10)), stat.ErrDomain},
		"all alike":              {failure(control.XmR(with(9, 0.1), 9)), stat.ErrNoVariation},
		"base all alike":         {failure(control.XmR(append(with(8, 0.1), 3), 8)), stat.ErrNoVariation},
		"NaN":                    {failure(control.XmR(with(9, 1, nan), 9)), stat.ErrNotFinite},
		"infinity":               {failure(control.XmR(append(with(8, 1, 2), inf), 8)), stat.ErrNotFinite},
		"overflow":               {failure(control.XmR(with(9, 1e308, -1e308), 9)), stat.ErrNotFinite},
		"p, too few":             {failure(control.P(counts(7, 1), counts(7, 9), 7)), stat.ErrTooFew},
		"p, two lengths":         {failure(control.P(counts(9, 1), counts(8, 9), 8)), stat.ErrShape},
		"p, no events":           {failure(control.P(counts(9, 0), counts(9, 9), 9)), stat.ErrNoEvents},
		"p, none in the base":    {failure(control.P(append(counts(8, 0), 3), counts(9, 9), 8)), stat.ErrNoEvents},
		"p, nothing but events":  {failure(control.P(counts(9, 5), counts(9, 5), 9)), stat.ErrNoVariation},
		"p, more than trials":    {failure(control.P(counts(9, 6), counts(9, 5), 9)), stat.ErrDomain},
		"p, below none":          {failure(control.P(counts(9, 1, -1), counts(9, 5), 9)), stat.ErrDomain},
		"p, no trials":           {failure(control.P(counts(9, 1, 0), counts(9, 5, 0), 9)), stat.ErrDomain},
		"u, no events":           {failure(control.U(counts(9, 0), with(9, 2), 9)), stat.ErrNoEvents},
		"u, no exposure":         {failure(control.U(counts(9, 1), with(9, 2, 0), 9)), stat.ErrDomain},
		"u, exposure NaN":        {failure(control.U(counts(9, 1), with(9, 2, nan), 9)), stat.ErrDomain},
		"u, exposure infinite":   {failure(control.U(counts(9, 1), with(9, 2, inf), 9)), stat.ErrDomain},
		"u, exposure vanishing":  {failure(control.U(counts(9, 1), with(9, 2, 5e-324), 9)), stat.ErrNotFinite},
		"u, exposure overflows":  {failure(control.U(counts(9, 1), with(9, 1.7e308), 9)), stat.ErrNotFinite},
		"gap below 0":            {failure(control.RareEvents(with(9, 1, -1), 9)), stat.ErrDomain},
		"gap NaN":                {failure(control.RareEvents(with(9, 1, nan), 9)), stat.ErrNotFinite},
		"gaps alike":             {failure(control.RareEvents(with(9, 0), 9)), stat.ErrNoVariation},
		"few gaps":               {failure(control.RareEvents(with(4, 1, 2), 4)), stat.ErrTooFew},
	} {
		if !errors.Is(c.got, c.want) {
			t.Errorf("%s: got error %v, want one that is %q", name, c.got, c.want)
		}
	}
}

// Counts all alike vary less than chance allows: Laney's limits close in on
// the centre, which is said, and picks out no point.
func TestLaneyWithoutVariation(t *testing.T) {
	c := must[control.Attributes](t)(control.U(append(counts(8, 4), 5), with(9, 2), 8))
	if c.SigmaZ != 0 || len(c.Warnings) != 1 || len(c.Signals) != 0 {
		t.Errorf("got factor %v, warnings %q, signals %v", c.SigmaZ, c.Warnings, c.Signals)
	}
}

// Two events at once leave a gap of 0, which is a point like any other.
func TestGapOfZero(t *testing.T) {
	c := must[control.Gaps](t)(control.RareEvents(with(9, 3, 0, 5, 0), 9))
	if c.PShorter[0] != 0 || c.Limits.Low != 0 {
		t.Errorf("got %+v", c)
	}
}

func TestRuleNames(t *testing.T) {
	for r := control.BeyondLimits; r <= control.EightOnOneSide; r++ {
		if s := r.String(); s == "" {
			t.Errorf("rule %d has no name", int(r))
		}
	}
	if got := control.Rule(-1).String(); got != "rule -1" {
		t.Errorf("got %q", got)
	}
}

// anything draws numbers of every kind a file or a division can yield.
func anything() *rapid.Generator[float64] {
	return rapid.OneOf(rapid.Float64(), rapid.Float64Range(0, 10),
		rapid.SampledFrom([]float64{0, 1, 0.5, nan, inf, 5e-324, 1.7e308, -1.7e308}))
}

func sound(t *rapid.T, err error, limits []control.Limits, xs ...float64) {
	t.Helper()
	for _, l := range limits {
		xs = append(xs, l.Low, l.High)
	}
	for _, x := range xs {
		if math.IsNaN(x) {
			t.Fatalf("NaN in %v (error %v)", xs, err)
		}
	}
}

func TestNothingIsNaN(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		value := rapid.OneOf(rapid.Just(rapid.Float64Range(0, 1e300)), rapid.Just(anything())).Draw(t, "kind")
		xs := rapid.SliceOfN(value, 8, 14).Draw(t, "xs")
		x := rapid.SliceOfN(rapid.IntRange(0, 50), len(xs), len(xs)).Draw(t, "counts")
		base := rapid.IntRange(0, 15).Draw(t, "base")
		c, err := control.XmR(xs, base)
		sound(t, err, []control.Limits{c.ThreeSigma, c.Natural, c.ByMedian, c.Strict}, c.Center, c.MRBar, c.MedianMR, c.Sigma, c.MRHigh)
		u, err := control.U(x, xs, base)
		sound(t, err, append(u.Limits, u.Laney...), append(append(u.PLower, u.PUpper...), u.Center, u.SigmaZ)...)
		trials := make([]int, len(x))
		for i := range x {
			trials[i] = rapid.SampledFrom([]int{x[i], x[i] + 1, 1 << 50}).Draw(t, "trials")
		}
		p, err := control.P(x, trials, base)
		sound(t, err, append(p.Limits, p.Laney...), append(append(p.PLower, p.PUpper...), p.Center, p.SigmaZ)...)
		g, err := control.RareEvents(xs, base)
		sound(t, err, []control.Limits{g.Limits, g.Strict}, append(g.PShorter, g.Center, g.Mean)...)
	})
}
