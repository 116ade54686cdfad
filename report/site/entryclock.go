package site

import (
	"math"
	"slices"
	"strings"
	"time"

	"pourback/ingest/record"
	"pourback/ingest/sheet"
)

// clockHeader is the phone's clock as it sends an entry, with its zone.
const clockHeader = "Pourback-Clock"

// clockSlack is how far a phone's clock may be off and is left alone.
const clockSlack = 2 * time.Minute

// phone is the phone's clock as the entry was sent; ok is false where it was not told.
func (a *Ask) phone() (at time.Time, ok bool) {
	at, err := time.Parse(time.RFC3339, a.Header.Get(clockHeader))
	return at, err == nil
}

// Local is the moment of the question in the phone's zone, where that is known.
func (a *Ask) Local() time.Time {
	if at, ok := a.phone(); ok {
		return a.Now.In(at.Location())
	}
	return a.Now
}

// Today is the day at the phone.
func (a *Ask) Today() record.Date { return record.DayOf(a.Local()) }

// entrySheet is how an entry's values are read.
func (a *Ask) entrySheet() sheet.Options {
	opt := a.sheetOptions()
	opt.Today = a.Today()
	return opt
}

// Time is a field with a time of day, as 08:15. Where a tap filled it in from the phone's
// clock (its name stands in the field `tapped`) and that clock is off, it is corrected by
// how far. What is no time of day is returned as it was written.
func (a *Ask) Time(field string) string {
	text := a.Field(field)
	at, err := record.ParseClock(text)
	if err != nil {
		return text
	}
	phone, ok := a.phone()
	if off := a.Now.Sub(phone); ok && off.Abs() > clockSlack && slices.Contains(strings.Split(a.Field("tapped"), ","), field) {
		const day = 24 * 60
		at = (at + record.ClockTime(math.Round(off.Minutes()))%day + day) % day
	}
	return at.String()
}
