package say

import (
	"strings"

	"pourback/analysis/visits"
)

// Callbacks says what customers called about.
type Callbacks struct{ *Voice }

// Title and the headings of the page.
func (c Callbacks) Title() string         { return c.text("Callbacks") }
func (c Callbacks) MonthsTitle() string   { return c.text("By month") }
func (c Callbacks) MonthsCaption() string { return c.text("Callbacks by month, the latest first") }
func (c Callbacks) PointsCaption() string {
	return c.text("Callbacks within the warranty by full month, the latest first")
}
func (c Callbacks) AgainTitle() string { return c.text("Called about again") }
func (c Callbacks) AgainCaption() string {
	return c.text("What came back after a repair, the latest first")
}
func (c Callbacks) WillSay() string {
	return c.text("which callbacks are open and what callbacks cost")
}

// Takes is what the page takes to say anything.
func (c Callbacks) Takes() string {
	return c.text("visits that customers called for, with what was seen, what it cost and the day it was settled")
}

// Basis is what the page rests on.
func (c Callbacks) Basis(d *visits.Callbacks, placements int) string {
	return c.plural(d.Calls, "1 callback about {slabs} of {all}.|{n} callbacks about {slabs} of {all}.", with{"slabs": c.slabCount(d.Slabs), "all": Count(placements)})
}

// slabCount is a count of slabs.
func (v *Voice) slabCount(n int) string { return v.plural(n, "1 slab|{n} slabs", nil) }

// Answer says what is open, how much there was, what it cost and how long it
// took to close.
func (c Callbacks) Answer(d *visits.Callbacks) string {
	if d.Calls == 0 {
		return c.text("No customer has called about a slab yet.")
	}
	s := []string{c.StillOpen(d)}
	s = append(s, c.plural(d.Calls, "Customers have called once so far.|Customers have called {n} times about {slabs} so far.", with{"slabs": c.slabCount(d.Slabs)}))
	if d.Cost.Known() {
		s = append(s, c.say("That cost {cost}.", with{"cost": c.Exactly(d.Cost.Value)}))
	}
	if d.DaysToClose.Known() {
		s = append(s, c.say("Half were closed within {days}.", with{"days": c.Days(int(d.DaysToClose.Value))}))
	}
	return strings.Join(s, " ")
}

// StillOpen says which callbacks nobody has settled.
func (c Callbacks) StillOpen(d *visits.Callbacks) string {
	if len(d.Open) == 0 {
		return c.noneOpen(d)
	}
	o := &d.Open[0]
	return c.plural(len(d.Open), "1 callback is open, for {age} ({slab}, {kind}).|{n} callbacks are open, the oldest for {age} ({slab}, {kind}).",
		with{"age": c.Days(o.AgeDays), "slab": c.at(o.Site, slab(o.JobNo, o.Placement)), "kind": c.Word(o.Kind)})
}

// Control says which month stands out.
func (c Callbacks) Control(d *visits.CallControl) string {
	switch m := d.Signal; {
	case d.Why != nil:
		return c.say("No chart of the months: {why}.", with{"why": c.Reason(d.Why)})
	case m == nil:
		return c.text("No month stands out: none brought more or fewer calls than luck explains.")
	case float64(m.Calls) > m.Expected:
		return c.plural(m.Calls, "In {month} customers called once, more than luck explains: {usual} is usual.|In {month} customers called {n} times, more than luck explains: {usual} is usual.", with{"month": c.Month(m.Month), "usual": Grouped(m.Expected, 1)})
	default:
		return c.plural(m.Calls, "In {month} customers called once, less than luck explains: {usual} is usual.|In {month} customers called {n} times, less than luck explains: {usual} is usual.", with{"month": c.Month(m.Month), "usual": Grouped(m.Expected, 1)})
	}
}

// Group says what calls are grouped by.
func (c Callbacks) Group(by visits.GroupKind) string {
	switch by {
	case visits.ByCallKind:
		return c.text("kind")
	case visits.ByCrew:
		return c.text("crew")
	case visits.ByOutfit:
		return c.text("pump outfit")
	case visits.ByMix:
		return c.text("plant and mix")
	}
	return c.text("use")
}

// GroupTitle and GroupCaption head the table of a group, and GroupNote says what
// it comes to.
func (c Callbacks) GroupTitle(by visits.GroupKind) string {
	return c.say("By {group}", with{"group": c.Group(by)})
}

// GroupCaption is that of the table of a group.
func (c Callbacks) GroupCaption(by visits.GroupKind) string {
	return c.say("Callbacks by {group}", with{"group": c.Group(by)})
}

// GroupNote is what a group comes to, under its name.
func (c Callbacks) GroupNote(g *visits.CallbackGroup, calls int) string {
	return c.say("By {group}: {stands}", with{"group": c.Group(g.By), "stands": Lower(c.Stands(g, calls))})
}

// Stands says what a table of calls comes to.
func (c Callbacks) Stands(g *visits.CallbackGroup, calls int) string {
	switch g.Stands {
	case visits.GroupMost:
		return c.say("Most often {kind}, {n} of {all} calls.", with{"kind": c.Word(g.Rows[0].Name), "n": Count(g.Rows[0].Calls), "all": Count(calls)})
	case visits.GroupNoCalls:
		return c.text("No customer has called yet.")
	case visits.GroupUnrecorded:
		return c.say("No placement has this on record: {column}.", with{"column": Lower(c.columnName(g.Column))})
	case visits.GroupByChance:
		return c.text("The differences could easily be luck.")
	case visits.GroupDiffers:
		return c.say("The rows differ by more than luck explains. That does not prove that the {group} is the cause.", with{"group": c.Group(g.By)})
	}
	return c.say("{why}.", with{"why": Capital(c.Reason(g.Alike.Why))})
}

// RowName is the name of a row of a group.
func (c Callbacks) RowName(g *visits.CallbackGroup, name string) string {
	switch {
	case g.By == visits.ByOutfit && name == visits.NotPumped:
		return c.text("not pumped")
	case g.By == visits.ByCallKind || g.By == visits.ByUse:
		return c.Word(c.Named(name))
	}
	return c.Named(name)
}

// Closing says how long callbacks took to close, and what came back.
func (c Callbacks) Closing(d *visits.Callbacks) []string {
	var notes []string
	if d.DaysToClose.Known() {
		notes = append(notes, c.say("Half of the callbacks were closed within {days}.", with{"days": c.Long(Plain.As("{value} days"), d.DaysToClose)}))
	}
	if d.Closed30.Known() {
		notes = append(notes, c.say("Within 30 days {share} were closed.", with{"share": c.Long(InHundred, d.Closed30)}))
	}
	if d.Again.Known() {
		notes = append(notes, c.say("Of slabs that were repaired, {share} were called about again.", with{"share": c.Long(InHundred, d.Again)}))
	}
	if d.Undated > 0 {
		notes = append(notes, c.plural(d.Undated, "A job log does not say when a callback was closed: the 1 known only from a log counts as closed.|A job log does not say when a callback was closed: the {n} known only from a log count as closed.", nil))
	}
	return append(notes, c.text("The plant has no column of its own, so it shows only where the mix names it. Slabs poured long ago had more time to be called about, so compare the calls a year."))
}

// Method says how callbacks are counted and compared.
func (c Callbacks) Method() []string {
	return []string{
		c.text("A callback is open until it has a closing date or a visit finds the slab sound. A later callback of its kind that is closed closes it too."),
		c.say("Days to close: the middle of a Kaplan-Meier curve ({source}). Open callbacks count for as long as they have been open.", with{"source": "Brookmeyer & Crowley 1982"}),
		c.say("Callbacks a year: calls in 100 placement-years since the pour, with exact limits ({source_rate}). A test says whether the rows of a table are alike, given their time (exact multinomial, or chi-squared). It allows for how many tables are looked at ({source_all}).", with{"source_rate": "Garwood 1936", "source_all": "Benjamini & Hochberg 1995"}),
		c.text("Months: calls within the warranty over the time that slabs were under warranty in the month. A month stands out where so many calls, or so few, have a chance under 0.00135 (Poisson). The last twelve months are judged by those before them, once there are twelve."),
	}
}
