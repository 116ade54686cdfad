package survival

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"pourback/analysis/stat"
)

// IntervalRate estimates a constant hazard from times known between two looks:
// it maximises ℓ(λ) = Σ log(e^{−λL} − e^{−λR}), with the limits at which twice
// the fall of ℓ is the χ²₁ quantile of the level (Lindsey & Ryan 1998, Stat.
// Med. 17, 219-238). Without an event it is 0, with the exact upper limit
// −log(α/2)/ΣL of a count of none (Garwood 1936). N is the number of events.
//
// Errors: [stat.ErrNoData] where no row says anything; [stat.ErrNotFinite],
// [stat.ErrDomain] as [TurnbullNPMLE]; [stat.ErrDomain] for events all at the
// very start, or the level.
func IntervalRate(rows []Interval, level float64) (stat.Estimate, error) {
	if err := stat.CheckLevel(level); err != nil {
		return stat.Estimate{}, fmt.Errorf("rate: %w", err)
	}
	if err := checkIntervals(rows); err != nil {
		return stat.Estimate{}, fmt.Errorf("rate: %w", err)
	}
	events, least, most := 0, 0., 0.
	for _, r := range rows {
		least += r.Left
		if !math.IsInf(r.Right, 1) {
			events++
			most += r.Right
		} else {
			most += r.Left
		}
	}
	e := stat.Estimate{Level: level, N: events, Method: "constant hazard between two looks, profile limits"}
	switch {
	case most == 0:
		return e, fmt.Errorf("rate: no time watched: %w", stat.ErrNoData)
	case events == 0:
		e.High = -math.Log((1-level)/2) / least
		return e, nil
	case least == 0:
		return e, fmt.Errorf("rate: all events by the first look: %w", stat.ErrDomain)
	}
	low, high := math.Log(float64(events)/most), math.Log(float64(events)/least)
	u := func(logRate float64) float64 { s, _ := rateLikelihood(rows, math.Exp(logRate)); return s }
	top := bisect(u, low-1e-9, high+1e-9)
	_, best := rateLikelihood(rows, math.Exp(top))
	fall := distuv.ChiSquared{K: 1}.Quantile(level) / 2
	gap := func(logRate float64) float64 { _, l := rateLikelihood(rows, math.Exp(logRate)); return best - l - fall }
	e.Value = math.Exp(top)
	e.Low = math.Exp(outwards(gap, top, -1))
	e.High = math.Exp(outwards(gap, top, +1))
	return e, nil
}

// rateLikelihood is the log likelihood of a rate, and its slope in the log rate.
func rateLikelihood(rows []Interval, rate float64) (slope, logLik float64) {
	for _, r := range rows {
		logLik -= rate * r.Left
		slope -= rate * r.Left
		switch {
		case math.IsInf(r.Right, 1):
		case r.Right == r.Left:
			logLik += math.Log(rate)
			slope++
		default:
			x := rate * (r.Right - r.Left)
			logLik += math.Log(-math.Expm1(-x))
			slope += x / math.Expm1(x)
		}
	}
	return slope, logLik
}

// bisect finds where a falling function is 0.
func bisect(f func(float64) float64, low, high float64) float64 {
	for range 200 {
		mid := low + (high-low)/2
		if mid == low || mid == high {
			break
		}
		if f(mid) > 0 {
			low = mid
		} else {
			high = mid
		}
	}
	return low + (high-low)/2
}

// outwards finds where a function that is below 0 at start rises to 0, in the
// direction of a sign; an infinity where it never does.
func outwards(f func(float64) float64, start, sign float64) float64 {
	step := 1.
	for f(start+sign*step) < 0 {
		if step *= 2; step > 1000 {
			return sign * math.Inf(1)
		}
	}
	return start + sign*bisect(func(x float64) float64 { return -f(start + sign*x) }, 0, step)
}
