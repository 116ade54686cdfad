package say

import (
	"pourback/analysis/trade"
	"pourback/analysis/visits"
)

// Method says how cracks are dated and counted.
func (s Seen) Method() []string {
	deicing, _ := trade.ReasonableCrackIn(trade.Deicing) // in the guide
	return []string{
		s.say("Reported, and found: one less the Kaplan-Meier estimate of slabs without a crack ({source}). A crack is dated to the call, or to the visit that found it. Limits are on the log-log scale.", with{"source": "Kaplan & Meier 1958"}),
		s.say("Between two looks: an estimate that knows only between which two looks a crack arose ({source}). The records cannot tell where in between. “At least” counts the cracks that surely arose by the age, “at most” those that may have. The figure is the middle.", with{"source": "Turnbull 1976"}),
		s.text("A call comes because of the crack; a planned look need not. So a crack that was reported is taken to have arisen by the planned look after the call. The range between two looks comes from drawing whole jobs again and again; it is approximate."),
		s.say("Widths stand beside what {source} (Table 4.1) calls reasonable for reinforced structural concrete in soil and moist air. That is a general guide, not a warranty limit. Where de-icing salt is used its guide is {salt}.", with{"source": "ACI 224R-01", "salt": s.crackWidth(deicing)}),
	}
}

// AgeHeads are the heads of the table by age.
type AgeHeads struct{ By, Called, Seen, Between, Least, Most string }

// AgeHeads are the heads of the table by age.
func (s Seen) AgeHeads() AgeHeads {
	return AgeHeads{s.text("By day"), s.text("Reported"), s.text("Found, dated to the visit"), s.text("Between two looks"), s.text("At least"), s.text("At most")}
}

// FoundHeads are those of the visits by what they found.
type FoundHeads struct{ Found, Planned, Called string }

// FoundHeads are those of the visits by what they found.
func (s Seen) FoundHeads() FoundHeads {
	return FoundHeads{s.text("Found"), s.text("Planned visits"), s.text("Callbacks")}
}

// CrackHeads are those of the kinds of crack.
type CrackHeads struct{ Kind, Slabs, Width, Length string }

// CrackHeads are those of the kinds of crack, in the units that are read.
func (s Seen) CrackHeads() CrackHeads {
	return CrackHeads{s.text("Kind"), s.text("Slabs"), s.say("Median width, {unit}", with{"unit": s.sign(s.CrackWidths())}), s.say("Median length, {unit}", with{"unit": s.sign(s.Units.Spacing)})}
}

// GrowthHeads are those of the cracks measured more than once.
type GrowthHeads struct{ Slab, Was, On, Is, PerYear, Beside string }

// GrowthHeads are those of the cracks measured more than once.
func (s Seen) GrowthHeads() GrowthHeads {
	of := with{"unit": s.sign(s.CrackWidths())}
	return GrowthHeads{s.text("Slab"), s.say("Was, {unit}", of), s.text("On"), s.say("Is, {unit}", of), s.say("Opens in a year, {unit}", of), s.text("Beside the guide")}
}

// SeenChart are the words of the chart of cracked slabs by age.
type SeenChart struct{ Says, Age, Share string }

// Chart are the words of the chart of cracked slabs by age.
func (s Seen) Chart() SeenChart {
	return SeenChart{
		Says: s.text("How many in 100 slabs have cracked by each age: as customers reported, as visits found, and in between two looks."),
		Age:  s.text("years since the pour"), Share: s.text("cracked, in 100")}
}

// StepTip is the figure of a step of a line.
func (s Seen) StepTip(code visits.LineCode, share, days float64) string {
	return s.say("{line}: {share} in 100 by day {day}", with{"line": s.Line(code), "share": Grouped(100*share, 0), "day": Grouped(days, 0)})
}
