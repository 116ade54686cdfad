package say

import (
	"pourback/ingest/record"
)

// Group is what a page is about, with others: the heading above it in the list
// of pages.
type Group int

// The groups.
const (
	GroupMoney Group = iota
	GroupConcrete
	GroupCrews
	GroupAfter
	GroupRecords
)

// Group is the heading of a group.
func (v *Voice) Group(g Group) string {
	switch g {
	case GroupMoney:
		return v.text("Money")
	case GroupConcrete:
		return v.text("Concrete")
	case GroupCrews:
		return v.text("Crew and pump")
	case GroupAfter:
		return v.text("After the pour")
	}
	return v.text("Records")
}

// NoRecords says that a page has nothing to go by yet, and what it will say.
func (v *Voice) NoRecords(will string) string {
	return v.say("No placements are on record yet. This page will say {what}.", with{"what": will})
}

// HowToBegin says how the first records come in.
func (v *Voice) HowToBegin() string {
	if v.OnSite {
		return v.text("A spreadsheet with one row per pour is enough to begin. It goes in under “Add records”.")
	}
	return v.text("A spreadsheet with one row per placement is enough to begin. Take it in with `pourback ingest FILE`. To see this report for an invented company, run `pourback demo`.")
}

// ItTakes says what a page that has nothing to say yet would take.
func (v *Voice) ItTakes(takes string) string { return v.say("It takes {what}.", with{"what": takes}) }

// Placements and Jobs are so many of them.
func (v *Voice) Placements(n int) string { return v.plural(n, "1 placement|{n} placements", nil) }
func (v *Voice) Jobs(n int) string       { return v.plural(n, "1 job|{n} jobs", nil) }

// Basis says what a page rests on: n of all placements, counted in the words of
// the page, poured in a span of days.
func (v *Voice) Basis(n, all int, counted func(n int) string, first, last record.Date) string {
	span := v.poured(first, last)
	switch {
	case n == 0:
		return v.say("None of {all}, {poured}.", with{"all": v.Placements(all), "poured": span})
	case n < all:
		return v.say("{counted} out of {all}, {poured}.", with{"counted": counted(n), "all": Count(all), "poured": span})
	}
	return v.say("{counted}, {poured}.", with{"counted": counted(n), "poured": span})
}

// poured is the span of the pours.
func (v *Voice) poured(first, last record.Date) string {
	if first == last {
		return v.say("poured on {day}", with{"day": v.Day(first)})
	}
	return v.say("poured {first} to {last}", with{"first": v.Day(first), "last": v.Day(last)})
}

// Reading says how the ranges of a page are to be read.
func (v *Voice) Reading(level float64) string {
	return v.say("Ranges are {level} ranges.", with{"level": v.unit(trimmed(100*level, 2), "%")})
}

// Booked says how the sums of a page are to be read, and its ranges.
func (v *Voice) Booked(level float64) string {
	return v.text("Actual totals.") + " " + v.Reading(level)
}

// MoreRows says how many rows a table leaves out.
func (v *Voice) MoreRows(n int) string {
	if v.OnSite {
		return v.plural(n, "And 1 more.|And {n} more.", nil)
	}
	return v.plural(n, "And 1 more; `pourback factors --json` has them all.|And {n} more; `pourback factors --json` has them all.", nil)
}

// TooFewMonths, TooFewCauses and TooFewPlacements say why no chart is drawn.
func (v *Voice) TooFewMonths(n, least int) string {
	return v.plural(n, "No chart is drawn: 1 month, and it takes {least} or more.|No chart is drawn: {n} months, and it takes {least} or more.", with{"least": Count(least)})
}

func (v *Voice) TooFewCauses(n, least int) string {
	return v.plural(n, "No chart is drawn: 1 cause, and it takes {least} or more.|No chart is drawn: {n} causes, and it takes {least} or more.", with{"least": Count(least)})
}

func (v *Voice) TooFewPlacements(n, least int) string {
	return v.plural(n, "No chart is drawn: 1 placement, and it takes {least} or more.|No chart is drawn: {n} placements, and it takes {least} or more.", with{"least": Count(least)})
}

// NoKindTo says why no kinds are drawn: none has so many placements.
func (v *Voice) NoKindTo(least int) string {
	return v.say("No chart is drawn: no kind has {least} placements or more.", with{"least": Count(least)})
}

// RunningShare names the line of what amounts add up to, and Spread what a box
// draws.
func (v *Voice) RunningShare() string { return v.text("with those above, % of all") }
func (v *Voice) Spread() string       { return v.text("spread") }

// Odds is a probability out of 100, under a head that says so, and never
// certain: "over 99".
func (v *Voice) Odds(p float64) string {
	switch n := Grouped(100*p, 0); {
	case p > 0.995:
		return v.text("over 99")
	case p < 0.005:
		return v.text("under 1")
	default:
		return n
	}
}
