package cracks

import (
	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/analysis/stat/score"
)

// Conclusion is what the records can say of how many slabs crack, and which.
type Conclusion struct {
	Outcome  Outcome
	Drivers  Drivers  // where the risk within a year is known
	Clearest *CoxTerm // of what goes with cracks, where the drivers are clear
	Spacing  SpacingDoubt
}

// Outcome is what the records can say of how many slabs crack within a year.
type Outcome string

// The outcomes.
const (
	NoSlabs    Outcome = "no slabs"
	NoneYet    Outcome = "none yet"        // which leaves room for a risk of a size
	NoneTooNew Outcome = "none, too early" // too early to say how many will
	TooNew     Outcome = "too early"       // some cracked, too early to say how many will
	NotLooked  Outcome = "not looked at"   // too few were looked at in their first year, where cracks are seen at visits
	NoneEarly  Outcome = "none early"      // some cracked, none within a year of the pour
	RiskKnown  Outcome = "known"
)

// Drivers says whether the records tell which slabs crack.
type Drivers string

// What the records tell of which slabs crack.
const (
	TooFewToTell  Drivers = "too few cracks"
	NotRecorded   Drivers = "not recorded"
	NothingClear  Drivers = "nothing clear"
	OneThingClear Drivers = "clear"
)

// SpacingDoubt says how far lacking joint spacings keep steel from being told
// from spacing.
type SpacingDoubt string

// How far they do.
const (
	NoDoubt    SpacingDoubt = ""
	HardlyTold SpacingDoubt = "hardly told" // more than half are lacking
	NeverTold  SpacingDoubt = "never told"  // all are
)

// conclude says what may be said.
func (c *Cracks) conclude(clearest *CoxTerm) Conclusion {
	out := Conclusion{Outcome: c.outcome()}
	switch n, all := c.SpacingUnknown, c.All.Placements; {
	case all > 0 && n == all:
		out.Spacing = NeverTold
	case 2*n > all:
		out.Spacing = HardlyTold
	}
	if out.Outcome != RiskKnown {
		return out
	}
	switch {
	case c.Events < EventsForAny:
		out.Drivers = TooFewToTell
	case len(c.Cox) == 0:
		out.Drivers = NotRecorded
	case clearest == nil:
		out.Drivers = NothingClear
	default:
		out.Drivers, out.Clearest = OneThingClear, clearest
	}
	return out
}

// vague is the risk from which a limit on it says nothing worth saying.
const vague = 0.5

func (c *Cracks) outcome() Outcome {
	all := c.All
	switch {
	case all.Placements == 0:
		return NoSlabs
	case c.Event == setting.EventSeen && !all.Risk1Yr.Known():
		return NotLooked
	case all.Callbacks == 0 && all.Risk1Yr.Known() && all.Risk1Yr.Bounded && all.Risk1Yr.High < vague && all.TellsBy(OneYear):
		return NoneYet
	case all.Callbacks == 0:
		return NoneTooNew
	case !all.Risk1Yr.Known(), !all.TellsBy(OneYear):
		return TooNew
	case all.FirstYear == 0:
		return NoneEarly
	}
	return RiskKnown
}

// clearest is the term that is least likely to be chance, with all of them
// looked at; nil where none is clear. One that goes against what is known of
// concrete is never it. Mesh and rebar are left to their own page.
func (f *Frame) clearest(terms []CoxTerm) *CoxTerm {
	var at []int
	var ps []float64
	for j, t := range terms {
		if t.HazardRatio.Known() && f.Terms[j].Steel < 0 {
			at, ps = append(at, j), append(ps, pOf(t.HazardRatio))
		}
	}
	adjusted, err := score.BenjaminiHochberg(ps)
	if err != nil {
		return nil
	}
	best := -1
	for k := range ps {
		if !terms[at[k]].Unexplained && (best < 0 || ps[k] < ps[best]) {
			best = k
		}
	}
	if best < 0 || adjusted[best] > FalseFinds {
		return nil
	}
	return &terms[at[best]]
}

// LeftOut is a term that has no place in the hazard model: it is lacking on a
// share of the slabs, or its two kinds of reinforcement cannot be compared.
type LeftOut struct {
	Term    Covariate
	Lacking float64       // share of slabs
	Why     figure.Reason // nil where it is lacking
}
