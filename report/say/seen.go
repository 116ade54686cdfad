package say

import (
	"math"

	"pourback/analysis/figure"
	"pourback/analysis/visits"
	"pourback/ingest/record"
)

// Seen sets the cracks that visits found beside those that customers reported.
type Seen struct{ *Voice }

// Title and the headings of the page.
func (s Seen) Title() string        { return s.text("Cracks found and cracks reported") }
func (s Seen) AgesTitle() string    { return s.text("By age") }
func (s Seen) AgesCaption() string  { return s.text("Slabs with a crack by age, in 100") }
func (s Seen) FoundTitle() string   { return s.text("What visits found") }
func (s Seen) FoundCaption() string { return s.text("Visits by what they found") }
func (s Seen) KindsTitle() string   { return s.text("Kinds of crack") }
func (s Seen) KindsCaption() string { return s.text("Cracks by kind, as first described") }
func (s Seen) GrowthTitle() string  { return s.text("Growth") }
func (s Seen) GrowthCaption() string {
	return s.text("Unrepaired cracks measured more than once, the fastest first")
}
func (s Seen) WillSay() string { return s.text("how many cracks visits find that nobody reports") }

// Takes is what the page takes to say anything.
func (s Seen) Takes() string {
	return s.text("visits to finished slabs, planned ones among them, with what was found")
}

// Basis is what the page rests on.
func (s Seen) Basis(d *visits.SeenCracks, placements int, first, last record.Date) string {
	return s.plural(d.Looked, "1 of {all} placements, poured {span}, was visited at least once without a call.|{n} of {all} placements, poured {span}, were visited at least once without a call.", with{"all": Count(placements), "span": s.to(s.Day(first), s.Day(last))})
}

// Answer says how many slabs crack, and how many of those anybody reports.
func (s Seen) Answer(d *visits.SeenCracks) string {
	seen := s.plural(d.SeenSlabs, "1 slab was found cracked, {first} before anybody called.|{n} slabs were found cracked, {first} of them before anybody called.", with{"first": Count(d.SeenFirst)})
	switch at := d.Year; {
	case d.Looked == 0:
		return s.text("Nobody has gone to look at a finished slab yet: the records hold only what customers called about.")
	case at == nil:
		return s.plural(d.Looked, "Visits found a crack on {seen} of the 1 slab looked at; customers reported {called}.|Visits found a crack on {seen} of {n} slabs looked at; customers reported {called}.", with{"seen": Count(d.SeenSlabs), "called": Count(d.CalledSlabs)}) +
			" " + s.text("It is too early to say more.")
	case !at.Called.Known():
		return s.say("By {age}, visits had found a crack on {seen}.", with{"age": s.age(at.AgeDays), "seen": s.ofSlabs(at.Seen)}) + " " + seen
	default:
		return s.say("By {age}, visits had found a crack on {seen}, and customers had reported one on {called}.", with{"age": s.age(at.AgeDays), "seen": s.ofSlabs(at.Seen), "called": s.Long(InHundred, at.Called)}) + " " + seen
	}
}

func (s Seen) ofSlabs(f figure.Figure) string { return s.Long(InHundred.As("{value} of 100 slabs"), f) }

// Dating says how much it matters when a crack is taken to have arisen.
func (s Seen) Dating(d *visits.Dating) string {
	switch d.Code {
	case visits.DatingUnlooked:
		return s.text("A few planned visits would show how many cracks nobody reports.")
	case visits.DatingEarly:
		return s.text("Too few slabs have been followed to say how much the dating of cracks matters.")
	case visits.DatingUntold:
		return s.text("The records cannot say how much the dating of cracks matters.")
	case visits.DatingHardly:
		return s.text("How cracks are dated hardly matters: it moves no figure here by as much as 1 slab in 200 beyond what the visits leave open.")
	}
	return s.say("How cracks are dated matters most by {age}. Slabs with a crack: {seen} if dated to the visit that found it, {between} if dated between two looks.",
		with{"age": s.age(d.At.AgeDays), "seen": s.Long(InHundred, d.At.Seen), "between": s.Long(InHundred, d.At.Between)})
}

// age is an age in days as an owner says it: "day 28", "1 year".
func (s Seen) age(days int) string {
	const daysPerYear, near = 365.25, 0.01
	years := float64(days) / daysPerYear
	if whole := math.Round(years); whole >= 1 && math.Abs(years-whole) < near {
		return s.plural(int(whole), "1 year|{n} years", nil)
	}
	return s.say("day {n}", with{"n": Count(days)})
}

// Growth says how many cracks opened.
func (s Seen) Growth(c *visits.CracksSeen) string {
	if len(c.Growing) == 0 {
		return s.text("No crack has been measured twice at least two weeks apart.")
	}
	said := s.plural(len(c.Growing), "Of 1 unrepaired crack measured more than once, {opened} opened.|Of {n} unrepaired cracks measured more than once, {opened} opened.", with{"opened": Count(c.Opened)})
	if c.Opened == 0 {
		return said
	}
	g := &c.Growing[0]
	return said + " " + s.say("The fastest is on {slab}: from {was} to {is}, between {from} and {to}.", with{"slab": slab(g.JobNo, g.Placement),
		"was": s.crackWidth(g.WasIn), "is": s.crackWidth(g.IsIn), "from": s.Day(g.From.Date), "to": s.Day(g.To.Date)})
}

// Notes say how slabs and cracks are counted.
func (s Seen) Notes(d *visits.SeenCracks, c *visits.CracksSeen) []string {
	notes := []string{s.Dating(&d.Dating), s.Growth(c)}
	if c.OverGuide.Known() {
		notes = append(notes, s.say("Of cracks measured, {share} were wider than {guide} when last seen. That is a general guide, not a warranty limit.", with{"share": s.Long(InHundred, c.OverGuide), "guide": s.crackWidth(c.GuideIn)}))
	}
	if c.AtJoint.Known() {
		notes = append(notes, s.say("Of cracks whose place is on record, {share} ran in a joint, where they belong.", with{"share": s.Long(InHundred, c.AtJoint)}))
	}
	return append(notes, s.Counting(d)...)
}

// Counting says which slabs and cracks count.
func (s Seen) Counting(d *visits.SeenCracks) []string {
	if d.Looked == 0 {
		return []string{}
	}
	var notes []string
	if d.Unworked != nil {
		notes = append(notes, s.say("The slabs could not be followed: {why}.", with{"why": s.Reason(d.Unworked)}))
	}
	if d.OneJobIn > 1 {
		notes = append(notes, s.say("The estimate between two looks rests on one job in {n}, with {slabs}.", with{"n": Count(d.OneJobIn), "slabs": s.slabCount(d.OneOf)}))
	}
	notes = append(notes,
		s.text("Slabs that nobody went to look at are left out of what was found. What customers reported counts all slabs."),
		s.text("A slab counts as looked at up to its last visit. One looked at only because a customer called is left out: such slabs would add cracks and no sound slabs."))
	if d.SoundAgain > 0 {
		notes = append(notes, s.plural(d.SoundAgain, "1 slab was found sound after a crack, with no repair on record.|{n} slabs were found sound after a crack, with no repair on record.", nil)+
			" "+s.text("Somebody overlooked the crack, or did not write the repair down. The crack counts."))
	}
	return notes
}

// Line names one of the three ways of counting.
func (s Seen) Line(code visits.LineCode) string {
	switch code {
	case visits.LineCalled:
		return s.text("reported")
	case visits.LineSeen:
		return s.text("found, dated to the visit")
	}
	return s.text("arose between two looks")
}

// Beside says whether a crack is wider than the guide.
func (s Seen) Beside(over bool) string { return s.chosen(over, s.text("wider"), s.text("within")) }
