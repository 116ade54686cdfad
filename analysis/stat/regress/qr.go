package regress

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"

	"pourback/analysis/stat"
)

// collinearTolerance is the sine of the smallest angle that a column may make
// with the span of those before it.
const collinearTolerance = 1e-10

// qr is the Householder factorisation √W·X = QR of a weighted design (Golub &
// Van Loan, Matrix Computations, §5.2), each column scaled to length one first
// so that units do not matter. Its buffers are reused from one factorisation to
// the next.
type qr struct {
	p     int
	v     [][]float64 // v[j][j:] is the j-th Householder vector
	tau   []float64   // 2/‖v_j‖²
	r     [][]float64 // r[j][k], k ≤ j: row k of column j of R
	scale []float64   // lengths of the columns of √W·X
	sqrtW []float64
	rhs   []float64

	tolerance float64
}

func newQR(x Design) *qr {
	n, p := len(x[0]), len(x)
	f := &qr{p: p, tau: make([]float64, p), scale: make([]float64, p), sqrtW: make([]float64, n), rhs: make([]float64, n), tolerance: collinearTolerance}
	for range x {
		f.v = append(f.v, make([]float64, n))
		f.r = append(f.r, make([]float64, p))
	}
	return f
}

// factor decomposes √W·X; w nil means weights of one. It reports the first
// column that depends on those before it.
func (f *qr) factor(x Design, w []float64) error {
	n := len(x[0])
	for i := range f.sqrtW {
		f.sqrtW[i] = 1
		if w != nil {
			f.sqrtW[i] = math.Sqrt(w[i])
		}
	}
	for j, column := range x {
		v := f.v[j]
		for i, xi := range column {
			v[i] = xi * f.sqrtW[i]
		}
		f.scale[j] = floats.Norm(v, 2)
		if f.scale[j] == 0 || math.IsInf(f.scale[j], 0) || j >= n {
			return dependent(j)
		}
		floats.Scale(1/f.scale[j], v)
	}
	for j := range x {
		if !f.reflect(j) {
			return dependent(j)
		}
	}
	return nil
}

// reflect makes the j-th Householder vector and applies it to the columns from
// j on. It returns false when nothing of column j is left below the diagonal.
func (f *qr) reflect(j int) bool {
	v := f.v[j][j:]
	norm := floats.Norm(v, 2)
	if !(norm > f.tolerance) {
		return false
	}
	copy(f.r[j], f.v[j][:j])
	f.r[j][j] = -math.Copysign(norm, v[0])
	v[0] -= f.r[j][j]
	f.tau[j] = -1 / (f.r[j][j] * v[0])
	for k := j + 1; k < f.p; k++ {
		f.apply(j, f.v[k])
	}
	return true
}

// apply reflects y in the j-th Householder vector.
func (f *qr) apply(j int, y []float64) {
	v := f.v[j][j:]
	floats.AddScaled(y[j:], -f.tau[j]*floats.Dot(v, y[j:]), v)
}

func dependent(j int) error {
	if j == 0 {
		return fmt.Errorf("column 0 is zero wherever it has weight: %w", stat.ErrCollinear)
	}
	return fmt.Errorf("column %d is a combination of the columns before it: leave it out: %w", j, stat.ErrCollinear)
}

// solve writes the β that minimises Σw(y−Xβ)² into dst.
func (f *qr) solve(y, dst []float64) {
	for i, s := range f.sqrtW {
		f.rhs[i] = s * y[i]
	}
	for j := 0; j < f.p; j++ {
		f.apply(j, f.rhs)
	}
	for j := f.p - 1; j >= 0; j-- {
		b := f.rhs[j]
		for k := j + 1; k < f.p; k++ {
			b -= f.r[k][j] * dst[k] * f.scale[k]
		}
		dst[j] = b / f.r[j][j] / f.scale[j]
	}
}

// half writes z with R'z = S⁻¹x into dst, so that x'(X'WX)⁻¹x = ‖z‖².
func (f *qr) half(x, dst []float64) {
	for j := range dst {
		z := x[j] / f.scale[j]
		for k := 0; k < j; k++ {
			z -= f.r[j][k] * dst[k]
		}
		dst[j] = z / f.r[j][j]
	}
}

// quadratic returns x'(X'WX)⁻¹x.
func (f *qr) quadratic(x, scratch []float64) float64 {
	f.half(x, scratch)
	return floats.Dot(scratch, scratch)
}

// length returns √(δ'X'WXδ) = ‖RSδ‖.
func (f *qr) length(delta []float64) float64 {
	sum := 0.0
	for k := 0; k < f.p; k++ {
		row := 0.0
		for j := k; j < f.p; j++ {
			row += f.r[j][k] * f.scale[j] * delta[j]
		}
		sum += row * row
	}
	return math.Sqrt(sum)
}

// logDet returns log|X'WX|.
func (f *qr) logDet() float64 {
	sum := 0.0
	for j := range f.scale {
		sum += 2 * (math.Log(math.Abs(f.r[j][j])) + math.Log(f.scale[j]))
	}
	return sum
}

// inverse returns (X'WX)⁻¹ times k.
func (f *qr) inverse(k float64) *mat.SymDense {
	columns := make([][]float64, f.p)
	for j := range columns {
		unit := make([]float64, f.p)
		unit[j] = 1
		columns[j] = make([]float64, f.p)
		f.half(unit, columns[j])
	}
	inv := mat.NewSymDense(f.p, nil)
	for i := range columns {
		for j := i; j < f.p; j++ {
			inv.SetSym(i, j, k*floats.Dot(columns[i], columns[j]))
		}
	}
	return inv
}

// leverages writes w_i·x_i'(X'WX)⁻¹x_i into dst.
func (f *qr) leverages(x Design, dst []float64) {
	row, z := make([]float64, f.p), make([]float64, f.p)
	for i := range dst {
		for j := range x {
			row[j] = x[j][i] * f.sqrtW[i]
		}
		dst[i] = f.quadratic(row, z)
	}
}

// deviations returns the square roots of a covariance's diagonal.
func deviations(cov *mat.SymDense) []float64 {
	se := make([]float64, cov.SymmetricDim())
	for j := range se {
		se[j] = math.Sqrt(cov.At(j, j))
	}
	return se
}
