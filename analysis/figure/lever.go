package figure

import (
	"cmp"
	"math"
	"slices"
)

// Lever is an input of a decision: how far it may be off, and what the decision
// comes to at either end. A decision between two is for the one where that is
// above 0, and for the other below; a decision among many comes to the amount
// that it is for.
type Lever struct {
	Input  Assumed `json:"input"`
	Unit   Unit    `json:"unit"`
	Value  float64 `json:"value"`
	Low    float64 `json:"low"` // its range, at the level of the other figures
	High   float64 `json:"high"`
	AtLow  float64 `json:"at_low"` // what the decision comes to there
	AtHigh float64 `json:"at_high"`
	Turns  Number  `json:"turns_at"`           // where the decision turns; null where that is nowhere near
	Within bool    `json:"turns_within_range"` // whether that is in the range
	Now    float64 `json:"-"`                  // what the decision comes to as things are
}

// Input is what a lever is made of. Comes gives what the decision comes to
// where the input is v and all else as it is; it rises or falls throughout.
type Input struct {
	What             Assumed
	Unit             Unit
	Value, Low, High float64
	Most             float64 // that it can be at all; 0 for no end
	Comes            func(v float64) float64
}

// near is how many times its value an input may be, or its value it, and still
// be worth naming as the point where a decision turns.
const near = 20

// Levers are the inputs, the one that turns the decision most easily first: by
// the distance to where it turns in halves of its range, both as shares, and
// those that turn it nowhere near by how much they move it. Inputs are above 0;
// those known exactly are no levers.
func Levers(inputs []Input) []Lever {
	levers := []Lever{}
	for _, in := range inputs {
		if !(in.High > in.Low) {
			continue
		}
		l := Lever{Input: in.What, Unit: in.Unit, Value: in.Value, Low: in.Low, High: in.High, AtLow: in.Comes(in.Low), AtHigh: in.Comes(in.High), Now: in.Comes(in.Value)}
		if at, turns := in.turns(); turns {
			l.Turns, l.Within = Known(at), in.Low <= at && at <= in.High
		}
		levers = append(levers, l)
	}
	sortLevers(levers)
	return levers
}

// sortLevers puts first what turns a decision most easily.
func sortLevers(levers []Lever) {
	slices.SortStableFunc(levers, func(a, b Lever) int {
		return cmp.Or(cmp.Compare(a.away(), b.away()), cmp.Compare(b.moves(), a.moves()))
	})
}

// Named is how many inputs that turn a decision are named.
const Named = 2

// First are so many of them as are named.
func First(levers []Lever) []Lever { return levers[:min(Named, len(levers))] }

// Choices are the inputs of a decision among many, which Comes gives as an amount,
// and as NaN where there is none to take. Where it turns is looked for in the range alone: the value
// nearest to the present one at which it is for another amount.
func Choices(inputs []Input) []Lever {
	levers := []Lever{}
	for _, in := range inputs {
		if !(in.High > in.Low) {
			continue
		}
		l := Lever{Input: in.What, Unit: in.Unit, Value: in.Value, Low: in.Low, High: in.High, AtLow: in.Comes(in.Low), AtHigh: in.Comes(in.High), Now: in.Comes(in.Value)}
		if math.IsNaN(l.AtLow + l.AtHigh + l.Now) {
			continue
		}
		for _, end := range []struct{ at, comes float64 }{{in.Low, l.AtLow}, {in.High, l.AtHigh}} {
			if end.comes == l.Now {
				continue
			}
			if at := in.leaves(l.Now, end.at); !l.Turns.OK || math.Abs(math.Log(at/in.Value)) < math.Abs(math.Log(l.Turns.V/in.Value)) {
				l.Turns, l.Within = Known(at), true
			}
		}
		levers = append(levers, l)
	}
	sortLevers(levers)
	return levers
}

// leaves is about where, from the value towards an end, the decision stops being
// for an amount: to a sixtieth of the way.
func (in Input) leaves(now, end float64) float64 {
	same, other := in.Value, end
	for range 6 {
		if at := math.Sqrt(same * other); in.Comes(at) == now {
			same = at
		} else {
			other = at
		}
	}
	return other
}

// away is the distance to where the decision turns in halves of the range.
func (l Lever) away() float64 {
	if !l.Turns.OK {
		return math.Inf(1)
	}
	return math.Abs(math.Log(l.Turns.V/l.Value)) / (math.Log(l.High/max(l.Low, l.Value*l.Value/l.High)) / 2)
}

// moves is by how much the range moves the decision.
func (l Lever) moves() float64 { return math.Abs(l.AtHigh - l.AtLow) }

// turns looks by bisection for where the decision is 0, from next to nothing to
// so many times the value.
func (in Input) turns() (at float64, found bool) {
	low, high := in.Value/near, in.Value*near
	if in.Most > 0 {
		high = min(high, in.Most)
	}
	atLow := in.Comes(low)
	if atLow*in.Comes(high) >= 0 {
		return 0, false
	}
	for range 100 {
		at = (low + high) / 2
		if in.Comes(at)*atLow > 0 {
			low = at
		} else {
			high = at
		}
	}
	return at, true
}
