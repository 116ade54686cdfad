package money

import (
	"errors"
	"fmt"

	"pourback/analysis/figure"
	"pourback/analysis/stat"
	"pourback/analysis/stat/control"
	"pourback/analysis/stat/interval"
)

// Control says which months differ by more than months always do: a chart of
// individual months and their moving ranges.
type Control struct {
	Of      string          `json:"of"`
	Months  int             `json:"months"`      // full months with a value
	Base    int             `json:"base_months"` // the first of them, from which the limits come
	Center  figure.Figure   `json:"center"`
	Limits  *Limits         `json:"limits"` // outside: worth a look
	Strict  *Limits         `json:"strict"` // outside: a real change, however short the base
	Signals []ControlSignal `json:"signals"`
	Why     string          `json:"why,omitempty"` // why there is no chart
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

// ControlSignal is a month that stands out.
type ControlSignal struct {
	Month   string  `json:"month"`
	Value   float64 `json:"value"`
	Rule    string  `json:"rule"`    // in words
	Verdict string  `json:"verdict"` // worthALook or realChange
}

// What a signal is worth.
const (
	worthALook = "worth a look"
	RealChange = "a real change"
)

// YearOfMonths is how many months are judged by those before them, once there
// are as many before.
const YearOfMonths = 12

// controlChart charts a value of full months. The last twelve are judged by
// limits from all before them where those are twelve or more, so that a change
// does not widen the limits that should show it; with fewer, all months are the
// base.
func controlChart(of string, months []Month, level float64, value func(*Earned) figure.Figure) Control {
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
		c.Why = figure.Text(figure.ReasonOf(err))
		if errors.Is(err, stat.ErrTooFew) {
			c.Why = fmt.Sprintf("%s on record, and it takes %d to know how far months swing by themselves", figure.CountOf(len(xs), "full month"), control.MinPoints)
		}
		c.Center = figure.UnknownFor("%s", c.Why)
		return c
	}
	mean, err := interval.MeanT(xs[:c.Base], level)
	c.Center = figure.OrBare(mean, err, chart.Center, c.Base, "mean of the base months")
	c.Limits = &Limits{chart.Natural.Low, chart.Natural.High}
	c.Strict = &Limits{chart.Strict.Low, chart.Strict.High}
	c.read(chart)
	return c
}

// read puts the chart's signals into words, month by month. Of the run rules
// only the plainest is used, and only where the base allows it: each further
// rule would call out more months that are nothing.
func (c *Control) read(chart control.Individuals) {
	found := make([]*control.Signal, len(c.Points))
	for _, rule := range []control.Rule{control.EightOnOneSide, control.BeyondLimits, control.BeyondStrict} { // the later is the stronger
		for i := range chart.Signals {
			if s := &chart.Signals[i]; s.Rule == rule {
				found[s.Index] = s
			}
		}
	}
	for i, s := range found {
		if s == nil {
			continue
		}
		rule, verdict := signalWords(*s)
		c.Signals = append(c.Signals, ControlSignal{c.Points[i].Month, c.Points[i].Value, rule, verdict})
	}
}

func signalWords(s control.Signal) (rule, verdict string) {
	side := "below"
	if s.High {
		side = "above"
	}
	switch s.Rule {
	case control.BeyondStrict:
		return side + " what chance alone explains, even with limits from so few months", RealChange
	case control.BeyondLimits:
		return side + " the usual swing of months", worthALook
	}
	return "the eighth month or more in a row " + side + " the center", worthALook
}

// signal is what the chart says of a month, or nil.
func (c *Control) signal(month string) *ControlSignal {
	for i := range c.Signals {
		if c.Signals[i].Month == month {
			return &c.Signals[i]
		}
	}
	return nil
}
