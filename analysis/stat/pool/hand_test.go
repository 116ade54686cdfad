package pool

import (
	"gonum.org/v1/gonum/floats"
	"math"
	"testing"

	"pourback/analysis/stat/regress"
)

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance*(1+math.Abs(want))) {
		t.Errorf("%s: got %.15g, want %.15g", what, got, want)
	}
}

// unit is the model of the hand calculations: m0 = 0, s0 = σ0 = 1, ν0 = 3, s_r = 1.
func unit(r, kappa []float64) Model {
	return Model{Prior: Prior{Mean: []float64{0}, SD: []float64{1}, Sigma: 1, Nu: 3, RScale: 1}, GridR: r, GridKappa: kappa}
}

// One outcome, 2. Without groups A = 1+1, m = 2/2 = 1, S = 3+4−2 = 5, ν = 4, so
// S/ν = 5/4 and the next outcome is t_4 at 1 with squared scale 5/4·(1+½). The
// distribution of t_4 is ½+½sinθ(1+½cos²θ), θ = atan(t/2) (Abramowitz & Stegun
// 26.7.4).
func TestOneOutcome(t *testing.T) {
	post := must(unit([]float64{0}, []float64{0}).Fit(Data{X: regress.Design{{1}}, Y: []float64{2}}))(t)
	next := must(post.Predict([]float64{1}, 0, -1))(t)
	near(t, "ν", next.Nu, 4, 0)
	near(t, "centre", next.Mean(), 1, 1e-14)
	near(t, "squared scale", next.Scale[0]*next.Scale[0], 5.0/4*1.5, 1e-14)
	near(t, "variance", next.Var(), 2*5.0/4*1.5, 1e-14)
	near(t, "E σ²", post.Variance(0), 5.0/4*4/2, 1e-14)
	theta := math.Atan(0.5)
	p := 0.5 + math.Sin(theta)*(1+math.Cos(theta)*math.Cos(theta)/2)/2
	near(t, "distribution", next.CDF(1+next.Scale[0]), p, 1e-14)
	near(t, "quantile", next.Quantile(p), 1+next.Scale[0], 1e-14)
}

// The same outcome in a group, at r = 1: P0 = diag(1, 1), Z = (1, 1), so
// A = [[2, 1], [1, 2]], A⁻¹ = [[2, −1], [−1, 2]]/3, m = (2/3, 2/3), m'Am = 8/3,
// S = 3+4−8/3 = 13/3. Weights, with Δr = ½ at both ends of {0, 1}:
// r = 0: 2^−½·5^−2; r = 1: 3^−½·(13/3)^−2/2, the half-Cauchy at 1 being ½.
func TestOneOutcomeInAGroup(t *testing.T) {
	post := must(unit([]float64{0, 1}, []float64{0}).Fit(Data{X: regress.Design{{1}}, Y: []float64{2}, Group: []int{0}}))(t)
	without, with := math.Pow(2, -0.5)/25, math.Pow(3, -0.5)/(13.0/3*13/3)/2
	near(t, "weight of r = 1", post.GridWeights()[1], with/(with+without), 1e-14)
	s2 := 13.0 / 12
	group, fresh := must(post.Predict([]float64{1}, 0, 0))(t), must(post.Predict([]float64{1}, 0, -1))(t)
	near(t, "centre in the group", group.Loc[1], 4.0/3, 1e-14)
	near(t, "scale in the group: z'A⁻¹z = 2/3", group.Scale[1], math.Sqrt(s2*(1+2.0/3)), 1e-14)
	near(t, "centre in a new group", fresh.Loc[1], 2.0/3, 1e-14)
	near(t, "scale in a new group: 2/3 for β, r² = 1", fresh.Scale[1], math.Sqrt(s2*(1+2.0/3+1)), 1e-14)
	effect := must(post.Effect(0))(t)
	near(t, "effect", effect.Loc[1], 2.0/3, 1e-14)
	near(t, "its scale", effect.Scale[1], math.Sqrt(s2*2/3), 1e-14)
	near(t, "no effect at r = 0", math.Abs(effect.Loc[0])+effect.Scale[0], 0, 0)
	// Against a new group, u₀ − u_new: variance 2/3 + 1.
	other := must(post.Difference(0, -1))(t)
	near(t, "difference", other.Loc[1], 2.0/3, 1e-14)
	near(t, "its scale", other.Scale[1], math.Sqrt(s2*(2.0/3+1)), 1e-14)
	r, _ := post.Marginals()
	near(t, "marginal of r", r[1], post.Cells[1].Weight, 0)
}

// The same outcome with h = 1: at κ = 1 its weight is ½, A = 1+½, m = 1/1.5 = 2/3,
// S = 3+½·4−(2/3)²·1.5 = 13/3, and the cell has 1.5^−½·(½)^½·(13/3)^−2 against
// 2^−½·5^−2 at κ = 0. The next outcome at h = 3: 13/12·(1+3+1/1.5).
func TestVarianceByTheGrid(t *testing.T) {
	post := must(unit([]float64{0}, []float64{0, 1}).Fit(Data{X: regress.Design{{1}}, Y: []float64{2}, H: []float64{1}}))(t)
	zero, one := math.Pow(2, -0.5)/25, math.Pow(1.5, -0.5)*math.Sqrt(0.5)/(13.0/3*13/3)
	near(t, "weight of κ = 1", post.GridWeights()[1], one/(zero+one), 1e-14)
	next := must(post.Predict([]float64{1}, 3, -1))(t)
	near(t, "centre", next.Loc[1], 2.0/3, 1e-14)
	near(t, "scale", next.Scale[1], math.Sqrt(13.0/12*(4+1/1.5)), 1e-14)
	_, kappa := post.Marginals()
	near(t, "marginal of κ", kappa[1], post.Cells[1].Weight, 0)
}

// Two point masses and two normals. P(X ≤ 0) of a mass at 0 with weight ¼ and
// N(0, 1): ¼+¾·½. Losses: (2−1)·½ for a mass at 2 and φ(0)·½ for N(1, 1) at q = 1.
func TestMixture(t *testing.T) {
	m := Mixture{Nu: math.Inf(1), Weight: []float64{0.25, 0.75}, Loc: []float64{0, 0}, Scale: []float64{0, 1}}
	near(t, "distribution at the mass", m.CDF(0), 0.625, 1e-15)
	near(t, "median on the mass", m.Quantile(0.5), 0, 1e-12)
	near(t, "variance", m.Var(), 0.75, 1e-15)
	loss := Mixture{Nu: math.Inf(1), Weight: []float64{0.5, 0.5}, Loc: []float64{2, 1}, Scale: []float64{0, 1}}
	near(t, "expected shortage", loss.ExpectedAbove(1), 0.5+0.5/math.Sqrt(2*math.Pi), 1e-15)
	line := loss.Affine(10, 4)
	near(t, "10+4X", line.Mean(), 10+4*1.5, 1e-15)
	near(t, "its variance", line.Var(), 16*loss.Var(), 1e-14)
	// t_1, Cauchy: the upper quartile is 1, there is no variance and no loss.
	cauchy := Mixture{Nu: 1, Weight: []float64{1}, Loc: []float64{0}, Scale: []float64{1}}
	near(t, "quartile", cauchy.Quantile(0.75), 1, 1e-14)
	if !math.IsInf(cauchy.Var(), 1) || !math.IsInf(cauchy.ExpectedAbove(0), 1) {
		t.Error("Cauchy's law has neither variance nor expected shortage")
	}
}

// A rate that is exponential with mean 1: quantile −log(1−p). In an exposure of 1
// the count is geometric: P(n) = 2^−(n+1), P(≤2) = .875, P(≤3) = .9375.
func TestExponentialRate(t *testing.T) {
	law := GammaMixture{Weight: []float64{1}, Shape: []float64{1}, Rate: []float64{1}}
	near(t, "quantile", law.Quantile(0.9), math.Log(10), 1e-12)
	next := must(law.Next(1))(t)
	near(t, "none", next.None(), 0.5, 1e-15)
	near(t, "at least one", next.AtLeastOne(), 0.5, 1e-15)
	near(t, "three", next.Probability(3), 1.0/16, 1e-14)
	near(t, "up to three", next.CDF(3), 0.9375, 1e-14)
	if q := next.Quantile(0.9); q != 3 {
		t.Errorf("90 %% quantile %d, want 3", q)
	}
}

// Counts 2 and 0 in exposures of 1: pooled rate 1. At a = b = 1 the negative
// binomial has P(2)P(0) = (1/8)(1/2); at a = b = 2, 3(2/3)²(1/3)²·(2/3)² =
// (4/27)(4/9). With a prior weight of 1/(1+a): 1/32 against 16/729.
func TestTwoOutfits(t *testing.T) {
	g := must(GammaPoissonGrid([]float64{2, 0}, []float64{1, 1}, RatePrior{A: []float64{1, 2}, Scale: 1}))(t)
	near(t, "weight of a = 1", g.Weight[0], 729.0/(729+512), 1e-14)
	first := must(g.Outfit(0))(t)
	near(t, "rate of the first", first.Mean(), (729.0*3/2+512.0*4/3)/1241, 1e-14)
	near(t, "rate of a new one", g.New().Mean(), 1, 1e-14)
	// Moments: [Σ(y−1)²−1·1]/(2−1) = 1.
	f := must(newRateFit([]float64{2, 0}, []float64{1, 1}))(t)
	near(t, "moments", f.BetweenVar, 1, 1e-15)
}

// Beta(2, 1) has distribution x².
func TestBeta(t *testing.T) {
	b := Beta{2, 1}
	near(t, "mean", b.Mean(), 2.0/3, 1e-15)
	for _, p := range []float64{0.01, 0.25, 0.81} {
		near(t, "quantile", b.Quantile(p), math.Sqrt(p), 1e-12)
	}
}

// Levels 0 and 4 with variance 1: Q = 8. DerSimonian-Laird (8−1)/(2−2/2)·… = 7;
// Paule-Mandel 8/(1+τ²) = 1; REML, for equal variances, s²−1 = 7. Then μ = 2,
// se = √(8/2) = 2, shrinkage 1/8, a new group's deviation √(7+4).
func TestTwoLevels(t *testing.T) {
	y, v := []float64{0, 4}, []float64{1, 1}
	for _, f := range []*NormalFit{must(DerSimonianLaird(y, v))(t), must(PauleMandel(y, v))(t), must(NormalREML(y, v))(t)} {
		near(t, f.TauMethod+" τ²", f.Tau2, 7, 1e-10)
		near(t, "Q", f.Q, 8, 1e-14)
		near(t, "μ", f.Mu, 2, 1e-14)
		near(t, "se", f.SEMu, 2, 1e-10)
		near(t, "shrunk", f.Shrunk[0], 0.25, 1e-10)
		near(t, "its error", f.SEShrunk[0], math.Sqrt(7.0/8+4.0/64), 1e-10)
		near(t, "new group", f.PredSD, math.Sqrt(11), 1e-10)
	}
}

// Groups 1, 3 and 5, 7: means 2 and 6, mean square within 4/2 = 2, between
// 2(4+4)/1 = 16. F = 8 on 1 and 2; as a t_2 of √8, P = 1−√8/√10. τ² = (16−2)/2 = 7.
// Balanced, REML says the same: β = 4 with error √(16/4) = 2, effects
// ±2·(2·7)/(2·7+2). Bühlmann-Straub with unit volumes too, premiums 4 ± 1.75.
func TestFourOutcomesInTwoGroups(t *testing.T) {
	y, group := []float64{1, 3, 5, 7}, []int{0, 0, 1, 1}
	v := must(OneWayANOVA(y, group))(t)
	near(t, "F", v.F, 8, 1e-14)
	near(t, "P", v.P, 1-math.Sqrt(0.8), 1e-12)
	near(t, "τ² by moments", v.Tau2, 7, 1e-14)
	near(t, "mean", v.Mean, 4, 1e-15)
	f := must(OneWayREML(regress.Design{regress.Ones(4)}, y, group))(t)
	near(t, "τ²", f.Tau2, 7, 1e-10)
	near(t, "σ²", f.Sigma2, 2, 1e-10)
	near(t, "β", f.Coef[0], 4, 1e-14)
	near(t, "its error", f.SE[0], 2, 1e-10)
	near(t, "effect", f.Effects[1], 1.75, 1e-10)
	c := must(BuhlmannStraub([][]float64{{1, 3}, {5, 7}}, [][]float64{{1, 1}, {1, 1}}))(t)
	near(t, "s²", c.Within, 2, 1e-14)
	near(t, "a", c.Between, 7, 1e-14)
	near(t, "z", c.Z[0], 7.0/8, 1e-14)
	near(t, "premium", c.Premium[1], 5.75, 1e-14)
}

// −3, −1, 1, 3 with variance 1: Σx² = 20, each keeps 1−1/20 of its distance.
func TestFourLevels(t *testing.T) {
	s := must(JamesStein([]float64{-3, -1, 1, 3}, 1))(t)
	near(t, "shrink", s.Shrink, 0.95, 1e-15)
	near(t, "estimate", s.Estimates[3], 2.85, 1e-15)
}

// A 50 % curve halves with each doubling: 1 + ½ + 1/3 + ¼ for four units, the
// harmonic numbers. H_10000 = 9.787606036044382264 (OEIS A002387 and common
// tables).
func TestHarmonicLearning(t *testing.T) {
	l := must(NewLearning(1, 0.5))(t)
	near(t, "exponent", l.Exponent(), -1, 0)
	near(t, "four units", must(l.Total(4))(t), 25.0/12, 1e-15)
	near(t, "ten thousand", must(l.Total(10000))(t), 9.787606036044382264, 1e-14)
	near(t, "slope −1 is a rate of one half", LearningRate(-1), 0.5, 0)
	flat := must(NewLearning(3, 1))(t)
	near(t, "no learning", must(flat.Average(123456))(t), 3, 1e-12)
}

// Levels so close to their errors that τ² = s²−v = .0002 lies under the first step
// of the search.
func TestSmallTau(t *testing.T) {
	f := must(NormalREML([]float64{0, math.Sqrt(2.0004)}, []float64{1, 1}))(t)
	near(t, "τ²", f.Tau2, 0.0002, 1e-12)
}

// Four levels closer than their errors keep none of their distance.
func TestNothingKept(t *testing.T) {
	s := must(JamesStein([]float64{1, 1.1, 0.9, 1}, 1))(t)
	near(t, "shrink", s.Shrink, 0, 0)
	near(t, "estimate", s.Estimates[1], 1, 1e-15)
}

// One cell, κ = 2: a row at h = 3 with weight 4 has error variance (S/ν)·7/4.
func TestResidualByHand(t *testing.T) {
	d := Data{X: regress.Design{{1, 1}}, Y: []float64{1, 5}, H: []float64{3, 0}, Weight: []float64{4, 1}}
	post := must(unit([]float64{0}, []float64{2}).Fit(d))(t)
	c := post.Cells[0]
	r := must(post.Residuals(d))(t)
	near(t, "residual", r[0], (1-c.Beta[0])/math.Sqrt(c.Sigma2*7/4), 1e-14)
	near(t, "residual", r[1], (5-c.Beta[0])/math.Sqrt(c.Sigma2), 1e-14)
}

// Σlog(1+h) where the product of the terms would overflow.
func TestLogOfLargeProducts(t *testing.T) {
	h := []float64{1e99, 1e98, 1e99, 1e97, 1e99, 3}
	d := Data{X: regress.Design{regress.Ones(6)}, Y: make([]float64, 6), H: h}
	near(t, "Σlog w", weigh(make([]float64, 6), d, 0, 1), -(99+98+99+97+99)*math.Ln10-math.Log(4), 1e-13)
}

// f' = −x(x−a)(x−b) has its tops at 0 and at b, and f(b) − f(0) = b³(b−2a)/12:
// with b just above 2a the top at b is the higher one, and both points of the
// scan beside it, 0.96 and 1.44, lie lower than f(0).
func TestHighestFindsAFlatTop(t *testing.T) {
	const a, b = 0.5999, 1.2
	f := func(x float64) float64 { return -x*x*x*x/4 + (a+b)*x*x*x/3 - a*b*x*x/2 }
	at, err := highest(f, func(x float64) float64 { return -x * (x - a) * (x - b) }, 1, 100)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "top", at, b, 1e-12)
}

// Where bisection ends with one side at the quantile, the other is not taken: a
// narrow part of the law makes much of the difference.
func TestQuantileOfANarrowPart(t *testing.T) {
	m := Mixture{Nu: 3, Weight: []float64{0.25, 0.125, 1, 1}, Loc: []float64{0.2578125, -3.958953857421875, -1.00390625, 5}, Scale: []float64{1, 1, 0.01, 1.015625}}
	floats.Scale(1/floats.Sum(m.Weight), m.Weight)
	near(t, "CDF(Quantile(p))", m.CDF(m.Quantile(0.25)), 0.25, 1e-14)
}

// Newton's steps from either side of the narrow part jump over the quantile and
// back, inside what is left.
func TestQuantileBesideANarrowPart(t *testing.T) {
	m := Mixture{Nu: 2e6, Weight: []float64{0.46875, 0.744140625, 0.58233642578125, 0.024658203125, 0.4012451171875},
		Loc: []float64{3.5, -0.0634765625, 1, 0.00390625, -1.8037109375}, Scale: []float64{0.75, 3.998046875, 0.0130615234375, 0.87890625, 3.31884765625}}
	floats.Scale(1/floats.Sum(m.Weight), m.Weight)
	near(t, "CDF(Quantile(p))", m.CDF(m.Quantile(0.6181182861328125)), 0.6181182861328125, 1e-14)
}
