package concrete

import (
	"math"
	"testing"

	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
)

// Each input that turns an order is put in anew, beyond where it turns and at its
// ends: the order is the one that is told, and up to there it is the present one.
func TestWhatTurnsAnOrderByOrderingAnew(t *testing.T) {
	h, _ := trial.InventedOverage(t, 4, nil)
	opt, err := setting.Options{Level: 0.9}.Complete()
	if err != nil {
		t.Fatal(err)
	}
	o := Of(h, opt)
	turned := 0
	for _, g := range o.Groups {
		if !g.OrderYd.Known() {
			continue
		}
		if len(g.TurnedBy) != 2 {
			t.Fatalf("%s by %s: %+v", g.Use, g.Method, g.TurnedBy)
		}
		for _, l := range g.TurnedBy {
			if l.Input != RunningShort {
				continue
			}
			order := func(cost float64) float64 {
				next, err := o.Model.Next(g.job())
				if err != nil {
					t.Fatal(err)
				}
				c := opt.Order
				c.ExtraLoad = cost
				best, err := OrderFor(next, c)
				if err != nil {
					t.Fatal(err)
				}
				return best.Yd
			}
			if order(l.Low) != l.AtLow || order(l.High) != l.AtHigh {
				t.Errorf("%s by %s: %v and %v yd at its ends, told %+v", g.Use, g.Method, order(l.Low), order(l.High), l)
			}
			if changes := l.AtLow != g.OrderYd.Value || l.AtHigh != g.OrderYd.Value; l.Within != changes || l.Turns.OK != changes {
				t.Errorf("%s by %s: %+v for an order of %v", g.Use, g.Method, l, g.OrderYd.Value)
			}
			if !l.Turns.OK {
				continue
			}
			turned++
			back := l.Turns.V * math.Pow(l.Value/l.Turns.V, 0.1)
			if order(l.Turns.V) == g.OrderYd.Value || order(back) != g.OrderYd.Value {
				t.Errorf("%s by %s: %v yd at %v and %v at %v, now %v", g.Use, g.Method, order(l.Turns.V), l.Turns.V, order(back), back, g.OrderYd.Value)
			}
		}
	}
	if turned == 0 {
		t.Error("no order is turned by the cost of running short: nothing was tried")
	}
}

// A cap is priced by what its order costs more than the cheapest one, kind by
// kind, and not where there is none.
func TestACapIsPricedByKind(t *testing.T) {
	h, _ := trial.InventedOverage(t, 4, nil)
	free, err := setting.Options{Level: 0.9}.Complete()
	if err != nil {
		t.Fatal(err)
	}
	capped := free
	capped.Order.MostShort = 0.01
	a, b := Of(h, free), Of(h, capped)
	dear := 0
	for k, g := range b.Groups {
		if !g.OrderYd.Known() {
			continue
		}
		if a.Groups[k].CapCosts.Known() || !g.CapCosts.Known() {
			t.Fatalf("%s by %s: %+v without a cap, %+v with one", g.Use, g.Method, a.Groups[k].CapCosts, g.CapCosts)
		}
		next, err := a.Model.Next(g.job())
		if err != nil {
			t.Fatal(err)
		}
		at, err := OrderAt(next, free.Order, g.OrderYd.Value)
		if err != nil {
			t.Fatal(err)
		}
		best, err := OrderFor(next, free.Order)
		if err != nil {
			t.Fatal(err)
		}
		trial.Near(t, g.Use+" by "+g.Method, g.CapCosts.Value, at.Cost-best.Cost, 1e-6)
		if g.CapCosts.Value > 1 {
			dear++
		}
	}
	if dear == 0 {
		t.Error("the cap costs nothing anywhere: nothing was tried")
	}
}
