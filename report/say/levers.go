package say

import (
	"math"

	"pourback/analysis/bid"
	"pourback/analysis/concrete"
	"pourback/analysis/figure"
	"pourback/analysis/visits"
	"pourback/analysis/work"
)

// Levers says what would change an answer.
type Levers struct{ *Voice }

func (w Levers) Title() string     { return w.text("What would change the answer") }
func (w Levers) OfHead() string    { return w.text("For") }
func (w Levers) InputHead() string { return w.text("What it rests on") }
func (w Levers) NowHead() string   { return w.text("Now") }
func (w Levers) RangeHead() string { return w.text("Could be") }
func (w Levers) TurnsHead() string { return w.text("The answer turns at") }

// Name says what an answer rests on.
func (w Levers) Name(what figure.Assumed) string {
	switch what {
	case concrete.RunningShort:
		return w.text("cost of running short")
	case concrete.YardTooMany:
		return w.text("cost of a yard too many, with its disposal")
	case concrete.UsedOnMean:
		return w.text("concrete such jobs use on average")
	case concrete.UsedSpread:
		return w.text("how far such jobs usually lie from that average")
	case work.ClogsOfLeast:
		return w.text("clogs of the outfit with fewest")
	case work.ClogsOfMost:
		return w.text("clogs of the outfit with most")
	case work.CostOfClog:
		return w.text("cost of a clog")
	case work.HoursOfFirst:
		return w.text("hours of the crew that needs fewest, against an average crew")
	case work.HoursOfLast:
		return w.text("hours of the crew that needs most, against an average crew")
	case work.HourOfWork:
		return w.text("cost of an hour of work")
	case visits.DriveCost:
		return w.text("drive there and back")
	case visits.MeanChance:
		return w.text("chance of a callback where a visit is due")
	case figure.Assumed(bid.UnsureYards), figure.Assumed(bid.UnsureHours), figure.Assumed(bid.UnsureClogs), figure.Assumed(bid.UnsureDelays), figure.Assumed(bid.UnsureCallbacks):
		return Bid(w).Unsure(bid.Unsure(what))
	}
	return w.AssumedName(what)
}

// Say says where the answer turns, and whether that is within the ranges.
func (w Levers) Say(levers []figure.Lever) string {
	var said []string
	within := false
	for _, l := range levers {
		within = within || l.Within
		if l.Turns.OK {
			said = append(said, Capital(w.say("{name}: it turns at {turn}, and is {now} now.", with{"name": w.Name(l.Input), "turn": w.Amount(l, l.Turns.V), "now": w.Amount(l, l.Value)})))
		}
	}
	if !within && len(levers) > 0 {
		said = append(said, w.text("Nothing within these ranges turns it."))
	}
	return w.sentences(said...)
}

// Amount is a value of an input in its unit.
func (w Levers) Amount(l figure.Lever, v float64) string {
	switch l.Unit {
	case figure.Chance:
		return w.say("{n} in 100", with{"n": w.number(l, v)})
	case figure.NoUnit:
		return w.say("{n} times", with{"n": w.number(l, v)})
	case figure.Yards:
		return w.sized(v, w.decimals(l))
	case figure.PersonHours:
		return w.say("{n} person-hours", with{"n": trimmed(v, w.decimals(l))})
	case figure.Minutes:
		return w.Minutes(v)
	case figure.Per100Yd:
		p := Pump(w)
		return p.At(p.Rate(v), v)
	}
	return w.amountOf(v, l.Unit)
}

// sized is a volume to so many decimals: "0.44 yd".
func (w Levers) sized(yd float64, decimals int) string {
	n := trimmed(yd*w.Units.Volume.Factor, decimals)
	if w.Units.Si {
		return n + " m³"
	}
	return n + " yd"
}

// decimals keeps an amount from standing for its own range.
func (w Levers) decimals(l figure.Lever) int {
	if l.Value < 10 && l.High-l.Low < 1 {
		return 2
	}
	return 1
}

// Range is a range, without the unit that stands beside its value.
func (w Levers) Range(l figure.Lever) string { return w.to(w.number(l, l.Low), w.number(l, l.High)) }

// number is a value of an input in its unit, which it leaves out.
func (w Levers) number(l figure.Lever, v float64) string {
	switch l.Unit {
	case figure.Chance:
		return Grouped(100*v, btoi(l.High < 0.1))
	case figure.NoUnit:
		return Grouped(v, 1+int(math.Round(math.Max(0, 1-10*(l.High-l.Low)))))
	case figure.HoursPer100:
		return Grouped(w.forArea(v), 2)
	case figure.DollarsPerSqft:
		return w.areaCost(v)
	case figure.Yards:
		return Grouped(v*w.Units.Volume.Factor, w.decimals(l))
	case figure.PersonHours:
		return Grouped(v, w.decimals(l))
	case figure.Minutes:
		return Grouped(v, 0)
	case figure.Per100Yd:
		return Grouped(v*w.Units.Clogs.Factor, 1)
	}
	return w.Voice.Amount(v, decimalsOf(v))
}

// Turns is where the answer turns.
func (w Levers) Turns(l figure.Lever) string {
	switch {
	case !l.Turns.OK:
		return w.text("nowhere in that range")
	case l.Within:
		return w.say("{turn}, in that range", with{"turn": w.Amount(l, l.Turns.V)})
	}
	return w.Amount(l, l.Turns.V)
}

// Ends is what the decision comes to at both ends of an input, as says.
func (w Levers) Ends(l figure.Lever, says func(v float64) string) string {
	return w.to(says(l.AtLow), says(l.AtHigh))
}
