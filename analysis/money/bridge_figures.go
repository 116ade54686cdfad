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
	return [steps]*figure.Figure{&b.Price, &b.Volume, &b.Usage, &b.LaborRate, &b.LaborEfficiency, &b.Delay, &b.Callback, &b.Other}
}

// bridge puts the sums of the steps into figures.
func (t *tally) bridge(rates setting.StandardRates) Bridge {
	var b Bridge
	how := stepMethods(rates)
	for s, f := range b.steps() {
		*f = figure.Total(t.effects[s].Dollars(), t.known[s], how[s])
		switch {
		case s == stepPrice || s == stepLaborRate:
			f.Why = figure.Written("prices and wages that were paid are not in a job log: what they did stands in other")
		case t.known[s] == 0:
			f.Why = figure.Written(stepLacks[s])
		}
	}
	return b
}

// stepMethods say how each step is worked out.
func stepMethods(r setting.StandardRates) [steps]string {
	yd, hour := fmt.Sprintf("%s a yd³", r.ConcretePerYd), fmt.Sprintf("%s an hour", r.LaborPerHour)
	return [steps]string{
		stepPrice:           "not in a job log",
		StepVolume:          "−" + yd + " × neat × (probed/drawn thickness − 1)",
		StepUsage:           "−" + yd + " × (delivered − planned), less volume",
		stepLaborRate:       "not in a job log",
		stepLaborEfficiency: hour + " × (hours expected of an average crew − hours), both without waiting",
		stepDelay:           "−" + hour + " × delay minutes/60 × crew size",
		stepCallback:        "−cost of callbacks by the data date",
		StepOther:           "the rest: margin less bid margin, less the steps before",
	}
}

// stepLacks say what no job's rows had.
var stepLacks = [steps]string{
	StepVolume:          "no probed thickness: what thickness did stands in usage",
	StepUsage:           "no placement has both planned and delivered yards: it stands in other",
	stepLaborEfficiency: "too few placements have area, thickness and labor hours: it stands in other",
	stepDelay:           "no placement has both delay minutes and crew size: it stands in other",
	stepCallback:        "no callback with a cost by the data date",
}
