package page

import (
	"cmp"
	"math"
	"slices"

	"pourback/analysis/figure"
	"pourback/analysis/money"
	"pourback/report/chart"
	"pourback/report/say"
)

// marginStep is a step from the margin in the bids to the margin that was
// earned, in an owner's words.
type marginStep struct {
	head          string
	better, worse string // what it is when it gained, and when it cost
	means         string
	of            func(*money.Earned) figure.Figure
}

const bidUnlike = "prices, wages or hours unlike the bid's"

// marginSteps are in the order in which they are shown.
var marginSteps = []marginStep{
	{"Prices", "lower prices", "higher prices", "what materials cost against the bid", func(e *money.Earned) figure.Figure { return e.Price }},
	{"Thickness", "slabs thinner than drawn", "slabs thicker than drawn", "concrete for slabs thicker or thinner than drawn", func(e *money.Earned) figure.Figure { return e.Volume }},
	{"Over plan", "less concrete than planned", "more concrete than planned", "concrete delivered beyond the plan, thickness aside", func(e *money.Earned) figure.Figure { return e.Usage }},
	{"Wages", "lower wages", "higher wages", "what an hour cost against the bid", func(e *money.Earned) figure.Figure { return e.LaborRate }},
	{"Speed of crews", "crews faster than usual", "crews slower than usual", "hours against an average crew on the same jobs", func(e *money.Earned) figure.Figure { return e.LaborEfficiency }},
	{"Waiting", "waiting", "waiting", "crew hours lost to delays", func(e *money.Earned) figure.Figure { return e.Delay }},
	{"Callbacks", "callbacks", "callbacks", "what callbacks have cost so far", func(e *money.Earned) figure.Figure { return e.Callback }},
	{"Other", bidUnlike, bidUnlike, "the rest: " + bidUnlike, func(e *money.Earned) figure.Figure { return e.Other }},
}

// leastSaid is the share of revenue from which a step is worth a word.
const leastSaid = 0.005

// kept: "October 2026 kept 23 cents of each dollar on 13 jobs, 4 cents
// worse than bid: mostly crews slower than usual ($1,213) and waiting ($658)".
func (a *Author) kept(when string, e *money.Earned) string {
	m := e.MarginPct
	if !m.Known() {
		return when + " brought no revenue, so there is no margin to speak of"
	}
	s := when + " kept " + a.CentsOf(m.Value) + " " + a.OfEach()
	if m.Value < 0 {
		s = when + " lost " + a.CentsOf(m.Value) + " " + a.OfEach()
	}
	s += " on " + say.Plural(e.Jobs, "job")
	if !e.BidMarginPct.Known() {
		return s + "; how that compares with the bids is not known (" + a.Reason(e.BidMarginPct.Why) + ")"
	}
	gap := math.Round(m.Value) - math.Round(e.BidMarginPct.Value)
	switch {
	case gap < 0:
		s += ", " + a.CentsApart(gap) + " worse than bid"
	case gap > 0:
		s += ", " + a.CentsApart(gap) + " better than bid"
	default:
		s += ", as bid"
	}
	if why := a.mostly(e, gap); why != "" {
		s += ": mostly " + why
	}
	return s
}

// mostly names the one or two largest steps that led where the margin went.
func (a *Author) mostly(e *money.Earned, gap float64) string {
	if gap == 0 {
		return ""
	}
	steps := slices.Clone(marginSteps)
	slices.SortStableFunc(steps, func(x, y marginStep) int {
		return cmp.Compare(math.Abs(y.of(e).Value), math.Abs(x.of(e).Value))
	})
	var said []string
	for _, s := range steps {
		v := s.of(e)
		if !v.Known() || v.Value*gap <= 0 || math.Abs(v.Value) < leastSaid*e.Revenue.Dollars() || len(said) == 2 {
			continue
		}
		word := s.worse
		if v.Value > 0 {
			word = s.better
		}
		said = append(said, word+" ("+a.At(a.Cash(), math.Abs(v.Value))+")")
	}
	return say.Listed(said)
}

// bridge leads from the margin in the bids to the margin that was earned, as a
// table and a chart; what was better than bid is above zero.
func (a *Author) bridge(id, title string, e *money.Earned) Exhibit {
	type row struct {
		head, means string
		cell        say.Cell
	}
	against := e.AgainstBid
	if !against.Known() {
		return Exhibit{}
	}
	earned := (e.Revenue - e.Cost).Dollars()
	meant := earned - against.Value
	rows := []row{{"In the bids", "what the bids meant to leave", say.Valued(a.At(a.Cash(), meant), meant)}}
	for _, s := range marginSteps {
		rows = append(rows, row{s.head, s.means, a.SumCell(s.of(e))})
	}
	rows = append(rows,
		row{"Earned", "revenue less cost", say.Valued(a.At(a.Cash(), earned), earned)},
		row{"Against the bids", "earned less in the bids", a.SumCell(against)})
	table := TableOf(title, rows,
		wordsIn("Step", func(r row) string { return r.head }),
		numbers("Money", func(r row) say.Cell { return r.cell }),
		wordsIn("What it is", func(r row) string { return r.means }))
	return Exhibit{Title: "From the bids to what was earned", Chart: a.bridgeChart(id, e, meant, earned), Table: table,
		Says: "Minus is money lost against the bids, the rest is money gained."}
}

// bridgeChart draws the steps that moved anything.
func (a *Author) bridgeChart(id string, e *money.Earned, meant, earned float64) *chart.Chart {
	money := a.Cash()
	plot := chart.BridgePlot{Id: id, Scale: "margin, " + a.Currency,
		Says:  "From the margin in the bids at the top to the margin earned at the foot: each bar between them is what one cause added or took. The table holds the same figures.",
		First: chart.BridgeStep{Label: "In the bids", Amount: meant, Text: a.At(money, meant), Tip: "In the bids: " + a.At(money, meant)},
		Last:  "Earned", LastText: a.At(money, earned), LastTip: "Earned: " + a.At(money, earned)}
	for _, s := range marginSteps {
		if f := s.of(e); f.Known() && f.Value != 0 {
			plot.Steps = append(plot.Steps, chart.BridgeStep{Label: s.head, Amount: f.Value, Text: a.At(money, f.Value), Tip: s.head + ": " + a.Gained(f.Value)})
		}
	}
	return plot.Chart()
}
