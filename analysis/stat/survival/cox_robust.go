package survival

import (
	"gonum.org/v1/gonum/mat"
)

// sandwich is the covariance that holds when rows of a cluster go together:
// Σ_c u_c·u_c', u_c the sum over the rows of a cluster of I⁻¹ times their score
// residuals (Lin & Wei 1989, J. Am. Stat. Assoc. 84, 1074-1078; Lee, Wei &
// Amato 1992).
func (c *Cox) sandwich() *mat.SymDense {
	label, cluster := labels(c.sets.data.Cluster)
	p := c.sets.p()
	score := mat.NewDense(len(label), p, nil)
	c.sets.scoreResiduals(func(row int, u []float64) {
		sum := score.RawRowView(int(cluster[row]))
		for j, v := range u {
			sum[j] += v
		}
	})
	var moved, square mat.Dense
	moved.Mul(score, c.Cov)
	square.Mul(moved.T(), &moved)
	out := mat.NewSymDense(p, nil)
	for j := range p {
		for i := 0; i <= j; i++ {
			out.SetSym(i, j, square.At(i, j))
		}
	}
	return out
}

// scoreResiduals gives each row's share of the score, weighted: what it adds by
// its event less what it was expected to add while at risk,
//
//	w·δ·(z − z̄) − risk·Σ_t hazard·(z − z̄)
//
// over the event times t it lives through (Therneau & Grambsch 2000, §4.6).
// With Efron ties z̄ is the mean over the d steps of the tie, through which the
// events themselves live in part. The slice handed to f is used again.
func (s *riskSets) scoreResiduals(f func(row int, u []float64)) {
	p := s.p()
	hazard, drift := s.hazards(nil), s.meanHazards()
	u, lived, mean := make([]float64, p), make([]float64, p), make([]float64, p)
	s.inCells(0, 0, s.n(), func(c, from, to int) {
		b := c / 2
		copy(lived, drift[b*p:b*p+p])
		if c%2 == 1 {
			s.tieMean(b, mean, lived)
		}
		for i := from; i < to; i++ {
			w := 0.
			if c%2 == 1 {
				w = s.weightOf(i)
			}
			for j, x := range s.x {
				u[j] = w*(x[i]-mean[j]) - s.risk[i]*(x[i]*hazard[c]-lived[j])
			}
			f(int(s.order[i]), u)
		}
	})
}

// tieMean fills mean with z̄ at the events of a block, and takes off lived what
// those events do not live through there.
func (s *riskSets) tieMean(b int, mean, lived []float64) {
	t, d := s.terms[b], s.deaths[b]
	_, set := s.set(b)
	_, tied := s.tied(b)
	for j := range mean {
		mean[j] = 0
		if d.n > 0 {
			mean[j] = (t.hazard*set[j] - t.tiedHazard*tied[j]) / d.weight
		}
		lived[j] -= t.ab*set[j] - t.bb*tied[j]
	}
}
