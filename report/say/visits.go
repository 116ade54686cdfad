package say

import (
	"strings"

	"pourback/analysis/visits"
)

// Visits says which finished slabs to go and look at.
type Visits struct{ *Voice }

// Title and the headings of the page's tables.
func (v Visits) Title() string        { return v.text("Visits") }
func (v Visits) TripsTitle() string   { return v.text("Trips") }
func (v Visits) OpenTitle() string    { return v.text("Open callbacks") }
func (v Visits) OverdueTitle() string { return v.text("Overdue") }
func (v Visits) DueTitle() string     { return v.text("Due") }
func (v Visits) DoneTitle() string    { return v.text("Done") }
func (v Visits) TripsCaption() string { return v.text("Jobs to visit, most at stake first") }
func (v Visits) OpenCaption() string  { return v.text("Callbacks not closed yet, the oldest first") }
func (v Visits) LateCaption() string  { return v.text("Overdue visits, most at stake first") }
func (v Visits) DoneCaption() string {
	return v.text("Planned visits of the last 30 days, the latest first")
}
func (v Visits) WillSay() string        { return v.text("which finished slabs to go and look at") }
func (v Visits) InForce(in bool) string { return v.chosen(in, v.text("in force"), v.text("ended")) }

// Takes is what the page takes to say anything.
func (v Visits) Takes() string {
	return v.text("a table of visits: `job_no`, `placement`, `seen_on`, `why` (`planned` or `callback`) and `finding`")
}

// DueCaption is that of the visits due by a day.
func (v Visits) DueCaption(d *visits.Visits) string {
	return v.say("Visits due by {day}, most at stake first", with{"day": v.Day(d.DueBy.Date)})
}

// Basis adds to what the page rests on how far ahead it looks.
func (v Visits) Basis(d *visits.Visits) string {
	return v.say("Visits up to {day}.", with{"day": v.Day(d.DueBy.Date)})
}

// chosen is one of two words.
func (v *Voice) chosen(first bool, one, other string) string {
	if first {
		return one
	}
	return other
}

// Answer says where to go, what is open, what is to come and which pours to look
// at first.
func (v Visits) Answer(d *visits.Visits) string {
	if d.Slabs == 0 {
		return v.text("No slab has been recorded yet.")
	}
	s := []string{v.where(d)}
	if len(d.Due)+len(d.Overdue) > 0 {
		s = append(s, v.plural(len(d.Due), "1 planned visit is due, {late} overdue.|{n} planned visits are due, {late} overdue.", with{"late": Count(len(d.Overdue))}))
	}
	s = append(s, v.openNow(&d.Callbacks))
	switch w := &d.Warranty; {
	case w.Placements == 0:
	case w.Cost.Known():
		s = append(s, v.say("Slabs under warranty may still cost about {cost}.", with{"cost": v.Dollars(w.Cost.Value)}))
	default:
		s = append(s, v.text("It is too early to say what slabs under warranty may still cost."))
	}
	if e := &d.Early; len(e.Listed) > 0 {
		first := &e.Listed[0]
		early := Early(v)
		s = append(s, early.outside(e), v.say("Look first at {slab} ({signs}).", with{"slab": slab(first.JobNo, first.Placement), "signs": early.signNames(first.Signs)}))
	}
	return strings.Join(s, " ")
}

// mostNamed is how many trips a sentence names.
const mostNamed = 3

// where names the trips worth most.
func (v Visits) where(d *visits.Visits) string {
	when := v.text("this week")
	if !d.ThisWeek {
		when = v.say("by {day}", with{"day": v.Day(d.DueBy.Date)})
	}
	n := min(len(d.Trips), mostNamed)
	jobs := make([]string, n)
	for i := range n {
		jobs[i] = v.trip(&d.Trips[i])
	}
	values := with{"when": when, "jobs": strings.Join(jobs, "; ")}
	switch {
	case n == 0:
		return v.say("No visits to make {when}: none is due or overdue.", with{"when": when})
	case n < len(d.Trips):
		return v.plural(n, "Visit this one first {when}: {jobs}.|Visit these {n} first {when}: {jobs}.", values)
	}
	return v.plural(n, "Visit this one {when}: {jobs}.|Visit these {n} {when}: {jobs}.", values)
}

// trip is a job with its slabs, as a sentence names it.
func (v Visits) trip(t *visits.Trip) string {
	places := make([]string, len(t.Placements))
	for i, p := range t.Placements {
		places[i] = Clean(p, ShortName)
	}
	name := slab(t.JobNo, v.List(places))
	if t.Site == "" {
		return name
	}
	return v.say("{slab} ({site})", with{"slab": name, "site": Clean(t.Site, ShortName)})
}

// slab is the name of a slab, or of several of one job.
func slab(job, placement string) string { return Clean(job+" "+placement, LongName) }

// openNow says which callbacks are open.
func (v *Voice) openNow(c *visits.Callbacks) string {
	if len(c.Open) == 0 {
		return v.noneOpen(c)
	}
	return v.plural(len(c.Open), "1 callback is open, for {age}.|{n} callbacks are open, the oldest for {age}.", with{"age": v.Days(c.Open[0].AgeDays)})
}

// noneOpen says that no callback is open, as far as the records can tell.
func (v *Voice) noneOpen(c *visits.Callbacks) string {
	if c.Undated > 0 {
		return v.text("No callback is known to be open, but a job log does not say when one was closed.")
	}
	return v.text("No callback is open.")
}

// Notes say how the figures of the page are to be taken.
func (v Visits) Notes(d *visits.Visits) []string {
	days := v.Days(d.AheadDays)
	notes := []string{
		v.say("“At stake” is the chance of a crack callback in the next {days}, within the warranty, times the {cost} that one costs.", with{"days": days, "cost": v.Exactly(d.CallbackCost)}),
		v.Risk(&d.Risk),
		v.say("A planned visit counts as made when somebody looks at the slab near its day: from a tenth of the slab's age early, until the next visit is due. The last one stays overdue for {days}.", with{"days": v.Days(visits.GraceDays)}),
	}
	if d.AtStake > 0 {
		notes = append(notes, v.say("All visits due and overdue have about {cost} at stake in the next {days}. The drive is not counted: many can be made on the way to other work.", with{"cost": v.Dollars(d.AtStake), "days": days}))
	}
	if d.NobodyWent {
		notes = append(notes, v.text("No visit is on record, so every planned one looks missed. Write visits into a table with `job_no`, `placement`, `seen_on`, `why` and `finding`."))
	}
	if d.LongOpen > 0 {
		notes = append(notes, v.plural(d.LongOpen, "1 callback has been open for more than {days} and is not among the trips. Go and see, or write down the day it was closed.|{n} callbacks have been open for more than {days} and are not among the trips. Go and see, or write down the day they were closed.", with{"days": v.Days(visits.LongOpenDays)}))
	}
	return notes
}

// Kept says how many planned visits were made; "" where that is not known.
func (v Visits) Kept(k *visits.KeptVisits) string {
	if !k.Share.Known() {
		return ""
	}
	return v.say("Of the visits planned so far, {share} were made ({made} of {planned}).", with{"share": v.Long(InHundred, k.Share), "made": Count(k.Made), "planned": Count(k.Planned)})
}

// More says where the rest stands.
func (v Visits) More() string {
	return v.text("A slab's whole story: `pourback visits --slab JOB/PLACEMENT`. All of this at leisure: `pourback report`.")
}
