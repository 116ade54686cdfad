package pool

import (
	"fmt"
	"math"
	"math/rand/v2"
	"sort"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"

	"pourback/analysis/stat"
)

// Row is an outcome to come. A negative group is one not seen before; rows with
// the same number share it.
type Row struct {
	X     []float64
	H     float64 // what its variance grows with
	Group int
	Var   float64 // further variance of its own, such as of something left open
	Parts []Part  // of which its group's effect is made up; Group whole where nil
}

// parts are those of the row.
func (r *Row) parts() []Part {
	if r.Parts == nil {
		return []Part{{r.Group, 1}}
	}
	return r.Parts
}

// Joint is the law of several outcomes to come together: in each cell of the
// grid a multivariate Student-t, for they share β, σ² and their groups'
// effects. (Box & Tiao 1973, §2.7.)
type Joint struct {
	Nu     float64
	N      int
	Weight []float64
	Loc    [][]float64     // a cell's locations, one a row
	Scale  []*mat.SymDense // a cell's squared scales

	roots []*mat.TriDense
	upTo  []float64 // running sum of Weight
}

// Together is the law of the rows' outcomes.
func (post *Posterior) Together(rows []Row) (Joint, error) {
	if len(rows) == 0 {
		return Joint{}, fmt.Errorf("no outcomes to come: %w", stat.ErrNoData)
	}
	p := len(post.Model.Mean)
	for _, r := range rows {
		if len(r.X) != p {
			return Joint{}, fmt.Errorf("%d columns, the fit has %d: %w", len(r.X), p, stat.ErrShape)
		}
		if err := stat.Finite("column", r.X...); err != nil {
			return Joint{}, err
		}
		if err := nonNegative("H and variance", []float64{r.H, r.Var}); err != nil {
			return Joint{}, err
		}
	}
	j := Joint{Nu: post.Nu, N: post.N, Weight: post.GridWeights()}
	for k := range post.Cells {
		loc, scale := post.Cells[k].together(rows, post.Nu)
		var chol mat.Cholesky
		if !chol.Factorize(scale) {
			return Joint{}, fmt.Errorf("outcomes without a spread of their own: %w", stat.ErrNoVariation)
		}
		root := mat.NewTriDense(len(rows), mat.Lower, nil)
		chol.LTo(root)
		j.Loc, j.Scale, j.roots = append(j.Loc, loc), append(j.Scale, scale), append(j.roots, root)
	}
	j.upTo = floats.CumSum(make([]float64, len(j.Weight)), j.Weight)
	return j, nil
}

// together are a cell's locations and squared scales: σ²(v_i'C⁻¹v_j + Σ times_i·times_j·t_g
// over the groups that both have + (1+κh_i) on the diagonal), with v = x − Σtimes·t_g·b_g.
func (c *Cell) together(rows []Row, nu float64) ([]float64, *mat.SymDense) {
	n := len(rows)
	loc, vs := make([]float64, n), make([]*mat.VecDense, n)
	for i, r := range rows {
		vs[i] = mat.NewVecDense(len(r.X), nil)
		loc[i], _ = c.combine(r.X, termsOf(r.parts()), vs[i].RawVector().Data)
	}
	scale := mat.NewSymDense(n, nil)
	for i := range n {
		for j := range i + 1 {
			s := mat.Inner(vs[i], c.cov, vs[j])
			for _, a := range rows[i].parts() {
				for _, b := range rows[j].parts() {
					if a.Group == b.Group {
						t, _, _ := c.group(a.Group)
						s += a.Times * b.Times * t
					}
				}
			}
			if i == j {
				s += 1 + c.Kappa*rows[i].H
			}
			s *= c.Sigma2
			if i == j {
				s += rows[i].Var * max(0, nu-2) / nu
			}
			scale.SetSym(i, j, s)
		}
	}
	return loc, scale
}

// Sum is the law of Σtimes·outcome, exact: a Student-t in each cell.
func (j Joint) Sum(times []float64) Mixture {
	out := Mixture{N: j.N, Nu: j.Nu, Weight: j.Weight, Loc: make([]float64, len(j.Weight)), Scale: make([]float64, len(j.Weight))}
	t := mat.NewVecDense(len(times), times)
	for k := range j.Weight {
		out.Loc[k] = floats.Dot(times, j.Loc[k])
		out.Scale[k] = math.Sqrt(max(0, mat.Inner(t, j.Scale[k], t)))
	}
	return out
}

// Normal is a joint law with the same means, variances and covariances whose
// cells are normal. Exponentials of it have means; those of a Student-t have
// none. It needs Nu > 2.
func (j Joint) Normal() Joint {
	inflate := 1.0
	if !math.IsInf(j.Nu, 1) {
		inflate = j.Nu / (j.Nu - 2)
	}
	out := j
	out.Nu, out.Scale, out.roots = math.Inf(1), nil, nil
	for k := range j.Weight {
		scale, root := mat.NewSymDense(len(j.Loc[k]), nil), mat.NewTriDense(len(j.Loc[k]), mat.Lower, nil)
		scale.ScaleSym(inflate, j.Scale[k])
		root.ScaleTri(math.Sqrt(inflate), j.roots[k])
		out.Scale, out.roots = append(out.Scale, scale), append(out.roots, root)
	}
	return out
}

// Draw fills out with one draw, an outcome a row.
func (j Joint) Draw(rng *rand.Rand, out []float64) {
	k := min(sort.SearchFloat64s(j.upTo, rng.Float64()*j.upTo[len(j.upTo)-1]), len(j.upTo)-1)
	shrunk := 1.0
	if !math.IsInf(j.Nu, 1) {
		shrunk = math.Sqrt(j.Nu / distuv.ChiSquared{K: j.Nu, Src: rng}.Rand())
	}
	var z [16]float64
	normals := z[:0]
	for i := range out {
		normals = append(normals, rng.NormFloat64())
		sum := 0.0
		for m := range i + 1 {
			sum += j.roots[k].At(i, m) * normals[m]
		}
		out[i] = j.Loc[k][i] + shrunk*sum
	}
}
