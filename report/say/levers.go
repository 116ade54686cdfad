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

// Short is the same in few words, beside a picture.
func (w Levers) Short(what figure.Assumed) string {
	switch what {
	case concrete.YardTooMany:
		return w.text("cost of a yard too many")
	case concrete.UsedOnMean:
		return w.text("concrete used on average")
	case concrete.UsedSpread:
		return w.text("how far such jobs vary")
	case work.HoursOfFirst:
		return w.text("hours of the faster crew")
	case work.HoursOfLast:
		return w.text("hours of the slower crew")
	case visits.MeanChance:
		return w.text("callbacks in 100 due visits")
	}
	return w.Name(what)
}

// Picture says how a picture of what would change an answer is read: of one
// between two, or of one among many.
func (w Levers) Picture(between bool) string {
	if between {
		return w.text("Each bar runs from the low to the high end of what a number could be. Where it crosses the line, the answer turns.")
	}
	return w.text("Each bar runs from the low to the high end of what a number could be, which stand beside it. What moves nothing has no bar.")
}

// AsIs and TurnsHere name the lines of a picture.
func (w Levers) AsIs() string      { return w.text("as things are") }
func (w Levers) TurnsHere() string { return w.text("the answer turns here") }

// For names an input of one of several decisions: "driveway, pump: cost of …".
func (w Levers) For(of, input string) string {
	return w.say("{of}: {input}", with{"of": of, "input": input})
}

// EndTexts are the ends of a range beside a bar.
func (w Levers) EndTexts(l figure.Lever) (low, high string) {
	return w.number(l, l.Low), w.number(l, l.High)
}

// Tip is what a bar says where it is pointed at.
func (w Levers) Tip(l figure.Lever, comes func(float64) string) string {
	return w.say("{input}, {range}: {ends}", with{"input": Capital(w.Name(l.Input)), "range": w.Range(l), "ends": w.Ends(l, comes)})
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
	return w.unit(n, " yd")
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
