package regress

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/mathext"

	"pourback/analysis/stat"
)

// FirthFit is a logistic regression by penalised likelihood.
type FirthFit struct {
	stat.Fit
	Coef, SE        []float64     // SE from (X'WX)⁻¹ at the estimate; do not make intervals of it
	Cov             *mat.SymDense // (X'WX)⁻¹
	PenalizedLogLik float64       // ℓ + ½log|X'WX| at the estimate
	N               int

	model *penalised
}

// Firth fits log(p/(1−p)) = x'β to events out of trials (nil: one each) by
// maximising ℓ(β)+½log|X'WX|, which has a finite maximum even when outcomes are
// separated or no event happened (Firth 1993; Heinze & Schemper 2002).
func Firth(x Design, events, trials []float64) (*FirthFit, error) {
	if trials == nil {
		trials = Ones(len(events))
	}
	n, err := binomial.check(x, events, trials)
	if err != nil {
		return nil, err
	}
	m := newPenalised(x, events, trials)
	if err := m.qr.factor(x, trials); err != nil {
		return nil, err
	}
	m.qr.tolerance = 1e-15 // weights may now come close to zero
	f := &FirthFit{Coef: make([]float64, len(x)), N: n, model: m}
	f.PenalizedLogLik, f.Iterations, err = m.maximise(f.Coef, -1)
	if err != nil {
		return nil, err
	}
	f.Converged = true
	f.Cov = m.qr.inverse(1)
	f.SE = deviations(f.Cov)
	return checked(f, f.Coef, f.SE, f.PenalizedLogLik)
}

// Test is the penalised likelihood-ratio test of β_j = value: twice the drop of
// the penalised log-likelihood, referred to χ² with one degree of freedom.
func (f *FirthFit) Test(j int, value float64) (chi2, p float64, err error) {
	if err := hasCoefficient(j, f.Coef); err != nil {
		return 0, 0, err
	}
	if err := stat.Finite("tested value", value); err != nil {
		return 0, 0, err
	}
	ll, err := f.follow(append([]float64(nil), f.Coef...), j, value)
	if err != nil {
		return 0, 0, err
	}
	chi2 = math.Max(0, 2*(f.PenalizedLogLik-ll))
	return chi2, math.Erfc(math.Sqrt(chi2 / 2)), nil
}

// Profile is the interval of β_j that [FirthFit.Test] does not reject at
// 1−level, the profile penalised likelihood limits.
func (f *FirthFit) Profile(j int, level float64) (stat.Estimate, error) {
	if err := hasCoefficient(j, f.Coef); err != nil {
		return stat.Estimate{}, err
	}
	if err := stat.CheckLevel(level); err != nil {
		return stat.Estimate{}, err
	}
	z := mathext.NormalQuantile((1 + level) / 2)
	e := stat.Estimate{Value: f.Coef[j], Level: level, N: f.N, Method: "Firth logistic, profile penalised likelihood"}
	var err error
	if e.Low, err = f.limit(j, -z); err == nil {
		e.High, err = f.limit(j, z)
	}
	return e, err
}

// limit finds where the signed root of the likelihood-ratio statistic, nearly
// linear in β_j, equals z.
func (f *FirthFit) limit(j int, z float64) (float64, error) {
	root := func(b float64) (float64, error) {
		// From the fit each time, as [FirthFit.Test] goes: along another way the
		// ridge of separated data may lead to its other maximum.
		ll, err := f.follow(append([]float64(nil), f.Coef...), j, b)
		return math.Sqrt(math.Max(0, 2*(f.PenalizedLogLik-ll))) - math.Abs(z), err
	}
	b, err := outward(root, f.Coef[j], math.Copysign(f.SE[j]*math.Abs(z), z))
	if err != nil {
		return 0, fmt.Errorf("profile limit of coefficient %d: %w", j, err)
	}
	return b, nil
}

// follow moves beta along the ridge of the penalised likelihood to where
// coefficient j has this value, and returns the likelihood there. It goes by steps
// of at most a standard error, because separated data can have a second, lower
// maximum that a leap would end in.
func (f *FirthFit) follow(beta []float64, j int, value float64) (ll float64, err error) {
	start := beta[j]
	steps := math.Ceil(math.Min(64, math.Abs(value-start)/f.SE[j]))
	for k := 1.0; k < steps; k++ {
		beta[j] = start + (value-start)*k/steps
		if _, _, err = f.model.maximise(beta, j); err != nil {
			return 0, err
		}
	}
	beta[j] = value
	ll, _, err = f.model.maximise(beta, j)
	return ll, err
}
