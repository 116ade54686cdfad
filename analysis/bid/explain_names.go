package bid

import "strconv"

// Worked is a figure that is worked out.
type Worked string

// The figures that are worked out.
const (
	WorkNeat      Worked = "neat volume"
	WorkUsed      Worked = "expected use"
	WorkOrder     Worked = "order"
	WorkAllowance Worked = "allowance"
	WorkHours     Worked = "hours"
	WorkTask      Worked = "hours of a task"
	WorkClogs     Worked = "clogs"
	WorkClogMin   Worked = "minutes of clogs"
	WorkWaiting   Worked = "minutes of waiting"
	WorkWaitCost  Worked = "cost of waiting"
	WorkCallbacks Worked = "callbacks"
	WorkEachCall  Worked = "cost of a callback"
	WorkReserve   Worked = "reserve"
	WorkCost      Worked = "line of cost"
	WorkTotal     Worked = "cost"
	WorkLoaded    Worked = "cost with overhead"
	WorkPrice     Worked = "price"
	WorkAsked     Worked = "asked"
	WorkLeft      Worked = "left over the cost"
	WorkMargin    Worked = "margin"
	WorkPerArea   Worked = "price by area"
	WorkLoss      Worked = "chance of a loss"
)

// Section is a part of the page that shows workings.
type Section string

// The sections, in their order.
const (
	SectionConcrete Section = "concrete"
	SectionHours    Section = "hours"
	SectionRisk     Section = "waiting and callbacks"
	SectionCost     Section = "cost"
	SectionPrice    Section = "price"
)

// Sections are all of them.
var Sections = []Section{SectionConcrete, SectionHours, SectionRisk, SectionCost, SectionPrice}

// InputName is what a number that goes into a figure is called. Those that end in a
// colon have a name of the bid's own behind it.
type InputName string

// What goes into figures, beside settings.
const (
	InArea          InputName = "area"
	InThickness     InputName = "thickness"
	InPerYd         InputName = "per yd" // ft² × in that make a yd³
	InHundred       InputName = "hundred"
	InMinPerHour    InputName = "minutes an hour"
	InMonthsPerYear InputName = "months a year"
	InPiece         InputName = "piece"      // [Input.Piece]
	InPlacement     InputName = "placement:" // and its name
	InLine          InputName = "line:"      // of cost, and its name
	InNeat          InputName = "neat volume"
	InUsed          InputName = "expected use"
	InWaste         InputName = "waste"
	InWasteYd       InputName = "waste in yards"
	InSafetyYd      InputName = "against running short"
	InOverNeat      InputName = "order over neat"
	InOrder         InputName = "order"
	InAllowance     InputName = "allowance"
	InHours         InputName = "hours"
	InPace          InputName = "pace"
	InTaskShare     InputName = "share of the hours"
	InPumped        InputName = "pumped"
	InClogs         InputName = "clogs"
	InClogRate      InputName = "rate of clogs"
	InEachClog      InputName = "minutes a clog"
	InClogMin       InputName = "minutes of clogs"
	InOtherMin      InputName = "minutes of other delays"
	InMinutes       InputName = "minutes of waiting"
	InWaitCost      InputName = "cost of waiting"
	InCallRate      InputName = "callbacks a year"
	InCallbacks     InputName = "callbacks"
	InEachCall      InputName = "cost of a callback"
	InReserve       InputName = "reserve"
	InEntered       InputName = "as entered"
	InCost          InputName = "cost"
	InShortFee      InputName = "short-load fee"
	InExtraYd       InputName = "extra load"
	InLeftover      InputName = "leftover"
	InChanceShort   InputName = "chance to run short"
	InRunsShort     InputName = "cost of running short"
	InPrice         InputName = "price of it"
	InPumpHours     InputName = "hours of the pump"
	InWaitShare     InputName = "share that was waiting"
	InCut           InputName = "length of joints"
	InForms         InputName = "length of forms"
	InByWeight      InputName = "by weight"
	InBeforeLean    InputName = "all lines above"
	InLean          InputName = "how past bids turned out"
	InTotal         InputName = "cost of the job"
	InLoaded        InputName = "cost with overhead"
	InCostAt        InputName = "cost at:" // and the share of jobs that stay under it
	InLessMargin    InputName = "what the margin leaves"
	InThePrice      InputName = "price"
	InAsked         InputName = "asked"
	InLeft          InputName = "left over the cost"
	InMargin        InputName = "margin"
	InPerArea       InputName = "price by area"
	InLosing        InputName = "jobs at a loss"
	InDrawn         InputName = "simulated jobs"
	InLoss          InputName = "chance of a loss"

	InRest      InputName = "luck of the draws" // what simulated jobs came to beside what a pencil makes of it
	InRoundedUp InputName = "rounded up"
	InOther     InputName = "rest" // beside what is named
	InAsKept    InputName = "as kept"
)

// dayName is a day of pours, where a bid has several.
func dayName(n int) string { return strconv.Itoa(n) }
