package regress

import (
	"errors"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/floats"
	"pgregory.net/rapid"

	"pourback/analysis/stat"
)

func only[T any](_ T, err error) error { return err }

func TestQuestionsWithoutAnswer(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	five := []float64{1, 2, 3, 4, 5}
	events := []float64{0, 1, 0, 1, 1}
	straight := []float64{3, 5, 7, 9, 11} // 1 + 2·five
	for name, c := range map[string]struct {
		got, want error
	}{
		"no rows":                      {only(OLS(Design{{}}, nil)), stat.ErrNoData},
		"no columns":                   {only(OLS(nil, five)), stat.ErrNoData},
		"one row":                      {only(OLS(Design{{1}}, []float64{2})), stat.ErrTooFew},
		"as many columns as rows":      {only(OLS(line([]float64{1, 2}), []float64{1, 2})), stat.ErrTooFew},
		"short column":                 {only(OLS(Design{{1, 2}}, five)), stat.ErrShape},
		"short weights":                {only(WLS(line(five), five, []float64{1})), stat.ErrShape},
		"NaN in a column":              {only(OLS(line([]float64{1, 2, nan, 4, 5}), five)), stat.ErrNotFinite},
		"infinite outcome":             {only(OLS(line(five), []float64{1, 2, inf, 4, 5})), stat.ErrNotFinite},
		"infinite weight":              {only(WLS(line(five), five, []float64{1, 1, inf, 1, 1})), stat.ErrNotFinite},
		"weight below zero":            {only(WLS(line(five), five, []float64{1, 1, -1, 1, 1})), stat.ErrDomain},
		"all weights zero":             {only(WLS(line(five), five, make([]float64, 5))), stat.ErrTooFew},
		"column twice":                 {only(OLS(Design{Ones(5), five, five}, five)), stat.ErrCollinear},
		"constant twice":               {only(OLS(Design{Ones(5), {7, 7, 7, 7, 7}}, five)), stat.ErrCollinear},
		"dummies that add up":          {only(Logistic(Design{Ones(5), {1, 1, 0, 0, 0}, {0, 0, 1, 1, 1}}, events, nil)), stat.ErrCollinear},
		"column of zeros":              {only(Poisson(Design{Ones(5), make([]float64, 5)}, five, nil)), stat.ErrCollinear},
		"no events":                    {only(Logistic(line(five), make([]float64, 5), nil)), stat.ErrNoEvents},
		"nothing but events":           {only(Logistic(line(five), Ones(5), nil)), stat.ErrNoVariation},
		"no events in an exposure":     {only(Poisson(line(five), make([]float64, 5), five)), stat.ErrNoEvents},
		"separated":                    {only(Logistic(line(five), []float64{0, 0, 1, 1, 1}, nil)), stat.ErrSeparated},
		"separated but for a tie":      {only(Logistic(line([]float64{1, 2, 3, 3, 5}), []float64{0, 0, 0, 1, 1}, nil)), stat.ErrSeparated},
		"no events in one arm":         {only(Logistic(line([]float64{0, 0, 0, 1, 1}), []float64{1, 0, 1, 0, 0}, nil)), stat.ErrSeparated},
		"no counts in one arm":         {only(Poisson(line([]float64{0, 0, 0, 1, 1}), []float64{1, 0, 4, 0, 0}, five)), stat.ErrSeparated},
		"half an event below zero":     {only(Logistic(line(five), []float64{-0.5, 1, 0, 1, 0}, nil)), stat.ErrDomain},
		"more events than trials":      {only(Logistic(line(five), events, []float64{1, 1, 1, 1, 0.5})), stat.ErrDomain},
		"events without an exposure":   {only(Poisson(line(five), five, []float64{1, 1, 1, 1, 0})), stat.ErrDomain},
		"fewer rows than coefficients": {only(Logistic(Design{{1, 1}, {0, 1}, {3, 1}}, []float64{0, 1}, nil)), stat.ErrTooFew},
		"Firth, collinear":             {only(Firth(Design{Ones(5), five, five}, events, nil)), stat.ErrCollinear},
		"Firth, NaN":                   {only(Firth(line(five), []float64{0, 1, nan, 1, 0}, nil)), stat.ErrNotFinite},
		"t through every row":          {only(StudentT(line(five), straight, 4)), stat.ErrNoVariation},
		"t, all outcomes tied":         {only(StudentT(Design{Ones(5)}, Ones(5), 4)), stat.ErrNoVariation},
		"t, most outcomes tied":        {only(StudentT(Design{Ones(9)}, []float64{1, 1, 1, 1, 1, 1, 1, 1, 4}, 4)), stat.ErrNoVariation},
		"Huber, most outcomes tied":    {only(Huber(line(append(make([]float64, 8), 1)), []float64{1, 1, 1, 1, 1, 1, 2, 3, 4}, 1.345)), stat.ErrNoVariation},
		"t with no freedom":            {only(StudentT(line(five), five, 0)), stat.ErrDomain},
		"variance of an exact line":    {only(VarianceLinear(line(five), straight, five)), stat.ErrNoVariation},
		"variance below zero":          {only(VarianceLinear(line(five), events, []float64{1, 1, -1, 1, 1})), stat.ErrDomain},
		"power of zero":                {only(VariancePower(line(five), events, []float64{1, 1, 0, 1, 1})), stat.ErrDomain},
		"power of a short column":      {only(VariancePower(line(five), events, []float64{1})), stat.ErrShape},
		"tolerance of one":             {only(ToleranceFactor(1, 0.9, 0.9)), stat.ErrTooFew},
		"tolerance of everything":      {only(ToleranceFactor(9, 1, 0.9)), stat.ErrDomain},
	} {
		if !errors.Is(c.got, c.want) {
			t.Errorf("%s: got %v, want %v", name, c.got, c.want)
		}
	}
}

func TestSeparationNamesColumns(t *testing.T) {
	x := Design{Ones(6), {3, 1, 4, 1, 5, 9}, {0, 0, 0, 1, 1, 1}}
	_, err := Logistic(x, []float64{1, 0, 1, 0, 0, 0}, nil)
	if err == nil || !strings.Contains(err.Error(), "2") {
		t.Errorf("column 2 is to blame, got %v", err)
	}
}

// TestWhatIsLeftOfTheFit checks the questions asked of a fit.
func TestWhatIsLeftOfTheFit(t *testing.T) {
	x := line([]float64{1, 2, 3, 4, 5})
	f := must(OLS(x, []float64{1, 3, 2, 5, 4}))(t)
	g := must(Logistic(x, []float64{0, 1, 0, 1, 1}, nil))(t)
	counts := must(Poisson(x, []float64{1, 2, 0, 4, 3}, nil))(t)
	firth := must(Firth(x, []float64{0, 1, 0, 1, 0}, nil))(t)
	_, _, outside := firth.Test(2, 0)
	_, _, infinite := firth.Test(1, math.Inf(1))
	for name, c := range map[string]struct{ got, want error }{
		"short row":           {only(f.At([]float64{1}, 1)), stat.ErrShape},
		"NaN in a row":        {only(f.At([]float64{1, math.NaN()}, 1)), stat.ErrNotFinite},
		"weightless":          {only(f.At([]float64{1, 2}, 0)), stat.ErrDomain},
		"mean beyond numbers": {only(f.LognormalMean([]float64{1, 1e6})), stat.ErrNotFinite},
		"coefficient":         {only(f.Interval(2, 0.9)), stat.ErrDomain},
		"rows of two lengths": {only(Standardise(g, x, line([]float64{1, 2}), 0.9)), stat.ErrShape},
		"level":               {only(f.Interval(1, 1)), stat.ErrDomain},
		"GLM level":           {only(g.Interval(1, 0, false)), stat.ErrDomain},
		"GLM coefficient":     {only(g.Interval(2, 0.9, true)), stat.ErrDomain},
		"Poisson risks":       {only(Standardise(counts, x, x, 0.9)), stat.ErrDomain},
		"no fit":              {only(Standardise(nil, x, x, 0.9)), stat.ErrDomain},
		"other columns":       {only(Standardise(g, Design{Ones(5)}, x, 0.9)), stat.ErrShape},
		"risk beyond numbers": {only(Standardise(g, x.With(1, 1e9), x, 0.9)), stat.ErrDomain},
		"Firth coefficient":   {outside, stat.ErrDomain},
		"Firth value":         {infinite, stat.ErrNotFinite},
		"Firth profile":       {only(firth.Profile(-1, 0.9)), stat.ErrDomain},
		"Firth level":         {only(firth.Profile(1, 7)), stat.ErrDomain},
	} {
		if !errors.Is(c.got, c.want) {
			t.Errorf("%s: got %v, want %v", name, c.got, c.want)
		}
	}
}

// TestFirthWhereLikelihoodIsLost: no events, nothing but events, separation.
func TestFirthWhereLikelihoodIsLost(t *testing.T) {
	x := line([]float64{1, 2, 3, 4, 5, 6})
	for name, y := range map[string][]float64{
		"no events":          make([]float64, 6),
		"nothing but events": Ones(6),
		"separated":          {0, 0, 0, 1, 1, 1},
	} {
		f := must(Firth(x, y, nil))(t)
		e := must(f.Profile(1, 0.95))(t)
		if err := stat.Finite(name, append(f.Coef, e.Low, e.High)...); err != nil || !(e.Low < e.Value && e.Value < e.High) {
			t.Errorf("%s: %v %v (%v)", name, f.Coef, e, err)
		}
	}
}

// TestExtremeWeights: weights over twenty orders of magnitude leave the line
// through the heavy rows.
func TestExtremeWeights(t *testing.T) {
	w := []float64{1e10, 1e-10, 1e10, 1e-10, 1e-10}
	f := must(WLS(line([]float64{1, 2, 3, 4, 5}), []float64{10, -50, 30, 7, 1e3}, w))(t)
	near(t, "intercept", f.Coef[0], 0, 1e-9)
	near(t, "slope", f.Coef[1], 10, 1e-9)
}

// TestNothingIsChanged: inputs come back as they went in.
func TestNothingIsChanged(t *testing.T) {
	cols := []float64{1, 2, 3, 4, 5, 6}
	y, w := []float64{0, 1, 0, 1, 1, 0}, []float64{1, 2, 1, 2, 1, 2}
	x := line(cols)
	_, _ = WLS(x, y, w)
	_, _ = Logistic(x, y, w)
	_, _ = Poisson(x, y, w)
	_, _ = Firth(x, y, w)
	_, _ = StudentT(x, y, 4)
	_, _ = Huber(x, y, 1.345)
	_, _ = VarianceLinear(x, y, w)
	_, _ = VariancePower(x, y, w)
	if !floats.Equal(x[1], []float64{1, 2, 3, 4, 5, 6}) || !floats.Equal(y, []float64{0, 1, 0, 1, 1, 0}) || !floats.Equal(w, []float64{1, 2, 1, 2, 1, 2}) || !floats.Equal(x[0], Ones(6)) {
		t.Error("an input was changed")
	}
}

// TestNeverNaN throws small and rough data at every method: an answer is finite,
// and what is no answer is an error.
func TestNeverNaN(t *testing.T) {
	value := rapid.OneOf(rapid.SampledFrom([]float64{0, 1, 1, 2, -1, 1e-300, 1e300, 1e-9, 1e9}), rapid.Float64Range(-3, 3))
	count := rapid.SampledFrom([]float64{0, 0, 1, 1, 2, 5, 1e9})
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 8).Draw(t, "n")
		x := Design{Ones(n), rapid.SliceOfN(value, n, n).Draw(t, "x")}
		y := rapid.SliceOfN(value, n, n).Draw(t, "y")
		c := rapid.SliceOfN(count, n, n).Draw(t, "counts")
		size := rapid.SliceOfN(rapid.SampledFrom([]float64{0, 1, 2, 1e9, 1e-9}), n, n).Draw(t, "size")
		finite := func(what string, err error, numbers func() []float64) {
			if err == nil {
				if bad := stat.Finite(what, numbers()...); bad != nil {
					t.Error(bad)
				}
			}
		}
		l, err := WLS(x, y, size)
		finite("least squares", err, func() []float64 { return append(l.Coef, append(l.SE, l.Sigma, l.R2)...) })
		g, err := Logistic(x, c, size)
		finite("logistic", err, func() []float64 {
			return append(g.Coef, append(g.SE, g.Deviance, g.LogLik, g.Phi, g.PPearson)...)
		})
		p, err := Poisson(x, c, size)
		finite("Poisson", err, func() []float64 {
			return append(p.Coef, append(p.QuasiSE, p.Deviance, p.LogLik, p.Phi, p.PPearson)...)
		})
		f, err := Firth(x, c, size)
		finite("Firth", err, func() []float64 { return append(f.Coef, append(f.SE, f.PenalizedLogLik)...) })
		s, err := StudentT(x, y, 4)
		finite("Student-t", err, func() []float64 { return append(s.Coef, append(s.SE, s.Scale, s.LogLik)...) })
		h, err := Huber(x, y, HuberTuning)
		finite("Huber", err, func() []float64 { return append(h.Coef, append(h.Weights, h.Scale)...) })
		power, err := VariancePower(x, y, each(math.Exp, x[1]))
		finite("power of size", err, func() []float64 {
			return append(power.Coef, append(power.SE, power.Theta, power.Sigma, power.RemlLogLik)...)
		})
		v, err := VarianceLinear(x, y, size)
		finite("variance", err, func() []float64 { return append(v.Coef, append(v.SE, v.Theta, v.Sigma, v.RemlLogLik)...) })
	})
}
