package survival

import (
	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// addFirthSlope adds the slope of ½·log|I|, ½·tr(I⁻¹·∂I/∂β_r), to the score
// (Heinze & Schemper 2001, Biometrics 57, 114-119). With Breslow ties
// ∂I/∂β_r is Σ over events of the third central moments of z over the risk set,
// so that with A = I⁻¹ (inv), q = z'Az, z̄ and E the means over the risk set
//
//	tr_r = Σ_events { E[z_r·q] − z̄_r·E[q] − 2·(E[zz']Az̄)_r + 2·z̄_r·z̄'Az̄ }
//
// Both moments of rows are summed as in [riskSets.information]: each row as
// often as its hazard says.
func (s *riskSets) addFirthSlope(score []float64, inv *mat.SymDense) {
	p := s.p()
	a := mat.DenseCopyOf(inv).RawMatrix().Data
	hazard := s.hazards(nil)
	q := make([]float64, len(s.time)) // Σ risk·q over risk sets
	drift := s.meanHazards()          // Σ hazard·z̄ over the blocks lived through
	z, az := make([]float64, p), make([]float64, p)
	s.inCells(0, 0, s.n(), func(c, from, to int) {
		b := c / 2
		for i := from; i < to; i++ {
			if s.risk[i] == 0 {
				continue // not drawn, where weights say how often a row was
			}
			for j, x := range s.x {
				z[j] = x[i]
			}
			quad := quadratic(a, z, az)
			q[b] += s.risk[i] * quad
			turn := floats.Dot(az, drift[b*p:b*p+p])
			floats.AddScaled(score, s.risk[i]*(quad*hazard[c]/2-turn), z)
		}
	})
	s.sumSets(q)
	mean := make([]float64, p)
	for b, t := range s.terms {
		if t.hazard == 0 {
			continue // no event of weight, perhaps nobody at risk
		}
		all, sum := s.set(b)
		for j, v := range sum {
			mean[j] = v / all
		}
		floats.AddScaled(score, t.hazard*(all*quadratic(a, mean, az)-q[b]/2), mean)
	}
}

// quadratic is z'Az of a matrix row by row; it leaves Az.
func quadratic(a, z, az []float64) (sum float64) {
	for j, v := range z {
		row := a[j*len(z) : (j+1)*len(z)]
		dot := 0.
		for k, w := range row {
			dot += w * z[k]
		}
		az[j] = dot
		sum += v * dot
	}
	return sum
}

// sumSets turns one number a block into its sum over the blocks of the risk
// set.
func (s *coxRows) sumSets(perBlock []float64) {
	for stratum := range s.label {
		for b := s.first[stratum+1] - 2; b >= s.first[stratum]; b-- {
			perBlock[b] += perBlock[b+1]
		}
	}
}

// meanHazards sums, over the blocks up to each one of its stratum, hazard
// times the mean of z over the risk set: p numbers a block.
func (s *riskSets) meanHazards() []float64 {
	p := s.p()
	sum := make([]float64, len(s.time)*p)
	for stratum := range s.label {
		first := s.first[stratum]
		for b := first; b < s.first[stratum+1]; b++ {
			_, set := s.set(b)
			_, tied := s.tied(b)
			for j := range p {
				sum[b*p+j] = s.terms[b].aa*set[j] - s.terms[b].ab*tied[j]
				if b > first {
					sum[b*p+j] += sum[(b-1)*p+j]
				}
			}
		}
	}
	return sum
}
