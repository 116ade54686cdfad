package pool

import (
	"strings"
	"testing"

	"pourback/analysis/internal/reftest"
	"pourback/analysis/stat/regress"
)

func must[T any](v T, err error) func(testing.TB) T {
	return func(t testing.TB) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

// number turns labels into group numbers in the order of their appearance.
func number(labels []string) (groups []int, names []string) {
	index := map[string]int{}
	for _, label := range labels {
		g, known := index[label]
		if !known {
			g = len(names)
			index[label] = g
			names = append(names, label)
		}
		groups = append(groups, g)
	}
	return groups, names
}

// find is the number of a label, −1 for a new one.
func find(names []string, label string) int {
	for g, name := range names {
		if name == label {
			return g
		}
	}
	return -1
}

// checkPrediction holds mean and quantiles of a mixture against an entry.
func checkPrediction(t *testing.T, r *reftest.Ref, path string, m Mixture) {
	t.Helper()
	r.Check(t, path+".mean", m.Mean())
	r.Check(t, path+".q10", m.Quantile(0.10))
	r.Check(t, path+".q50", m.Quantile(0.50))
	r.Check(t, path+".q75", m.Quantile(0.75))
	r.Check(t, path+".q90", m.Quantile(0.90))
}

// overage lays out R−1 on base, chute/V and pump/V with h = 1/V.
func overage(v, u, pump []float64) Data {
	d := Data{X: regress.Design{regress.Ones(len(v)), make([]float64, len(v)), make([]float64, len(v))}}
	for i := range v {
		d.Y = append(d.Y, u[i]/v[i]-1)
		d.H = append(d.H, 1/v[i])
		d.X[1][i] = (1 - pump[i]) / v[i]
		d.X[2][i] = pump[i] / v[i]
	}
	return d
}

func TestGridBayesOverage(t *testing.T) {
	r := reftest.Load(t, "gridbayes-overage")
	d := overage(r.Floats(t, "inputs.V"), r.Floats(t, "inputs.U"), r.Floats(t, "inputs.pump"))
	var names []string
	d.Group, names = number(r.Strings(t, "inputs.use"))
	m := Model{
		Prior: Prior{Mean: r.Floats(t, "inputs.m0"), SD: r.Floats(t, "inputs.s0"), Sigma: r.Float(t, "inputs.sig0"), Nu: r.Float(t, "inputs.nu0"), RScale: r.Float(t, "inputs.rscale")},
		GridR: r.Floats(t, "inputs.rgrid"), GridKappa: r.Floats(t, "inputs.kgrid"),
	}
	post := must(m.Fit(d))(t)
	r.CheckAll(t, "grid_weights", post.GridWeights())
	h, pump := 1/r.Float(t, "inputs.predict.V"), r.Float(t, "inputs.predict.pump")
	for _, use := range r.Strings(t, "inputs.predict.groups") {
		x := []float64{1, (1 - pump) * h, pump * h}
		checkPrediction(t, r, "pred_"+use, must(post.Predict(x, h, find(names, use)))(t))
	}
}

func TestGridBayesDyestuff(t *testing.T) {
	r := reftest.Load(t, "gridbayes-dyestuff")
	y := r.Floats(t, "inputs.y")
	group, names := number(r.Strings(t, "inputs.batch"))
	m := Model{
		Prior: Prior{Mean: []float64{r.Float(t, "inputs.m0")}, SD: []float64{r.Float(t, "inputs.s0")}, Sigma: r.Float(t, "inputs.sig0"), Nu: r.Float(t, "inputs.nu0"), RScale: r.Float(t, "inputs.rscale")},
		GridR: r.Floats(t, "inputs.rgrid"), GridKappa: []float64{r.Float(t, "inputs.kgrid")},
	}
	post := must(m.Fit(Data{X: regress.Design{regress.Ones(len(y))}, Y: y, Group: group}))(t)
	r.CheckAll(t, "grid_weights", post.GridWeights())
	for _, batch := range r.Strings(t, "inputs.predict_groups") {
		checkPrediction(t, r, "pred_"+strings.TrimSpace(batch), must(post.Predict([]float64{1}, 0, find(names, batch)))(t))
	}
}
