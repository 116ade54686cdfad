package concrete

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/analysis/stat"
	"pourback/analysis/stat/pool"
	"pourback/ingest/record"
)

// Model predicts what a placement uses beyond its neat volume V, in yd³:
//
//	used/V − 1 = b + u_use + c_base + a_method/V + e,  Var(e) = σ²(1+κ/V)
//
// b a share of the volume, u how the use differs and c how the base does, a
// the yards lost whatever the size: the line's filling, the washout. Fitted by
// the engine of [pool] with h = 1/V and the uses as its groups.
type Model struct {
	post    *pool.Posterior
	priors  setting.OveragePriors
	uses    []string // by group number
	methods []string // by column from 1 on; the last stands for all others
	bases   []string // by column behind them; any other is an average base
	cells   []overageCell
	borrows map[string][]pool.Part // by use that the records do not hold
	tails   float64                // degrees of freedom of the errors; 0 where they are normal
}

// Job is what the overage of a placement depends on. A word left empty
// is any, in the shares of the records; one that they do not hold is a new one.
type Job struct {
	Use, Method, Base string
	NeatYd            float64
}

// Borrow has a use that the records do not hold take shares of the effects of uses
// that they hold; what is left of its difference stays its own, so that it varies as
// much as uses do. Uses that the model does not know are left out.
func (m *Model) Borrow(use string, shares map[string]float64) {
	if m.use(use) != newWord {
		return
	}
	var parts []pool.Part
	squares := 0.0
	for _, name := range figure.SortedNames(shares) {
		if g := m.use(name); g != newWord && shares[name] > 0 {
			parts = append(parts, pool.Part{Group: g, Times: shares[name]})
			squares += shares[name] * shares[name]
		}
	}
	if len(parts) == 0 || squares > 1 {
		return
	}
	if m.borrows == nil {
		m.borrows = map[string][]pool.Part{}
	}
	m.borrows[use] = append(parts, pool.Part{Group: newWord, Times: math.Sqrt(1 - squares)})
}

// overageCell counts the records of a use, method and base, by their numbers.
type overageCell struct{ use, method, base, n int }

func (c overageCell) compare(d overageCell) int {
	return cmp.Or(cmp.Compare(c.use, d.use), cmp.Compare(c.method, d.method), cmp.Compare(c.base, d.base))
}

// Numbers of no group and no column.
const (
	newWord = -1 // a use that the records do not hold; an average base
	anyWord = -2 // left open: any, in the shares of the records
)

// otherMethods names the column that rare methods share.
const otherMethods = "other"

// Fit fits the model to the placements with neat volume, delivered and
// leftover yards. The zero value of priors is the default.
func Fit(h *record.History, priors setting.OveragePriors) (*Model, error) {
	m, _, err := FitRows(RowsOf(h), priors)
	return m, err
}

// FitRows fits it to rows, and returns the model with the data it was fitted to.
func FitRows(r *Rows, priors setting.OveragePriors) (*Model, pool.Data, error) {
	m := &Model{priors: priors.Filled(), uses: r.Use.Names}
	if len(r.Points) == 0 {
		return m, pool.Data{}, fmt.Errorf("no placement has neat, delivered and leftover yards: %w", stat.ErrNoData)
	}
	m.methods = append([]string{"chute", "pump"}, figure.Frequent(r.Method, "chute", "pump", otherMethods)...)
	m.methods = append(m.methods, otherMethods)
	if m.bases = figure.Frequent(r.Base, "unknown"); len(m.bases) < 2 {
		m.bases = nil // one base alone is the average base
	}
	d := m.data(r)
	post, err := m.engine().Fit(d)
	m.post = weighty(post)
	return m, d, err
}

// Before is the model before any record, by its beliefs alone.
func Before(priors setting.OveragePriors) (*Model, error) {
	m := &Model{priors: priors.Filled(), methods: []string{"chute", "pump", otherMethods}}
	post, err := m.engine().Before()
	m.post = weighty(post)
	return m, err
}

// refit fits the same model to other rows.
func (m *Model) refit(r *Rows) (*Model, error) {
	if len(r.Points) == 0 {
		return nil, fmt.Errorf("no placement is left: %w", stat.ErrNoData)
	}
	out := *m
	out.cells = nil
	post, err := m.narrowed().Fit(out.data(r))
	out.post = weighty(post)
	return &out, err
}

// narrowed is the engine with the part of its grid of κ that the fit has not
// ruled out, and a step beyond on each side.
func (m *Model) narrowed() pool.Model {
	e, at := m.engine(), map[float64]float64{}
	for _, c := range m.post.Cells {
		at[c.Kappa] += c.Weight
	}
	const ruledOut = 1e-6
	low, high := len(e.GridKappa)-1, 0
	for k, kappa := range e.GridKappa {
		if at[kappa] > ruledOut {
			low, high = min(low, k), max(high, k)
		}
	}
	e.GridKappa = e.GridKappa[max(0, low-1):min(len(e.GridKappa), high+2)]
	return e
}

// weighty is a posterior without the cells of its grid that cannot move a
// figure: with many records all but a few.
func weighty(post *pool.Posterior) *pool.Posterior {
	if post == nil {
		return nil
	}
	const negligible = 1e-13
	out := *post
	out.Cells = slices.DeleteFunc(slices.Clone(post.Cells), func(c pool.Cell) bool { return c.Weight < negligible })
	return &out
}

// engine is the model in the terms of [pool].
func (m *Model) engine() pool.Model {
	p := m.priors
	e := pool.Model{Prior: pool.Prior{Mean: []float64{p.Share.Mean}, SD: []float64{p.Share.SD}, Sigma: p.Sigma, Nu: p.Nu, RScale: p.RScale}}
	e.GridR, e.GridKappa = pool.DefaultGrid()
	for _, method := range m.methods {
		fixed := p.Fixed(method)
		e.Mean, e.SD = append(e.Mean, fixed.Mean), append(e.SD, fixed.SD)
	}
	for range m.bases {
		e.Mean, e.SD = append(e.Mean, 0), append(e.SD, p.BaseSD)
	}
	return e
}

// data lays the rows out for the engine, by cells of the same use, method and base,
// and counts them.
func (m *Model) data(r *Rows) pool.Data {
	n := len(r.Points)
	d := pool.Data{Y: make([]float64, n), H: make([]float64, n), Group: r.Use.Of, Cells: pool.Cells{Of: make([]int32, n)}}
	methods, bases := make([]int, len(r.Method.Names)), make([]int, len(r.Base.Names))
	for k, name := range r.Method.Names {
		methods[k] = m.method(name)
	}
	for k, name := range r.Base.Names {
		bases[k] = m.base(name)
	}
	number := map[int]int32{} // of a cell, by its words
	for i := range r.Points {
		p, use, method, base := &r.Points[i], r.Use.Of[i], methods[r.Method.Of[i]], bases[r.Base.Of[i]]
		code := (use*len(m.methods)+method)*(len(m.bases)+1) + base + 1
		at, met := number[code]
		if !met {
			at = int32(len(m.cells))
			number[code] = at
			c := overageCell{use: use, method: method, base: base}
			x, slope := m.cellColumns(c)
			d.Cells.At, d.Cells.Slope = append(d.Cells.At, x), append(d.Cells.Slope, slope)
			m.cells = append(m.cells, c)
		}
		d.Y[i], d.H[i], d.Cells.Of[i] = p.Ratio(), 1/p.Neat, at
		m.cells[at].n++
	}
	slices.SortFunc(m.cells, overageCell.compare)
	return d
}

// cellColumns are the columns of a cell's placements, at + slope/V.
func (m *Model) cellColumns(c overageCell) (at, slope []float64) {
	at, slope = make([]float64, m.columns()), make([]float64, m.columns())
	m.columnsOf(at, c, 0, 1)
	slope[1+c.method] = 1
	return at, slope
}

func (m *Model) columns() int            { return 1 + len(m.methods) + len(m.bases) }
func (m *Model) baseColumn(base int) int { return 1 + len(m.methods) + base }
func (m *Model) base(name string) int    { return slices.Index(m.bases, name) }
func (m *Model) method(name string) int {
	if k := slices.Index(m.methods, name); k >= 0 {
		return k
	}
	return len(m.methods) - 1
}

func (m *Model) use(name string) int {
	if k, found := slices.BinarySearch(m.uses, name); found {
		return k
	}
	return newWord
}
