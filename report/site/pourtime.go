package site

import (
	"pourback/ingest/record"
)

// halfDay is how far apart, in seconds, times may be to be of one night or one day.
const halfDay = 12 * 3600

// span is from the first to the last time that is on record of a pour; 0 and 0 where none is.
func (p *pouring) span() (first, last record.Moment) {
	see := func(times ...record.Moment) {
		for _, at := range times {
			if at != 0 && (first == 0 || at < first) {
				first = at
			}
			last = max(last, at)
		}
	}
	for _, l := range p.Loads {
		see(l.BatchedAt, l.ArrivedAt, l.PourStart, l.PourEnd)
	}
	for _, d := range p.Delays {
		see(d.StartedAt)
	}
	return first, last
}

// momentOf is a time of day of a pour with its day: a pour may run past midnight. Behind
// another time of the same form it is the one within half a day of that; else the one
// nearest to what is on record of the pour; else that of the pour's own day, or of the day
// before where it would lie far ahead of when it was said.
func (p *pouring) momentOf(at record.ClockTime, behind, said record.Moment) record.Moment {
	day := said.Date()
	if p.Is != nil {
		day = p.Is.PlacedOn
	}
	on := func(day record.Date) record.Moment { return record.MomentOf(day, int(at)*60) }
	if behind != 0 {
		m := on(behind.Date())
		switch {
		case m < behind-halfDay:
			m = on(behind.Date() + 1)
		case m > behind+halfDay:
			m = on(behind.Date() - 1)
		}
		return m
	}
	first, last := p.span()
	if first == 0 {
		if ahead := on(day) - said; ahead > halfDay/2 && day == said.Date() {
			return on(day - 1)
		}
		return on(day)
	}
	best := on(day)
	for _, m := range []record.Moment{on(day - 1), on(day + 1)} {
		if apart(m, first, last) < apart(best, first, last) {
			best = m
		}
	}
	return best
}

// apart is how far a time lies from a stretch of time.
func apart(m, first, last record.Moment) record.Moment {
	return max(first-m, m-last, 0)
}

// between are the minutes from one time of day to another, across midnight where the
// other would lie far before; ok is false where it lies before by less.
func between(from, to record.ClockTime) (minutes int, ok bool) {
	minutes = int(to - from)
	if minutes < -12*60 {
		minutes += 24 * 60
	}
	return minutes, minutes >= 0
}
