package say

import (
	"strings"

	"pourback/analysis/figure"
	"pourback/analysis/visits"
)

// Early says which new pours lie outside a guide.
type Early struct{ *Voice }

// Title and the headings of the page.
func (e Early) Title() string       { return e.text("Early signs") }
func (e Early) ListTitle() string   { return e.text("New pours outside a guide") }
func (e Early) RecordTitle() string { return e.text("Your own record") }
func (e Early) WillSay() string     { return e.text("which new pours are outside a guide") }
func (e Early) RecordCaption() string {
	return e.text("What earlier pours with each sign did")
}

// Takes is what the page takes to say anything.
func (e Early) Takes() string {
	return e.text("the weather, curing, saw time, joint spacing and probed thickness of each placement, and its loads with their times and added water")
}

// ListCaption is that of the new pours.
func (e Early) ListCaption(s *visits.EarlySigns) string {
	return e.say("Pours since {day} that are outside a guide, those to look at first", with{"day": e.Day(s.From.Date)})
}

// Basis is what the page rests on.
func (e Early) Basis(s *visits.EarlySigns) string {
	return e.plural(s.Pours, "1 pour since {day}, compared with those before.|{n} pours since {day}, compared with those before.", with{"day": e.Day(s.From.Date)})
}

// Answer names the pour to look at first, and what it is about.
func (e Early) Answer(s *visits.EarlySigns) string {
	month, untold := e.Month(s.From.Month()), s.Pours-s.Told
	switch {
	case s.Pours == 0:
		return e.say("Nothing was poured since {month} began.", with{"month": month})
	case s.Told == 0:
		return e.plural(s.Pours, "Nothing on record of the 1 pour since {month} began could show a problem.|Nothing on record of the {n} pours since {month} began could show a problem.", with{"month": month}) +
			" " + e.text("Record curing, weather, saw time, joints and load times.")
	case len(s.Listed) == 0 && untold > 0:
		return e.none(s) + " " + e.plural(untold, "1 of them has nothing on record to tell by.|{n} of them have nothing on record to tell by.", nil)
	case len(s.Listed) == 0:
		return e.none(s)
	}
	if s.First == nil {
		return e.sentences(e.outside(s), e.text("None has a risk worth a trip of its own."))
	}
	return e.sentences(e.outside(s), e.say("Look first at {slab}, poured {day}.", with{"slab": e.at(s.First.Site, slab(s.First.JobNo, s.First.Placement)), "day": e.Day(s.First.PlacedOn.Date)}))
}

// Record says what is outside a guide at the pour to look at first, and whether
// such signs went with callbacks here; "" where no pour is listed.
func (e Early) Record(s *visits.EarlySigns) string {
	if len(s.Listed) == 0 {
		return ""
	}
	first := ""
	if s.First != nil {
		first = e.say("{slab}: {signs}.", with{"slab": e.at(s.First.Site, slab(s.First.JobNo, s.First.Placement)), "signs": e.signs(s.First.Signs)})
	}
	if len(s.Worse) == 0 {
		return e.sentences(first, e.text("So far none of these signs clearly goes with more callbacks in your records."))
	}
	return e.sentences(first, e.say("In your records more callbacks than luck explains went with: {signs}.", with{"signs": e.codes(s.Worse)}))
}

func (e Early) none(s *visits.EarlySigns) string {
	return e.plural(s.Pours, "The 1 pour since {month} began shows nothing outside a guide.|None of the {n} pours since {month} began shows anything outside a guide.", with{"month": e.Month(s.From.Month())})
}

// outside says how many new pours are outside a guide.
func (e Early) outside(s *visits.EarlySigns) string {
	return e.plural(len(s.Listed), "1 of {pours} since {month} began is outside a guide.|{n} of {pours} since {month} began are outside a guide.",
		with{"pours": e.pours(s.Pours), "month": e.Month(s.From.Month())})
}

func (e Early) pours(n int) string { return e.plural(n, "1 pour|{n} pours", nil) }

func (e Early) codes(all []visits.SignCode) string {
	names := make([]string, len(all))
	for i, c := range all {
		names[i] = e.signName(c)
	}
	return e.List(names)
}

// Name is a sign at the head of its row.
func (e Early) Name(code visits.SignCode) string { return Capital(e.signName(code)) }

// Stands says what the company's own record of a sign comes to.
func (e Early) Stands(s *visits.EarlySign) string {
	switch s.Stands {
	case visits.SignUnrecorded:
		return e.text("Not recorded.")
	case visits.SignFew:
		return e.plural(s.With.Placements, "Too few to say: 1 such pour before.|Too few to say: {n} such pours before.", nil)
	}
	did := e.say("{called} of {pours} were called back, {rate}.", with{"called": Count(s.With.Callbacks), "pours": e.pours(s.With.Placements), "rate": e.yearly(s.With.Rate)})
	if s.Stands == visits.SignAlone {
		return did + " " + e.text("Too few to compare.")
	}
	did += " " + e.say("Of the others, {called} of {pours}, {rate}.", with{"called": Count(s.Without.Callbacks), "pours": Count(s.Without.Placements), "rate": e.yearly(s.Without.Rate)})
	if s.Stands == visits.SignWorse {
		return did + " " + e.text("More than luck explains, whatever the cause.")
	}
	return did + " " + e.text("Could easily be luck.")
}

// yearly is a rate of callbacks a year.
func (e Early) yearly(rate figure.Figure) string {
	return e.Long(Plain.As("{value} in 100 a year"), rate)
}

// Recorded says what is recorded of a new pour.
func (e Early) Recorded(p *visits.EarlyPour) string {
	return e.say("{signs}. Before: {did}.", with{"signs": Capital(e.signs(p.Signs)), "did": e.Did(p)})
}

// Signs says each sign of a new pour.
func (e Early) Signs(p *visits.EarlyPour) []string {
	said := make([]string, len(p.Signs))
	for i, s := range p.Signs {
		said[i] = e.signSaid(s)
	}
	return said
}

// Did says what earlier pours with the same signs did, sign by sign.
func (e Early) Did(p *visits.EarlyPour) string {
	said := make([]string, len(p.Before))
	for i, b := range p.Before {
		values := with{"sign": e.signName(b.Code), "called": Count(b.Callbacks), "pours": Count(b.Placements)}
		if said[i] = e.say("{sign}: too few to say", with{"sign": values["sign"]}); b.Told {
			said[i] = e.say("{sign}: {called} of {pours} called back", values)
		}
	}
	return strings.Join(said, "; ")
}
