package steel

import (
	"math"

	"pourback/analysis/figure"
	"pourback/analysis/stat/decide"
)

// What turns the choice, besides its costs.
const (
	BelievedRatio figure.Assumed = "callbacks with mesh against rebar"
	CallbackRisk  figure.Assumed = "risk of a callback"
	WholeCallback figure.Assumed = "cost of a callback with goodwill"
)

// turnedBy are the inputs that turn the choice most easily: what it comes to is
// the expected gain of rebar on a placement.
func (c choice) turnedBy(e effect, a decide.SteelAnswer) []figure.Lever {
	z := c.deviate()
	s := c.steel(e)
	saved := 2 * math.Exp(a.SD*a.SD/8) * math.Sinh(a.Mean/2) // callbacks, over the mean risk
	inputs := []figure.Input{
		{What: BelievedRatio, Value: math.Exp(a.Mean), Low: math.Exp(a.Mean - z*a.SD), High: math.Exp(a.Mean + z*a.SD), Comes: func(v float64) float64 {
			return 2*s.CallbackCost*s.Risk*math.Sinh(math.Log(v)/2) - s.ExtraCost
		}},
		{What: CallbackRisk, Unit: figure.Chance, Value: s.Risk, Low: e.risk.Low, High: e.risk.High, Most: 1, Comes: func(v float64) float64 { return v*s.CallbackCost*saved - s.ExtraCost }},
		{What: WholeCallback, Unit: figure.Dollar, Value: s.CallbackCost, Low: s.CallbackCost - z*s.CallbackSD, High: s.CallbackCost + z*s.CallbackSD,
			Comes: func(v float64) float64 { return s.Risk*v*saved - s.ExtraCost }},
	}
	for k := range c.costs.prices() {
		changed := c
		p := changed.costs.prices()[k]
		in := figure.Input{What: p.What, Unit: p.Unit, Value: p.Value, Low: p.Value - z*p.SE(), High: p.Value + z*p.SE()}
		in.Comes = func(v float64) float64 {
			p.Value = v
			extra, _ := changed.extra()
			return s.Risk*s.CallbackCost*saved - extra
		}
		inputs = append(inputs, in)
	}
	return figure.First(figure.Levers(inputs))
}
