package steel

import (
	"math"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/stat"
	"pourback/analysis/stat/interval"
)

// SteelCheck is the answer under another assumption.
type Check struct {
	Assumption  string        `json:"assumption"`
	Ratio       figure.Figure `json:"hazard_ratio"` // mesh over rebar
	MeshCheaper figure.Figure `json:"probability_mesh_cheaper"`
	Heeded      bool          `json:"heeded"` // whether the verdict minds it
}

// strongerBelief is the narrower prior under which the answer is shown too.
const strongerBelief = 0.35

// sensitivity shows how the answer moves with the adjustment, the risk with
// rebar and the belief.
func (s reinforced) sensitivity(p cracks.Pair, e effect, c choice) []Check {
	level := c.level
	byRates := func(says string, cuts []float64, heeded bool) Check {
		ratio, err := s.rateRatio(p, cuts, level)
		if err != nil {
			return Check{says, figure.Unknown(figure.ReasonOf(err)), figure.Unknown(figure.ReasonOf(err)), heeded}
		}
		other := e
		other.b, other.variance = math.Log(ratio.Value), ratio.SE*ratio.SE
		return c.check(says, figure.Estimated(ratio.Estimate, nil), other, e.rebar.Value, c.costs.PriorSD, heeded)
	}
	checks := []Check{
		byRates("nothing made alike", nil, false),
		byRates("hot and cool days apart, at 80 °F", []float64{math.Nextafter(hotFrom, 0)}, true),
		byRates("within five bands of temperature", quintiles(e.frame.Row, s.Air), true),
		e.straight(c),
	}
	for _, r := range []struct {
		says string
		risk float64
	}{{"fewer callbacks with rebar: the 10th percentile of their risk", e.rebarLow}, {"more callbacks with rebar: the 90th percentile", e.rebarHigh}} {
		checks = append(checks, c.check(r.says, e.ratio, e, r.risk, c.costs.PriorSD, true))
	}
	return append(checks, c.check("a firmer belief that mesh and rebar are alike", e.ratio, e, e.rebar.Value, min(strongerBelief, c.costs.PriorSD), true))
}

// straight takes temperature as a straight line instead of bands.
func (e effect) straight(c choice) Check {
	const says = "temperature as a straight line"
	f := *e.fitted
	f.Stratum = nil
	other := e
	ratio := e.ratio
	if e.fitted.Stratum != nil {
		fit, err := f.Cox(f.Firth())
		var est stat.Estimate
		if err == nil {
			est, err = fit.Wald(0, c.level)
		}
		if err != nil {
			return Check{says, figure.Unknown(figure.ReasonOf(err)), figure.Unknown(figure.ReasonOf(err)), true}
		}
		ratio = figure.Estimated(est, nil)
		other.b, other.variance = fit.Coef[0], math.Max(fit.Cov.At(0, 0), fit.Robust.At(0, 0))
	}
	return c.check(says, ratio, other, e.rebar.Value, c.costs.PriorSD, true)
}

// check is the decision under another assumption.
func (c choice) check(says string, ratio figure.Figure, e effect, risk, priorSD float64, heeded bool) Check {
	out := Check{Assumption: says, Ratio: ratio, Heeded: heeded}
	if risk <= 0 {
		out.MeshCheaper = figure.UnknownFor("that percentile is no callback at all, which leaves nothing to decide")
		return out
	}
	a, err := c.steel(e, risk, priorSD).Decide()
	if err != nil {
		out.MeshCheaper = figure.Unknown(figure.ReasonOf(err))
		return out
	}
	out.MeshCheaper = figure.Total(a.MeshCheaper, c.n, "hazard ratio with a prior, held against break-even")
	return out
}

// The verdicts.
const (
	ForMesh    = "mesh"
	ForRebar   = "rebar"
	NotSettled = "not settled"
	cannotTell = "cannot tell"
)

// sure is the probability from which a choice is settled.
const sure = 0.90

// verdict is settled where the choice is nearly sure and no way of looking at
// it turns it round.
func verdict(m Money, checks []Check) string {
	if !m.MeshCheaper.Known() {
		return NotSettled
	}
	p := m.MeshCheaper.Value
	for _, c := range checks {
		if c.Heeded && c.MeshCheaper.Known() && (c.MeshCheaper.Value > 0.5) != (p > 0.5) {
			return NotSettled
		}
	}
	switch {
	case p >= sure:
		return ForMesh
	case p <= 1-sure:
		return ForRebar
	}
	return NotSettled
}

// eValue is how strongly something unrecorded would have to go with both the
// steel and the cracks to make the whole ratio, and to make its limit.
func eValue(ratio figure.Figure) (value, atLimit figure.Figure) {
	if !ratio.Known() {
		return ratio, ratio
	}
	v, limit, err := interval.EValue(stat.Estimate{Value: ratio.Value, Low: ratio.Low, High: ratio.High, Level: ratio.Level})
	if err != nil {
		return figure.Unknown(figure.ReasonOf(err)), figure.Unknown(figure.ReasonOf(err))
	}
	const method = "E-value (VanderWeele & Ding 2017)"
	return figure.Total(v, ratio.N, method), figure.Total(limit, ratio.N, method+" of the limit nearest to no difference")
}
