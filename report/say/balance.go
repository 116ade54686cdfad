package say

import (
	"math"

	"pourback/analysis/concrete"
	"pourback/analysis/figure"
)

// Balance says what to call in for the last load of a pour.
type Balance struct{ *Voice }

// Title names the page.
func (b Balance) Title() string { return b.text("The last load") }

// Answer says what to call in, and how often that runs short.
func (b Balance) Answer(c concrete.BalanceCall) string {
	switch {
	case c.Done:
		return b.text("All of the area is covered. Call nothing in.")
	case c.Runs == concrete.Thick, c.Runs == concrete.Thin:
		return b.running(c) + " " + b.ifSo(c)
	}
	return b.call(c)
}

// ifSo says what to call in where what is placed looks so odd that it may be a
// slip.
func (b Balance) ifSo(c concrete.BalanceCall) string {
	if c.CallYd == 0 {
		return b.say("If that is so, call nothing in. What is on hand runs short {times}.", with{"times": b.TimesIn100(c.ChanceShort)})
	}
	return b.say("If that is so, call in {load}. That runs short {times}; with nothing called in, {without}.",
		with{"load": b.Yards(c.CallYd), "times": b.TimesIn100(c.ChanceShort), "without": b.TimesIn100(c.NoCallShort)})
}

// running says how thick the pour runs, with what to check first.
func (b Balance) running(c concrete.BalanceCall) string {
	in := with{"thick": b.Inches(math.Round(10*c.RunningIn) / 10), "drawn": b.Inches(c.DrawnIn), "share": b.Percent(math.Abs(c.Ratio - 1))}
	switch {
	case c.Runs == concrete.Thick && c.DrawnIn > 0:
		return b.say("Running {thick} thick for {drawn} drawn: check grade and what you entered.", with{"thick": in["thick"], "drawn": in["drawn"]})
	case c.Runs == concrete.Thick:
		return b.say("What is placed covers too little, by {share}: check grade and what you entered.", with{"share": in["share"]})
	case c.DrawnIn > 0:
		return b.say("Running {thick} thick for {drawn} drawn: check the thickness and what you entered.", with{"thick": in["thick"], "drawn": in["drawn"]})
	}
	return b.say("What is placed covers more than is drawn, by {share}: check the thickness and what you entered.", with{"share": in["share"]})
}

// call says what to call in.
func (b Balance) call(c concrete.BalanceCall) string {
	if c.CallYd == 0 {
		return b.say("Call nothing in. What is on hand runs short {times}.", with{"times": b.TimesIn100(c.ChanceShort)})
	}
	return b.say("Call in {load}. That runs short {times}; with nothing called in, {without}.",
		with{"load": b.Yards(c.CallYd), "times": b.TimesIn100(c.ChanceShort), "without": b.TimesIn100(c.NoCallShort)})
}

// Notes say what to do before the call.
func (b Balance) Notes(at concrete.Progress) []string {
	said := []string{b.text("Measure what is left before you call: the plant sends what you say.")}
	if at.OrderedYd > 0 {
		said = append(said, b.say("On hand is what was ordered first, {ordered}, less what is placed. If that is not so, enter it with `--on-hand-yd`.", with{"ordered": b.Yards(at.OrderedYd)}))
	}
	return said
}

// Rest is what the rest of the area will take.
func (b Balance) Rest(f figure.Figure) Cell {
	m := Measure{Factor: b.Units.Volume.Factor, Unit: " yd"}
	if b.Units.Si {
		m.Unit = b.Units.Volume.Unit
	}
	return b.Cell(m, f)
}

// BalanceFigures are the lines of the table behind the answer.
type BalanceFigures struct{ Rest, OnHand, CallIn, Short, ShortWithout, LeftOver string }

// Lines name the figures behind the answer.
func (b Balance) Lines() BalanceFigures {
	return BalanceFigures{Rest: b.text("The rest of the area will take"), OnHand: b.text("On hand"), CallIn: b.text("Call in"),
		Short: b.text("Runs short then"), ShortWithout: b.text("Runs short with nothing called in"), LeftOver: b.text("Left over on average")}
}
