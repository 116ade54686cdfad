package concrete

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"

	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
	"pourback/analysis/stat/pool"
	"pourback/ingest/record"
)

// certain is a need whose law is known: N(mean, sd²) yards for a neat yard.
func certain(mean, sd float64) Predictive {
	return Predictive{NeatYd: 1, Ratio: pool.Mixture{Nu: math.Inf(1), Weight: []float64{1}, Loc: []float64{mean - 1}, Scale: []float64{sd}}}
}

// Mac's newsstand (Nahmias, Production and Operations Analysis, ch. 5, from
// memory): demand N(11.73, 4.74²), 25 cents a copy, sold at 75, taken back at
// 10; so a copy short costs 50, one over 15, the critical ratio is 0.77 and the
// order 15.24. As concrete: 15 is price and disposal, 50 the premium of a yard
// called in; the call itself costs nothing, and orders go by steps of 0.03.
func TestOrderIsTheNewsvendorInTheLimit(t *testing.T) {
	c := setting.OrderCosts{PricePerYd: .10, DisposalPerYd: .05, ExtraPerYd: .50, IncrementYd: .03, TruckYd: 10}
	o, err := OrderFor(certain(11.73, 4.74), c)
	if err != nil {
		t.Fatal(err)
	}
	trial.Near(t, "order", o.Yd, 15.24, 0.03)
	trial.Near(t, "chance of enough", 1-o.ChanceShort, 0.50/0.65, 0.03*0.0642) // a step times the density there
}

// With a cost by the call, increment and least load going to nothing, the best
// order has (P+d)·F(q) = K·f(q), the limit of fine steps.
func TestOrderWeighsACallAgainstAYard(t *testing.T) {
	for _, c := range []struct{ mean, sd, k float64 }{{6.4, 0.3, 330}, {12.8, 0.5, 330}, {9, 0.4, 800}} {
		costs := setting.OrderCosts{PricePerYd: 165, DisposalPerYd: 50, ExtraLoad: c.k, IncrementYd: .001, TruckYd: 10}
		o, err := OrderFor(certain(c.mean, c.sd), costs)
		if err != nil {
			t.Fatal(err)
		}
		law := distuv.Normal{Mu: c.mean, Sigma: c.sd}
		trial.Near(t, "(P+d)F − Kf", 215*law.CDF(o.Yd)-c.k*law.Prob(o.Yd), 0, 2)
		if o.Yd < c.mean {
			t.Errorf("ordered %v for a need of %v: the lower root is the dearest order", o.Yd, c.mean)
		}
	}
}

// An order by hand: the need is 5 or 7 yd, evenly; a yard costs 100, one left
// over 20 more, a call 300, in whole yards, at least one. Ordering 5: half the
// time two more for 300 + 200; 500 + 0.5·500 = 750. Ordering 7: half the time
// two over; 700 + 0.5·40 = 720. Ordering 6: 600 + 0.5·20 + 0.5·400 = 810.
func TestOrderByHand(t *testing.T) {
	need := Predictive{NeatYd: 5, Ratio: pool.Mixture{Nu: math.Inf(1), Weight: []float64{.5, .5}, Loc: []float64{0, 0.4}, Scale: []float64{1e-6, 1e-6}}}
	c := setting.OrderCosts{PricePerYd: 100, DisposalPerYd: 20, ExtraLoad: 300, LeastBalanceYd: 1, IncrementYd: 1, TruckYd: 10}
	for yd, want := range map[float64]float64{5.001: 750.05, 6.001: 810.2, 7.001: 720.13} { // a hair above the need, so that it is met
		o, err := OrderAt(need, c, yd)
		if err != nil {
			t.Fatal(err)
		}
		trial.Near(t, fmt.Sprintf("cost of ordering %v", yd), o.Cost, want, 0.2)
	}
	need.Ratio.Loc = []float64{-1e-4, 0.4 - 1e-4}
	o, err := OrderFor(need, c)
	if err != nil {
		t.Fatal(err)
	}
	if o.Yd != 7 || math.Abs(o.Allowance-0.4) > 1e-12 || o.ChanceShort > 1e-9 || math.Abs(o.LeftoverYd-1) > 1e-2 {
		t.Errorf("%+v: want 7 yd, 40 %% more, never short, one yard over on average", o)
	}
}

// Where a call is cheap and the need unsure, the least cost lies at ordering
// nothing and calling in all: no order at once falls short more often than not.
func TestAnOrderIsEnoughMoreOftenThanNot(t *testing.T) {
	c := setting.DefaultOrderCosts()
	c.ExtraLoad = 50
	o, err := OrderFor(certain(20, 3), c)
	if err != nil {
		t.Fatal(err)
	}
	if o.Yd < 20 || o.ChanceShort > 0.5 {
		t.Errorf("ordered %v, short %.0f times in 100", o.Yd, 100*o.ChanceShort)
	}
}

// A need that may be anything has no order, and one of thousands of yards is
// not weighed by the quarter.
func TestOrderOfUnheardOfNeeds(t *testing.T) {
	if _, err := OrderFor(certain(20, 1e10), setting.DefaultOrderCosts()); !errors.Is(err, errUnlike) {
		t.Errorf("20 yd, give or take 10 billion: %v", err)
	}
	if o, err := OrderFor(certain(0.5, 0.4), setting.DefaultOrderCosts()); err != nil || o.Yd < 0.5 {
		t.Errorf("half a yard, give or take as much: %+v %v", o, err)
	}
	large, err := OrderFor(certain(20000, 800), setting.DefaultOrderCosts())
	if err != nil || large.Yd < 20000 || large.Yd > 21000 {
		t.Errorf("20,000 yd: %+v %v", large, err)
	}
}

// What an order remembers and takes for certain is the law itself.
func TestNeedIsItsLaw(t *testing.T) {
	next, err := rough(t).Next(Job{"driveway", "chute", "", 8})
	if err != nil {
		t.Fatal(err)
	}
	law := next.Used()
	need := needOf(law)
	for range 2 {
		for x := 0.0; x < 14; x += 0.125 {
			trial.Near(t, fmt.Sprintf("P(U > %v)", x), need.Survival(x), 1-law.CDF(x), 1e-9)
		}
	}
}

// A dearer call never makes for a smaller order, a dearer yard never for a
// larger one, and every order is a multiple of the increment.
func TestOrderMovesWithItsCosts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := setting.DefaultOrderCosts()
		c.ShortLoadPerYd = 0 // a fee that falls with the order can turn this about
		c.PricePerYd = rapid.Float64Range(80, 300).Draw(t, "price")
		c.ExtraLoad = rapid.Float64Range(50, 1000).Draw(t, "call")
		c.IncrementYd = rapid.SampledFrom([]float64{0.1, 0.25, 0.5, 1}).Draw(t, "increment")
		need := certain(rapid.Float64Range(2, 30).Draw(t, "mean"), rapid.Float64Range(0.1, 1.5).Draw(t, "sd"))
		order := func(c setting.OrderCosts) float64 {
			o, err := OrderFor(need, c)
			if err != nil {
				t.Fatal(err)
			}
			if steps := o.Yd / c.IncrementYd; math.Abs(steps-math.Round(steps)) > 1e-9 {
				t.Fatalf("%v is no multiple of %v", o.Yd, c.IncrementYd)
			}
			return o.Yd
		}
		dearCall, dearYard := c, c
		dearCall.ExtraLoad *= 1.5
		dearYard.DisposalPerYd += 60
		base := order(c)
		if got := order(dearCall); got < base-1e-9 {
			t.Fatalf("a dearer call orders %v, not at least %v", got, base)
		}
		if got := order(dearYard); got > base+1e-9 {
			t.Fatalf("a dearer yard left over orders %v, not at most %v", got, base)
		}
	})
}

// The company's own price is the median of the last year's lines by the yard;
// lines by the lump tell nothing of it.
func TestOwnCostsByHand(t *testing.T) {
	var s record.Set
	for i, rate := range []record.Cents{150_00, 160_00, 170_00, 180_00, 190_00, 90_00} {
		p := trial.Pour(fmt.Sprintf("J%d", i), "2025-06-01", "patio", "chute", 4, 4.4)
		unit := "yd"
		if i == 5 {
			p.PlacedOn = trial.Day("2023-06-01") // too long ago
		}
		s.Placements = append(s.Placements, p)
		s.Costs = append(s.Costs, record.Cost{JobNo: p.JobNo, Item: "concrete", Unit: unit, ActualRate: record.Some(rate)},
			record.Cost{JobNo: p.JobNo, Item: "disposal", Unit: "lump", ActualRate: record.Some[record.Cents](99_00)})
	}
	c, told := OrderCostsOf(record.NewHistory(trial.Day("2025-12-31"), s), setting.OrderCosts{})
	want := setting.DefaultOrderCosts()
	want.PricePerYd = 170
	if c != want || !slices.Equal(told, []ToldPrice{{"concrete", 170, 5}}) {
		t.Errorf("%+v %v: want a price of 170 and all else as assumed", c, told)
	}
}

// rough is a model with spread enough for an extra load to be worth a thought.
func rough(t *testing.T) *Model {
	t.Helper()
	rng := rand.New(rand.NewPCG(3, 3))
	var ps []record.Placement
	for i := range 120 {
		neat := 2 + 18*rng.Float64()
		method := "chute"
		if i%3 == 0 {
			method = "pump"
		}
		used := neat*(1.05+0.05*rng.NormFloat64()) + 0.2*rng.NormFloat64() + 0.3
		ps = append(ps, trial.Pour(fmt.Sprintf("J%03d", i), "2025-01-02", "driveway", method, neat, used))
	}
	m, err := Fit(historyOf(ps...), setting.OveragePriors{})
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// A pour as a whole has the mean and the variance of its predictive law.
func TestPourBeliefIsThePrediction(t *testing.T) {
	m, job := rough(t), Job{"driveway", "pump", "", 14}
	next, err := m.Next(job)
	if err != nil {
		t.Fatal(err)
	}
	b, err := m.pour(job)
	if err != nil {
		t.Fatal(err)
	}
	trial.Near(t, "mean", b.fixedYd+b.ratio.Mean*14, next.Used().Mean(), 1e-9)
	trial.Near(t, "scatter of a yard", b.ratio.Omega*b.ratio.Omega, m.post.Variance(3)-m.post.Variance(2), 1e-12)
	trial.Near(t, "variance", 14*14*b.ratio.SD*b.ratio.SD+14*b.ratio.Omega*b.ratio.Omega, next.Used().Var(), 1e-9)
}

// The belief halfway by hand: prior precision 1/s², the part placed adds v/ω²
// at (U−a)/v (Raiffa & Schlaifer 1961, normal-normal).
func TestBalanceByHand(t *testing.T) {
	m, job := rough(t), Job{"driveway", "pump", "", 14}
	b, err := m.pour(job)
	if err != nil {
		t.Fatal(err)
	}
	placed, v := 8.6, 7.0
	precision := 1/(b.ratio.SD*b.ratio.SD) + v/(b.ratio.Omega*b.ratio.Omega)
	mean := (b.ratio.Mean/(b.ratio.SD*b.ratio.SD) + (placed-b.fixedYd)/(b.ratio.Omega*b.ratio.Omega)) / precision
	call, err := m.Balance(job, Progress{PlacedYd: placed, Covered: 0.5, OnHandYd: 1}, setting.DefaultOrderCosts(), 0.90)
	if err != nil {
		t.Fatal(err)
	}
	trial.Near(t, "the rest", call.RestYd.Value, mean*7, 1e-9)
	sd := math.Sqrt(7*7/precision + 7*b.ratio.Omega*b.ratio.Omega)
	trial.Near(t, "its upper end", call.RestYd.High, mean*7+1.6449*sd, 1e-3)
	if call.CallYd < mean*7-1-0.25 || call.CallYd > mean*7-1+3*sd+0.25 {
		t.Errorf("called in %v with 1 on hand for %v", call.CallYd, mean*7)
	}
}

func TestBalanceAtTheEnds(t *testing.T) {
	m, job, c := rough(t), Job{"driveway", "chute", "", 10}, setting.DefaultOrderCosts()
	for _, at := range []Progress{{Covered: -.1}, {Covered: 1.1}, {Covered: math.NaN()}, {PlacedYd: -1}, {Covered: .5}, {PlacedYd: 5, Covered: .5, OnHandYd: math.Inf(1)}} {
		if _, err := m.Balance(job, at, c, 0.90); err == nil {
			t.Errorf("%+v was taken", at)
		}
	}
	done, err := m.Balance(job, Progress{PlacedYd: 10.8, Covered: 1, OnHandYd: 0.4}, c, 0.90)
	if err != nil || !done.Done || done.CallYd != 0 || done.LeftoverYd != 0.4 {
		t.Errorf("all covered: %+v %v", done, err)
	}
	plenty, err := m.Balance(job, Progress{PlacedYd: 8, Covered: .8, OnHandYd: 6}, c, 0.90)
	if err != nil || plenty.CallYd != 0 || plenty.Done {
		t.Errorf("plenty on hand: %+v %v", plenty, err)
	}
	// Before anything is placed the need is that of the whole pour.
	none, err := m.Balance(job, Progress{}, c, 0.90)
	next, _ := m.Next(job)
	if err != nil {
		t.Fatal(err)
	}
	trial.Near(t, "the whole need", none.RestYd.Value, next.Used().Mean(), 1e-9)
}

// More used than expected on the first half makes for a larger call.
func TestBalanceFollowsThePour(t *testing.T) {
	m, job, last := rough(t), Job{"driveway", "chute", "", 16}, -1.0
	for _, placed := range []float64{8, 8.4, 8.8, 9.2, 9.6} {
		call, err := m.Balance(job, Progress{PlacedYd: placed, Covered: 0.5, OnHandYd: 2}, setting.DefaultOrderCosts(), 0.90)
		if err != nil {
			t.Fatal(err)
		}
		if call.CallYd < last {
			t.Errorf("%v yd on half of the area: call %v, less than %v before", placed, call.CallYd, last)
		}
		last = call.CallYd
	}
}

// Two steps never cost more than one, are nothing for what one truck holds, and
// cost what pours drawn from the belief come to when each is called for by Balance.
func TestTwoStepsAreWorthTheirSaving(t *testing.T) {
	m, c := rough(t), setting.DefaultOrderCosts()
	c.ShortLoadPerYd, c.HoldBackFrom = 0, 0
	saved := 0.0
	for _, neat := range []float64{3, 6, 8.5, 12, 20, 30} {
		s, err := m.InStages(Job{"driveway", "chute", "", neat}, c, LastTruck{})
		if err != nil {
			t.Fatal(err)
		}
		if saved = s.Saves(); saved < 0 || saved > 0 != (s.CallAtYd > 0) {
			t.Errorf("%v yd save $%.0f: %+v", neat, saved, s)
		}
		if one := c.Trucks(s.AtOnceYd) == 1; one != (s.Not == OneTruck) || one && s.FirstYd != s.AtOnceYd {
			t.Errorf("%v yd in one truck, and %+v", s.AtOnceYd, s)
		}
		if s.Not == "" && c.Trucks(s.FirstYd)+c.Trucks(s.HoldYd) > c.Trucks(s.AtOnceYd) {
			t.Errorf("two steps take a truck more: %+v", s)
		}
	}
	if saved < 24 {
		t.Errorf("30 yd save $%.0f: want 24 to 155, as simulated in R", saved)
	}
	trial.Near(t, "expected and simulated cost", simulatedStages(t, m, Job{"driveway", "chute", "", 12}, c), 0, 3)
}

// simulatedStages draws pours from the belief, calls in the last load by
// Balance, and returns how many standard errors their mean cost lies off the
// expected one.
func simulatedStages(t *testing.T, m *Model, job Job, c setting.OrderCosts) float64 {
	t.Helper()
	s, err := m.InStages(job, c, LastTruck{})
	if err != nil {
		t.Fatal(err)
	}
	b, err := m.pour(job)
	if err != nil {
		t.Fatal(err)
	}
	rng := rand.New(rand.NewPCG(11, 11))
	const draws = 4000
	var sum, squares float64
	for range draws {
		theta := b.ratio.Mean + b.ratio.SD*rng.NormFloat64()
		v1 := s.CallAt * job.NeatYd
		placed := b.fixedYd + theta*v1 + b.ratio.Omega*math.Sqrt(v1)*rng.NormFloat64()
		rest := theta*(job.NeatYd-v1) + b.ratio.Omega*math.Sqrt(job.NeatYd-v1)*rng.NormFloat64()
		call, err := m.Balance(job, Progress{PlacedYd: placed, Covered: s.CallAt, OnHandYd: max(0, s.FirstYd-placed)}, c, 0.90)
		if err != nil {
			t.Fatal(err)
		}
		cost := paid(s.FirstYd+call.CallYd, placed+rest, c)
		sum += cost
		squares += cost * cost
	}
	mean := sum / draws
	return (mean - s.CostStaged) / math.Sqrt((squares/draws-mean*mean)/draws)
}
