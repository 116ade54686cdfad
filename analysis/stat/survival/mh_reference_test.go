package survival

import (
	"testing"

	"pourback/analysis/internal/reftest"
)

// Berkeley admissions (Bickel, Hammel & O'Connell 1975, Science 187).
func TestMantelHaenszelCountsAdmissions(t *testing.T) {
	r := reftest.Load(t, "mh-ucb")
	checkCounts(t, r)
}

// Trials of BCG vaccine (Colditz et al. 1994, J. Am. Med. Assoc. 271).
func TestMantelHaenszelCountsVaccine(t *testing.T) {
	r := reftest.Load(t, "mh-bcg")
	checkCounts(t, r)
}

func checkCounts(t *testing.T, r *reftest.Ref) {
	t.Helper()
	a, b, c, d := r.Ints(t, "inputs.a"), r.Ints(t, "inputs.b"), r.Ints(t, "inputs.c"), r.Ints(t, "inputs.d")
	var strata []CountStratum
	for i := range a {
		strata = append(strata, CountStratum{Events1: a[i], N1: a[i] + b[i], Events0: c[i], N0: c[i] + d[i]})
	}
	effect := func(e Effect, err error) Effect {
		if err != nil {
			t.Fatal(err)
		}
		return e
	}
	or := effect(MantelHaenszelOR(strata, .95))
	r.Check(t, "or", or.Value)
	r.Check(t, "se_log_or_RBG", or.SE)
	rr := effect(MantelHaenszelRR(strata, .95))
	r.Check(t, "rr", rr.Value)
	r.Check(t, "se_log_rr", rr.SE)
	rd := effect(MantelHaenszelRD(strata, .95, Sato))
	r.Check(t, "rd", rd.Value)
	r.Check(t, "se_rd_sato", rd.SE)
	r.Check(t, "se_rd_greenland_robins", effect(MantelHaenszelRD(strata, .95, GreenlandRobins)).SE)
	for field, corrected := range map[string]bool{"cmh_chisq": false, "cmh_chisq_cc": true} {
		test, err := CMHTest(strata, corrected)
		if err != nil {
			t.Fatal(err)
		}
		r.Check(t, field, test.ChiSq)
	}
}

// Trials of warfarin against stroke (Hart et al. 1999, Ann. Intern. Med. 131).
func TestMantelHaenszelRatesStroke(t *testing.T) {
	r := reftest.Load(t, "mhpt-hart")
	a1, a0 := r.Ints(t, "inputs.a1"), r.Ints(t, "inputs.a0")
	t1, t0 := r.Floats(t, "inputs.T1"), r.Floats(t, "inputs.T0")
	var strata []RateStratum
	for i := range a1 {
		strata = append(strata, RateStratum{Events1: a1[i], Time1: t1[i], Events0: a0[i], Time0: t0[i]})
	}
	d, err := MantelHaenszelRateDifference(strata, .95)
	if err != nil {
		t.Fatal(err)
	}
	r.Check(t, "ird", d.Value)
	r.Check(t, "se", d.SE)
	q, err := MantelHaenszelRateRatio(strata, .95)
	if err != nil {
		t.Fatal(err)
	}
	r.Check(t, "irr", q.Value)
	r.Check(t, "se_log", q.SE)
}
