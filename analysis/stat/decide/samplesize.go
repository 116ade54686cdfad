package decide

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"pourback/analysis/stat"
)

// Test is a two-sided test: the chance of a false alarm and the power.
type Test struct {
	Alpha, Power float64
	BiasSD       float64 // of a log ratio, by what was not recorded: no number of events makes it less; 0 where chance decided who is exposed
}

// deviates are z_{1−α/2} and z_power.
func (t Test) deviates() (alpha, power float64, err error) {
	if !(t.BiasSD >= 0) || math.IsInf(t.BiasSD, 1) {
		return 0, 0, fmt.Errorf("bias of %v, want 0 or more: %w", t.BiasSD, stat.ErrDomain)
	}
	if !(t.Alpha > 0 && t.Alpha < 1 && t.Power > 0 && t.Power < 1) {
		return 0, 0, fmt.Errorf("alpha %v and power %v, want both between 0 and 1: %w", t.Alpha, t.Power, stat.ErrDomain)
	}
	alpha, power = -distuv.UnitNormal.Quantile(t.Alpha/2), distuv.UnitNormal.Quantile(t.Power)
	if alpha+power <= 0 {
		return 0, 0, fmt.Errorf("power %v is below what alpha %v gives by chance: %w", t.Power, t.Alpha, stat.ErrDomain)
	}
	return alpha, power, nil
}

// SchoenfeldEvents is the number of events that show a hazard ratio when a
// share of the placements is exposed: (z_{1−α/2}+z_pow)²/(p(1−p)(log HR)²); with
// a bias of σ_b, 1/(p(1−p)((log HR/(z_{1−α/2}+z_pow))² − σ_b²)), or +Inf where
// no number of events would show it.
// Ask it of the ratio that would matter, never of the one observed (Hoenig &
// Heisey 2001, The American Statistician 55:19).
//
// Source: Schoenfeld (1983), Biometrics 39:499.
func SchoenfeldEvents(ratio, share float64, test Test) (float64, error) {
	za, zp, err := test.deviates()
	if err != nil {
		return 0, err
	}
	if err := checkShare(share); err != nil {
		return 0, err
	}
	if err := checkScale("hazard ratio", ratio); err != nil {
		return 0, err
	}
	if ratio == 1 {
		return 0, fmt.Errorf("a hazard ratio of 1 is no difference to show: %w", stat.ErrDomain)
	}
	sd := math.Log(ratio) / (za + zp) // that the log ratio may have
	variance := sd*sd - test.BiasSD*test.BiasSD
	if variance <= 0 {
		return math.Inf(1), nil
	}
	return 1 / (variance * share * (1 - share)), nil
}

// PlacementsFor is the placements that bring so many events at a risk.
func PlacementsFor(events, risk float64) (float64, error) {
	if err := stat.Finite("events", events); err != nil {
		return 0, err
	}
	if events < 0 || !(risk > 0 && risk <= 1) {
		return 0, fmt.Errorf("%v events at a risk of %v, want 0 or more at a risk in (0, 1]: %w", events, risk, stat.ErrDomain)
	}
	n := events / risk
	return n, stat.Finite("placements", n)
}

// DetectableRatio is the smallest hazard ratio above 1 that so many events
// would show: exp((z_{1−α/2}+z_pow)·√(1/(p(1−p)·events) + σ_b²)). Its inverse
// is the largest below 1.
func DetectableRatio(events, share float64, test Test) (float64, error) {
	za, zp, err := test.deviates()
	if err != nil {
		return 0, err
	}
	if err := checkShare(share); err != nil {
		return 0, err
	}
	if err := stat.Finite("events", events); err != nil {
		return 0, err
	}
	if events <= 0 {
		return 0, fmt.Errorf("%v events show nothing: %w", events, stat.ErrNoEvents)
	}
	ratio := math.Exp((za + zp) * math.Hypot(1/math.Sqrt(share*(1-share)*events), test.BiasSD))
	if math.IsInf(ratio, 0) {
		return 0, fmt.Errorf("%v events show no ratio a number can hold: %w", events, stat.ErrTooFew)
	}
	return ratio, nil
}

// TwoProportions is the sample size of each of two groups that shows p₁
// against p₂, not rounded up and without a continuity correction:
//
//	n = [z_{1−α/2}√(2p̄(1−p̄)) + z_pow√(p₁(1−p₁)+p₂(1−p₂))]²/(p₁−p₂)²
//
// Source: Fleiss, Levin & Paik (2003) §4.2.
func TwoProportions(p1, p2 float64, test Test) (float64, error) {
	za, zp, err := test.deviates()
	if err != nil {
		return 0, err
	}
	if !(p1 >= 0 && p1 <= 1 && p2 >= 0 && p2 <= 1) {
		return 0, fmt.Errorf("proportions %v and %v, want both from 0 to 1: %w", p1, p2, stat.ErrDomain)
	}
	if p1 == p2 {
		return 0, fmt.Errorf("both proportions are %v, no difference to show: %w", p1, stat.ErrDomain)
	}
	mean := (p1 + p2) / 2
	z := (za*math.Sqrt(2*mean*(1-mean)) + zp*math.Sqrt(p1*(1-p1)+p2*(1-p2))) / (p1 - p2)
	return z * z, stat.Finite("sample size", z*z)
}

func checkShare(share float64) error {
	if !(share > 0 && share < 1) {
		return fmt.Errorf("share exposed is %v, want between 0 and 1: %w", share, stat.ErrDomain)
	}
	return nil
}
