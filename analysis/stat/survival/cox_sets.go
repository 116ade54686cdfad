package survival

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"

	"pourback/analysis/stat"
)

// Ties names what is done about events at one time.
type Ties int

const (
	Efron   Ties = iota // each of d tied events sees the others partly gone; the default
	Breslow             // each sees all of them
)

func (t Ties) String() string { return [...]string{"Efron", "Breslow"}[t] }

// setTerms are what a block of d tied events adds, with S and E the sums of
// risk over its risk set and over its events, w̄ their mean weight, f = l/d and
// D_l = S − fE, summed over l = 0 … d−1 (f = 0 throughout for Breslow).
type setTerms struct {
	hazard, tiedHazard float64 // Σ w̄/D, Σ f·w̄/D
	aa, ab, bb         float64 // Σ w̄/D², Σ f·w̄/D², Σ f²·w̄/D²
}

// riskSets hold a fit's sums over risk sets, at the β last weighed.
type riskSets struct {
	*coxSums
	ties  Ties
	terms []setTerms // of each block
}

func newRiskSets(r *coxRows, o CoxOptions) *riskSets {
	return &riskSets{coxSums: newCoxSums(r), ties: o.Ties, terms: make([]setTerms, len(r.time))}
}

// set gives Σ risk and Σ risk·z over the risk set of a block.
func (s *riskSets) set(block int) (sum float64, z []float64) { return s.cellSums(2 * block) }

// tied gives the same over the events of a block.
func (s *riskSets) tied(block int) (sum float64, z []float64) { return s.cellSums(2*block + 1) }

func (s *coxSums) cellSums(cell int) (sum float64, z []float64) {
	q := s.p() + 1
	c := s.cells[cell*q : cell*q+q]
	return c[0], c[1:]
}

// moveTo moves to β and returns the log partial likelihood there: −∞ where it
// cannot be computed.
func (s *riskSets) moveTo(beta []float64) (logLik float64) {
	if !s.weigh(beta) {
		return math.Inf(-1)
	}
	for j, b := range beta {
		logLik += b * s.eventZ[j]
	}
	for stratum := range s.label {
		s.accumulate(s.first[stratum], s.first[stratum+1])
	}
	for b, d := range s.deaths {
		t := &s.terms[b]
		*t = setTerms{}
		if d.n == 0 {
			continue
		}
		all, _ := s.set(b)
		if s.ties == Breslow || d.n == 1 {
			logLik -= d.weight * math.Log(all)
			t.hazard = d.weight / all
			t.aa = t.hazard / all
			continue
		}
		tied, _ := s.tied(b)
		logLik -= t.efron(all, tied, d)
	}
	return logLik
}

// accumulate turns the sums over the cells of each block of a stratum into
// those over its risk set, from the last block back.
func (s *riskSets) accumulate(first, end int) {
	q := s.p() + 1
	table := s.cells
	for b := end - 1; b >= first; b-- {
		set := table[2*b*q : 2*b*q+q]
		for j, e := range table[(2*b+1)*q : (2*b+2)*q] {
			set[j] += e
		}
		if b+1 < end {
			for j, later := range table[2*(b+1)*q : 2*(b+1)*q+q] {
				set[j] += later
			}
		}
	}
}

// efron fills in the terms of d tied events and returns Σ w̄·log D.
func (t *setTerms) efron(all, tied float64, d deaths) (sum float64) {
	w := d.weight / float64(d.n)
	for l := range d.n {
		f := float64(l) / float64(d.n)
		left := all - f*tied
		sum += w * math.Log(left)
		h := w / left
		t.hazard += h
		t.tiedHazard += f * h
		h /= left
		t.aa += h
		t.ab += f * h
		t.bb += f * f * h
	}
	return sum
}

// score is Σ φ·(z − mean of z over the risk set) over events, a nil φ being 1:
// the gradient of the log partial likelihood.
func (s *riskSets) score(phi []float64) []float64 {
	u := s.eventSum(phi)
	for b, t := range s.terms {
		f := at(phi, b)
		_, set := s.set(b)
		floats.AddScaled(u, -f*t.hazard, set)
		if t.tiedHazard > 0 {
			_, tied := s.tied(b)
			floats.AddScaled(u, f*t.tiedHazard, tied)
		}
	}
	return u
}

// at is φ at a block, 1 for a nil φ.
func at(phi []float64, block int) float64 {
	if phi == nil {
		return 1
	}
	return phi[block]
}

// hazards sums φ·hazard over the blocks that each cell lives through; events
// live through a part only of their own. A nil φ is 1 throughout.
func (s *riskSets) hazards(phi []float64) []float64 {
	h := make([]float64, 2*len(s.time))
	for stratum := range s.label {
		sum := 0.
		for b := s.first[stratum]; b < s.first[stratum+1]; b++ {
			f := at(phi, b)
			sum += f * s.terms[b].hazard
			h[2*b] = sum
			h[2*b+1] = sum - f*s.terms[b].tiedHazard
		}
	}
	return h
}

// information is Σ φ·(variance of z over the risk set) over events, a nil φ
// being 1: minus the second derivative of the log partial likelihood. The
// second moments are summed over rows, each as often as its hazard says, which
// is the same and takes one pass.
func (s *riskSets) information(phi []float64) *mat.SymDense {
	sum := s.crossProducts(s.hazards(phi))
	p := s.p()
	u, v := make([]float64, p), make([]float64, p)
	for b, t := range s.terms {
		f := at(phi, b)
		_, set := s.set(b)
		_, tied := s.tied(b)
		for j, z := range set {
			u[j] = f * (t.aa*z - t.ab*tied[j])
			v[j] = f * (t.bb*tied[j] - t.ab*z)
		}
		k := 0
		for j, z := range set {
			e := tied[j]
			for i := 0; i <= j; i++ {
				sum[k] -= z*u[i] + e*v[i]
				k++
			}
		}
	}
	info := mat.NewSymDense(p, nil)
	k := 0
	for j := range p {
		for i := 0; i <= j; i++ {
			info.SetSym(i, j, sum[k])
			k++
		}
	}
	return info
}

// identified says whether the information at β = 0 holds something on each
// column, beyond rounding, that those before it do not.
func (s *riskSets) identified(info *mat.SymDense) error {
	weight := 0.
	for _, d := range s.deaths {
		weight += d.weight
	}
	for j, spread := range s.scale {
		if !(info.At(j, j) > 1e-12*weight*spread*spread) {
			return fmt.Errorf("%s hardly varies among the rows that are at risk at the same time: %w", s.data.name(j), stat.ErrNoVariation)
		}
	}
	if j := dependent(info); j >= 0 {
		return fmt.Errorf("%s follows from the columns before it among the rows at risk: %w", s.data.name(j), stat.ErrCollinear)
	}
	return nil
}
