package visits

import (
	"fmt"
	"strings"

	"pourback/analysis/cracks"
	"pourback/analysis/trade"
	"pourback/analysis/work"
)

// The limits that are not in trade.
const (
	warmSawF    = 80  // °F of air from which the saw's window is the warm one: the line that the crack page draws, no published source
	wetGalPerYd = 1.0 // about an inch of slump (NRMCA, from memory); less is often allowed for
	thinIn      = 3. / 8
)

// sign looks at slab i: whether its records can tell, whether it went wrong,
// and how, in words.
type sign struct {
	name, limit string
	look        func(i int) (known, wrong bool, says string)
}

func (a *after) signs() []sign {
	return []sign{
		{"dried fast without curing", fmt.Sprintf("evaporation of %.1f lb/ft²/h and more with no curing (ACI 305R)", trade.PrecautionLbFt2), a.driedUncured},
		{"sawn late", fmt.Sprintf("a saw cut after %.0f h in air of %d °F and more (UFC 3-250-04 §9-4.4), after %.0f h otherwise (CSA A23.1-94), %.0f h in the cold; early entry after %.0f h (trade press)", trade.SawWarm.To, warmSawF, trade.SawGeneral.To, trade.SawCold.To, trade.SawEarlyEntry.To), a.sawnLate},
		{"joints too wide", fmt.Sprintf("joints wider than 24, 30 or 36 times the thickness by mix, or %d ft (PCA; the guide is for slabs without steel)", trade.SpacingCapFt), a.wideJoints},
		{"water added", fmt.Sprintf("%.0f gal and more to the yard of a load: about an inch of slump and 150 to 200 psi (NRMCA, from memory)", wetGalPerYd), a.watered},
		{"past the time limit", fmt.Sprintf("over %d minutes from batching to discharge (ASTM C94, older editions; may be waived)", trade.DischargeMinutes), a.late},
		{"thin", fmt.Sprintf("a mean of the probes %.3f in and more under the thickness (ACI 117, from memory)", thinIn), a.thin},
	}
}

func (a *after) driedUncured(i int) (known, wrong bool, says string) {
	p, drying := &a.h.Placements[i], a.slabs.Drying[i]
	if p.Curing == "" || !(drying >= 0) {
		return false, false, ""
	}
	return true, drying >= trade.PrecautionLbFt2 && p.Curing == "none", fmt.Sprintf("dried at %s lb/ft²/h with no curing", cracks.Signed(drying, 2))
}

func (a *after) sawnLate(i int) (known, wrong bool, says string) {
	p := &a.h.Placements[i]
	if !p.SawHours.OK || !strings.Contains(p.JointCut, "saw") && !strings.Contains(p.JointCut, "early-entry") {
		return false, false, ""
	}
	until := trade.SawGeneral.To
	switch {
	case !strings.Contains(p.JointCut, "saw"):
		until = trade.SawEarlyEntry.To
	case p.AirTempF.OK && p.AirTempF.V >= warmSawF:
		until = trade.SawWarm.To
	case p.AirTempF.OK && p.AirTempF.V < work.ColdF:
		until = trade.SawCold.To
	}
	air := ""
	if p.AirTempF.OK {
		air = fmt.Sprintf(" in %s °F air", cracks.Signed(p.AirTempF.V, 0))
	}
	return true, p.SawHours.V > until, fmt.Sprintf("sawn after %s h%s, where %s h is the end of the window", cracks.Signed(p.SawHours.V, 1), air, cracks.Signed(until, 0))
}

func (a *after) wideJoints(i int) (known, wrong bool, says string) {
	p := &a.h.Placements[i]
	if !p.JointSpacingFt.OK || !p.ThicknessIn.OK {
		return false, false, ""
	}
	mix := trade.LowSlump // the widest that the guide allows, where nothing is known
	if p.MaxAggregateIn.OK {
		mix = trade.SmallAggregate
		if p.MaxAggregateIn.V >= 0.75 {
			mix = trade.LargeAggregate
		}
	}
	guide, err := trade.JointSpacing(p.ThicknessIn.V, mix)
	if err != nil {
		return false, false, ""
	}
	return true, p.JointSpacingFt.V > guide.Ft+1e-9, fmt.Sprintf("joints %s ft apart, where the guide is %s ft", cracks.Signed(p.JointSpacingFt.V, 1), cracks.Signed(guide.Ft, 1))
}

func (a *after) watered(i int) (known, wrong bool, says string) {
	most := 0.0
	for _, l := range a.h.LoadsOf(i) {
		if !l.WaterAddedGal.OK || !(l.Yards.V > 0) {
			continue
		}
		known = true
		most = max(most, l.WaterAddedGal.V/l.Yards.V)
	}
	return known, most >= wetGalPerYd, fmt.Sprintf("%s gal of water added to the yard", cracks.Signed(most, 1))
}

func (a *after) late(i int) (known, wrong bool, says string) {
	longest := work.LongestDischarge(a.h, i)
	return longest.OK, longest.V > trade.DischargeMinutes, fmt.Sprintf("a load placed %s min after batching, where the limit is %d", cracks.Signed(longest.V, 0), trade.DischargeMinutes)
}

func (a *after) thin(i int) (known, wrong bool, says string) {
	p := &a.h.Placements[i]
	if !p.MeasuredThicknessIn.OK || !p.ThicknessIn.OK {
		return false, false, ""
	}
	short := p.ThicknessIn.V - p.MeasuredThicknessIn.V
	return true, short >= thinIn-1e-9, fmt.Sprintf("on average %s in thick, bid at %s in", cracks.Signed(p.MeasuredThicknessIn.V, 2), cracks.Signed(p.ThicknessIn.V, 1))
}
