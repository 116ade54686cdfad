package regress

import (
	"fmt"
	"math"

	"pourback/analysis/stat"
)

// Prediction is the t distribution of the next outcome at one place: Loc is its
// centre, MeanSE the standard error of the line there and SE that of a single
// outcome about it, √(MeanSE²+σ²/w).
type Prediction struct {
	Loc, MeanSE, SE float64
	DF              int
}

// At predicts the next outcome at columns x and weight w (one for an outcome
// like those of an unweighted fit).
func (f *Linear) At(x []float64, w float64) (Prediction, error) {
	if len(x) != len(f.Coef) {
		return Prediction{}, fmt.Errorf("prediction from %d columns, the fit has %d: %w", len(x), len(f.Coef), stat.ErrShape)
	}
	if err := stat.Finite("column", x...); err != nil {
		return Prediction{}, err
	}
	if !(w > 0) || math.IsInf(w, 0) {
		return Prediction{}, fmt.Errorf("weight %v of a prediction is not above zero and finite: %w", w, stat.ErrDomain)
	}
	p := Prediction{DF: f.DF}
	for j, b := range f.Coef {
		p.Loc += b * x[j]
	}
	p.MeanSE = f.Sigma * math.Sqrt(f.qr.quadratic(x, make([]float64, len(x))))
	p.SE = math.Hypot(p.MeanSE, f.Sigma/math.Sqrt(w))
	return p, stat.Finite("prediction", p.Loc, p.SE)
}

// Quantile is the value that the next outcome stays below with probability p;
// −∞ at p ≤ 0 and +∞ at p ≥ 1 unless the fit is exact (Geisser 1993, Predictive
// Inference, §2.3).
func (p Prediction) Quantile(prob float64) float64 { return p.shift(prob, p.SE) }

// MeanInterval is the confidence interval of the line itself.
func (p Prediction) MeanInterval(level float64) (stat.Estimate, error) {
	if err := stat.CheckLevel(level); err != nil {
		return stat.Estimate{}, err
	}
	return stat.Estimate{
		Value: p.Loc, Low: p.shift((1-level)/2, p.MeanSE), High: p.shift((1+level)/2, p.MeanSE),
		Level: level, N: p.DF, Method: "least squares, t interval of the mean, on residual degrees of freedom",
	}, nil
}

func (p Prediction) shift(prob, se float64) float64 {
	if se == 0 {
		return p.Loc
	}
	return p.Loc + se*NewStudent(float64(p.DF)).Quantile(prob)
}

// LognormalMean is the mean of exp(y) at columns x when y is normal:
// exp(x'β+σ²/2), the estimate put in for the truth.
func (f *Linear) LognormalMean(x []float64) (float64, error) {
	p, err := f.At(x, 1)
	if err != nil {
		return 0, err
	}
	return back("lognormal mean", math.Exp(p.Loc+f.Sigma*f.Sigma/2))
}

// SmearingMean is the mean of exp(y) at columns x when the errors are alike but
// not known to be normal: exp(x'β)·mean(exp(residual)) (Duan 1983, JASA 78,
// 605-610). It is for unweighted fits.
func (f *Linear) SmearingMean(x []float64) (float64, error) {
	p, err := f.At(x, 1)
	if err != nil {
		return 0, err
	}
	sum := 0.0
	for _, r := range f.Residuals {
		sum += math.Exp(r)
	}
	return back("smearing mean", math.Exp(p.Loc)*sum/float64(len(f.Residuals)))
}

// back guards a number brought back from the log scale.
func back(name string, x float64) (float64, error) { return x, stat.Finite(name, x) }
