package say

import (
	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/setting"
)

// Notes are what goes with the answer, and the reservations.
func (c Cracks) Notes(of *cracks.Cracks) []string {
	var notes []string
	if s := c.drivers(of); s != "" {
		notes = append(notes, s)
	}
	notes = append(notes, c.eventNotes(of.Event)...)
	notes = append(notes,
		c.text("Slabs of one job share soil, weather and customer, so ten of them tell less than ten slabs of ten jobs."),
		c.text("Joint spacing and thickness are chosen for the soil and the load, so a difference between them may come from the soil."),
		c.text("Calls bunch up just before a warranty ends. That jump comes from customers, not from the concrete."),
		c.text("Where kinds are compared, a slab first called back for something else counts only up to that day."))
	if n := of.SpacingUnknown; n > 0 {
		notes = append(notes, c.say("Joint spacing is unknown for {n} of {placements}. A difference between reinforcements there may come from the spacing, and the records cannot tell.", with{"n": Count(n), "placements": c.placements(of.All.Placements)}))
	}
	for _, l := range of.LeftOut {
		notes = append(notes, c.leftOut(l))
	}
	if of.NoModel != nil {
		notes = append(notes, c.say("Looking at all of it at once gives no answer: {why}.", with{"why": c.Reason(of.NoModel)}))
	}
	if lr := of.LogRank; lr.Known() {
		notes = append(notes, c.say("Luck alone makes differences as large as these between kinds of reinforcement {often}.", with{"often": c.often(lr.Value)}))
	}
	return append(notes, c.text("These are plain fractions. Slabs of one kind may have had hotter days, poorer soil or wider joints."))
}

// drivers says what the records tell of which slabs crack, "" where not even how
// many do is known.
func (c Cracks) drivers(of *cracks.Cracks) string {
	switch of.Conclusion.Drivers {
	case cracks.TooFewToTell:
		return c.text("That is too few cracks to say what makes them. Keep writing down joint spacing, heat, sawing and curing.")
	case cracks.NotRecorded:
		return c.text("The records cannot say what goes with cracks. Write down joint spacing, heat, sawing and curing at every pour.")
	case cracks.NothingClear:
		return c.text("Nothing on record tells yet which slabs will crack. It takes more callbacks to tell.")
	case cracks.OneThingClear:
		t := of.Conclusion.Clearest
		return c.sentences(c.say("Clearest so far: {what}, with {times} as many cracks.", with{"what": c.Term(t.Term), "times": c.Long(Times, t.HazardRatio)}),
			c.advice(t.Term.What, t.HazardRatio.Value > 1))
	}
	return ""
}

// advice says what to do where more of a thing goes with more cracks, or with
// fewer.
func (c Cracks) advice(what cracks.Thing, more bool) string {
	switch {
	case what == cracks.AirTemperature && more:
		return c.text("Pour in the cool of the day.")
	case what == cracks.AirTemperature:
		return c.text("Look at what is different on cold days before drawing a lesson.")
	case what == cracks.JointSpacing && more:
		return c.text("Keep joints no wider than 24 to 30 times the thickness.")
	case what == cracks.JointSpacing:
		return c.text("Look at where the joints were close before drawing a lesson.")
	case what == cracks.FastDrying && more:
		return c.text("Shade, fog or wait where the surface dries that fast.")
	case what == cracks.FastDrying:
		return c.text("Look at what was done on such days: it may have worked.")
	case what == cracks.Cured && more:
		return c.text("Look at which slabs were cured before drawing a lesson.")
	case what == cracks.Cured:
		return c.text("Cure every slab.")
	case what == cracks.SawDelay && more:
		return c.text("Saw as soon as the cut does not ravel.")
	case what == cracks.SawDelay:
		return c.text("Look at why those slabs were sawn late before drawing a lesson.")
	}
	return ""
}

func (c Cracks) eventNotes(event string) []string {
	if event == setting.EventSeen {
		return []string{
			c.text("A visit finds a crack that may be much older. A risk by an age depends on how soon and how often somebody looked."),
			c.text("Where slabs were first looked at after more than a year, no crack within a year means that nobody looked, not that nothing cracked."),
		}
	}
	return []string{c.text("A callback is not a crack: many cracks are never reported, and some customers call about hairlines.")}
}

func (c Cracks) leftOut(l cracks.LeftOut) string {
	if l.Why == nil {
		return c.say("Left out of “All of it at once”: {what}. {share} slabs do not have it on record.", with{"what": c.Term(l.Term), "share": c.InHundred(l.Lacking)})
	}
	return c.say("Left out of “All of it at once”: {what}. The reason: {why}.", with{"what": c.Term(l.Term), "why": c.Reason(l.Why)})
}

// Method says how it was worked out, with the sources.
func (c Cracks) Method(assumed []figure.Assumption) []string {
	out := []string{
		c.text("A slab counts from its pour to its first crack, or else to the end of its follow-up: a slab poured last week has proved nothing."),
		c.say("Risk within a year, and within the warranty, is one less the Kaplan-Meier estimate, which takes young slabs for as long as they have been watched ({source}). Its range is by Greenwood's variance on the log-log scale. “Cracks a year” is cracks over the years watched, with exact limits ({sources}).", with{"source": "Kaplan and Meier 1958", "sources": "Garwood 1936"}),
		c.say("“Of slabs a year old” leaves the young ones out: it counts those that cracked within their first year ({source}).", with{"source": "Wilson 1927"}),
		c.say("Whether groups differ is a log-rank test. With several tables looked at, some would differ by luck; those are not called different ({source}).", with{"source": "Benjamini and Hochberg 1995"}),
		c.say("What goes with cracks all at once is Cox's regression, with Firth's correction where cracks are few ({source}), checked for ratios that change with age ({sources}). Slabs of one job count together.", with{"source": "Heinze and Schemper 2001", "sources": "Grambsch and Therneau 1994"}),
		c.text("What is still to come adds up, over the slabs in warranty, the share of slabs of that age that cracked later. A joint spacing band includes its lower end."),
	}
	for _, a := range assumed {
		out = append(out, c.Assumed(a))
	}
	return out
}
