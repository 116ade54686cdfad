package pool

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"

	"pourback/analysis/stat"
)

// Cell is the conjugate posterior given one (r, κ).
type Cell struct {
	R, Kappa float64
	Weight   float64   // posterior probability of the cell
	Beta     []float64 // posterior mean of β
	Sigma2   float64   // S/ν

	shifted   []float64 // Beta less the shift of the outcomes
	cov       *mat.SymDense
	sums      *sums
	logWeight float64
}

// reduced is the system for β that is left when the groups are eliminated from
// A: C = P+X'WX−Σt_g·b_g·b_g', t_g = r²/(1+r²Σw), b_g the group's Σw·x.
type reduced struct {
	c       *mat.SymDense
	rhs     *mat.VecDense
	squares float64 // Σwy² − Σt_g·(Σwy)²
	logDet  float64 // Σlog(1+r²Σw)
}

// reduce eliminates the groups. At r = 0 nothing is taken away.
func (s *sums) reduce(r float64) reduced {
	p := s.p
	c, rhs := append([]float64(nil), s.xx...), append([]float64(nil), s.xy...)
	out := reduced{squares: s.yy}
	for at := 0; r > 0 && at < len(s.groups); at += p + 2 {
		w, y, x := s.groups[at], s.groups[at+1], s.groups[at+2:at+2+p]
		t := shrink(r, w)
		out.squares -= t * y * y
		out.logDet += math.Log1p(r * r * w)
		for j, xj := range x {
			rhs[j] -= t * xj * y
			for k := 0; k <= j; k++ {
				c[j*p+k] -= t * xj * x[k]
			}
		}
	}
	out.c, out.rhs = mat.NewSymDense(p, nil), mat.NewVecDense(p, rhs)
	for j := range p {
		for k := 0; k <= j; k++ {
			out.c.SetSym(j, k, c[j*p+k])
		}
	}
	return out
}

// shrink is the posterior variance of a group's effect, over σ², given β:
// 1/(1/r²+w) = r²/(1+r²w).
func shrink(r, w float64) float64 { return r * r / (1 + r*r*w) }

// solve finds m, S and the log weight of the cell, for prior means shifted with
// the outcomes.
func (m Model) solve(s *sums, r, kappa, width float64, shift []float64, nu float64) (Cell, error) {
	system := s.reduce(r)
	total := m.Nu*m.Sigma*m.Sigma + system.squares
	for j, sd := range m.SD {
		precision := (m.Sigma / sd) * (m.Sigma / sd)
		mean := m.Mean[j] - shift[j]
		system.c.SetSym(j, j, system.c.At(j, j)+precision)
		system.rhs.SetVec(j, system.rhs.AtVec(j)+precision*mean)
		total += precision * mean * mean
	}
	var chol mat.Cholesky
	if !chol.Factorize(system.c) {
		return Cell{}, fmt.Errorf("columns are dependent and the prior too weak to tell them apart (r %v, κ %v): %w", r, kappa, stat.ErrCollinear)
	}
	cell := Cell{R: r, Kappa: kappa, sums: s, cov: mat.NewSymDense(s.p, nil)}
	beta := mat.NewVecDense(s.p, nil)
	if chol.SolveVecTo(beta, system.rhs) != nil || chol.InverseTo(cell.cov) != nil {
		return Cell{}, fmt.Errorf("columns are all but dependent and the prior too weak to tell them apart (r %v, κ %v): %w", r, kappa, stat.ErrCollinear)
	}
	cell.shifted = beta.RawVector().Data
	for j, b := range cell.shifted {
		cell.Beta = append(cell.Beta, b+shift[j])
	}
	scatter := math.Max(total-mat.Dot(system.rhs, beta), m.Nu*m.Sigma*m.Sigma)
	cell.Sigma2 = scatter / nu
	cell.logWeight = (s.logW-system.logDet-chol.LogDet()-nu*math.Log(scatter))/2 + math.Log(width) - math.Log1p((r/m.RScale)*(r/m.RScale))
	return cell, stat.Finite("posterior", append(cell.Beta[:s.p:s.p], cell.Sigma2, cell.logWeight)...)
}

// trapezoid returns the widths of the trapezoid rule on a grid; one for a grid of
// one point.
func trapezoid(grid []float64) []float64 {
	widths := make([]float64, len(grid))
	if len(grid) == 1 {
		widths[0] = 1
	}
	for k := 1; k < len(grid); k++ {
		half := (grid[k] - grid[k-1]) / 2
		widths[k-1] += half
		widths[k] += half
	}
	return widths
}
