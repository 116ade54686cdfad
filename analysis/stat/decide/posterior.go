package decide

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mathext"

	"pourback/analysis/stat"
)

// Gamma is a belief about a rate, with mean Shape/Rate.
type Gamma struct{ Shape, Rate float64 }

// Beta is a belief about a proportion, with mean A/(A+B).
type Beta struct{ A, B float64 }

// Mean of the proportion.
func (b Beta) Mean() float64 { return b.A / (b.A + b.B) }

// Shapes outside these say nothing or everything, and cannot be integrated.
const (
	leastShape = 0.01
	mostShape  = 1e9
)

func checkShape(name string, x float64) error {
	if !(x >= leastShape && x <= mostShape) {
		return fmt.Errorf("%s is %v, want %v to %v: %w", name, x, leastShape, mostShape, stat.ErrDomain)
	}
	return nil
}

func (b Beta) check() error {
	if err := checkShape("beta shape a", b.A); err != nil {
		return err
	}
	return checkShape("beta shape b", b.B)
}

// RateLess is P(λ₁ < λ₂) for independent gamma beliefs: the regularised
// incomplete beta integral I_{b₁/(b₁+b₂)}(a₁, a₂) of shapes a and rates b.
//
// Source: λ₁b₁/(λ₁b₁+λ₂b₂) is Beta(a₁, a₂) (Johnson, Kotz & Balakrishnan 1994
// ch. 17).
func RateLess(one, two Gamma) (float64, error) {
	for _, g := range []Gamma{one, two} {
		if err := checkShape("gamma shape", g.Shape); err != nil {
			return 0, err
		}
		if err := checkScale("gamma rate", g.Rate); err != nil {
			return 0, err
		}
	}
	return mathext.RegIncBeta(one.Shape, two.Shape, 1/(1+two.Rate/one.Rate)), nil
}

// ProportionLess is P(p₁ < p₂) for independent beta beliefs,
// ∫ I_x(a₁, b₁)·f₂(x) dx, by the trapezoid rule over the logit of x, where the
// integrand falls off exponentially on both sides and the rule is exact to
// e^{−2π²/h} (Trefethen & Weideman 2014, SIAM Review 56:385).
func ProportionLess(one, two Beta) (float64, error) {
	if err := one.check(); err != nil {
		return 0, err
	}
	if err := two.check(); err != nil {
		return 0, err
	}
	if one.logitSD() < two.logitSD() { // integrate over the narrower
		return 1 - two.lessThan(one), nil
	}
	return one.lessThan(two), nil
}

// logitSD is close to the standard deviation of the logit of the proportion.
func (b Beta) logitSD() float64 { return math.Sqrt(trigamma(b.A) + trigamma(b.B)) }

// trigamma is ψ'(x) by recurrence to x ≥ 6 and its asymptotic series
// (Abramowitz & Stegun 1964, 6.4.12).
func trigamma(x float64) (sum float64) {
	for ; x < 6; x++ {
		sum += 1 / (x * x)
	}
	i := 1 / (x * x)
	return sum + 1/x + i/2 + i/x*(1./6-i*(1./30-i/42))
}

// lessThan is P(p_b < p_over), summed over the logit of p_over and divided by
// the sum of its density alone, which takes the rounding of the height away.
func (b Beta) lessThan(over Beta) float64 {
	sd := over.logitSD()
	step := min(0.25, sd/4)
	mode := math.Log(over.A / over.B)
	left, right := max(45/over.A, 14*sd), max(45/over.B, 14*sd)
	height := over.logDensity(mode)
	var sum, total float64
	for t := mode - left; t <= mode+right; t += step {
		f := math.Exp(over.logDensity(t) - height)
		if f < 1e-18 {
			continue
		}
		total += f
		sum += f * b.cdfLogit(t)
	}
	return sum / total
}

// logDensity is, but for a constant, the log density of the logit of a
// proportion: a·log x + b·log(1−x) at x = 1/(1+e^−t).
func (b Beta) logDensity(t float64) float64 { return -b.A*log1pExp(-t) - b.B*log1pExp(t) }

// cdfLogit is P(logit of the proportion ≤ t), from the side where x is small.
func (b Beta) cdfLogit(t float64) float64 {
	if t <= 0 {
		return mathext.RegIncBeta(b.A, b.B, 1/(1+math.Exp(-t)))
	}
	return 1 - mathext.RegIncBeta(b.B, b.A, 1/(1+math.Exp(t)))
}

// log1pExp is log(1+e^x) without overflow.
func log1pExp(x float64) float64 {
	if x > 0 {
		return x + math.Log1p(math.Exp(-x))
	}
	return math.Log1p(math.Exp(x))
}
