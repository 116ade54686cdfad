package control_test

import (
	"math"
	"testing"

	"pourback/analysis/internal/reftest"
	"pourback/analysis/stat/control"
)

func near(t testing.TB, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %.12g, want %.12g ± %g", what, got, want, tol)
	}
}

// must stops a test on an error; its shape lets it wrap any call.
func must[T any](t testing.TB) func(T, error) T {
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

// fromOne turns points counted from 0 into those of the references.
func fromOne(points []int) []float64 {
	out := make([]float64, len(points))
	for i, p := range points {
		out[i] = float64(p + 1)
	}
	return out
}

func columns(limits []control.Limits) (low, high []float64) {
	for _, l := range limits {
		low, high = append(low, l.Low), append(high, l.High)
	}
	return low, high
}

// Montgomery, Introduction to Statistical Quality Control, mortgage loan costs
// (printed 300.5, 7.79, 321.22, 279.78), by the R package qcc.
func TestXmRReference(t *testing.T) {
	r := reftest.Load(t, "xmr-mortgage")
	xs := r.Floats(t, "inputs.x")
	c := must[control.Individuals](t)(control.XmR(xs, len(xs)))
	r.Check(t, "center", c.Center)
	r.Check(t, "mr_bar", c.MRBar)
	r.Check(t, "lcl", c.ThreeSigma.Low)
	r.Check(t, "ucl", c.ThreeSigma.High)
	r.Check(t, "lcl_266", c.Natural.Low)
	r.Check(t, "ucl_266", c.Natural.High)
	r.Check(t, "mr_ucl_3268", c.MRHigh)
	r.Check(t, "median_mr", c.MedianMR)
	r.Check(t, "lcl_median", c.ByMedian.Low)
	r.Check(t, "ucl_median", c.ByMedian.High)
	r.CheckAll(t, "signals_1based", fromOne(c.Signals.By(control.BeyondLimits)))
}

// NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2, flow rates: centre
// 50.81, mR̄ 1.8778, limits 45.8159 and 55.8041 (from memory).
func TestXmROfNIST(t *testing.T) {
	xs := []float64{49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1}
	c := must[control.Individuals](t)(control.XmR(xs, len(xs)))
	near(t, "centre", c.Center, 50.81, 1e-12)
	near(t, "mean moving range", c.MRBar, 1.8778, 5e-5)
	near(t, "low", c.ThreeSigma.Low, 45.8159, 5e-5)
	near(t, "high", c.ThreeSigma.High, 55.8041, 5e-5)
}

// Montgomery, orange juice cans (printed p̄ .2313, UCL .4102), by qcc.
func TestPReference(t *testing.T) {
	r := reftest.Load(t, "p-orangejuice")
	x, n := r.Ints(t, "inputs.x"), r.Ints(t, "inputs.n")
	c := must[control.Attributes](t)(control.P(x, n, len(x)))
	checkAttributes(t, r, c)
	r.CheckAll(t, "signals_1based", fromOne(c.Signals.By(control.BeyondLimits)))
}

// Montgomery, personal computers (printed ū 1.93, limits .07 and 3.79), by qcc.
func TestUReference(t *testing.T) {
	r := reftest.Load(t, "u-pcmanufact")
	x := r.Ints(t, "inputs.x")
	c := must[control.Attributes](t)(control.U(x, r.Floats(t, "inputs.n"), len(x)))
	checkAttributes(t, r, c)
	r.CheckAll(t, "p_upper_exact", c.PUpper)
	r.CheckAll(t, "p_lower_exact", c.PLower)
}

func checkAttributes(t *testing.T, r *reftest.Ref, c control.Attributes) {
	t.Helper()
	r.Check(t, "center", c.Center)
	low, high := columns(c.Limits)
	r.CheckAll(t, "lcl", low)
	r.CheckAll(t, "ucl", high)
	r.Check(t, "laney_sigma_z", c.SigmaZ)
	low, high = columns(c.Laney)
	r.CheckAll(t, "laney_lcl", low)
	r.CheckAll(t, "laney_ucl", high)
}

// Days between disasters in coal mines (the R package boot), first 24; Nelson
// (1994).
func TestRareEventsReference(t *testing.T) {
	r := reftest.Load(t, "tchart-coal")
	gaps := r.Floats(t, "inputs.x")
	c := must[control.Gaps](t)(control.RareEvents(gaps, len(gaps)))
	r.Check(t, "transformed_center", c.Transformed.Center)
	r.Check(t, "transformed_lcl", c.Transformed.ThreeSigma.Low)
	r.Check(t, "transformed_ucl", c.Transformed.ThreeSigma.High)
	r.Check(t, "lcl", c.Limits.Low)
	r.Check(t, "center", c.Center)
	r.Check(t, "ucl", c.Limits.High)
	r.CheckAll(t, "exponential_p", c.PShorter)
}
