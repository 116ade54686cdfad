package cracks

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/analysis/stat/score"
)

// OutOf100 is a share as an owner says it: "7 in 100 (between 5 and 9)".
func OutOf100(f figure.Figure) string {
	digits := 0
	if f.Bounded && 100*(f.High-f.Low) < 2 || !f.Bounded && 100*math.Abs(f.Value) < 2 {
		digits = 1
	}
	text := func(v float64) string { return Signed(100*v, digits) }
	if !f.Bounded {
		return text(f.Value) + " in 100"
	}
	return fmt.Sprintf("%s in 100 (between %s and %s)", text(f.Value), text(f.Low), text(f.High))
}

// Of100 is the same with what there are 100 of: "7 of 100 slabs (between 5
// and 9)".
func Of100(f figure.Figure, noun string) string {
	return strings.Replace(OutOf100(f), "in 100", "of 100 "+noun, 1)
}

// ManyTimes is a ratio as an owner says it: "1.4 times (between 1.1 and 1.8)".
func ManyTimes(f figure.Figure) string {
	return fmt.Sprintf("%s times (between %s and %s)", Signed(f.Value, 2), Signed(f.Low, 2), Signed(f.High, 2))
}

// Signed writes a number with a true minus, and no minus before 0.
func Signed(v float64, digits int) string {
	s := strconv.FormatFloat(math.Abs(v), 'f', digits, 64)
	if v < 0 && strings.Trim(s, "0.") != "" {
		return "−" + s
	}
	return s
}

// WhatCracksDo is what happens to a slab that counts as cracked.
func WhatCracksDo(event string) string {
	if event == setting.EventSeen {
		return "are seen with a crack"
	}
	return "bring a crack callback"
}

// answer is what the owner should take from the page on cracks.
func (c *Cracks) answer(lead string) string {
	all := c.All
	watched := fmt.Sprintf("%s watched for %s placement-years in all", figure.CountOf(all.Placements, "slab"), figure.Grouped(int64(math.Round(all.PlacementYears))))
	switch {
	case all.Placements == 0:
		return "No slab has been recorded yet."
	case all.Callbacks == 0 && all.Risk1Yr.Known() && all.Risk1Yr.High < 0.5:
		return fmt.Sprintf("No crack yet from %s: as many as %s in 100 a year could still be the truth.", watched, Signed(100*all.Risk1Yr.High, 0))
	case all.Callbacks == 0:
		return fmt.Sprintf("No crack yet from %s: too short a time to say how many crack within a year.", watched)
	case !all.Risk1Yr.Known():
		return fmt.Sprintf("%s from %s: too short a time to say how many crack within a year.", figure.CountOf(all.Callbacks, "crack"), watched)
	}
	if all.Curve.EventsBy(OneYear) == 0 {
		return fmt.Sprintf("%s from %s, none of them within a year of the pour%s.", figure.CountOf(all.Callbacks, "crack"), watched, c.nobodyLooked())
	}
	said := fmt.Sprintf("About %s %s within a year; the records hold %s from %s.", Of100(all.Risk1Yr, "slabs"), WhatCracksDo(c.Event), figure.CountOf(all.Callbacks, "crack"), watched)
	switch {
	case c.Events < EventsForAny:
		return said + " That is too few to say what makes them: keep recording spacing, heat, sawing and curing."
	case len(c.Cox) == 0:
		return said + " What goes with them cannot be told: record joint spacing, heat, sawing and curing with every pour."
	case lead == "":
		return said + " Nothing recorded yet tells which slabs those will be; more callbacks would have to show it."
	}
	return said + " " + lead
}

// nobodyLooked is the reservation about cracks found at visits.
func (c *Cracks) nobodyLooked() string {
	if c.Event == setting.EventSeen {
		return ", which may only mean that nobody looked so early"
	}
	return ""
}

// clearest is the term that is least likely to be chance, with all of them
// looked at, and what it says to do; "" where none is clear. Mesh and rebar are
// left to their own page.
func (f *Frame) clearest(terms []CoxTerm) string {
	var at []int
	var ps []float64
	for j, t := range terms {
		if t.HazardRatio.Known() && f.Terms[j].Steel < 0 {
			at, ps = append(at, j), append(ps, pOf(t.HazardRatio))
		}
	}
	adjusted, err := score.BenjaminiHochberg(ps)
	if err != nil {
		return ""
	}
	best := 0
	for k := range ps {
		if ps[k] < ps[best] {
			best = k
		}
	}
	if adjusted[best] > FalseFinds {
		return ""
	}
	r, t := terms[at[best]].HazardRatio, f.Terms[at[best]]
	advice := t.more
	if r.Value < 1 {
		advice = t.less
	}
	return fmt.Sprintf("Clearest of what goes with cracks is %s, with %s as many: %s.", t.Name, ManyTimes(r), advice)
}
