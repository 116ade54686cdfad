package say

import (
	"pourback/analysis/figure"
	"pourback/analysis/visits"
)

// visitReason says why a figure about visits is not known, or has no range.
func (v *Voice) visitReason(r figure.Reason) (string, bool) {
	switch r := r.(type) {
	case visits.NoneDueYet:
		return v.say("no visit was planned before {day}", with{"day": v.Day(r.AsOf)}), true
	case visits.NoVisits:
		return v.text("no visit is on record"), true
	case visits.NoCosts:
		return v.text("no callback records its cost"), true
	case visits.NotMeasured:
		return v.text("not measured"), true
	case visits.NotRecorded:
		return v.text("not recorded"), true
	case visits.NotWatchedYet:
		return v.text("none has been watched for a day"), true
	case visits.EverySlab:
		return v.text("every slab may be called about for each kind: there is nothing to compare"), true
	case visits.NotFollowed:
		return v.say("no slab has been watched for the whole warranty of {days}, the longest for {longest}", with{"days": v.Days(int(r.Days)), "longest": v.Days(int(r.Longest))}), true
	case visits.NotPriced:
		return v.text("no job under warranty has both a price and a cost"), true
	case visits.NoMargin:
		return v.text("no margin is booked to compare it with"), true
	}
	return v.tooFewVisits(r)
}

// tooFewVisits says of what there is too little.
func (v *Voice) tooFewVisits(r figure.Reason) (string, bool) {
	switch r := r.(type) {
	case visits.NoClosingDays:
		return v.text("no callback has a visit on record, and a job log does not say when one was closed"), true
	case visits.FewCalls:
		return v.text("too few calls to compare"), true
	case visits.FewPoursBeside:
		return v.text("too few pours to compare"), true
	case visits.FewPours:
		return v.plural(r.N, "too few to say: 1 pour|too few to say: {n} pours", nil), true
	case visits.FewToClose:
		return v.plural(r.N, "too few to say: 1 callback|too few to say: {n} callbacks", nil), true
	case visits.FewRepaired:
		return v.plural(r.N, "too few to say how many come back: 1 slab repaired|too few to say how many come back: {n} slabs repaired", nil), true
	case visits.FewMonths:
		return v.plural(r.N, "1 full month with slabs under warranty, and it takes {need} to know a normal month|{n} full months with slabs under warranty, and it takes {need} to know a normal month", with{"need": Count(r.Need)}), true
	}
	return "", false
}
