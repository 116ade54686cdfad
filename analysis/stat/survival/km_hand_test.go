package survival

import (
	"math"
	"strings"
	"testing"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %.15g, want %.15g", what, got, want)
	}
}

// The maintained arm of Miller (1981): 9 13 13+ 18 23 28+ 31 34 45+ 48 161+.
//
//	t    n  d  S
//	9    11 1  10/11
//	13   10 1  10/11·9/10 = 9/11
//	18    8 1  9/11·7/8   = 63/88
//	23    7 1  63/88·6/7  = 54/88
//	31    5 1  54/88·4/5  = 216/440
//	34    4 1  216/440·3/4 = 162/440
//	48    2 1  81/440
//
// Greenwood at 18: 1/(11·10) + 1/(10·9) + 1/(8·7).
func TestKaplanMeierByHand(t *testing.T) {
	times := []float64{161, 9, 13, 13, 18, 23, 28, 31, 34, 45, 48}
	event := []bool{false, true, true, false, true, true, false, true, true, false, true}
	km, err := KaplanMeier(times, event)
	if err != nil {
		t.Fatal(err)
	}
	want := map[float64]float64{0: 1, 8.9: 1, 9: 10. / 11, 12: 10. / 11, 13: 9. / 11, 18: 63. / 88,
		23: 54. / 88, 28: 54. / 88, 31: 216. / 440, 34: 162. / 440, 48: 81. / 440, 161: 81. / 440}
	for at, s := range want {
		r, err := km.Risk(at, .95)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "risk", r.Value, 1-s, 1e-15)
	}
	near(t, "se at 18", km.StdErr(18), 63./88*math.Sqrt(1./110+1./90+1./56), 1e-15)
	if km.N != 11 || km.Events != 7 || km.AtRiskAt(13) != 10 || km.AtRiskAt(162) != 0 || km.EventsBy(30) != 4 {
		t.Errorf("counts: %+v", km)
	}
}

// An event exactly at the horizon counts; one the day after does not.
func TestRiskCountsTheHorizon(t *testing.T) {
	km, err := KaplanMeier([]float64{365, 366, 400, 400}, []bool{true, true, false, false})
	if err != nil {
		t.Fatal(err)
	}
	r, err := km.Risk(365, .9)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "risk at 365", r.Value, .25, 1e-15)
	if r.N != 4 {
		t.Errorf("at risk %d, want 4", r.N)
	}
}

// No event among the 10 still at risk at 365: the upper limit is exactly
// 1 − .025^(1/10) = 0.3085 (Clopper-Pearson; the table value for 0 of 10 is
// 30.85 %, from memory).
func TestRiskWithoutEvents(t *testing.T) {
	times, event := make([]float64, 15), make([]bool, 15)
	for i := range times {
		times[i] = 365
		if i < 5 {
			times[i] = 100
		}
	}
	km, err := KaplanMeier(times, event)
	if err != nil {
		t.Fatal(err)
	}
	r, err := km.Risk(365, .95)
	if err != nil {
		t.Fatal(err)
	}
	if r.Value != 0 || r.Low != 0 || r.N != 10 || !strings.Contains(r.Method, "Clopper-Pearson") {
		t.Errorf("%+v", r)
	}
	near(t, "upper limit", r.High, .3085, 5e-5)
}

// Nobody has reached a year: the risk is known only to be at least what it was
// at the last follow-up.
func TestRiskBeyondFollowUp(t *testing.T) {
	km, err := KaplanMeier([]float64{50, 100, 120, 200}, []bool{true, false, false, false})
	if err != nil {
		t.Fatal(err)
	}
	r, err := km.Risk(365, .95)
	if err != nil {
		t.Fatal(err)
	}
	at, err := km.Risk(200, .95)
	if err != nil {
		t.Fatal(err)
	}
	if r.N != 0 || r.High != 1 || r.Value != at.Value || r.Low != at.Low || !strings.Contains(r.Method, "nobody") {
		t.Errorf("%+v against %+v at the last follow-up", r, at)
	}
}

// Four of four at one time: Clopper-Pearson's lower limit is .025^(1/4).
func TestRiskOfAll(t *testing.T) {
	km, err := KaplanMeier([]float64{5, 5, 5, 5}, []bool{true, true, true, true})
	if err != nil {
		t.Fatal(err)
	}
	r, err := km.Risk(9, .95)
	if err != nil {
		t.Fatal(err)
	}
	if r.Value != 1 || r.High != 1 {
		t.Errorf("%+v", r)
	}
	near(t, "lower limit", r.Low, math.Pow(.025, .25), 1e-15)
}

// S rests at one half between 2 and 3, so the median is halfway: the
// convention of R's survfit (from memory).
func TestMedianOnAStep(t *testing.T) {
	km, err := KaplanMeier([]float64{1, 2, 3, 4}, []bool{true, true, true, true})
	if err != nil {
		t.Fatal(err)
	}
	m, err := km.Median(.95, LogLog)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "median", m.Value, 2.5, 0)
}

// A negative zero is a time of 0, whichever way the rows are counted.
func TestNegativeZero(t *testing.T) {
	km, err := KaplanMeier([]float64{.5, math.Copysign(0, -1)}, []bool{false, true})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "S(0)", km.Survival[0], .5, 0)
}
