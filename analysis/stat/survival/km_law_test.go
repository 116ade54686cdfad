package survival

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// rows draws follow-up times, whole or not, with ties, and events.
func rows(t *rapid.T, least int) (times []float64, event []bool) {
	n := rapid.IntRange(least, 40).Draw(t, "n")
	unit := rapid.SampledFrom([]float64{1, .37}).Draw(t, "unit")
	for range n {
		times = append(times, unit*float64(rapid.IntRange(0, 25).Draw(t, "time")))
		event = append(event, rapid.Bool().Draw(t, "event"))
	}
	return times, event
}

// Order does not matter, the inputs are left alone, and a change of unit
// carries over, whichever way the rows are counted.
func TestKaplanMeierOrderAndScale(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		times, event := rows(t, 1)
		kept := slices.Clone(times)
		km, err := KaplanMeier(times, event)
		if err != nil {
			t.Fatal(err)
		}
		if !slices.Equal(kept, times) {
			t.Fatal("the input changed")
		}
		turned, turnedEvent := slices.Clone(times), slices.Clone(event)
		slices.Reverse(turned)
		slices.Reverse(turnedEvent)
		for i := range turned {
			turned[i] *= .5
		}
		half, err := KaplanMeier(turned, turnedEvent)
		if err != nil {
			t.Fatal(err)
		}
		if !slices.Equal(km.Survival, half.Survival) || !slices.Equal(km.AtRisk, half.AtRisk) {
			t.Fatalf("%v against %v", km, half)
		}
	})
}

// Without censoring S is the share still without the event, and Greenwood's
// variance the binomial one.
func TestKaplanMeierUncensored(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		times, event := rows(t, 1)
		for i := range event {
			event[i] = true
		}
		km, err := KaplanMeier(times, event)
		if err != nil {
			t.Fatal(err)
		}
		for _, at := range km.Time {
			left := 0
			for _, x := range times {
				if x > at {
					left++
				}
			}
			n := float64(len(times))
			s := float64(left) / n
			r, err := km.Risk(at, .9)
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(r.Value-(1-s)) > 1e-12 || math.Abs(km.StdErr(at)-math.Sqrt(s*(1-s)/n)) > 1e-12 {
				t.Fatalf("at %v: risk %v se %v, share %v", at, r.Value, km.StdErr(at), 1-s)
			}
		}
	})
}

// Survival never rises, and limits hold it and each other on every scale.
func TestKaplanMeierShape(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		km, err := KaplanMeier(rows(t, 1))
		if err != nil {
			t.Fatal(err)
		}
		before := 1.
		for at := -.5; at < 27; at += .5 {
			e, err := km.SurvivalAt(max(0, at), .95, rapid.SampledFrom([]Limits{LogLog, Log, Plain}).Draw(t, "scale"))
			if err != nil {
				t.Fatal(err)
			}
			if !(e.Value <= before && 0 <= e.Low && e.Low <= e.Value && e.Value <= e.High && e.High <= 1) {
				t.Fatalf("at %v after %v: %+v", at, before, e)
			}
			before = e.Value
		}
	})
}

// Many rows are counted in parts: the same curve as by sorting.
func TestKaplanMeierPartsAgree(t *testing.T) {
	times, event := callbacks(manyRows+3, .3)
	km, err := KaplanMeier(times, event)
	if err != nil {
		t.Fatal(err)
	}
	sorted := fromSorted(times, event)
	if !slices.Equal(km.Survival, sorted.Survival) || !slices.Equal(km.Time, sorted.Time) || km.Events != sorted.Events {
		t.Fatal("counted in parts and sorted differ")
	}
}
