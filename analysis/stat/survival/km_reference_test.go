package survival

import (
	"testing"

	"pourback/analysis/internal/reftest"
)

// flags turns 0 and 1 into events.
func flags(xs []float64) []bool {
	out := make([]bool, len(xs))
	for i, x := range xs {
		out[i] = x == 1
	}
	return out
}

func checkKM(t *testing.T, r *reftest.Ref, times []float64, event []bool) {
	t.Helper()
	km, err := KaplanMeier(times, event)
	if err != nil {
		t.Fatal(err)
	}
	var surv, se, risk []float64
	low, high := map[Limits][]float64{}, map[Limits][]float64{}
	for _, at := range r.Floats(t, "expected.at") {
		for _, scale := range []Limits{LogLog, Log} {
			e, err := km.SurvivalAt(at, .95, scale)
			if err != nil {
				t.Fatal(err)
			}
			low[scale], high[scale] = append(low[scale], e.Low), append(high[scale], e.High)
			if scale == LogLog {
				surv, risk = append(surv, e.Value), append(risk, float64(e.N))
			}
		}
		se = append(se, km.StdErr(at))
	}
	r.CheckAll(t, "surv", surv)
	r.CheckAll(t, "greenwood_se", se)
	r.CheckAll(t, "lower_loglog", low[LogLog])
	r.CheckAll(t, "upper_loglog", high[LogLog])
	r.CheckAll(t, "lower_log", low[Log])
	r.CheckAll(t, "upper_log", high[Log])
	r.CheckAll(t, "n_risk", risk)
	m, err := km.Median(.95, LogLog)
	if err != nil {
		t.Fatal(err)
	}
	r.Check(t, "median", m.Value)
}

// Leukaemia maintenance trial: Miller (1981), Survival Analysis.
func TestKaplanMeierAML(t *testing.T) {
	for _, id := range []string{"km-aml-main", "km-aml-nonm"} {
		r := reftest.Load(t, id)
		checkKM(t, r, r.Floats(t, "inputs.time"), flags(r.Floats(t, "inputs.status")))
	}
}

// Lung cancer trial: Loprinzi et al. (1994), J. Clin. Oncol. 12; the males.
func TestKaplanMeierLung(t *testing.T) {
	lung, _ := reftest.Table(t, "lung.csv")
	var times, status []float64
	for i, sex := range lung["sex"] {
		if sex == 1 {
			times, status = append(times, lung["time"][i]), append(status, lung["status"][i])
		}
	}
	checkKM(t, reftest.Load(t, "km-lung365"), times, flags(status))
}

// Median survival in the lung trial as R's survfit prints it, with limits on
// the log scale: 270 (212 to 310) for men, 426 (348 to 550) for women, 310 (285
// to 363) together. The figures are from memory.
func TestMedianLung(t *testing.T) {
	lung, _ := reftest.Table(t, "lung.csv")
	for _, c := range []struct {
		sex              float64 // 0: both
		value, low, high float64
	}{{1, 270, 212, 310}, {2, 426, 348, 550}, {0, 310, 285, 363}} {
		var times, status []float64
		for i, sex := range lung["sex"] {
			if c.sex == 0 || sex == c.sex {
				times, status = append(times, lung["time"][i]), append(status, lung["status"][i])
			}
		}
		km, err := KaplanMeier(times, flags(status))
		if err != nil {
			t.Fatal(err)
		}
		m, err := km.Median(.95, Log)
		if err != nil {
			t.Fatal(err)
		}
		if m.Value != c.value || m.Low != c.low || m.High != c.high {
			t.Errorf("sex %v: %+v", c.sex, m)
		}
	}
}
