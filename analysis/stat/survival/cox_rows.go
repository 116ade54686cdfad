package survival

import (
	"fmt"
	"math"
	"slices"
	"sync"

	"gonum.org/v1/gonum/floats"

	"pourback/analysis/stat"
)

// coxRows are the rows of a Cox model made ready. They are shared by fits and
// never written to again.
//
// A block is a distinct event time within a stratum: blocks run over the
// strata one after another, and in ascending time within each. A row belongs
// to the last block whose time is not after its own, so that the risk set of a
// block is the rows of that block and of those after it in the stratum. Its
// cell is 2·block, or 2·block+1 for an event; rows that leave before the first
// event of their stratum are in no risk set, and their cell is the last one.
type coxRows struct {
	x           [][]float64 // columns, the caller's
	mean, scale []float64   // of each column
	event       []bool
	times       []float64
	cell        []int32
	time        []float64 // of each block
	first       []int     // first block of each stratum, and the end of the last
	label       []int     // code of each stratum
	stratum     []int32   // of each row, nil if there is one
	names       []string
	cluster     []int
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

func (r *coxRows) n() int { return len(r.cell) }
func (r *coxRows) p() int { return len(r.x) }

// cellCount is the number of cells, the last being that of rows never at risk.
func (r *coxRows) cellCount() int { return 2*len(r.time) + 1 }

// name is what messages call a column.
func (r *coxRows) name(j int) string { return columnName(r.names, j) }

func columnName(names []string, j int) string {
	if names == nil {
		return fmt.Sprintf("column %d", j)
	}
	return names[j]
}

func newCoxRows(d CoxData) (*coxRows, error) {
	if err := d.check(); err != nil {
		return nil, err
	}
	r := &coxRows{x: d.X, event: d.Event, times: d.Time, names: d.Names, cluster: d.Cluster}
	if err := r.moments(); err != nil {
		return nil, err
	}
	r.label = []int{0}
	if d.Stratum != nil {
		r.label, r.stratum = labels(d.Stratum)
	}
	if err := r.blocks(); err != nil {
		return nil, err
	}
	return r, nil
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
			return fmt.Errorf("%s has %d rows, not %d: %w", columnName(d.Names, j), len(x), n, stat.ErrShape)
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

// moments finds the centre and the spread of each column, which serve only to
// keep the arithmetic well conditioned.
func (r *coxRows) moments() error {
	r.mean, r.scale = make([]float64, r.p()), make([]float64, r.p())
	var wg sync.WaitGroup
	for j, x := range r.x {
		wg.Go(func() { r.mean[j], r.scale[j] = centreAndSpread(x) })
	}
	wg.Wait()
	for j, s := range r.scale {
		if !(math.Abs(r.mean[j])+s <= math.MaxFloat64) {
			if err := stat.Finite(r.name(j), r.x[j]...); err != nil {
				return err
			}
			return fmt.Errorf("%s spreads too far to be squared: %w", r.name(j), stat.ErrDomain)
		}
		if s <= 1e-15*math.Abs(r.mean[j]) {
			return fmt.Errorf("%s is the same in all rows: %w", r.name(j), stat.ErrNoVariation)
		}
	}
	return nil
}

func centreAndSpread(x []float64) (mean, spread float64) {
	n := float64(len(x))
	mean = floats.Sum(x) / n
	var a, b float64 // two sums run side by side
	i := 0
	for ; i+1 < len(x); i += 2 {
		u, v := x[i]-mean, x[i+1]-mean
		a += u * u
		b += v * v
	}
	for ; i < len(x); i++ {
		a += (x[i] - mean) * (x[i] - mean)
	}
	return mean, math.Sqrt((a + b) / n)
}

// blocks finds the event times of each stratum and the cell of each row.
func (r *coxRows) blocks() error {
	strata := make([][]float64, len(r.label))
	for i, e := range r.event {
		if e {
			s := r.stratumOf(i)
			strata[s] = append(strata[s], r.times[i])
		}
	}
	r.first = make([]int, len(strata)+1)
	for s, t := range strata {
		slices.Sort(t)
		r.time = append(r.time, slices.Compact(t)...)
		r.first[s+1] = len(r.time)
	}
	if len(r.time) == 0 {
		return fmt.Errorf("%d rows: %w", len(r.times), stat.ErrNoEvents)
	}
	r.cell = make([]int32, len(r.times))
	find := r.finder()
	r.inParts(func(_, from, to int) {
		for i := from; i < to; i++ {
			c := 2 * find(r.stratumOf(i), r.times[i])
			if c < 0 {
				c = 2 * len(r.time)
			} else if r.event[i] {
				c++
			}
			r.cell[i] = int32(c)
		}
	})
	return nil
}

func (r *coxRows) stratumOf(i int) int {
	if r.stratum == nil {
		return 0
	}
	return int(r.stratum[i])
}

// finder returns a search for the last block of a stratum at or before a
// time, −1 if there is none: by table where events fall on whole days.
func (r *coxRows) finder() func(stratum int, t float64) int {
	width := int(min(slices.Max(r.time), maxDays)) + 1
	whole := width <= maxDays && width*len(r.label) <= len(r.times)+maxDays
	for _, t := range r.time {
		whole = whole && t == math.Trunc(t)
	}
	if !whole {
		return r.lastBlock
	}
	table := make([]int32, width*len(r.label))
	for s := range r.label {
		b, end := r.first[s], r.first[s+1]
		for day := range width {
			for b < end && r.time[b] <= float64(day) {
				b++
			}
			table[s*width+day] = int32(b - 1)
			if b == r.first[s] {
				table[s*width+day] = -1
			}
		}
	}
	last := float64(width - 1)
	return func(stratum int, t float64) int { return int(table[stratum*width+int(min(t, last))]) }
}

// lastBlock finds a block by bisection.
func (r *coxRows) lastBlock(stratum int, t float64) int {
	from, to := r.first[stratum], r.first[stratum+1]
	at, exact := slices.BinarySearch(r.time[from:to], t)
	if exact {
		return from + at
	}
	if at == 0 {
		return -1
	}
	return from + at - 1
}

// parts is in how many stretches the rows are worked on, whatever the machine.
func (r *coxRows) parts() int {
	if r.n() < manyRows {
		return 1
	}
	return rowParts
}

// inParts runs f on the stretches of rows, at once where there are many.
func (r *coxRows) inParts(f func(part, from, to int)) {
	if r.parts() == 1 {
		f(0, 0, r.n())
		return
	}
	inParts(r.n(), f)
}
