package pool

import (
	"fmt"
	"math"
	"slices"
	"sync"

	"gonum.org/v1/gonum/mat"

	"pourback/analysis/stat"
	"pourback/analysis/stat/regress"
)

// Posterior is a fitted model: one conjugate posterior for each cell of the grid,
// r outside, κ inside.
type Posterior struct {
	stat.Fit // Iterations counts the reweightings of FitStudent, or is zero
	N        int
	Groups   int
	Nu       float64 // degrees of freedom of every prediction, ν0+n
	Model    Model
	Cells    []Cell

	student func() regress.Student // the law of Nu, made when a figure first asks for it
}

// Fit finds the posterior. The time is one pass over the data for each κ.
func (m Model) Fit(d Data) (*Posterior, error) {
	if err := m.check(d.columns()); err != nil {
		return nil, err
	}
	groups, err := d.check(slices.Max(m.GridKappa))
	if err != nil {
		return nil, err
	}
	m = m.clone()
	if d.Group == nil {
		m.GridR = []float64{0}
	}
	shift, err := m.pilot(d)
	if err != nil {
		return nil, err
	}
	d.Y = shifted(d, shift)
	post := &Posterior{N: len(d.Y), Groups: groups, Nu: m.Nu + float64(len(d.Y)), Model: m}
	post.Converged = true
	if err := post.solve(accumulate(d, groups, m.GridKappa), shift); err != nil {
		return nil, err
	}
	return post, nil
}

// pilot is a fit without groups at κ = 0. The outcomes are measured from it, so
// that sums of squares hold scatter and not level, and keep their digits.
func (m Model) pilot(d Data) ([]float64, error) {
	s := accumulate(Data{X: d.X, Cells: d.Cells, Y: d.Y, H: d.H, Weight: d.Weight}, 0, []float64{0})[0]
	cell, err := m.solve(s, 0, 0, 1, make([]float64, s.p), m.Nu+float64(len(d.Y)))
	return cell.Beta, err
}

// shifted returns y − X·shift.
func shifted(d Data, shift []float64) []float64 {
	y := slices.Clone(d.Y)
	if d.Cells.Of != nil {
		d.Cells.shift(y, d.H, shift)
		return y
	}
	for j, column := range d.X {
		for i, x := range column {
			y[i] -= shift[j] * x
		}
	}
	return y
}

// solve fills the cells and turns their log weights into probabilities.
func (post *Posterior) solve(byKappa []*sums, shift []float64) error {
	m := post.Model
	post.student = sync.OnceValue(func() regress.Student { return regress.NewStudent(post.Nu).Tabled() })
	widths, nk := trapezoid(m.GridR), len(m.GridKappa)
	post.Cells = make([]Cell, len(m.GridR)*nk)
	errs := make([]error, len(post.Cells))
	stat.InParallel(len(post.Cells), func(i int) {
		s := byKappa[min(i%nk, len(byKappa)-1)]
		post.Cells[i], errs[i] = m.solve(s, m.GridR[i/nk], m.GridKappa[i%nk], widths[i/nk], shift, post.Nu)
	})
	weights := make([]float64, len(post.Cells))
	for i, err := range errs {
		if err != nil {
			return err
		}
		weights[i] = post.Cells[i].logWeight
	}
	normalise(weights)
	for i, w := range weights {
		post.Cells[i].Weight = w
	}
	return nil
}

// Predict is the law of the next outcome at columns x and variance covariate h in
// a group, or in a new one (−1).
func (post *Posterior) Predict(x []float64, h float64, group int) (Mixture, error) {
	if err := nonNegative("H", []float64{h}); err != nil {
		return Mixture{}, err
	}
	return post.law(x, func(c *Cell) float64 { return 1 + c.Kappa*h }, term{group, 1})
}

// Part is a share that an outcome has of a group's effect; group −1 is one not seen
// before.
type Part struct {
	Group int
	Times float64
}

// PredictOf is the law of the next outcome at columns x of a group that is unlike any
// seen, with its effect made up of parts of others': Σtimes·u.
func (post *Posterior) PredictOf(x []float64, h float64, parts []Part) (Mixture, error) {
	if err := nonNegative("H", []float64{h}); err != nil {
		return Mixture{}, err
	}
	return post.law(x, func(c *Cell) float64 { return 1 + c.Kappa*h }, termsOf(parts)...)
}

func termsOf(parts []Part) []term {
	terms := make([]term, len(parts))
	for i, p := range parts {
		terms[i] = term{p.Group, p.Times}
	}
	return terms
}

// Line is the posterior of x'β + u, the level about which outcomes at columns x
// in a group, or a new one (−1), scatter.
func (post *Posterior) Line(x []float64, group int) (Mixture, error) {
	return post.law(x, noError, term{group, 1})
}

// Average is the posterior of x'β, the level of an average group.
func (post *Posterior) Average(x []float64) (Mixture, error) { return post.law(x, noError) }

// Coef is the posterior of β_j.
func (post *Posterior) Coef(j int) (Mixture, error) {
	if j < 0 || j >= len(post.Model.Mean) {
		return Mixture{}, fmt.Errorf("coefficient %d of %d: %w", j, len(post.Model.Mean), stat.ErrDomain)
	}
	x := make([]float64, len(post.Model.Mean))
	x[j] = 1
	return post.Average(x)
}

// Effect is the posterior of u, how a group differs from an average one. With r = 0
// on the grid it has a point mass at zero.
func (post *Posterior) Effect(group int) (Mixture, error) {
	return post.law(make([]float64, len(post.Model.Mean)), noError, term{group, 1})
}

// Difference is the posterior of u_a − u_b, one group against another.
func (post *Posterior) Difference(a, b int) (Mixture, error) {
	if a == b {
		return Mixture{}, fmt.Errorf("group %d against itself: %w", a, stat.ErrDomain)
	}
	return post.law(make([]float64, len(post.Model.Mean)), noError, term{a, 1}, term{b, -1})
}

// GridWeights are the posterior probabilities of the cells, r outside, κ inside.
func (post *Posterior) GridWeights() []float64 {
	weights := make([]float64, len(post.Cells))
	for i := range post.Cells {
		weights[i] = post.Cells[i].Weight
	}
	return weights
}

// Marginals are the posterior probabilities along each grid.
func (post *Posterior) Marginals() (r, kappa []float64) {
	nk := len(post.Model.GridKappa)
	r, kappa = make([]float64, len(post.Model.GridR)), make([]float64, nk)
	for i := range post.Cells {
		r[i/nk] += post.Cells[i].Weight
		kappa[i%nk] += post.Cells[i].Weight
	}
	return r, kappa
}

// Variance is the posterior mean of the error variance σ²(1+κh) of an outcome;
// +Inf where Nu ≤ 2.
func (post *Posterior) Variance(h float64) float64 {
	if post.Nu <= 2 {
		return math.Inf(1)
	}
	sum := 0.0
	for _, c := range post.Cells {
		sum += c.Weight * c.Sigma2 * post.Nu / (post.Nu - 2) * (1 + c.Kappa*h)
	}
	return sum
}

// term is a group's effect times a coefficient.
type term struct {
	group int
	times float64
}

func noError(*Cell) float64 { return 0 }

// law is the posterior of x'β + Σtimes·u_group + an error of relative variance
// errorVar. By the block inverse of A its variance over σ² is v'C⁻¹v + Σtimes²·t_g
// with v = x − Σtimes·t_g·b_g.
func (post *Posterior) law(x []float64, errorVar func(*Cell) float64, terms ...term) (Mixture, error) {
	if len(x) != len(post.Model.Mean) {
		return Mixture{}, fmt.Errorf("%d columns, the fit has %d: %w", len(x), len(post.Model.Mean), stat.ErrShape)
	}
	if err := stat.Finite("column", x...); err != nil {
		return Mixture{}, err
	}
	for _, t := range terms {
		if t.group < -1 {
			return Mixture{}, fmt.Errorf("group %d: %w", t.group, stat.ErrDomain)
		}
	}
	n := len(post.Cells)
	out := Mixture{N: post.N, Nu: post.Nu, Weight: post.GridWeights(), Loc: make([]float64, n), Scale: make([]float64, n), student: post.student()}
	v := mat.NewVecDense(len(x), nil)
	for i := range post.Cells {
		c := &post.Cells[i]
		loc, own := c.combine(x, terms, v.RawVector().Data)
		out.Loc[i] = loc
		out.Scale[i] = math.Sqrt(c.Sigma2 * math.Max(0, errorVar(c)+own+mat.Inner(v, c.cov, v)))
	}
	return out, stat.Finite("posterior", append(out.Loc[:n:n], out.Scale...)...)
}

// combine returns the posterior mean of x'β + Σtimes·u and Σtimes²·t_g, and
// writes v.
func (c *Cell) combine(x []float64, terms []term, v []float64) (loc, own float64) {
	copy(v, x)
	for j, b := range c.Beta {
		loc += x[j] * b
	}
	for _, term := range terms {
		t, effect, sumX := c.group(term.group)
		loc += term.times * effect
		own += term.times * term.times * t
		for j, s := range sumX {
			v[j] -= term.times * t * s
		}
	}
	return loc, own
}

// group returns t_g, the posterior mean t_g·Σw(y−x'β) of the group's effect, and
// the group's Σw·x.
func (c *Cell) group(g int) (t, effect float64, sumX []float64) {
	w, residual, sumX := c.sums.group(g)
	for j, s := range sumX {
		residual -= s * c.shifted[j]
	}
	t = shrink(c.R, w)
	return t, t * residual, sumX
}
