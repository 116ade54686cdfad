package visits

import "pourback/ingest/record"

// Why is one thing that makes a visit worth its drive, or less so.
type Why struct {
	Code   WhyCode
	On     record.Date // when a crack was seen
	Kind   string      // of the call before
	Value  float64     // °F of the air, lb/ft²/h of drying, or times the usual risk
	Mostly *Cause      // of the risk, where one stands out
	Days   int         // of warranty left
}

// WhyCode says what a reason to visit is about.
type WhyCode string

// The reasons to visit a slab.
const (
	WhyCrackSeen   WhyCode = "crack seen" // and nobody has called
	WhyCalled      WhyCode = "called about before"
	WhyHotAir      WhyCode = "hot air"     // at the pour
	WhyDriedFast   WhyCode = "dried fast"  // the same
	WhyRisk        WhyCode = "risk"        // well above the usual, or below it
	WhyUsualRisk   WhyCode = "usual risk"  // for its age
	WhyInWarranty  WhyCode = "in warranty" // for so many days
	WhyOutWarranty WhyCode = "out of warranty"
)

// why is what makes the visit worth its drive.
func (a *after) why(i int) []Why {
	f := &a.slab[i]
	var why []Why
	switch f.state {
	case cracked:
		why = append(why, Why{Code: WhyCrackSeen, On: f.crackOn})
	case repaired:
		why = append(why, Why{Code: WhyCalled, Kind: a.latest(i).kind})
	default:
		why = a.whyOfQuiet(i)
	}
	left := int(f.warrantyEnd - a.h.AsOf)
	if left <= 0 {
		return append(why, Why{Code: WhyOutWarranty})
	}
	if len(why) == 0 {
		why = append(why, Why{Code: WhyUsualRisk})
	}
	return append(why, Why{Code: WhyInWarranty, Days: left})
}

// whyOfQuiet is how slab i, of which nothing has been heard, was poured, and
// what that does to its risk.
func (a *after) whyOfQuiet(i int) []Why {
	p, r := a.h.Placements.At(i), a.risk.ratio[i]
	var why []Why
	switch {
	case !a.slab[i].hot:
	case p.AirTempF().OK && p.AirTempF().V >= a.visits.HotAirF:
		why = append(why, Why{Code: WhyHotAir, Value: p.AirTempF().V})
	default:
		why = append(why, Why{Code: WhyDriedFast, Value: a.slabs.Drying[i]})
	}
	switch {
	case r >= raisedRisk:
		why = append(why, Why{Code: WhyRisk, Value: r, Mostly: a.risk.mostFor(i)})
	case r <= loweredRisk:
		why = append(why, Why{Code: WhyRisk, Value: r})
	}
	return why
}

// From where a slab's risk is called other than the usual, in times of it.
const (
	raisedRisk  = 1.25
	loweredRisk = 0.8
)
