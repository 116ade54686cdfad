package bid

import (
	"fmt"
	"strings"

	"pourback/analysis/shape"
)

// Problem is something wrong or unwise in a spec: the field, its value, what is
// the matter with it, and the amounts that go with that. The report has words
// for each, and for what would be right and who says so.
type Problem struct {
	Placement string  `json:"placement"` // "" where it is about the whole job
	Field     string  `json:"field"`
	Value     string  `json:"value"`
	What      What    `json:"-"`
	Amounts   Amounts `json:"-"`
	Error     bool    `json:"error"` // no bid can be made; else a caution
}

// Amounts are those that go with a problem, in the unit of its field where they
// have one.
type Amounts struct {
	Least, Most, Usual float64 // what would be right
	Is                 float64 // what it comes to, as the kind of problem says
	Bar                int
	Word               string   // that is not known
	Words              []string // that are
	Shape              shape.Problem
}

// What is the matter with a value of a spec.
type What string

// What may be the matter with the job as a whole.
const (
	NameTwice   What = "name twice"
	NoNumber    What = "no number"
	TooMuch     What = "too much"
	WrongCount  What = "wrong count"
	NoDay       What = "no day"
	NoTarget    What = "no target"
	NoCertainty What = "no certainty"
	Percentage  What = "percentage" // Usual is the share that may be meant
	WrongDraws  What = "wrong draws"
	TooFar      What = "too far"
	LongHaul    What = "long haul" // Is the minutes that are left to empty the truck
	NoDayOfJob  What = "no day of the job"
	UnknownWord What = "unknown word"
	NoUse       What = "no use"
	NoClock     What = "no time of day"
	NoForecast  What = "no forecast"         // Is the hour, from 1
	EarlyHour   What = "early hour"          // Is the hour, from 1, no later than the one before
	NoTruck     What = "no truck"            // Most is what the largest hold
	ForeignAir  What = "forecast of one day" // and the bid pours on several
	PastDay     What = "past day"            // Word is the data date
	UnknownCrew What = "unknown crew"        // Words are the nearest that are on record
)

// What may be the matter with a placement's shape.
const (
	NoArea        What = "no area"
	NoNotch       What = "no notch"
	TwoAreas      What = "two areas" // Is the ft² of the dimensions
	ShortSide     What = "short side"
	LongSide      What = "long side"
	WrongArea     What = "wrong area"
	TooManyPanels What = "too many panels"
	TinyArea      What = "tiny area"

	OutlineAndSides What = "outline and sides" // both are given
	ManyCorners     What = "many corners"
	BadShape        What = "bad shape" // Shape says what
)

// What may be the matter with a slab.
const (
	NoThickness     What = "no thickness"
	WrongThickness  What = "wrong thickness"
	Topping         What = "topping"
	Thin            What = "thin"
	ThinForWheels   What = "thin for wheels"
	Massive         What = "massive"
	WeakMix         What = "weak mix"
	NoneAndSome     What = "none and some"
	TightBars       What = "tight bars"
	WideBars        What = "wide bars"
	NoBar           What = "no bar"
	IdleBar         What = "idle bar"
	LittleCover     What = "little cover"      // Is the thickness, Least the one that would do, Usual the cover
	LittleMeshCover What = "little mesh cover" // the same of mesh
	WideJoints      What = "wide joints"
	TinyPanels      What = "tiny panels"
	Over36          What = "over 36 thicknesses" // Is the thickness
	OverSlab        What = "over the slab"       // Is its longer side
	SmallPanels     What = "small panels"
	NoJoints        What = "no joints"
	IdlePump        What = "idle pump"
	NoHose          What = "no hose"
	WillClog        What = "will clog" // Is the hose, Most the aggregate for it, Usual the hose for the aggregate
	MayClog         What = "may clog"  // Is the hose, Most the safer aggregate
)

// Problems are all that is wrong with a spec, in the order of its fields.
type Problems []Problem

// Fatal are those with which no bid can be made.
func (ps Problems) Fatal() Problems {
	var out Problems
	for _, p := range ps {
		if p.Error {
			out = append(out, p)
		}
	}
	return out
}

// Error is one problem a line, as codes: words for an owner are the report's.
func (ps Problems) Error() string {
	lines := make([]string, len(ps))
	for i, p := range ps {
		lines[i] = fmt.Sprintf("%s %s %s: %s", p.Placement, p.Field, p.Value, p.What)
	}
	return strings.Join(lines, "\n")
}
