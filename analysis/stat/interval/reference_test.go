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

// Cracked sections of the FHWA Long-Term Pavement Performance programme
// (public domain): 78 of 110 jointed reinforced, 166 of 329 plain. The figures
// to be met were computed apart, to the digits given.
func TestPavementCounts(t *testing.T) {
	cracked := table(78, 110, 166, 329)
	plain := must[stat.Estimate](t)(interval.Wilson(166, 329, 0.95))
	near(t, "plain", plain.Value, 0.5046, 5e-5)
	nearLimits(t, plain, 0.4508, 0.5582, 5e-5)
	reinforced := must[stat.Estimate](t)(interval.Wilson(78, 110, 0.95))
	near(t, "reinforced", reinforced.Value, 0.7091, 5e-5)
	nearLimits(t, reinforced, 0.6183, 0.7858, 5e-5)
	near(t, "risk ratio", must[stat.Estimate](t)(interval.RiskRatio(cracked, 0.95)).Value, 1.4054, 5e-5)
	near(t, "odds ratio", must[stat.Estimate](t)(interval.OddsRatio(cracked, 0.95)).Value, 2.3934, 5e-5)
	near(t, "Fisher", must[interval.Test](t)(interval.Fisher(cracked)).P, 2.346e-4, 5e-8)
}

// Fisher (1970), convictions of like-sex twins, as printed by R's fisher.test
// with its documentation; R finds the limits to a tolerance of 1.2e-4.
func TestTwinsOfFisher(t *testing.T) {
	twins := table(2, 17, 10, 13)
	near(t, "p", must[interval.Test](t)(interval.Fisher(twins)).P, 0.0005367, 5e-8)
	e := must[stat.Estimate](t)(interval.OddsRatio(twins, 0.95))
	nearLimits(t, e, 0.003325764, 0.363182271, 1.2e-4)
}

// Koopman (1984), Biometrics 40:513: 36/40 against 16/80 gives 2.94 to 7.15
// (from memory).
func TestRiskRatioOfKoopman(t *testing.T) {
	e := must[stat.Estimate](t)(interval.RiskRatio(table(36, 40, 16, 80), 0.95))
	near(t, "ratio", e.Value, 4.5, 1e-14)
	nearLimits(t, e, 2.94, 7.15, 5e-3)
}

// The four pairs of limits that Newcombe (1998), Stat. Med. 17:857, Table I,
// prints to four digits (two of them from memory).
func TestProportionsOfNewcombe(t *testing.T) {
	for _, c := range []struct {
		x, n                                   int
		wilsonLow, wilsonHigh, exactLow, exact float64
	}{
		{81, 263, 0.2553, 0.3662, 0.2527, 0.3676},
		{15, 148, 0.0624, 0.1605, 0.0578, 0.1617},
		{0, 20, 0, 0.1611, 0, 0.1684},
		{1, 29, 0.0061, 0.1718, 0.0009, 0.1776},
	} {
		nearLimits(t, must[stat.Estimate](t)(interval.Wilson(c.x, c.n, 0.95)), c.wilsonLow, c.wilsonHigh, 5.1e-5)
		nearLimits(t, must[stat.Estimate](t)(interval.ClopperPearson(c.x, c.n, 0.95)), c.exactLow, c.exact, 5.1e-5)
	}
}

// Limits by summing the tails in 40-digit arithmetic (mpmath), where the
// library's quantiles are weakest: many trials, and proportions near one.
func TestExactLimitsOfLargeCounts(t *testing.T) {
	for _, c := range []struct {
		x, n      int
		low, high float64
	}{
		{999, 1000, 0.99444107572017333, 0.99997468251250871},
		{5, 100000, 1.6235056817057859e-5, 0.00011667943042027705},
		{480, 500, 0.93889739061175531, 0.9753986879144546},
		{2500, 5000, 0.48604437400092578, 0.51395562599907422},
	} {
		e := must[stat.Estimate](t)(interval.ClopperPearson(c.x, c.n, 0.95))
		near(t, "low", e.Low/c.low, 1, 1e-10)
		near(t, "high", e.High/c.high, 1, 1e-10)
	}
	// 10⁶−3 of 10⁶ at 99.99 %: the limits of 3 of 10⁶, taken from one.
	few := must[stat.Estimate](t)(interval.ClopperPearson(3, 1_000_000, 0.9999))
	most := must[stat.Estimate](t)(interval.ClopperPearson(999_997, 1_000_000, 0.9999))
	near(t, "low of few", few.Low/6.8090687234052434e-8, 1, 1e-9)
	near(t, "high of few", few.High/1.675074492958305e-5, 1, 1e-9)
	near(t, "low of most", (1-most.Low)/few.High, 1, 1e-9)
	near(t, "high of most", (1-most.High)/few.Low, 1, 1e-9)

	for _, c := range []struct {
		y         int
		low, high float64
	}{
		{50, 37.110963737461863, 65.918766664336817},
		{1000, 938.97301840769522, 1063.952136016302},
		{100000, 99381.152663744731, 100621.74473974388},
	} {
		e := must[stat.Estimate](t)(interval.Garwood(c.y, 1, 0.95))
		near(t, "low", e.Low/c.low, 1, 1e-12)
		near(t, "high", e.High/c.high, 1, 1e-12)
	}
}

// Quantiles of t by inverting the incomplete beta integral in 40-digit
// arithmetic (mpmath).
func TestStudentQuantileReference(t *testing.T) {
	for _, c := range []struct{ p, nu, want float64 }{
		{0.00135, 1, -235.7836871584926},
		{1e-6, 1, -318309.8861827435},
		{0.00135, 2.48, -12.41550044855067},
		{0.025, 2.48, -3.595364716860776},
		{1e-6, 2.48, -228.4974001225112},
		{0.00135, 6.82, -4.586281685948708},
		{0.025, 19, -2.09302405440831},
		{1e-6, 19, -6.723394282200186},
		{0.00135, 49, -3.160482592537388},
		{0.00135, 500, -3.015045910352895},
		{0.025, 500, -1.964719837467368},
		{1e-6, 500, -4.810085161637655},
		{0.00135, 9999, -3.000727224163102},
		{0.025, 9999, -1.960201263621358},
		{1e-6, 9999, -4.756229965767043},
		{0.00135, 10001, -3.000727074097306},
		{0.025, 10001, -1.960201216164641},
		{1e-6, 10001, -4.75622940440268},
	} {
		near(t, "t", must[float64](t)(interval.StudentQuantile(c.p, c.nu))/c.want, 1, 1e-11)
	}
}
