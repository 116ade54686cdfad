package survival

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"

	"pourback/analysis/stat"
)

// coxRows are the rows of a Cox model put in order. They are shared by fits and
// never written to again.
//
// A block is a distinct event time within a stratum: blocks run over the
// strata one after another, and in ascending time within each. A row belongs
// to the last block whose time is not after its own, so that the risk set of a
// block is the rows of that block and of those after it in the stratum. Block
// b has two cells of adjoining rows: 2b of those censored, 2b+1 of its events.
// Rows that leave before the first event of their stratum are in no risk set
// and in no cell.
type coxRows struct {
	data        CoxData
	x           [][]float64 // columns less their means, in order
	mean, scale []float64   // of each column
	order       []int32     // which row of the data each is
	start       []int       // first row of each cell, and the end
	time        []float64   // of each block
	first       []int       // first block of each stratum, and the end
	label       []int       // code of each stratum
	stratum     []int32     // of each row of the data; nil if there is one
	cuts        []int       // cells at which the rows fall into parts
}

// CoxData holds the rows of a Cox model, one element a row.
type CoxData struct {
	Time    []float64   // to the event or the end of follow-up, at least 0
	Event   []bool      // false: censored at Time
	X       [][]float64 // covariates by column
	Names   []string    // of the columns, for messages; may be nil
	Stratum []int       // rows are compared within a stratum only; nil: one
	Weight  []float64   // case weights, at least 0; nil: 1 each
	Cluster []int       // rows that go together, for robust errors; nil: none
}

func (r *coxRows) n() int { return len(r.order) }
func (r *coxRows) p() int { return len(r.x) }

// name is what messages call a column.
func (d CoxData) name(j int) string {
	if d.Names == nil {
		return fmt.Sprintf("column %d", j)
	}
	return d.Names[j]
}

func newCoxRows(d CoxData) (*coxRows, error) {
	if err := d.check(); err != nil {
		return nil, err
	}
	r := &coxRows{data: d, label: []int{0}}
	if d.Stratum != nil {
		r.label, r.stratum = labels(d.Stratum)
	}
	r.findBlocks()
	if len(r.time) == 0 {
		return nil, fmt.Errorf("%d rows: %w", len(d.Time), stat.ErrNoEvents)
	}
	r.arrange()
	return r, r.takeColumns()
}

// check looks at everything but the values of the columns.
func (d CoxData) check() error {
	n := len(d.Time)
	if n == 0 {
		return stat.ErrNoData
	}
	if len(d.X) == 0 {
		return fmt.Errorf("no covariates: %w", stat.ErrNoData)
	}
	if d.Names != nil && len(d.Names) != len(d.X) {
		return fmt.Errorf("%d names for %d columns: %w", len(d.Names), len(d.X), stat.ErrShape)
	}
	if len(d.Event) != n || d.Stratum != nil && len(d.Stratum) != n || d.Cluster != nil && len(d.Cluster) != n {
		return fmt.Errorf("%d times, %d events, %d strata and %d clusters: %w",
			n, len(d.Event), len(d.Stratum), len(d.Cluster), stat.ErrShape)
	}
	for j, x := range d.X {
		if len(x) != n {
			return fmt.Errorf("%s has %d rows, not %d: %w", d.name(j), len(x), n, stat.ErrShape)
		}
	}
	if err := checkTimes("time", d.Time); err != nil {
		return err
	}
	return checkWeights(d.Weight, n)
}

// checkWeights demands weights of at least 0, one a row, or none at all.
func checkWeights(weight []float64, n int) error {
	if weight == nil {
		return nil
	}
	if len(weight) != n {
		return fmt.Errorf("%d weights for %d rows: %w", len(weight), n, stat.ErrShape)
	}
	return checkTimes("weight", weight)
}

// findBlocks lists the event times of each stratum.
func (r *coxRows) findBlocks() {
	strata := make([][]float64, len(r.label))
	for i, e := range r.data.Event {
		if e {
			s := r.stratumOf(i)
			strata[s] = append(strata[s], r.data.Time[i])
		}
	}
	r.first = make([]int, len(strata)+1)
	for s, t := range strata {
		sortTimes(t)
		r.time = append(r.time, slices.Compact(t)...)
		r.first[s+1] = len(r.time)
	}
}

func (r *coxRows) stratumOf(i int) int {
	if r.stratum == nil {
		return 0
	}
	return int(r.stratum[i])
}

// arrange puts the rows in order of their cells, by counting: each part of the
// rows for itself, then all together.
func (r *coxRows) arrange() {
	event, n, cells := r.data.Event, len(r.data.Time), 2*len(r.time)
	block := r.blockFinder()
	cell := make([]int32, n) // −1 for none
	next := make([][]int32, partsOf(n))
	inParts(n, func(p, from, to int) {
		next[p] = make([]int32, cells)
		for i := from; i < to; i++ {
			c := 2 * block(i)
			if c < 0 {
				cell[i] = -1
				continue
			}
			if event[i] {
				c++
			}
			cell[i] = c
			next[p][c]++
		}
	})
	r.start = make([]int, cells+1)
	at := int32(0)
	for c := range cells {
		r.start[c] = int(at)
		for p := range next {
			next[p][c], at = at, at+next[p][c]
		}
	}
	r.start[cells] = int(at)
	r.order = make([]int32, at)
	inParts(n, func(p, from, to int) {
		for i := from; i < to; i++ {
			if c := cell[i]; c >= 0 {
				r.order[next[p][c]] = int32(i)
				next[p][c]++
			}
		}
	})
	r.cut()
}

// blockFinder gives the block of a row of the data, −1 if it has none: by table
// where all events fall on whole days, otherwise by bisection.
func (r *coxRows) blockFinder() func(row int) int32 {
	times := r.data.Time
	table, width := r.dayTable()
	last := float64(width - 1)
	if table != nil {
		return func(row int) int32 { return table[r.stratumOf(row)*width+int(min(times[row], last))] }
	}
	return func(row int) int32 {
		s := r.stratumOf(row)
		b := r.first[s] + lastAtOrBefore(r.time[r.first[s]:r.first[s+1]], times[row])
		if b < r.first[s] {
			return -1
		}
		return int32(b)
	}
}

// dayTable gives, for each stratum and whole day up to the last event, the
// last block by then, −1 if there is none. It is nil where events fall on part
// days or are too few for it.
func (r *coxRows) dayTable() (table []int32, width int) {
	width = int(min(slices.Max(r.time), maxDays)) + 1
	if width > maxDays || width*len(r.label) > len(r.data.Time)+maxDays {
		return nil, width
	}
	for _, t := range r.time {
		if t != math.Trunc(t) {
			return nil, width
		}
	}
	table = make([]int32, 0, width*len(r.label))
	for s := range r.label {
		b, before := r.first[s], int32(-1)
		for day := range width {
			if b < r.first[s+1] && r.time[b] == float64(day) {
				before = int32(b)
				b++
			}
			table = append(table, before)
		}
	}
	return table, width
}

// cut finds the parts in which many rows are worked on: whole cells, about the
// same number of rows in each, the same parts on any machine.
func (r *coxRows) cut() {
	parts := partsOf(r.n())
	r.cuts = []int{0}
	for p := 1; p < parts; p++ {
		at, _ := slices.BinarySearch(r.start, r.n()*p/parts)
		r.cuts = append(r.cuts, at)
	}
	r.cuts = append(r.cuts, len(r.start)-1)
}

// inParts runs f on each part of the cells, at once where there are several.
func (r *coxRows) inParts(f func(part, from, to int)) {
	atOnce(len(r.cuts)-1, func(p int) { f(p, r.cuts[p], r.cuts[p+1]) })
}

// takeColumns copies the columns, in order and less their means.
func (r *coxRows) takeColumns() error {
	p := len(r.data.X)
	r.x, r.mean, r.scale = make([][]float64, p), make([]float64, p), make([]float64, p)
	if partsOf(r.n()) > 1 {
		atOnce(p, r.takeColumn)
	} else {
		for j := range p {
			r.takeColumn(j)
		}
	}
	for j, s := range r.scale {
		if !(math.Abs(r.mean[j])+s <= math.MaxFloat64) {
			if err := stat.Finite(r.data.name(j), r.data.X[j]...); err != nil {
				return err
			}
			return fmt.Errorf("%s spreads too far to be squared: %w", r.data.name(j), stat.ErrDomain)
		}
		if s <= 1e-15*math.Abs(r.mean[j]) {
			return fmt.Errorf("%s is the same in all rows at risk: %w", r.data.name(j), stat.ErrNoVariation)
		}
	}
	return nil
}

func (r *coxRows) takeColumn(j int) {
	from := r.data.X[j]
	mean := floats.Sum(from) / float64(len(from))
	z := make([]float64, r.n())
	for i, row := range r.order {
		z[i] = from[row] - mean
	}
	r.x[j], r.mean[j] = z, mean
	r.scale[j] = math.Sqrt(floats.Dot(z, z) / float64(len(z)))
}
