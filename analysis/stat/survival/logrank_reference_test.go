package survival

import (
	"testing"

	"pourback/analysis/internal/reftest"
)

func checkLogRank(t *testing.T, r *reftest.Ref, times []float64, event []bool, group, stratum []int) {
	t.Helper()
	l, err := LogRankTest(times, event, group, stratum)
	if err != nil {
		t.Fatal(err)
	}
	r.CheckAll(t, "observed", l.Observed)
	r.CheckAll(t, "expected", l.Expected)
	r.Check(t, "chisq", l.ChiSq)
	r.Check(t, "df", float64(l.DF))
	r.Check(t, "p", l.P)
}

func TestLogRankAML(t *testing.T) {
	r := reftest.Load(t, "logrank-aml")
	var group []int
	for _, g := range r.Strings(t, "inputs.group") {
		group = append(group, len(g)) // Maintained before Nonmaintained
	}
	checkLogRank(t, r, r.Floats(t, "inputs.time"), flags(r.Floats(t, "inputs.status")), group, nil)
}

func ints(xs []float64) []int {
	out := make([]int, len(xs))
	for i, x := range xs {
		out[i] = int(x)
	}
	return out
}

// Ovarian cancer trial: Edmonson et al. (1979), Cancer Treat. Rep. 63.
func TestLogRankOvarianStratified(t *testing.T) {
	ov, _ := reftest.Table(t, "ovarian.csv")
	checkLogRank(t, reftest.Load(t, "logrank-ovarian-strat"), ov["futime"], flags(ov["fustat"]), ints(ov["rx"]), ints(ov["ecog.ps"]))
}
