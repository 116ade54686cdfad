package pool

import (
	"fmt"
	"math"

	"pourback/analysis/stat"
)

// Learning is Wright's curve: unit n takes First·n^b, b = log₂ Rate, so that each
// doubling of experience multiplies the time by Rate (Wright 1936, J. Aeronautical
// Sciences 3, 122-128). It is read here as the time of the n-th unit; Wright's own
// curve was of the average so far.
type Learning struct {
	First float64 // time of the first unit, above zero
	Rate  float64 // above zero; .8 is "an 80 % curve", 1 no learning
}

// LearningRate is the rate of a slope of log time on log experience, 2^slope.
func LearningRate(slope float64) float64 { return math.Exp2(slope) }

// NewLearning validates a curve.
func NewLearning(first, rate float64) (Learning, error) {
	if err := positive("time of the first unit", first); err != nil {
		return Learning{}, err
	}
	if err := positive("learning rate", rate); err != nil {
		return Learning{}, err
	}
	return Learning{first, rate}, nil
}

// Exponent is b = log₂ Rate, below zero where there is learning.
func (l Learning) Exponent() float64 { return math.Log2(l.Rate) }

// Unit is the time of unit n ≥ 1.
func (l Learning) Unit(n int) (float64, error) {
	if n < 1 {
		return 0, fmt.Errorf("unit %d, the first is 1: %w", n, stat.ErrDomain)
	}
	t := l.First * math.Pow(float64(n), l.Exponent())
	return t, stat.Finite("time of the unit", t)
}

// summedUnits is how many units are added one by one.
const summedUnits = 1000

// Total is the time of units 1 to n: the sum, beyond a thousand units by the
// Euler-Maclaurin formula, whose error there is under 1e-15 of the total.
func (l Learning) Total(n int) (float64, error) {
	if n < 1 {
		return 0, fmt.Errorf("%d units: %w", n, stat.ErrDomain)
	}
	b, sum := l.Exponent(), 0.0
	for k := range min(n, summedUnits) {
		sum += math.Pow(float64(k+1), b)
	}
	if n > summedUnits {
		sum += eulerMaclaurin(b, summedUnits, float64(n))
	}
	return l.First * sum, stat.Finite("total time", l.First*sum)
}

// eulerMaclaurin is the sum of k^b over m < k ≤ n (Abramowitz & Stegun 23.1.30).
func eulerMaclaurin(b, m, n float64) float64 {
	area := math.Log(n / m)
	if b != -1 {
		area = math.Pow(m, b+1) * math.Expm1((b+1)*math.Log(n/m)) / (b + 1)
	}
	f := func(x float64) float64 { return math.Pow(x, b) }
	first := func(x float64) float64 { return b * math.Pow(x, b-1) }
	third := func(x float64) float64 { return b * (b - 1) * (b - 2) * math.Pow(x, b-3) }
	return area + (f(n)-f(m))/2 + (first(n)-first(m))/12 - (third(n)-third(m))/720
}

// Average is Total over n.
func (l Learning) Average(n int) (float64, error) {
	total, err := l.Total(n)
	return total / float64(max(n, 1)), err
}
