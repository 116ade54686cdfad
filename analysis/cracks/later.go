package cracks

import (
	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/ingest/record"
)

// DaysPerMonth turns a warranty into days: 12 months are a year of 365.
const DaysPerMonth = 365.0 / 12

// Later is what slabs that have not cracked yet may still bring within
// the warranty.
type Later struct {
	Slabs     int           `json:"slabs"` // inside the warranty and free of cracks
	Callbacks figure.Figure `json:"expected_callbacks"`
	Cost      figure.Figure `json:"expected_cost"` // at the mean cost of a crack callback
	ByAge     []AgeRisk     `json:"by_age"`
}

// AgeRisk is the risk that a slab of an age still cracks within the warranty.
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
	for i := range h.Jobs.Len() {
		if w := h.Jobs.At(i).WarrantyMonths(); w.OK && w.V > 0 {
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
func (s *Slabs) later(c *Curve, horizon, callback float64, opt setting.Options) Later {
	l := Later{ByAge: []AgeRisk{}}
	var ages []float64
	for i, d := range s.Days {
		if !s.Cracked[i] && d < horizon {
			ages = append(ages, d)
		}
	}
	l.Slabs = len(ages)
	switch why := s.CannotReserve(c, horizon); {
	case why != nil:
		l.Callbacks = figure.Unknown(why)
	case len(ages) == 0:
		l.Callbacks = figure.Total(0, 0, "no slab free of cracks is inside the warranty")
	default:
		l.Callbacks = Reserve(c, ages, horizon, opt.Level)
	}
	l.Cost = Scaled(l.Callbacks, callback)
	if !l.Callbacks.Known() {
		return l
	}
	for _, age := range agesShown {
		if float64(age) < horizon {
			l.ByAge = append(l.ByAge, AgeRisk{age, figure.Estimated(c.km.RemainingRisk(float64(age), horizon, opt.Level))})
		}
	}
	return l
}

// CannotReserve is why callbacks still to come cannot be reckoned, or nil.
func (s *Slabs) CannotReserve(c *Curve, horizon float64) figure.Reason {
	switch {
	case s.Event == setting.EventSeen:
		return SeenNotCalled{}
	case c == nil || c.km.N < figure.LeastForRate:
		return FewerThanARate{}
	case c.km.AtRiskAt(horizon) == 0 && c.km.Survival[len(c.km.Survival)-1] > 0:
		return WatchedTooShort{Days: horizon, Longest: c.km.Last(), Warranty: true}
	case c.behind(horizon) < FewestWatched:
		return FewWatched{}
	}
	return nil
}

// Reserve is how many callbacks slabs of these ages in days still bring by the
// horizon. Where none has come yet none is expected, and the most is what the
// limits on the risk of each leave possible.
func Reserve(c *Curve, ages []float64, horizon, level float64) figure.Figure {
	r, err := c.km.Reserve(ages, horizon, 1, level)
	if err != nil {
		return figure.Unknown(figure.ReasonOf(err))
	}
	if c.km.EventsBy(horizon) > 0 {
		return figure.Estimated(r.Estimate, nil)
	}
	for _, age := range ages {
		risk, err := c.km.RemainingRisk(age, horizon, level)
		if err != nil {
			return figure.Unknown(figure.ReasonOf(err))
		}
		r.High += risk.High
	}
	r.Method = "no callback yet; sum of the limits on each slab's risk"
	return figure.Estimated(r.Estimate, nil)
}

// Scaled multiplies a figure and its interval.
func Scaled(f figure.Figure, by float64) figure.Figure {
	f.Value, f.Low, f.High = f.Value*by, f.Low*by, f.High*by
	return f
}
