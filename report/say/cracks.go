package say

import (
	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/setting"
)

// Cracks says how many slabs crack, and which.
type Cracks struct{ *Voice }

// Title names the page.
func (c Cracks) Title() string { return c.text("Cracks") }

// Will is what the page will say once there are records, Takes what it takes.
func (c Cracks) Will() string {
	return c.text("how many slabs crack within a year, by reinforcement and joint spacing")
}

// Takes says which records it takes.
func (c Cracks) Takes() string {
	return c.text("callbacks with their dates and kinds, or visits to finished slabs, and the reinforcement and joint spacing of each placement")
}

// Answer says how many slabs crack within a year, and what the records cannot
// tell apart.
func (c Cracks) Answer(of *cracks.Cracks) string {
	return c.sentences(c.outcome(of), c.spacingDoubt(of))
}

func (c Cracks) outcome(of *cracks.Cracks) string {
	all, seen := of.All, of.Event == setting.EventSeen
	values := with{"n": Count(all.Callbacks), "slabs": c.slabs(all.Placements), "time": c.watchedEach(all)}
	switch of.Conclusion.Outcome {
	case cracks.NoneYet:
		return c.sentences(c.none(of), c.say("As many as {most} could still crack within a year.", with{"most": c.AtMost(all.Risk1Yr.High)}))
	case cracks.NoneTooNew:
		return c.sentences(c.none(of), c.text("That is too short to say how many crack within a year."))
	case cracks.TooNew:
		return c.sentences(c.filled(c.text("{n} of {slabs} cracked, watched for {time} on average."), values),
			c.text("That is too short to say how many crack within a year."))
	case cracks.NotLooked:
		return c.sentences(c.found(of), c.unlooked(of))
	case cracks.NoneEarly:
		said := c.filled(c.text("{n} of {slabs} cracked, watched for {time} on average."), values)
		if seen {
			return c.sentences(said, c.say("None of those looked at late in their first year had: that leaves room for {most}.", with{"most": c.AtMost(all.Risk1Yr.High)}))
		}
		return c.sentences(said, c.text("None was called about within a year of the pour."))
	case cracks.RiskKnown:
		return c.sentences(c.Often(of), c.say("So far {n} of {all} have.", with{"n": Count(all.Callbacks), "all": Count(all.Placements)}))
	}
	return c.text("No slab is on record yet.")
}

// found says on how many slabs a crack is known.
func (c Cracks) found(of *cracks.Cracks) string {
	values := with{"n": Count(of.All.Callbacks), "slabs": c.slabs(of.All.Placements)}
	if of.All.Callbacks == 0 {
		return c.filled(c.text("No crack was seen yet on {slabs}."), values)
	}
	return c.filled(c.text("A crack is known on {n} of {slabs}."), values)
}

// unlooked says why the looks at slabs do not tell how many crack within a year.
func (c Cracks) unlooked(of *cracks.Cracks) string {
	switch why := of.All.Risk1Yr.Why.(type) {
	case cracks.FewLooked:
		if why.N == 0 {
			return c.text("Nobody looked at one late in its first year, so how many crack in it is not known.")
		}
		return c.say("Only {n} of {looked} slabs looked at were seen late in their first year: too few to say how many crack in it.", with{"n": Count(why.N), "looked": Count(why.Of)})
	case cracks.LeftOpen:
		return c.say("Too few were looked at late in their first year: anywhere from {low} to {high} in 100 may crack in it.", with{"low": Grouped(100*why.Least, 0), "high": Grouped(100*why.Most, 0)})
	case cracks.NobodyLooked:
		return c.text("Nobody went to look at a slab, so nothing is known of how many crack.")
	}
	return c.say("How many crack within a year is not known: {why}.", with{"why": c.Reason(of.All.Risk1Yr.Why)})
}

// none says that no slab has cracked.
func (c Cracks) none(of *cracks.Cracks) string {
	values := with{"slabs": c.slabs(of.All.Placements), "time": c.watchedEach(of.All)}
	if of.Event == setting.EventSeen {
		return c.filled(c.text("No crack was seen yet on {slabs}, watched for {time} on average."), values)
	}
	return c.filled(c.text("No crack callback yet from {slabs}, watched for {time} on average."), values)
}

// Often says the risk within a year, where it is known: "5 in 100 slabs (between
// 4 and 7) bring a crack callback within a year."
func (c Cracks) Often(of *cracks.Cracks) string {
	risk := of.All.Risk1Yr
	value := with{"risk": c.Long(ShareOf(risk, "{value} in 100 slabs", "{value} in 1,000 slabs"), risk)}
	if of.Event == setting.EventSeen {
		return c.filled(c.text("{risk} are seen with a crack within a year."), value)
	}
	return c.filled(c.text("{risk} bring a crack callback within a year."), value)
}

func (c Cracks) spacingDoubt(of *cracks.Cracks) string {
	n := with{"n": Count(of.SpacingUnknown)}
	switch of.Conclusion.Spacing {
	case cracks.NeverTold:
		return c.filled(c.text("Joint spacing is unknown for all {n}, so the records cannot tell steel from spacing."), n)
	case cracks.HardlyTold:
		return c.filled(c.text("Joint spacing is unknown for {n}, so the records can hardly tell steel from spacing."), n)
	}
	return ""
}

// slabs is a number of slabs.
func (v *Voice) slabs(n int) string { return v.plural(n, "1 slab|{n} slabs", nil) }

// placements is a number of placements.
func (v *Voice) placements(n int) string { return v.plural(n, "1 placement|{n} placements", nil) }

// watchedEach is how long slabs have been watched on average.
func (c Cracks) watchedEach(of cracks.Cell) string {
	years := of.PlacementYears / float64(max(1, of.Placements))
	if years < 0.95 {
		return c.plural(int(12*years+0.5), "1 month|{n} months", nil)
	}
	return c.say("{n} years", with{"n": Grouped(years, 1)})
}

// EventMeans says what counts as a crack, and how long slabs are followed.
func (c Cracks) EventMeans(event string) string {
	if event == setting.EventSeen {
		return c.text("A crack counts as arising after the last planned look without it, and by the one that found it. A look up to 30 days late closes its year.")
	}
	return c.text("A crack counts from the day the customer called about it. Slabs without such a call are followed to the data date.")
}

// OutOf100 is a probability under a head that says what it is out of: "45", and
// never certain.
func (v *Voice) OutOf100(p float64) string {
	switch {
	case p < 0.005:
		return v.text("under 1")
	case p > 0.995:
		return v.text("over 99")
	}
	return Grouped(100*p, 0)
}

// ChanceCell shows a probability under such a head.
func (v *Voice) ChanceCell(f figure.Figure) Cell {
	if !f.Known() {
		return v.Cell(OfHundred, f)
	}
	return v.In(OfHundred, Valued(v.OutOf100(f.Value), f.Value))
}

// sentences joins those that there are.
func (v *Voice) sentences(all ...string) string {
	said := ""
	for _, s := range all {
		if s != "" && said != "" {
			said += " "
		}
		said += s
	}
	return said
}
