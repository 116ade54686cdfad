package survival

import (
	"fmt"
	"math"

	"pourback/analysis/stat"
)

// RateStratum holds the events and the person-time of two arms that are alike
// in what defines the stratum.
type RateStratum struct {
	Events1 int
	Time1   float64
	Events0 int
	Time0   float64
}

// MantelHaenszelRateDifference pools the difference of two rates over strata
// with weights w = T₁T₀/T: Σ[(a₁T₀−a₀T₁)/T]/Σw, variance
// Σw²(a₁/T₁²+a₀/T₀²)/(Σw)² (Greenland & Robins 1985, Biometrics 41, 55-68). It
// assumes one difference in all strata. Strata without follow-up in both arms
// weigh nothing.
//
// Errors: [stat.ErrNoData], [stat.ErrDomain] and [stat.ErrNotFinite] for
// impossible counts or times, [stat.ErrNoEvents].
func MantelHaenszelRateDifference(strata []RateStratum, level float64) (Effect, error) {
	const method = "Mantel-Haenszel rate difference, Greenland-Robins"
	strata, err := usableRates(method, strata, level)
	if err != nil {
		return Effect{}, err
	}
	var sum, weight, variance float64
	events := 0
	for _, s := range strata {
		a1, a0, t := float64(s.Events1), float64(s.Events0), s.Time1+s.Time0
		w := s.Time1 / t * s.Time0
		r1, r0 := a1/s.Time1, a0/s.Time0
		sum += w * (r1 - r0)
		weight += w
		variance += w * w * (r1/s.Time1 + r0/s.Time0)
		events += s.Events1 + s.Events0
	}
	return difference(method, sum/weight, variance/(weight*weight), level, math.Inf(1), events)
}

// MantelHaenszelRateRatio pools the ratio of two rates over strata:
// Σ(a₁T₀/T)/Σ(a₀T₁/T), with var log = Σ[(a₁+a₀)T₁T₀/T²]/(ΣR·ΣS), R and S the
// two sums (Greenland & Robins 1985). It assumes one ratio in all strata.
//
// Errors as [MantelHaenszelRateDifference]; [stat.ErrNoEvents] already when
// one arm has none.
func MantelHaenszelRateRatio(strata []RateStratum, level float64) (Effect, error) {
	const method = "Mantel-Haenszel rate ratio, Greenland-Robins"
	strata, err := usableRates(method, strata, level)
	if err != nil {
		return Effect{}, err
	}
	var r, s, v float64
	events := 0
	for _, q := range strata {
		f1, f0 := q.Time1/(q.Time1+q.Time0), q.Time0/(q.Time1+q.Time0)
		r += float64(q.Events1) * f0
		s += float64(q.Events0) * f1
		v += float64(q.Events1+q.Events0) * f1 * f0
		events += q.Events1 + q.Events0
	}
	return ratio(method, r, s, v/r/s, level, events)
}

// usableRates checks all strata and keeps those with follow-up in both arms.
func usableRates(method string, strata []RateStratum, level float64) ([]RateStratum, error) {
	if err := stat.CheckLevel(level); err != nil {
		return nil, fmt.Errorf("%s: %w", method, err)
	}
	var usable []RateStratum
	for i, s := range strata {
		if err := stat.Finite("person-time", s.Time1, s.Time0); err != nil {
			return nil, fmt.Errorf("%s: stratum %d: %w", method, i, err)
		}
		if s.Time1 < 0 || s.Time0 < 0 || s.Events1 < 0 || s.Events0 < 0 ||
			s.Events1 > 0 && s.Time1 == 0 || s.Events0 > 0 && s.Time0 == 0 {
			return nil, fmt.Errorf("%s: stratum %d has %d events in %g and %d in %g: %w",
				method, i, s.Events1, s.Time1, s.Events0, s.Time0, stat.ErrDomain)
		}
		if s.Time1 > 0 && s.Time0 > 0 {
			usable = append(usable, s)
		}
	}
	if len(usable) == 0 {
		return nil, fmt.Errorf("%s: no stratum has follow-up in both arms: %w", method, stat.ErrNoData)
	}
	return usable, nil
}
