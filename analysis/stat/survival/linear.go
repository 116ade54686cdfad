package survival

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// worstCondition is how nearly singular a correlation matrix may be.
const worstCondition = 1e13

// spd solves with a positive definite matrix, which it scales to ones on the
// diagonal so that the units of columns do not matter.
type spd struct {
	chol mat.Cholesky
	root []float64 // of the diagonal
}

// factor fails where the matrix is not positive definite, or hardly.
func factor(m mat.Symmetric) (*spd, bool) {
	n := m.SymmetricDim()
	f := &spd{root: make([]float64, n)}
	for j := range n {
		f.root[j] = math.Sqrt(m.At(j, j))
		if !(f.root[j] > 0 && f.root[j] <= math.MaxFloat64) {
			return nil, false
		}
	}
	scaled := mat.NewSymDense(n, nil)
	for j := range n {
		for i := 0; i <= j; i++ {
			scaled.SetSym(i, j, m.At(i, j)/f.root[i]/f.root[j])
		}
	}
	return f, f.chol.Factorize(scaled) && f.chol.Cond() < worstCondition
}

// solve returns m⁻¹u.
func (f *spd) solve(u []float64) []float64 {
	x := mat.NewVecDense(len(u), nil)
	for j, v := range u {
		x.SetVec(j, v/f.root[j])
	}
	if err := f.chol.SolveVecTo(x, x); err != nil {
		panic(err) // factor has seen to the condition
	}
	for j, r := range f.root {
		x.SetVec(j, x.AtVec(j)/r)
	}
	return x.RawVector().Data
}

func (f *spd) inverse() *mat.SymDense {
	inv := &mat.SymDense{}
	if err := f.chol.InverseTo(inv); err != nil {
		panic(err) // as above
	}
	for j, r := range f.root {
		for i := 0; i <= j; i++ {
			inv.SetSym(i, j, inv.At(i, j)/r/f.root[i])
		}
	}
	return inv
}

// logDet is log|m|.
func (f *spd) logDet() float64 {
	sum := f.chol.LogDet()
	for _, r := range f.root {
		sum += 2 * math.Log(r)
	}
	return sum
}

// dependent is the first column that is a linear combination of those before
// it, as the information sees it, or −1.
func dependent(info *mat.SymDense) int {
	p := info.SymmetricDim()
	l := mat.NewTriDense(p, mat.Lower, nil)
	for j := range p {
		for i := 0; i <= j; i++ {
			left := info.At(i, j)
			for k := range i {
				left -= l.At(i, k) * l.At(j, k)
			}
			if i < j {
				l.SetTri(j, i, left/l.At(i, i))
				continue
			}
			if !(left > 1e-11*info.At(j, j)) {
				return j
			}
			l.SetTri(j, j, math.Sqrt(left))
		}
	}
	return -1
}
