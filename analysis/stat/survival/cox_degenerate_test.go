package survival

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"pourback/analysis/stat"
)

// eight rows that have an answer, to be spoilt one way at a time.
func eight() CoxData {
	return CoxData{
		Time:  []float64{1, 2, 3, 4, 5, 6, 7, 8},
		Event: []bool{true, false, true, true, false, true, false, true},
		X:     [][]float64{{0, 1, 1, 0, 1, 0, 0, 1}, {50, 60, 70, 90, 80, 55, 65, 75}},
		Names: []string{"rebar", "temperature"},
	}
}

func TestCoxRefuses(t *testing.T) {
	nan, far := math.NaN(), math.Inf(1)
	for _, c := range []struct {
		name  string
		spoil func(*CoxData, *CoxOptions)
		want  error
	}{
		{"nothing", func(d *CoxData, o *CoxOptions) { *d = CoxData{} }, stat.ErrNoData},
		{"no columns", func(d *CoxData, o *CoxOptions) { d.X, d.Names = nil, nil }, stat.ErrNoData},
		{"short column", func(d *CoxData, o *CoxOptions) { d.X[1] = d.X[1][:7] }, stat.ErrShape},
		{"short events", func(d *CoxData, o *CoxOptions) { d.Event = d.Event[:7] }, stat.ErrShape},
		{"names", func(d *CoxData, o *CoxOptions) { d.Names = d.Names[:1] }, stat.ErrShape},
		{"strata", func(d *CoxData, o *CoxOptions) { d.Stratum = []int{1} }, stat.ErrShape},
		{"clusters", func(d *CoxData, o *CoxOptions) { d.Cluster = []int{1} }, stat.ErrShape},
		{"weights", func(d *CoxData, o *CoxOptions) { d.Weight = []float64{1} }, stat.ErrShape},
		{"NaN time", func(d *CoxData, o *CoxOptions) { d.Time[3] = nan }, stat.ErrNotFinite},
		{"negative time", func(d *CoxData, o *CoxOptions) { d.Time[3] = -1 }, stat.ErrDomain},
		{"NaN covariate", func(d *CoxData, o *CoxOptions) { d.X[0][3] = nan }, stat.ErrNotFinite},
		{"infinite covariate", func(d *CoxData, o *CoxOptions) { d.X[0][3] = far }, stat.ErrNotFinite},
		{"huge covariate", func(d *CoxData, o *CoxOptions) { d.X[0][3] = 1e300 }, stat.ErrDomain},
		{"negative weight", func(d *CoxData, o *CoxOptions) { d.Weight = []float64{1, 1, -1, 1, 1, 1, 1, 1} }, stat.ErrDomain},
		{"infinite weight", func(d *CoxData, o *CoxOptions) { d.Weight = []float64{1, 1, far, 1, 1, 1, 1, 1} }, stat.ErrNotFinite},
		{"all censored", func(d *CoxData, o *CoxOptions) { d.Event = make([]bool, 8) }, stat.ErrNoEvents},
		{"no weight on events", func(d *CoxData, o *CoxOptions) { d.Weight = []float64{0, 1, 0, 0, 1, 0, 1, 0} }, stat.ErrNoEvents},
		{"constant column", func(d *CoxData, o *CoxOptions) { d.X[0] = []float64{.1, .1, .1, .1, .1, .1, .1, .1} }, stat.ErrNoVariation},
		{"one row", func(d *CoxData, o *CoxOptions) {
			*d = CoxData{Time: []float64{1}, Event: []bool{true}, X: [][]float64{{1}}}
		}, stat.ErrNoVariation},
		{"nobody else at risk", func(d *CoxData, o *CoxOptions) {
			d.Event = []bool{false, false, false, false, false, false, false, true}
		}, stat.ErrNoVariation},
		{"the same column twice", func(d *CoxData, o *CoxOptions) { d.X[1] = d.X[0] }, stat.ErrCollinear},
		{"arms that sum to one", func(d *CoxData, o *CoxOptions) {
			d.X[1] = []float64{1, 0, 0, 1, 0, 1, 1, 0}
		}, stat.ErrCollinear},
		{"all events in one arm", func(d *CoxData, o *CoxOptions) {
			d.X[0] = []float64{1, 0, 1, 1, 0, 1, 0, 1}
		}, stat.ErrSeparated},
		{"the same with a prior elsewhere", func(d *CoxData, o *CoxOptions) {
			d.X[0] = []float64{1, 0, 1, 1, 0, 1, 0, 1}
			o.Priors = []NormalPrior{{Contrast: []float64{0, 1}, SD: 1}}
		}, stat.ErrSeparated},
		{"no such ties", func(d *CoxData, o *CoxOptions) { o.Ties = 5 }, stat.ErrDomain},
		{"Firth with Efron", func(d *CoxData, o *CoxOptions) { o.Firth = true }, stat.ErrDomain},
		{"prior of no width", func(d *CoxData, o *CoxOptions) { o.Priors = []NormalPrior{{Contrast: []float64{1, 0}}} }, stat.ErrDomain},
		{"prior on three", func(d *CoxData, o *CoxOptions) { o.Priors = []NormalPrior{{Contrast: []float64{1, 0, 0}, SD: 1}} }, stat.ErrShape},
		{"prior about NaN", func(d *CoxData, o *CoxOptions) {
			o.Priors = []NormalPrior{{Contrast: []float64{1, 0}, Mean: nan, SD: 1}}
		}, stat.ErrNotFinite},
	} {
		d, o := eight(), CoxOptions{}
		c.spoil(&d, &o)
		if _, err := FitCox(d, o); !errors.Is(err, c.want) {
			t.Errorf("%s: %v, want %v", c.name, err, c.want)
		}
	}
}

// What has no maximum likelihood has one with Firth's penalty or with a prior.
func TestSeparationHasRemedies(t *testing.T) {
	d := eight()
	d.X[0] = []float64{1, 0, 1, 1, 0, 1, 0, 1}
	for _, o := range []CoxOptions{
		{Ties: Breslow, Firth: true},
		{Priors: []NormalPrior{{Contrast: []float64{1, 0}, SD: .5}}},
	} {
		c := fit(t, d, o)
		if !(c.Coef[0] > 0) || math.IsInf(c.Coef[0], 0) {
			t.Errorf("%+v: %v", o, c.Coef)
		}
		p, err := c.Profile(0, .95)
		if err != nil || !(p.Low < p.Value && p.Value < p.High) {
			t.Errorf("%+v: %+v %v", o, p, err)
		}
	}
}

// Without a penalty the profile may never fall so far on one side.
func TestProfileWithoutEnd(t *testing.T) {
	d := CoxData{Time: []float64{1, 2, 3, 4}, Event: []bool{true, true, false, false}, X: [][]float64{{1, 1, 1.2, 0}}}
	c := fit(t, d, CoxOptions{})
	p, err := c.Profile(0, .95)
	if err != nil {
		t.Fatal(err)
	}
	if !(0 <= p.Low && p.Low < p.Value && p.Value < p.High) {
		t.Errorf("%+v", p)
	}
	for _, column := range []int{-1, 1} {
		if _, err := c.Profile(column, .95); !errors.Is(err, stat.ErrDomain) {
			t.Errorf("column %d: %v", column, err)
		}
		if _, err := c.Wald(column, .95); !errors.Is(err, stat.ErrDomain) {
			t.Errorf("column %d: %v", column, err)
		}
	}
	if _, err := c.Profile(0, 1); !errors.Is(err, stat.ErrDomain) {
		t.Errorf("level 1: %v", err)
	}
}

func TestCoxAsksRefused(t *testing.T) {
	c := fit(t, eight(), CoxOptions{})
	for _, h := range []float64{-1, math.NaN(), math.Inf(1)} {
		if _, err := c.StandardisedRisk(h, Arm{0: 1}); err == nil {
			t.Errorf("horizon %v is answered", h)
		}
	}
	for _, arm := range []Arm{{2: 1}, {-1: 1}, {0: 1, 5: 0}} {
		if _, err := c.StandardisedRisk(5, arm); !errors.Is(err, stat.ErrDomain) {
			t.Errorf("arm %v: %v", arm, err)
		}
	}
	if _, err := c.StandardisedRisk(5, Arm{0: math.NaN()}); !errors.Is(err, stat.ErrNotFinite) {
		t.Errorf("arm NaN: %v", err)
	}
	if s, err := c.StandardisedRisk(400, Arm{0: 1}); err != nil || s.AtRisk != 0 || len(s.Warnings) != 1 {
		t.Errorf("past all follow-up: %+v %v", s, err)
	}
	if s, err := c.StandardisedRisk(5, Arm{0: 1e300}); err != nil || math.IsNaN(s.Risk[0]) {
		t.Errorf("arm far out: %+v %v", s, err)
	}
	if _, err := c.CumHazard([]float64{1}); !errors.Is(err, stat.ErrShape) {
		t.Errorf("short x: %v", err)
	}
	if _, err := c.CumHazard([]float64{math.NaN(), 1}); !errors.Is(err, stat.ErrNotFinite) {
		t.Errorf("NaN x: %v", err)
	}
	side := math.Copysign(1e300, c.Coef[0])
	if _, err := c.CumHazard([]float64{side, 70}); !errors.Is(err, stat.ErrDomain) {
		t.Errorf("x far out: %v", err)
	}
	for _, terms := range [][][]int{{{}}, {{2}}, {{-1}}} {
		if _, err := c.PropHazTest(terms); !errors.Is(err, stat.ErrDomain) {
			t.Errorf("terms %v: %v", terms, err)
		}
	}
	if _, err := c.Refit([]float64{1}); !errors.Is(err, stat.ErrShape) {
		t.Errorf("short weights: %v", err)
	}
	firth := fit(t, eight(), CoxOptions{Ties: Breslow, Firth: true})
	if _, err := firth.PropHazTest(nil); !errors.Is(err, stat.ErrDomain) {
		t.Errorf("proportional hazards with a penalty: %v", err)
	}
	oneDay := eight()
	for i := range oneDay.Time {
		oneDay.Time[i] = 3
	}
	if _, err := fit(t, oneDay, CoxOptions{}).PropHazTest(nil); !errors.Is(err, stat.ErrNoVariation) {
		t.Errorf("all on one day: %v", err)
	}
}

// Whatever comes in, there is a described error or numbers: hostile values of
// times, covariates and weights in all mixtures.
func TestCoxNeverNaN(t *testing.T) {
	hostile := []float64{0, 1, 1, 2, -1, 1e-300, 1e-8, 1e8, 1e150, -1e150, 1e300, math.NaN(), math.Inf(1)}
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 12).Draw(t, "n")
		value := func(most int) float64 { return hostile[rapid.IntRange(0, most).Draw(t, "value")] }
		wild := rapid.IntRange(3, len(hostile)-1).Draw(t, "how wild")
		d := CoxData{X: [][]float64{nil, nil}, Weight: []float64{}, Stratum: []int{}}
		for range n {
			d.Time = append(d.Time, math.Abs(value(wild)))
			d.Event = append(d.Event, rapid.Bool().Draw(t, "event"))
			d.X[0] = append(d.X[0], value(wild))
			d.X[1] = append(d.X[1], value(3))
			d.Weight = append(d.Weight, math.Abs(value(wild)))
			d.Stratum = append(d.Stratum, rapid.IntRange(0, 1).Draw(t, "stratum"))
		}
		d.Cluster = d.Stratum
		o := CoxOptions{Ties: rapid.SampledFrom([]Ties{Efron, Breslow}).Draw(t, "ties")}
		o.Firth = o.Ties == Breslow && rapid.Bool().Draw(t, "Firth")
		c, err := FitCox(d, o)
		if err != nil {
			return
		}
		if err := stat.Finite("fit", append(append(c.SE(), c.Coef...), c.LogLik, c.LogLikNull, c.Penalised, c.Score.ChiSq, c.Score.P)...); err != nil {
			t.Fatal(err)
		}
		p, err := c.Profile(0, .95)
		if err == nil && (math.IsNaN(p.Low) || math.IsNaN(p.High)) {
			t.Fatalf("%+v", p)
		}
		s, err := c.StandardisedRisk(1, Arm{0: 0}, Arm{0: 1})
		if err == nil && math.IsNaN(s.Risk[0]+s.Risk[1]) {
			t.Fatalf("%+v", s)
		}
		z, err := c.PropHazTest(nil)
		if err == nil && math.IsNaN(z.Global.ChiSq+z.Term[0].ChiSq+z.Term[1].P) {
			t.Fatalf("%+v", z)
		}
	})
}

// A column in tiny units has a hazard ratio per unit beyond any number.
func TestHazardRatioTooGreat(t *testing.T) {
	d := eight()
	for i := range d.X[1] {
		d.X[1][i] *= -1e-6
	}
	c := fit(t, d, CoxOptions{})
	if c.Coef[1] < 0 {
		for i := range d.X[1] {
			d.X[1][i] *= -1
		}
		c = fit(t, d, CoxOptions{})
	}
	if _, err := c.Wald(1, .95); !errors.Is(err, stat.ErrDomain) {
		t.Errorf("ratio e^%g: %v", c.Coef[1], err)
	}
}
