package pool

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"

	"pourback/analysis/stat/regress"
)

// drawn is a model with data drawn at random: an intercept and a column, up to
// five groups, some perhaps without rows.
func drawn(t *rapid.T) (Model, Data) {
	n := rapid.IntRange(1, 40).Draw(t, "n")
	groups := rapid.IntRange(1, 5).Draw(t, "groups")
	rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "draw"), 1))
	m := Model{
		Prior: Prior{Mean: []float64{rng.NormFloat64(), rng.NormFloat64()}, SD: []float64{0.2 + rng.Float64(), 0.5 + 3*rng.Float64()}, Sigma: 0.1 + rng.Float64(), Nu: 1 + 4*rng.Float64(), RScale: 0.75},
		GridR: []float64{0, 0.3, 1, 2.5}, GridKappa: []float64{0, 1, 8},
	}
	d := Data{X: regress.Design{regress.Ones(n), make([]float64, n)}}
	for i := range n {
		d.X[1][i] = 2 * rng.NormFloat64()
		d.Y = append(d.Y, 1+0.5*d.X[1][i]+rng.NormFloat64())
		d.H = append(d.H, rng.Float64())
		d.Group = append(d.Group, rng.IntN(groups))
		d.Weight = append(d.Weight, 0.2+rng.Float64())
	}
	return m, d
}

func fit(t *rapid.T, m Model, d Data) *Posterior {
	t.Helper()
	post, err := m.Fit(d)
	if err != nil {
		t.Fatal(err)
	}
	return post
}

func predict(t *rapid.T, post *Posterior, x []float64, h float64, group int) Mixture {
	t.Helper()
	m, err := post.Predict(x, h, group)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func same(t *rapid.T, what string, got, want []float64, tolerance float64) {
	t.Helper()
	if len(got) != len(want) {
		t.Fatalf("%s: %d values, want %d", what, len(got), len(want))
	}
	for i := range want {
		if !(math.Abs(got[i]-want[i]) <= tolerance*(1+math.Abs(want[i]))) {
			t.Errorf("%s: got %v, want %v", what, got, want)
			return
		}
	}
}

// dense is one cell written out as in the documentation, with the full matrix Z.
// It returns the log weight and the law of an outcome at z.
func dense(m Model, d Data, groups int, r, kappa, width float64, z []float64, errorVar float64) (logWeight, loc, scale float64) {
	p := len(d.X)
	k := p + groups
	if r == 0 {
		k = p
	}
	prior, mean := make([]float64, k), make([]float64, k)
	for j := range k {
		prior[j] = 1 / (r * r)
		if j < p {
			prior[j], mean[j] = m.Sigma*m.Sigma/(m.SD[j]*m.SD[j]), m.Mean[j]
		}
	}
	a, rhs := mat.NewDense(k, k, nil), mat.NewVecDense(k, nil)
	total := m.Nu * m.Sigma * m.Sigma
	for j := range k {
		a.Set(j, j, prior[j])
		rhs.SetVec(j, prior[j]*mean[j])
		total += prior[j] * mean[j] * mean[j]
		logWeight += math.Log(prior[j]) / 2
	}
	for i, y := range d.Y {
		w := d.Weight[i] / (1 + kappa*d.H[i])
		row := mat.NewVecDense(k, nil)
		for j, column := range d.X {
			row.SetVec(j, column[i])
		}
		if r > 0 {
			row.SetVec(p+d.Group[i], 1)
		}
		a.RankOne(a, w, row, row)
		rhs.AddScaledVec(rhs, w*y, row)
		total += w * y * y
		logWeight += math.Log(w) / 2
	}
	var inverse mat.Dense
	_ = inverse.Inverse(a)
	post := mat.NewVecDense(k, nil)
	post.MulVec(&inverse, rhs)
	nu, s := m.Nu+float64(len(d.Y)), total-mat.Dot(post, rhs)
	logDet, _ := mat.LogDet(a)
	logWeight += -logDet/2 - nu/2*math.Log(s) + math.Log(width) - math.Log1p(r*r/(m.RScale*m.RScale))
	at := mat.NewVecDense(k, z[:k])
	return logWeight, mat.Dot(at, post), math.Sqrt(s / nu * (errorVar + kappa*d.H[0] + mat.Inner(at, &inverse, at)))
}

// TestAgainstDenseAlgebra: eliminating the groups gives what the full matrix does,
// weights, places and scales of every cell, for a group and for a new one.
func TestAgainstDenseAlgebra(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, d := drawn(t)
		post := fit(t, m, d)
		group := d.Group[0]
		x := []float64{1, 0.7}
		old, fresh := predict(t, post, x, d.H[0], group), predict(t, post, x, d.H[0], -1)
		zOld, zFresh := make([]float64, 2+post.Groups), make([]float64, 2+post.Groups)
		copy(zOld, x)
		copy(zFresh, x)
		zOld[2+group] = 1
		var logs, loc, scale, locNew, scaleNew []float64
		widths := []float64{0.15, 0.5, 1.1, 0.75}
		for i, r := range m.GridR {
			for _, kappa := range m.GridKappa {
				lw, l, s := dense(m, d, post.Groups, r, kappa, widths[i], zOld, 1)
				_, ln, sn := dense(m, d, post.Groups, r, kappa, widths[i], zFresh, 1+r*r)
				logs, loc, scale, locNew, scaleNew = append(logs, lw), append(loc, l), append(scale, s), append(locNew, ln), append(scaleNew, sn)
			}
		}
		normalise(logs)
		same(t, "weights", post.GridWeights(), logs, 1e-9)
		same(t, "places", old.Loc, loc, 1e-9)
		same(t, "scales", old.Scale, scale, 1e-9)
		same(t, "places in a new group", fresh.Loc, locNew, 1e-9)
		same(t, "scales in a new group", fresh.Scale, scaleNew, 1e-9)
	})
}

// TestOrderUnitsAndNames: the order of rows and the numbers of groups do not
// matter; outcomes in other units, and measured from another zero, give the same
// law in those units.
func TestOrderUnitsAndNames(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, d := drawn(t)
		x := []float64{1, -0.4}
		law := func(m Model, d Data, group int) []float64 {
			next := predict(t, fit(t, m, d), x, 0.3, group)
			return []float64{next.Mean(), next.Quantile(0.1), next.Quantile(0.75), next.Quantile(0.999)}
		}
		want := law(m, d, d.Group[0])
		back := Data{X: regress.Design{regress.Ones(len(d.Y)), reversed(d.X[1])}, Y: reversed(d.Y), H: reversed(d.H), Weight: reversed(d.Weight)}
		for i := range d.Group {
			back.Group = append(back.Group, 9-d.Group[len(d.Group)-1-i])
		}
		same(t, "rows reversed, groups renamed", law(m, back, 9-d.Group[0]), want, 1e-10)

		const unit, zero = 300.0, 1e5
		moved, data := m, d
		moved.Mean = []float64{unit*m.Mean[0] + zero, unit * m.Mean[1]}
		moved.SD = []float64{unit * m.SD[0], unit * m.SD[1]}
		moved.Sigma *= unit
		data.Y = make([]float64, len(d.Y))
		for i, y := range d.Y {
			data.Y[i] = unit*y + zero
		}
		got := law(moved, data, d.Group[0])
		for i := range got {
			got[i] = (got[i] - zero) / unit
		}
		same(t, "other units", got, want, 1e-9)
	})
}

func reversed(xs []float64) []float64 {
	out := append([]float64(nil), xs...)
	slices.Reverse(out)
	return out
}

// TestParts: a pass in parts and many blocks sums what a plain loop does.
func TestParts(t *testing.T) {
	d := placements(2*partRows+777, 7, false)
	d.Weight = make([]float64, len(d.Y))
	for i := range d.Weight {
		d.Weight[i] = 0.5 + float64(i%3)
	}
	s := accumulate(d, 7, []float64{0, 2})[1]
	var yy, logW, xy, xx, groupY float64
	for i, y := range d.Y {
		w := d.Weight[i] / (1 + 2*d.H[i])
		yy += w * y * y
		logW -= math.Log1p(2 * d.H[i])
		xy += w * d.X[2][i] * y
		xx += w * d.X[2][i] * d.X[1][i]
		if d.Group[i] == 3 {
			groupY += w * y
		}
	}
	_, y, _ := s.group(3)
	near(t, "Σwy²", s.yy, yy, 1e-11)
	near(t, "Σlog w", s.logW, logW, 1e-11)
	near(t, "Σwxy", s.xy[2], xy, 1e-11)
	near(t, "Σwxx", s.xx[2*3+1], xx, 1e-11)
	near(t, "Σwy of a group", y, groupY, 1e-11)
}

// TestAgainstREML: at λ = r² and with a prior too weak to matter, the engine's
// effects are the best linear unbiased predictions and β is the REML line.
func TestAgainstREML(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		_, d := drawn(t)
		if len(d.Y) < 12 {
			t.Skip("few rows")
		}
		reml, err := OneWayREML(d.X, d.Y, d.Group)
		if err != nil {
			t.Skip(err)
		}
		weak := Model{
			Prior: Prior{Mean: []float64{0, 0}, SD: []float64{1e5, 1e5}, Sigma: 1, Nu: 1e-3, RScale: 1},
			GridR: []float64{math.Sqrt(reml.Tau2 / reml.Sigma2)}, GridKappa: []float64{0},
		}
		post := fit(t, weak, Data{X: d.X, Y: d.Y, Group: d.Group})
		same(t, "β", post.Cells[0].Beta, reml.Coef, 1e-6)
		for g := range reml.Effects {
			effect, err := post.Effect(g)
			if err != nil {
				t.Fatal(err)
			}
			same(t, "effect", []float64{effect.Mean()}, []float64{reml.Effects[g]}, 1e-6)
		}
	})
}

// TestREMLIsHighest: no λ on a fine grid has a higher restricted likelihood, and
// the slope is the slope.
func TestREMLIsHighest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		_, d := drawn(t)
		f, err := OneWayREML(d.X, d.Y, d.Group)
		if err != nil {
			t.Skip(err)
		}
		m, err := newOneWay(d.X, d.Y, d.Group)
		if err != nil {
			t.Fatal(err)
		}
		for lambda := 1e-4; lambda < 1e4; lambda *= 1.3 {
			if ll := m.logLik(lambda); ll > f.RemlLogLik+1e-9 {
				t.Errorf("λ %v: %v above %v at %v", lambda, ll, f.RemlLogLik, f.Tau2/f.Sigma2)
			}
			slope := (m.logLik(lambda*(1+1e-5)) - m.logLik(lambda*(1-1e-5))) / 2e-5
			same(t, "slope", []float64{m.score(lambda) * lambda}, []float64{slope}, 1e-4)
		}
	})
}

// TestMixtureLaws: quantile and distribution are inverse, the slope of the
// expected shortage is −P(X > q), and the first two moments are those of the law.
func TestMixtureLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 6).Draw(t, "components")
		m := Mixture{
			Nu:     rapid.SampledFrom([]float64{3, 7.5, 40, 2e6, math.Inf(1)}).Draw(t, "ν"),
			Weight: rapid.SliceOfN(rapid.Float64Range(0.01, 1), n, n).Draw(t, "weights"),
			Loc:    rapid.SliceOfN(rapid.Float64Range(-5, 5), n, n).Draw(t, "places"),
			Scale:  rapid.SliceOfN(rapid.Float64Range(0.01, 4), n, n).Draw(t, "scales"),
		}
		floats.Scale(1/floats.Sum(m.Weight), m.Weight)
		p := rapid.Float64Range(1e-4, 1-1e-4).Draw(t, "p")
		q := m.Quantile(p)
		same(t, "CDF(Quantile(p))", []float64{m.CDF(q)}, []float64{p}, 1e-13)
		const h = 1e-5
		slope := (m.ExpectedAbove(q+h) - m.ExpectedAbove(q-h)) / (2 * h)
		same(t, "slope of the shortage", []float64{slope}, []float64{m.CDF(q) - 1}, 1e-4)
		density := (m.CDF(q+h) - m.CDF(q-h)) / (2 * h)
		same(t, "density", []float64{m.Density(q)}, []float64{density}, 1e-3)
		// E X = −E(X−c)⁻ + …: E(X−c)⁺ − E(c−X)⁺ = E X − c.
		mirror := Mixture{Nu: m.Nu, Weight: m.Weight, Loc: make([]float64, n), Scale: m.Scale}
		for k, l := range m.Loc {
			mirror.Loc[k] = -l
		}
		same(t, "shortage less leftover", []float64{m.ExpectedAbove(q) - mirror.ExpectedAbove(-q)}, []float64{m.Mean() - q}, 1e-10)
		far := m.Affine(3, 2)
		same(t, "quantile of 3+2X", []float64{far.Quantile(p)}, []float64{3 + 2*q}, 1e-12)
	})
}

// TestRatesLaws: at the maximum the slopes in a and b are zero, by differences;
// the posterior mean lies between the outfit's own rate and the law's; the limits
// hold the level; the grid's law for many outfits agrees with that of its cells.
func TestRatesLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.IntRange(3, 12).Draw(t, "outfits")
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "draw"), 2))
		events, exposure := make([]float64, k), make([]float64, k)
		for o := range events {
			exposure[o] = 1 + 20*rng.Float64()
			events[o] = math.Floor(exposure[o] * rng.ExpFloat64())
		}
		events[0]++
		f, err := GammaPoisson(events, exposure)
		if err != nil {
			t.Fatal(err)
		}
		if !f.Pooled {
			for _, c := range [][2]float64{{1.001, 1}, {0.999, 1}, {1, 1.001}, {1, 0.999}, {1.01, 1.01}, {0.99, 0.99}} {
				if ll := f.logLik(f.A*c[0], f.B*c[1]); ll > f.LogLik+1e-10 {
					t.Errorf("a %v b %v: %v above %v", f.A*c[0], f.B*c[1], ll, f.LogLik)
				}
			}
			for o := range events {
				law, err := f.Posterior(o)
				if err != nil {
					t.Fatal(err)
				}
				own, all := events[o]/exposure[o], f.A/f.B
				if m := law.Mean(); m < math.Min(own, all)-1e-12 || m > math.Max(own, all)+1e-12 {
					t.Errorf("rate %v is not between %v and %v", m, own, all)
				}
				q := law.Quantile(0.2)
				same(t, "quantile", []float64{law.CDF(q)}, []float64{0.2}, 1e-10)
			}
		}
		g, err := GammaPoissonGrid(events, exposure, DefaultRatePrior())
		if err != nil {
			t.Fatal(err)
		}
		same(t, "Σ weights", []float64{floats.Sum(g.Weight)}, []float64{1}, 1e-14)
		next, err := g.New().Next(2)
		if err != nil {
			t.Fatal(err)
		}
		sum, mean := 0.0, 0.0
		for n := range 900 {
			sum += next.Probability(n)
			mean += float64(n) * next.Probability(n)
		}
		same(t, "Σ P(n)", []float64{sum}, []float64{1}, 1e-9)
		same(t, "Σ n·P(n)", []float64{mean}, []float64{next.Mean()}, 1e-6)
		same(t, "P(0)", []float64{next.Probability(0), 1 - next.AtLeastOne()}, []float64{next.None(), next.None()}, 1e-13)
		n := next.Quantile(0.9)
		if next.CDF(n) < 0.9 || next.CDF(n-1) >= 0.9 {
			t.Errorf("90 %% quantile %d: P(≤) %v and %v", n, next.CDF(n), next.CDF(n-1))
		}
		same(t, "P(n) from P(≤n)", []float64{next.CDF(n) - next.CDF(n-1)}, []float64{next.Probability(n)}, 1e-10)
	})
}

// TestSharesLaws: the slopes are zero at the maximum, and events and non-events
// may change places.
func TestSharesLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.IntRange(3, 10).Draw(t, "groups")
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "draw"), 3))
		events, trials, others := make([]float64, k), make([]float64, k), make([]float64, k)
		for o := range events {
			trials[o] = float64(2 + rng.IntN(40))
			events[o] = math.Floor(trials[o] * math.Min(1, rng.Float64()*rng.Float64()*1.5))
		}
		events[0], events[1] = trials[0]-1, 1
		for o := range events {
			others[o] = trials[o] - events[o]
		}
		f, err := BetaBinomial(events, trials)
		if err != nil {
			t.Skip(err)
		}
		g, err := BetaBinomial(others, trials)
		if err != nil {
			t.Fatal(err)
		}
		if f.Pooled || g.Pooled {
			if f.Pooled != g.Pooled {
				t.Error("pooled one way and not the other")
			}
			return
		}
		same(t, "mirror", []float64{g.B, g.A}, []float64{f.A, f.B}, 1e-7)
		for _, c := range [][2]float64{{1.001, 1}, {0.999, 1}, {1, 1.001}, {1, 0.999}, {1.01, 1.01}, {0.99, 0.99}} {
			if ll := f.logLik(f.A*c[0], f.B*c[1]); ll > f.LogLik+1e-10 {
				t.Errorf("a %v b %v: %v above %v", f.A*c[0], f.B*c[1], ll, f.LogLik)
			}
		}
		b, err := f.Posterior(0)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range []float64{0.001, 0.3, 0.999} {
			same(t, "quantile", []float64{b.CDF(b.Quantile(p))}, []float64{p}, 1e-10)
		}
	})
}

// TestNormalLaws: the estimates of τ² satisfy their own equations; levels shrink
// towards μ and never past it; moving all levels moves the answer.
func TestNormalLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.IntRange(2, 12).Draw(t, "groups")
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "draw"), 4))
		y, v, moved := make([]float64, k), make([]float64, k), make([]float64, k)
		for i := range y {
			y[i], v[i] = 3*rng.NormFloat64(), 0.1+rng.ExpFloat64()
			moved[i] = y[i] + 1e6
		}
		m := &normal{y, v}
		pm, err := PauleMandel(y, v)
		if err != nil {
			t.Fatal(err)
		}
		if _, _, q := m.at(pm.Tau2); pm.Tau2 > 0 {
			same(t, "Q at Paule-Mandel's τ²", []float64{q}, []float64{float64(k - 1)}, 1e-9)
		}
		reml, err := NormalREML(y, v)
		if err != nil {
			t.Fatal(err)
		}
		for tau2 := 1e-4; tau2 < 1e3; tau2 *= 1.2 {
			if m.reml(tau2) > m.reml(reml.Tau2)+1e-10 {
				t.Errorf("τ² %v is better than %v", tau2, reml.Tau2)
			}
		}
		for i, s := range reml.Shrunk {
			if (s-reml.Mu)*(y[i]-s) < -1e-12 {
				t.Errorf("level %v shrinks to %v, past μ %v", y[i], s, reml.Mu)
			}
		}
		again, err := NormalREML(moved, v)
		if err != nil {
			t.Fatal(err)
		}
		same(t, "τ² of moved levels", []float64{again.Tau2}, []float64{reml.Tau2}, 1e-6)
		same(t, "μ of moved levels", []float64{again.Mu - 1e6}, []float64{reml.Mu}, 1e-6)
	})
}

// TestHalfCauchyByBruteForce: the quadrature agrees with a fine trapezoid rule, and
// with τ held near zero all groups take the pooled mean.
func TestHalfCauchyByBruteForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.IntRange(2, 10).Draw(t, "groups")
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "draw"), 5))
		y, se := make([]float64, k), make([]float64, k)
		for i := range y {
			y[i], se[i] = 2*rng.NormFloat64(), 0.3+rng.Float64()
		}
		p, err := HalfCauchy(y, se, 1, 30)
		if err != nil {
			t.Fatal(err)
		}
		theta, err := p.Theta(0)
		if err != nil {
			t.Fatal(err)
		}
		var total, tau1, freshMean, fresh2, ownMean, own2 float64
		const steps = 12000
		for s := range steps + 1 {
			tau := 30 * float64(s) / steps
			w := math.Exp(p.model.reml(tau*tau)-p.model.reml(0)) / (1 + tau*tau)
			if s == 0 || s == steps {
				w /= 2
			}
			total += w
			tau1 += w * tau
			mu, sumW, _ := p.model.at(tau * tau)
			own := se[0] * se[0] / (se[0]*se[0] + tau*tau)
			level := own*mu + (1-own)*y[0]
			freshMean += w * mu
			fresh2 += w * (mu*mu + 1/sumW + tau*tau)
			ownMean += w * level
			own2 += w * (level*level + own*tau*tau + own*own/sumW)
		}
		same(t, "E τ", []float64{p.MeanTau()}, []float64{tau1 / total}, 1e-5)
		same(t, "variance of a new level", []float64{p.New().Var()}, []float64{fresh2/total - freshMean*freshMean/(total*total)}, 1e-4)
		same(t, "variance of a level", []float64{theta.Var()}, []float64{own2/total - ownMean*ownMean/(total*total)}, 1e-4)
		flat, err := HalfCauchy(y, se, 1, 1e-6)
		if err != nil {
			t.Fatal(err)
		}
		theta, err = flat.Theta(0)
		if err != nil {
			t.Fatal(err)
		}
		mu, _, _ := p.model.at(0)
		same(t, "all alike", []float64{theta.Mean(), flat.Mu().Mean()}, []float64{mu, mu}, 1e-9)
		if p.New().Var() < p.Mu().Var() {
			t.Error("a new group is better known than the mean of all")
		}
	})
}

// TestCredibilityLaws: premiums lie between own and collective mean, volumes in
// other units change nothing, and the volume-weighted premium balances with the
// collective (Bühlmann & Gisler 2005, Theorem 4.5 for known parameters: Σz(x̄−m) = 0).
func TestCredibilityLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.IntRange(2, 6).Draw(t, "groups")
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "draw"), 6))
		var x, w, thousand [][]float64
		for range k {
			var xi, wi, ti []float64
			level := 2 * rng.NormFloat64()
			for range 2 + rng.IntN(4) {
				wi = append(wi, 1+rng.Float64()*9)
				ti = append(ti, 1000*wi[len(wi)-1])
				xi = append(xi, level+rng.NormFloat64())
			}
			x, w, thousand = append(x, xi), append(w, wi), append(thousand, ti)
		}
		c, err := BuhlmannStraub(x, w)
		if err != nil {
			t.Fatal(err)
		}
		d, err := BuhlmannStraub(x, thousand)
		if err != nil {
			t.Fatal(err)
		}
		same(t, "premiums", d.Premium, c.Premium, 1e-9)
		balance := 0.0
		for i, z := range c.Z {
			balance += z * (c.Means[i] - c.Collective)
			if (c.Premium[i]-c.Collective)*(c.Means[i]-c.Premium[i]) < -1e-12 {
				t.Errorf("premium %v of mean %v and collective %v", c.Premium[i], c.Means[i], c.Collective)
			}
		}
		same(t, "Σz(x̄−m)", []float64{balance}, []float64{0}, 1e-10)
	})
}

// TestANOVAOfLargeNumbers: a level of 1e12 leaves F alone, as in the harder of the
// NIST StRD sets, and two groups give the square of the two-sample t.
func TestANOVAOfLargeNumbers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(4, 40).Draw(t, "n")
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "draw"), 7))
		y, up, group := make([]float64, n), make([]float64, n), make([]int, n)
		dummy := make([]float64, n)
		for i := range y {
			y[i] = math.Round(rng.NormFloat64()*1024) / 256
			up[i] = y[i] + 1e12
			group[i] = i % 2
			dummy[i] = float64(group[i])
		}
		v, err := OneWayANOVA(y, group)
		if err != nil {
			t.Skip(err)
		}
		moved, err := OneWayANOVA(up, group)
		if err != nil {
			t.Fatal(err)
		}
		same(t, "F of moved outcomes", []float64{moved.F}, []float64{v.F}, 1e-3)
		line, err := regress.OLS(regress.Design{regress.Ones(n), dummy}, y)
		if err != nil {
			t.Fatal(err)
		}
		slope := line.Coef[1] / line.SE[1]
		same(t, "F and t²", []float64{v.F}, []float64{slope * slope}, 1e-9)
		same(t, "P of F and t", []float64{v.P}, []float64{2 * regress.NewStudent(float64(n-2)).Tail(math.Abs(slope))}, 1e-9)
	})
}

// TestFarRowsLoseWeight: a wild outcome moves the t fit little, is the one with
// the least weight, and clean data keep the plain fit's answer nearly.
func TestFarRowsLoseWeight(t *testing.T) {
	d := placements(120, 5, false)
	m := overageModel()
	m.GridKappa = []float64{0, 2}
	clean, _, err := m.FitStudent(d, 4)
	if err != nil {
		t.Fatal(err)
	}
	wild := d
	wild.Y = append([]float64(nil), d.Y...)
	wild.Y[17] += 1.5
	post, weights, err := m.FitStudent(wild, 4)
	if err != nil || !post.Converged {
		t.Fatal(err, post.Warnings)
	}
	plain := must(m.Fit(wild))(t)
	x := []float64{1, 0.1, 0}
	at := func(p *Posterior) float64 { return must(p.Line(x, d.Group[17]))(t).Mean() }
	if math.Abs(at(post)-at(clean)) > 0.2*math.Abs(at(plain)-at(clean)) {
		t.Errorf("t fit moved from %v to %v, plain fit to %v", at(clean), at(post), at(plain))
	}
	if least := floats.MinIdx(weights); least != 17 || weights[17] > 0.35 {
		t.Errorf("row %d has the least weight, %v; row 17 has %v", least, weights[least], weights[17])
	}
	// The weights multiply those the data carry: a plain fit with both is the t fit.
	heavy := wild
	heavy.Weight = make([]float64, len(wild.Y))
	for i := range heavy.Weight {
		heavy.Weight[i] = 0.5 + float64(i%4)
	}
	carried, factors, err := m.FitStudent(heavy, 4)
	if err != nil {
		t.Fatal(err)
	}
	both := heavy
	both.Weight = make([]float64, len(wild.Y))
	floats.MulTo(both.Weight, heavy.Weight, factors)
	near(t, "level with both weights", at(must(m.Fit(both))(t)), at(carried), 1e-6)
	residuals := must(post.Residuals(wild))(t)
	near(t, "weight from the residual", weights[17], 5/(4+residuals[17]*residuals[17]), 1e-5)
}
