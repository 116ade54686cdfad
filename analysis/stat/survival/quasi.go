package survival

import (
	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// quasi learns the inverse of minus the second derivative of an objective from
// the change of its slope between steps, by the rule of Broyden, Fletcher,
// Goldfarb and Shanno (Nocedal & Wright 2006, Numerical Optimization, §6.1). It
// starts from an inverse that is about right.
type quasi struct {
	inverse     *mat.SymDense
	beta, slope []float64 // at the last look
}

// direction gives the uphill step at β, whose slope is given, or nil before
// anything is known and where what was learned points downhill.
func (q *quasi) direction(beta, slope []float64) []float64 {
	if q.inverse == nil {
		return nil
	}
	q.learn(beta, slope)
	q.beta, q.slope = append(q.beta[:0], beta...), append(q.slope[:0], slope...)
	step := make([]float64, len(beta))
	q.times(step, slope)
	if floats.Dot(step, slope) <= 0 {
		return nil
	}
	return step
}

// restart forgets all but the given inverse.
func (q *quasi) restart(inverse *mat.SymDense, beta, slope []float64) {
	q.inverse = inverse
	q.beta, q.slope = append(q.beta[:0], beta...), append(q.slope[:0], slope...)
}

// times sets dst to the inverse times v.
func (q *quasi) times(dst, v []float64) {
	mat.NewVecDense(len(dst), dst).MulVec(q.inverse, mat.NewVecDense(len(v), v))
}

// learn brings the inverse up to date with s = Δβ and y = −Δslope, unless they
// say that the objective bends upward:
// H ← H − (s·(Hy)' + Hy·s')/s'y + (1 + y'Hy/s'y)·s·s'/s'y.
func (q *quasi) learn(beta, slope []float64) {
	p := len(beta)
	s, y, hy := make([]float64, p), make([]float64, p), make([]float64, p)
	floats.SubTo(s, beta, q.beta)
	floats.SubTo(y, q.slope, slope)
	sy := floats.Dot(s, y)
	if !(sy > 1e-12*floats.Norm(s, 2)*floats.Norm(y, 2)) {
		return
	}
	q.times(hy, y)
	more := (1 + floats.Dot(y, hy)/sy) / sy
	for j := range p {
		for i := 0; i <= j; i++ {
			q.inverse.SetSym(i, j, q.inverse.At(i, j)-(s[i]*hy[j]+hy[i]*s[j])/sy+more*s[i]*s[j])
		}
	}
}
