package pool

import (
	"errors"
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/floats"
	"pgregory.net/rapid"

	"pourback/analysis/stat"
	"pourback/analysis/stat/regress"
)

func only[T any](_ T, err error) error { return err }

func only2[T, U any](_ T, _ U, err error) error { return err }

func TestQuestionsWithoutAnswer(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	m := unit([]float64{0, 1}, []float64{0, 1})
	with := func(change func(*Model)) Model {
		c := m
		c.Mean, c.SD = slices.Clone(m.Mean), slices.Clone(m.SD)
		change(&c)
		return c
	}
	ones := regress.Design{regress.Ones(3)}
	y := []float64{1, 2, 4}
	plain := Data{X: ones, Y: y}
	two := []int{0, 0, 1}
	for name, c := range map[string]struct {
		got, want error
	}{
		"no rows":                    {only(m.Fit(Data{X: regress.Design{{}}})), stat.ErrNoData},
		"no columns":                 {only(m.Fit(Data{Y: y})), stat.ErrShape},
		"short column":               {only(m.Fit(Data{X: regress.Design{{1}}, Y: y})), stat.ErrShape},
		"NaN outcome":                {only(m.Fit(Data{X: ones, Y: []float64{1, nan, 2}})), stat.ErrNotFinite},
		"infinite column":            {only(m.Fit(Data{X: regress.Design{{1, inf, 1}}, Y: y})), stat.ErrNotFinite},
		"short H":                    {only(m.Fit(Data{X: ones, Y: y, H: []float64{1}})), stat.ErrShape},
		"H below zero":               {only(m.Fit(Data{X: ones, Y: y, H: []float64{1, -1, 0}})), stat.ErrDomain},
		"endless H":                  {only(m.Fit(Data{X: ones, Y: y, H: []float64{1, 1e200, 0}})), stat.ErrDomain},
		"weight of zero":             {only(m.Fit(Data{X: ones, Y: y, Weight: []float64{1, 0, 1}})), stat.ErrDomain},
		"short groups":               {only(m.Fit(Data{X: ones, Y: y, Group: []int{0}})), stat.ErrShape},
		"group below zero":           {only(m.Fit(Data{X: ones, Y: y, Group: []int{0, -1, 0}})), stat.ErrDomain},
		"group of a stray code":      {only(m.Fit(Data{X: ones, Y: y, Group: []int{0, 1 << 40, 0}})), stat.ErrDomain},
		"prior of other columns":     {only(with(func(m *Model) { m.Mean = nil }).Fit(plain)), stat.ErrShape},
		"prior that is NaN":          {only(with(func(m *Model) { m.Mean[0] = nan }).Fit(plain)), stat.ErrNotFinite},
		"prior without doubt":        {only(with(func(m *Model) { m.SD[0] = 0 }).Fit(plain)), stat.ErrDomain},
		"σ0 of zero":                 {only(with(func(m *Model) { m.Sigma = 0 }).Fit(plain)), stat.ErrDomain},
		"ν0 that is NaN":             {only(with(func(m *Model) { m.Nu = nan }).Fit(plain)), stat.ErrDomain},
		"no grid":                    {only(with(func(m *Model) { m.GridR = nil }).Fit(plain)), stat.ErrNoData},
		"grid that falls":            {only(with(func(m *Model) { m.GridR = []float64{1, 0} }).Fit(plain)), stat.ErrDomain},
		"κ below zero":               {only(with(func(m *Model) { m.GridKappa = []float64{-1} }).Fit(plain)), stat.ErrDomain},
		"t of no freedom":            {only2(m.FitStudent(plain, 0)), stat.ErrDomain},
		"t of no rows":               {only2(m.FitStudent(Data{X: regress.Design{{}}}, 4)), stat.ErrNoData},
		"rates of nothing":           {only(GammaPoisson(nil, nil)), stat.ErrNoData},
		"rate of one":                {only(GammaPoisson([]float64{3}, []float64{1})), stat.ErrTooFew},
		"rates without events":       {only(GammaPoisson([]float64{0, 0}, []float64{1, 2})), stat.ErrNoEvents},
		"rates over nothing":         {only(GammaPoisson([]float64{1, 0}, []float64{1, 0})), stat.ErrDomain},
		"rates of other lengths":     {only(GammaPoisson([]float64{1, 0}, []float64{1})), stat.ErrShape},
		"count below zero":           {only(GammaPoisson([]float64{1, -1}, []float64{1, 1})), stat.ErrDomain},
		"grid without events":        {only(GammaPoissonGrid([]float64{0, 0}, []float64{1, 2}, DefaultRatePrior())), stat.ErrNoEvents},
		"grid of no shapes":          {only(GammaPoissonGrid([]float64{1, 0}, []float64{1, 2}, RatePrior{Scale: 1})), stat.ErrNoData},
		"spread of zero":             {only(GammaPoissonGrid([]float64{1, 0}, []float64{1, 2}, RatePrior{A: []float64{1}, Scale: 1, Spread: []float64{0}})), stat.ErrDomain},
		"empty spread":               {only(GammaPoissonGrid([]float64{1, 0}, []float64{1, 2}, RatePrior{A: []float64{1}, Scale: 1, Spread: []float64{}})), nil},
		"shape of zero":              {only(GammaPoissonGrid([]float64{1, 0}, []float64{1, 2}, RatePrior{A: []float64{0}, Scale: 1})), stat.ErrDomain},
		"shares of nothing":          {only(BetaBinomial(nil, nil)), stat.ErrNoData},
		"share of one":               {only(BetaBinomial([]float64{1}, []float64{2})), stat.ErrTooFew},
		"shares without events":      {only(BetaBinomial([]float64{0, 0}, []float64{1, 2})), stat.ErrNoEvents},
		"shares of nothing else":     {only(BetaBinomial([]float64{1, 2}, []float64{1, 2})), stat.ErrNoVariation},
		"all or nothing":             {only(BetaBinomial([]float64{9, 0, 9, 0}, []float64{9, 9, 9, 9})), stat.ErrNotConverged},
		"more events than trials":    {only(BetaBinomial([]float64{3, 0}, []float64{2, 2})), stat.ErrDomain},
		"levels of nothing":          {only(NormalREML(nil, nil)), stat.ErrNoData},
		"level of one":               {only(PauleMandel([]float64{1}, []float64{1})), stat.ErrTooFew},
		"level without error":        {only(DerSimonianLaird([]float64{1, 2}, []float64{1, 0})), stat.ErrDomain},
		"level that is NaN":          {only(NormalREML([]float64{1, nan}, []float64{1, 1})), stat.ErrNotFinite},
		"τ without room":             {only(HalfCauchy(y, y, 1, 0)), stat.ErrDomain},
		"τ of no scale":              {only(HalfCauchy(y, y, 0, 1)), stat.ErrDomain},
		"premium of one":             {only(BuhlmannStraub([][]float64{{1}}, [][]float64{{1}})), stat.ErrTooFew},
		"one observation a group":    {only(BuhlmannStraub([][]float64{{1}, {2}}, [][]float64{{1}, {1}})), stat.ErrTooFew},
		"group without volume":       {only(BuhlmannStraub([][]float64{{1, 2}, {2}}, [][]float64{{1, 1}, {0}})), stat.ErrNoData},
		"three to shrink":            {only(JamesStein(y, 1)), stat.ErrTooFew},
		"shares of no trials":        {only2(JamesSteinShares(y, 0)), stat.ErrDomain},
		"REML of no groups":          {only(OneWayREML(ones, y, nil)), stat.ErrShape},
		"REML of one group":          {only(OneWayREML(ones, y, []int{0, 0, 0})), stat.ErrTooFew},
		"REML of groups of one":      {only(OneWayREML(ones, y, []int{0, 1, 2})), stat.ErrTooFew},
		"REML of tied outcomes":      {only(OneWayREML(ones, []float64{2, 2, 2}, two)), stat.ErrNoVariation},
		"REML of tied groups":        {only(OneWayREML(ones, []float64{2, 2, 5}, two)), stat.ErrNoVariation},
		"REML of a column twice":     {only(OneWayREML(regress.Design{{1, 1, 1, 1}, {2, 2, 2, 2}}, []float64{1, 2, 4, 4}, []int{0, 0, 1, 1})), stat.ErrCollinear},
		"ANOVA of nothing":           {only(OneWayANOVA(nil, nil)), stat.ErrNoData},
		"ANOVA of one group":         {only(OneWayANOVA(y, []int{0, 0, 0})), stat.ErrTooFew},
		"ANOVA of groups of one":     {only(OneWayANOVA(y, []int{0, 1, 2})), stat.ErrTooFew},
		"ANOVA of tied groups":       {only(OneWayANOVA([]float64{2, 2, 5}, two)), stat.ErrNoVariation},
		"unit zero":                  {only(Learning{1, 0.8}.Unit(0)), stat.ErrDomain},
		"no units":                   {only(Learning{1, 0.8}.Total(0)), stat.ErrDomain},
		"average of no units":        {only(Learning{1, 0.8}.Average(-3)), stat.ErrDomain},
		"learning from nothing":      {only(NewLearning(0, 0.8)), stat.ErrDomain},
		"rate of learning below 0":   {only(NewLearning(1, -1)), stat.ErrDomain},
		"exposure of zero to come":   {only(GammaMixture{}.Next(0)), stat.ErrDomain},
		"level of a rate":            {only(GammaMixture{}.Interval(1)), stat.ErrDomain},
		"level of a share":           {only(Beta{1, 1}.Interval(0)), stat.ErrDomain},
		"level of a mixture":         {only(Mixture{}.Interval(nan)), stat.ErrDomain},
		"endless unit of forgetting": {only(Learning{1e300, 1e9}.Unit(1 << 40)), stat.ErrNotFinite},
	} {
		if !errors.Is(c.got, c.want) {
			t.Errorf("%s: got %v, want %v", name, c.got, c.want)
		}
	}
}

// TestQuestionsOfAFit asks a posterior what it cannot say.
func TestQuestionsOfAFit(t *testing.T) {
	post := must(unit([]float64{0, 1}, []float64{0}).Fit(Data{X: regress.Design{{1, 1}}, Y: []float64{1, 2}, Group: []int{0, 1}}))(t)
	pooled := must(GammaPoisson([]float64{1, 1}, []float64{1, 1}))(t)
	grid := must(GammaPoissonGrid([]float64{1, 1}, []float64{1, 1}, DefaultRatePrior()))(t)
	for name, c := range map[string]struct{ got, want error }{
		"other columns":        {only(post.Predict([]float64{1, 2}, 0, 0)), stat.ErrShape},
		"NaN column":           {only(post.Line([]float64{math.NaN()}, 0)), stat.ErrNotFinite},
		"H below zero":         {only(post.Predict([]float64{1}, -1, 0)), stat.ErrDomain},
		"group −2":             {only(post.Predict([]float64{1}, 0, -2)), stat.ErrDomain},
		"coefficient":          {only(post.Coef(1)), stat.ErrDomain},
		"itself":               {only(post.Difference(1, 1)), stat.ErrDomain},
		"residuals of others":  {only(post.Residuals(Data{X: regress.Design{{1}}, Y: []float64{1}, Group: []int{2}})), stat.ErrShape},
		"outfit":               {only(grid.Outfit(2)), stat.ErrDomain},
		"pooled outfit":        {only(pooled.Posterior(0)), stat.ErrNoVariation},
		"pooled outfit beyond": {only(pooled.Posterior(5)), stat.ErrDomain},
		"school":               {only(must(HalfCauchy([]float64{1, 2}, []float64{1, 1}, 1, 9))(t).Theta(2)), stat.ErrDomain},
	} {
		if !errors.Is(c.got, c.want) {
			t.Errorf("%s: got %v, want %v", name, c.got, c.want)
		}
	}
	if !pooled.Pooled || len(pooled.Warnings) == 0 || pooled.PooledRate != 1 {
		t.Errorf("two equal rates: %+v", pooled)
	}
}

// TestGroupsOfNone: a group number without rows is a new group, and one row, one
// group, or tied outcomes still have a posterior.
func TestGroupsOfNone(t *testing.T) {
	m := unit([]float64{0, 0.5, 2}, []float64{0, 4})
	x := []float64{1}
	post := must(m.Fit(Data{X: regress.Design{{1, 1, 1}}, Y: []float64{1, 1, 1}, H: []float64{1, 1, 1}, Group: []int{0, 3, 3}}))(t)
	empty, fresh := must(post.Predict(x, 1, 2))(t), must(post.Predict(x, 1, -1))(t)
	beyond := must(post.Predict(x, 1, 7))(t)
	for _, p := range []float64{0.1, 0.9} {
		near(t, "group without rows", empty.Quantile(p), fresh.Quantile(p), 1e-14)
		near(t, "group beyond", beyond.Quantile(p), fresh.Quantile(p), 1e-14)
	}
	single := must(m.Fit(Data{X: regress.Design{{1}}, Y: []float64{5}, Group: []int{0}}))(t)
	e := must(must(single.Predict(x, 0, 0))(t).Interval(0.9))(t)
	if !(e.Low < e.Value && e.Value < e.High) {
		t.Errorf("one row: %v", e)
	}
}

// TestCollinearColumnsAreThePriors: twice the same column is split by the prior
// alone, as the model says; the sum is what one column would have.
func TestCollinearColumnsAreThePriors(t *testing.T) {
	m := Model{Prior: Prior{Mean: []float64{0, 0}, SD: []float64{1, 1}, Sigma: 1, Nu: 3, RScale: 1}, GridR: []float64{0}, GridKappa: []float64{0}}
	post := must(m.Fit(Data{X: regress.Design{{1, 1, 1}, {1, 1, 1}}, Y: []float64{3, 3, 3}}))(t)
	// Each β = 3·3/(1+2·3) = 9/7 by symmetry.
	near(t, "β", post.Cells[0].Beta[0], 9.0/7, 1e-12)
	near(t, "β", post.Cells[0].Beta[1], 9.0/7, 1e-12)
}

// TestExtremeWeights: precisions over twenty orders of magnitude.
func TestExtremeWeights(t *testing.T) {
	post := must(unit([]float64{0, 1}, []float64{0}).Fit(Data{
		X: regress.Design{{1, 1, 1}}, Y: []float64{0.5, 0.5, 1e3}, Group: []int{0, 0, 1}, Weight: []float64{1e10, 1e10, 1e-10},
	}))(t)
	line := must(post.Line([]float64{1}, 0))(t)
	near(t, "level", line.Mean(), 0.5, 1e-6)
}

// TestNothingIsChanged: inputs come back as they went in.
func TestNothingIsChanged(t *testing.T) {
	d := placements(60, 4, false)
	y, h, x, g := slices.Clone(d.Y), slices.Clone(d.H), slices.Clone(d.X[1]), slices.Clone(d.Group)
	m := overageModel()
	r, mean := slices.Clone(m.GridR), slices.Clone(m.Mean)
	post := must(m.Fit(d))(t)
	if _, _, err := m.FitStudent(d, 4); err != nil {
		t.Fatal(err)
	}
	_, _ = OneWayREML(d.X, d.Y, d.Group)
	_, _ = OneWayANOVA(d.Y, d.Group)
	weights := post.GridWeights()
	weights[0] = 7
	if post.Cells[0].Weight == 7 {
		t.Error("the posterior's weights can be changed from outside")
	}
	if !floats.Equal(y, d.Y) || !floats.Equal(h, d.H) || !floats.Equal(x, d.X[1]) || !slices.Equal(g, d.Group) || !floats.Equal(r, m.GridR) || !floats.Equal(mean, m.Mean) {
		t.Error("an input was changed")
	}
	ungrouped := d
	ungrouped.Group = nil
	if fit := must(m.Fit(ungrouped))(t); len(fit.Cells) != len(m.GridKappa) || len(m.GridR) != 9 {
		t.Errorf("without groups %d cells, grid of r now %v", len(fit.Cells), m.GridR)
	}
}

// TestNeverNaN throws small and rough data at every method: an answer is finite,
// and what is no answer is an error.
func TestNeverNaN(t *testing.T) {
	value := rapid.OneOf(rapid.SampledFrom([]float64{0, 1, 1, 2, -1, 1e-300, 1e150, 1e-9, 1e9}), rapid.Float64Range(-3, 3))
	size := rapid.SampledFrom([]float64{1, 2, 0.5, 1e9, 1e-9})
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 7).Draw(t, "n")
		list := func(g *rapid.Generator[float64], name string) []float64 {
			return rapid.SliceOfN(g, n, n).Draw(t, name)
		}
		y, w := list(value, "y"), list(size, "w")
		count := list(rapid.SampledFrom([]float64{0, 0, 1, 2, 7, 1e6}), "count")
		group := rapid.SliceOfN(rapid.IntRange(0, 2), n, n).Draw(t, "group")
		finite := func(what string, err error, numbers func() []float64) {
			if err == nil {
				if bad := stat.Finite(what, numbers()...); bad != nil {
					t.Error(bad)
				}
			}
		}
		m := unit([]float64{0, 1, 3}, []float64{0, 2})
		post, err := m.Fit(Data{X: regress.Design{regress.Ones(n)}, Y: y, H: w, Group: group, Weight: w})
		finite("engine", err, func() []float64 {
			next, err := post.Predict([]float64{1}, 1, 0)
			if err != nil {
				return nil
			}
			return append(post.GridWeights(), next.Mean(), next.Quantile(0.1), next.Quantile(0.9), next.CDF(0), next.ExpectedAbove(1))
		})
		rates, err := GammaPoisson(count, w)
		finite("rates", err, func() []float64 {
			if rates.Pooled {
				return []float64{rates.LogLik, rates.PooledRate}
			}
			return []float64{rates.A, rates.B, rates.LogLik, rates.BetweenVar}
		})
		grid, err := GammaPoissonGrid(count, w, DefaultRatePrior())
		finite("grid of rates", err, func() []float64 {
			law := grid.New()
			return append(grid.Weight, law.Mean(), law.Quantile(0.05), law.Quantile(0.95))
		})
		trials := make([]float64, n)
		for i := range trials {
			trials[i] = count[i] + w[i]
		}
		shares, err := BetaBinomial(count, trials)
		finite("shares", err, func() []float64 {
			if shares.Pooled {
				return []float64{shares.LogLik, shares.PooledShare}
			}
			return []float64{shares.A, shares.B, shares.LogLik}
		})
		for _, method := range []func(y, v []float64) (*NormalFit, error){DerSimonianLaird, PauleMandel, NormalREML} {
			f, err := method(y, w)
			finite("levels", err, func() []float64 { return append(f.Shrunk, f.Tau2, f.Mu, f.SEMu, f.PredSD, f.Q) })
		}
		half, err := HalfCauchy(y, w, 1, 10)
		finite("half-Cauchy", err, func() []float64 { return []float64{half.MeanTau(), half.Mu().Mean(), half.New().Var()} })
		reml, err := OneWayREML(regress.Design{regress.Ones(n)}, y, group)
		finite("REML", err, func() []float64 { return append(reml.Effects, reml.Tau2, reml.Sigma2, reml.SE[0], reml.RemlLogLik) })
		v, err := OneWayANOVA(y, group)
		finite("ANOVA", err, func() []float64 { return []float64{v.F, v.P, v.Tau2, v.Sigma2} })
		stein, err := JamesStein(y, 1)
		finite("James-Stein", err, func() []float64 { return append(stein.Estimates, stein.Shrink) })
		c, err := BuhlmannStraub([][]float64{y, w}, [][]float64{w, w})
		finite("credibility", err, func() []float64 { return append(c.Premium, c.Within, c.Between) })
	})
}
