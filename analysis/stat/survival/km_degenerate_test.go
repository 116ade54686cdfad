package survival

import (
	"errors"
	"math"
	"testing"

	"pourback/analysis/stat"
)

func TestKaplanMeierRefuses(t *testing.T) {
	for _, c := range []struct {
		name  string
		times []float64
		event []bool
		want  error
	}{
		{"nothing", nil, nil, stat.ErrNoData},
		{"lengths", []float64{1, 2}, []bool{true}, stat.ErrShape},
		{"NaN", []float64{1, math.NaN()}, []bool{true, true}, stat.ErrNotFinite},
		{"infinite", []float64{1, math.Inf(1)}, []bool{true, true}, stat.ErrNotFinite},
		{"negative", []float64{1, -1}, []bool{true, true}, stat.ErrDomain},
	} {
		if _, err := KaplanMeier(c.times, c.event); !errors.Is(err, c.want) {
			t.Errorf("%s: %v, want %v", c.name, err, c.want)
		}
	}
}

func TestKaplanMeierAsksRefused(t *testing.T) {
	km, err := KaplanMeier([]float64{3, 9}, []bool{false, false})
	if err != nil {
		t.Fatal(err)
	}
	for _, h := range []float64{math.NaN(), math.Inf(1), -1} {
		if _, err := km.Risk(h, .95); err == nil {
			t.Errorf("horizon %v is answered", h)
		}
	}
	for _, level := range []float64{0, 1, math.NaN(), -2} {
		if _, err := km.Risk(3, level); !errors.Is(err, stat.ErrDomain) {
			t.Errorf("level %v: %v", level, err)
		}
	}
	if _, err := km.SurvivalAt(3, .95, Limits(9)); !errors.Is(err, stat.ErrDomain) {
		t.Errorf("scale 9: %v", err)
	}
	if _, err := km.Median(.95, LogLog); !errors.Is(err, stat.ErrTooFew) {
		t.Errorf("median without events: %v", err)
	}
	if _, err := km.Quantile(1, .95, LogLog); !errors.Is(err, stat.ErrDomain) {
		t.Errorf("quantile 1: %v", err)
	}
}

// One row, all tied, all censored, all events, times of 0 and of 10²⁰⁰: an
// ordered interval inside [0, 1] on every scale.
func TestKaplanMeierExtremes(t *testing.T) {
	for _, times := range [][]float64{{0}, {7}, {5, 5, 5}, {0, 0, 3}, {1e200, 2, 2.5}, {1e-300, 1, 1}, {math.Copysign(0, -1), .5, .25}} {
		for mask := range 1 << len(times) {
			event := make([]bool, len(times))
			for i := range event {
				event[i] = mask>>i&1 == 1
			}
			km, err := KaplanMeier(times, event)
			if err != nil {
				t.Fatal(err)
			}
			for _, h := range []float64{0, 1, 2, 5, 7, 1e201} {
				for _, scale := range []Limits{LogLog, Log, Plain} {
					e, err := km.SurvivalAt(h, .95, scale)
					if err != nil {
						t.Fatal(err)
					}
					if !(0 <= e.Low && e.Low <= e.Value && e.Value <= e.High && e.High <= 1) {
						t.Errorf("%v %v at %g: %+v", times, event, h, e)
					}
				}
			}
		}
	}
}
