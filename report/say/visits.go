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
func (v Visits) PassByTitle() string  { return v.text("When you pass by") }
func (v Visits) OpenTitle() string    { return v.text("Open callbacks") }
func (v Visits) OverdueTitle() string { return v.text("Overdue") }
func (v Visits) DueTitle() string     { return v.text("Due") }
func (v Visits) DoneTitle() string    { return v.text("Done") }
func (v Visits) TripsCaption() string { return v.text("Jobs to visit, most at stake first") }
func (v Visits) PassByCaption() string {
	return v.text("Sites to look at when you pass by, most at stake first")
}
func (v Visits) OpenCaption() string { return v.text("Callbacks not closed yet, the oldest first") }
func (v Visits) LateCaption() string { return v.text("Overdue visits, most at stake first") }
func (v Visits) DoneCaption() string {
	return v.text("Planned visits of the last 30 days, the latest first")
}
func (v Visits) WillSay() string        { return v.text("which finished slabs to go and look at") }
func (v Visits) InForce(in bool) string { return v.chosen(in, v.text("in force"), v.text("ended")) }

// Takes is what the page takes to say anything.
func (v Visits) Takes() string {
	return v.text("a table of visits: the job and its placement, the day, whether it was planned or called for, and what was seen")
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

// Answer says where to go, what can wait and what is open.
func (v Visits) Answer(d *visits.Visits) string {
	if d.Slabs == 0 {
		return v.text("No slab has been recorded yet.")
	}
	return v.sentences(v.where(d), v.waits(d), v.openOnes(&d.Callbacks))
}

// waits says what is to be looked at when somebody passes by, "" where nothing
// is.
func (v Visits) waits(d *visits.Visits) string {
	n := len(d.PassBy)
	switch {
	case n == 0:
		return ""
	case len(d.Trips) == 0:
		return v.plural(n, "Look at 1 site when you pass by.|Look at {n} sites when you pass by.", nil)
	}
	return v.plural(n, "1 more site can wait until you pass by.|{n} more sites can wait until you pass by.", nil)
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
	case n == 0 && len(d.PassBy) > 0:
		return v.say("No visit pays for its own drive {when}.", with{"when": when})
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
	return v.at(t.Site, slab(t.JobNo, v.List(places)))
}

// at names a slab by its place, where that is known: "Lot 14, Mesquite Ln (SF-1043 A)".
func (v *Voice) at(site, slab string) string {
	if site == "" {
		return slab
	}
	return v.say("{site} ({slab})", with{"site": Clean(site, ShortName), "slab": slab})
}

// slab is the name of a slab, or of several of one job.
func slab(job, placement string) string { return Clean(job+" "+placement, LongName) }

// OpenNow says how many callbacks are open, and how long.
func (v *Voice) OpenNow(c *visits.Callbacks) string {
	if len(c.Open) == 0 {
		return v.noneOpen(c)
	}
	return v.plural(len(c.Open), "1 callback is open, for {age}.|{n} callbacks are open, the oldest for {age}.", with{"age": v.Days(c.Open[0].AgeDays)})
}

// openOnes says which callbacks are open, "" where none is known to be.
func (v *Voice) openOnes(c *visits.Callbacks) string {
	if len(c.Open) == 0 {
		return ""
	}
	return v.OpenNow(c)
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
		v.say("A planned visit counts as made when somebody looks at the slab near its day. It may be a tenth of the slab's age early, and as late as the next visit is due. The last one stays overdue for {days}.", with{"days": v.Days(visits.GraceDays)}),
	}
	notes = append(notes, v.planned(d)...)
	if d.AtStake > 0 {
		notes = append(notes, v.say("All visits due and overdue have about {cost} at stake in the next {days}. A look saves at most what is at stake.", with{"cost": v.Dollars(d.AtStake), "days": days}), v.drive(d.DriveCost))
	}
	if d.NobodyWent {
		notes = append(notes, v.say("No visit is on record, so the plan begins on {day}, and nothing before counts as missed. Write down each visit: the job and its placement, the day, why somebody went, and what was seen.", with{"day": v.Day(d.PlannedFrom.Date)}))
	}
	if d.LongOpen > 0 {
		notes = append(notes, v.plural(d.LongOpen, "1 callback has been open for more than {days} and is not among the trips. Go and see, or write down the day it was closed.|{n} callbacks have been open for more than {days} and are not among the trips. Go and see, or write down the day they were closed.", with{"days": v.Days(visits.LongOpenDays)}))
	}
	return notes
}

// planned counts the visits that are due and overdue, where there are any.
func (v Visits) planned(d *visits.Visits) []string {
	var said []string
	if n := len(d.Due); n > 0 {
		said = append(said, v.plural(n, "1 planned visit is due.|{n} planned visits are due.", nil))
	}
	if n := len(d.Overdue); n > 0 {
		said = append(said, v.plural(n, "1 planned visit is overdue.|{n} planned visits are overdue.", nil))
	}
	if len(said) == 0 {
		return nil
	}
	return []string{v.sentences(said...)}
}

// drive says how trips are told from what can wait.
func (v Visits) drive(cost float64) string {
	if cost == 0 {
		return v.text("No drive is weighed: `visits` in the settings says none.")
	}
	return v.say("A drive there and back costs {cost} by your settings. A site is a trip where more than that is at stake, or a callback is open; the others wait until you pass by.", with{"cost": v.Exactly(cost)})
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
	return v.text("For a slab's whole story run `pourback visits --slab JOB/PLACEMENT`. For all pages run `pourback report`.")
}
