package regress

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"

	"pourback/analysis/stat"
)

// Linear is a fitted weighted least-squares regression.
type Linear struct {
	Coef, SE  []float64
	Cov       *mat.SymDense // covariance of Coef
	Sigma     float64       // residual standard deviation at weight one
	R2        float64       // about the mean if a column is constant, else about zero; 0 when y does not vary
	N, DF     int           // observations of positive weight, and those less the columns
	Fitted    []float64
	Residuals []float64 // y − fitted, unweighted

	qr *qr
}

// OLS fits y = x'β + e by ordinary least squares.
func OLS(x Design, y []float64) (*Linear, error) { return WLS(x, y, nil) }

// WLS fits y = x'β + e, Var(e) = σ²/w, by least squares on √w·x. Weights are
// zero or above, in any unit; rows of weight zero do not count. It needs more
// weighted rows than columns.
func WLS(x Design, y, w []float64) (*Linear, error) {
	n, err := checkLinear(x, y, w)
	if err != nil {
		return nil, err
	}
	f := &Linear{N: n, DF: n - len(x), Coef: make([]float64, len(x)), qr: newQR(x)}
	if err := f.qr.factor(x, w); err != nil {
		return nil, err
	}
	f.qr.solve(y, f.Coef)
	f.Fitted, f.Residuals = make([]float64, len(y)), make([]float64, len(y))
	x.eta(f.Coef, f.Fitted)
	floats.SubTo(f.Residuals, y, f.Fitted)
	rss := sumSquares(f.Residuals, w, 0)
	f.Sigma = math.Sqrt(rss / float64(f.DF))
	f.Cov = f.qr.inverse(f.Sigma * f.Sigma)
	f.SE = deviations(f.Cov)
	centre := 0.0
	if x.hasIntercept() {
		centre = weightedMean(f.Fitted, w)
	}
	if model := sumSquares(f.Fitted, w, centre); model > 0 {
		f.R2 = model / (model + rss)
	}
	return checked(f, f.Coef, f.SE, f.R2)
}

// checkLinear validates the inputs and counts the rows of positive weight.
func checkLinear(x Design, y, w []float64) (int, error) {
	n := len(y)
	if err := x.Check(n); err != nil {
		return 0, err
	}
	if err := finite("outcome", y); err != nil {
		return 0, err
	}
	if w != nil {
		if err := nonNegative("weight", w, n); err != nil {
			return 0, err
		}
		n = 0
		for _, wi := range w {
			if wi > 0 {
				n++
			}
		}
	}
	if n <= len(x) {
		return 0, fmt.Errorf("%d weighted rows for %d coefficients and a residual: at least %d are needed: %w", n, len(x), len(x)+1, stat.ErrTooFew)
	}
	return n, nil
}

// Interval is the t interval of coefficient j.
func (f *Linear) Interval(j int, level float64) (stat.Estimate, error) {
	if err := stat.CheckLevel(level); err != nil {
		return stat.Estimate{}, err
	}
	if err := hasCoefficient(j, f.Coef); err != nil {
		return stat.Estimate{}, err
	}
	half := NewStudent(float64(f.DF)).Quantile((1+level)/2) * f.SE[j]
	return stat.Estimate{Value: f.Coef[j], Low: f.Coef[j] - half, High: f.Coef[j] + half, Level: level, N: f.N, Method: "least squares, t interval"}, nil
}

// weightAt is w[i], or one where w is nil.
func weightAt(w []float64, i int) float64 {
	if w == nil {
		return 1
	}
	return w[i]
}

// sumSquares returns Σw(x−centre)².
func sumSquares(xs, w []float64, centre float64) float64 {
	sum := 0.0
	for i, x := range xs {
		sum += weightAt(w, i) * (x - centre) * (x - centre)
	}
	return sum
}

// weightedMean returns Σwx/Σw.
func weightedMean(xs, w []float64) float64 {
	sum, total := 0.0, 0.0
	for i, x := range xs {
		sum += weightAt(w, i) * x
		total += weightAt(w, i)
	}
	return sum / total
}
