package analysis

import (
	"strings"

	"pourback/analysis/stat/interval"
	"pourback/ingest/record"
)

// Crew is how much a crew places in an hour of one person's work.
type Crew struct {
	Crew         string  `json:"crew"`
	N            int     `json:"n"` // placements with area and labor hours
	SqftPerHour  Figure  `json:"sqft_per_hour"`
	Adjusted     Figure  `json:"adjusted"`
	HoursLost    Figure  `json:"hours_lost_to_delay"` // person-hours
	AreaSqft     float64 `json:"area_sqft"`
	LaborHours   float64 `json:"labor_hours"`
	areas, hours []float64
}

// crews are in the order of their names; placements without a crew are one
// more, called unknown.
func crews(h *record.History, opt Options) []Crew {
	byCrew := groupBy(len(h.Placements), func(i int) (string, bool) { return orUnknown(h.Placements[i].Crew), true })
	out := []Crew{}
	for _, name := range byCrew.sorted(strings.Compare) {
		c := Crew{Crew: name, Adjusted: later("hours adjusted for the kind of job")}
		for _, i := range byCrew.rows[name] {
			c.add(&h.Placements[i])
		}
		c.HoursLost = hoursLost(h, byCrew.rows[name])
		if name == "unknown" && c.N == 0 && !c.HoursLost.Known() {
			continue
		}
		rate, err := interval.Ratio(c.areas, c.hours, opt.Level)
		c.SqftPerHour = orBare(rate, err, c.AreaSqft/c.LaborHours, c.N, "ratio of totals")
		out = append(out, c)
	}
	return out
}

func (c *Crew) add(p *record.Placement) {
	if !p.AreaSqft.OK || !p.LaborHours.OK || p.LaborHours.V <= 0 {
		return
	}
	c.N++
	c.AreaSqft += p.AreaSqft.V
	c.LaborHours += p.LaborHours.V
	c.areas = append(c.areas, p.AreaSqft.V)
	c.hours = append(c.hours, p.LaborHours.V)
}

// hoursLost adds up delay minutes × crew size over the placements that record
// both.
func hoursLost(h *record.History, rows []int) Figure {
	var minutes int64
	n := 0
	for _, i := range rows {
		if p := &h.Placements[i]; p.DelayMin.OK && p.CrewSize.OK {
			minutes += p.DelayMin.V * p.CrewSize.V
			n++
		}
	}
	if n == 0 {
		return unknown("no placement records both its delay minutes and its crew size")
	}
	return total(float64(minutes)/60, n, "sum of delay minutes × crew size")
}
