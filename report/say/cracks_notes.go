package say

import (
	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/setting"
)

// Todo says what to do about cracks, as far as the records tell what goes with
// them.
func (c Cracks) Todo(of *cracks.Cracks) []string {
	if s := c.drivers(of); s != "" {
		return []string{s}
	}
	return nil
}

// Notes are the reservations.
func (c Cracks) Notes(of *cracks.Cracks) []string {
	notes := c.eventNotes(of.Event)
	notes = append(notes,
		c.text("Slabs of one job share soil, weather and customer, so ten of them tell less than ten slabs of ten jobs."),
		c.text("Joint spacing and thickness are chosen for the soil and the load, so a difference between them may come from the soil."),
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
	if lr := of.BySteel; lr.Known() {
		notes = append(notes, c.say("Luck alone makes differences as large as these between kinds of reinforcement {often}.", with{"often": c.TimesIn100(lr.Value)}))
	}
	if lr := of.BySpacing; lr.Known() {
		notes = append(notes, c.say("Between joint spacings, each reinforcement by itself, luck alone makes differences as large as these {often}.", with{"often": c.TimesIn100(lr.Value)}))
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
		if of.Event == setting.EventSeen {
			return c.text("Nothing on record tells yet which slabs will crack. It takes more cracks seen to tell.")
		}
		return c.text("Nothing on record tells yet which slabs will crack. It takes more callbacks to tell.")
	case cracks.OneThingClear:
		t := of.Conclusion.Clearest
		return c.sentences(c.say("Clearest so far: {what}, with {times} as many cracks.", with{"what": c.Term(t.Term), "times": c.Long(Times, t.HazardRatio)}),
			c.text("It was picked for standing out, so the true figure is likely nearer to 1."), c.advice(t.Term.What))
	}
	return ""
}

// Unexplained names what goes against what is known of concrete, "" where
// nothing does.
func (c Cracks) Unexplained(terms []cracks.CoxTerm) string {
	var names []string
	for _, t := range terms {
		if t.Unexplained {
			names = append(names, c.thing(t.Term.What))
		}
	}
	if len(names) == 0 {
		return ""
	}
	return c.plural(len(names), "Unexplained: what these records show of {things} goes against what is known of concrete. Take it for luck or for something not recorded, and change nothing for it.|Unexplained: what these records show of {things} goes against what is known of concrete. Take them for luck or for something not recorded, and change nothing for them.", with{"things": c.List(names)})
}

// advice says what to do about a thing that goes with cracks, or keeps them away.
func (c Cracks) advice(what cracks.Thing) string {
	switch what {
	case cracks.AirTemperature:
		return c.text("Pour in the cool of the day.")
	case cracks.JointSpacing:
		return c.text("Keep joints no wider than 24 to 30 times the thickness.")
	case cracks.FastDrying:
		return c.text("Shade, fog or wait where the surface dries that fast.")
	case cracks.Cured:
		return c.text("Cure every slab.")
	case cracks.SawDelay:
		return c.text("Saw as soon as the cut does not ravel.")
	}
	return ""
}

func (c Cracks) eventNotes(event string) []string {
	if event == setting.EventSeen {
		return []string{
			c.text("A visit finds a crack that may be much older, so where it arose between two looks the records cannot tell. The figures are the middle of what that leaves open."),
			c.text("Slabs that nobody went to look at without a call tell nothing of how many crack, and are left out of the risks."),
		}
	}
	return []string{
		c.text("A callback is not a crack: many cracks are never reported, and some customers call about hairlines."),
		c.text("Calls bunch up just before a warranty ends. That jump comes from customers, not from the concrete."),
	}
}

func (c Cracks) leftOut(l cracks.LeftOut) string {
	if l.Why == nil {
		return c.say("Left out of “All of it at once”: {what}. {share} slabs do not have it on record.", with{"what": c.Term(l.Term), "share": c.InHundred(l.Lacking)})
	}
	return c.say("Left out of “All of it at once”: {what}. The reason: {why}.", with{"what": c.Term(l.Term), "why": c.Reason(l.Why)})
}

// Method says how it was worked out, with the sources.
func (c Cracks) Method(event string, assumed []figure.Assumption) []string {
	out := c.methodOf(event)
	for _, a := range assumed {
		out = append(out, c.Assumed(a))
	}
	return out
}

// methodOf says it of cracks that were called about, or seen at visits.
func (c Cracks) methodOf(event string) []string {
	if event == setting.EventSeen {
		return []string{
			c.say("Risk within a year, and within the warranty, is an estimate that knows only between which two planned looks a crack arose ({source}). Its range is approximate: it comes from drawing whole jobs again and again. It is no narrower than that of a plain share of the slabs looked at about then.", with{"source": "Turnbull 1976"}),
			c.say("A look up to 30 days past an anniversary closes its year. Where fewer than {n} slabs were looked at about an age, or more than half is left open, no risk is figured.", with{"n": Count(figure.LeastForRate)}),
			c.say("“Cracks a year” takes cracks to come at one steady pace between looks ({source}). “Of slabs a year old” counts those that were looked at as their first year ended ({sources}).", with{"source": "Lindsey and Ryan 1998", "sources": "Wilson 1927"}),
			c.say("Whether groups differ is a log-rank test between looks ({source}). The odds of luck come from dealing whole jobs anew. Of several tables some would differ by luck: those are not called different ({sources}).", with{"source": "Finkelstein 1986", "sources": "Benjamini and Hochberg 1995"}),
			c.say("What goes with cracks all at once is a model of grouped proportional hazards ({source}), with a starting assumption where cracks are few. Slabs of one job count together.", with{"source": "Prentice and Gloeckler 1978"}),
			c.text("A joint spacing band includes its lower end."),
		}
	}
	return []string{
		c.text("A slab counts from its pour to its first crack, or else to the end of its follow-up: a slab poured last week has proved nothing."),
		c.say("Risk within a year, and within the warranty, is one less the Kaplan-Meier estimate ({source}). It takes young slabs for as long as they have been watched. Its range is by Greenwood's variance on the log-log scale. “Cracks a year” is cracks over the years watched, with exact limits ({sources}).", with{"source": "Kaplan and Meier 1958", "sources": "Garwood 1936"}),
		c.say("“Of slabs a year old” leaves the young ones out: it counts those that cracked within their first year ({source}).", with{"source": "Wilson 1927"}),
		c.say("Whether groups differ is a log-rank test. Of several tables some would differ by luck: those are not called different ({source}).", with{"source": "Benjamini and Hochberg 1995"}),
		c.say("What goes with cracks all at once is Cox's regression, with Firth's correction where cracks are few ({source}). Ratios that change with age are looked for ({sources}). Slabs of one job count together.", with{"source": "Heinze and Schemper 2001", "sources": "Grambsch and Therneau 1994"}),
		c.text("What is still to come adds up, over the slabs in warranty, the share of slabs of that age that cracked later. A joint spacing band includes its lower end."),
	}
}
