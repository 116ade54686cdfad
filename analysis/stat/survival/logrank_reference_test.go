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

// The lung trial by sex and the ovarian trial by treatment, as R's survdiff
// prints them: χ² 10.3 with 91.6 and 73.4 expected, χ² 1.06 with 5.23 and 6.77.
// The figures are from memory.
func TestLogRankPrinted(t *testing.T) {
	lung, _ := reftest.Table(t, "lung.csv")
	ov, _ := reftest.Table(t, "ovarian.csv")
	for _, c := range []struct {
		times, status, group []float64
		chiSq, tol           float64
		expected             [2]float64
	}{
		{lung["time"], lung["status"], lung["sex"], 10.3, .05, [2]float64{91.6, 73.4}},
		{ov["futime"], ov["fustat"], ov["rx"], 1.06, .005, [2]float64{5.23, 6.77}},
	} {
		l, err := LogRankTest(c.times, flags(c.status), ints(c.group), nil)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "χ²", l.ChiSq, c.chiSq, c.tol)
		for g, e := range c.expected {
			near(t, "expected", l.Expected[g], e, c.tol)
		}
	}
}
