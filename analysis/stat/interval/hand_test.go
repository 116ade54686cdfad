package interval_test

import (
	"math"
	"testing"

	"pourback/analysis/stat"
	"pourback/analysis/stat/interval"
)

func near(t testing.TB, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %.12g, want %.12g ± %g", what, got, want, tol)
	}
}

func nearLimits(t testing.TB, e stat.Estimate, low, high, tol float64) {
	t.Helper()
	near(t, e.Method+", low", e.Low, low, tol)
	near(t, e.Method+", high", e.High, high, tol)
}

const z95 = 1.959963984540054

func TestWilsonByHand(t *testing.T) {
	// 5 of 10, z² = 3.841459: scale 1 + .3841459 = 1.3841459
	// middle (.5 + .19207295)/1.3841459 = .5
	// half   1.959964·√(.25/10 + 3.841459/400)/1.3841459
	//      = 1.959964·√.0346036475/1.3841459 = .2634069
	e := must[stat.Estimate](t)(interval.Wilson(5, 10, 0.95))
	near(t, "value", e.Value, 0.5, 0)
	nearLimits(t, e, 0.2365931, 0.7634069, 1e-7)

	// 0 of n: both terms of the upper limit are z²/2n, so it is z²/(n + z²).
	e = must[stat.Estimate](t)(interval.Wilson(0, 7, 0.95))
	nearLimits(t, e, 0, z95*z95/(7+z95*z95), 1e-15)
}

func TestClopperPearsonByHand(t *testing.T) {
	// 0 of n: (1−u)ⁿ = .025. n of n: lⁿ = .025.
	e := must[stat.Estimate](t)(interval.ClopperPearson(0, 8, 0.95))
	nearLimits(t, e, 0, 1-math.Pow(0.025, 1./8), 1e-13)
	e = must[stat.Estimate](t)(interval.ClopperPearson(8, 8, 0.95))
	nearLimits(t, e, math.Pow(0.025, 1./8), 1, 1e-13)
	// 1 of 2: P(X ≥ 1; l) = 1 − (1−l)² = .05, so l = 1 − √.95; u by symmetry.
	e = must[stat.Estimate](t)(interval.ClopperPearson(1, 2, 0.90))
	nearLimits(t, e, 1-math.Sqrt(0.95), math.Sqrt(0.95), 1e-13)
}

func TestJeffreysByHand(t *testing.T) {
	// 1 of 2: Beta(3/2, 3/2) is a half circle, with distribution function
	// (θ − sin θ)/2π at x = (1 − cos(θ/2))/2. At 1−2·α/2 = .5 around the middle
	// the lower quartile solves θ − sin θ = π/2: θ = 2.3098815, cos(θ/2) =
	// .4039728, x = .2980136.
	e := must[stat.Estimate](t)(interval.Jeffreys(1, 2, 0.5))
	nearLimits(t, e, 0.2980136, 0.7019864, 1e-7)
}

func TestGarwoodByHand(t *testing.T) {
	// No events: e^−u = .025. One: P(Y ≥ 1; l) = 1 − e^−l = .025. Exposure 2.
	e := must[stat.Estimate](t)(interval.Garwood(0, 2, 0.95))
	nearLimits(t, e, 0, -math.Log(0.025)/2, 1e-13)
	e = must[stat.Estimate](t)(interval.Garwood(1, 2, 0.95))
	near(t, "value", e.Value, 0.5, 0)
	near(t, "low", e.Low, -math.Log(0.975)/2, 1e-13)
}

func TestStudentQuantileByHand(t *testing.T) {
	// One degree is the Cauchy law, t = tan(π(p−½)); two degrees have
	// t = (2p−1)√(2/(1−(2p−1)²)).
	for _, p := range []float64{0.001, 0.025, 0.3, 0.5, 0.9, 0.99865} {
		c := 2*p - 1
		near(t, "ν=1", must[float64](t)(interval.StudentQuantile(p, 1)), math.Tan(math.Pi*(p-0.5)), 1e-9)
		near(t, "ν=2", must[float64](t)(interval.StudentQuantile(p, 2)), c*math.Sqrt(2/(1-c*c)), 1e-11)
	}
}

func TestMeanTByHand(t *testing.T) {
	// 1, 2, 6: mean 3, squares of deviations 4+1+9 = 14, s = √7, se = √(7/3).
	// t(.975; 2) = .95·√(2/(1−.9025)) = 4.302653.
	e := must[stat.Estimate](t)(interval.MeanT([]float64{1, 2, 6}, 0.95))
	half := 0.95 * math.Sqrt(2/0.0975) * math.Sqrt(7./3)
	near(t, "value", e.Value, 3, 0)
	nearLimits(t, e, 3-half, 3+half, 1e-11)
}

func TestRatioByHand(t *testing.T) {
	// U 2, 6, 4 on V 1, 2, 3: r = 12/6 = 2, residuals 0, 2, −2, squares 8,
	// se = √(8/(2·3))/2 = √(4/3)/2 = 1/√3.
	num, den := []float64{2, 6, 4}, []float64{1, 2, 3}
	r, se, err := interval.RatioSE(num, den)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "ratio", r, 2, 0)
	near(t, "se", se, 1/math.Sqrt(3), 1e-15)
	e := must[stat.Estimate](t)(interval.Ratio(num, den, 0.95))
	half := 0.95 * math.Sqrt(2/0.0975) / math.Sqrt(3) // t(.975; 2)·se
	nearLimits(t, e, 2-half, 2+half, 1e-11)

	// ratios 2, 3, 4/3: mean 19/9; squares of deviations 1/81, 64/81, 49/81.
	mean, sd, err := interval.MeanOfRatios(num, den)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "mean of ratios", mean, 19./9, 1e-15)
	near(t, "sd of ratios", sd, math.Sqrt(114./81/2), 1e-15)
}

func TestQuantilesByHand(t *testing.T) {
	// 4, 1, 3, 2 in order 1 2 3 4; h = 3p: .75 → 1.75, 1.5 → 2.5, 2.7 → 3.7.
	got := must[[]float64](t)(interval.Quantiles([]float64{4, 1, 3, 2}, 0.25, 0.5, 0.9, 0, 1))
	for i, want := range []float64{1.75, 2.5, 3.7, 1, 4} {
		near(t, "quantile", got[i], want, 1e-15)
	}
}

func TestQuantileIntervalByHand(t *testing.T) {
	// Median of six at 95 %: P(B ≤ 0) = 1/64 < .025 ≤ P(B ≤ 1), so rank 1;
	// P(B ≤ 5) = 63/64 ≥ .975, so rank 6; coverage 62/64.
	q := must[interval.QuantileEstimate](t)(interval.QuantileInterval([]float64{9, 2, 7, 4, 5, 1}, 0.5, 0.95))
	near(t, "median", q.Value, 4.5, 0)
	nearLimits(t, q.Estimate, 1, 9, 0)
	near(t, "coverage", q.Coverage, 62./64, 1e-15)
	// Five cannot: P(B ≤ 0) = 1/32 > .025. Neither side is bounded.
	q = must[interval.QuantileEstimate](t)(interval.QuantileInterval([]float64{9, 2, 7, 4, 5}, 0.5, 0.95))
	if !math.IsInf(q.Low, -1) || !math.IsInf(q.High, 1) || q.LowRank != 0 || q.HighRank != 6 {
		t.Errorf("got %+v", q)
	}
	near(t, "coverage", q.Coverage, 1, 0)
}

func TestConformalByHand(t *testing.T) {
	// ⌈10 · .9⌉ = 9 of nine values: the largest. 100 · .07 is whole: rank 7.
	c := must[interval.Conformal](t)(interval.ConformalUpper([]float64{3, 1, 4, 1, 5, 9, 2, 6, 5}, 0.9))
	if c.Bound != 9 || c.Rank != 9 {
		t.Errorf("got %+v", c)
	}
	xs := make([]float64, 99)
	for i := range xs {
		xs[i] = float64(99 - i)
	}
	c = must[interval.Conformal](t)(interval.ConformalUpper(xs, 0.07))
	if c.Bound != 7 || c.Rank != 7 {
		t.Errorf("got %+v", c)
	}
}

func TestFisherByHand(t *testing.T) {
	// 3 of 4 and 1 of 4: of the 70 ways 1, 16, 36, 16, 1 give 0 … 4, so
	// p = (1+16+16+1)/70 = 34/70.
	tea := table(3, 4, 1, 4)
	near(t, "p", must[interval.Test](t)(interval.Fisher(tea)).P, 34./70, 1e-15)

	// The limits of the odds ratio solve, with D = 1+16ψ+36ψ²+16ψ³+ψ⁴,
	// (16ψ³+ψ⁴)/D = .025 below and (1+16ψ+36ψ²+16ψ³)/D = .025 above.
	e := must[stat.Estimate](t)(interval.OddsRatio(tea, 0.95))
	near(t, "odds ratio", e.Value, 9, 1e-14)
	d := func(psi float64) float64 { return 1 + psi*(16+psi*(36+psi*(16+psi))) }
	near(t, "upper tail", e.Low*e.Low*e.Low*(16+e.Low)/d(e.Low), 0.025, 1e-14)
	near(t, "lower tail", 1-math.Pow(e.High, 4)/d(e.High), 0.025, 1e-13)
}

func TestRiskRatioByHand(t *testing.T) {
	// All of both arms: with θ < 1 the likelihood puts p̃2 = 1, p̃1 = θ, so
	// (1−θ)²·n1/(θ(1−θ)) = z² gives θ = n1/(n1+z²); with θ > 1 the other way
	// about gives (n2+z²)/n2.
	e := must[stat.Estimate](t)(interval.RiskRatio(table(12, 12, 9, 9), 0.95))
	near(t, "value", e.Value, 1, 0)
	nearLimits(t, e, 12/(12+z95*z95), (9+z95*z95)/9, 1e-12)
}

func TestNewcombeByHand(t *testing.T) {
	// None of either: d = 0, l = 0, u = z²/(n+z²): −u2 to u1.
	z2 := z95 * z95
	e := must[stat.Estimate](t)(interval.Newcombe(table(0, 15, 0, 40), 0.95))
	nearLimits(t, e, -z2/(40+z2), z2/(15+z2), 1e-15)
}

func TestMiettinenNurminenByHand(t *testing.T) {
	// None of either: for δ > 0 the likelihood puts p̃2 = 0, p̃1 = δ, so
	// δ²/(δ(1−δ)/n1 · N/(N−1)) = z², δ = z²/(z² + n1(N−1)/N).
	z2, n := z95*z95, 55.0
	e := must[stat.Estimate](t)(interval.MiettinenNurminen(table(0, 15, 0, 40), 0.95))
	nearLimits(t, e, -z2/(z2+40*(n-1)/n), z2/(z2+15*(n-1)/n), 1e-12)
}

func TestCompareRatesByHand(t *testing.T) {
	// 3 events and none over equal exposures: binomial(3, ½) weights 1 3 3 1 of
	// 8. p = 2/8; mid-p = 2·(½·1/8). π's lower limit is .025^⅓.
	c := must[interval.RateComparison](t)(interval.CompareRates(
		interval.Rate{Events: 3, Exposure: 7}, interval.Rate{Events: 0, Exposure: 7}, 0.95))
	near(t, "p", c.P, 0.25, 1e-15)
	near(t, "mid-p", c.MidP, 0.125, 1e-15)
	l := math.Cbrt(0.025)
	near(t, "low", c.Low, l/(1-l), 1e-12)
	if !math.IsInf(c.Ratio, 1) || !math.IsInf(c.High, 1) {
		t.Errorf("ratio %v up to %v, want no upper bound", c.Ratio, c.High)
	}
	near(t, "difference", c.Difference, 3./7, 1e-15)
	near(t, "se", c.DiffSE, math.Sqrt(3)/7, 1e-15)
}

func TestEqualRatesByHand(t *testing.T) {
	// 3 events and none, exposures 1 and 2: e = 1, 2; X² = 4/1 + 4/2 = 6;
	// G² = 2·3·log 3. The ways 3-0, 2-1, 1-2, 0-3 have X² 6, 1.5, 0, 1.5, so
	// p = (1/3)³.
	got := must[interval.RateTest](t)(interval.EqualRates([]interval.Rate{{3, 1}, {0, 2}}))
	near(t, "X2", got.X2, 6, 1e-14)
	near(t, "G2", got.G2, 6*math.Log(3), 1e-14)
	near(t, "p", got.P, 1./27, 1e-14)
	if got.Tables != 4 || !got.Exact {
		t.Errorf("got %+v, want all 4 ways gone through", got)
	}
}

func TestEValueByHand(t *testing.T) {
	// 2 + √(2·1); the limit 1.25 + √(1.25·.25).
	v, l, err := interval.EValue(stat.Estimate{Value: 2, Low: 1.25, High: 3})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "value", v, 2+math.Sqrt2, 1e-15)
	near(t, "limit", l, 1.25+math.Sqrt(0.3125), 1e-15)
}

func TestHurdleByHand(t *testing.T) {
	// 0, e, e³: p = 2/3, logs 1 and 3, μ = 2, s² = 2. Mean ⅔·e³;
	// SE = √(2/2 + 4/(2·1)) = √3. The quantile at 2/3 is at the middle of the
	// positive part, e².
	h := must[interval.Hurdle](t)(interval.HurdleLognormal([]float64{0, math.E, math.Exp(3)}, 0.95))
	near(t, "mean", h.Mean, 2./3*math.Exp(3), 1e-13)
	near(t, "se", h.SELog, math.Sqrt(3), 1e-15)
	nearLimits(t, h.PositiveMean, math.Exp(3-z95*math.Sqrt(3)), math.Exp(3+z95*math.Sqrt(3)), 1e-9)
	near(t, "quantile", must[float64](t)(h.Quantile(2./3)), math.Exp(2), 1e-12)
	near(t, "quantile", must[float64](t)(h.Quantile(0.33)), 0, 0)
	near(t, "plain mean", h.PlainMean, (math.E+math.Exp(3))/3, 1e-14)
	if len(h.Warnings) != 1 {
		t.Errorf("warnings %q, want one about two positive values", h.Warnings)
	}
}
