package resample

import (
	"encoding/csv"
	"math"
	"os"
	"sort"
	"strconv"
	"testing"

	"pourback/analysis/internal/reftest"
	"pourback/analysis/stat"
)

// kmRisk is 1 − S(horizon) by Kaplan and Meier (1958) on weighted rows, in
// order of time, of the rows for which in says yes.
func kmRisk(time, event []float64, order []int, in func(int) bool, weights []float64, horizon float64) (float64, error) {
	var atRisk float64
	for i, w := range weights {
		if in(i) {
			atRisk += w
		}
	}
	if atRisk == 0 {
		return 0, stat.ErrNoData
	}
	s := 1.0
	for k := 0; k < len(order) && time[order[k]] <= horizon; {
		at, died, left := time[order[k]], 0.0, 0.0
		for ; k < len(order) && time[order[k]] == at; k++ {
			if i := order[k]; in(i) {
				died += weights[i] * event[i]
				left += weights[i]
			}
		}
		if died > 0 {
			s *= 1 - died/atRisk
		}
		atRisk -= left
	}
	return 1 - s, nil
}

// TestLeukemiaRiskDifference: acute myelogenous leukemia (Miller 1997), risk
// of relapse within 20 weeks, maintained less not maintained.
func TestLeukemiaRiskDifference(t *testing.T) {
	r := reftest.Load(t, "boot-aml-rd")
	time, event, group := r.Floats(t, "inputs.time"), r.Floats(t, "inputs.status"), r.Strings(t, "inputs.group")
	order := make([]int, len(time))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(a, b int) bool { return time[order[a]] < time[order[b]] })
	difference := Stateless(func(out, weights []float64) error {
		kept, err := kmRisk(time, event, order, func(i int) bool { return group[i] == "Maintained" }, weights, 20)
		if err != nil {
			return err
		}
		not, err := kmRisk(time, event, order, func(i int) bool { return group[i] != "Maintained" }, weights, 20)
		out[0] = kept - not
		return err
	})
	plan := Plan{Rows: len(time)}
	s, err := Given(plan, givenSamples(t, "../../../testdata/refs/data/boot_aml_idx.csv"), difference)
	if err != nil {
		t.Fatal(err)
	}
	jack, err := Jackknife(plan, difference)
	if err != nil {
		t.Fatal(err)
	}
	se, err := s.SE(0)
	if err != nil {
		t.Fatal(err)
	}
	z0, err := s.BiasZ(0)
	if err != nil {
		t.Fatal(err)
	}
	percentile, err := s.Percentile(0, .95)
	if err != nil {
		t.Fatal(err)
	}
	bca, err := s.BCa(0, .95, jack)
	if err != nil {
		t.Fatal(err)
	}
	r.Check(t, "estimate", s.Estimate[0])
	r.Check(t, "boot_se", se)
	r.CheckAll(t, "percentile_type7", []float64{percentile.Low, percentile.High})
	r.Check(t, "jackknife_se", jack.SE[0])
	r.Check(t, "bca_z0", z0)
	r.Check(t, "bca_a", jack.Acceleration[0])
	r.CheckAll(t, "bca_type7", []float64{bca.Low, bca.High})
}

func givenSamples(t *testing.T, name string) [][]int {
	t.Helper()
	f, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	samples := make([][]int, len(rows))
	for b, row := range rows {
		for _, cell := range row {
			i, err := strconv.Atoi(cell)
			if err != nil {
				t.Fatal(err)
			}
			samples[b] = append(samples[b], i-1)
		}
	}
	return samples
}

// TestMouseData: survival of 16 mice, Efron & Tibshirani (1993) Table 2.1,
// printed mean and standard error s/√n, from memory. The jackknife of a mean
// is that formula; the bootstrap comes to it times √((n−1)/n).
func TestMouseData(t *testing.T) {
	for _, c := range []struct {
		days     []float64
		mean, se float64
	}{
		{[]float64{94, 197, 16, 38, 99, 141, 23}, 86.86, 25.24},
		{[]float64{52, 104, 146, 10, 50, 31, 40, 27, 46}, 56.22, 14.14},
	} {
		plan := Plan{Rows: len(c.days), Draws: 40_000, Seed: 1993}
		j, err := Jackknife(plan, Stateless(mean(c.days)))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "mean", j.Estimate[0], c.mean, .005)
		near(t, "jackknife SE", j.SE[0], c.se, .005)
		s, err := Bootstrap(plan, Stateless(mean(c.days)))
		if err != nil {
			t.Fatal(err)
		}
		se, err := s.SE(0)
		if err != nil {
			t.Fatal(err)
		}
		n := float64(len(c.days))
		want := c.se * math.Sqrt((n-1)/n)
		near(t, "bootstrap SE", se, want, .02*want) // Monte Carlo error 1/√(2B) = 0.35 %
	}
}

// TestLawSchools: correlation of LSAT and GPA in 15 law schools, Efron &
// Tibshirani (1993) Tables 3.1 and 6.1: estimate .776, bootstrap SE .132 at
// many draws, jackknife SE .143; from memory.
func TestLawSchools(t *testing.T) {
	lsat := []float64{576, 635, 558, 578, 666, 580, 555, 661, 651, 605, 653, 575, 545, 572, 594}
	gpa := []float64{3.39, 3.30, 2.81, 3.03, 3.44, 3.07, 3.00, 3.43, 3.36, 3.13, 3.12, 2.74, 2.76, 2.88, 2.96}
	correlation := Stateless(func(out, w []float64) error {
		var n, x, y, xx, xy, yy float64
		for i := range w {
			n += w[i]
			x += w[i] * lsat[i]
			y += w[i] * gpa[i]
		}
		for i := range w {
			dx, dy := lsat[i]-x/n, gpa[i]-y/n
			xx += w[i] * dx * dx
			xy += w[i] * dx * dy
			yy += w[i] * dy * dy
		}
		if xx == 0 || yy == 0 {
			return stat.ErrNoVariation
		}
		out[0] = xy / math.Sqrt(xx*yy)
		return nil
	})
	plan := Plan{Rows: len(lsat), Draws: 20_000, Seed: 15}
	s, err := Bootstrap(plan, correlation)
	if err != nil {
		t.Fatal(err)
	}
	j, err := Jackknife(plan, correlation)
	if err != nil {
		t.Fatal(err)
	}
	se, err := s.SE(0)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "correlation", s.Estimate[0], .776, .0005)
	near(t, "bootstrap SE", se, .132, .004)
	near(t, "jackknife SE", j.SE[0], .143, .001)
}
