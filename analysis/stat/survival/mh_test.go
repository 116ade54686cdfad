package survival

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"pourback/analysis/stat"
)

// One stratum, 10 of 50 against 5 of 60: the pooled measures are the crude
// ones, with the variances of the textbooks for a single table (Rothman,
// Greenland & Lash 2008, Modern Epidemiology, ch. 14):
//
//	OR = 10·55/(40·5) = 2.75, var log = 1/10 + 1/40 + 1/5 + 1/55
//	RR = (10/50)/(5/60) = 2.4, var log = 1/10 − 1/50 + 1/5 − 1/60
//	RD = 1/5 − 1/12 = 7/60, var = .2·.8/50 + (1/12)(11/12)/60
func TestMantelHaenszelOneTable(t *testing.T) {
	strata := []CountStratum{{Events1: 10, N1: 50, Events0: 5, N0: 60}}
	or, err := MantelHaenszelOR(strata, .95)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "OR", or.Value, 2.75, 1e-14)
	near(t, "its se", or.SE, math.Sqrt(1./10+1./40+1./5+1./55), 1e-14)
	near(t, "upper limit", or.High, 2.75*math.Exp(1.959963984540054*or.SE), 1e-12)
	if or.N != 15 {
		t.Errorf("%d events", or.N)
	}
	rr, err := MantelHaenszelRR(strata, .95)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "RR", rr.Value, 2.4, 1e-14)
	near(t, "its se", rr.SE, math.Sqrt(1./10-1./50+1./5-1./60), 1e-14)
	rd, err := MantelHaenszelRD(strata, .95, GreenlandRobins)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "RD", rd.Value, 7./60, 1e-15)
	near(t, "its se", rd.SE, math.Sqrt(.2*.8/50+11./144/60), 1e-15)
	// (10 − 50·15/110)² / (50·60·15·95/(110²·109))
	c, err := CMHTest(strata, false)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "χ²", c.ChiSq, math.Pow(10-750./110, 2)/(50*60*15*95/(110.*110*109)), 1e-12)
}

// 4 events in 100 years against 2 in 200: difference .03, ratio 4, variances
// 4/100² + 2/200² and 1/4 + 1/2.
func TestMantelHaenszelRatesOneTable(t *testing.T) {
	strata := []RateStratum{{Events1: 4, Time1: 100, Events0: 2, Time0: 200}}
	d, err := MantelHaenszelRateDifference(strata, .95)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "difference", d.Value, .03, 1e-15)
	near(t, "its se", d.SE, math.Sqrt(.0004+.00005), 1e-15)
	r, err := MantelHaenszelRateRatio(strata, .95)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "ratio", r.Value, 4, 1e-14)
	near(t, "its se", r.SE, math.Sqrt(.75), 1e-14)
}

func TestMantelHaenszelRefuses(t *testing.T) {
	count := func(f func([]CountStratum) error, strata ...CountStratum) error { return f(strata) }
	or := func(s []CountStratum) error { _, err := MantelHaenszelOR(s, .95); return err }
	rr := func(s []CountStratum) error { _, err := MantelHaenszelRR(s, .95); return err }
	rd := func(s []CountStratum) error { _, err := MantelHaenszelRD(s, .95, Sato); return err }
	cmh := func(s []CountStratum) error { _, err := CMHTest(s, true); return err }
	for _, c := range []struct {
		name      string
		err, want error
	}{
		{"no strata", count(or), stat.ErrNoData},
		{"one arm", count(rd, CountStratum{3, 9, 0, 0}), stat.ErrNoData},
		{"more events than rows", count(rr, CountStratum{10, 9, 1, 4}), stat.ErrDomain},
		{"negative", count(cmh, CountStratum{-1, 9, 1, 4}), stat.ErrDomain},
		{"no events in an arm", count(rr, CountStratum{0, 9, 1, 4}), stat.ErrNoEvents},
		{"none to be had in an arm", count(or, CountStratum{3, 3, 1, 4}), stat.ErrNoEvents},
		{"no events", count(rd, CountStratum{0, 9, 0, 4}), stat.ErrNoEvents},
		{"nothing but events", count(cmh, CountStratum{9, 9, 4, 4}), stat.ErrNoVariation},
		{"one row", count(cmh, CountStratum{1, 1, 0, 0}), stat.ErrNoData},
	} {
		if !errors.Is(c.err, c.want) {
			t.Errorf("%s: %v, want %v", c.name, c.err, c.want)
		}
	}
	if _, err := MantelHaenszelRD([]CountStratum{{1, 2, 1, 2}}, .95, RDVariance(7)); !errors.Is(err, stat.ErrDomain) {
		t.Errorf("variance 7: %v", err)
	}
	if _, err := MantelHaenszelOR([]CountStratum{{1, 2, 1, 2}}, 1); !errors.Is(err, stat.ErrDomain) {
		t.Errorf("level 1: %v", err)
	}
}

func TestMantelHaenszelRatesRefuse(t *testing.T) {
	for _, c := range []struct {
		name         string
		strata       []RateStratum
		differs, per error // of the difference and of the ratio; nil: an answer
	}{
		{"nothing", nil, stat.ErrNoData, stat.ErrNoData},
		{"one arm", []RateStratum{{1, 5, 0, 0}}, stat.ErrNoData, stat.ErrNoData},
		{"events in no time", []RateStratum{{1, 0, 1, 5}}, stat.ErrDomain, stat.ErrDomain},
		{"NaN", []RateStratum{{1, math.NaN(), 1, 5}}, stat.ErrNotFinite, stat.ErrNotFinite},
		{"infinite", []RateStratum{{1, 5, 1, math.Inf(1)}}, stat.ErrNotFinite, stat.ErrNotFinite},
		{"no events", []RateStratum{{0, 5, 0, 5}}, stat.ErrNoEvents, stat.ErrNoEvents},
		{"an arm without", []RateStratum{{0, 5, 2, 5}}, nil, stat.ErrNoEvents},
		{"tiny times", []RateStratum{{1, 1e-320, 2, 1e-320}}, stat.ErrNotFinite, nil},
	} {
		d, err := MantelHaenszelRateDifference(c.strata, .95)
		if !errors.Is(err, c.differs) || math.IsNaN(d.Value) {
			t.Errorf("%s: difference %v %v, want %v", c.name, d, err, c.differs)
		}
		r, err := MantelHaenszelRateRatio(c.strata, .95)
		if !errors.Is(err, c.per) || math.IsNaN(r.Value) {
			t.Errorf("%s: ratio %v %v, want %v", c.name, r, err, c.per)
		}
	}
}

// Exchanging the arms turns every measure over; the order of strata does not
// matter, nor does one that has a single arm.
func TestMantelHaenszelTurnsOver(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var one, other []CountStratum
		var rate, unrate []RateStratum
		for range rapid.IntRange(1, 5).Draw(t, "strata") {
			s := CountStratum{N1: rapid.IntRange(2, 30).Draw(t, "n1"), N0: rapid.IntRange(2, 30).Draw(t, "n0")}
			s.Events1 = rapid.IntRange(1, s.N1-1).Draw(t, "a")
			s.Events0 = rapid.IntRange(1, s.N0-1).Draw(t, "c")
			one = append(one, s)
			other = append([]CountStratum{{s.Events0, s.N0, s.Events1, s.N1}}, other...)
			rate = append(rate, RateStratum{s.Events1, float64(s.N1), s.Events0, float64(s.N0)})
			unrate = append([]RateStratum{{s.Events0, float64(s.N0), s.Events1, float64(s.N1)}}, unrate...)
		}
		other = append(other, CountStratum{N1: 8})
		unrate = append(unrate, RateStratum{Time0: 8})
		flip := func(name string, a Effect, errA error, b Effect, errB error, turn func(float64) float64) {
			if errA != nil || errB != nil {
				t.Fatal(name, errA, errB)
			}
			if math.Abs(turn(a.Value)-b.Value) > 1e-10*(1+math.Abs(b.Value)) || math.Abs(a.SE-b.SE) > 1e-10 ||
				math.Abs(turn(a.High)-b.Low) > 1e-10*(1+math.Abs(b.Low)) {
				t.Fatalf("%s: %+v and %+v", name, a, b)
			}
		}
		over, less := func(x float64) float64 { return 1 / x }, func(x float64) float64 { return -x }
		a, errA := MantelHaenszelOR(one, .9)
		b, errB := MantelHaenszelOR(other, .9)
		flip("OR", a, errA, b, errB, over)
		a, errA = MantelHaenszelRR(one, .9)
		b, errB = MantelHaenszelRR(other, .9)
		flip("RR", a, errA, b, errB, over)
		for _, v := range []RDVariance{Sato, GreenlandRobins} {
			a, errA = MantelHaenszelRD(one, .9, v)
			b, errB = MantelHaenszelRD(other, .9, v)
			flip("RD", a, errA, b, errB, less)
		}
		a, errA = MantelHaenszelRateDifference(rate, .9)
		b, errB = MantelHaenszelRateDifference(unrate, .9)
		flip("rate difference", a, errA, b, errB, less)
		a, errA = MantelHaenszelRateRatio(rate, .9)
		b, errB = MantelHaenszelRateRatio(unrate, .9)
		flip("rate ratio", a, errA, b, errB, over)
	})
}
