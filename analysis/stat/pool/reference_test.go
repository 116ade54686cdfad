package pool

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"pourback/analysis/internal/reftest"
	"pourback/analysis/stat/regress"
)

func must[T any](v T, err error) func(testing.TB) T {
	return func(t testing.TB) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

// number turns labels into group numbers in the order of their appearance.
func number(labels []string) (groups []int, names []string) {
	index := map[string]int{}
	for _, label := range labels {
		g, known := index[label]
		if !known {
			g = len(names)
			index[label] = g
			names = append(names, label)
		}
		groups = append(groups, g)
	}
	return groups, names
}

// find is the number of a label, −1 for a new one.
func find(names []string, label string) int {
	for g, name := range names {
		if name == label {
			return g
		}
	}
	return -1
}

// checkPrediction holds mean and quantiles of a mixture against an entry.
func checkPrediction(t *testing.T, r *reftest.Ref, path string, m Mixture) {
	t.Helper()
	r.Check(t, path+".mean", m.Mean())
	r.Check(t, path+".q10", m.Quantile(0.10))
	r.Check(t, path+".q50", m.Quantile(0.50))
	r.Check(t, path+".q75", m.Quantile(0.75))
	r.Check(t, path+".q90", m.Quantile(0.90))
}

// overage lays out R−1 on base, chute/V and pump/V with h = 1/V.
func overage(v, u, pump []float64) Data {
	d := Data{X: regress.Design{regress.Ones(len(v)), make([]float64, len(v)), make([]float64, len(v))}}
	for i := range v {
		d.Y = append(d.Y, u[i]/v[i]-1)
		d.H = append(d.H, 1/v[i])
		d.X[1][i] = (1 - pump[i]) / v[i]
		d.X[2][i] = pump[i] / v[i]
	}
	return d
}

func TestGridBayesOverage(t *testing.T) {
	r := reftest.Load(t, "gridbayes-overage")
	d := overage(r.Floats(t, "inputs.V"), r.Floats(t, "inputs.U"), r.Floats(t, "inputs.pump"))
	var names []string
	d.Group, names = number(r.Strings(t, "inputs.use"))
	m := Model{
		Prior: Prior{Mean: r.Floats(t, "inputs.m0"), SD: r.Floats(t, "inputs.s0"), Sigma: r.Float(t, "inputs.sig0"), Nu: r.Float(t, "inputs.nu0"), RScale: r.Float(t, "inputs.rscale")},
		GridR: r.Floats(t, "inputs.rgrid"), GridKappa: r.Floats(t, "inputs.kgrid"),
	}
	post := must(m.Fit(d))(t)
	r.CheckAll(t, "grid_weights", post.GridWeights())
	h, pump := 1/r.Float(t, "inputs.predict.V"), r.Float(t, "inputs.predict.pump")
	for _, use := range r.Strings(t, "inputs.predict.groups") {
		x := []float64{1, (1 - pump) * h, pump * h}
		checkPrediction(t, r, "pred_"+use, must(post.Predict(x, h, find(names, use)))(t))
	}
}

func TestGridBayesDyestuff(t *testing.T) {
	r := reftest.Load(t, "gridbayes-dyestuff")
	y := r.Floats(t, "inputs.y")
	group, names := number(r.Strings(t, "inputs.batch"))
	m := Model{
		Prior: Prior{Mean: []float64{r.Float(t, "inputs.m0")}, SD: []float64{r.Float(t, "inputs.s0")}, Sigma: r.Float(t, "inputs.sig0"), Nu: r.Float(t, "inputs.nu0"), RScale: r.Float(t, "inputs.rscale")},
		GridR: r.Floats(t, "inputs.rgrid"), GridKappa: []float64{r.Float(t, "inputs.kgrid")},
	}
	post := must(m.Fit(Data{X: regress.Design{regress.Ones(len(y))}, Y: y, Group: group}))(t)
	r.CheckAll(t, "grid_weights", post.GridWeights())
	for _, batch := range r.Strings(t, "inputs.predict_groups") {
		checkPrediction(t, r, "pred_"+strings.TrimSpace(batch), must(post.Predict([]float64{1}, 0, find(names, batch)))(t))
	}
}

func TestOneWayREML(t *testing.T) {
	dyestuff := reftest.Load(t, "reml-dyestuff")
	group, names := number(dyestuff.Strings(t, "inputs.batch"))
	f := must(OneWayREML(regress.Design{regress.Ones(30)}, dyestuff.Floats(t, "inputs.yield"), group))(t)
	dyestuff.Check(t, "tau2", f.Tau2)
	dyestuff.Check(t, "sigma2", f.Sigma2)
	dyestuff.Check(t, "beta", f.Coef[0])
	dyestuff.Check(t, "se_beta", f.SE[0])
	dyestuff.Check(t, "reml_loglik", f.RemlLogLik)
	for g, batch := range names {
		dyestuff.Check(t, "blup."+batch, f.Effects[g])
	}

	num, text := reftest.Table(t, "sleepstudy_unb.csv")
	subject, subjects := number(text["g"])
	same := func(v float64) float64 { return v }
	for _, c := range []struct {
		ref  *reftest.Ref
		x, y func(float64) float64
	}{
		{reftest.Load(t, "reml-sleepstudy-unbalanced"), same, same},
		{reftest.Load(t, "reml-sleepstudy-learning"), math.Log1p, math.Log},
	} {
		x, y := make([]float64, len(num["x"])), make([]float64, len(num["y"]))
		for i := range x {
			x[i], y[i] = c.x(num["x"][i]), c.y(num["y"][i])
		}
		f := must(OneWayREML(regress.Design{regress.Ones(len(x)), x}, y, subject))(t)
		c.ref.Check(t, "tau2", f.Tau2)
		c.ref.Check(t, "sigma2", f.Sigma2)
		c.ref.CheckAll(t, "beta", f.Coef)
		c.ref.CheckAll(t, "se_beta", f.SE)
		c.ref.Check(t, "reml_loglik", f.RemlLogLik)
		for g, s := range subjects {
			c.ref.Check(t, "blup."+s, f.Effects[g])
		}
	}
}

func TestANOVA(t *testing.T) {
	r := reftest.Load(t, "anova-sirstv")
	v := must(OneWayANOVA(r.Floats(t, "inputs.y"), r.Ints(t, "inputs.group")))(t)
	r.Check(t, "F", v.F)
	r.Check(t, "ss_between", v.SSBetween)
	r.Check(t, "ss_within", v.SSWithin)
	r.Check(t, "tau2_moments", v.Tau2)
}

func TestNormalNormal(t *testing.T) {
	schools := reftest.Load(t, "eb-8schools")
	bcg := reftest.Load(t, "eb-bcg")
	for _, c := range []struct {
		ref *reftest.Ref
		v   []float64
	}{
		{schools, squares(schools.Floats(t, "inputs.se"))},
		{bcg, bcg.Floats(t, "inputs.v")},
	} {
		y := c.ref.Floats(t, "inputs.y")
		reml, dl := must(NormalREML(y, c.v))(t), must(DerSimonianLaird(y, c.v))(t)
		c.ref.Check(t, "tau2_DL", dl.Tau2)
		c.ref.Check(t, "tau2_PM", must(PauleMandel(y, c.v))(t).Tau2)
		c.ref.Check(t, "tau2_REML", reml.Tau2)
		for path, f := range map[string]*NormalFit{"at_REML": reml, "at_DL": dl} {
			c.ref.Check(t, path+".mu", f.Mu)
			c.ref.Check(t, path+".se_mu", f.SEMu)
			c.ref.CheckAll(t, path+".shrunk", f.Shrunk)
			c.ref.Check(t, path+".pred_sd_new_group", f.PredSD)
		}
	}
}

func squares(xs []float64) []float64 {
	out := make([]float64, len(xs))
	for i, x := range xs {
		out[i] = x * x
	}
	return out
}

func TestHalfCauchy(t *testing.T) {
	r := reftest.Load(t, "bayes-8schools")
	p := must(HalfCauchy(r.Floats(t, "inputs.y"), r.Floats(t, "inputs.se"), 25, 400))(t)
	r.Check(t, "post_mean_tau", p.MeanTau())
	r.Check(t, "post_mean_mu", p.Mu().Mean())
	for i := range 8 {
		r.Check(t, "post_mean_theta."+strconv.Itoa(i), must(p.Theta(i))(t).Mean())
	}
}

func TestBaseball(t *testing.T) {
	r := reftest.Load(t, "js-baseball")
	s, shares, err := JamesSteinShares(r.Floats(t, "inputs.hits"), r.Float(t, "inputs.at_bats"))
	if err != nil {
		t.Fatal(err)
	}
	r.Check(t, "mean_x", s.Mean)
	r.Check(t, "shrink", s.Shrink)
	r.CheckAll(t, "estimates_x", s.Estimates)
	r.CheckAll(t, "estimates_p", shares)
}

func TestHachemeister(t *testing.T) {
	r := reftest.Load(t, "buhlmann-straub-hachemeister")
	var x, w [][]float64
	for state := range 5 {
		x = append(x, r.Floats(t, "inputs.X."+strconv.Itoa(state)))
		w = append(w, r.Floats(t, "inputs.W."+strconv.Itoa(state)))
	}
	c := must(BuhlmannStraub(x, w))(t)
	r.Check(t, "s2", c.Within)
	r.Check(t, "a", c.Between)
	r.CheckAll(t, "z", c.Z)
	r.Check(t, "collective", c.Collective)
	r.CheckAll(t, "premium", c.Premium)
}

func TestWright(t *testing.T) {
	r := reftest.Load(t, "wright-80")
	l := must(NewLearning(r.Float(t, "inputs.first"), r.Float(t, "inputs.rate")))(t)
	n := int(r.Float(t, "inputs.n"))
	r.Check(t, "exponent", l.Exponent())
	r.Check(t, "unit_n", must(l.Unit(n))(t))
	r.Check(t, "cumulative_total", must(l.Total(n))(t))
	r.Check(t, "cumulative_average", must(l.Average(n))(t))
}

func TestPumps(t *testing.T) {
	r := reftest.Load(t, "gammapoisson-pumps")
	f := must(GammaPoisson(r.Floats(t, "inputs.y"), r.Floats(t, "inputs.exposure")))(t)
	r.Check(t, "a", f.A)
	r.Check(t, "b", f.B)
	r.Check(t, "loglik", f.LogLik)
	r.Check(t, "pooled_rate", f.PooledRate)
	r.Check(t, "between_var_moments", f.BetweenVar)
	var mean, low, high []float64
	for o := range 10 {
		e := must(must(f.Posterior(o))(t).Interval(0.9))(t)
		mean, low, high = append(mean, e.Value), append(low, e.Low), append(high, e.High)
	}
	r.CheckAll(t, "post_mean", mean)
	r.CheckAll(t, "post_q05", low)
	r.CheckAll(t, "post_q95", high)
}

func TestNextExposure(t *testing.T) {
	r := reftest.Load(t, "gammapoisson-predict")
	law := GammaMixture{Weight: []float64{1}, Shape: []float64{r.Float(t, "inputs.a")}, Rate: []float64{r.Float(t, "inputs.b")}}
	next := must(law.Next(r.Float(t, "inputs.v")))(t)
	r.Check(t, "p_at_least_one", next.AtLeastOne())
	r.Check(t, "mean", next.Mean())
	r.Check(t, "p0", next.None())
	r.Check(t, "q90", float64(next.Quantile(0.9)))
}

func TestSurgical(t *testing.T) {
	r := reftest.Load(t, "betabinom-surgical")
	f := must(BetaBinomial(r.Floats(t, "inputs.y"), r.Floats(t, "inputs.n")))(t)
	r.Check(t, "a", f.A)
	r.Check(t, "b", f.B)
	var mean, low, high []float64
	for o := range 12 {
		e := must(must(f.Posterior(o))(t).Interval(0.95))(t)
		mean, low, high = append(mean, e.Value), append(low, e.Low), append(high, e.High)
	}
	r.CheckAll(t, "post_mean", mean)
	r.CheckAll(t, "post_q025", low)
	r.CheckAll(t, "post_q975", high)
}

// TestAgainstExtendedPrecision holds mean and quantiles of a hundred thousand rows
// against the same formulas in 80-bit arithmetic (numpy longdouble 1.24, sums,
// Cholesky and weights) with the t distribution to 30 digits (mpmath 1.2.1).
func TestAgainstExtendedPrecision(t *testing.T) {
	post := must(overageModel().Fit(placements(100_000, 10, false)))(t)
	for group, want := range map[int][3]float64{
		3:  {0.052865645179630519, -0.007643546266434492, 0.11337483669023122},
		-1: {0.072247307941616468, -0.002272696329561539, 0.14676232148683935},
	} {
		next := must(post.Predict([]float64{1, .2, 0}, .2, group))(t)
		near(t, "mean", next.Mean(), want[0], 1e-12)
		near(t, "10 % quantile", next.Quantile(.1), want[1], 1e-12)
		near(t, "90 % quantile", next.Quantile(.9), want[2], 1e-12)
	}
}

// TestRateGridAgainstLibrary: three outfits on the default grid, and on the wide
// one, by scipy 1.10.1 (nbinom.pmf, gamma.cdf and brentq).
func TestRateGridAgainstLibrary(t *testing.T) {
	for _, c := range []struct {
		prior RatePrior
		want  [3][3]float64
	}{
		{DefaultRatePrior(), [3][3]float64{
			{0.5830549126671702, 0.963361479662092, 0.0454477183236296},
			{0.36873816150646394, 0.6642611791223177, 0.028979425853272844},
			{0.36161131189787643, 0.784702790105113, 0.0283231359194428},
		}},
		{WideRatePrior(), [3][3]float64{
			{0.575188384900736, 1.0121078628014, 0.04480450137572611},
			{0.34571642092133037, 0.7053450612995045, 0.027164749394685272},
			{0.3389199918490472, 0.9207762340133184, 0.026446778415280647},
		}},
	} {
		g := must(GammaPoissonGrid([]float64{6, 2, 0}, []float64{9, 7, 1.2}, c.prior))(t)
		for o, want := range c.want {
			law := must(g.Outfit(o))(t)
			near(t, "rate", law.Mean(), want[0], 1e-12)
			near(t, "95 % quantile", law.Quantile(0.95), want[1], 1e-10)
			near(t, "a clog in 8 yd", must(law.Next(0.08))(t).AtLeastOne(), want[2], 1e-12)
		}
	}
}
