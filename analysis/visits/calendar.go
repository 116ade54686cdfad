package visits

import (
	"pourback/ingest/record"
)

// Calendar is what falls on the days of the month of the data date and of the next.
type Calendar struct {
	From, Now, End record.Date // its first day, the data date, its last day
	Days           []CalendarDay
}

// CalendarDay is one day, with what falls on it by [CalendarKind].
type CalendarDay struct {
	On   record.Date
	Has  [calendarKinds]int
	Some [calendarKinds][]CalendarSlab // the first few of them
}

// CalendarSlab is a slab on a day.
type CalendarSlab struct {
	JobNo, Placement string
	Visit            PlanPoint // the zero value of a pour
}

// CalendarKind is what falls on a day.
type CalendarKind int

// What falls on days.
const (
	CalendarPour    CalendarKind = iota // on record
	CalendarDue                         // a visit that is planned
	CalendarOverdue                     // one that was planned, and that nobody has made
	calendarKinds
)

// mostNamed of each kind are named on a day.
const mostNamed = 12

// calendar begins with the pours on record.
func (a *after) calendar() Calendar {
	year, month, _ := a.h.AsOf.Time().Date()
	c := Calendar{From: record.DateOf(year, month, 1), Now: a.h.AsOf, End: record.DateOf(year, month+2, 1) - 1}
	for day := c.From; day <= c.End; day++ {
		c.Days = append(c.Days, CalendarDay{On: day})
	}
	for i := range a.h.Placements.Len() {
		c.mark(a.h.Placements.PlacedOn.At(i), CalendarPour, a.placement(i), PlanPoint{})
	}
	return c
}

// placement names slab i.
func (a *after) placement(i int) CalendarSlab {
	p := a.h.Placements.At(i)
	return CalendarSlab{JobNo: p.JobNo(), Placement: p.Placement()}
}

// mark puts a slab on a day, where that is within the two months.
func (c *Calendar) mark(on record.Date, kind CalendarKind, s CalendarSlab, visit PlanPoint) {
	if on < c.From || on > c.End {
		return
	}
	d := &c.Days[on-c.From]
	if d.Has[kind]++; len(d.Some[kind]) < mostNamed {
		s.Visit = visit
		d.Some[kind] = append(d.Some[kind], s)
	}
}
