package steel

import (
	"math"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/stat"
	"pourback/analysis/stat/interval"
)

// Check is the answer under another assumption.
type Check struct {
	Assumption  Look          `json:"assumption"`
	Ratio       figure.Figure `json:"hazard_ratio"` // mesh over rebar
	MeshCheaper figure.Figure `json:"probability_mesh_cheaper"`
	Heeded      bool          `json:"heeded"` // whether the verdict minds it
}

// Look is a way of looking at mesh against rebar.
type Look string

// The ways of looking at it.
const (
	LookRaw       Look = "nothing made alike"
	LookHotOrCool Look = "hot and cool days apart, at 80 °F" // [HotFrom]
	LookFiveBands Look = "within five bands of temperature"
	LookStraight  Look = "temperature as a straight line"
	LookFewCalls  Look = "fewer callbacks: the 10th percentile of their risk"
	LookManyCalls Look = "more callbacks: the 90th percentile"
	LookFirmer    Look = "a firmer belief that mesh and rebar are alike"
	LookNoBias    Look = "nothing unrecorded goes with either"
)

// strongerBelief is the narrower prior under which the answer is shown too.
const strongerBelief = 0.35

// sensitivity shows how the answer moves with the adjustment, the risk of a
// callback, the belief and what is allowed for that was not recorded.
func (s reinforced) sensitivity(p cracks.Pair, e effect, c choice) []Check {
	byRates := func(look Look, cuts []float64, heeded bool) Check {
		ratio, err := s.rateRatio(p, cuts, c.level)
		if err != nil {
			return Check{look, figure.Unknown(figure.ReasonOf(err)), figure.Unknown(figure.ReasonOf(err)), heeded}
		}
		other := e
		other.ratio, other.b, other.variance = figure.Estimated(ratio.Estimate, nil), math.Log(ratio.Value), ratio.SE*ratio.SE
		return c.check(look, other, heeded)
	}
	checks := []Check{
		byRates(LookRaw, nil, false),
		byRates(LookHotOrCool, []float64{math.Nextafter(HotFrom, 0)}, true),
		byRates(LookFiveBands, quantileCuts(e.frame.Row, s.Air, mostBands), true),
		c.straight(e),
	}
	for _, r := range []struct {
		look Look
		risk float64
	}{{LookFewCalls, e.riskLow}, {LookManyCalls, e.riskHigh}} {
		other := e
		other.risk.Value = r.risk
		checks = append(checks, c.check(r.look, other, true))
	}
	firmer := c
	firmer.costs.PriorSD = min(strongerBelief, c.costs.PriorSD)
	checks = append(checks, firmer.check(LookFirmer, e, true))
	if e.bias > 0 {
		other := e
		other.bias = 0
		checks = append(checks, c.check(LookNoBias, other, false))
	}
	return checks
}

// straight takes temperature as a straight line instead of bands.
func (c choice) straight(e effect) Check {
	f := *e.fitted
	f.Stratum = nil
	other := e
	if e.fitted.Stratum != nil {
		fit, err := f.Cox(f.Firth())
		var est stat.Estimate
		if err == nil {
			est, err = fit.Wald(0, c.level)
		}
		if err != nil {
			return Check{LookStraight, figure.Unknown(figure.ReasonOf(err)), figure.Unknown(figure.ReasonOf(err)), true}
		}
		other.ratio = figure.Estimated(est, nil)
		other.b, other.variance = fit.Coef[0], math.Max(fit.Cov.At(0, 0), fit.Robust.At(0, 0))
	}
	return c.check(LookStraight, other, true)
}

// check is the decision under another assumption.
func (c choice) check(look Look, e effect, heeded bool) Check {
	out := Check{Assumption: look, Ratio: e.ratio, Heeded: heeded}
	if e.risk.Value <= 0 {
		out.MeshCheaper = figure.Unknown(NoCallbackAtAll{})
		return out
	}
	a, err := c.steel(e).Decide()
	if err != nil {
		out.MeshCheaper = figure.Unknown(figure.ReasonOf(err))
		return out
	}
	out.MeshCheaper = figure.Total(a.MeshCheaper, c.n, "hazard ratio with a prior, held against break-even")
	return out
}

// Verdict is which of mesh and rebar is the cheaper choice, if either.
type Verdict string

// The verdicts.
const (
	ForMesh    Verdict = "mesh"
	ForRebar   Verdict = "rebar"
	NotSettled Verdict = "not settled"
	CannotTell Verdict = "cannot tell" // the two cannot be compared
)

// sure is the probability from which a choice is settled.
const sure = 0.90

// verdict is settled where the choice is nearly sure, it is the one that is
// expected to cost less, and no way of looking at it turns it round.
func verdict(m Money, checks []Check) Verdict {
	if !m.MeshCheaper.Known() {
		return NotSettled
	}
	p := m.MeshCheaper.Value
	for _, c := range checks {
		if c.Heeded && c.MeshCheaper.Known() && (c.MeshCheaper.Value > 0.5) != (p > 0.5) {
			return NotSettled
		}
	}
	if v := settledBy(p); v != NotSettled && m.Advice == string(v) {
		return v
	}
	return NotSettled
}

// settledBy is what a probability that mesh is cheaper settles by itself.
func settledBy(meshCheaper float64) Verdict {
	switch {
	case meshCheaper >= sure:
		return ForMesh
	case meshCheaper <= 1-sure:
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
