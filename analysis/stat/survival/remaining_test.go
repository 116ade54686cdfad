package survival

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"pourback/analysis/stat"
)

// Four slabs: callbacks at 10 and 30, censored at 20 and 40. S is 3/4 from 10
// and 3/4·1/2 = 3/8 from 30. A slab of age 15 has (3/4 − 3/8)/(3/4) = 1/2 to
// come by day 35, and log(S(35)/S(15)) the variance 1/(2·1); a new one 5/8.
//
// Reserve for ages 0, 15, 35 and 100 (past the horizon) at 800 each:
// 800·(5/8 + 1/2) = 900. The curve's part of the variance: at 10 the new slab
// waits, (3/8)²·1/(4·3); at 30 both do, (3/8 + 1/2)²·1/(2·1). That of chance:
// 5/8·3/8 + 1/4.
func TestReserveByHand(t *testing.T) {
	km, err := KaplanMeier([]float64{10, 20, 30, 40}, []bool{true, false, true, false})
	if err != nil {
		t.Fatal(err)
	}
	e, err := km.RemainingRisk(15, 35, .95)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "remaining", e.Value, .5, 1e-15)
	low, high := LogLog.interval(.5, math.Sqrt(.5), 1.959963984540054)
	near(t, "its lower limit", e.Low, 1-high, 1e-12)
	near(t, "its upper limit", e.High, 1-low, 1e-12)
	if e.N != 1 {
		t.Errorf("at risk %d", e.N)
	}
	r, err := km.Reserve([]float64{0, 15, 35, 100}, 35, 800, .95)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "reserve", r.Value, 900, 1e-12)
	near(t, "error of the curve", r.SECurve, 800*math.Sqrt(9./64/12+49./64/2), 1e-11)
	near(t, "chance", r.SEChance, 800*math.Sqrt(15./64+.25), 1e-11)
	if r.Low != 0 || r.High > 3200 || len(r.Warnings) != 0 || r.N != 4 {
		t.Errorf("%+v", r)
	}
}

// A slab of age 0 has the whole risk to come, one past the horizon none, and a
// Kaplan-Meier curve of the rows that reached the age, its clock started there,
// says the same as the ratio.
func TestRemainingRiskLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		times, event := rows(t, 2)
		km, err := KaplanMeier(times, event)
		if err != nil {
			t.Fatal(err)
		}
		age := rapid.Float64Range(0, 20).Draw(t, "age")
		horizon := age + rapid.Float64Range(.01, 10).Draw(t, "wait")
		e, err := km.RemainingRisk(age, horizon, .95)
		if errors.Is(err, stat.ErrTooFew) {
			t.Skip("all have had the event")
		}
		if err != nil {
			t.Fatal(err)
		}
		if !(0 <= e.Low && e.Low <= e.Value && e.Value <= e.High && e.High <= 1) {
			t.Fatalf("%+v", e)
		}
		var late []float64
		var lateEvent []bool
		for i, x := range times {
			if x > age {
				late, lateEvent = append(late, x-age), append(lateEvent, event[i])
			}
		}
		if len(late) == 0 {
			if e.Value != 0 || e.High != 1 {
				t.Fatalf("nobody got so far: %+v", e)
			}
			return
		}
		after, err := KaplanMeier(late, lateEvent)
		if err != nil {
			t.Fatal(err)
		}
		want, err := after.Risk(horizon-age, .95)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(e.Value-want.Value) > 1e-12 || e.Value < 1 && math.Abs(e.High-want.High) > 1e-9 {
			t.Fatalf("%+v, and from the age on %+v", e, want)
		}
	})
}

func TestRemainingRiskRefuses(t *testing.T) {
	km, err := KaplanMeier([]float64{10, 20}, []bool{true, true})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := km.RemainingRisk(20, 30, .95); !errors.Is(err, stat.ErrTooFew) {
		t.Errorf("past the last: %v", err)
	}
	for _, bad := range []float64{math.NaN(), math.Inf(1), -1} {
		if _, err := km.RemainingRisk(bad, 30, .95); err == nil {
			t.Errorf("age %v is answered", bad)
		}
		if _, err := km.RemainingRisk(5, bad, .95); err == nil {
			t.Errorf("horizon %v is answered", bad)
		}
		if _, err := km.Reserve([]float64{5, bad}, 15, 10, .95); err == nil {
			t.Errorf("reserve for age %v", bad)
		}
		if _, err := km.Reserve([]float64{5}, 15, bad, .95); err == nil {
			t.Errorf("reserve at cost %v", bad)
		}
	}
	if _, err := km.Reserve(nil, 15, 10, .95); !errors.Is(err, stat.ErrNoData) {
		t.Errorf("no ages: %v", err)
	}
	if _, err := km.Reserve([]float64{5}, 15, 10, 2); !errors.Is(err, stat.ErrDomain) {
		t.Errorf("level 2: %v", err)
	}
}

// What the records cannot tell is said: nobody followed to the horizon, and no
// callback at all.
func TestReserveWarns(t *testing.T) {
	km, err := KaplanMeier([]float64{10, 20}, []bool{false, false})
	if err != nil {
		t.Fatal(err)
	}
	r, err := km.Reserve([]float64{5}, 365, 1800, .95)
	if err != nil {
		t.Fatal(err)
	}
	if r.Value != 0 || len(r.Warnings) != 2 || !strings.Contains(r.Warnings[0], "nobody was followed to 365") {
		t.Errorf("%+v", r)
	}
	e, err := km.RemainingRisk(5, 365, .95)
	if err != nil || e.High != 1 || !strings.Contains(e.Method, "nobody") {
		t.Errorf("%+v %v", e, err)
	}
}
