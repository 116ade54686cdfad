package decide

import (
	"math"
	"testing"
)

// At equal costs the order is the mean; the shortage of N(100, 20²) at its
// mean is 20·φ(0) = 20·0.39894 = 7.9788, as is the leftover; the cost at 3 a
// unit is 6·7.9788.
func TestNewsvendorAtTheMean(t *testing.T) {
	u, err := Normal(100, 20)
	n, err2 := SolveNewsvendor(belief(t, u, err), 3, 3)
	noError(t, err2)
	near(t, "fractile", n.Fractile, .5, 0)
	near(t, "order", n.Order, 100, 1e-12)
	near(t, "shortage", n.Shortage, 7.978845608, 1e-8)
	near(t, "cost", n.Cost, 6*7.978845608, 1e-7)
}

// Unit normal loss L(u), table II of Raiffa & Schlaifer (1961), from memory.
func TestUnitLossTable(t *testing.T) {
	for _, c := range []struct{ u, want float64 }{
		{0, .3989}, {.5, .1978}, {1, .08332}, {2, .008491}, {3, .0003822},
	} {
		near(t, "L", unitLoss(c.u), c.want, 6e-5*max(1e-2, math.Min(1, c.want*10)))
	}
}

// A need known to be 10.1 yd³, P 100, d 20, K 300, m 1, δ ¼.
// q = 10: short for certain; B = 1 + ¼·0 = 1;
// C = 120·11 − 20·10.1 + 300 = 1418, and 0.9 yd³ are left.
// q = 10.25: enough; C = 120·10.25 − 202 = 1028, 0.15 yd³ are left.
// q = 8.5: B = 1 + ¼·(S(9.5) + S(9.75) + S(10)) = 1.75;
// C = 120·10.25 − 202 + 300 = 1328.
func TestOrderOfAKnownNeed(t *testing.T) {
	u, err := Normal(10.1, 1e-6)
	belief(t, u, err)
	c := OrderCosts{Price: 100, Disposal: 20, ExtraLoad: 300, LeastBalance: 1, Increment: .25}
	for _, want := range []Order{
		{Quantity: 10, ProbExtra: 1, Extra: 1, Leftover: .9, Cost: 1418},
		{Quantity: 10.25, ProbExtra: 0, Extra: 0, Leftover: .15, Cost: 1028},
		{Quantity: 8.5, ProbExtra: 1, Extra: 1.75, Leftover: .15, Cost: 1328},
	} {
		got, err := c.At(u, want.Quantity)
		noError(t, err)
		near(t, "chance of an extra load", got.ProbExtra, want.ProbExtra, 1e-9)
		near(t, "balance", got.Extra, want.Extra, 1e-9)
		near(t, "leftover", got.Leftover, want.Leftover, 1e-9)
		near(t, "cost", got.Cost, want.Cost, 1e-6)
	}
	best, err := c.Best(u)
	noError(t, err)
	near(t, "best", best.Quantity, 10.25, 0)
}

// Either 10 or 12 yd³, evenly, all else as above but K = 100.
// q = 12.25: C = 120·12.25 − 20·11 = 1250.
// q = 10.25: short half the time, B = ½(1 + ¼·(S(11.25)+S(11.5)+S(11.75))/½…):
// S(10.25) = ½, sum S(11.25, 11.5, 11.75) = 1.5 (12 > 11.75, not 12 > 12, the
// spread of a millionth halves S(12) to ¼ of the whole), so with S(12) = ¼:
// B = ½ + ¼·(1.5 + .25) = 0.9375; C = 120·11.1875 − 220 + 50 = 1172.5.
func TestOrderOfTwoNeeds(t *testing.T) {
	ten, err := Normal(10, 1e-6)
	belief(t, ten, err)
	twelve, err := Normal(12, 1e-6)
	belief(t, twelve, err)
	u, err := Mixture([]Predictive{ten, twelve}, []float64{3, 3})
	belief(t, u, err)
	c := OrderCosts{Price: 100, Disposal: 20, ExtraLoad: 100, LeastBalance: 1, Increment: .25}
	high, err := c.At(u, 12.25)
	noError(t, err)
	near(t, "for the larger", high.Cost, 1250, 1e-6)
	low, err := c.At(u, 10.25)
	noError(t, err)
	near(t, "for the smaller", low.Cost, 1172.5, 1e-6)
}

// Trucks of 10 yd³ at $20 each; a load under 7 yd³ pays $35 a yd³ it lacks.
// 6: 20 + 35 = 55. 10: 20. 12: 40 + 5·35 = 215. 20: 40. 27: 60. 0: nothing.
func TestTruckCharge(t *testing.T) {
	trucks := Trucks{Capacity: 10, PerTruck: 20, LeastLoad: 7, ShortFee: 35}
	for q, want := range map[float64]float64{0: 0, 6: 55, 6.75: 28.75, 7: 20, 10: 20, 12: 215, 20: 40, 27: 60} {
		near(t, "charge", trucks.Charge(q), want, 1e-9)
	}
	near(t, "no schedule", Trucks{}.Charge(12), 0, 0)
	near(t, "no limit", Trucks{LeastLoad: 7, ShortFee: 35}.Charge(100), 0, 0)
}

// Belief 1.1 ± 0.1 with ω = 0.2 and 4 yd³ placed with 4 used: prior precision
// 100, data 4/0.04 = 100: mean (110 + 4/0.04)/200 = 1.05, variance 1/200.
// For 2 yd³ more: mean 2.1, variance 4/200 + 0.04·2 = 0.1.
func TestRatioUpdate(t *testing.T) {
	r, err := Ratio{Mean: 1.1, SD: .1, Omega: .2}.Update(4, 4)
	noError(t, err)
	near(t, "mean", r.Mean, 1.05, 1e-12)
	near(t, "SD", r.SD, math.Sqrt(.005), 1e-12)
	need, err := r.Need(2)
	belief(t, need, err)
	near(t, "need", need.Mean(), 2.1, 1e-12)
	near(t, "spread", need.(normal).sd, math.Sqrt(.1), 1e-12)
}

// Four yd³ on hand, the rest known to need 5.1: a called load of 1.25 costs
// 100·1.25 + 20·0.15 + 60 = 188; nothing more costs an extra load of 1 + ¼·1
// (S(5) = 1 alone): 100·1.25 + 20·0.15 + 300 = 428. A load under m = 2 is not
// to be had: then 2 yd³ at 200 + 20·0.9 + 60 = 278.
func TestSecondOrder(t *testing.T) {
	u, err := Normal(5.1, 1e-6)
	belief(t, u, err)
	c := OrderCosts{Price: 100, Disposal: 20, ExtraLoad: 300, LeastBalance: 1, Increment: .25}
	s, err := c.Second(u, 4, 60)
	noError(t, err)
	near(t, "order", s.Best.Quantity, 1.25, 0)
	near(t, "cost", s.Best.Cost, 188, 1e-6)
	near(t, "nothing more", s.None.Cost, 428, 1e-6)
	c.LeastBalance = 2
	s, err = c.Second(u, 4, 60)
	noError(t, err)
	near(t, "least load", s.Best.Quantity, 2, 0)
	near(t, "its cost", s.Best.Cost, 278, 1e-6)
}

// No extra cost: rebar pays when the ratio is above 1, k = 0. With a vague
// prior of τ = 1 and v_b = 1, b = 0.4: v = ½, μ = 0.2;
// P(mesh cheaper) = Φ(−0.2/0.70711) = Φ(−0.28284) = 0.38865 (normal table);
// E[G] = 2·100·e^0.0625·sinh(0.1) = 200·1.0644945·0.1001668 = 21.3254.
func TestSteelByHand(t *testing.T) {
	a, err := Steel{LogRatio: .4, Variance: 1, PriorSD: 1, Risk: .1, CallbackCost: 1000, AtStake: 10}.Decide()
	noError(t, err)
	near(t, "mean", a.Mean, .2, 1e-12)
	near(t, "SD", a.SD, math.Sqrt(.5), 1e-12)
	near(t, "break-even", a.BreakEven, 1, 1e-12)
	near(t, "mesh cheaper", a.MeshCheaper, .38865, 5e-5)
	near(t, "gain", a.Gain, 21.3254, 1e-4)
	// D 58, C 3500, p̄ 0.0304: 58/212.8 = 0.2725564, e^asinh of it is
	// 0.2725564 + √1.0742870 = 1.3090346, break-even the square, 1.7135716. There
	// 106.4·(1.3090346 − 1/1.3090346) = 106.4·0.5451128 = 58.
	ratio, err := BreakEvenRatio(.0304, 3500, 58)
	noError(t, err)
	near(t, "ratio", ratio, 1.7135716, 2e-7)
}

// A bias of 0.4 weighs as a variance of 0.16 that no record takes away:
// β̂ = 1.2, v_b = 0.04, τ = 0.5 give v = 1/(1/0.2 + 4) = 1/9, μ = 1.2·5/9 = ⅔;
// without it v = 1/(25 + 4) = 1/29, μ = 1.2·25/29 = 1.03448. With k = 0 the
// odds go from Φ(1.03448·√29) = Φ(5.5709) to Φ(⅔·3) = Φ(2) = 0.97725 that rebar
// is the better.
func TestBiasByHand(t *testing.T) {
	s := Steel{LogRatio: 1.2, Variance: .04, BiasSD: .4, PriorSD: .5, Risk: .1, CallbackCost: 1000, AtStake: 10}
	a, err := s.Decide()
	noError(t, err)
	near(t, "mean", a.Mean, 2./3, 1e-12)
	near(t, "SD", a.SD, 1./3, 1e-12)
	near(t, "mesh cheaper", a.MeshCheaper, 1-.977250, 1e-6)
	s.BiasSD = 0
	a, err = s.Decide()
	noError(t, err)
	near(t, "mean without", a.Mean, 30./29, 1e-12)
	near(t, "mesh cheaper without", a.MeshCheaper, 1.3e-8, 1e-9)
}

// More records like those there are take away v_b and not the bias: with
// endless ones v = 1/(1/0.16 + 4) remains, a bound on what they are worth that
// alternated records pass.
func TestRecordsDoNotTakeTheBiasAway(t *testing.T) {
	s := Steel{LogRatio: .5, Variance: .5, BiasSD: .4, PriorSD: .5, Risk: .05, CallbackCost: 3000, ExtraCost: 60, AtStake: 300}
	a, err := s.Decide()
	noError(t, err)
	endless, err := s.EVSI(Sample{Events: 1e12, Share: .5})
	noError(t, err)
	_, v := s.posterior(s.Variance)
	_, left := s.posterior(0)
	near(t, "left", left, 1/(1/.16+4), 1e-12)
	near(t, "endless records", endless, s.worth(s.positive(a.Mean, v-left, left), a.Gain), 1e-6)
	turns, err := s.EVSI(Sample{Events: 1e12, Share: .5, Alternated: true})
	noError(t, err)
	near(t, "endless turns", turns, a.EVPI, 1e-3)
	if endless > .8*turns {
		t.Errorf("endless records are worth %v, endless turns %v", endless, turns)
	}
	// (log 2/(1.64485 + 0.84162))² = 0.07771 is less than 0.4² = 0.16: no number
	// of events shows a ratio of 2; of 4, 1/(¼·(0.31085 − 0.16)) = 26.52 do.
	events, err := SchoenfeldEvents(2, .5, Test{.1, .8, .4})
	noError(t, err)
	if !math.IsInf(events, 1) {
		t.Errorf("%v events show a ratio of 2", events)
	}
	events, err = SchoenfeldEvents(4, .5, Test{.1, .8, .4})
	noError(t, err)
	near(t, "events", events, 26.52, .01)
}

// Beta(1, 1) on both arms, C = 1, D = 0: ½ now. One trial of the plain arm
// fails or not, evenly: its risk becomes 2/3 or 1/3, the other stays ½; the
// cost after is ½·½ + ½·⅓ = 5/12, the trial worth 1/12.
func TestArmsByHand(t *testing.T) {
	a, err := ArmsValue(Beta{1, 1}, Beta{1, 1}, 1, 0, 1, 0)
	noError(t, err)
	near(t, "now", a.CostNow, .5, 1e-15)
	near(t, "after", a.CostAfter, 5./12, 1e-15)
	near(t, "worth", a.EVSI, 1./12, 1e-15)
}

// Exponential beliefs of rates 3 and 1: P(λ₁ < λ₂) = 3/4. A uniform proportion
// against Beta(2, 1), density 2x: E[x] = 2/3.
func TestPosteriorByHand(t *testing.T) {
	rate, err := RateLess(Gamma{1, 3}, Gamma{1, 1})
	noError(t, err)
	near(t, "rates", rate, .75, 1e-13)
	share, err := ProportionLess(Beta{1, 1}, Beta{2, 1})
	noError(t, err)
	near(t, "proportions", share, 2./3, 1e-12)
}

// Ratio 2, half exposed, 90 % power at 5 %: 4·(1.95996 + 1.28155)²/0.480453 =
// 87.48. Proportions 0.6 and 0.7, 80 %: p̄ 0.65;
// (1.95996·√0.455 + 0.84162·√0.45)²/0.01 = 355.5. (356 is the number that
// tables of Fleiss, Levin & Paik without correction print, from memory.)
func TestPlanningByHand(t *testing.T) {
	events, err := SchoenfeldEvents(2, .5, Test{Alpha: .05, Power: .9})
	noError(t, err)
	near(t, "events", events, 87.48, .005)
	n, err := TwoProportions(.6, .7, Test{Alpha: .05, Power: .8})
	noError(t, err)
	near(t, "n", math.Ceil(n), 356, 0)
}

// Draws 1, 2, 3, 6; sizes 2 and 4. At 2: above it 3 and 6, half; lacking
// (1 + 4)/4; left (1 + 0)/4. At 4: above it 6; lacking 2/4; left (3+2+1)/4.
func TestSweepByHand(t *testing.T) {
	s, err := SweepOrders([]float64{3, 1, 6, 2}, Grid{First: 2, Step: 2, Count: 2})
	noError(t, err)
	for i, want := range []struct{ short, lacking, left float64 }{{.5, 1.25, .25}, {.25, .5, 1.5}} {
		near(t, "short", s.Short[i], want.short, 0)
		near(t, "lacking", s.Shortage[i], want.lacking, 1e-15)
		near(t, "left", s.Leftover[i], want.left, 1e-15)
	}
	// At 10 a unit, 1 to throw away, 5 to fall short and 8 a unit lacking:
	// 2: 20 + .25 + 2.5 + 10 = 32.75; 4: 40 + 1.5 + 1.25 + 4 = 46.75.
	c := UnitCosts{Price: 10, Disposal: 1, Short: 5, Lacking: 8}
	near(t, "cost of 2", s.Cost(0, c), 32.75, 1e-12)
	near(t, "cost of 4", s.Cost(1, c), 46.75, 1e-12)
	if s.Cheapest(c) != 0 {
		t.Error("2 is the cheaper")
	}
}
