package regress

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

// sample is a regression drawn at random: an intercept and up to three columns.
type sample struct {
	x    Design
	y, w []float64
	rng  *rand.Rand
}

func draw(t *rapid.T) sample {
	n := rapid.IntRange(12, 60).Draw(t, "n")
	p := rapid.IntRange(1, 3).Draw(t, "p")
	rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "draw"), 1))
	s := sample{x: Design{Ones(n)}, rng: rng}
	for range p {
		column := make([]float64, n)
		for i := range column {
			column[i] = rng.NormFloat64()
		}
		s.x = append(s.x, column)
	}
	for range n {
		s.y = append(s.y, 3+2*rng.NormFloat64())
		s.w = append(s.w, 0.1+rng.Float64())
	}
	return s
}

// events draws zeros and ones, or counts, with means the columns move.
func (s sample) events() []float64 {
	y := make([]float64, len(s.y))
	for i := range y {
		if s.rng.Float64() < expit(0.7*s.x[1][i]) {
			y[i] = 1
		}
	}
	y[0], y[1] = 0, 1
	return y
}

// reorder returns the rows from last to first.
func (s sample) reorder() sample {
	back := func(xs []float64) []float64 {
		out := append([]float64(nil), xs...)
		slices.Reverse(out)
		return out
	}
	r := sample{y: back(s.y), w: back(s.w), rng: s.rng}
	for _, column := range s.x {
		r.x = append(r.x, back(column))
	}
	return r
}

// recoded returns the design with the second column replaced by 10−3 times it,
// plus the intercept: the same model in other units.
func (s sample) recoded() Design {
	x := append(Design(nil), s.x...)
	x[1] = each(func(v float64) float64 { return 10 - 3*v }, s.x[1])
	return x
}

func closeTo(t *rapid.T, what string, got, want []float64, tolerance float64) {
	t.Helper()
	for i := range want {
		if !(math.Abs(got[i]-want[i]) <= tolerance*(1+math.Abs(want[i]))) {
			t.Errorf("%s: got %v, want %v", what, got, want)
			return
		}
	}
}

// TestNormalEquations: the QR solution solves X'WXβ = X'Wy, and its covariance is
// σ²(X'WX)⁻¹, by gonum's dense algebra.
func TestNormalEquations(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := draw(t)
		f, err := WLS(s.x, s.y, s.w)
		if err != nil {
			t.Fatal(err)
		}
		p := len(s.x)
		a, b := mat.NewDense(p, p, nil), mat.NewVecDense(p, nil)
		for j := range s.x {
			wx := make([]float64, len(s.y))
			floats.MulTo(wx, s.x[j], s.w)
			b.SetVec(j, floats.Dot(wx, s.y))
			for k := range s.x {
				a.Set(j, k, floats.Dot(wx, s.x[k]))
			}
		}
		var beta mat.VecDense
		var inverse mat.Dense
		if beta.SolveVec(a, b) != nil || inverse.Inverse(a) != nil {
			t.Skip("ill-conditioned draw")
		}
		closeTo(t, "β", f.Coef, beta.RawVector().Data, 1e-9)
		for j := range s.x {
			closeTo(t, "variance", []float64{f.Cov.At(j, j)}, []float64{f.Sigma * f.Sigma * inverse.At(j, j)}, 1e-9)
		}
		closeTo(t, "Σleverage", []float64{trace(f, s)}, []float64{float64(p)}, 1e-12)
	})
}

func trace(f *Linear, s sample) float64 {
	hat := make([]float64, len(s.y))
	f.qr.leverages(s.x, hat)
	return floats.Sum(hat)
}

// TestOrderScaleAndCoding: every method is free of the order of rows, follows the
// scale of outcomes, and fits the same line whatever the coding of a column.
func TestOrderScaleAndCoding(t *testing.T) {
	methods := map[string]func(x Design, y, w []float64) ([]float64, error){
		"least squares": func(x Design, y, w []float64) ([]float64, error) { return coefs(WLS(x, y, w)) },
		"Student-t": func(x Design, y, _ []float64) ([]float64, error) {
			f, err := StudentT(x, y, 4)
			return coefOf(f), err
		},
		"variance": func(x Design, y, w []float64) ([]float64, error) {
			f, err := VarianceLinear(x, y, w)
			if err != nil {
				return nil, err
			}
			return f.Coef, nil
		},
	}
	for name, method := range methods {
		t.Run(name, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				s := draw(t)
				beta, err := method(s.x, s.y, s.w)
				if err != nil {
					t.Fatal(err)
				}
				back := s.reorder()
				again, err := method(back.x, back.y, back.w)
				if err != nil {
					t.Fatal(err)
				}
				closeTo(t, "rows reversed", again, beta, 1e-7)
				scaled, err := method(s.x, each(func(v float64) float64 { return 1000 * v }, s.y), s.w)
				if err != nil {
					t.Fatal(err)
				}
				closeTo(t, "outcomes times 1000", each(func(b float64) float64 { return b / 1000 }, scaled), beta, 1e-7)
				coded, err := method(s.recoded(), s.y, s.w)
				if err != nil {
					t.Fatal(err)
				}
				closeTo(t, "recoded slope", []float64{-3 * coded[1], coded[0] + 10*coded[1]}, []float64{beta[1], beta[0]}, 1e-7)
			})
		})
	}
}

func coefs(f *Linear, err error) ([]float64, error) {
	if err != nil {
		return nil, err
	}
	return f.Coef, nil
}

func coefOf(f *Robust) []float64 {
	if f == nil {
		return nil
	}
	return f.Coef
}

// TestScoreIsZero: at the maximum of a logistic or Poisson likelihood the
// residuals are orthogonal to every column, trials grouped or not.
func TestScoreIsZero(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := draw(t)
		y := s.events()
		f, err := Logistic(s.x, y, nil)
		if err != nil {
			t.Skip(err) // separated draws are tested elsewhere
		}
		counts := make([]float64, len(y))
		for i := range counts {
			counts[i] = math.Floor(6 * s.rng.Float64())
		}
		counts[0] = 1
		g, err := Poisson(s.x, counts, s.w)
		if err != nil {
			t.Skip(err)
		}
		for j := range s.x {
			logistic, poisson := 0.0, 0.0
			for i := range y {
				logistic += (y[i] - f.Fitted[i]) * s.x[j][i]
				poisson += (counts[i] - g.Fitted[i]) * s.x[j][i]
			}
			closeTo(t, "scores", []float64{logistic, poisson}, []float64{0, 0}, 1e-9)
		}
		twice := append(Design(nil), s.x...)
		for j := range twice {
			twice[j] = append(append([]float64(nil), s.x[j]...), s.x[j]...)
		}
		single, err := Logistic(twice, append(append([]float64(nil), y...), y...), nil)
		if err != nil {
			t.Fatal(err)
		}
		doubled, err := Logistic(s.x, each(func(v float64) float64 { return 2 * v }, y), each(func(float64) float64 { return 2 }, y))
		if err != nil {
			t.Fatal(err)
		}
		closeTo(t, "grouped trials", doubled.Coef, single.Coef, 1e-10)
		closeTo(t, "their errors", doubled.SE, single.SE, 1e-9)
	})
}

// TestFirthAgainstLikelihood: at the penalised maximum the modified score is zero
// (checked by differences of the likelihood), profile limits are where the test
// says so, and with many copies of the data the estimate goes to maximum
// likelihood's.
func TestFirthAgainstLikelihood(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := draw(t)
		y := s.events()
		f, err := Firth(s.x, y, nil)
		if err != nil {
			t.Fatal(err)
		}
		for j := range f.Coef {
			for _, step := range []float64{-1e-3, 1e-3} {
				beta := append([]float64(nil), f.Coef...)
				beta[j] += step * f.SE[j]
				ll, err := f.model.logLik(beta)
				if err != nil {
					t.Fatal(err)
				}
				if ll > f.PenalizedLogLik {
					t.Errorf("coefficient %d: likelihood rises by %v", j, ll-f.PenalizedLogLik)
				}
			}
		}
		limits, err := f.Profile(1, 0.9)
		if err != nil {
			t.Fatal(err)
		}
		for _, b := range []float64{limits.Low, limits.High} {
			_, p, err := f.Test(1, b)
			if err != nil {
				t.Fatal(err)
			}
			closeTo(t, "p at a 90 % limit", []float64{p}, []float64{0.1}, 1e-8)
		}
		ml, err := Logistic(s.x, y, nil)
		if err != nil || floats.Norm(ml.Coef, math.Inf(1)) > 5 {
			return // separated, or nearly so
		}
		const many = 1e6
		times := func(v float64) float64 { return many * v }
		large, err := Firth(s.x, each(times, y), each(times, Ones(len(y))))
		if err != nil {
			t.Fatal(err)
		}
		closeTo(t, "a million copies", large.Coef, ml.Coef, 1e-3)
	})
}

// TestVarianceMaximum: no κ on a fine grid has a higher restricted likelihood.
func TestVarianceMaximum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := draw(t)
		fit, err := VarianceLinear(s.x, s.y, s.w)
		if err != nil {
			t.Fatal(err)
		}
		n := len(s.y)
		f := &varfun{x: s.x, y: s.y, h: s.w, qr: newQR(s.x), w: make([]float64, n), slope: make([]float64, n), hat: make([]float64, n), coef: make([]float64, len(s.x)), residual: make([]float64, n),
			model: func(kappa, h float64) (float64, float64) { return 1 + kappa*h, h / (1 + kappa*h) }}
		for k := 1e-3; k < MaxKappa; k *= 1.1 {
			ll, score, _, err := f.at(k)
			if err != nil {
				t.Fatal(err)
			}
			if ll > fit.RemlLogLik+1e-9 {
				t.Errorf("κ %v: %v is above %v at %v", k, ll, fit.RemlLogLik, fit.Theta)
			}
			up, _, _, _ := f.at(k * (1 + 1e-6))
			down, _, _, _ := f.at(k * (1 - 1e-6))
			closeTo(t, "slope of the likelihood", []float64{score * k}, []float64{(up - down) / 2e-6}, 1e-3)
		}
	})
}

// TestStudentToNormal: t errors with many degrees of freedom are normal errors,
// up to the divisor n of the maximum likelihood scale.
func TestStudentToNormal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := draw(t)
		f, err := StudentT(s.x, s.y, 1e9)
		if err != nil {
			t.Fatal(err)
		}
		ols, err := OLS(s.x, s.y)
		if err != nil {
			t.Fatal(err)
		}
		closeTo(t, "β", f.Coef, ols.Coef, 1e-6)
		closeTo(t, "scale", []float64{f.Scale}, []float64{ols.Sigma * math.Sqrt(float64(ols.DF)/float64(ols.N))}, 1e-6)
	})
}

// TestStandardiseWithoutConfounder: when the exposure is balanced over the other
// columns' values, standardising changes nothing: the risks are the crude ones.
func TestStandardiseWithoutConfounder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draws := rapid.SliceOfN(rapid.IntRange(1, 19), 2, 2).Draw(t, "events of 20")
		x := Design{Ones(4), {1, 1, 0, 0}, {0, 1, 0, 1}}
		a, b := float64(draws[0]), float64(draws[1])
		f, err := Logistic(x, []float64{a, a, b, b}, []float64{20, 20, 20, 20})
		if err != nil {
			t.Fatal(err)
		}
		s, err := Standardise(f, x.With(1, 1), x.With(1, 0), 0.9)
		if err != nil {
			t.Fatal(err)
		}
		closeTo(t, "risks", []float64{s.Risk1.Value, s.Risk0.Value}, []float64{a / 20, b / 20}, 1e-10)
		if !(s.Difference.Low <= s.Difference.Value && s.Difference.Value <= s.Difference.High) {
			t.Errorf("limits %v", s.Difference)
		}
	})
}

// TestToleranceMonotone: the factor falls with n, rises with content and with
// confidence, and its noncentral t is a distribution function with the central
// one at no shift.
func TestToleranceMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 200).Draw(t, "n")
		content := rapid.Float64Range(0.5, 0.99).Draw(t, "content")
		confidence := rapid.Float64Range(0.5, 0.99).Draw(t, "confidence")
		factor := func(n int, content, confidence float64) float64 {
			k, err := ToleranceFactor(n, content, confidence)
			if err != nil {
				t.Fatal(err)
			}
			return k
		}
		k := factor(n, content, confidence)
		if factor(n, content+0.005, confidence) <= k || factor(n, content, confidence+0.005) <= k {
			t.Errorf("n %d, content %v, confidence %v: %v does not rise", n, content, confidence, k)
		}
		x := rapid.Float64Range(-8, 8).Draw(t, "t")
		if got, want := noncentralT(x, float64(n), 0), NewStudent(float64(n)).CDF(x); math.Abs(got-want) > 1e-12 {
			t.Errorf("central t_%d at %v: %v, want %v", n, x, got, want)
		}
	})
}
