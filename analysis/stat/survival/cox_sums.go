package survival

import (
	"slices"

	"gonum.org/v1/gonum/floats"
)

// chunk rows are worked on at once, so that they stay in the nearest cache.
const chunk = 512

// coxSums are the sums of one fit over the rows of a Cox model. β is in units
// of the columns throughout, and z a row of X less the column means.
type coxSums struct {
	*coxRows
	weight []float64 // in order; nil: 1 each
	risk   []float64 // w·e^{z'β} of each row, set by weigh
	cells  []float64 // Σ risk and Σ risk·z of each cell, p+1 numbers a cell
	deaths []deaths  // of each block
	events int
	eventZ []float64 // Σ w·z over events
	rooms  []room    // of each part: a fit passes over the rows many times
}

// room is what a pass over the rows of a part works in.
type room struct{ one, other []float64 }

// deaths counts the events of a block.
type deaths struct {
	n      int
	weight float64
}

func newCoxSums(r *coxRows) *coxSums {
	s := &coxSums{coxRows: r, risk: make([]float64, r.n()), cells: make([]float64, 2*len(r.time)*(r.p()+1)), deaths: make([]deaths, len(r.time))}
	size := min(chunk, r.n())
	for range len(r.cuts) - 1 {
		s.rooms = append(s.rooms, room{make([]float64, size), make([]float64, size)})
	}
	return s
}

// weighBy gives the rows their case weights, nil for 1 each, and counts events.
func (s *coxSums) weighBy(weight []float64) {
	if weight == nil {
		s.weight = nil
	} else {
		s.weight = slices.Grow(s.weight[:0], s.n())[:s.n()]
		for i, row := range s.order {
			s.weight[i] = weight[row]
		}
	}
	s.events = 0
	for b := range s.deaths {
		s.deaths[b] = deaths{}
		for i := s.start[2*b+1]; i < s.start[2*b+2]; i++ {
			if w := s.weightOf(i); w > 0 {
				s.deaths[b].n++
				s.deaths[b].weight += w
				s.events++
			}
		}
	}
	s.eventZ = nil
	s.eventZ = s.eventSum(nil)
}

func (s *coxSums) weightOf(i int) float64 {
	if s.weight == nil {
		return 1
	}
	return s.weight[i]
}

// eventSum is Σ φ·w·z over events, φ being that of their block; a nil φ is 1.
func (s *coxSums) eventSum(phi []float64) []float64 {
	if phi == nil && s.eventZ != nil {
		return slices.Clone(s.eventZ)
	}
	sum := make([]float64, s.p())
	for b := range s.deaths {
		for i := s.start[2*b+1]; i < s.start[2*b+2]; i++ {
			w := at(phi, b) * s.weightOf(i)
			for j, x := range s.x {
				sum[j] += w * x[i]
			}
		}
	}
	return sum
}

// weigh sets the risk of each row and sums it by cell. It reports false when a
// row lies too far out for its risk to be a number.
func (s *coxSums) weigh(beta []float64) bool {
	clear(s.cells)
	near := make([]bool, len(s.cuts)-1)
	s.inParts(func(part, from, to int) { near[part] = s.weighPart(beta, from, to, s.rooms[part]) })
	for _, ok := range near {
		if !ok {
			return false
		}
	}
	return true
}

func (s *coxSums) weighPart(beta []float64, cell, toCell int, in room) bool {
	for from, end := s.start[cell], s.start[toCell]; from < end; from += chunk {
		to := min(from+chunk, end)
		e := in.one[:to-from]
		clear(e)
		for j, b := range beta {
			if b != 0 {
				floats.AddScaled(e, b, s.x[j][from:to])
			}
		}
		risk := s.risk[from:to]
		if !expTo(risk, e) {
			return false
		}
		if s.weight != nil {
			floats.Mul(risk, s.weight[from:to])
		}
		cell = s.inCells(cell, from, to, s.sumCell)
	}
	return true
}

// inCells runs f on the stretches of the cells between two rows, and returns
// the cell of the row after them.
func (s *coxRows) inCells(cell, from, to int, f func(cell, from, to int)) int {
	for from < to {
		end := s.start[cell+1]
		if from < end {
			f(cell, from, min(end, to))
		}
		if end > to {
			break
		}
		from = max(from, end)
		cell++
	}
	return cell
}

// sumCell adds rows of one cell to its sums.
func (s *coxSums) sumCell(cell, from, to int) {
	risk := s.risk[from:to]
	q := s.p() + 1
	sum := s.cells[cell*q : cell*q+q]
	sum[0] += floats.Sum(risk)
	for j, x := range s.x {
		sum[j+1] += dot(risk, x[from:to])
	}
}

// dot is Σ a·b; a call is worth its while for the longer ones only.
func dot(a, b []float64) (sum float64) {
	if len(a) >= 8 {
		return floats.Dot(a, b)
	}
	for i, v := range a {
		sum += v * b[i]
	}
	return sum
}

// crossProducts sums risk·h·z·z' over rows, h being that of their cell: the
// lower triangle, row by row.
func (s *coxSums) crossProducts(h []float64) []float64 {
	sums := make([][]float64, len(s.cuts)-1)
	s.inParts(func(part, from, to int) { sums[part] = s.crossPart(h, from, to, s.rooms[part]) })
	for _, more := range sums[1:] {
		floats.Add(sums[0], more)
	}
	return sums[0]
}

func (s *coxSums) crossPart(h []float64, cell, toCell int, in room) []float64 {
	sum := make([]float64, s.p()*(s.p()+1)/2)
	for from, end := s.start[cell], s.start[toCell]; from < end; from += chunk {
		to := min(from+chunk, end)
		v, vz := in.one[:to-from], in.other[:to-from]
		cell = s.inCells(cell, from, to, func(c, a, b int) {
			floats.ScaleTo(v[a-from:b-from], h[c], s.risk[a:b])
		})
		k := 0
		for j, x := range s.x {
			floats.MulTo(vz, v, x[from:to])
			for i := 0; i <= j; i++ {
				sum[k] += floats.Dot(vz, s.x[i][from:to])
				k++
			}
		}
	}
	return sum
}
