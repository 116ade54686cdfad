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

// The words of the calendar on the page.
func (v Visits) CalendarTitle() string   { return v.text("This month and the next") }
func (v Visits) CalendarCaption() string { return v.text("Pours and visits by day") }
func (v Visits) CalendarChart() string {
	return v.text("Pours on record, and the visits that are planned. An overdue visit stands on the day it was planned for.")
}

// DataDate names the day up to which the records reach.
func (v Visits) DataDate() string { return v.text("Records to this day") }

// Weekdays are the heads of a calendar, from Sunday.
func (v Visits) Weekdays() [7]string {
	return [7]string{v.text("Sun"), v.text("Mon"), v.text("Tue"), v.text("Wed"), v.text("Thu"), v.text("Fri"), v.text("Sat")}
}

// CalendarHeads are the heads of the days, and the names of their marks.
type CalendarHeads struct{ Day, Pours, Due, Overdue string }

// CalendarHeads are the heads of the days, and the names of their marks.
func (v Visits) CalendarHeads() CalendarHeads {
	return CalendarHeads{v.text("Day"), v.text("Pours"), v.text("Visits due"), v.text("Visits overdue")}
}

// OnCalendar is a pour or a visit on its day.
func (v Visits) OnCalendar(site string, s *visits.CalendarSlab) string {
	name := v.at(site, slab(s.JobNo, s.Placement))
	if s.Visit == (visits.PlanPoint{}) {
		return name
	}
	return v.say("{slab}: {visit}", with{"slab": name, "visit": v.Point(s.Visit)})
}
