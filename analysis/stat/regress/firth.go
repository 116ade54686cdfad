package regress

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/floats"
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
	f := &FirthFit{Coef: make([]float64, len(x)), N: n, model: m}
	f.PenalizedLogLik, f.Iterations, err = m.maximise(f.Coef, -1)
	if err != nil {
		return nil, err
	}
	f.Converged = true
	f.Cov = m.qr.inverse(1)
	f.SE = deviations(f.Cov)
	return f, nil
}

// Test is the penalised likelihood-ratio test of β_j = value: twice the drop of
// the penalised log-likelihood, referred to χ² with one degree of freedom.
func (f *FirthFit) Test(j int, value float64) (chi2, p float64, err error) {
	if err := f.has(j); err != nil {
		return 0, 0, err
	}
	if err := stat.Finite("tested value", value); err != nil {
		return 0, 0, err
	}
	beta := append([]float64(nil), f.Coef...)
	beta[j] = value
	ll, _, err := f.model.maximise(beta, j)
	if err != nil {
		return 0, 0, err
	}
	chi2 = math.Max(0, 2*(f.PenalizedLogLik-ll))
	return chi2, math.Erfc(math.Sqrt(chi2 / 2)), nil
}

// Profile is the interval of β_j that [FirthFit.Test] does not reject at
// 1−level, the profile penalised likelihood limits.
func (f *FirthFit) Profile(j int, level float64) (stat.Estimate, error) {
	if err := f.has(j); err != nil {
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
// linear in β_j, equals z. Each value starts from the last maximum.
func (f *FirthFit) limit(j int, z float64) (float64, error) {
	beta := append([]float64(nil), f.Coef...)
	root := func(b float64) (float64, error) {
		beta[j] = b
		ll, _, err := f.model.maximise(beta, j)
		return math.Sqrt(math.Max(0, 2*(f.PenalizedLogLik-ll))) - math.Abs(z), err
	}
	b, err := outward(root, f.Coef[j], math.Copysign(f.SE[j]*math.Abs(z), z))
	if err != nil {
		return 0, fmt.Errorf("profile limit of coefficient %d: %w", j, err)
	}
	return b, nil
}

func (f *FirthFit) has(j int) error {
	if j < 0 || j >= len(f.Coef) {
		return fmt.Errorf("coefficient %d of %d: %w", j, len(f.Coef), stat.ErrDomain)
	}
	return nil
}

// penalised is the penalised likelihood with its working space.
type penalised struct {
	x           Design
	y, size     []float64
	qr          *qr
	eta, w, hat []float64
	modified    []float64 // row i of the modified score
}

func newPenalised(x Design, y, size []float64) *penalised {
	n := len(y)
	return &penalised{x: x, y: y, size: size, qr: newQR(x),
		eta: make([]float64, n), w: make([]float64, n), hat: make([]float64, n), modified: make([]float64, n)}
}

// logLik returns ℓ(β)+½log|X'WX| and leaves the factored information behind.
func (m *penalised) logLik(beta []float64) (float64, error) {
	m.x.eta(beta, m.eta)
	sum := 0.0
	for i, eta := range m.eta {
		sum -= m.y[i]*softplus(-eta) + (m.size[i]-m.y[i])*softplus(eta)
		m.w[i] = binomial.variance(eta, m.size[i])
	}
	if err := m.qr.factor(m.x, m.w); err != nil {
		return 0, err
	}
	return sum + m.qr.logDet()/2, nil
}

const (
	firthIterations = 500
	firthTolerance  = 1e-9 // length of a last step, in standard errors
	firthLongest    = 4.0  // most that a step may move any row's log odds
)

// maximise improves beta in place, leaving coefficient fixed (−1: none) where it
// is, and returns the maximum. The steps are Fisher's scoring with the modified
// score Σ(y−mπ+h(½−π))x, halved until the penalised likelihood rises.
func (m *penalised) maximise(beta []float64, fixed int) (float64, int, error) {
	ll, err := m.logLik(beta)
	if err != nil {
		return 0, 0, err
	}
	step := make([]float64, len(beta))
	for iteration := 1; iteration <= firthIterations; iteration++ {
		if m.scoring(step, fixed) < firthTolerance {
			return ll, iteration, nil
		}
		if ll, err = m.advance(beta, step, ll); err != nil {
			return 0, iteration, err
		}
	}
	return 0, firthIterations, fmt.Errorf("Firth regression after %d iterations: %w", firthIterations, stat.ErrNotConverged)
}

// scoring writes the step (X'WX)⁻¹U* and returns its length in standard errors.
// With a coefficient fixed, the step is the one that is best among those that
// leave it alone: the free step less its regression on that coefficient.
func (m *penalised) scoring(step []float64, fixed int) float64 {
	m.qr.leverages(m.x, m.hat)
	for i, eta := range m.eta {
		m.modified[i] = 0
		if m.w[i] > 0 {
			p, q := expit(eta), expit(-eta)
			m.modified[i] = (binomial.residual(m.y[i], eta, m.size[i]) + m.hat[i]*(q-p)/2) / m.w[i]
		}
	}
	m.qr.solve(m.modified, step)
	if fixed >= 0 {
		cov := m.qr.inverse(1)
		k := step[fixed] / cov.At(fixed, fixed)
		for j := range step {
			step[j] -= k * cov.At(j, fixed)
		}
		step[fixed] = 0
	}
	m.x.eta(step, m.modified)
	if longest := floats.Norm(m.modified, math.Inf(1)); longest > firthLongest {
		floats.Scale(firthLongest/longest, step)
	}
	return m.qr.length(step)
}

// advance takes the step, halved until the penalised likelihood does not fall.
func (m *penalised) advance(beta, step []float64, before float64) (float64, error) {
	for range 40 {
		floats.Add(beta, step)
		ll, err := m.logLik(beta)
		if err == nil && ll >= before-1e-12*(1+math.Abs(before)) {
			return ll, nil
		}
		floats.Sub(beta, step)
		floats.Scale(0.5, step)
	}
	return m.logLik(beta)
}
