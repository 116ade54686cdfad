package regress

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"

	"pourback/analysis/stat"
)

// penalised is the penalised likelihood with its working space.
type penalised struct {
	x           Design
	y, size     []float64
	qr          *qr
	eta, w, hat []float64
}

func newPenalised(x Design, y, size []float64) *penalised {
	n := len(y)
	return &penalised{x: x, y: y, size: size, qr: newQR(x),
		eta: make([]float64, n), w: make([]float64, n), hat: make([]float64, n)}
}

// logLik returns ℓ(β)+½log|X'WX| and leaves the factored information behind.
func (m *penalised) logLik(beta []float64) (float64, error) {
	m.x.eta(beta, m.eta)
	sum := 0.0
	for i, eta := range m.eta {
		sum += logShares(m.y[i], eta, m.size[i])
		m.w[i], _ = binomial.weigh(m.y[i], eta, m.size[i])
	}
	if err := m.qr.factor(m.x, m.w); err != nil {
		return 0, err
	}
	return sum + m.qr.logDet()/2, nil
}

const (
	firthIterations = 1000
	firthTolerance  = 1e-6 // a last step this long, in standard errors, leaves its square
	firthLongest    = 4.0  // most that a step may move any row's log odds
)

// maximise improves beta in place, leaving coefficient fixed (−1: none) where it
// is, and returns the maximum. Steps are halved until the penalised likelihood
// rises.
func (m *penalised) maximise(beta []float64, fixed int) (float64, int, error) {
	ll, err := m.logLik(beta)
	if err != nil {
		return 0, 0, err
	}
	step := make([]float64, len(beta))
	for iteration := 1; iteration <= firthIterations; iteration++ {
		length, err := m.ascend(step, fixed)
		if err != nil {
			return 0, iteration, err
		}
		if ll, err = m.advance(beta, step, ll); err != nil {
			return 0, iteration, err
		}
		if length < firthTolerance {
			return ll, iteration, nil
		}
	}
	return 0, firthIterations, fmt.Errorf("Firth regression after %d iterations: %w", firthIterations, stat.ErrNotConverged)
}

// ascend writes the step of Newton's method, or of Fisher's scoring where the
// penalised likelihood is not concave, and returns its length in standard errors.
func (m *penalised) ascend(step []float64, fixed int) (float64, error) {
	score, information, hessian := m.slopes()
	if !solveFree(hessian, score, fixed, step) && !solveFree(information, score, fixed, step) {
		return 0, fmt.Errorf("information of the Firth regression is singular: %w", stat.ErrCollinear)
	}
	length := m.qr.length(step)
	m.x.eta(step, m.hat)
	if longest := floats.Norm(m.hat, math.Inf(1)); longest > firthLongest {
		floats.Scale(firthLongest/longest, step)
	}
	return length, nil
}

// slopes returns the modified score U* = X'(y−mπ+h·s/2), s = 1−2π, the
// information X'WX, and minus the second derivatives of the penalised likelihood,
// X'WX + X'diag(h(v−s²/2))X + ½tr(CM_jCM_k), with v = π(1−π), C = (X'WX)⁻¹ and
// M_j = X'diag(w·s·x_j)X.
func (m *penalised) slopes() (score []float64, information, hessian *mat.SymDense) {
	p := len(m.x)
	m.qr.leverages(m.x, m.hat)
	residual, curve, skew := make([]float64, len(m.y)), make([]float64, len(m.y)), make([]float64, len(m.y))
	for i, eta := range m.eta {
		p, q := shares(eta)
		_, r := binomial.weigh(m.y[i], eta, m.size[i])
		residual[i] = r + m.hat[i]*(q-p)/2
		curve[i] = m.w[i] + m.hat[i]*(p*q-(q-p)*(q-p)/2)
		skew[i] = m.w[i] * (q - p)
	}
	for _, column := range m.x {
		score = append(score, floats.Dot(column, residual))
	}
	information, hessian = m.crossProduct(m.w), m.crossProduct(curve)
	cov, third := m.qr.inverse(1), make([]*mat.Dense, p) // third[j] = C·M_j
	weighted := make([]float64, len(m.y))
	for j := range third {
		third[j] = mat.NewDense(p, p, nil)
		third[j].Mul(cov, m.crossProduct(floats.MulTo(weighted, skew, m.x[j])))
		for k := range j + 1 {
			hessian.SetSym(j, k, hessian.At(j, k)+traceOfProduct(third[j], third[k])/2)
		}
	}
	return score, information, hessian
}

// crossProduct is X'diag(w)X.
func (m *penalised) crossProduct(w []float64) *mat.SymDense {
	out, wx := mat.NewSymDense(len(m.x), nil), make([]float64, len(w))
	for j, column := range m.x {
		floats.MulTo(wx, w, column)
		for k := range j + 1 {
			out.SetSym(j, k, floats.Dot(wx, m.x[k]))
		}
	}
	return out
}

// traceOfProduct is tr(AB).
func traceOfProduct(a, b *mat.Dense) float64 {
	p, _ := a.Dims()
	sum := 0.0
	for i := range p {
		for j := range p {
			sum += a.At(i, j) * b.At(j, i)
		}
	}
	return sum
}

// solveFree solves a·step = score over all coefficients but the fixed one, whose
// step is zero. It returns false when a is not positive definite.
func solveFree(a *mat.SymDense, score []float64, fixed int, step []float64) bool {
	var free []int
	for j := range step {
		if step[j] = 0; j != fixed {
			free = append(free, j)
		}
	}
	if len(free) == 0 {
		return true
	}
	sub, rhs := mat.NewSymDense(len(free), nil), mat.NewVecDense(len(free), nil)
	for r, j := range free {
		rhs.SetVec(r, score[j])
		for c, k := range free[:r+1] {
			sub.SetSym(r, c, a.At(j, k))
		}
	}
	var chol mat.Cholesky
	if !chol.Factorize(sub) {
		return false
	}
	_ = chol.SolveVecTo(rhs, rhs) // a poor step is only a slow one: the next is taken from where it leads
	for r, j := range free {
		step[j] = rhs.AtVec(r)
	}
	return true
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
