package regress

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"

	"pourback/analysis/stat"
)

// Robust is a regression that far-off rows move little.
type Robust struct {
	stat.Fit
	Coef      []float64
	SE        []float64 // nil for Huber's estimate
	Scale     float64
	Weights   []float64 // what each row counts for: well under one marks a row to look at
	Residuals []float64
	LogLik    float64 // of the t model; zero for Huber's estimate
	N         int
}

const (
	robustIterations = 5000
	robustTolerance  = 1e-12
)

// StudentT fits y = x'β + e with t_ν errors of scale s by maximum likelihood,
// through EM: weights (ν+1)/(ν+r²/s²), then weighted least squares (Lange,
// Little & Taylor 1989, JASA 84, 881-896), the scale from Σwr²/Σw, which has the
// same fixed point as Σwr²/n and comes to it sooner (Kent, Tyler & Vardi 1994).
// The standard errors are from the expected information, s²(ν+3)/(ν+1)(X'X)⁻¹.
// With small ν the likelihood may have several maxima; this is the one that
// least squares leads to.
func StudentT(x Design, y []float64, nu float64) (*Robust, error) {
	if !(nu > 0) || math.IsInf(nu, 0) {
		return nil, fmt.Errorf("degrees of freedom %v are not above zero and finite: %w", nu, stat.ErrDomain)
	}
	weigh := func(r, s float64) float64 { return (nu + 1) / (nu + r*r/(s*s)) }
	scale := func(r, w []float64) float64 { return math.Sqrt(sumSquares(r, w, 0) / floats.Sum(w)) }
	f, err := reweighted(x, y, weigh, scale)
	if err != nil {
		return nil, err
	}
	student := NewStudent(nu)
	for _, r := range f.Residuals {
		f.LogLik += math.Log(student.Density(r/f.Scale) / f.Scale)
	}
	plain := newQR(x)
	if err := plain.factor(x, nil); err != nil {
		return nil, err
	}
	f.SE = deviations(plain.inverse(f.Scale * f.Scale * (nu + 3) / (nu + 1)))
	return checked(f, f.Coef, f.SE, f.Scale, f.LogLik)
}

// HuberTuning gives Huber's estimate 95 % efficiency at the normal distribution.
const HuberTuning = 1.345

// Huber fits y = x'β + e by Huber's M-estimate with weights min(1, k·s/|r|), the
// scale s being the median absolute residual over Φ⁻¹(¾) (Huber 1981, §7.7-7.8).
func Huber(x Design, y []float64, k float64) (*Robust, error) {
	if !(k > 0) || math.IsInf(k, 0) {
		return nil, fmt.Errorf("tuning constant %v is not above zero and finite: %w", k, stat.ErrDomain)
	}
	weigh := func(r, s float64) float64 { return 1 / math.Max(1, math.Abs(r)/(k*s)) }
	sorted := make([]float64, len(y))
	scale := func(r, _ []float64) float64 { return medianAbs(r, sorted) / 0.6745 }
	f, err := reweighted(x, y, weigh, scale)
	if err != nil {
		return nil, err
	}
	return checked(f, f.Coef, nil, f.Scale)
}

// reweighted alternates scale, weights and weighted least squares until the
// coefficients rest.
func reweighted(x Design, y []float64, weigh func(r, s float64) float64, scale func(r, w []float64) float64) (*Robust, error) {
	start, err := OLS(x, y)
	if err != nil {
		return nil, err
	}
	f := &Robust{Coef: start.Coef, Residuals: start.Residuals, Weights: Ones(len(y)), N: len(y)}
	fine := 1e-13 * floats.Norm(y, math.Inf(1))
	next, step := make([]float64, len(x)), make([]float64, len(x))
	for f.Iterations = 1; f.Iterations <= robustIterations; f.Iterations++ {
		last := f.Scale
		if f.Scale = scale(f.Residuals, f.Weights); f.Scale <= fine {
			return nil, fmt.Errorf("the line passes through so many of the rows that their spread is zero: %w", stat.ErrNoVariation)
		}
		for i, r := range f.Residuals {
			f.Weights[i] = weigh(r, f.Scale)
		}
		if err := start.qr.factor(x, f.Weights); err != nil {
			return nil, err
		}
		start.qr.solve(y, next)
		floats.SubTo(step, next, f.Coef)
		copy(f.Coef, next)
		x.eta(f.Coef, f.Residuals)
		floats.SubTo(f.Residuals, y, f.Residuals)
		if start.qr.length(step) <= robustTolerance*f.Scale && math.Abs(f.Scale-last) <= robustTolerance*f.Scale {
			f.Converged = true
			return f, nil
		}
	}
	f.Warnings = append(f.Warnings, fmt.Sprintf("still moving after %d reweightings", robustIterations))
	return f, nil
}

// medianAbs is the median of |xs|; scratch has the length of xs.
func medianAbs(xs, scratch []float64) float64 {
	for i, x := range xs {
		scratch[i] = math.Abs(x)
	}
	slices.Sort(scratch)
	n := len(scratch)
	return (scratch[(n-1)/2] + scratch[n/2]) / 2
}
