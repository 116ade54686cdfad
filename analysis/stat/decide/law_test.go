package decide

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"

	"pourback/analysis/stat/resample"
)

func drawBelief(t *rapid.T) Predictive {
	must := func(u Predictive, err error) Predictive {
		if err != nil {
			t.Fatal(err)
		}
		return u
	}
	loc := rapid.Float64Range(2, 30).Draw(t, "location")
	scale := rapid.Float64Range(.1, 2).Draw(t, "scale")
	nu := rapid.Float64Range(3, 300).Draw(t, "nu")
	switch rapid.IntRange(0, 3).Draw(t, "kind") {
	case 0:
		return must(Normal(loc, scale))
	case 1:
		return must(Lognormal(math.Log(loc), min(.5, scale/loc)))
	case 2:
		return must(Student(loc, scale, nu))
	}
	return must(Mixture([]Predictive{must(Normal(loc, scale)), must(Student(loc+1, 2*scale, nu))}, []float64{2, 1}))
}

// What every belief must satisfy: F + S = 1, the quantile inverts F, the
// shortage falls at the rate S, and mean = q + shortage − leftover.
func TestBeliefLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := drawBelief(t)
		p := rapid.Float64Range(.001, .999).Draw(t, "p")
		q, err := u.Quantile(p)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(u.CDF(q)-p) > 1e-9 || math.Abs(u.CDF(q)+u.Survival(q)-1) > 1e-12 {
			t.Fatalf("quantile %v of %v has F %v, S %v", q, p, u.CDF(q), u.Survival(q))
		}
		const h = 1e-4
		slope := (u.Shortage(q-h) - u.Shortage(q+h)) / (2 * h)
		if math.Abs(slope-u.Survival(q)) > 1e-5 {
			t.Fatalf("shortage falls at %v, survival %v", slope, u.Survival(q))
		}
		if d := q + u.Shortage(q) - Leftover(u, q) - u.Mean(); math.Abs(d) > 1e-9*(1+u.Mean()) {
			t.Fatalf("mean is off by %v", d)
		}
	})
}

// The newsvendor's order costs no more than its neighbours, and F there is
// the fractile.
func TestNewsvendorIsLeast(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := drawBelief(t)
		under := rapid.Float64Range(.1, 50).Draw(t, "under")
		over := rapid.Float64Range(.1, 50).Draw(t, "over")
		n, err := SolveNewsvendor(u, under, over)
		if err != nil {
			t.Fatal(err)
		}
		cost := func(q float64) float64 { return under*u.Shortage(q) + over*Leftover(u, q) }
		for _, d := range []float64{-.1, .1} {
			if cost(n.Order+d) < n.Cost-1e-9 {
				t.Fatalf("order %v costs %v, %v off it %v", n.Order, n.Cost, d, cost(n.Order+d))
			}
		}
	})
}

func drawCosts(t *rapid.T) OrderCosts {
	return OrderCosts{
		Price:        rapid.Float64Range(100, 250).Draw(t, "price"),
		Disposal:     rapid.Float64Range(0, 60).Draw(t, "disposal"),
		ExtraLoad:    rapid.Float64Range(0, 600).Draw(t, "unplanned"),
		LeastBalance: float64(rapid.IntRange(0, 8).Draw(t, "least")) / 4,
		Increment:    rapid.SampledFrom([]float64{.25, .5, 1}).Draw(t, "increment"),
		Trucks:       Trucks{Capacity: 10, LeastLoad: 7, ShortFee: rapid.Float64Range(0, 40).Draw(t, "fee")},
	}
}

// balanceBySum is B(q) term by term, with no shortcut in the tail.
func balanceBySum(u Predictive, c OrderCosts, q float64) float64 {
	b := c.LeastBalance * u.Survival(q)
	for j := range 20_000 {
		b += c.Increment * u.Survival(q+c.LeastBalance+float64(j)*c.Increment)
	}
	return b
}

// The extra loads of the curve are the plain sums, and the best order is
// the least of far more orders than were looked at.
func TestOrderAgainstPlainSums(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u, err := Student(rapid.Float64Range(2, 20).Draw(t, "need"), rapid.Float64Range(.1, 1).Draw(t, "scale"), 6)
		if err != nil {
			t.Fatal(err)
		}
		c := drawCosts(t)
		best, err := c.Best(u)
		if err != nil {
			t.Fatal(err)
		}
		if want := balanceBySum(u, c, best.Quantity); math.Abs(best.Extra-want) > 1e-7*(1+want) {
			t.Fatalf("balance %v, summed %v", best.Extra, want)
		}
		all, err := c.Curve(u, 0, 80)
		if err != nil {
			t.Fatal(err)
		}
		for _, o := range all {
			if o.Cost < best.Cost-1e-9 {
				t.Fatalf("%v yd³ cost %v, the best of %v yd³ %v", o.Quantity, o.Cost, best.Quantity, best.Cost)
			}
		}
		if best.Leftover < 0 || best.ProbExtra > 1 {
			t.Fatalf("order %+v", best)
		}
	})
}

// With increment and least load near 0 the least cost has (P+d)F = K·f, or
// with a premium in place of K, F = c/(c+P+d).
func TestOrderLimits(t *testing.T) {
	u, err := Normal(8, .5)
	belief(t, u, err)
	fine := OrderCosts{Price: 160, Disposal: 40, Increment: 1e-4}
	fine.ExtraLoad = 300
	best, err := fine.Best(u)
	noError(t, err)
	z := (best.Quantity - 8) / .5
	near(t, "(P+d)F and K·f", 200*u.CDF(best.Quantity), 300*density(z)/.5, .05) // of 200, a step of 1e-4 moves them by .02
	fine.ExtraLoad, fine.Premium = 0, 120
	best, err = fine.Best(u)
	noError(t, err)
	near(t, "F", u.CDF(best.Quantity), 120./320, 2e-4)
}

// Money in another currency changes no order; a dearer extra load never
// makes the order smaller.
func TestOrderScale(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := drawBelief(t)
		c := drawCosts(t)
		c.Trucks = Trucks{}
		base, err := c.Best(u)
		if err != nil {
			t.Fatal(err)
		}
		twice := c
		twice.Price, twice.Disposal, twice.ExtraLoad = 2*c.Price, 2*c.Disposal, 2*c.ExtraLoad
		other, err := twice.Best(u)
		if err != nil {
			t.Fatal(err)
		}
		if other.Quantity != base.Quantity || math.Abs(other.Cost-2*base.Cost) > 1e-9*base.Cost {
			t.Fatalf("order %+v at twice the prices became %+v", base, other)
		}
		c.ExtraLoad += 200
		more, err := c.Best(u)
		if err != nil {
			t.Fatal(err)
		}
		if more.Quantity < base.Quantity || more.Cost < base.Cost-1e-9 {
			t.Fatalf("a dearer extra load took the order from %+v to %+v", base, more)
		}
	})
}

// A batch of concrete seen all at once or in two parts leads to one belief.
func TestUpdateInParts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := Ratio{Mean: rapid.Float64Range(.9, 1.3).Draw(t, "mean"), SD: rapid.Float64Range(.01, .1).Draw(t, "sd"), Omega: .1}
		v1, v2 := rapid.Float64Range(1, 20).Draw(t, "v1"), rapid.Float64Range(1, 20).Draw(t, "v2")
		u1, u2 := v1*rapid.Float64Range(.9, 1.3).Draw(t, "r1"), v2*rapid.Float64Range(.9, 1.3).Draw(t, "r2")
		whole, err := r.Update(v1+v2, u1+u2)
		if err != nil {
			t.Fatal(err)
		}
		first, err := r.Update(v1, u1)
		if err != nil {
			t.Fatal(err)
		}
		both, err := first.Update(v2, u2)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(whole.Mean-both.Mean) > 1e-12 || math.Abs(whole.SD-both.SD) > 1e-12 || whole.SD >= r.SD {
			t.Fatalf("at once %+v, in parts %+v", whole, both)
		}
	})
}

func drawSteel(t *rapid.T) Steel {
	return Steel{
		LogRatio:     rapid.Float64Range(-2, 2).Draw(t, "log ratio"),
		Variance:     rapid.Float64Range(.05, 4).Draw(t, "variance"),
		BiasSD:       rapid.Float64Range(0, 1).Draw(t, "bias"),
		PriorSD:      rapid.Float64Range(.2, 1).Draw(t, "prior"),
		Risk:         rapid.Float64Range(.005, .2).Draw(t, "risk"),
		CallbackCost: rapid.Float64Range(500, 9000).Draw(t, "callback"),
		ExtraCost:    rapid.Float64Range(-300, 300).Draw(t, "extra"),
		ExtraSD:      rapid.Float64Range(0, 60).Draw(t, "spread of extra"),
		AtStake:      300,
	}
}

// Information is worth something, never more than knowing all; it grows with
// the sample and, where the two take turns, comes to the whole in the end. The
// closed forms agree with summing over the belief on a grid.
func TestSteelLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawSteel(t)
		a, err := s.Decide()
		if err != nil {
			t.Fatal(err)
		}
		worth := func(more Sample) float64 {
			w, err := s.EVSI(more)
			if err != nil {
				t.Fatal(err)
			}
			return w
		}
		before, turnsBefore := 0.0, 0.0
		for _, events := range []float64{0, 1, 10, 100, 1e9} {
			plain, turns := worth(Sample{events, .5, false}), worth(Sample{events, .5, true})
			if plain < before-1e-9 || turns < turnsBefore-1e-9 || plain > turns+1e-6 || turns > a.EVPI+1e-6 {
				t.Fatalf("%v events are worth %v after %v, in turns %v after %v, all knowledge %v", events, plain, before, turns, turnsBefore, a.EVPI)
			}
			before, turnsBefore = plain, turns
		}
		if math.Abs(turnsBefore-a.EVPI) > 1e-3*(1+a.EVPI) {
			t.Fatalf("endless turns are worth %v, all knowledge %v", turnsBefore, a.EVPI)
		}
		bySumming(t, s, a)
	})
}

// bySumming holds an answer to the midpoint rule over ±8 deviations of the
// ratio, and of the extra cost.
func bySumming(t *rapid.T, s Steel, a SteelAnswer) {
	var gain, positive, above, mesh float64
	const steps = 2000
	for i := range steps {
		z := -8 + 16*(float64(i)+.5)/steps
		w := density(z) * 16 / steps
		saved := 2 * s.CallbackCost * s.Risk * math.Sinh((a.Mean+a.SD*z)/2)
		g := saved - s.ExtraCost
		gain += w * g
		if g > 0 {
			positive, above = positive+w*g, above+w
		}
		switch {
		case s.ExtraSD > 0:
			mesh += w * upperNormal((saved-s.ExtraCost)/s.ExtraSD)
		case g < 0:
			mesh += w
		}
	}
	scale := 1 + math.Abs(s.ExtraCost) + s.CallbackCost*s.Risk
	if math.Abs(gain-a.Gain) > 1e-6*scale || math.Abs(positive-a.PositiveGain) > 1e-4*scale || math.Abs(mesh-a.MeshCheaper) > .01 {
		t.Fatalf("summed: gain %v, positive %v, mesh %v; closed %+v", gain, positive, mesh, a)
	}
	if above > .01 && above < .99 && (math.Abs(positive/above-a.WrongMesh) > .05*scale || math.Abs((positive-gain)/(1-above)-a.WrongRebar) > .05*scale) {
		t.Fatalf("summed: wrong by %v and %v; closed %+v", positive/above, (positive-gain)/(1-above), a)
	}
}

// Named the other way round, the same records say the same: signs swap.
func TestSteelIsTheSameEitherWayRound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawSteel(t)
		swapped := s
		swapped.LogRatio, swapped.ExtraCost = -s.LogRatio, -s.ExtraCost
		a, err := s.Decide()
		b, err2 := swapped.Decide()
		if err != nil || err2 != nil {
			t.Fatal(err, err2)
		}
		for name, pair := range map[string][2]float64{"gain": {a.Gain, -b.Gain}, "log break-even": {math.Log(a.BreakEven), -math.Log(b.BreakEven)},
			"probability": {a.MeshCheaper, 1 - b.MeshCheaper}, "worth of knowing": {a.EVPI, b.EVPI}, "wrong": {a.WrongMesh, b.WrongRebar}} {
			if math.Abs(pair[0]-pair[1]) > 1e-6*(1+math.Abs(pair[0])) {
				t.Fatalf("%s: %v, the other way round %v", name, pair[0], pair[1])
			}
		}
	})
}

// No evidence credits neither: records that say nothing leave the prior, even
// odds of a ratio above 1, and nothing gained by either; so does any amount of
// them where the bias could be all there is.
func TestSteelWithoutRecords(t *testing.T) {
	for name, s := range map[string]Steel{
		"no records": {LogRatio: 3, Variance: math.Inf(1)},
		"all bias":   {LogRatio: 3, Variance: 1e-6, BiasSD: 1e6},
	} {
		s.PriorSD, s.Risk, s.CallbackCost, s.AtStake = .5, .03, 3500, 1
		a, err := s.Decide()
		noError(t, err)
		near(t, name+": mean", a.Mean, 0, 1e-9)
		near(t, name+": SD", a.SD, .5, 1e-9)
		near(t, name+": mesh cheaper", a.MeshCheaper, .5, 1e-9)
		near(t, name+": gain", a.Gain, 0, 1e-6)
	}
}

func TestNormalChoiceLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := NormalChoice{Mean: rapid.Float64Range(-1, 1).Draw(t, "mean"), SD: rapid.Float64Range(.01, 1).Draw(t, "sd"), AtStake: 1000}
		evpi, err := c.EVPI()
		if err != nil {
			t.Fatal(err)
		}
		before := 0.0
		for _, n := range []float64{0, 10, 1000, 1e12} {
			worth, moves, err := c.EVSI(50, n)
			if err != nil {
				t.Fatal(err)
			}
			if worth < before-1e-9 || worth > evpi+1e-9 || moves > c.SD {
				t.Fatalf("%v observations worth %v after %v of %v", n, worth, before, evpi)
			}
			before = worth
		}
		if math.Abs(before-evpi) > 1e-6*(1+evpi) {
			t.Fatalf("endless observations worth %v, knowing %v", before, evpi)
		}
	})
}

// Trials are worth something; the two-pointer sum is the whole table's.
func TestArmsAgainstTable(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		shape := rapid.Float64Range(.2, 60)
		plain := Beta{shape.Draw(t, "a1"), shape.Draw(t, "b1")}
		dear := Beta{shape.Draw(t, "a2"), shape.Draw(t, "b2")}
		n1, n2 := rapid.IntRange(0, 20).Draw(t, "n1"), rapid.IntRange(0, 20).Draw(t, "n2")
		extra := rapid.Float64Range(-50, 50).Draw(t, "extra")
		a, err := ArmsValue(plain, dear, n1, n2, 100, extra)
		if err != nil {
			t.Fatal(err)
		}
		var want, prob float64
		for _, x := range plain.costs(n1, 100, 0) {
			for _, y := range dear.costs(n2, 100, extra) {
				want += x.prob * y.prob * min(x.cost, y.cost)
				prob += x.prob * y.prob
			}
		}
		if math.Abs(a.CostAfter-want) > 1e-9*(1+math.Abs(want)) || math.Abs(prob-1) > 1e-12 {
			t.Fatalf("after the trial %v, by the table %v", a.CostAfter, want)
		}
		if a.CostAfter > a.CostNow+1e-9 {
			t.Fatalf("a trial makes things worse: %+v", a)
		}
	})
}

// P(1 < 2) + P(2 < 1) = 1, and gamma beliefs are the limit of beta ones at
// small proportions.
func TestPosteriorOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		shape := rapid.Float64Range(.5, 40)
		one := Beta{shape.Draw(t, "a1"), rapid.Float64Range(50, 500).Draw(t, "b1")}
		two := Beta{shape.Draw(t, "a2"), rapid.Float64Range(50, 500).Draw(t, "b2")}
		p, err := ProportionLess(one, two)
		if err != nil {
			t.Fatal(err)
		}
		q, err := ProportionLess(two, one)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(p+q-1) > 1e-10 {
			t.Fatalf("%v and %v do not sum to 1", p, q)
		}
		big := 1e5
		p, err = ProportionLess(Beta{one.A, one.B * big}, Beta{two.A, two.B * big})
		if err != nil {
			t.Fatal(err)
		}
		q, err = RateLess(Gamma{one.A, one.B}, Gamma{two.A, two.B})
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(p-q) > 1e-4 {
			t.Fatalf("small proportions %v, rates %v", p, q)
		}
	})
}

// The ratio that so many events show needs so many events.
func TestSchoenfeldRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ratio := rapid.Float64Range(1.05, 8).Draw(t, "ratio")
		share := rapid.Float64Range(.05, .95).Draw(t, "share")
		test := Test{Alpha: rapid.Float64Range(.01, .2).Draw(t, "alpha"), Power: rapid.Float64Range(.5, .95).Draw(t, "power")}
		events, err := SchoenfeldEvents(ratio, share, test)
		if err != nil {
			t.Fatal(err)
		}
		inverse, err := SchoenfeldEvents(1/ratio, share, test)
		if err != nil {
			t.Fatal(err)
		}
		back, err := DetectableRatio(events, share, test)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(back-ratio) > 1e-9*ratio || math.Abs(inverse-events) > 1e-9*events {
			t.Fatalf("ratio %v came back as %v; events %v, of the inverse %v", ratio, back, events, inverse)
		}
		n, err := TwoProportions(.1, .1+share/4, test)
		if err != nil {
			t.Fatal(err)
		}
		m, err := TwoProportions(.1+share/4, .1, test)
		if err != nil || math.Abs(n-m) > 1e-9*n {
			t.Fatalf("groups in the other order: %v, %v, %v", n, m, err)
		}
	})
}

// One histogram gives what comparing each draw with each size gives, at any
// number of draws, with draws that lie exactly upon sizes.
func TestSweepAgainstComparison(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draws := rapid.SliceOfN(rapid.OneOf(rapid.Float64Range(-5, 15),
			rapid.Map(rapid.IntRange(-10, 40), func(i int) float64 { return float64(i) / 4 })), 1, 60).Draw(t, "draws")
		grid := Grid{First: rapid.Float64Range(-2, 8).Draw(t, "first"), Step: rapid.SampledFrom([]float64{.25, .1, 3}).Draw(t, "step"), Count: rapid.IntRange(1, 41).Draw(t, "count")}
		s, err := SweepOrders(draws, grid)
		if err != nil {
			t.Fatal(err)
		}
		n := float64(len(draws))
		for i := range grid.Count {
			q := grid.At(i)
			var short, lacking, left float64
			for _, u := range draws {
				if u > q {
					short++
				}
				lacking += max(0, u-q)
				left += max(0, q-u)
			}
			if s.Short[i] != short/n || math.Abs(s.Shortage[i]-lacking/n) > 1e-12*(1+lacking) || math.Abs(s.Leftover[i]-left/n) > 1e-12*(1+left) {
				t.Fatalf("size %v: %v %v %v, by comparison %v %v %v", q, s.Short[i], s.Shortage[i], s.Leftover[i], short/n, lacking/n, left/n)
			}
		}
	})
}

// Simulated needs lead to the order that the formula finds, and many blocks
// to one answer.
func TestSweepAgainstFormula(t *testing.T) {
	u, err := Normal(28, 2)
	belief(t, u, err)
	const draws = 300_000
	needs := make([]float64, draws)
	noError(t, resample.MonteCarlo(draws, 11, func(rng *rand.Rand, lo, hi int) {
		for i := lo; i < hi; i++ {
			needs[i] = 28 + 2*rng.NormFloat64()
		}
	}))
	grid := Grid{First: 24, Step: .25, Count: 41}
	s, err := SweepOrders(needs, grid)
	noError(t, err)
	for i := range grid.Count {
		q := grid.At(i)
		se := 5 / math.Sqrt(draws) // five standard errors of a mean of spread 1
		near(t, "short", s.Short[i], u.Survival(q), .5*se)
		near(t, "shortage", s.Shortage[i], u.Shortage(q), 2*se)
		near(t, "leftover", s.Leftover[i], Leftover(u, q), 2*se)
	}
	n, err := SolveNewsvendor(u, 210, 45)
	noError(t, err)
	best := grid.At(s.Cheapest(UnitCosts{Disposal: 45, Lacking: 210}))
	near(t, "order", best, n.Order, .25)
}
