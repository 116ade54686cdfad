package regress

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/floats"

	"pourback/analysis/stat"
)

// VarianceFit is a linear regression whose error variance follows a covariate,
// fitted by restricted maximum likelihood.
type VarianceFit struct {
	stat.Fit
	Theta      float64 // κ of σ²(1+κh), or d of σ²v^{2d}
	Coef, SE   []float64
	Sigma      float64
	RemlLogLik float64 // −½[(n−p)(log 2πσ²+1) + Σlog v + log|X'V⁻¹X|]
	N, DF      int
}

// MaxKappa bounds the search of [VarianceLinear]. When the likelihood still
// rises there, all of the variance goes with h, and κ has no finite estimate.
const MaxKappa = 1 << 14

// VarianceLinear fits y = x'β + e, Var(e) = σ²(1+κh), h ≥ 0, by REML (Patterson
// & Thompson 1971, Biometrika 58, 545-554): κ is where the profile score
// changes sign, or zero, or [MaxKappa] with a warning.
func VarianceLinear(x Design, y, h []float64) (*VarianceFit, error) {
	grid := []float64{0}
	for k := 1.0 / 1024; k <= MaxKappa; k *= 2 {
		grid = append(grid, k)
	}
	return fitVariance(x, y, h, grid, "κ", func(kappa, h float64) (v, slope float64) {
		return 1 + kappa*h, h / (1 + kappa*h)
	})
}

// VariancePower fits y = x'β + e, sd(e) = σ·v^d, v > 0, by REML (Pinheiro &
// Bates 2000, Mixed-Effects Models in S and S-PLUS, §5.2), d in −5 to 5.
func VariancePower(x Design, y, v []float64) (*VarianceFit, error) {
	for i, vi := range v {
		if !(vi > 0) {
			return nil, fmt.Errorf("size %d is %v, not above zero: %w", i, vi, stat.ErrDomain)
		}
	}
	var grid []float64
	for d := -5.0; d <= 5; d += 0.25 {
		grid = append(grid, d)
	}
	return fitVariance(x, y, v, grid, "d", func(d, v float64) (float64, float64) {
		return math.Pow(v, 2*d), 2 * math.Log(v)
	})
}

// varfun is the profile restricted likelihood over one parameter.
type varfun struct {
	x              Design
	y, h           []float64
	model          func(theta, h float64) (v, slope float64) // variance and its relative slope in θ
	qr             *qr
	w, slope, hat  []float64
	coef, residual []float64
}

// at fits the weighted regression at θ and returns the profile log-likelihood
// and its slope −½[Σ v'/v·(1−hat) − Σ w·v'/v·r²/σ²].
func (f *varfun) at(theta float64) (logLik, score, sigma2 float64, err error) {
	sumLog := 0.0
	for i, h := range f.h {
		var v float64
		v, f.slope[i] = f.model(theta, h)
		f.w[i] = 1 / v
		sumLog += math.Log(v)
	}
	if err = f.qr.factor(f.x, f.w); err != nil {
		return
	}
	f.qr.solve(f.y, f.coef)
	f.x.eta(f.coef, f.residual)
	floats.SubTo(f.residual, f.y, f.residual)
	df := float64(len(f.y) - len(f.x))
	sigma2 = sumSquares(f.residual, f.w, 0) / df
	if sigma2 <= 1e-26*sumSquares(f.y, f.w, 0) {
		err = fmt.Errorf("the line passes through every row, so there is no variance to model: %w", stat.ErrNoVariation)
		return
	}
	f.qr.leverages(f.x, f.hat)
	for i, r := range f.residual {
		score -= f.slope[i] * (1 - f.hat[i] - f.w[i]*r*r/sigma2) / 2
	}
	logLik = -(df*(math.Log(2*math.Pi*sigma2)+1) + sumLog + f.qr.logDet()) / 2
	return
}

func fitVariance(x Design, y, h []float64, grid []float64, name string, model func(theta, h float64) (v, slope float64)) (*VarianceFit, error) {
	n, err := checkLinear(x, y, nil)
	if err != nil {
		return nil, err
	}
	if err := nonNegative("covariate of the variance", h, n); err != nil {
		return nil, err
	}
	f := &varfun{x: x, y: y, h: h, model: model, qr: newQR(x), w: make([]float64, n), slope: make([]float64, n),
		hat: make([]float64, n), coef: make([]float64, len(x)), residual: make([]float64, n)}
	fit := &VarianceFit{N: n, DF: n - len(x), Coef: f.coef}
	if fit.Theta, err = f.best(grid, name, &fit.Fit); err != nil {
		return nil, err
	}
	logLik, _, sigma2, err := f.at(fit.Theta)
	if err != nil {
		return nil, err
	}
	fit.RemlLogLik, fit.Sigma = logLik, math.Sqrt(sigma2)
	fit.SE = deviations(f.qr.inverse(sigma2))
	return checked(fit, fit.Coef, fit.SE, fit.Theta, fit.Sigma, fit.RemlLogLik)
}

// best scans the grid for the highest likelihood and polishes it to where the
// score is zero between the neighbours.
func (f *varfun) best(grid []float64, name string, fit *stat.Fit) (float64, error) {
	top, highest := 0, math.Inf(-1)
	scores := make([]float64, len(grid))
	for k, theta := range grid {
		ll, score, _, err := f.at(theta)
		if err != nil {
			return 0, err
		}
		scores[k] = score
		if ll > highest {
			top, highest = k, ll
		}
	}
	fit.Iterations, fit.Converged = len(grid), true
	low, high := top, top
	if scores[top] > 0 {
		high++
	} else {
		low--
	}
	if low < 0 || high >= len(grid) {
		fit.Warnings = append(fit.Warnings, fmt.Sprintf("the likelihood is highest at the end of the search, %s = %v", name, grid[top]))
		return grid[top], nil
	}
	return Root(func(theta float64) (float64, error) {
		fit.Iterations++
		_, score, _, err := f.at(theta)
		return score, err
	}, grid[low], grid[high])
}
