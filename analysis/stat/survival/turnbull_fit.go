package survival

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"

	"pourback/analysis/stat"
)

// mixture is the likelihood of masses on m innermost intervals. Rows that hold
// the same ones, from first to last, are counted together.
type mixture struct {
	n      float64
	spans  []stretch
	mass   []float64
	across []float64 // D of each innermost interval, set by weigh

	f, g, h, target, next []float64 // room for a step
	pools                 []pool
}

type stretch struct {
	first, last int
	count       float64
	p           float64 // mass between, set by weigh
}

func newMixture(rows, innermost []Interval) *mixture {
	k := len(innermost)
	m := &mixture{n: float64(len(rows)), mass: make([]float64, k), across: make([]float64, k),
		f: make([]float64, k+1), g: make([]float64, k), h: make([]float64, k), target: make([]float64, k), next: make([]float64, k)}
	begins, ends := make([]endpoint, k), make([]endpoint, k)
	for j, i := range innermost {
		begins[j], ends[j] = i.ends()
		m.mass[j] = 1 / float64(k)
	}
	for _, r := range rows {
		b, e := r.ends()
		first, _ := slices.BinarySearchFunc(begins, b, endpoint.compare)
		last, ok := slices.BinarySearchFunc(ends, e, endpoint.compare)
		if !ok {
			last--
		}
		m.spans = append(m.spans, stretch{first: first, last: last, count: 1})
	}
	slices.SortFunc(m.spans, func(a, b stretch) int {
		return cmp.Or(cmp.Compare(a.first, b.first), cmp.Compare(a.last, b.last))
	})
	merged := m.spans[:1]
	for _, s := range m.spans[1:] {
		if top := &merged[len(merged)-1]; top.first == s.first && top.last == s.last {
			top.count++
		} else {
			merged = append(merged, s)
		}
	}
	m.spans = merged
	return m
}

// cumulate sets f to F_0 = 0, F_1, …, F_m.
func (m *mixture) cumulate(mass []float64) { floats.CumSum(m.f[1:], mass) }

func (m *mixture) logLik(mass []float64) (sum float64) {
	m.cumulate(mass)
	for _, s := range m.spans {
		sum += s.count * math.Log(m.f[s.last+1]-m.f[s.first])
	}
	return sum
}

// weigh sets P of each span and D of each innermost interval, and returns the
// gap.
func (m *mixture) weigh() (gap float64) {
	m.cumulate(m.mass)
	clear(m.across)
	for i := range m.spans {
		s := &m.spans[i]
		s.p = m.f[s.last+1] - m.f[s.first]
		d := s.count / s.p
		m.across[s.first] += d
		if s.last+1 < len(m.across) {
			m.across[s.last+1] -= d
		}
	}
	floats.CumSum(m.across, m.across)
	return m.n * math.Log(floats.Max(m.across)/m.n)
}

// maximise takes steps of both kinds in turn until the gap closes.
func (m *mixture) maximise() (fit stat.Fit, gap float64) {
	near := certain * max(1, m.n/1000)
	gap = m.weigh()
	for ; fit.Iterations < mostRounds && gap > near; fit.Iterations++ {
		for j, d := range m.across { // self-consistency: p ← p·D/n
			m.mass[j] *= d / m.n
		}
		m.weigh()
		m.minorantStep()
		gap = m.weigh()
	}
	gap = max(0, gap)
	fit.Converged = gap <= near
	if !fit.Converged {
		fit.Warnings = append(fit.Warnings, fmt.Sprintf("the log likelihood may be up to %.2g below its maximum", gap))
	}
	return fit, gap
}

// minorantStep moves the distribution function toward the isotonic regression
// of F + g/h with weights h, g and −h being the first and second derivatives of
// the log likelihood in each F_j alone, as far as that does not lower it.
func (m *mixture) minorantStep() {
	k := len(m.mass) - 1 // F_m stays 1
	if k == 0 {
		return
	}
	g, h := m.g[:k], m.h[:k]
	clear(g)
	clear(h)
	for _, s := range m.spans {
		d := s.count / s.p
		if s.last < k {
			g[s.last] += d
			h[s.last] += d / s.p
		}
		if s.first > 0 {
			g[s.first-1] -= d
			h[s.first-1] += d / s.p
		}
	}
	m.cumulate(m.mass)
	for j := range g {
		g[j] = m.f[j+1] + g[j]/h[j]
	}
	m.pools = isotonic(g, h, m.pools[:0])
	before := 0.
	for j, v := range g {
		v = min(1, max(0, v))
		m.target[j], before = v-before, v
	}
	m.target[k] = 1 - before
	m.moveToTarget()
}

// moveToTarget goes the whole way to the target masses or the largest half,
// quarter, … of it that does not lower the likelihood.
func (m *mixture) moveToTarget() {
	now := m.logLik(m.mass)
	for t := 1.; t > 1e-6; t /= 2 {
		for j, p := range m.mass {
			m.next[j] = p + t*(m.target[j]-p)
		}
		if m.logLik(m.next) >= now {
			copy(m.mass, m.next)
			return
		}
	}
}

// pool is a stretch of an isotonic fit at one height.
type pool struct {
	mean, weight float64
	n            int
}

// isotonic replaces y by its weighted least-squares fit among ascending
// sequences, pooling adjacent violators (Barlow et al. 1972, Statistical
// Inference under Order Restrictions).
func isotonic(y, w []float64, pools []pool) []pool {
	for i, v := range y {
		pools = append(pools, pool{v, w[i], 1})
		for n := len(pools); n > 1 && pools[n-2].mean >= pools[n-1].mean; n-- {
			a, b := pools[n-2], pools[n-1]
			weight := a.weight + b.weight
			pools[n-2] = pool{(a.mean*a.weight + b.mean*b.weight) / weight, weight, a.n + b.n}
			pools = pools[:n-1]
		}
	}
	i := 0
	for _, p := range pools {
		for range p.n {
			y[i] = p.mean
			i++
		}
	}
	return pools
}
