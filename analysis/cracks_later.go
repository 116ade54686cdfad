package analysis

import (
	"fmt"

	"pourback/analysis/stat/survival"
	"pourback/ingest/record"
)

// daysPerMonth turns a warranty into days: 12 months are a year of 365.
const daysPerMonth = 365.0 / 12

// CracksLater is what slabs that have not cracked yet may still bring within
// the warranty.
type CracksLater struct {
	Slabs     int       `json:"slabs"` // inside the warranty and free of cracks
	Callbacks Figure    `json:"expected_callbacks"`
	Cost      Figure    `json:"expected_cost"` // at the mean cost of a crack callback
	ByAge     []CrackAt `json:"by_age"`
}

// CrackAt is the risk that a slab of an age still cracks within the warranty.
type CrackAt struct {
	AgeDays int    `json:"age_days"`
	Risk    Figure `json:"risk"`
}

// agesShown are the ages in days at which remaining risk is shown.
var agesShown = []int{0, 30, 90, 180, 270}

// warrantyMonths is the most common warranty among the jobs, the longer of two
// as common, and whether any job states one.
func warrantyMonths(h *record.History) (months int, stated bool) {
	count := map[int64]int{}
	for i := range h.Jobs {
		if w := h.Jobs[i].WarrantyMonths; w.OK && w.V > 0 {
			count[w.V]++
		}
	}
	most := int64(usualWarranty)
	for w, n := range count {
		if n > count[most] || n == count[most] && w > most {
			most = w
		}
	}
	return int(most), len(count) > 0
}

// later reckons what is still to come from slabs inside the warranty.
func (s *slabs) later(km *survival.KM, horizon, callback float64, opt Options) CracksLater {
	l := CracksLater{ByAge: []CrackAt{}}
	var ages []float64
	for i, d := range s.days {
		if !s.cracked[i] && d < horizon {
			ages = append(ages, d)
		}
	}
	l.Slabs = len(ages)
	switch why := s.cannotReserve(km, horizon); {
	case why != "":
		l.Callbacks = unknown("%s", why)
	case len(ages) == 0:
		l.Callbacks = total(0, 0, "no slab free of cracks is inside the warranty")
	default:
		l.Callbacks = reserve(km, ages, horizon, opt.Level)
	}
	l.Cost = scaled(l.Callbacks, callback)
	if !l.Callbacks.Known() {
		return l
	}
	for _, age := range agesShown {
		if float64(age) < horizon {
			l.ByAge = append(l.ByAge, CrackAt{age, estimated(km.RemainingRisk(float64(age), horizon, opt.Level))})
		}
	}
	return l
}

// cannotReserve is why callbacks still to come cannot be reckoned, or "".
func (s *slabs) cannotReserve(km *survival.KM, horizon float64) string {
	switch {
	case s.event == EventSeen:
		return "what is still to come is reckoned from callbacks, not from cracks seen at visits"
	case km == nil || km.N < leastForRate:
		return fmt.Sprintf("fewer than %d placements", leastForRate)
	case km.AtRiskAt(horizon) == 0 && km.Survival[len(km.Survival)-1] > 0:
		return fmt.Sprintf("no slab has been watched for the whole warranty of %.0f days: the longest for %.0f", horizon, km.Last())
	}
	return ""
}

func reserve(km *survival.KM, ages []float64, horizon, level float64) Figure {
	r, err := km.Reserve(ages, horizon, 1, level)
	if err != nil {
		return unknown("%s", reason(err))
	}
	return estimated(r.Estimate, nil)
}

// scaled multiplies a figure and its interval.
func scaled(f Figure, by float64) Figure {
	f.Value, f.Low, f.High = f.Value*by, f.Low*by, f.High*by
	return f
}

// says puts what is to come in a sentence, "" where it is not known.
func (l CracksLater) says() string {
	if !l.Callbacks.Known() || l.Slabs == 0 {
		return ""
	}
	return fmt.Sprintf(" Of %s inside the warranty about %s may still bring a crack callback.", countOf(l.Slabs, "sound slab"), signed(l.Callbacks.Value, 0))
}
