package decide

import (
	"fmt"
	"math"

	"pourback/analysis/stat"
)

// Steel asks whether the reinforcement that costs more to place pays for
// itself by fewer callbacks: rebar in place of mesh.
type Steel struct {
	LogRatio     float64 // b, log hazard ratio of mesh to rebar from the records
	Variance     float64 // v_b of it; +Inf when the records say nothing
	PriorSD      float64 // τ, the belief before the records: log ratio ~ N(0, τ²)
	RebarRisk    float64 // p_r, one-year risk of a callback with rebar
	CallbackCost float64 // C, with goodwill
	ExtraCost    float64 // D, of rebar over mesh for a placement
	AtStake      float64 // H, placements the decision is for
}

// SteelAnswer is what the records and the money say together.
type SteelAnswer struct {
	Mean, SD     float64 // of the log ratio, after the records
	BreakEven    float64 // hazard ratio above which rebar pays
	MeshCheaper  float64 // probability
	Gain         float64 // E[G], expected gain of rebar over mesh, a placement
	PositiveGain float64 // E[G⁺], the same if mesh could be chosen after the truth is known
	EVPI         float64 // worth of knowing the ratio, over all placements at stake
}

// BreakEvenRatio is the hazard ratio of mesh to rebar at which the extra cost
// of rebar is just paid for: 1 + D/(C·p_r).
func BreakEvenRatio(rebarRisk, callbackCost, extraCost float64) (float64, error) {
	if err := stat.Finite("risk and costs", rebarRisk, callbackCost, extraCost); err != nil {
		return 0, err
	}
	if rebarRisk <= 0 || rebarRisk > 1 || callbackCost <= 0 {
		return 0, fmt.Errorf("risk %v and callback cost %v, want a risk in (0, 1] and a cost above 0: %w", rebarRisk, callbackCost, stat.ErrDomain)
	}
	ratio := 1 + extraCost/(callbackCost*rebarRisk)
	if !(ratio > 0) {
		return 0, fmt.Errorf("rebar saves %v before any callback, more than its callbacks cost: nothing to decide: %w", -extraCost, stat.ErrDomain)
	}
	return ratio, stat.Finite("break-even ratio", ratio)
}

// Decide shrinks the log ratio to its prior and puts it in money:
//
//	v = 1/(1/v_b + 1/τ²), μ = v·b/v_b, k = log(1 + D/(C·p_r))
//	P(mesh cheaper) = Φ((k−μ)/√v)
//	E[G]  = p_r(e^{μ+v/2} − 1)C − D
//	E[G⁺] = C·p_r·e^{μ+v/2}Φ((μ+v−k)/√v) − (C·p_r + D)Φ((μ−k)/√v)
//	EVPI  = H(E[G⁺] − max(0, E[G]))
//
// Source: Raiffa & Schlaifer (1961) for the frame; the partial expectation of
// a lognormal.
func (s Steel) Decide() (SteelAnswer, error) {
	k, err := s.check()
	if err != nil {
		return SteelAnswer{}, err
	}
	mean, v := s.posterior()
	a := SteelAnswer{Mean: mean, SD: math.Sqrt(v), BreakEven: math.Exp(k)}
	a.MeshCheaper = upperNormal((mean - k) / a.SD)
	a.Gain = s.RebarRisk*math.Expm1(mean+v/2)*s.CallbackCost - s.ExtraCost
	a.PositiveGain = s.positive(mean, v, v, k)
	a.EVPI = s.worth(a.PositiveGain, a.Gain)
	return a, stat.Finite("answer", a.Gain, a.PositiveGain, a.EVPI, a.MeshCheaper)
}

// EVSI is the worth, over all placements at stake, of recording events more
// callbacks, of which a share exposed fall on rebar or mesh, before deciding:
// v_a = 1/(1/v + e·p(1−p)) would remain, so the mean will move by
// s₂² = v − v_a, and rebar is chosen where it comes out above k − v_a/2.
func (s Steel) EVSI(events, share float64) (float64, error) {
	k, err := s.check()
	if err != nil {
		return 0, err
	}
	if err := stat.Finite("events and share", events, share); err != nil {
		return 0, err
	}
	if events < 0 || share <= 0 || share >= 1 {
		return 0, fmt.Errorf("%v events with a share of %v, want 0 or more and a share between 0 and 1: %w", events, share, stat.ErrDomain)
	}
	mean, v := s.posterior()
	after := 1 / (1/v + events*share*(1-share))
	moves := v - after
	gain := s.RebarRisk*math.Expm1(mean+v/2)*s.CallbackCost - s.ExtraCost
	if moves <= 0 {
		return 0, nil
	}
	worth := s.worth(s.positive(mean, v, moves, k-after/2), gain)
	return worth, stat.Finite("value of the sample", worth)
}

// posterior is the normal belief about the log ratio after the records.
func (s Steel) posterior() (mean, v float64) {
	v = 1 / (1/s.Variance + 1/(s.PriorSD*s.PriorSD))
	if math.IsInf(s.Variance, 1) {
		return 0, v
	}
	return v * s.LogRatio / s.Variance, v
}

// positive is the expected gain when rebar is chosen exactly where a normal
// with the given mean and variance moves lies above k; v is the whole variance
// of the log ratio, so that E[e^ratio] = e^{mean+v/2}.
func (s Steel) positive(mean, v, moves, k float64) float64 {
	sd := math.Sqrt(moves)
	base := s.CallbackCost * s.RebarRisk
	return base*math.Exp(mean+v/2)*upperNormal((k-mean-moves)/sd) - (base+s.ExtraCost)*upperNormal((k-mean)/sd)
}

// worth of deciding late, never below 0 where rounding would put it.
func (s Steel) worth(late, now float64) float64 {
	return s.AtStake * max(0, late-max(0, now))
}

func (s Steel) check() (k float64, err error) {
	ratio, err := BreakEvenRatio(s.RebarRisk, s.CallbackCost, s.ExtraCost)
	if err != nil {
		return 0, err
	}
	if err := checkScale("prior standard deviation", s.PriorSD); err != nil {
		return 0, err
	}
	if !(s.Variance > 0) {
		return 0, fmt.Errorf("variance of the log ratio is %v, want more than 0: %w", s.Variance, stat.ErrDomain)
	}
	if err := stat.Finite("log ratio and placements at stake", s.LogRatio, s.AtStake); err != nil {
		return 0, err
	}
	if s.AtStake < 0 {
		return 0, fmt.Errorf("%v placements at stake, want 0 or more: %w", s.AtStake, stat.ErrDomain)
	}
	return math.Log(ratio), nil
}
