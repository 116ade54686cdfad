package survival

import (
	"math"

	"gonum.org/v1/gonum/floats"
)

// chunk rows are worked on at once, so that they stay in the nearest cache.
const chunk = 256

// farthest is the greatest |x'β| from the centre that the sums allow.
const farthest = 300

// coxSums are the sums of one fit over the rows of a Cox model. β is in units
// of the columns throughout, and z a row of X less the column means.
type coxSums struct {
	*coxRows
	weight []float64 // nil: 1 each
	risk   []float64 // w·e^{z'β} of each row, set by weigh

	// cells holds Σ risk and Σ risk·z of each cell, p+1 numbers a cell: one
	// table a part of the rows, of which the first becomes their sum.
	cells [][]float64

	deaths []deaths // of each block
	events int
	eventZ []float64 // Σ w·z over events
}

// deaths counts the events of a block.
type deaths struct {
	n      int
	weight float64
}

func newCoxSums(r *coxRows, weight []float64) *coxSums {
	s := &coxSums{coxRows: r, weight: weight, risk: make([]float64, r.n()), eventZ: make([]float64, r.p()),
		deaths: make([]deaths, len(r.time))}
	for range r.parts() {
		s.cells = append(s.cells, make([]float64, r.cellCount()*(r.p()+1)))
	}
	for i, e := range r.event {
		w := s.weightOf(i)
		if !e || w == 0 {
			continue
		}
		d := &s.deaths[r.cell[i]/2]
		d.n++
		d.weight += w
		s.events++
		for j, x := range r.x {
			s.eventZ[j] += w * (x[i] - r.mean[j])
		}
	}
	return s
}

func (s *coxSums) weightOf(i int) float64 {
	if s.weight == nil {
		return 1
	}
	return s.weight[i]
}

// rows counts those of weight above 0.
func (s *coxSums) rows() int {
	n := s.n()
	for _, w := range s.weight {
		if w == 0 {
			n--
		}
	}
	return n
}

// weigh sets the risk of each row and sums it by cell. It reports false when a
// row lies too far out for its risk to be a number.
func (s *coxSums) weigh(beta []float64) bool {
	far := make([]bool, s.parts())
	s.inParts(func(part, from, to int) { far[part] = s.weighPart(s.cells[part], beta, from, to) })
	for _, table := range s.cells[1:] {
		floats.Add(s.cells[0], table)
	}
	for _, f := range far {
		if f {
			return false
		}
	}
	return true
}

func (s *coxSums) weighPart(table, beta []float64, from, to int) (far bool) {
	clear(table)
	q := s.p() + 1
	rows := make([]float64, chunk*q) // by row: 1, z
	for k := range chunk {
		rows[k*q] = 1
	}
	var eta [chunk]float64
	for ; from < to; from += chunk {
		n := min(chunk, to-from)
		clear(eta[:])
		for j, col := range s.x {
			b, mean, at := beta[j], s.mean[j], j+1
			for k, x := range col[from : from+n] {
				z := x - mean
				eta[k] += b * z
				rows[at] = z
				at += q
			}
		}
		risk := s.risk[from : from+n]
		for k, e := range eta[:n] {
			far = far || math.Abs(e) > farthest
			risk[k] = expOf(e)
		}
		if s.weight != nil {
			floats.Mul(risk, s.weight[from:from+n])
		}
		for k, c := range s.cell[from : from+n] {
			r := risk[k]
			row := rows[k*q : k*q+q]
			sum := table[int(c)*q : int(c)*q+q]
			sum = sum[:len(row)]
			for j, z := range row {
				sum[j] += r * z
			}
		}
	}
	return far
}

// crossProducts sums risk·h·z·z' over rows, h being that of their cell: the
// lower triangle, row by row.
func (s *coxSums) crossProducts(h []float64) []float64 {
	sums := make([][]float64, s.parts())
	s.inParts(func(part, from, to int) { sums[part] = s.crossPart(h, from, to) })
	for _, more := range sums[1:] {
		floats.Add(sums[0], more)
	}
	return sums[0]
}

func (s *coxSums) crossPart(h []float64, from, to int) []float64 {
	p := s.p()
	sum := make([]float64, p*(p+1)/2)
	z := make([]float64, p*chunk)
	var v, vz [chunk]float64
	for ; from < to; from += chunk {
		n := min(chunk, to-from)
		risk := s.risk[from : from+n]
		for k, c := range s.cell[from : from+n] {
			v[k] = risk[k] * h[c]
		}
		at := 0
		for j, col := range s.x {
			mean := s.mean[j]
			zj := z[j*chunk : j*chunk+n]
			for k, x := range col[from : from+n] {
				zj[k] = x - mean
				vz[k] = v[k] * zj[k]
			}
			for i := 0; i <= j; i++ {
				sum[at] += floats.Dot(vz[:n], z[i*chunk:i*chunk+n])
				at++
			}
		}
	}
	return sum
}
