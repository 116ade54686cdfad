package regress

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mathext"
	"gonum.org/v1/gonum/stat"

	"pourback/analysis/internal/reftest"
)

// must unwraps a result that a reference test cannot do without.
func must[T any](v T, err error) func(testing.TB) T {
	return func(t testing.TB) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

func line(x []float64) Design { return Design{Ones(len(x)), x} }

func each(f func(float64) float64, xs []float64) []float64 {
	out := make([]float64, len(xs))
	for i, x := range xs {
		out[i] = f(x)
	}
	return out
}

func divide(a, b []float64) []float64 {
	out := make([]float64, len(a))
	for i := range a {
		out[i] = a[i] / b[i]
	}
	return out
}

func TestNorris(t *testing.T) {
	r := reftest.Load(t, "ols-norris")
	f := must(OLS(line(r.Floats(t, "inputs.x")), r.Floats(t, "inputs.y")))(t)
	r.Check(t, "b0", f.Coef[0])
	r.Check(t, "b1", f.Coef[1])
	r.Check(t, "se_b0", f.SE[0])
	r.Check(t, "se_b1", f.SE[1])
	r.Check(t, "resid_sd", f.Sigma)
	r.Check(t, "r2", f.R2)
}

func TestThroughTheOrigin(t *testing.T) {
	r := reftest.Load(t, "ols-noint1")
	f := must(OLS(Design{r.Floats(t, "inputs.x")}, r.Floats(t, "inputs.y")))(t)
	r.Check(t, "b1", f.Coef[0])
	r.Check(t, "se_b1", f.SE[0])
	r.Check(t, "resid_sd", f.Sigma)
	r.Check(t, "r2", f.R2)
}

// TestSizeWeighted holds U = a+bV with variance growing as V and as V². The
// ratios of the same entries are checked where ratios live, in package interval.
func TestSizeWeighted(t *testing.T) {
	cars, _ := reftest.Table(t, "cars.csv")
	small := reftest.Load(t, "ratio-small")
	for _, c := range []struct {
		ref  *reftest.Ref
		v, u []float64
	}{
		{small, small.Floats(t, "inputs.V"), small.Floats(t, "inputs.U")},
		{reftest.Load(t, "ratio-cars"), cars["V"], cars["U"]},
	} {
		for name, w := range map[string][]float64{
			"wls_invV":  each(func(v float64) float64 { return 1 / v }, c.v),
			"wls_invV2": each(func(v float64) float64 { return 1 / (v * v) }, c.v),
		} {
			f := must(WLS(line(c.v), c.u, w))(t)
			c.ref.Check(t, name+".a", f.Coef[0])
			c.ref.Check(t, name+".b", f.Coef[1])
			c.ref.Check(t, name+".se_a", f.SE[0])
			c.ref.Check(t, name+".se_b", f.SE[1])
			c.ref.Check(t, name+".sigma", f.Sigma)
		}
	}
}

func TestVarianceLinear(t *testing.T) {
	r := reftest.Load(t, "varfun-small")
	v, u := r.Floats(t, "inputs.V"), r.Floats(t, "inputs.U")
	h := each(func(v float64) float64 { return 1 / v }, v)
	f := must(VarianceLinear(line(h), divide(u, v), h))(t)
	r.Check(t, "kappa", f.Theta)
	r.Check(t, "sigma2", f.Sigma*f.Sigma)
	r.Check(t, "intercept", f.Coef[0])
	r.Check(t, "fixed_yd", f.Coef[1])
	r.CheckAll(t, "se", f.SE)
	r.Check(t, "reml_loglik", f.RemlLogLik)
	if len(f.Warnings) == 0 {
		t.Error("κ at the end of the search passes without a warning")
	}
}

func TestVariancePower(t *testing.T) {
	r := reftest.Load(t, "varpower-cars")
	cars, _ := reftest.Table(t, "cars.csv")
	f := must(VariancePower(line(cars["V"]), cars["U"], cars["V"]))(t)
	r.Check(t, "d", f.Theta)
	r.Check(t, "a", f.Coef[0])
	r.Check(t, "b", f.Coef[1])
	r.Check(t, "sigma", f.Sigma)
	r.Check(t, "reml_loglik", f.RemlLogLik)
}

func TestPredictionOnTheLogScale(t *testing.T) {
	r := reftest.Load(t, "pred-cars-log")
	cars, _ := reftest.Table(t, "cars.csv")
	f := must(OLS(line(each(math.Log, cars["V"])), each(math.Log, cars["U"])))(t)
	x := []float64{1, r.Float(t, "inputs.x0")}
	p := must(f.At(x, 1))(t)
	r.Check(t, "loc", p.Loc)
	r.Check(t, "pred_se", p.SE)
	r.Check(t, "df", float64(p.DF))
	r.Check(t, "q05", p.Quantile(0.05))
	r.Check(t, "q75", p.Quantile(0.75))
	r.Check(t, "q95", p.Quantile(0.95))
	m := must(p.MeanInterval(0.95))(t)
	r.CheckAll(t, "mean_interval_95", []float64{m.Low, m.High})
	r.Check(t, "lognormal_median", math.Exp(p.Loc))
	r.Check(t, "lognormal_mean_plugin", must(f.LognormalMean(x))(t))
	r.Check(t, "duan_smearing_mean", must(f.SmearingMean(x))(t))
	r.Check(t, "q80_original_scale", math.Exp(p.Quantile(0.8)))
}

func TestNextRatio(t *testing.T) {
	r := reftest.Load(t, "pred-logratio")
	y := each(math.Log, divide(r.Floats(t, "inputs.U"), r.Floats(t, "inputs.V")))
	f := must(OLS(Design{Ones(len(y))}, y))(t)
	p := must(f.At([]float64{1}, 1))(t)
	r.Check(t, "q50", math.Exp(p.Quantile(0.5)))
	r.Check(t, "q75", math.Exp(p.Quantile(0.75)))
	r.Check(t, "q90", math.Exp(p.Quantile(0.9)))
	k := must(ToleranceFactor(len(y), 0.90, 0.95))(t)
	r.Check(t, "tolerance_bound_95_90", math.Exp(f.Coef[0]+k*f.Sigma))
}

// TestLongley: six columns that all but repeat each other. NIST StRD Longley,
// certified values (from memory, as are the data; all digits agree).
func TestLongley(t *testing.T) {
	x := Design{
		Ones(16),
		{83, 88.5, 88.2, 89.5, 96.2, 98.1, 99, 100, 101.2, 104.6, 108.4, 110.8, 112.6, 114.2, 115.7, 116.9},
		{234289, 259426, 258054, 284599, 328975, 346999, 365385, 363112, 397469, 419180, 442769, 444546, 482704, 502601, 518173, 554894},
		{2356, 2325, 3682, 3351, 2099, 1932, 1870, 3578, 2904, 2822, 2936, 4681, 3813, 3931, 4806, 4007},
		{1590, 1456, 1616, 1650, 3099, 3594, 3547, 3350, 3048, 2857, 2798, 2637, 2552, 2514, 2572, 2827},
		{107608, 108632, 109773, 110929, 112075, 113270, 115094, 116219, 117388, 118734, 120445, 121950, 123366, 125368, 127852, 130081},
		{1947, 1948, 1949, 1950, 1951, 1952, 1953, 1954, 1955, 1956, 1957, 1958, 1959, 1960, 1961, 1962},
	}
	y := []float64{60323, 61122, 60171, 61187, 63221, 63639, 64989, 63761, 66019, 67857, 68169, 66513, 68655, 69564, 69331, 70551}
	f := must(OLS(x, y))(t)
	near(t, "residual sd", f.Sigma, 304.854073561965, 1e-11)
	for j, want := range [][2]float64{
		{-3482258.63459582, 890420.383607373}, {15.0618722713733, 84.9149257747669},
		{-0.0358191792925910, 0.0334910077722432}, {-2.02022980381683, 0.488399681651699},
		{-1.03322686717359, 0.214274163161675}, {-0.0511041056535807, 0.226073200069370}, {1829.15146461355, 455.478499142212},
	} {
		near(t, "coefficient", f.Coef[j], want[0], 1e-10)
		near(t, "its error", f.SE[j], want[1], 1e-11)
	}
}

// TestToleranceFactors: one-sided factors for content .90 and .95 at confidence
// .95, NIST/SEMATECH e-Handbook §7.2.6.3 and Hahn & Meeker (1991) table A.12
// (from memory, to the three digits the tables print).
func TestToleranceFactors(t *testing.T) {
	for _, c := range []struct {
		n                   int
		content, conf, want float64
	}{
		{2, 0.90, 0.95, 20.581}, {10, 0.90, 0.95, 2.355}, {10, 0.95, 0.95, 2.911},
		{43, 0.90, 0.99, 1.8740}, {20, 0.95, 0.95, 2.396}, {5, 0.99, 0.95, 5.741},
	} {
		got := must(ToleranceFactor(c.n, c.content, c.conf))(t)
		if math.Abs(got-c.want) > 0.001 {
			t.Errorf("n %d, content %v, confidence %v: got %.5f, want %v", c.n, c.content, c.conf, got, c.want)
		}
	}
}

func TestStackloss(t *testing.T) {
	r := reftest.Load(t, "robust-stackloss")
	d, _ := reftest.Table(t, "stackloss.csv")
	x := Design{Ones(21), d["Air.Flow"], d["Water.Temp"], d["Acid.Conc."]}
	f := must(StudentT(x, d["stack.loss"], 4))(t)
	r.CheckAll(t, "t4.beta", f.Coef)
	r.Check(t, "t4.scale", f.Scale)
	r.CheckAll(t, "t4.weights", f.Weights)
	r.Check(t, "t4.loglik", f.LogLik)
	h := must(Huber(x, d["stack.loss"], HuberTuning))(t)
	r.CheckAll(t, "huber.beta", h.Coef)
	r.Check(t, "huber.scale_mad", h.Scale)
}

func TestWarpbreaks(t *testing.T) {
	r := reftest.Load(t, "overdisp-warpbreaks")
	num, text := reftest.Table(t, "warpbreaks.csv")
	is := func(column, level string) []float64 {
		out := make([]float64, len(text[column]))
		for i, v := range text[column] {
			if v == level {
				out[i] = 1
			}
		}
		return out
	}
	x := Design{Ones(54), is("wool", "B"), is("tension", "M"), is("tension", "H")}
	f := must(Poisson(x, num["breaks"], nil))(t)
	r.CheckAll(t, "coef", f.Coef)
	r.Check(t, "pearson_X2", f.Pearson)
	r.Check(t, "df", float64(f.DF))
	r.Check(t, "phi", f.Phi)
	r.Check(t, "p_chisq", f.PPearson)
	r.Check(t, "deviance", f.Deviance)
	r.CheckAll(t, "se_poisson", f.SE)
	r.CheckAll(t, "se_quasi", f.QuasiSE)
}

func TestInfertStandardised(t *testing.T) {
	r := reftest.Load(t, "gcomp-logit-infert")
	d, _ := reftest.Table(t, "infert.csv")
	exposed := each(func(v float64) float64 { return math.Min(v, 1) }, d["spont"])
	x := Design{Ones(len(exposed)), exposed, d["age"], d["parity"]}
	f := must(Logistic(x, d["case"], nil))(t)
	r.CheckAll(t, "coef", f.Coef)
	s := must(Standardise(f, x.With(1, 1), x.With(1, 0), 0.95))(t)
	r.Check(t, "risk1", s.Risk1.Value)
	r.Check(t, "risk0", s.Risk0.Value)
	r.Check(t, "rd", s.Difference.Value)
	r.Check(t, "se_rd_delta", s.SEDifference)
	r.Check(t, "rr", s.Ratio.Value)
}

func TestFirthReferences(t *testing.T) {
	endometrial, _ := reftest.Table(t, "endometrial.csv")
	two := reftest.Load(t, "firthlogit-2x2")
	for _, c := range []struct {
		ref *reftest.Ref
		x   Design
		y   []float64
	}{
		{reftest.Load(t, "firthlogit-endometrial"), Design{Ones(79), endometrial["NV"], endometrial["PI"], endometrial["EH"]}, endometrial["HG"]},
		{two, line(two.Floats(t, "inputs.x")), two.Floats(t, "inputs.y")},
	} {
		f := must(Firth(c.x, c.y, nil))(t)
		c.ref.CheckAll(t, "coef", f.Coef)
		c.ref.CheckAll(t, "se", f.SE)
		c.ref.Check(t, "penalized_loglik", f.PenalizedLogLik)
		var low, high, chi2, p []float64
		for j := range c.x {
			e := must(f.Profile(j, 0.95))(t)
			x2, pj, err := f.Test(j, 0)
			if err != nil {
				t.Fatal(err)
			}
			low, high, chi2, p = append(low, e.Low), append(high, e.High), append(chi2, x2), append(p, pj)
		}
		c.ref.CheckAll(t, "profile_lower", low)
		c.ref.CheckAll(t, "profile_upper", high)
		c.ref.CheckAll(t, "penalized_lr", chi2)
		c.ref.CheckAll(t, "p", p)
	}
}

// TestMedianAgainstLibrary holds the scale of Huber's estimate against gonum's
// empirical quantile for an odd number of rows.
func TestMedianAgainstLibrary(t *testing.T) {
	xs := []float64{-3, 1, 4, -1.5, 9}
	abs := []float64{1, 1.5, 3, 4, 9}
	if got, want := medianAbs(xs, make([]float64, 5)), stat.Quantile(0.5, stat.Empirical, abs, nil); got != want {
		t.Errorf("got %v, want %v", got, want)
	}
	if got := mathext.NormalQuantile(0.75); math.Abs(got-0.6745) > 1e-4 {
		t.Errorf("Φ⁻¹(¾) = %v", got)
	}
}
