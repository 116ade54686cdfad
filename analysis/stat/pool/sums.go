package pool

import (
	"math"

	"gonum.org/v1/gonum/floats"

	"pourback/analysis/stat"
	"pourback/analysis/stat/regress"
)

// sums are what the data say at one κ: all that the solves over r need.
type sums struct {
	p      int
	xx     []float64 // Σw·x_j·x_k at [j*p+k], k ≤ j
	xy     []float64 // Σw·x_j·y
	yy     float64   // Σw·y²
	logW   float64   // Σlog w, but for the constant Σlog q
	groups []float64 // for each group Σw, Σw·y, Σw·x_j: p+2 numbers
}

func newSums(p, groups int) *sums {
	return &sums{p: p, xx: make([]float64, p*p), xy: make([]float64, p), groups: make([]float64, groups*(p+2))}
}

// group returns Σw, Σw·y and Σw·x of group g; a group without rows, and a new
// one (−1), has zeros.
func (s *sums) group(g int) (w, y float64, x []float64) {
	if g < 0 || (g+1)*(s.p+2) > len(s.groups) {
		return 0, 0, nil
	}
	block := s.groups[g*(s.p+2) : (g+1)*(s.p+2)]
	return block[0], block[1], block[2:]
}

func (s *sums) add(t *sums) {
	floats.Add(s.xx, t.xx)
	floats.Add(s.xy, t.xy)
	s.yy += t.yy
	s.logW += t.logW
	floats.Add(s.groups, t.groups)
}

const (
	blockRows = 512     // rows summed at once: the columns stay in the nearest cache, and rounding stays small
	partRows  = 1 << 14 // a pass over so many rows is worth a processor of its own
	mostParts = 4
)

// accumulate sums the data for each κ, going over them once. The parts are cut by
// size alone, so the result does not depend on the machine.
func accumulate(d Data, groups int, kappas []float64) []*sums {
	if d.H == nil {
		kappas = kappas[:1] // all alike
	}
	n := len(d.Y)
	parts := make([][]*sums, min(mostParts, 1+n/partRows))
	stat.InParallel(len(parts), func(part int) {
		for range kappas {
			parts[part] = append(parts[part], newSums(d.columns(), groups))
		}
		if from, to := n*part/len(parts), n*(part+1)/len(parts); d.Cells.Of != nil {
			passCells(parts[part], d, from, to, kappas)
		} else {
			pass(parts[part], d, from, to, kappas)
		}
	})
	for _, part := range parts[1:] {
		for k, s := range part {
			parts[0][k].add(s)
		}
	}
	return parts[0]
}

// pass adds rows a to b to the sums of every κ, block by block.
func pass(byKappa []*sums, d Data, a, b int, kappas []float64) {
	w, wx := make([]float64, blockRows), make(regress.Design, len(d.X))
	for j := range wx {
		wx[j] = make([]float64, blockRows)
	}
	for ; a < b; a += blockRows {
		end := min(a+blockRows, b)
		for k, s := range byKappa {
			s.logW += weigh(w[:end-a], d, a, kappas[k])
			s.block(d, a, end, w[:end-a], wx)
		}
	}
}

// weigh fills w with the precisions q/(1+κh) of the rows from a on and returns
// −Σlog(1+κh), multiplying before it takes logarithms.
func weigh(w []float64, d Data, a int, kappa float64) float64 {
	for i := range w {
		w[i] = 1
	}
	if d.Weight != nil {
		copy(w, d.Weight[a:])
	}
	if d.H == nil || kappa == 0 {
		return 0
	}
	sum, product := 0.0, 1.0
	h := d.H[a : a+len(w)]
	for i := range w {
		v := 1 + kappa*h[i]
		w[i] /= v
		if product *= v; product > 1e100 {
			sum -= math.Log(product)
			product = 1
		}
	}
	return sum - math.Log(product)
}

// block adds the rows from a to b with weights w; wx is room for w·x.
func (s *sums) block(d Data, a, b int, w []float64, wx regress.Design) {
	y := d.Y[a:b]
	for j, column := range d.X {
		wxj := floats.MulTo(wx[j][:b-a], w, column[a:b])
		s.xy[j] += floats.Dot(wxj, y)
		for k := 0; k <= j; k++ {
			s.xx[j*s.p+k] += floats.Dot(wxj, d.X[k][a:b])
		}
	}
	if len(s.groups) > 0 {
		s.scatter(d.Group[a:b], w, y, wx)
	}
	wy := floats.MulTo(w, w, y)
	s.yy += floats.Dot(wy, y)
}

// scatter adds the rows to their groups.
func (s *sums) scatter(group []int, w, y []float64, wx regress.Design) {
	size := s.p + 2
	for i, g := range group {
		block := s.groups[g*size : (g+1)*size : (g+1)*size]
		block[0] += w[i]
		block[1] += w[i] * y[i]
		for j := range wx {
			block[2+j] += wx[j][i]
		}
	}
}
