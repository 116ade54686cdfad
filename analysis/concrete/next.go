package concrete

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"pourback/analysis/stat"
	"pourback/analysis/stat/pool"
)

// Predictive is what is believed of a placement to come.
type Predictive struct {
	NeatYd float64
	Ratio  pool.Mixture // used/neat − 1
}

// Used is the law of the yards that the placement will use.
func (p Predictive) Used() pool.Mixture { return p.Ratio.Affine(p.NeatYd, p.NeatYd) }

// Next is what is believed of the next such placement.
func (m *Model) Next(job Job) (Predictive, error) {
	if err := job.check(); err != nil {
		return Predictive{}, err
	}
	cells, total := m.like(job)
	laws, shares := make([]pool.Mixture, len(cells)), make([]float64, len(cells))
	for i, c := range cells {
		x := make([]float64, m.columns())
		m.columnsOf(x, c, 1/job.NeatYd, 1)
		parts := []pool.Part{{Group: c.use, Times: 1}}
		if borrowed := m.borrows[job.Use]; borrowed != nil && c.use == newWord {
			parts = borrowed
		}
		law, err := m.post.PredictOf(x, 1/job.NeatYd, parts)
		if err != nil {
			return Predictive{}, err
		}
		if m.tails > 0 {
			law.Nu = m.tails
		}
		laws[i], shares[i] = law, float64(c.n)/total
	}
	return Predictive{NeatYd: job.NeatYd, Ratio: oneOf(laws, shares)}, nil
}

func (j Job) check() error {
	if !(j.NeatYd > 0) || math.IsInf(j.NeatYd, 1) {
		return fmt.Errorf("a neat volume of %v yd³, want more than 0: %w", j.NeatYd, stat.ErrDomain)
	}
	return nil
}

// Level is what is believed of the mean overage of such placements, all of one
// use. Where the base is open it is the mean over the bases.
func (m *Model) Level(job Job) (pool.Mixture, error) {
	if err := job.check(); err != nil {
		return pool.Mixture{}, err
	}
	cells, total := m.like(job)
	x := make([]float64, m.columns())
	for _, c := range cells {
		if c.use != cells[0].use {
			return pool.Mixture{}, fmt.Errorf("a mean over several uses: %w", stat.ErrShape)
		}
		m.columnsOf(x, c, 1/job.NeatYd, float64(c.n)/total)
	}
	return m.post.Line(x, cells[0].use)
}

// columnsOf adds to x a share of the columns of a placement of a cell.
func (m *Model) columnsOf(x []float64, c overageCell, h, share float64) {
	x[0] += share
	x[1+c.method] += share * h
	if c.base >= 0 {
		x[m.baseColumn(c.base)] += share
	}
}

// oneOf is the law of an outcome that follows one of several laws of one fit,
// each with its share. Within each cell of the grid the laws are joined into
// the one of their mean and variance: they differ by less than they spread.
func oneOf(laws []pool.Mixture, shares []float64) pool.Mixture {
	out := laws[0]
	if len(laws) == 1 {
		return out
	}
	out.Loc, out.Scale = make([]float64, len(out.Weight)), make([]float64, len(out.Weight))
	for k := range out.Weight {
		mean, within, between := 0.0, 0.0, 0.0
		for i, law := range laws {
			mean += shares[i] * law.Loc[k]
		}
		for i, law := range laws {
			within += shares[i] * law.Scale[k] * law.Scale[k]
			between += shares[i] * (law.Loc[k] - mean) * (law.Loc[k] - mean)
		}
		out.Loc[k], out.Scale[k] = mean, math.Sqrt(within+between*(out.Nu-2)/out.Nu)
	}
	return out
}

// like are the cells that a job may be of, with their records, and the sum of
// those.
func (m *Model) like(job Job) (cells []overageCell, total float64) {
	want := overageCell{anyWord, anyWord, anyWord, 1}
	if job.Use != "" {
		want.use = m.use(job.Use)
	}
	if job.Method != "" {
		want.method = m.method(job.Method)
	}
	if job.Base != "" || len(m.bases) == 0 {
		want.base = m.base(job.Base)
	}
	if want.use != anyWord && want.method != anyWord && want.base != anyWord {
		return []overageCell{want}, 1
	}
	for _, c := range m.matching(want) {
		cells = append(cells, want.over(c))
		total += float64(c.n)
	}
	return summed(cells), total
}

// over is c with what is given in its place.
func (c overageCell) over(d overageCell) overageCell {
	for _, f := range []struct{ given, to *int }{{&c.use, &d.use}, {&c.method, &d.method}, {&c.base, &d.base}} {
		if *f.given != anyWord {
			*f.to = *f.given
		}
	}
	return d
}

// matching are the recorded cells of what is wanted or, where there are none,
// of less and less of it.
func (m *Model) matching(want overageCell) []overageCell {
	tries := []overageCell{want, {want.use, want.method, anyWord, 0}, {want.use, anyWord, anyWord, 0}, {anyWord, want.method, anyWord, 0}}
	for _, try := range tries {
		cells := m.cells
		if try.use >= 0 {
			cells = m.ofUse(try.use)
		}
		var found []overageCell
		for _, c := range cells {
			if try.covers(c) {
				found = append(found, c)
			}
		}
		if len(found) > 0 {
			return found
		}
	}
	return m.cells
}

// covers says whether a recorded cell is of what is given; a new word is like
// any.
func (c overageCell) covers(d overageCell) bool {
	return (c.use < 0 || c.use == d.use) && (c.method < 0 || c.method == d.method) && (c.base < 0 || c.base == d.base)
}

// ofUse are the cells of a use, which stand together.
func (m *Model) ofUse(use int) []overageCell {
	byUse := func(c overageCell, use int) int { return cmp.Compare(c.use, use) }
	from, _ := slices.BinarySearchFunc(m.cells, use, byUse)
	to, _ := slices.BinarySearchFunc(m.cells, use+1, byUse)
	return m.cells[from:to]
}

// summed joins cells that have come to be alike.
func summed(cells []overageCell) []overageCell {
	slices.SortFunc(cells, overageCell.compare)
	out := cells[:0]
	for _, c := range cells {
		if k := len(out) - 1; k >= 0 && out[k].compare(c) == 0 {
			out[k].n += c.n
		} else {
			out = append(out, c)
		}
	}
	return out
}
