package regress

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/mathext"

	"pourback/analysis/stat"
)

// Standardised is what the mean risk would be with every row of one kind and
// with every row of the other.
type Standardised struct {
	Risk1, Risk0      stat.Estimate // limits by the delta method on the logit scale
	Difference, Ratio stat.Estimate // Risk1−Risk0, limits on its own scale; Risk1/Risk0, limits on the log scale
	SEDifference      float64
	SELogRatio        float64
}

// Standardise averages the predicted risks of a logistic regression over two
// designs: as a rule x.With(j, 1) and x.With(j, 0), the same rows with the
// exposure set to one and to zero. The standard errors are by the delta method
// for these very rows: gradient of a mean risk = mean p(1−p)x (Lane & Nelder
// 1982, Biometrics 38, 613-621). The estimate compares like with like only as
// far as the columns hold everything that steered the exposure.
func Standardise(fit *GLM, exposed, unexposed Design, level float64) (*Standardised, error) {
	if fit == nil || !fit.family.ceiling {
		return nil, fmt.Errorf("standardised risks need a logistic fit: %w", stat.ErrDomain)
	}
	if err := stat.CheckLevel(level); err != nil {
		return nil, err
	}
	risk1, grad1, err := fit.meanRisk(exposed)
	if err != nil {
		return nil, fmt.Errorf("exposed: %w", err)
	}
	risk0, grad0, err := fit.meanRisk(unexposed)
	if err != nil {
		return nil, fmt.Errorf("unexposed: %w", err)
	}
	if len(exposed[0]) != len(unexposed[0]) {
		return nil, fmt.Errorf("%d rows exposed, %d unexposed: %w", len(exposed[0]), len(unexposed[0]), stat.ErrShape)
	}
	difference, logRatio := mat.NewVecDense(len(fit.Coef), nil), mat.NewVecDense(len(fit.Coef), nil)
	difference.SubVec(grad1, grad0)
	logRatio.AddScaledVec(logRatio, 1/risk1, grad1)
	logRatio.AddScaledVec(logRatio, -1/risk0, grad0)
	s := &Standardised{SEDifference: fit.seOf(difference), SELogRatio: fit.seOf(logRatio)}
	z := mathext.NormalQuantile((1 + level) / 2)
	n := len(exposed[0])
	s.Risk1 = riskEstimate(risk1, fit.seOf(grad1), z, level, n)
	s.Risk0 = riskEstimate(risk0, fit.seOf(grad0), z, level, n)
	s.Difference = stat.Estimate{
		Value: risk1 - risk0, Low: math.Max(-1, risk1-risk0-z*s.SEDifference), High: math.Min(1, risk1-risk0+z*s.SEDifference),
		Level: level, N: n, Method: "standardised risk difference, delta method",
	}
	ratio := risk1 / risk0
	s.Ratio = stat.Estimate{
		Value: ratio, Low: ratio * math.Exp(-z*s.SELogRatio), High: ratio * math.Exp(z*s.SELogRatio),
		Level: level, N: n, Method: "standardised risk ratio, delta method on the log scale",
	}
	return s, nil
}

// meanRisk is the mean predicted risk over a design, and its gradient in β.
func (g *GLM) meanRisk(x Design) (float64, *mat.VecDense, error) {
	if len(x) != len(g.Coef) {
		return 0, nil, fmt.Errorf("%d columns, the fit has %d: %w", len(x), len(g.Coef), stat.ErrShape)
	}
	n := len(x[0])
	if err := x.Check(n); err != nil {
		return 0, nil, err
	}
	eta := make([]float64, n)
	x.eta(g.Coef, eta)
	risk, gradient := 0.0, mat.NewVecDense(len(x), nil)
	for i, e := range eta {
		p := expit(e)
		risk += p
		for j := range x {
			gradient.SetVec(j, gradient.AtVec(j)+p*(1-p)*x[j][i])
		}
	}
	gradient.ScaleVec(1/float64(n), gradient)
	risk /= float64(n)
	if risk == 0 || risk == 1 {
		return 0, nil, fmt.Errorf("mean risk is %v, far outside the rows of the fit: %w", risk, stat.ErrDomain)
	}
	return risk, gradient, nil
}

// seOf returns the standard error of a function of β with this gradient.
func (g *GLM) seOf(gradient *mat.VecDense) float64 {
	return math.Sqrt(mat.Inner(gradient, g.Cov, gradient))
}

func riskEstimate(risk, se, z, level float64, n int) stat.Estimate {
	logit, half := math.Log(risk/(1-risk)), z*se/(risk*(1-risk))
	return stat.Estimate{
		Value: risk, Low: expit(logit - half), High: expit(logit + half),
		Level: level, N: n, Method: "standardised risk, delta method on the logit scale",
	}
}
