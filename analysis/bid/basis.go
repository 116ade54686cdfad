package bid

import "pourback/analysis/figure"

// Basis is what a number stands on.
type Basis struct {
	From From `json:"from"`
	N    int  `json:"n"` // records, where it stands on them

	Of     Counted `json:"-"` // the records that it stands on, or would if there were enough
	By     Manner  `json:"-"` // how it comes from them, or from what stands in for them
	At     float64 `json:"-"` // what stands in, as Of or By says: a rate, minutes, ft
	Scaled *Grid   `json:"-"` // the grid that a price was taken for, where it went by weight to another

	Yards, Hours *Basis `json:"-"` // of a total: what each of the two stands on

	Says string `json:"says,omitempty"` // of a bid that was kept without codes: the words of the day
}

// Grid is bars of a size both ways.
type Grid struct {
	Bar       int
	SpacingIn float64
}

// From is what a number may stand on.
type From string

// What a number may stand on.
const (
	FromRecords  From = "records"     // the company's own, enough of them
	FromPractice From = "practice"    // common practice or a published guide, the records being too few
	FromSetting  From = "setting"     // the owner's settings, where they differ from common practice
	FromSpec     From = "spec"        // the bid's own spec
	FromDrawing  From = "measurement" // arithmetic on the spec's dimensions
)

// Counted is a kind of record that a number may stand on. Where there are too
// few, common practice stands in, in [Basis.At] where it is a number.
type Counted string

// The records that numbers stand on.
const (
	OfVolumes     Counted = "volumes"       // placements with neat, delivered and leftover yards
	OfHours       Counted = "hours"         // placements with area, thickness and hours; At person-hours for 400 ft² at 4 in
	OfTasks       Counted = "tasks"         // placements with their hours by task
	OfClogCounts  Counted = "clog counts"   // pumped placements with their clogs counted; At clogs in 100 pumped yd
	OfClogMinutes Counted = "clog minutes"  // clogs with their minutes; At minutes each
	OfDelays      Counted = "delays"        // placements with their delays; At minutes each
	OfWatched     Counted = "watched"       // placements watched since the pour; At callbacks a placement-year
	OfCallbacks   Counted = "callbacks"     // callbacks with their cost
	OfSlabs       Counted = "slabs"         // slabs of the same reinforcement and spacing
	OfMonthsPours Counted = "month's pours" // pours of the month with their weather
	OfPlacements  Counted = "placements"
	OfJobs        Counted = "jobs"
	OfPumpedJobs  Counted = "pumped jobs"
	OfCostLines   Counted = "cost lines"
	OfLaborLines  Counted = "labor lines"
	OfRebid       Counted = "rebid"   // jobs bid on anew with what they cost
	OfMarked      Counted = "marked"  // bids marked won or lost
	OfTickets     Counted = "tickets" // loads with their times of batching and arrival
)

// Manner is how a number comes from what it stands on, where that is not by a
// model of the records.
type Manner string

// How a number comes from what it stands on.
const (
	ByMedian       Manner = "median"        // of the records
	ByFewEvents    Manner = "few events"    // of the records, drawn to the usual rate
	ByMostCommon   Manner = "most common"   // of the records
	ByUsualSpacing Manner = "usual spacing" // median of the placements of about that thickness
	ByCutSpacing   Manner = "cut spacing"   // the same, At ft, cut down to 36 thicknesses
	By24Times      Manner = "24 times"      // the thickness, at most 15 ft
	By30Times      Manner = "30 times"      // the thickness with large aggregate, at most 15 ft
	ByCutDepth     Manner = "cut depth"     // a quarter to a third of the thickness
	ByEarlyDepth   Manner = "early depth"   // of an early-entry cut
	ByNeatAndTenth Manner = "neat + 10 %"   // the records too unlike to order by
	WithTheMix     Manner = "with the mix"  // no hours of its own
	ByCommonMix    Manner = "common mix"    // of flatwork
	ByUsualSetting Manner = "usual setting" // a setting that the owner has left as it came
)

// basis is what a number stands on: n records of a kind where they are enough,
// else common practice, which is at so much.
func basis(n int, of Counted, at float64) Basis {
	b := Basis{From: FromPractice, N: n, Of: of, At: at}
	if n >= figure.LeastForRate {
		b.From = FromRecords
	}
	return b
}

// drawing is the basis of what follows from the dimensions alone.
var drawing = Basis{From: FromDrawing}

// inSpec is the basis of what the spec says.
var inSpec = Basis{From: FromSpec}

// asSet is the basis of a setting: common practice until the owner sets it.
func asSet(value, usual float64) Basis {
	if value == usual {
		return Basis{From: FromPractice, By: ByUsualSetting}
	}
	return Basis{From: FromSetting}
}
