package money

import (
	"fmt"

	"pourback/analysis/figure"
	"pourback/analysis/setting"
)

// Bridge leads from the margin that bids meant to earn to the margin that was
// earned: each step in money, exact to the cent, positive where better than the
// bid. The steps add up to margin less bid margin. What a job log does not tell
// is 0 and stands in Other.
type Bridge struct {
	Price           figure.Figure `json:"price"`
	ChangeOrders    figure.Figure `json:"change_orders"`
	Volume          figure.Figure `json:"volume"`
	Usage           figure.Figure `json:"usage"`
	LaborRate       figure.Figure `json:"labor_rate"`
	LaborEfficiency figure.Figure `json:"labor_efficiency"`
	Delay           figure.Figure `json:"delay"`
	Callback        figure.Figure `json:"callback"`
	Other           figure.Figure `json:"other"`
}

// steps are the figures in the order of the steps.
func (b *Bridge) steps() [steps]*figure.Figure {
	return [steps]*figure.Figure{&b.Price, &b.ChangeOrders, &b.Volume, &b.Usage, &b.LaborRate, &b.LaborEfficiency, &b.Delay, &b.Callback, &b.Other}
}

// Step is the figure of one step.
func (b *Bridge) Step(s Step) figure.Figure { return *b.steps()[s] }

// Steps are all of them in order.
func Steps() []Step {
	all := make([]Step, steps)
	for i := range all {
		all[i] = Step(i)
	}
	return all
}

// HasChangeOrders says whether any of the compared jobs has a change order on
// record, be it of 0.
func (b *Bridge) HasChangeOrders() bool { return b.ChangeOrders.N > 0 }

// InJobLog says whether a job log can tell of the step: what prices and wages
// did stands in StepOther.
func (s Step) InJobLog() bool { return s != StepPrice && s != StepLaborRate }

// bridge puts the sums of the steps into figures.
func (t *tally) bridge(rates setting.StandardRates) Bridge {
	var b Bridge
	how := stepMethods(rates)
	for i, f := range b.steps() {
		s := Step(i)
		*f = figure.Total(t.effects[s].Dollars(), t.known[s], how[s])
		if !s.InJobLog() || t.known[s] == 0 {
			f.Why = NoneTell{Step: s}
		}
	}
	return b
}

// stepMethods say how each step is worked out.
func stepMethods(r setting.StandardRates) [steps]string {
	yd, hour := fmt.Sprintf("%s a yd³", r.ConcretePerYd), fmt.Sprintf("%s an hour", r.LaborPerHour)
	return [steps]string{
		StepPrice:           "not in a job log",
		StepChangeOrders:    "change orders of the jobs",
		StepVolume:          "−" + yd + " × neat × (probed/drawn thickness − 1)",
		StepUsage:           "−" + yd + " × (delivered − planned), less volume",
		StepLaborRate:       "not in a job log",
		StepLaborEfficiency: hour + " × (hours expected of an average crew − hours), both without waiting",
		StepDelay:           "−" + hour + " × delay minutes/60 × crew size",
		StepCallback:        "−cost of callbacks by the data date",
		StepOther:           "the rest: margin less bid margin, less the steps before",
	}
}
