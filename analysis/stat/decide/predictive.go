package decide

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mathext"
	"gonum.org/v1/gonum/stat/distuv"

	"pourback/analysis/stat"
	"pourback/analysis/stat/interval"
)

// Predictive is what is believed about a number not yet known. Its values come
// from the constructors of this package, which check their parameters.
type Predictive interface {
	Mean() float64
	// CDF is P(U ≤ x) and Survival P(U > x), each exact in its own tail.
	CDF(x float64) float64
	Survival(x float64) float64
	// Quantile is the x with CDF(x) = p; p outside (0, 1) gives [stat.ErrDomain].
	Quantile(p float64) (float64, error)
	// Shortage is E(U−q)⁺, what is missing on average when q is at hand.
	Shortage(q float64) float64
}

// Leftover is E(q−U)⁺, what is left on average when q is at hand.
func Leftover(u Predictive, q float64) float64 { return max(0, q-u.Mean()+u.Shortage(q)) }

func checkProbability(p float64) error {
	if !(p > 0 && p < 1) {
		return fmt.Errorf("probability %v is not between 0 and 1: %w", p, stat.ErrDomain)
	}
	return nil
}

// checkScale refuses a spread that is not a positive finite number.
func checkScale(name string, s float64) error {
	if err := stat.Finite(name, s); err != nil {
		return err
	}
	if s <= 0 {
		return fmt.Errorf("%s is %v, want more than 0: %w", name, s, stat.ErrDomain)
	}
	return nil
}

// upperNormal is 1−Φ(z) and density φ(z), exact in the tail.
func upperNormal(z float64) float64 { return math.Erfc(z/math.Sqrt2) / 2 }
func density(z float64) float64     { return math.Exp(-z*z/2) / math.Sqrt(2*math.Pi) }

// unitLoss is E(Z−z)⁺ of a standard normal Z: φ(z) − z(1−Φ(z)).
func unitLoss(z float64) float64 {
	if z > 39 { // beyond it both terms vanish; ∞·0 must not be formed
		return 0
	}
	return max(0, density(z)-z*upperNormal(z))
}

type normal struct{ mean, sd float64 }

// Normal is N(mean, sd²).
func Normal(mean, sd float64) (Predictive, error) {
	if err := stat.Finite("mean", mean); err != nil {
		return nil, err
	}
	if err := checkScale("standard deviation", sd); err != nil {
		return nil, err
	}
	return normal{mean, sd}, nil
}

func (n normal) z(x float64) float64        { return (x - n.mean) / n.sd }
func (n normal) Mean() float64              { return n.mean }
func (n normal) CDF(x float64) float64      { return upperNormal(-n.z(x)) }
func (n normal) Survival(x float64) float64 { return upperNormal(n.z(x)) }
func (n normal) Shortage(q float64) float64 { return n.sd * unitLoss(n.z(q)) }

func (n normal) Quantile(p float64) (float64, error) {
	if err := checkProbability(p); err != nil {
		return 0, err
	}
	return n.mean + n.sd*distuv.UnitNormal.Quantile(p), nil
}

type lognormal struct {
	log  normal
	mean float64
}

// Lognormal is e^X with X ~ N(meanlog, sdlog²).
func Lognormal(meanlog, sdlog float64) (Predictive, error) {
	if err := stat.Finite("mean of logs", meanlog); err != nil {
		return nil, err
	}
	if err := checkScale("standard deviation of logs", sdlog); err != nil {
		return nil, err
	}
	mean := math.Exp(meanlog + sdlog*sdlog/2)
	return lognormal{normal{meanlog, sdlog}, mean}, stat.Finite("lognormal mean", mean)
}

func (l lognormal) Mean() float64 { return l.mean }

func (l lognormal) CDF(x float64) float64 {
	if x <= 0 {
		return 0
	}
	return l.log.CDF(math.Log(x))
}

func (l lognormal) Survival(x float64) float64 {
	if x <= 0 {
		return 1
	}
	return l.log.Survival(math.Log(x))
}

func (l lognormal) Quantile(p float64) (float64, error) {
	x, err := l.log.Quantile(p)
	return math.Exp(x), err
}

func (l lognormal) Shortage(q float64) float64 {
	if q <= 0 {
		return l.mean - q
	}
	if math.IsInf(q, 1) {
		return 0
	}
	z := l.log.z(math.Log(q))
	return max(0, l.mean*upperNormal(z-l.log.sd)-q*upperNormal(z))
}

type student struct {
	loc, scale, nu float64
	logHeight      float64 // log of the density at 0
}

// Student is loc + scale·t with nu degrees of freedom, nu not necessarily
// whole. At nu ≤ 1 there is no mean to order by: [stat.ErrDomain].
func Student(loc, scale, nu float64) (Predictive, error) {
	if err := stat.Finite("location", loc); err != nil {
		return nil, err
	}
	if err := checkScale("scale", scale); err != nil {
		return nil, err
	}
	if !(nu > 1) {
		return nil, fmt.Errorf("%v degrees of freedom, want more than 1 for a mean: %w", nu, stat.ErrDomain)
	}
	if math.IsInf(nu, 1) {
		return normal{loc, scale}, nil
	}
	return student{loc, scale, nu, logHeight(nu)}, nil
}

// logHeight is log Γ((ν+1)/2) − log Γ(ν/2) − ½log(νπ); above ν = 1000 the
// difference of gammas is ½log(ν/2) − 1/4ν + 1/24ν³ (Stirling), whose next term
// is below the last bit.
func logHeight(nu float64) float64 {
	if nu > 1000 {
		return -0.5*math.Log(2*math.Pi) - 1/(4*nu) + 1/(24*nu*nu*nu)
	}
	up, _ := math.Lgamma((nu + 1) / 2)
	down, _ := math.Lgamma(nu / 2)
	return up - down - 0.5*math.Log(nu*math.Pi)
}

func (s student) Mean() float64              { return s.loc }
func (s student) CDF(x float64) float64      { return s.upper((s.loc - x) / s.scale) }
func (s student) Survival(x float64) float64 { return s.upper((x - s.loc) / s.scale) }

func (s student) Quantile(p float64) (float64, error) {
	t, err := interval.StudentQuantile(p, s.nu)
	return s.loc + s.scale*t, err
}

func (s student) Shortage(q float64) float64 {
	z := (q - s.loc) / s.scale
	if math.IsInf(z, 1) {
		return 0
	}
	f := math.Exp(s.logHeight - (s.nu+1)/2*math.Log1p(z*z/s.nu))
	// (ν+z²)/(ν−1) grows with z² where f falls faster, but may overflow first.
	part := f * (s.nu + z*z) / (s.nu - 1)
	if z*z > 1e300 {
		part = 0
	}
	return s.scale * max(0, part-z*s.upper(z))
}

// manyDegrees is where the incomplete beta integral begins to lose digits and
// two terms of the expansion in 1/ν are exact to a few of the last.
const manyDegrees = 1e5

// upper is P(t > z): half an incomplete beta integral, taken from the side
// that does not subtract from 1 (Abramowitz & Stegun 1964, 26.7.1); above
// [manyDegrees] 1 − Φ(z) + φ(z)[(z³+z)/4ν + (3z⁷−7z⁵−5z³−3z)/96ν²] (Fisher
// 1925, Metron 5:109).
func (s student) upper(z float64) float64 {
	switch {
	case math.IsNaN(z):
		return z
	case z < 0:
		return 1 - s.upper(-z)
	case s.nu > manyDegrees:
		if z > 39 {
			return 0
		}
		z2 := z * z
		return upperNormal(z) + density(z)*z/s.nu*((z2+1)/4+(((3*z2-7)*z2-5)*z2-3)/(96*s.nu))
	case z < 1:
		return 0.5 - mathext.RegIncBeta(0.5, s.nu/2, z*z/(s.nu+z*z))/2
	}
	return mathext.RegIncBeta(s.nu/2, 0.5, s.nu/(s.nu+z*z)) / 2
}
