package trade

import "fmt"

// Limits on panels of plain concrete.
const (
	PanelFromFt      = 10   // UFC 3-250-04 Table 9-1: slabs under 9 in, roads and parking
	PanelToFt        = 15   // the same
	SpacingCapFt     = 15   // NRMCA CIP 6, from memory: never above 15 ft
	AspectLimit      = 1.25 // UFC 3-250-04 §9-3.1.2: length over width, plain concrete
	AspectLimitLoose = 1.5  // ACI 360-06, as quoted elsewhere
)

// Mix is what the joint spacing guide asks about the concrete.
type Mix int

const (
	SmallAggregate Mix = iota // largest aggregate under 3/4 in: 24 × thickness
	LargeAggregate            // 3/4 in and over: 30 × thickness
	LowSlump                  // slump under 4 in: 36 × thickness
)

var spacingTimes = map[Mix]float64{SmallAggregate: 24, LargeAggregate: 30, LowSlump: 36}

// Spacing is the widest joint spacing the guide allows, in ft.
type Spacing struct {
	Guide float64 // thickness times 24, 30 or 36
	Ft    float64 // the guide, never above [SpacingCapFt]
}

// JointSpacing is the guide to joint spacing in unreinforced slabs: 24, 30 or
// 36 times the thickness by mix (Portland Cement Association, as quoted
// elsewhere), never above 15 ft.
func JointSpacing(thicknessIn float64, mix Mix) (Spacing, error) {
	if err := checkThickness(thicknessIn); err != nil {
		return Spacing{}, err
	}
	times, known := spacingTimes[mix]
	if !known {
		return Spacing{}, fmt.Errorf("mix %d is none of the guide's three: %w", mix, ErrRange)
	}
	guide := times * thicknessIn / 12
	return Spacing{Guide: guide, Ft: min(guide, SpacingCapFt)}, nil
}

// SpacingBand is the 24 to 36 × thickness band of joint spacings in ft
// (CSA A23.1-94 §20.2.1), its ends never above 15 ft.
func SpacingBand(thicknessIn float64) (low, high float64, err error) {
	l, err := JointSpacing(thicknessIn, SmallAggregate)
	if err != nil {
		return 0, 0, err
	}
	h, err := JointSpacing(thicknessIn, LowSlump)
	return l.Ft, h.Ft, err
}

// Saw is a way of cutting joints.
type Saw int

const (
	ConventionalSaw Saw = iota
	EarlyEntrySaw
)

// CutDepth is the range of saw-cut depths in inches. A conventional cut is 1/4
// to 1/3 of the thickness (CSA A23.1-94 §20.2.1) and at least 1 in (trade
// press); an early-entry cut is at least 1 in (ACI 302.1R, from memory), with
// the conventional depth as its upper end.
func CutDepth(thicknessIn float64, saw Saw) (low, high float64, err error) {
	const leastCutIn = 1.0
	if err := within("thickness", "in", thicknessIn, leastCutIn, thickestSlabIn); err != nil {
		return 0, 0, err
	}
	quarter, third := max(leastCutIn, thicknessIn/4), max(leastCutIn, thicknessIn/3)
	switch saw {
	case ConventionalSaw:
		return quarter, third, nil
	case EarlyEntrySaw:
		return leastCutIn, quarter, nil
	}
	return 0, 0, fmt.Errorf("saw %d is neither conventional nor early-entry: %w", saw, ErrRange)
}

// Window is a span of hours after placing.
type Window struct{ From, To float64 }

// Contains reports whether hours after placing fall inside the window.
func (w Window) Contains(hours float64) bool { return hours >= w.From && hours <= w.To }

// When to saw. The slab decides: saw when the cut does not ravel, before it
// cracks on its own.
var (
	SawGeneral    = Window{6, 18} // CSA A23.1-94 §20.2.1
	SawWarm       = Window{4, 12} // UFC 3-250-04 §9-4.4
	SawCold       = Window{4, 24} // the same: up to 24 h; it gives no other start
	SawEarlyEntry = Window{1, 4}  // trade press; ACI 302.1R, from memory
)
