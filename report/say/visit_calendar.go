package say

import (
	"pourback/analysis/visits"
	"pourback/ingest/record"
)

// CalendarSummary is the line of a visit in a calendar.
func (v Visits) CalendarSummary(d *visits.DueVisit, asOf record.Date) string {
	values := with{"slab": slab(d.JobNo, d.Placement), "visit": v.Point(d.Visit)}
	if d.PlannedOn.Date >= asOf {
		return v.say("Look at {slab}: {visit}", values)
	}
	values["day"] = d.PlannedOn.String()
	return v.say("Look at {slab}: {visit}, overdue since {day}", values)
}

// CalendarDetail says what the visit is for, without the site.
func (v Visits) CalendarDetail(d *visits.DueVisit) string {
	s := v.say("{why}.", with{"why": v.Why(d.Why)})
	if d.Chance.Known() && d.Chance.Value > 0 {
		s += " " + v.say("Chance of a callback soon: {chance}.", with{"chance": v.Long(InHundred, d.Chance)})
	}
	return s
}
