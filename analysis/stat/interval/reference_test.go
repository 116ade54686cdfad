package interval_test

import (
	"testing"

	"pourback/analysis/internal/reftest"
	"pourback/analysis/stat"
	"pourback/analysis/stat/interval"
)

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

// Newcombe (1998), Stat. Med. 17:857, as reproduced in R.
func TestProportionReferences(t *testing.T) {
	methods := map[string]func(int, int, float64) (stat.Estimate, error){
		"wilson":          interval.Wilson,
		"clopper_pearson": interval.ClopperPearson,
		"jeffreys":        interval.Jeffreys,
	}
	for _, id := range []string{"binom-81-263", "binom-0-20", "binom-3-64"} {
		r := reftest.Load(t, id)
		x, n := int(r.Float(t, "inputs.x")), int(r.Float(t, "inputs.n"))
		for name, method := range methods {
			e := must[stat.Estimate](t)(method(x, n, 0.95))
			r.CheckAll(t, name, []float64{e.Low, e.High})
		}
	}
}

// Garwood (1936) by R's poisson.test.
func TestGarwoodReference(t *testing.T) {
	r := reftest.Load(t, "garwood")
	var low, high []float64
	for _, y := range r.Ints(t, "inputs.y") {
		e := must[stat.Estimate](t)(interval.Garwood(y, r.Float(t, "inputs.exposure"), 0.95))
		low, high = append(low, e.Low), append(high, e.High)
	}
	r.CheckAll(t, "lower", low)
	r.CheckAll(t, "upper", high)
}

// Cochran (1977) §6.4 on a constructed set and on R's cars; the weighted
// regressions of the same entries are checked where they are computed.
func TestRatioReferences(t *testing.T) {
	small := reftest.Load(t, "ratio-small")
	checkRatios(t, small, small.Floats(t, "inputs.U"), small.Floats(t, "inputs.V"))
	cars, _ := reftest.Table(t, "cars.csv")
	checkRatios(t, reftest.Load(t, "ratio-cars"), cars["U"], cars["V"])
}

func checkRatios(t *testing.T, r *reftest.Ref, num, den []float64) {
	t.Helper()
	check := func(first, second string, f func(num, den []float64) (float64, float64, error)) {
		t.Helper()
		a, b, err := f(num, den)
		if err != nil {
			t.Fatal(err)
		}
		r.Check(t, first, a)
		r.Check(t, second, b)
	}
	check("ratio_of_totals", "se_ratio_of_totals", interval.RatioSE)
	check("mean_of_ratios", "sd_of_ratios", interval.MeanOfRatios)
	check("log_ratio_mean", "log_ratio_sd", interval.MeanLogRatio)
}
