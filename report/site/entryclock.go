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

// Local is the moment of the question by the clock on the wall there: in the phone's zone,
// where it has told that, else in the one that is set for the sites.
func (a *Ask) Local() time.Time {
	if at, ok := a.phone(); ok {
		return a.Now.In(at.Location())
	}
	if zone := a.Company.settings.Analysis.Zone; zone != nil {
		return a.Now.In(zone)
	}
	return a.Now
}

// Today is the day at the phone.
func (a *Ask) Today() record.Date { return record.DayOf(a.Local()) }

// longestWait is how long an entry may have waited on a phone for its day to be believed.
const longestWait = 60 * 24 * 60 * 60

// wall is a moment as the clock on the wall shows it.
func wall(t time.Time) record.Moment {
	return record.MomentOf(record.DayOf(t), t.Hour()*3600+t.Minute()*60+t.Second())
}

// Said is when an entry was made, by the clock on the wall there: the phone notes it in
// the field `at` as the form is sent, and an entry may wait on it for days. Without that
// it is now.
func (a *Ask) Said() record.Moment {
	now := wall(a.Local())
	at, err := record.ParseMoment(a.Field("at"))
	if err != nil {
		return now
	}
	latest := now + 26*3600 // the phone's zone is not known
	if phone, ok := a.phone(); ok {
		latest = now
		if off := a.Now.Sub(phone); off.Abs() > clockSlack {
			at += record.Moment(off / time.Second)
		}
	}
	if at > latest+record.Moment(clockSlack/time.Second) || at < now-longestWait {
		return now
	}
	return at
}

// entrySheet is how an entry's values are read.
func (a *Ask) entrySheet() sheet.Options {
	opt := a.sheetOptions()
	opt.Today = max(a.Today(), a.Said().Date())
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
