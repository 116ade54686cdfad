package say

import (
	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/setting"
)

// Heads of columns.

func (c Cracks) ReinforcementHead() string { return c.text("Reinforcement") }
func (c Cracks) RiskHead() string          { return c.text("Risk within a year, in 100") }
func (c Cracks) RateHead() string          { return c.text("Cracks a year, on 100 slabs") }
func (c Cracks) CracksHead() string        { return c.text("Cracks") }
func (c Cracks) PlacementsHead() string    { return c.text("Placements") }
func (c Cracks) YearsHead() string         { return c.text("Years watched, in all") }
func (c Cracks) FullYearHead() string      { return c.text("Of slabs a year old, in 100") }
func (c Cracks) KindHead() string          { return c.text("Reinforcement, spacing") }
func (c Cracks) WarrantyHead() string      { return c.text("Crack within the warranty, in 100") }
func (c Cracks) WhatHead() string          { return c.text("What") }
func (c Cracks) TimesHead() string         { return c.text("Times as many cracks") }
func (c Cracks) LuckHead() string          { return c.text("By luck alone, in 100") }
func (c Cracks) AgeHead() string           { return c.text("Age of the slab") }
func (c Cracks) StillCrackHead() string    { return c.text("Still crack, in 100") }

// EventsHead counts crack events.
func (c Cracks) EventsHead(event string) string { return c.happened(event) }

// BandHead is a band of joint spacings as a head.
func (c Cracks) BandHead(of cracks.Cell) string { return Capital(c.Band(of)) }

// ByHead is an age at which curves are read.
func (c Cracks) ByHead(years int) string {
	return c.plural(years, "Cracked by 1 year|Cracked by {n} years", nil)
}

// Titles and captions of tables, with what they come to.

func (c Cracks) MatrixTitle() string { return c.text("Reinforcement by joint spacing") }
func (c Cracks) MatrixSays() string {
	return c.text("In each box: how many in 100 crack within a year with the range, and the slabs behind it. Where ranges overlap, the boxes are not shown to differ.")
}
func (c Cracks) MatrixCaption() string {
	return c.text("Cracks within a year, in 100 slabs, by reinforcement and joint spacing")
}
func (c Cracks) MadeTitle() string { return c.text("By reinforcement") }
func (c Cracks) MadeCaption() string {
	return c.text("Cracks by reinforcement, all joint spacings together")
}
func (c Cracks) CellsTitle() string {
	return c.text("By reinforcement and joint spacing, with what each rests on")
}
func (c Cracks) CellsCaption() string { return c.text("Cracks by reinforcement and joint spacing") }

// FactorTitle heads what is said by one thing, FactorCaption its table.
func (c Cracks) FactorTitle(f cracks.Factor) string {
	return c.say("By {factor}", with{"factor": c.Factor(f)})
}

// FactorCaption names the table by one thing.
func (c Cracks) FactorCaption(f cracks.Factor) string {
	return c.say("Cracks by {factor}", with{"factor": c.Factor(f)})
}

// NotRecorded counts placements that do not say which row they belong to.
func (c Cracks) NotRecorded(n int) string {
	return c.plural(n, "Not recorded for 1 placement.|Not recorded for {n} placements.", nil)
}

// TooLittle names what there is too little of to look at, "" where there is none.
func (c Cracks) TooLittle(factors []cracks.Factor) string {
	if len(factors) == 0 {
		return ""
	}
	names := make([]string, len(factors))
	for i, f := range factors {
		names[i] = c.Factor(f)
	}
	return c.say("Too little is on record to look at cracks by {factors}.", with{"factors": c.List(names)})
}

func (c Cracks) TogetherTitle() string { return c.text("All of it at once") }
func (c Cracks) TogetherCaption() string {
	return c.text("What goes with cracks, other things equal")
}

// TogetherSays says how the ratios are to be read.
func (c Cracks) TogetherSays(of *cracks.Cracks) string {
	return c.sentences(
		c.text("How many times as many cracks go with each, other things equal. 1 is no difference."),
		c.plural(of.Events, "It rests on {used} of 1 crack.|It rests on {used} of {n} cracks.", with{"used": Count(of.ModelEvents)}),
		c.RatiosSay(of.PropHazards), c.Unexplained(of.Cox))
}

func (c Cracks) LaterTitle() string { return c.text("Still to come") }

// LaterCaption names the table of what sound slabs still bring.
func (c Cracks) LaterCaption(warrantyDays int) string {
	return c.say("How many in 100 sound slabs still crack within the warranty of {days}", with{"days": c.Days(warrantyDays)})
}

// LaterSays says what sound slabs may still bring within the warranty.
func (c Cracks) LaterSays(l cracks.Later) string {
	if l.Slabs == 0 {
		return c.text("No sound slab is still under warranty.")
	}
	slabs, calls := c.plural(l.Slabs, "Of 1 sound slab still under warranty|Of {n} sound slabs still under warranty", nil), c.Long(Wholes, l.Callbacks)
	said := c.say("{slabs}, {calls} should still bring a crack callback.", with{"slabs": slabs, "calls": calls})
	return c.sentences(said, c.laterCost(l.Cost))
}

// laterCost says what those callbacks would cost, "" where that is not known.
func (c Cracks) laterCost(f figure.Figure) string {
	if !f.Known() {
		return ""
	}
	cost := with{"cost": c.Dollars(f.Value), "low": c.Dollars(f.Low), "high": c.Dollars(f.High)}
	switch {
	case !f.Bounded:
		return c.filled(c.text("That should cost about {cost}."), cost)
	case f.Low < f.High/20:
		return c.filled(c.text("That should cost about {cost}, anywhere from nothing to {high}."), cost)
	}
	return c.filled(c.text("That should cost about {cost}, between {low} and {high}."), cost)
}

func (c Cracks) WatchedTitle() string { return c.text("How many are still watched") }
func (c Cracks) WatchedSays() string {
	return c.text("The farther right, the fewer slabs are old enough to tell.")
}
func (c Cracks) WatchedCaption() string {
	return c.text("Slabs still watched and free of cracks at an age")
}
func (c Cracks) CurvesTitle() string   { return c.text("As time goes on") }
func (c Cracks) CurvesCaption() string { return c.text("Cracked by age, in 100 slabs") }

// Words of charts.

// RiskChart says what the chart of risks shows.
func (c Cracks) RiskChart() string {
	return c.say("A point for each kind of slab with at least {n} placements: how many in 100 crack within a year, with the range.", with{"n": Count(figure.LeastForRate)})
}
func (c Cracks) RowsChart() string {
	return c.text("How many in 100 crack within a year, with the range.")
}
func (c Cracks) RiskAxis() string { return c.text("cracks within a year, in 100 slabs") }

// RiskTip is a risk with what it rests on.
func (c Cracks) RiskTip(name string, risk figure.Figure, placements int) string {
	return c.say("{name}: {risk}, from {placements}", with{"name": name, "risk": c.Long(Share(risk), risk), "placements": c.placements(placements)})
}
func (c Cracks) TogetherChart() string {
	return c.text("How many times as many cracks go with each, other things equal. A range that crosses the line shows no difference.")
}
func (c Cracks) TogetherAxis() string { return c.text("cracks, times as many") }
func (c Cracks) NoDifference() string { return c.text("no difference") }

// TimesTip is a term with its ratio.
func (c Cracks) TimesTip(name string, ratio figure.Figure) string {
	return c.say("{name}: {times} as many cracks", with{"name": name, "times": c.Long(Times, ratio)})
}

// CurvesChart says what the chart of curves shows.
func (c Cracks) CurvesChart(of *cracks.Cracks) string {
	if of.Event == setting.EventSeen {
		return c.say("How many in 100 slabs were seen with a crack by each age, the range as a shade. A line ends where fewer than {n} slabs are still watched.", with{"n": Count(cracks.FewestWatched)})
	}
	return c.say("How many in 100 slabs were called about for a crack by each age, the range as a shade. A line ends where fewer than {n} slabs are still watched.", with{"n": Count(cracks.FewestWatched)})
}

// NoCurves says why no curve is drawn.
func (c Cracks) NoCurves() string {
	return c.say("No chart is drawn: it takes {n} slabs of a kind that are still watched.", with{"n": Count(cracks.FewestWatched)})
}
func (c Cracks) YearsAxis() string { return c.text("years since the pour") }
func (c Cracks) CrackedAxis(of *cracks.Cracks) string {
	if of.Event == setting.EventSeen {
		return c.text("seen cracked, in 100 slabs")
	}
	return c.text("called about a crack, in 100 slabs")
}
func (c Cracks) StillWatched() string { return c.text("Still watched") }

// PourTip is where a curve begins, StepTip a step of it.
func (c Cracks) PourTip(name string) string { return c.say("{name}: at the pour", with{"name": name}) }

// StepTip is a step of a curve, at an age in years.
func (c Cracks) StepTip(name string, share, years float64, watched int) string {
	return c.say("{name}: {n} in 100 after {years} years, {slabs} still watched",
		with{"name": name, "n": Grouped(100*share, 0), "years": Grouped(years, 1), "slabs": c.slabs(watched)})
}

// GridChart and what follows are the words of how many slabs there are of
// each kind.
func (c Cracks) GridChart() string {
	return c.text("How many slabs you have of each, the darker the more. A dash marks what you have not tried.")
}
func (c Cracks) GridHead(of cracks.Cell) string {
	if !of.From.OK {
		return c.text("not known")
	}
	return c.BandHead(of)
}
func (c Cracks) SpacingAxis() string { return c.text("joint spacing") }
func (c Cracks) GridTip(of cracks.Cell) string {
	return c.say("{kind}: {slabs}", with{"kind": c.CellName(of), "slabs": c.slabs(of.Placements)})
}
