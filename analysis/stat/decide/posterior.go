package decide

import (
	"fmt"
	"math"

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
	l := logitOf(Beta{one.Shape, two.Shape})
	t := math.Log(one.Rate) - math.Log(two.Rate)
	below, above := l.mass(l.left, t), l.mass(t, l.right)
	return below / (below + above), nil
}

// ProportionLess is P(p₁ < p₂) for independent beta beliefs,
// ∫ F₁(x)·f₂(x) dx, over the logit of x.
func ProportionLess(one, two Beta) (float64, error) {
	if err := one.check(); err != nil {
		return 0, err
	}
	if err := two.check(); err != nil {
		return 0, err
	}
	a, b := logitOf(one), logitOf(two)
	if a.sd < b.sd { // sum over the narrower
		return 1 - b.less(a), nil
	}
	return a.less(b), nil
}

// logit is the logit of a proportion believed to be Beta: its density,
// x^a(1−x)^b at x = 1/(1+e^−t) but for a constant, is smooth and falls off
// exponentially on both sides, so it is integrated by equal steps. (The
// incomplete beta integral of gonum/mathext goes astray at shapes over 1e6.)
type logit struct {
	Beta
	sd          float64
	left, right float64 // beyond them lies less than 1e-19
	height      float64 // log of the highest density
}

func logitOf(b Beta) logit {
	l := logit{Beta: b, sd: math.Sqrt(trigamma(b.A) + trigamma(b.B))}
	mode := math.Log(b.A / b.B)
	l.left, l.right = mode-max(45/b.A, 14*l.sd), mode+max(45/b.B, 14*l.sd)
	l.height = l.log(mode)
	return l
}

func (l logit) log(t float64) float64     { return -l.A*log1pExp(-t) - l.B*log1pExp(t) }
func (l logit) density(t float64) float64 { return math.Exp(l.log(t) - l.height) }

// step keeps equal steps well under the width of the peak and under the
// distance π of the nearest poles.
func (l logit) step() float64 { return min(0.25, l.sd/4) }

// mass integrates the density by Gauss and Legendre's five points a step; an
// interval that runs backwards has none.
func (l logit) mass(from, to float64) (sum float64) {
	if from >= to {
		return 0
	}
	panels := math.Ceil((to - from) / l.step())
	half := (to - from) / panels / 2
	for i := range int(panels) {
		mid := from + half*float64(2*i+1)
		for k, x := range gaussNodes {
			sum += gaussWeights[k] * l.density(mid+half*x)
		}
	}
	return sum * half
}

// Abramowitz & Stegun (1964) table 25.4, n = 5.
var (
	gaussNodes   = [5]float64{-0.906179845938664, -0.538469310105683, 0, 0.538469310105683, 0.906179845938664}
	gaussWeights = [5]float64{0.236926885056189, 0.478628670499366, 0.568888888888889, 0.478628670499366, 0.236926885056189}
)

// less is P(l < over), over being the narrower: the trapezoid rule over its
// density, exact to e^{−2π²/step} for such a peak (Trefethen & Weideman 2014,
// SIAM Review 56:385), with the mass of l summed up on the way.
func (l logit) less(over logit) float64 {
	step := over.step()
	below := l.mass(l.left, min(over.left, l.right))
	var sum, total float64
	t := over.left
	for ; t <= over.right; t += step {
		f := over.density(t)
		total += f
		sum += f * below
		below += l.mass(t, t+step)
	}
	below += l.mass(t, l.right)
	return min(1, sum/(total*below))
}

// trigamma is ψ'(x) by recurrence to x ≥ 6 and its asymptotic series
// (Abramowitz & Stegun 1964, 6.4.12).
func trigamma(x float64) (sum float64) {
	for ; x < 6; x++ {
		sum += 1 / (x * x)
	}
	i := 1 / (x * x)
	return sum + 1/x + i/2 + i/x*(1./6-i*(1./30-i/42))
}

// log1pExp is log(1+e^x) without overflow.
func log1pExp(x float64) float64 {
	if x > 0 {
		return x + math.Log1p(math.Exp(-x))
	}
	return math.Log1p(math.Exp(x))
}
