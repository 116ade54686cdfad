package decide

import (
	"fmt"
	"math"

	"pourback/analysis/stat"
)

// Steel asks whether the reinforcement that costs more to place pays for
// itself by fewer callbacks: rebar in place of mesh.
type Steel struct {
	LogRatio     float64 // β̂, log hazard ratio of mesh to rebar from the records
	Variance     float64 // v_b of it; +Inf when the records say nothing
	BiasSD       float64 // σ_b, of what was not recorded: β̂ ~ N(β + bias, v_b), bias ~ N(0, σ_b²); 0 where the two took turns
	PriorSD      float64 // τ, the belief before the records: β ~ N(0, τ²)
	Risk         float64 // p̄, one-year risk of a callback, the mean of that with mesh and that with rebar
	CallbackCost float64 // C, with goodwill
	CallbackSD   float64 // standard error of C
	ExtraCost    float64 // D, of rebar over mesh for a placement
	ExtraSD      float64 // standard error of D
	AtStake      float64 // H, placements the decision is for
}

// SteelAnswer is what the records and the money say together.
type SteelAnswer struct {
	Mean, SD     float64 // of the log ratio, after the records
	BreakEven    float64 // hazard ratio above which rebar pays
	MeshCheaper  float64 // probability, the costs being as uncertain as they are
	Gain         float64 // E[G], expected gain of rebar over mesh, a placement
	PositiveGain float64 // E[G⁺], the same if mesh could be chosen after the truth is known
	WrongMesh    float64 // E[G | G > 0]: what mesh loses, a placement, where rebar is the better
	WrongRebar   float64 // E[−G | G < 0]: the other way round
	EVPI         float64 // worth of knowing the ratio, over all placements at stake
}

// BreakEvenRatio is the hazard ratio of mesh to rebar at which the extra cost
// of rebar is just paid for: e^k, k = 2·asinh(D/(2·C·p̄)).
func BreakEvenRatio(risk, callbackCost, extraCost float64) (float64, error) {
	if err := stat.Finite("risk and costs", risk, callbackCost, extraCost); err != nil {
		return 0, err
	}
	if risk <= 0 || risk > 1 || callbackCost <= 0 {
		return 0, fmt.Errorf("risk %v and callback cost %v, want a risk in (0, 1] and a cost above 0: %w", risk, callbackCost, stat.ErrDomain)
	}
	ratio := math.Exp(2 * math.Asinh(extraCost/(2*callbackCost*risk)))
	return ratio, stat.Finite("break-even ratio", ratio)
}

// Decide shrinks the log ratio to its prior, less sure of it by what was not
// recorded, and puts it in money. With p_mesh = p̄·e^{β/2} and
// p_rebar = p̄·e^{−β/2}, so that swapping the names swaps the signs:
//
//	v = 1/(1/(v_b+σ_b²) + 1/τ²), μ = v·β̂/(v_b+σ_b²), k = 2·asinh(D/(2Cp̄))
//	G = 2Cp̄·sinh(β/2) − D
//	P(mesh cheaper) = Φ((k−μ)/√v), averaged over D/C ~ N(D/C, (ExtraSD² + (D/C·CallbackSD)²)/C²)
//	E[G]  = 2Cp̄·e^{v/8}·sinh(μ/2) − D
//	E[G⁺] = Cp̄·e^{v/8}(e^{μ/2}Φ((μ+v/2−k)/√v) − e^{−μ/2}Φ((μ−v/2−k)/√v)) − D·Φ((μ−k)/√v)
//	EVPI  = H(E[G⁺] − max(0, E[G]))
//
// Source: Raiffa & Schlaifer (1961) for the frame; the partial expectation of
// a lognormal; Greenland (2005), J. R. Stat. Soc. A 168:267, for a prior on
// the bias. The spread of D/C is by the delta method.
func (s Steel) Decide() (SteelAnswer, error) {
	k, err := s.check()
	if err != nil {
		return SteelAnswer{}, err
	}
	mean, v := s.posterior(s.Variance)
	a := SteelAnswer{Mean: mean, SD: math.Sqrt(v), BreakEven: math.Exp(k)}
	a.MeshCheaper = s.meshCheaper(mean, a.SD)
	a.Gain = s.gain(mean, v)
	a.PositiveGain = s.positive(mean, v, 0)
	a.WrongMesh = given(a.PositiveGain, upperNormal((k-mean)/a.SD))
	mirror := s // named the other way round: the difference of two gains would leave rounding alone
	mirror.ExtraCost = -s.ExtraCost
	a.WrongRebar = given(mirror.positive(-mean, v, 0), upperNormal((mean-k)/a.SD))
	a.EVPI = s.worth(a.PositiveGain, a.Gain)
	return a, stat.Finite("answer", a.Gain, a.PositiveGain, a.EVPI, a.MeshCheaper, a.WrongMesh, a.WrongRebar)
}

// given is an expectation over a part, given that part; 0 where the part is
// too unlikely to tell from rounding.
func given(partial, chance float64) float64 {
	if chance < 1e-9 {
		return 0
	}
	return max(0, partial/chance)
}

// gain is E[G] where the log ratio is N(mean, v).
func (s Steel) gain(mean, v float64) float64 {
	return 2*s.CallbackCost*s.Risk*math.Exp(v/8)*math.Sinh(mean/2) - s.ExtraCost
}

// meshCheaper averages P(β < k) over what D/C may be, by the trapezoid rule.
func (s Steel) meshCheaper(mean, sd float64) float64 {
	price := s.ExtraCost / s.CallbackCost
	spread := math.Hypot(s.ExtraSD, price*s.CallbackSD) / s.CallbackCost
	below := func(price float64) float64 { return upperNormal((mean - 2*math.Asinh(price/(2*s.Risk))) / sd) }
	if spread == 0 {
		return below(price)
	}
	const step, far = 1. / 32, 8
	sum, weights := 0.0, 0.0
	for z := -float64(far); z <= far; z += step {
		w := math.Exp(-z * z / 2)
		sum, weights = sum+w*below(price+z*spread), weights+w
	}
	return sum / weights
}

// Sample is records yet to come: so many callbacks, of which a share is
// exposed (on mesh or on rebar), and whether the two take turns in them, so
// that nothing unrecorded can go with the one.
type Sample struct {
	Events, Share float64
	Alternated    bool
}

// EVSI is the worth, over all placements at stake, of recording more callbacks
// before deciding. They bring the information e·p(1−p) about the log ratio:
// to what the records have, whose bias stays as it is, or, alternated, to the
// belief itself. v_a is the variance that would remain, so the mean will move
// by s₂² = v − v_a, and rebar is chosen where the gain at v_a is above 0.
func (s Steel) EVSI(more Sample) (float64, error) {
	if _, err := s.check(); err != nil {
		return 0, err
	}
	if err := stat.Finite("events and share", more.Events, more.Share); err != nil {
		return 0, err
	}
	if more.Events < 0 || more.Share <= 0 || more.Share >= 1 {
		return 0, fmt.Errorf("%v events with a share of %v, want 0 or more and a share between 0 and 1: %w", more.Events, more.Share, stat.ErrDomain)
	}
	mean, v := s.posterior(s.Variance)
	information := more.Events * more.Share * (1 - more.Share)
	_, after := s.posterior(1 / (1/s.Variance + information))
	if more.Alternated {
		after = 1 / (1/v + information)
	}
	if v-after <= 1e-12*v { // nothing but rounding
		return 0, nil
	}
	worth := s.worth(s.positive(mean, v-after, after), s.gain(mean, v))
	return worth, stat.Finite("value of the sample", worth)
}

// posterior is the normal belief about the log ratio after records of this
// variance.
func (s Steel) posterior(variance float64) (mean, v float64) {
	off := variance + s.BiasSD*s.BiasSD
	v = 1 / (1/off + 1/(s.PriorSD*s.PriorSD))
	if math.IsInf(off, 1) {
		return 0, v
	}
	return v * s.LogRatio / off, v
}

// positive is the expected gain when rebar is chosen exactly where it is
// expected to gain, the mean of the log ratio being N(mean, moves) by then,
// with the variance left around it.
func (s Steel) positive(mean, moves, left float64) float64 {
	sd := math.Sqrt(moves)
	base := s.CallbackCost * s.Risk * math.Exp(left/8)
	k := 2 * math.Asinh(s.ExtraCost/(2*base))
	base *= math.Exp(moves / 8)
	return base*(math.Exp(mean/2)*upperNormal((k-mean-moves/2)/sd)-math.Exp(-mean/2)*upperNormal((k-mean+moves/2)/sd)) -
		s.ExtraCost*upperNormal((k-mean)/sd)
}

// worth of deciding late, never below 0 where rounding would put it.
func (s Steel) worth(late, now float64) float64 {
	return s.AtStake * max(0, late-max(0, now))
}

func (s Steel) check() (k float64, err error) {
	ratio, err := BreakEvenRatio(s.Risk, s.CallbackCost, s.ExtraCost)
	if err != nil {
		return 0, err
	}
	if err := checkScale("prior standard deviation", s.PriorSD); err != nil {
		return 0, err
	}
	if !(s.Variance > 0) {
		return 0, fmt.Errorf("variance of the log ratio is %v, want more than 0: %w", s.Variance, stat.ErrDomain)
	}
	if err := stat.Finite("log ratio, spreads and placements at stake", s.LogRatio, s.BiasSD, s.CallbackSD, s.ExtraSD, s.AtStake); err != nil {
		return 0, err
	}
	if s.AtStake < 0 || s.BiasSD < 0 || s.CallbackSD < 0 || s.ExtraSD < 0 {
		return 0, fmt.Errorf("%v placements at stake, spreads %v, %v and %v, want none below 0: %w", s.AtStake, s.BiasSD, s.CallbackSD, s.ExtraSD, stat.ErrDomain)
	}
	return math.Log(ratio), nil
}
