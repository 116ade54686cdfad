package regress

import (
	"math"
	"testing"
)

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance*(1+math.Abs(want))) {
		t.Errorf("%s: got %.15g, want %.15g", what, got, want)
	}
}

// x 1, 2, 3; y 1, 3, 2. Means 2 and 2; Sxy = (−1)(−1)+0+(1)(0) = 1, Sxx = 2:
// slope ½, intercept 1. Residuals −½, 1, −½: RSS 1.5 on 1 degree of freedom,
// σ² = 1.5; Var(slope) = 1.5/2, Var(intercept) = 1.5(1/3+4/2) = 3.5; total sum of
// squares 2, so R² = ½/2 = .25. At x = 4: 3, mean variance 1.5(1/3+4/2) = 3.5,
// next outcome 3.5+1.5 = 5; t_1 quantile at ¾ is tan(π/4) = 1.
func TestLineThroughThreePoints(t *testing.T) {
	f := must(OLS(line([]float64{1, 2, 3}), []float64{1, 3, 2}))(t)
	near(t, "intercept", f.Coef[0], 1, 1e-14)
	near(t, "slope", f.Coef[1], 0.5, 1e-14)
	near(t, "σ", f.Sigma, math.Sqrt(1.5), 1e-14)
	near(t, "se of slope", f.SE[1], math.Sqrt(0.75), 1e-14)
	near(t, "se of intercept", f.SE[0], math.Sqrt(3.5), 1e-14)
	near(t, "covariance", f.Cov.At(0, 1), -1.5*2/2, 1e-14)
	near(t, "R²", f.R2, 0.25, 1e-14)
	p := must(f.At([]float64{1, 4}, 1))(t)
	near(t, "next", p.Loc, 3, 1e-14)
	near(t, "se of the line", p.MeanSE, math.Sqrt(3.5), 1e-14)
	near(t, "se of the next", p.SE, math.Sqrt(5), 1e-14)
	near(t, "upper quartile", p.Quantile(0.75), 3+math.Sqrt(5), 1e-14)
	near(t, "quartile at four times the weight", must(f.At([]float64{1, 4}, 4))(t).Quantile(0.75), 3+math.Sqrt(3.5+1.5/4), 1e-14)
	half := must(f.Interval(1, 0.5))(t)
	near(t, "lower half-interval of the slope", half.Low, 0.5-math.Sqrt(0.75), 1e-14)
	near(t, "upper", half.High, 0.5+math.Sqrt(0.75), 1e-14)
	near(t, "half-interval of the line", must(p.MeanInterval(0.5))(t).High, 3+math.Sqrt(3.5), 1e-14)
	near(t, "lognormal mean", must(f.LognormalMean([]float64{1, 4}))(t), math.Exp(3.75), 1e-14)
	// Duan: e³ times the mean of e^−½, e, e^−½.
	near(t, "smearing mean", must(f.SmearingMean([]float64{1, 4}))(t), math.Exp(3)*(2*math.Exp(-0.5)+math.E)/3, 1e-14)
}

// Means weighted 1, 2, 1 of 0, 3, 6: (0+6+6)/4 = 3; Σw(y−3)² = 9+0+9 = 18 on 2
// degrees of freedom: σ = 3, se = 3/√4.
func TestWeightedMean(t *testing.T) {
	f := must(WLS(Design{Ones(3)}, []float64{0, 3, 6}, []float64{1, 2, 1}))(t)
	near(t, "mean", f.Coef[0], 3, 1e-14)
	near(t, "σ", f.Sigma, 3, 1e-14)
	near(t, "se", f.SE[0], 1.5, 1e-14)
}

// A table of 12 events in 40 against 5 in 50. The logistic slope is the log odds
// ratio log(12·45/(28·5)), its variance 1/12+1/28+1/5+1/45; the standardised
// difference is .3−.1 with variance .3·.7/40+.1·.9/50 and the ratio 3 with
// variance of its logarithm (1−.3)/12+(1−.1)/5.
func TestTwoByTwo(t *testing.T) {
	x := line([]float64{1, 0})
	f := must(Logistic(x, []float64{12, 5}, []float64{40, 50}))(t)
	near(t, "log odds", f.Coef[0], math.Log(5.0/45), 1e-13)
	near(t, "log odds ratio", f.Coef[1], math.Log(12.0*45/(28*5)), 1e-13)
	near(t, "its error", f.SE[1], math.Sqrt(1.0/12+1.0/28+1.0/5+1.0/45), 1e-12)
	near(t, "90 % limit", must(f.Interval(1, 0.9, false))(t).Low, f.Coef[1]-1.6448536269514722*f.SE[1], 1e-12)
	near(t, "deviance of a saturated fit", f.Deviance, 0, 1e-12)
	if f.DF != 0 || f.Phi != 1 || len(f.Warnings) != 1 {
		t.Errorf("no degree of freedom is left, got DF %d, φ %v, warnings %q", f.DF, f.Phi, f.Warnings)
	}
	s := must(Standardise(f, x.With(1, 1), x.With(1, 0), 0.95))(t)
	near(t, "difference", s.Difference.Value, 0.2, 1e-13)
	near(t, "its error", s.SEDifference, math.Sqrt(0.3*0.7/40+0.1*0.9/50), 1e-12)
	near(t, "ratio", s.Ratio.Value, 3, 1e-12)
	near(t, "error of its logarithm", s.SELogRatio, math.Sqrt(0.7/12+0.9/5), 1e-12)
	// A logit's error is 1/√(npq): limits of 12 in 40 on that scale.
	near(t, "lower limit of a risk", s.Risk1.Low, expit(math.Log(3.0/7)-1.959963984540054/math.Sqrt(40*0.3*0.7)), 1e-12)
	near(t, "upper limit of a risk", s.Risk0.High, expit(math.Log(1.0/9)+1.959963984540054/math.Sqrt(50*0.1*0.9)), 1e-12)
	near(t, "upper limit of the ratio", s.Ratio.High, 3*math.Exp(1.959963984540054*s.SELogRatio), 1e-12)
	near(t, "upper limit of the difference", s.Difference.High, 0.2+1.959963984540054*s.SEDifference, 1e-12)
}

// 9 events in an exposure of 3 against 4 in 2: log rate ratio log(3/2), variance
// 1/9+1/4. Pearson's X² of one common rate 13/5: expected 7.8 and 5.2,
// (1.2)²/7.8+(1.2)²/5.2 = .461538; deviance 2[9 log(9/7.8)+4 log(4/5.2)].
func TestTwoRates(t *testing.T) {
	count, exposure := []float64{9, 4}, []float64{3, 2}
	f := must(Poisson(line([]float64{1, 0}), count, exposure))(t)
	near(t, "log rate", f.Coef[0], math.Log(2), 1e-13)
	near(t, "log rate ratio", f.Coef[1], math.Log(1.5), 1e-13)
	near(t, "its error", f.SE[1], math.Sqrt(1.0/9+1.0/4), 1e-12)
	one := must(Poisson(Design{Ones(2)}, count, exposure))(t)
	near(t, "common rate", math.Exp(one.Coef[0]), 2.6, 1e-13)
	near(t, "X²", one.Pearson, 1.44/7.8+1.44/5.2, 1e-12)
	near(t, "φ", one.Phi, 1.44/7.8+1.44/5.2, 1e-12)
	near(t, "deviance", one.Deviance, 2*(9*math.Log(9/7.8)+4*math.Log(4/5.2)), 1e-12)
	near(t, "P(χ² > X²), one degree of freedom", one.PPearson, math.Erfc(math.Sqrt(one.Pearson/2)), 1e-12)
	near(t, "quasi limit", must(one.Interval(0, 0.9, true))(t).High, one.Coef[0]+1.6448536269514722*one.QuasiSE[0], 1e-12)
	near(t, "quasi error", one.QuasiSE[0], one.SE[0]*math.Sqrt(one.Phi), 1e-14)
}

// Saturated, Firth's estimate adds ½ to each cell: 0 of 6 and 5 of 5 become
// ½/6½ and 5½/½, log odds ratio log(143) (Heinze & Schemper 2002). With the
// intercept alone, y of n gives log((y+½)/(n−y+½)).
func TestFirthAddsHalf(t *testing.T) {
	f := must(Firth(line([]float64{0, 1}), []float64{0, 5}, []float64{6, 5}))(t)
	near(t, "log odds", f.Coef[0], math.Log(0.5/6.5), 1e-9)
	near(t, "log odds ratio", f.Coef[1], math.Log(143), 1e-9)
	none := must(Firth(Design{Ones(1)}, []float64{0}, []float64{10}))(t)
	near(t, "log odds without an event", none.Coef[0], math.Log(0.5/10.5), 1e-9)
}

// −3, −1, 0, 1, 3 and 100: the median absolute deviation from a centre c near
// 0.6 and the weights keep the five and cut the sixth. At the fixed point
// Σψ(r/s) = 0: five residuals as they are, the sixth k·s.
func TestHuberCentre(t *testing.T) {
	y := []float64{-3, -1, 0, 1, 3, 100}
	f := must(Huber(Design{Ones(6)}, y, 1.345))(t)
	sum := 1.345 * f.Scale
	for _, v := range y[:5] {
		if math.Abs(v-f.Coef[0]) > 1.345*f.Scale {
			sum += math.Copysign(1.345*f.Scale, v-f.Coef[0])
		} else {
			sum += v - f.Coef[0]
		}
	}
	near(t, "Σψ·s", sum, 0, 1e-10)
	near(t, "weight of the far row", f.Weights[5], 1.345*f.Scale/(100-f.Coef[0]), 1e-10)
}

// Two symmetric clusters, −1 and 1, t_ν errors: the centre is 0 by symmetry and the
// scale solves n = Σ(ν+1)z²/(ν+z²), z = 1/s, so (ν+1)z² = ν+z²: z² = 1, s = 1.
func TestStudentScale(t *testing.T) {
	f := must(StudentT(Design{Ones(4)}, []float64{-1, 1, -1, 1}, 4))(t)
	near(t, "centre", f.Coef[0], 0, 1e-10)
	near(t, "scale", f.Scale, 1, 1e-10)
	near(t, "weight", f.Weights[0], 1, 1e-10)
	near(t, "log-likelihood", f.LogLik, 4*math.Log(NewStudent(4).Density(1)), 1e-10)
	near(t, "error", f.SE[0], math.Sqrt(7.0/5/4), 1e-10)
}

// Two sizes, h 0 and 1, each with its own column: the residual variances are then
// separate, σ² = Σr²/(n₀−1) = 2/1 for y 0, 2 and σ²(1+κ) = 18/1 for y 0, 6, so
// κ = 8.
func TestVarianceOfTwoSizes(t *testing.T) {
	h := []float64{0, 0, 1, 1}
	x := Design{{1, 1, 0, 0}, {0, 0, 1, 1}}
	f := must(VarianceLinear(x, []float64{0, 2, 0, 6}, h))(t)
	near(t, "σ²", f.Sigma*f.Sigma, 2, 1e-9)
	near(t, "κ", f.Theta, 8, 1e-9)
	// The same by a power of size 1 and 4: 2·4^{2d} = 18, d = log 9/(2 log 4).
	p := must(VariancePower(x, []float64{0, 2, 0, 6}, []float64{1, 1, 4, 4}))(t)
	near(t, "d", p.Theta, math.Log(9)/(2*math.Log(4)), 1e-9)
	near(t, "errors", p.SE[1], 3, 1e-9)
}

// A direction separates when no row objects: rows without an event must not go up,
// rows that are all event not down, rows between not at all.
func TestDirections(t *testing.T) {
	f := &irls{y: []float64{0, 2, 1, 0}, size: []float64{3, 2, 2, 0}, family: binomial}
	for _, c := range []struct {
		move []float64
		want bool
	}{
		{[]float64{-1, 0, 0, 0}, true}, {[]float64{0, 1, 0, 0}, true}, {[]float64{-1, 1, 0, 5}, true},
		{[]float64{1, 0, 0, 0}, false}, {[]float64{0, -1, 0, 0}, false}, {[]float64{-1, 1, 0.5, 0}, false},
		{[]float64{0, 0, 0, 0}, false},
	} {
		if got := f.separates(c.move); got != c.want {
			t.Errorf("direction %v: %v", c.move, got)
		}
	}
	counts := &irls{y: []float64{0, 2}, size: []float64{1, 1}, family: poisson}
	if !counts.separates([]float64{-1, 0}) || counts.separates([]float64{-1, 1}) {
		t.Error("a count above zero holds its rate")
	}
}
