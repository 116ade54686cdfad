package interval

import (
	"math"

	"pourback/analysis/stat"
)

// MiettinenNurminen returns the difference X1/N1 − X2/N2 with the score
// interval: the differences δ at which
//
//	(d − δ)² / {[p̃1(1−p̃1)/N1 + p̃2(1−p̃2)/N2]·N/(N−1)} = z²
//
// p̃ the maximum likelihood probabilities with p̃1 − p̃2 = δ, and N = N1 + N2,
// which is also the N reported. Errors are those of [Fisher].
//
// Source: Miettinen & Nurminen (1985), Stat. Med. 4:213.
func MiettinenNurminen(t TwoProportions, level float64) (stat.Estimate, error) {
	if err := firstOf(t.check(), checkLevel(level)); err != nil {
		return stat.Estimate{}, err
	}
	z := zTwoSided(level)
	p1, p2 := t.rates()
	d := p1 - p2
	return stat.Estimate{
		Value: d, Low: t.differenceLimit(z, -1, d), High: t.differenceLimit(-z, d, 1),
		Level: level, N: t.N1 + t.N2, Method: "difference of proportions, Miettinen-Nurminen score interval",
	}, nil
}

// differenceLimit finds the difference in lo..hi at which the score deviate,
// which falls, is z.
func (t TwoProportions) differenceLimit(z, lo, hi float64) float64 {
	return fallingZero(func(delta float64) float64 { return t.differenceScore(delta) - z }, lo, hi)
}

// differenceScore is the score deviate of the difference delta.
func (t TwoProportions) differenceScore(delta float64) float64 {
	p1, p2 := t.rates()
	diff := p1 - p2 - delta
	if diff == 0 {
		return 0
	}
	q2 := t.restricted(delta)
	q1 := q2 + delta
	n1, n2 := float64(t.N1), float64(t.N2)
	n := n1 + n2
	v := (q1*(1-q1)/n1 + q2*(1-q2)/n2) * n / (n - 1)
	return diff / math.Sqrt(max(v, 0))
}

// restricted returns the maximum likelihood probability of the second arm
// when that of the first is delta more. The derivative of the log likelihood
// falls over the range allowed, so halving finds its root, or the end of the
// range where it has none; the cubic's closed form loses half its digits
// where two roots meet.
func (t TwoProportions) restricted(delta float64) float64 {
	x1, y1 := float64(t.X1), float64(t.N1-t.X1)
	x2, y2 := float64(t.X2), float64(t.N2-t.X2)
	return fallingZero(func(p float64) float64 {
		return quotient(x1, p+delta) - quotient(y1, 1-p-delta) + quotient(x2, p) - quotient(y2, 1-p)
	}, max(0, -delta), min(1, 1-delta))
}

// quotient is x/p, and 0 where there is nothing to divide.
func quotient(x, p float64) float64 {
	if x == 0 {
		return 0
	}
	return x / p
}
