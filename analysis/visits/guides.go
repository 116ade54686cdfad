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

// Source is where a limit comes from: the name of a publication, and how it is
// known where it was not read in its latest form.
type Source struct {
	Name string
	How  HowKnown
}

// HowKnown says how a source is known.
type HowKnown string

// How sources are known, beside those that were read.
const (
	FromMemory    HowKnown = "from memory"
	OlderEditions HowKnown = "older editions"
	TradePress    HowKnown = "trade press" // several, none of them named
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
	JointTimes          [3]float64 // the thickness, by mix
	JointTimesFrom      Source
	JointFt             Limit // whatever the thickness
	Water, Time, TooLow Limit
	WaterSlumpIn        float64    // what so much water does to the slump
	WaterPSI            [2]float64 // and to the strength
}

// SawGuide are the last hours of a saw's window.
type SawGuide struct {
	Warm, Cold, Other, EarlyEntry Limit
	WarmF                         float64 // °F of air from which the warm one holds
}

// Guide are the limits in force.
var Guide = Guides{
	Drying: Limit{trade.PrecautionLbFt2, Source{Name: "ACI 305R"}},
	Saw: SawGuide{Warm: Limit{trade.SawWarm.To, sawUFC}, Cold: Limit{trade.SawCold.To, sawUFC},
		Other: Limit{trade.SawGeneral.To, Source{Name: "CSA A23.1-94"}}, EarlyEntry: Limit{trade.SawEarlyEntry.To, Source{How: TradePress}}, WarmF: warmSawF},
	JointTimes: [3]float64{24, 30, 36}, JointTimesFrom: Source{Name: "PCA"}, JointFt: Limit{trade.SpacingCapFt, Source{"NRMCA CIP 6", FromMemory}},
	Water: Limit{wetGalPerYd, Source{"NRMCA", FromMemory}}, WaterSlumpIn: 1, WaterPSI: [2]float64{150, 200},
	Time:   Limit{trade.DischargeMinutes, Source{"ASTM C94", OlderEditions}},
	TooLow: Limit{thinIn, Source{"ACI 117", FromMemory}},
}

var sawUFC = Source{Name: "UFC 3-250-04 §9-4.4"}
