package pool

import (
	"math"

	"pourback/analysis/stat"
	"pourback/analysis/stat/regress"
)

// Mixture is a finite mixture of Student-t laws with the same degrees of
// freedom: Σ Weight·t_ν((x−Loc)/Scale). Nu +Inf makes them normal; a Scale of
// zero is a point mass.
type Mixture struct {
	Nu                 float64
	Weight, Loc, Scale []float64
	N                  int // outcomes, or groups, that it rests on

	student regress.Student // of Nu, where it is at hand
}

// Student is the law of a component in its own units.
func (m Mixture) Student() regress.Student {
	if m.student.Nu == m.Nu {
		return m.student
	}
	return regress.NewStudent(m.Nu)
}

// negligible is the weight below which a component cannot move a sum.
const negligible = 1e-18

// CDF is P(X ≤ x).
func (m Mixture) CDF(x float64) float64 {
	s, sum := m.Student(), 0.0
	for k, w := range m.Weight {
		switch {
		case w < negligible:
		case m.Scale[k] > 0:
			sum += w * s.CDF((x-m.Loc[k])/m.Scale[k])
		case x >= m.Loc[k]:
			sum += w
		}
	}
	return math.Min(sum, 1)
}

// Density is the density at x, point masses left out.
func (m Mixture) Density(x float64) float64 {
	s, sum := m.Student(), 0.0
	for k, w := range m.Weight {
		if w >= negligible && m.Scale[k] > 0 {
			sum += w * s.Density((x-m.Loc[k])/m.Scale[k]) / m.Scale[k]
		}
	}
	return sum
}

// Quantile is the least x with P(X ≤ x) ≥ p: −∞ at p ≤ 0 and +∞ at p ≥ 1. It is
// found between the least and greatest quantile of the components by Newton's
// steps, and by bisection where they leave what is left of that or, as about a
// narrow part of the law, jump to and fro over the quantile and do not halve it.
func (m Mixture) Quantile(p float64) float64 {
	if p <= 0 || p >= 1 {
		return math.Inf(int(math.Copysign(1, p-0.5)))
	}
	low, x, high := m.bracket(p)
	grain, halved := 1e-15*(high-low), high-low
	for k := range 200 {
		c := m.CDF(x)
		if c < p {
			low = x
		} else {
			high = x
		}
		next := x - (c-p)/m.Density(x)
		if math.Abs(next-x) <= grain+1e-16*math.Abs(x) {
			return next // before it is held against low and high, which may be x itself
		}
		slow := false
		if k%4 == 3 {
			slow, halved = high-low > halved/2, high-low
		}
		if slow || !(next > low && next < high) {
			next = low + (high-low)/2
		}
		if next == low || next == high {
			return next
		}
		x = next
	}
	return high
}

// bracket returns the least, the mean and the greatest p-quantile of the
// components.
func (m Mixture) bracket(p float64) (low, mean, high float64) {
	t := m.Student().Quantile(p)
	low, high = math.Inf(1), math.Inf(-1)
	for k, w := range m.Weight {
		if w >= negligible {
			q := m.Loc[k] + t*m.Scale[k]
			low, high = math.Min(low, q), math.Max(high, q)
			mean += w * q
		}
	}
	return low, math.Min(math.Max(mean, low), high), high
}

// Mean is ΣWeight·Loc, the mean where Nu > 1.
func (m Mixture) Mean() float64 {
	sum := 0.0
	for k, w := range m.Weight {
		sum += w * m.Loc[k]
	}
	return sum
}

// Var is the variance; +Inf where Nu ≤ 2.
func (m Mixture) Var() float64 {
	if m.Nu <= 2 {
		return math.Inf(1)
	}
	inflate := 1.0
	if !math.IsInf(m.Nu, 1) {
		inflate = m.Nu / (m.Nu - 2)
	}
	mean, sum := m.Mean(), 0.0
	for k, w := range m.Weight {
		d := m.Loc[k] - mean
		sum += w * (m.Scale[k]*m.Scale[k]*inflate + d*d)
	}
	return sum
}

// ExpectedAbove is E(X−q)⁺: for a standard t the loss f(z)(ν+z²)/(ν−1)−z(1−F(z)),
// for a normal φ(z)−z(1−Φ(z)) (Silver, Pyke & Thomas 2017, app. on inventory
// loss functions). It is +Inf where Nu ≤ 1.
func (m Mixture) ExpectedAbove(q float64) float64 {
	if m.Nu <= 1 {
		return math.Inf(1)
	}
	s, sum := m.Student(), 0.0
	for k, w := range m.Weight {
		switch {
		case w < negligible:
		case m.Scale[k] > 0:
			z := (q - m.Loc[k]) / m.Scale[k]
			spread := 1.0
			if !math.IsInf(m.Nu, 1) {
				spread = (m.Nu + z*z) / (m.Nu - 1)
			}
			sum += w * m.Scale[k] * math.Max(0, s.Density(z)*spread-z*s.Tail(z))
		default:
			sum += w * math.Max(0, m.Loc[k]-q)
		}
	}
	return sum
}

// Affine is the law of a + bX, b ≥ 0.
func (m Mixture) Affine(a, b float64) Mixture {
	out := m
	out.Loc, out.Scale = make([]float64, len(m.Loc)), make([]float64, len(m.Scale))
	for k := range m.Loc {
		out.Loc[k], out.Scale[k] = a+b*m.Loc[k], b*m.Scale[k]
	}
	return out
}

// Interval is the mean with the central interval at this level.
func (m Mixture) Interval(level float64) (stat.Estimate, error) {
	if err := stat.CheckLevel(level); err != nil {
		return stat.Estimate{}, err
	}
	e := stat.Estimate{Value: m.Mean(), Low: m.Quantile((1 - level) / 2), High: m.Quantile((1 + level) / 2), Level: level, N: m.N, Method: "posterior mixture, central interval"}
	return e, stat.Finite("posterior interval", e.Value, e.Low, e.High)
}
