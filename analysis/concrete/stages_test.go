package concrete

import (
	"testing"

	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
)

// A last load is held back only where that saves what the owner asks for, and
// where its truck comes before the edge is cold: with 45 minutes from the call and
// 3 to place a yard, a call at 5 yd on hand leaves the edge waiting 30.
func TestALastLoadIsHeldBackOnlyWhereItPays(t *testing.T) {
	m, c, job := rough(t), setting.DefaultOrderCosts(), Job{"driveway", "chute", "", 30}
	c.ShortLoadPerYd, c.HoldBackFrom = 0, 0
	free, err := m.InStages(job, c, LastTruck{})
	if err != nil || free.Not != "" || free.Saves() <= 0 {
		t.Fatalf("%+v, %v", free, err)
	}
	c.HoldBackFrom = free.Saves() + 1
	s, err := m.InStages(job, c, LastTruck{})
	if err != nil || s.Not != SavesLittle || s.FirstYd != s.AtOnceYd || s.HoldYd != 0 {
		t.Errorf("%+v, %v", s, err)
	}
	trial.Near(t, "what it would save", s.WouldSave, free.Saves(), 1e-9)
	c.HoldBackFrom = 0
	hot := LastTruck{CallMin: 45, PlaceMin: 3, OpenMin: 30}
	if s, err = m.InStages(job, c, hot); err != nil || s.Not != "" || s.WaitMin > hot.OpenMin+1e-9 || s.FirstYd-s.CallAtYd < 5-1e-9 {
		t.Errorf("%+v, %v", s, err)
	}
	if s.Saves() > free.Saves() {
		t.Error("a truck that takes its time saves more than one at once")
	}
	hot.WaitPerMin = 6
	if dear, err := m.InStages(job, c, hot); err != nil || dear.Saves() >= s.Saves() {
		t.Errorf("%+v, %v: waiting has to cost", dear, err)
	}
	if s, err = m.InStages(job, c, LastTruck{CallMin: 150, PlaceMin: 3, OpenMin: 30}); err != nil || s.Not != TooLate || s.FirstYd != s.AtOnceYd {
		t.Errorf("%+v, %v: 40 yd ahead is more than is poured", s, err)
	}
}

// A cap on the chance of running short is kept to by the order at once, by the
// last load and by two steps, and its price is what it costs above the least.
func TestTheCapIsKeptAndPriced(t *testing.T) {
	m, c := rough(t), setting.DefaultOrderCosts()
	for _, neat := range []float64{4, 9, 24} {
		job := Job{"driveway", "chute", "", neat}
		next, err := m.Next(job)
		if err != nil {
			t.Fatal(err)
		}
		free, err := OrderFor(next, c)
		if err != nil {
			t.Fatal(err)
		}
		capped := c
		capped.MostShort = 0.01
		safe, err := OrderFor(next, capped)
		if err != nil || safe.ChanceShort > 0.01 || safe.Yd < free.Yd || safe.Yd-free.Yd > 0 && free.ChanceShort <= 0.01 {
			t.Errorf("%+v, %v; without the cap %+v", safe, err, free)
		}
		trial.Near(t, "price of the cap", safe.CapCosts, safe.Cost-free.Cost, 1e-9)
		if step, err := OrderAt(next, c, safe.Yd-c.IncrementYd); err != nil || safe.Yd > free.Yd && step.ChanceShort <= 0.01 {
			t.Errorf("%v yd runs short as seldom as %v", step.Yd, safe.Yd)
		}
		if free.CapCosts != 0 {
			t.Errorf("no cap costs %v", free.CapCosts)
		}
		call, err := m.Balance(job, Progress{PlacedYd: neat / 2, Covered: 0.5}, capped, 0.9)
		if err != nil || call.ChanceShort > 0.01 {
			t.Errorf("%+v, %v", call, err)
		}
		if s, err := m.InStages(job, capped, LastTruck{}); err != nil || s.Not == "" && s.Short > 0.01 {
			t.Errorf("%+v, %v", s, err)
		}
	}
}
