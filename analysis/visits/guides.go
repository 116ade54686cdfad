package visits

import "pourback/analysis/trade"

// SignCode names a way in which a pour lies outside a guide.
type SignCode string

// The ways to lie outside a guide that records can show.
const (
	DriedUncured SignCode = "dried fast without curing"
	SawnLate     SignCode = "sawn late"
	WideJoints   SignCode = "joints too wide"
	WaterAdded   SignCode = "water added"
	PastTime     SignCode = "past the time limit"
	Thin         SignCode = "thin"
)

// Source is where a limit comes from.
type Source string

// The sources of limits. What is not read in the publication itself is known
// from memory, and its words say so.
const (
	ACI305      Source = "ACI 305R"
	ACI117      Source = "ACI 117, from memory"
	UFCSaw      Source = "UFC 3-250-04 §9-4.4"
	CSASaw      Source = "CSA A23.1-94"
	PCAJoints   Source = "PCA"
	NRMCAJoints Source = "NRMCA CIP 6, from memory"
	NRMCAWater  Source = "NRMCA, from memory"
	ASTMTime    Source = "ASTM C94, older editions"
	TradePress  Source = "trade press"
)

// Limit is one limit of a guide with its source. Its unit is that of the sign:
// lb/ft²/h of drying, h to the saw's cut, times the thickness between joints,
// gal to the yard, min to discharge, in of thickness.
type Limit struct {
	Value  float64
	Source Source
}

// The limits that are not in trade.
const (
	warmSawF    = 80  // °F of air from which the saw's window is the warm one: the line that the crack page draws, no published source
	wetGalPerYd = 1.0 // about an inch of slump (NRMCA, from memory); less is often allowed for
	thinIn      = 3. / 8
)

// Guides are the limits that pours are held against.
type Guides struct {
	Drying              Limit
	Saw                 SawGuide
	JointTimes          []float64 // the thickness, by mix
	JointTimesFrom      Source
	JointFt             Limit // whatever the thickness
	Water, Time, TooLow Limit
}

// SawGuide are the last hours of a saw's window.
type SawGuide struct {
	Warm, Cold, Other, EarlyEntry Limit
	WarmF                         float64 // °F of air from which the warm one holds
}

// Guide are the limits in force.
var Guide = Guides{
	Drying: Limit{trade.PrecautionLbFt2, ACI305},
	Saw: SawGuide{Warm: Limit{trade.SawWarm.To, UFCSaw}, Cold: Limit{trade.SawCold.To, UFCSaw}, Other: Limit{trade.SawGeneral.To, CSASaw},
		EarlyEntry: Limit{trade.SawEarlyEntry.To, TradePress}, WarmF: warmSawF},
	JointTimes: []float64{24, 30, 36}, JointTimesFrom: PCAJoints, JointFt: Limit{trade.SpacingCapFt, NRMCAJoints},
	Water: Limit{wetGalPerYd, NRMCAWater}, Time: Limit{trade.DischargeMinutes, ASTMTime}, TooLow: Limit{thinIn, ACI117},
}
