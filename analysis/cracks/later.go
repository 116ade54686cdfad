package cracks

import (
	"fmt"

	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/analysis/stat/survival"
	"pourback/ingest/record"
)

// DaysPerMonth turns a warranty into days: 12 months are a year of 365.
const DaysPerMonth = 365.0 / 12

// CracksLater is what slabs that have not cracked yet may still bring within
// the warranty.
type Later struct {
	Slabs     int           `json:"slabs"` // inside the warranty and free of cracks
	Callbacks figure.Figure `json:"expected_callbacks"`
	Cost      figure.Figure `json:"expected_cost"` // at the mean cost of a crack callback
	ByAge     []AgeRisk     `json:"by_age"`
}

// CrackAt is the risk that a slab of an age still cracks within the warranty.
type AgeRisk struct {
	AgeDays int           `json:"age_days"`
	Risk    figure.Figure `json:"risk"`
}

// agesShown are the ages in days at which remaining risk is shown.
var agesShown = []int{0, 30, 90, 180, 270}

// WarrantyMonths is the most common warranty among the jobs, the longer of two
// as common, and whether any job states one.
func WarrantyMonths(h *record.History) (months int, stated bool) {
	count := map[int64]int{}
	for i := range h.Jobs {
		if w := h.Jobs[i].WarrantyMonths; w.OK && w.V > 0 {
			count[w.V]++
		}
	}
	most := int64(setting.UsualWarranty)
	for w, n := range count {
		if n > count[most] || n == count[most] && w > most {
			most = w
		}
	}
	return int(most), len(count) > 0
}

// later reckons what is still to come from slabs inside the warranty.
func (s *Slabs) later(km *survival.KM, horizon, callback float64, opt setting.Options) Later {
	l := Later{ByAge: []AgeRisk{}}
	var ages []float64
	for i, d := range s.Days {
		if !s.Cracked[i] && d < horizon {
			ages = append(ages, d)
		}
	}
	l.Slabs = len(ages)
	switch why := s.CannotReserve(km, horizon); {
	case why != "":
		l.Callbacks = figure.UnknownFor("%s", why)
	case len(ages) == 0:
		l.Callbacks = figure.Total(0, 0, "no slab free of cracks is inside the warranty")
	default:
		l.Callbacks = Reserve(km, ages, horizon, opt.Level)
	}
	l.Cost = Scaled(l.Callbacks, callback)
	if !l.Callbacks.Known() {
		return l
	}
	for _, age := range agesShown {
		if float64(age) < horizon {
			l.ByAge = append(l.ByAge, AgeRisk{age, figure.Estimated(km.RemainingRisk(float64(age), horizon, opt.Level))})
		}
	}
	return l
}

// CannotReserve is why callbacks still to come cannot be reckoned, or "".
func (s *Slabs) CannotReserve(km *survival.KM, horizon float64) string {
	switch {
	case s.Event == setting.EventSeen:
		return "what is still to come is reckoned from callbacks, not from cracks seen at visits"
	case km == nil || km.N < figure.LeastForRate:
		return fmt.Sprintf("fewer than %d placements", figure.LeastForRate)
	case km.AtRiskAt(horizon) == 0 && km.Survival[len(km.Survival)-1] > 0:
		return fmt.Sprintf("no slab has been watched for the whole warranty of %.0f days: the longest for %.0f", horizon, km.Last())
	}
	return ""
}

func Reserve(km *survival.KM, ages []float64, horizon, level float64) figure.Figure {
	r, err := km.Reserve(ages, horizon, 1, level)
	if err != nil {
		return figure.Unknown(figure.ReasonOf(err))
	}
	return figure.Estimated(r.Estimate, nil)
}

// Scaled multiplies a figure and its interval.
func Scaled(f figure.Figure, by float64) figure.Figure {
	f.Value, f.Low, f.High = f.Value*by, f.Low*by, f.High*by
	return f
}

// says puts what is to come in a sentence, "" where it is not known.
func (l Later) says() string {
	if !l.Callbacks.Known() || l.Slabs == 0 {
		return ""
	}
	return fmt.Sprintf(" Of %s inside the warranty about %s may still bring a crack callback.", figure.CountOf(l.Slabs, "sound slab"), Signed(l.Callbacks.Value, 0))
}
