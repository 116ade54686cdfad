package money

import (
	"math"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/ingest/record"
)

// still is what turns young slabs into callbacks to come: the curve by which
// slabs crack, the end of the warranty in days, and the mean cost of a callback.
type still struct {
	curve   *cracks.Curve
	horizon float64
	cost    float64
	level   float64
	why     figure.Reason // why nothing can be said
}

// StillToCome is the law by which the callbacks to come are reckoned, from the
// answers about cracks where they were asked for.
func StillToCome(h *record.History, s *cracks.Slabs, c *cracks.Cracks, opt setting.Options) still {
	months, _ := cracks.WarrantyMonths(h)
	out := still{horizon: math.Round(float64(months) * cracks.DaysPerMonth), cost: s.CallbackCost(opt.Steel).Value, level: opt.Level}
	if c != nil {
		out.curve = c.All.Curve
	} else {
		out.curve = s.Together(out.horizon, opt.Level).Curve
	}
	out.why = s.CannotReserve(out.curve, out.horizon)
	return out
}

// dollars is what sound slabs of these ages may still cost.
func (l still) dollars(ages []float64) figure.Figure {
	switch {
	case l.why != nil:
		return figure.Unknown(l.why)
	case len(ages) == 0:
		return figure.Total(0, 0, "no slab free of cracks is inside the warranty")
	}
	return cracks.Scaled(cracks.Reserve(l.curve, ages, l.horizon, l.level), l.cost)
}

// Charge sets callbacks still to come against the month of the pour that will
// bring them, beside the margin that is booked already.
func (m *Margin) Charge(h *record.History, s *cracks.Slabs, law still) {
	row := make(map[string]int, len(m.Months))
	for i := range m.Months {
		row[m.Months[i].Month] = i
	}
	ages, all := make([][]float64, len(m.Months)), []float64{}
	var month string
	var of record.Date
	for i := range h.Placements.Len() {
		if s.Cracked[i] || s.Days[i] >= law.horizon {
			continue
		}
		if on := h.Placements.At(i).PlacedOn(); on != of {
			month, of = on.Month(), on
		}
		all = append(all, s.Days[i])
		if k, priced := row[month]; priced {
			ages[k] = append(ages[k], s.Days[i])
		}
	}
	for k := range m.Months {
		m.Months[k].reserve(law.dollars(ages[k]))
	}
	m.Reserve = law.dollars(all)
}

func (m *Month) reserve(to figure.Figure) {
	m.Reserve = to
	switch {
	case !to.Known():
		m.AfterReserve = to
	case !m.MarginPct.Known():
		m.AfterReserve = m.MarginPct
	default:
		points := 100 / m.Revenue.Dollars()
		m.AfterReserve = figure.Figure{Value: m.MarginPct.Value - points*to.Value, Low: m.MarginPct.Value - points*to.High, High: m.MarginPct.Value - points*to.Low,
			Level: to.Level, N: m.Jobs, Method: "(revenue − cost − callbacks still to come) / revenue", Bounded: to.Bounded, OK: true}
	}
}
