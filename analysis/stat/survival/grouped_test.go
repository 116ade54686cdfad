package survival

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"pourback/analysis/stat"
)

// Beetles killed by carbon disulphide (Bliss 1935): log dose, exposed, killed.
// One stretch of time, so that the model is the binomial one with the
// complementary log-log link: Dobson (2002, An Introduction to Generalized
// Linear Models, 2nd ed., section 7.3.1 and table 7.4, "extreme value") gives
// −39.572 (standard error 3.240) and 22.041 (1.799), deviance 3.45; R's
// glm(cbind(killed, exposed − killed) ~ dose, binomial("cloglog")) prints
// −39.572, 22.041 and 3.4464 (both from memory).
func TestGroupedBeetles(t *testing.T) {
	doses := []float64{1.6907, 1.7242, 1.7552, 1.7842, 1.8113, 1.8369, 1.8610, 1.8839}
	exposed, killed := []int{59, 60, 62, 56, 63, 59, 62, 60}, []int{6, 13, 18, 28, 52, 53, 61, 60}
	d := GroupedData{Grid: []float64{1}, X: [][]float64{nil}}
	deviance := 0.
	for k, dose := range doses {
		for i := range exposed[k] {
			row := Interval{1, inf}
			if i < killed[k] {
				row = Interval{0, 1}
			}
			d.Rows, d.X[0] = append(d.Rows, row), append(d.X[0], dose)
		}
		n, y := float64(exposed[k]), float64(killed[k])
		deviance += 2 * (y*math.Log(y/n) + (n-y)*math.Log(max(1e-300, (n-y)/n)))
	}
	g, err := FitGrouped(d, nil)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "dose", g.Coef[0], 22.041, 6e-4)
	near(t, "intercept", g.Baseline[0][0], -39.572, 1e-3)
	near(t, "standard error", math.Sqrt(g.Cov.At(0, 0)), 1.799, 0.02) // R's is of the expected information, this of the observed
	near(t, "deviance", deviance-2*g.LogLik, 3.4464, 1e-3)
}

// Two kinds of slab, 40 of each, looked at twice. Of the first 8 cracked by the
// first look and 12 of the other 32 by the second, of the others 16 and 14 of
// 24. With one stretch alone and a yes-or-no the model is saturated:
// γ = log(−log(1 − 8/40)), β = log(log(1 − 16/40)/log(1 − 8/40)).
func TestGroupedByHand(t *testing.T) {
	var d GroupedData
	d.Grid, d.X = []float64{1}, [][]float64{nil}
	for kind, cracked := range []int{8, 16} {
		for i := range 40 {
			row := Interval{1, inf}
			if i < cracked {
				row = Interval{0, 1}
			}
			d.Rows, d.X[0] = append(d.Rows, row), append(d.X[0], float64(kind))
		}
	}
	g, err := FitGrouped(d, nil)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "γ", g.Baseline[0][0], math.Log(-math.Log(1-8./40)), 1e-8)
	near(t, "β", g.Coef[0], math.Log(math.Log(1-16./40)/math.Log(1-8./40)), 1e-8)
	again, err := FitGrouped(d, []NormalPrior{{Contrast: []float64{1}, SD: 0.5}})
	if err != nil || !(again.Coef[0] > 0 && again.Coef[0] < g.Coef[0]) {
		t.Errorf("with a prior %v of %v: %v", again.Coef, g.Coef, err)
	}
}

// Rows that cracked in one of several stretches, without columns: the masses are
// those of Turnbull's estimate.
func TestGroupedIsTurnbull(t *testing.T) {
	rows := []Interval{{0, 1}, {0, 2}, {1, 2}, {0, 3}, {2, 3}, {1, 3}, {3, inf}, {2, inf}, {1, inf}, {0, 1}}
	g, err := FitGrouped(GroupedData{Rows: rows, Grid: []float64{1, 2, 3}}, nil)
	if err != nil {
		t.Fatal(err)
	}
	fit, err := TurnbullNPMLE(rows)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "log likelihood", g.LogLik, fit.LogLik, 1e-7)
	sum := 0.
	for k, log := range g.Baseline[0] {
		sum += math.Exp(log)
		low, high := fit.SurvivalAt(float64(k + 1))
		near(t, "survival", math.Exp(-sum), low, 1e-4)
		near(t, "survival", math.Exp(-sum), high, 1e-4)
	}
}

// A hazard ratio of 2 is found between looks a third of a year apart.
func TestGroupedFindsTheTruth(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	d := GroupedData{X: [][]float64{nil}, Grid: []float64{120, 240, 365, 730}}
	for i := range 4000 {
		x := float64(i % 2)
		at, look := rng.ExpFloat64()*1500/math.Pow(2, x), []float64{120, 365, 730}
		if i%3 == 0 {
			look = []float64{240, 730}
		}
		row := Interval{0, inf}
		for _, l := range look {
			if at <= l {
				row.Right = l
				break
			}
			row.Left = l
		}
		d.Rows, d.X[0], d.Cluster = append(d.Rows, row), append(d.X[0], x), append(d.Cluster, i/4)
	}
	g, err := FitGrouped(d, nil)
	if err != nil {
		t.Fatal(err)
	}
	e, err := g.Ratio(0, 0.99)
	if err != nil || e.Low > 2 || e.High < 2 || e.High/e.Low > 1.5 {
		t.Errorf("%+v %v", e, err)
	}
}

func TestGroupedWithoutAnswer(t *testing.T) {
	rows := []Interval{{0, 1}, {1, inf}, {1, inf}}
	for name, c := range map[string]struct {
		d    GroupedData
		want error
	}{
		"no rows":        {GroupedData{}, stat.ErrNoData},
		"no events":      {GroupedData{Rows: rows[1:], Grid: []float64{1}}, stat.ErrNoEvents},
		"past the grid":  {GroupedData{Rows: rows, Grid: []float64{0.5}}, stat.ErrDomain},
		"a grid back":    {GroupedData{Rows: rows, Grid: []float64{2, 1}}, stat.ErrDomain},
		"short column":   {GroupedData{Rows: rows, Grid: []float64{1}, X: [][]float64{{1}}}, stat.ErrShape},
		"no number":      {GroupedData{Rows: rows, Grid: []float64{1}, X: [][]float64{{1, 2, math.NaN()}}}, stat.ErrNotFinite},
		"constant":       {GroupedData{Rows: rows, Grid: []float64{1}, X: [][]float64{{1, 1, 1}}}, stat.ErrCollinear},
		"cluster labels": {GroupedData{Rows: rows, Grid: []float64{1}, Cluster: []int{1}}, stat.ErrShape},
	} {
		if g, err := FitGrouped(c.d, nil); !errors.Is(err, c.want) {
			t.Errorf("%s: %+v %v, want %v", name, g, err, c.want)
		}
	}
}
