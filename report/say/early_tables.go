package say

import (
	"pourback/analysis/figure"
	"pourback/analysis/visits"
)

// Notes say how the signs are to be taken.
func (e Early) Notes(s *visits.EarlySigns) []string {
	var notes []string
	if record := e.Record(s); record != "" {
		notes = append(notes, record)
	}
	return append(notes,
		e.text("A sign says what was outside a guide, not that the slab will crack. What such pours did before may come from what went with them: hot days, one crew, one soil."),
		e.say("“Too few to say” stands where fewer than {pours} earlier pours had the sign. Nothing is compared where there were fewer than {calls} callbacks.", with{"pours": Count(figure.LeastForRate), "calls": Count(figure.LeastEvents)}))
}

// Method says how pours are held against guides, and each guide with its source.
func (e Early) Method(s *visits.EarlySigns) []string {
	method := []string{
		e.text("A pour is listed where a recorded value is outside a published guide. Beside each sign stands the record of your earlier pours. It says how many were called back for anything, and how many a year."),
		e.say("The share called back has its range ({source_share}); the rate is exact for counts that come at random ({source_rate}). Whether a sign goes with more callbacks than luck explains is an exact binomial test of equal rates, given their time. It allows for all the signs looked at ({source_all}).", with{"source_share": "Wilson 1927", "source_rate": "Garwood 1936", "source_all": "Benjamini & Hochberg 1995"}),
	}
	for i := range s.Signs {
		code := s.Signs[i].Sign
		method = append(method, e.say("{sign}: {guide}.", with{"sign": e.Name(code), "guide": e.Guide(code)}))
	}
	return method
}

// EarlyHeads are those of the new pours and of the signs.
type EarlyHeads struct{ Slab, Poured, Chance, Stake, Shows, Sign, New, Before, Called, Share, Rate, Others, So string }

// Heads are those of the new pours and of the signs.
func (e Early) Heads() EarlyHeads {
	return EarlyHeads{Slab: e.text("Slab"), Poured: e.text("Poured"), Chance: e.text("Callback soon, in 100"), Stake: e.text("At stake"), Shows: e.text("What the record shows"),
		Sign: e.text("Sign"), New: e.text("New"), Before: e.text("Such pours before"), Called: e.text("Called back"), Share: e.text("In 100"),
		Rate: e.text("A year, in 100"), Others: e.text("Others, a year in 100"), So: e.text("In words")}
}

// EarlyChart are the words of the chart of signs.
type EarlyChart struct{ Says, Axis, With, Without string }

// Chart are the words of the chart of signs.
func (e Early) Chart() EarlyChart {
	return EarlyChart{
		Says: e.text("A point for each sign: callbacks a year in 100 earlier slabs with it, with the range, and a triangle for those without it."),
		Axis: e.text("callbacks a year in 100 slabs"), With: e.text("with the sign"), Without: e.text("without it")}
}

// WithTip and WithoutTip are the figures of a sign's points.
func (e Early) WithTip(s *visits.EarlySign) string {
	return e.say("{sign}: {rate} callbacks a year in 100 slabs, from {pours}", with{"sign": e.signName(s.Sign), "rate": e.Long(Plain, s.With.Rate), "pours": e.pours(s.With.Placements)})
}

// WithoutTip is the figure of the pours without the sign.
func (e Early) WithoutTip(s *visits.EarlySign) string {
	return e.say("without it: {rate}, from {pours}", with{"rate": e.Long(Plain, s.Without.Rate), "pours": e.pours(s.Without.Placements)})
}
