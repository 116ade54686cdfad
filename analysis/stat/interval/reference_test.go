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

func table(x1, n1, x2, n2 int) interval.TwoProportions {
	return interval.TwoProportions{X1: x1, N1: n1, X2: x2, N2: n2}
}

// Newcombe (1998), Stat. Med. 17:873, and Miettinen & Nurminen (1985).
func TestDifferenceReferences(t *testing.T) {
	for _, id := range []string{"riskdiff-56.70-48.80", "riskdiff-5.56-0.29", "riskdiff-0.10-0.20"} {
		r := reftest.Load(t, id)
		in := func(name string) int { return int(r.Float(t, "inputs."+name)) }
		pair := table(in("x1"), in("n1"), in("x2"), in("n2"))
		e := must[stat.Estimate](t)(interval.Newcombe(pair, 0.95))
		r.Check(t, "difference", e.Value)
		r.CheckAll(t, "newcombe", []float64{e.Low, e.High})
		e = must[stat.Estimate](t)(interval.MiettinenNurminen(pair, 0.95))
		r.Check(t, "difference", e.Value)
		r.CheckAll(t, "miettinen_nurminen", []float64{e.Low, e.High})
	}
}

// Sahai & Khurshid (1996) p. 172, by R's poisson.test.
func TestTwoRatesReference(t *testing.T) {
	r := reftest.Load(t, "two-rates-sahai")
	rate := func(y, e string) interval.Rate {
		return interval.Rate{Events: int(r.Float(t, "inputs."+y)), Exposure: r.Float(t, "inputs."+e)}
	}
	c := must[interval.RateComparison](t)(interval.CompareRates(rate("y1", "E1"), rate("y2", "E2"), 0.95))
	r.Check(t, "ratio", c.Ratio)
	r.Check(t, "lower", c.Low)
	r.Check(t, "upper", c.High)
	r.Check(t, "p_exact_two_sided", c.P)
	r.Check(t, "p_midp_two_sided", c.MidP)
	r.Check(t, "rate_difference", c.Difference)
	r.Check(t, "se_difference", c.DiffSE)
}

func TestEqualRatesReference(t *testing.T) {
	r := reftest.Load(t, "rates-homogeneity")
	var rates []interval.Rate
	exposure := r.Floats(t, "inputs.exposure")
	for i, y := range r.Ints(t, "inputs.y") {
		rates = append(rates, interval.Rate{Events: y, Exposure: exposure[i]})
	}
	got := must[interval.RateTest](t)(interval.EqualRates(rates))
	r.Check(t, "X2", got.X2)
	r.Check(t, "G2", got.G2)
	r.Check(t, "df", float64(got.DF))
	r.Check(t, "p_X2", got.PX2)
	r.Check(t, "p_exact", got.P)
	if !got.Exact {
		t.Error("16 events in 4 groups were not gone through")
	}
}

// Conover (1999) and Vovk et al. (2005) on R's rivers.
func TestQuantileReference(t *testing.T) {
	r := reftest.Load(t, "quantile-rivers")
	xs, p := r.Floats(t, "inputs.x"), r.Float(t, "inputs.p")
	q := must[interval.QuantileEstimate](t)(interval.QuantileInterval(xs, p, r.Float(t, "inputs.level")))
	r.Check(t, "q_type7", q.Value)
	r.Check(t, "lower_rank", float64(q.LowRank))
	r.Check(t, "upper_rank", float64(q.HighRank))
	r.Check(t, "lower", q.Low)
	r.Check(t, "upper", q.High)
	r.Check(t, "exact_coverage", q.Coverage)
	c := must[interval.Conformal](t)(interval.ConformalUpper(xs, p))
	r.Check(t, "conformal_upper_rank", float64(c.Rank))
	r.Check(t, "conformal_upper", c.Bound)
}

// VanderWeele & Ding (2017): 3.9 (1.8 to 8.7) gives 7.26 and 3.0.
func TestEValueReference(t *testing.T) {
	r := reftest.Load(t, "evalue")
	value, limit, err := interval.EValue(stat.Estimate{
		Value: r.Float(t, "inputs.rr"), Low: r.Float(t, "inputs.limit_nearest_1"), High: 8.7, Level: 0.95,
	})
	if err != nil {
		t.Fatal(err)
	}
	r.Check(t, "e_value", value)
	r.Check(t, "e_value_limit", limit)
}

// Zhou & Gao (1997) on the quine data of the R package MASS.
func TestHurdleReference(t *testing.T) {
	r := reftest.Load(t, "hurdle-quine")
	h := must[interval.Hurdle](t)(interval.HurdleLognormal(r.Floats(t, "inputs.x"), 0.95))
	r.Check(t, "p_any", h.PAny)
	r.Check(t, "meanlog", h.MeanLog)
	r.Check(t, "sdlog", h.SDLog)
	r.Check(t, "mean_plugin", h.Mean)
	r.Check(t, "se_log_positive_mean_cox", h.SELog)
	r.CheckAll(t, "cox_ci_positive_mean", []float64{h.PositiveMean.Low, h.PositiveMean.High})
	r.Check(t, "raw_mean", h.PlainMean)
	r.Check(t, "q90_overall", must[float64](t)(h.Quantile(0.9)))
}
