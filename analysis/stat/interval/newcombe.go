package interval

import (
	"math"

	"pourback/analysis/stat"
)

// Newcombe returns the difference X1/N1 − X2/N2 with the interval that joins
// the Wilson limits l, u of the two arms by squares:
//
//	d − √((p1−l1)² + (u2−p2)²)  to  d + √((u1−p1)² + (p2−l2)²)
//
// N is the number of trials; errors are those of [Fisher]. It is for
// probabilities over one same length of time: where slabs have been watched
// for different times, use a person-time or survival method.
//
// Source: method 10 of Newcombe (1998), Stat. Med. 17:873.
func Newcombe(t TwoProportions, level float64) (stat.Estimate, error) {
	if err := firstOf(t.check(), checkLevel(level)); err != nil {
		return stat.Estimate{}, err
	}
	z := zTwoSided(level)
	p1, p2 := t.rates()
	l1, u1 := wilsonLimits(t.X1, t.N1, z)
	l2, u2 := wilsonLimits(t.X2, t.N2, z)
	d := p1 - p2
	return stat.Estimate{
		Value: d, Low: d - math.Hypot(p1-l1, u2-p2), High: d + math.Hypot(u1-p1, p2-l2),
		Level: level, N: t.N1 + t.N2, Method: "difference of proportions, Newcombe method 10",
	}, nil
}
