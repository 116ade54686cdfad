package analysis

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"pourback/analysis/stat/score"
)

// outOf100 is a share as an owner says it: "7 in 100 (between 5 and 9)".
func outOf100(f Figure) string {
	digits := 0
	if f.Bounded && 100*(f.High-f.Low) < 2 || !f.Bounded && 100*math.Abs(f.Value) < 2 {
		digits = 1
	}
	text := func(v float64) string { return signed(100*v, digits) }
	if !f.Bounded {
		return text(f.Value) + " in 100"
	}
	return fmt.Sprintf("%s in 100 (between %s and %s)", text(f.Value), text(f.Low), text(f.High))
}

// of100 is the same with what there are 100 of: "7 of 100 slabs (between 5
// and 9)".
func of100(f Figure, noun string) string {
	return strings.Replace(outOf100(f), "in 100", "of 100 "+noun, 1)
}

// manyTimes is a ratio as an owner says it: "1.4 times (between 1.1 and 1.8)".
func manyTimes(f Figure) string {
	return fmt.Sprintf("%s times (between %s and %s)", signed(f.Value, 2), signed(f.Low, 2), signed(f.High, 2))
}

// signed writes a number with a true minus, and no minus before 0.
func signed(v float64, digits int) string {
	s := strconv.FormatFloat(math.Abs(v), 'f', digits, 64)
	if v < 0 && strings.Trim(s, "0.") != "" {
		return "−" + s
	}
	return s
}

// whatCracksDo is what happens to a slab that counts as cracked.
func whatCracksDo(event string) string {
	if event == EventSeen {
		return "are seen with a crack"
	}
	return "bring a crack callback"
}

// answer is what the owner should take from the page on cracks.
func (c *Cracks) answer(lead string) string {
	all := c.All
	watched := fmt.Sprintf("%s watched for %s placement-years in all", countOf(all.Placements, "slab"), grouped(int64(math.Round(all.PlacementYears))))
	switch {
	case all.Placements == 0:
		return "No slab has been recorded yet."
	case all.Callbacks == 0 && all.Risk1Yr.Known() && all.Risk1Yr.High < 0.5:
		return fmt.Sprintf("No crack yet from %s: as many as %s in 100 a year could still be the truth.", watched, signed(100*all.Risk1Yr.High, 0))
	case all.Callbacks == 0:
		return fmt.Sprintf("No crack yet from %s: too short a time to say how many crack within a year.", watched)
	case !all.Risk1Yr.Known():
		return fmt.Sprintf("%s from %s: too short a time to say how many crack within a year.", countOf(all.Callbacks, "crack"), watched)
	}
	if all.Curve.EventsBy(oneYear) == 0 {
		return fmt.Sprintf("%s from %s, none of them within a year of the pour%s.", countOf(all.Callbacks, "crack"), watched, c.nobodyLooked())
	}
	said := fmt.Sprintf("About %s %s within a year; the records hold %s from %s.", of100(all.Risk1Yr, "slabs"), whatCracksDo(c.Event), countOf(all.Callbacks, "crack"), watched)
	switch {
	case c.Events < eventsForAny:
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
	if c.Event == EventSeen {
		return ", which may only mean that nobody looked so early"
	}
	return ""
}

// clearest is the term that is least likely to be chance, with all of them
// looked at, and what it says to do; "" where none is clear. Mesh and rebar are
// left to their own page.
func (f *frame) clearest(terms []CoxTerm) string {
	var at []int
	var ps []float64
	for j, t := range terms {
		if t.HazardRatio.Known() && f.terms[j].steel < 0 {
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
	if adjusted[best] > falseFinds {
		return ""
	}
	r, t := terms[at[best]].HazardRatio, f.terms[at[best]]
	advice := t.more
	if r.Value < 1 {
		advice = t.less
	}
	return fmt.Sprintf("Clearest of what goes with cracks is %s, with %s as many: %s.", t.name, manyTimes(r), advice)
}
