package survival

import (
	"fmt"
	"math"

	"pourback/analysis/stat"
)

// RemainingRisk estimates the probability (S(a) − S(H))/S(a) that a row which
// has reached age a without the event has it by the horizon H: 0 from H on.
// The limits are log-log on S(H)/S(a), whose logarithm has Greenwood's
// variance Σ d/(n(n−d)) over event times after a and up to H. N is the number
// at risk at H; when nobody was followed that far, the value is a lower bound
// and High is 1. Without events in between, High is the Clopper-Pearson limit
// on the N at risk at H.
//
// Errors: as [KM.SurvivalAt]; [stat.ErrTooFew] when S(a) is 0, so that no row
// shows what happens past a.
func (k *KM) RemainingRisk(age, horizon, level float64) (stat.Estimate, error) {
	est := stat.Estimate{Level: level, Method: "Kaplan-Meier remaining risk, Greenwood, log-log limits"}
	if err := k.checkAsk(horizon, level, LogLog); err != nil {
		return stat.Estimate{}, fmt.Errorf("remaining risk: %w", err)
	}
	if err := k.checkAsk(age, level, LogLog); err != nil {
		return stat.Estimate{}, fmt.Errorf("remaining risk: age: %w", err)
	}
	est.N = k.AtRiskAt(horizon)
	if age >= horizon {
		est.Method = "no time is left before the horizon"
		return est, nil
	}
	s, variance, err := k.conditional(age, horizon)
	if err != nil {
		return stat.Estimate{}, fmt.Errorf("remaining risk: %w", err)
	}
	est.Value = 1 - s
	switch {
	case s == 1:
		est.High = 1 - exactAllOrNone(est.N, level)
		est.Method = fmt.Sprintf("Kaplan-Meier remaining risk; no events, Clopper-Pearson limit on the %d at risk", est.N)
	case s == 0:
		est.Low, est.High = 0, 1
		est.Method = "Kaplan-Meier remaining risk; none survive to the horizon, no limits"
	default:
		low, high := LogLog.interval(s, math.Sqrt(variance), normalQuantile(level))
		est.Low, est.High = 1-high, 1-low
	}
	if s > 0 && horizon > k.Last() {
		est.High = 1
		est.Method = fmt.Sprintf("Kaplan-Meier remaining risk; nobody was followed to %g, the last to %g: a lower bound", horizon, k.Last())
	}
	return est, nil
}

// conditional is S(horizon)/S(age) and the variance of its logarithm.
func (k *KM) conditional(age, horizon float64) (s, variance float64, err error) {
	a, h := k.at(age), k.at(horizon)
	from, to, g := 1., 1., 0.
	if a >= 0 {
		from, g = k.Survival[a], k.Greenwood[a]
	}
	if from == 0 {
		return 0, 0, fmt.Errorf("no row reached the age of %g without the event: %w", age, stat.ErrTooFew)
	}
	if h >= 0 {
		to, variance = k.Survival[h], k.Greenwood[h]-g
	}
	return to / from, max(0, variance), nil
}

// Reserve is what the callbacks still to come by the horizon are expected to
// cost, slab by slab.
type Reserve struct {
	stat.Estimate           // of the total; N is the number of slabs
	Probability   []float64 // remaining risk of each slab
	SECurve       float64   // standard error of the total from the uncertain curve
	SEChance      float64   // spread of the total if the curve were exact
	Warnings      []string
}

// Reserve sums the remaining risk of slabs of the given ages, free of callbacks
// so far, times the mean cost of a callback: Σ(S(a)−S(H))/S(a)·cost. All slabs
// share one curve, so their errors go together: with P_i = S(H)/S(a_i), the
// variance from the curve is cost²·Σ_t(Σ_{a_i<t≤H} P_i)²·d/(n(n−d)) (delta
// method on Greenwood's terms) and that from chance cost²·ΣP_i(1−P_i). The
// limits take both, are normal and are cut at 0 and at every slab called back
// once; the mean cost counts as known.
//
// Errors: as [KM.RemainingRisk]; [stat.ErrNoData] without ages,
// [stat.ErrDomain] for a negative cost.
func (k *KM) Reserve(ages []float64, horizon, meanCost, level float64) (*Reserve, error) {
	if err := k.checkReserve(ages, horizon, meanCost, level); err != nil {
		return nil, fmt.Errorf("reserve: %w", err)
	}
	r := &Reserve{Probability: make([]float64, len(ages))}
	stay := make([]float64, len(k.Time)) // ΣP_i of the slabs whose wait begins at each time
	first, total, chance := 0., 0., 0.
	for i, age := range ages {
		if age >= horizon {
			continue
		}
		p, _, err := k.conditional(age, horizon)
		if err != nil {
			return nil, fmt.Errorf("reserve: slab %d: %w", i, err)
		}
		r.Probability[i] = 1 - p
		total += 1 - p
		chance += p * (1 - p)
		if at := k.at(age); at >= 0 {
			stay[at] += p
		} else {
			first += p
		}
	}
	r.SECurve = meanCost * math.Sqrt(k.reserveVariance(stay, first, horizon))
	r.SEChance = meanCost * math.Sqrt(chance)
	half := normalQuantile(level) * math.Hypot(r.SECurve, r.SEChance)
	r.Estimate = stat.Estimate{Value: meanCost * total, Level: level, N: len(ages), Method: "Kaplan-Meier remaining risk, normal limits",
		Low: max(0, meanCost*total-half), High: min(meanCost*float64(len(ages)), meanCost*total+half)}
	r.warn(k, horizon)
	return r, nil
}

func (k *KM) checkReserve(ages []float64, horizon, meanCost, level float64) error {
	if len(ages) == 0 {
		return fmt.Errorf("no ages: %w", stat.ErrNoData)
	}
	if err := checkTimes("age", ages); err != nil {
		return err
	}
	if err := stat.Finite("mean cost", meanCost); err != nil {
		return err
	}
	if meanCost < 0 {
		return fmt.Errorf("mean cost %g is below 0: %w", meanCost, stat.ErrDomain)
	}
	return k.checkAsk(horizon, level, LogLog)
}

// reserveVariance sums (ΣP_i of the slabs waiting)²·d/(n(n−d)) over event times
// up to the horizon. Past a time at which all at risk had the event P is 0.
func (k *KM) reserveVariance(stay []float64, waiting, horizon float64) (sum float64) {
	for i, t := range k.Time {
		if t > horizon || k.Survival[i] == 0 {
			break
		}
		n, d := float64(k.AtRisk[i]), float64(k.Event[i])
		sum += waiting * waiting * d / (n * (n - d))
		waiting += stay[i]
	}
	return sum
}

func (r *Reserve) warn(k *KM, horizon float64) {
	if horizon > k.Last() && k.Survival[len(k.Survival)-1] > 0 {
		r.Warnings = append(r.Warnings, fmt.Sprintf(
			"nobody was followed to %g, the last to %g: callbacks after that are not in the reserve", horizon, k.Last()))
	}
	if k.EventsBy(horizon) == 0 {
		r.Warnings = append(r.Warnings, "no callback has been seen by the horizon: a reserve of 0 is no promise")
	}
}
