package money

import (
	"errors"
	"slices"

	"pourback/analysis/figure"
	"pourback/analysis/stat"
	"pourback/analysis/stat/control"
	"pourback/analysis/stat/interval"
)

// Control says which months differ by more than months always do: a chart of
// individual months and their moving ranges.
type Control struct {
	Of      Charted         `json:"of"`
	Months  int             `json:"months"`      // full months with a value
	Base    int             `json:"base_months"` // the first of them, from which the limits come
	Center  figure.Figure   `json:"center"`
	Limits  *Limits         `json:"limits"` // outside: worth a look
	Strict  *Limits         `json:"strict"` // outside: a real change, however short the base
	Signals []ControlSignal `json:"signals"`
	Why     figure.Reason   `json:"-"` // why there is no chart
	Points  []ControlPoint  `json:"-"`
}

// Limits bound what chance alone makes of a month.
type Limits struct {
	Low  float64 `json:"low"`
	High float64 `json:"high"`
}

// ControlPoint is one month on the chart.
type ControlPoint struct {
	Month string
	Value float64
}

// Charted is what a chart is of.
type Charted string

// The charts of months.
const (
	OfMargin  Charted = "margin"              // in % of revenue
	OfAgainst Charted = "margin against bids" // margin less the margin in the bids, in points of revenue
)

// ControlSignal is a month that stands out.
type ControlSignal struct {
	Month   string  `json:"month"`
	Value   float64 `json:"value"`
	Rule    Rule    `json:"rule"`
	High    bool    `json:"-"` // above the others, else below
	Verdict Verdict `json:"verdict"`
}

// Rule is in what a month stands out.
type Rule string

// The rules, the weakest first.
const (
	EightInARow  Rule = "eight in a row" // the eighth or more on one side of the center
	BeyondUsual  Rule = "beyond usual"   // outside the limits
	BeyondChance Rule = "beyond chance"  // outside the strict ones, however short the base
)

// Verdict is what a signal is worth.
type Verdict string

// The verdicts.
const (
	WorthALook Verdict = "worth a look"
	RealChange Verdict = "a real change"
)

// YearOfMonths is how many months are judged by those before them, once there
// are as many before.
const YearOfMonths = 12

// controlChart charts a value of full months. The last twelve are judged by
// limits from all before them where those are twelve or more, so that a change
// does not widen the limits that should show it; with fewer, all months are the
// base.
func controlChart(of Charted, months []Month, level float64, value func(*Earned) figure.Figure) Control {
	c := Control{Of: of, Signals: []ControlSignal{}}
	var xs []float64
	for i := range months {
		if v := value(&months[i].Earned); v.Known() {
			c.Points = append(c.Points, ControlPoint{months[i].Month, v.Value})
			xs = append(xs, v.Value)
		}
	}
	c.Months, c.Base = len(xs), len(xs)
	if len(xs) >= 2*YearOfMonths {
		c.Base = len(xs) - YearOfMonths
	}
	chart, err := control.XmR(xs, c.Base)
	if err != nil {
		c.Base = 0
		c.Why = figure.ReasonOf(err)
		if errors.Is(err, stat.ErrTooFew) {
			c.Why = FewMonths{Months: len(xs), Least: control.MinPoints}
		}
		c.Center = figure.Unknown(c.Why)
		return c
	}
	mean, err := interval.MeanT(xs[:c.Base], level)
	c.Center = figure.OrBare(mean, err, chart.Center, c.Base, "mean of the base months")
	c.Limits = &Limits{chart.Natural.Low, chart.Natural.High}
	c.Strict = &Limits{chart.Strict.Low, chart.Strict.High}
	c.read(chart)
	return c
}

// read takes in the chart's signals month by month. Of the run rules only the
// plainest is used, and only where the base allows it: each further rule would
// call out more months that are nothing.
func (c *Control) read(chart control.Individuals) {
	found := make([]*ControlSignal, len(c.Points))
	for _, look := range []struct { // the later is the stronger
		as      control.Rule
		rule    Rule
		verdict Verdict
	}{{control.EightOnOneSide, EightInARow, WorthALook}, {control.BeyondLimits, BeyondUsual, WorthALook}, {control.BeyondStrict, BeyondChance, RealChange}} {
		for _, s := range chart.Signals {
			if s.Rule == look.as {
				p := c.Points[s.Index]
				found[s.Index] = &ControlSignal{p.Month, p.Value, look.rule, s.High, look.verdict}
			}
		}
	}
	for _, s := range found {
		if s != nil {
			c.Signals = append(c.Signals, *s)
		}
	}
}

// Signal is what the chart says of a month, or nil.
func (c *Control) Signal(month string) *ControlSignal {
	for i := range c.Signals {
		if c.Signals[i].Month == month {
			return &c.Signals[i]
		}
	}
	return nil
}

// BaseEnd is the last of the months whose average is the center; it is not known
// without a chart.
func (c *Control) BaseEnd() (month string, known bool) {
	if c.Base == 0 || c.Base > len(c.Points) {
		return "", false
	}
	return c.Points[c.Base-1].Month, true
}

// Judges says whether a month is on the chart.
func (c *Control) Judges(month string) bool {
	return slices.ContainsFunc(c.Points, func(p ControlPoint) bool { return p.Month == month })
}

// StandsOut is what the charts say of a month, of its margin or else of its
// margin against the bids, and which chart says it; nil where it is like others.
func (m *Margin) StandsOut(month string) (Charted, *ControlSignal) {
	for _, c := range []*Control{&m.Control, &m.ControlAgainst} {
		if s := c.Signal(month); s != nil {
			return c.Of, s
		}
	}
	return "", nil
}
