package interval

import (
	"fmt"
	"math"

	"pourback/analysis/stat"
)

// RiskRatio returns (X1/N1) / (X2/N2) with the score interval: the ratios θ
// at which
//
//	(p1 − θ·p2)² / (p̃1(1−p̃1)/N1 + θ²p̃2(1−p̃2)/N2) = z²
//
// p̃ the maximum likelihood probabilities with p̃1 = θ·p̃2. N is the number of
// trials. No events in the second arm leave the ratio without a finite value:
// [stat.ErrNoEvents]; other errors are those of [Fisher].
//
// Source: Koopman (1984), Biometrics 40:513.
func RiskRatio(t TwoProportions, level float64) (stat.Estimate, error) {
	if err := firstOf(t.check(), checkLevel(level)); err != nil {
		return stat.Estimate{}, err
	}
	if t.X2 == 0 {
		return stat.Estimate{}, fmt.Errorf("risk ratio of %d/%d to %d/%d has no finite value: %w", t.X1, t.N1, t.X2, t.N2, stat.ErrNoEvents)
	}
	p1, p2 := t.rates()
	value, z := p1/p2, zTwoSided(level)
	limit := func(z float64) float64 {
		return math.Exp(fallingZero(func(logTheta float64) float64 {
			return t.ratioScore(math.Exp(logTheta)) - z
		}, -maxLog, maxLog))
	}
	low, high := 0.0, limit(-z)
	if t.X1 > 0 {
		low = limit(z)
	}
	return finite(stat.Estimate{
		Value: value, Low: low, High: high,
		Level: level, N: t.N1 + t.N2, Method: "risk ratio, Koopman score interval",
	})
}

// ratioScore is the score deviate of the ratio theta, falling in theta.
func (t TwoProportions) ratioScore(theta float64) float64 {
	n1, n2 := float64(t.N1), float64(t.N2)
	x1, x2 := float64(t.X1), float64(t.X2)
	a := (n1 + n2) * theta
	b := n1*theta + x1 + n2 + x2*theta
	c := x1 + x2
	q2 := 2 * c / (b + math.Sqrt(max(b*b-4*a*c, 0))) // the smaller root of aq² − bq + c
	q1 := min(1, theta*q2)
	diff := x1/n1 - theta*x2/n2
	if diff == 0 {
		return 0
	}
	return diff / math.Sqrt(q1*(1-q1)/n1+theta*theta*q2*(1-q2)/n2)
}
