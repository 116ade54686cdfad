package interval_test

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"

	"pourback/analysis/stat"
	"pourback/analysis/stat/interval"
)

type method = func(int, int, float64) (stat.Estimate, error)

var proportionMethods = map[string]method{
	"Wilson": interval.Wilson, "Clopper-Pearson": interval.ClopperPearson, "Jeffreys": interval.Jeffreys,
}

func levels() *rapid.Generator[float64] { return rapid.Float64Range(0.5, 0.999) }

// drawn gets an answer that must exist within a property.
func drawn[T any](t *rapid.T) func(T, error) T {
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

func alike(t *rapid.T, what string, a, b, tol float64) {
	t.Helper()
	if a != b && !(math.Abs(a-b) <= tol*(1+math.Abs(b))) {
		t.Fatalf("%s: %.15g and %.15g", what, a, b)
	}
}

func TestProportionLaws(t *testing.T) {
	for name, f := range proportionMethods {
		t.Run(name, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				n := rapid.IntRange(1, 2000).Draw(t, "n")
				x := rapid.IntRange(0, n).Draw(t, "x")
				level := levels().Draw(t, "level")
				e := drawn[stat.Estimate](t)(f(x, n, level))
				if !(0 <= e.Low && e.Low <= e.Value && e.Value <= e.High && e.High <= 1) {
					t.Fatalf("%d of %d: %+v out of order", x, n, e)
				}
				failures := drawn[stat.Estimate](t)(f(n-x, n, level))
				alike(t, "recoded", 1-failures.High, e.Low, 1e-12)
				wide := drawn[stat.Estimate](t)(f(x, n, (1+level)/2))
				if wide.Low > e.Low || wide.High < e.High {
					t.Fatalf("a higher level gave a narrower interval: %+v in %+v", wide, e)
				}
				more := drawn[stat.Estimate](t)(f(4*x, 4*n, level))
				if more.High-more.Low >= e.High-e.Low {
					t.Fatalf("four times the trials did not narrow %+v: %+v", e, more)
				}
			})
		})
	}
}

// The limits of Wilson are where the score test just rejects.
func TestWilsonInvertsTheScoreTest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 500).Draw(t, "n")
		x := rapid.IntRange(1, n-1).Draw(t, "x")
		e := drawn[stat.Estimate](t)(interval.Wilson(x, n, 0.95))
		for _, p := range []float64{e.Low, e.High} {
			alike(t, "score", math.Abs(e.Value-p)/math.Sqrt(p*(1-p)/float64(n)), z95, 1e-9)
		}
	})
}

// coverage is the probability that f's interval of n trials holds p.
func coverage(t *testing.T, f method, n int, p, level float64) float64 {
	var sum float64
	for x := 0; x <= n; x++ {
		e := must[stat.Estimate](t)(f(x, n, level))
		if e.Low <= p && p <= e.High {
			sum += distuv.Binomial{N: float64(n), P: p}.Prob(float64(x))
		}
	}
	return sum
}

// Clopper-Pearson never covers less than its level; Wilson and Jeffreys do so
// on average (Brown, Cai & DasGupta 2001).
func TestProportionCoverage(t *testing.T) {
	for _, n := range []int{5, 20, 50} {
		mean := map[string]float64{}
		const grid = 199
		for i := range grid {
			p := (float64(i) + 1) / (grid + 1)
			for name, f := range proportionMethods {
				c := coverage(t, f, n, p, 0.95)
				mean[name] += c / grid
				if name == "Clopper-Pearson" && c < 0.95-1e-12 {
					t.Errorf("Clopper-Pearson covers %v at n %d, p %v", c, n, p)
				}
			}
		}
		if n >= 20 {
			near(t, "mean coverage of Wilson", mean["Wilson"], 0.95, 0.005)
			near(t, "mean coverage of Jeffreys", mean["Jeffreys"], 0.95, 0.005)
		}
	}
}

func TestClopperPearsonTails(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 400).Draw(t, "n")
		x := rapid.IntRange(1, n-1).Draw(t, "x")
		e := drawn[stat.Estimate](t)(interval.ClopperPearson(x, n, 0.9))
		low := distuv.Binomial{N: float64(n), P: e.Low}
		high := distuv.Binomial{N: float64(n), P: e.High}
		alike(t, "P(X ≥ x; low)", 1-low.CDF(float64(x-1)), 0.05, 1e-10)
		alike(t, "P(X ≤ x; high)", high.CDF(float64(x)), 0.05, 1e-10)
	})
}

func TestGarwoodLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		y := rapid.IntRange(0, 500).Draw(t, "y")
		exposure := rapid.Float64Range(0.01, 1e4).Draw(t, "exposure")
		e := drawn[stat.Estimate](t)(interval.Garwood(y, exposure, 0.9))
		unit := drawn[stat.Estimate](t)(interval.Garwood(y, 1, 0.9))
		alike(t, "low scaled", e.Low*exposure, unit.Low, 1e-12)
		alike(t, "high scaled", e.High*exposure, unit.High, 1e-12)
		alike(t, "P(Y ≤ y; high)", distuv.Poisson{Lambda: unit.High}.CDF(float64(y)), 0.05, 1e-10)
		if y > 0 {
			alike(t, "P(Y ≥ y; low)", 1-distuv.Poisson{Lambda: unit.Low}.CDF(float64(y-1)), 0.05, 1e-10)
		}
		// Rare events in very many trials are Poisson.
		const n = 100_000_000
		c := drawn[stat.Estimate](t)(interval.ClopperPearson(y, n, 0.9))
		alike(t, "low of many trials", c.Low*n, unit.Low, 1e-4)
		alike(t, "high of many trials", c.High*n, unit.High, 1e-4)
	})
}

func TestStudentQuantileLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		nu := math.Exp(rapid.Float64Range(math.Log(0.5), math.Log(1e8)).Draw(t, "log ν"))
		p := rapid.Float64Range(1e-6, 0.49).Draw(t, "p")
		q := drawn[float64](t)(interval.StudentQuantile(p, nu))
		up := drawn[float64](t)(interval.StudentQuantile(1-p, nu))
		alike(t, "mirrored", -up, q, 1e-9)
		more := drawn[float64](t)(interval.StudentQuantile(p, 2*nu))
		if q > more*(1-1e-11) && nu < 1e6 {
			t.Fatalf("more degrees of freedom moved %v out to %v", q, more)
		}
		if z := distuv.UnitNormal.Quantile(p); q > z*(1-1e-12) {
			t.Fatalf("t %v is nearer than normal %v", q, z)
		}
		if nu < 200 {
			alike(t, "distribution function", distuv.StudentsT{Sigma: 1, Nu: nu}.CDF(q)/p, 1, 1e-9)
		}
	})
}

// moderate draws values in whose sums rounding is small.
func moderate() *rapid.Generator[float64] { return rapid.Float64Range(-100, 100) }

// spread draws at least two values that are not all alike.
func spread(positive bool) *rapid.Generator[[]float64] {
	return rapid.Custom(func(t *rapid.T) []float64 {
		low := -100.0
		if positive {
			low = 0.1
		}
		xs := rapid.SliceOfN(rapid.Float64Range(low, 100), 2, 40).Draw(t, "xs")
		xs[0], xs[1] = 3+math.Abs(xs[0]), 2
		return xs
	})
}

func affine(xs []float64, shift, scale float64) []float64 {
	ys := make([]float64, len(xs))
	for i, x := range xs {
		ys[i] = shift + scale*x
	}
	return ys
}

func TestMeanTLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		xs := spread(false).Draw(t, "xs")
		shift, scale := moderate().Draw(t, "shift"), rapid.Float64Range(0.1, 50).Draw(t, "scale")
		e := drawn[stat.Estimate](t)(interval.MeanT(xs, 0.9))
		moved := drawn[stat.Estimate](t)(interval.MeanT(affine(xs, shift, scale), 0.9))
		alike(t, "low", moved.Low, shift+scale*e.Low, 1e-9)
		alike(t, "high", moved.High, shift+scale*e.High, 1e-9)
		ys := slices.Clone(xs)
		slices.Sort(ys)
		alike(t, "any order", drawn[stat.Estimate](t)(interval.MeanT(ys, 0.9)).High, e.High, 1e-10)
	})
}

func TestRatioLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		num := spread(true).Draw(t, "num")
		scale := rapid.Float64Range(0.1, 10).Draw(t, "scale")
		den := rapid.SliceOfN(rapid.Float64Range(0.5, 20), len(num), len(num)).Draw(t, "den")
		constant := affine(num, scale, 0)

		// One size of job: the ratio of totals is the mean of num, scaled.
		mean := drawn[stat.Estimate](t)(interval.MeanT(num, 0.9))
		e := drawn[stat.Estimate](t)(interval.Ratio(num, constant, 0.9))
		alike(t, "low", e.Low*scale, mean.Low, 1e-9)
		alike(t, "high", e.High*scale, mean.High, 1e-9)

		r, se, err := interval.RatioSE(num, den)
		r2, se2, err2 := interval.RatioSE(affine(num, 0, scale), den)
		if err != nil || err2 != nil {
			t.Fatal(err, err2)
		}
		alike(t, "ratio scaled", r2, r*scale, 1e-10)
		alike(t, "error scaled", se2, se*scale, 1e-9)

		m, sd, _ := interval.MeanLogRatio(num, den)
		back, sd2, _ := interval.MeanLogRatio(den, num)
		alike(t, "log ratio turned over", back, -m, 1e-12)
		alike(t, "its spread", sd2, sd, 1e-9)
	})
}

func TestQuantileIntervalLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 150).Draw(t, "n")
		xs := rapid.SliceOfN(moderate(), n, n).Draw(t, "xs")
		p, level := rapid.Float64Range(0.02, 0.98).Draw(t, "p"), levels().Draw(t, "level")
		q := drawn[interval.QuantileEstimate](t)(interval.QuantileInterval(xs, p, level))
		if q.Coverage < level-1e-12 || q.Coverage > 1 {
			t.Fatalf("coverage %v at level %v", q.Coverage, level)
		}
		if q.Low > q.High || q.LowRank >= q.HighRank {
			t.Fatalf("%+v out of order", q)
		}
		grown := drawn[interval.QuantileEstimate](t)(interval.QuantileInterval(affine(xs, 7, 2), p, level))
		alike(t, "low", grown.Low, 7+2*q.Low, 1e-12)
		alike(t, "high", grown.High, 7+2*q.High, 1e-12)
		alike(t, "value", grown.Value, 7+2*q.Value, 1e-12)
	})
}

// Of n+1 exchangeable values the last is at or under the bound for exactly
// rank of n+1 places it may take, and one rank less would not reach the level.
func TestConformalLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 60).Draw(t, "n")
		level := rapid.Float64Range(0.01, float64(n)/float64(n+1)-1e-6).Draw(t, "level")
		all := rapid.Permutation(ascendingTo(n+1)).Draw(t, "values")
		under := 0
		for i := range all {
			c := drawn[interval.Conformal](t)(interval.ConformalUpper(slices.Delete(slices.Clone(all), i, i+1), level))
			if all[i] <= c.Bound {
				under++
			}
		}
		if got := float64(under) / float64(n+1); got < level-1e-9 || got-1/float64(n+1) >= level {
			t.Fatalf("%d of %d under the bound at level %v", under, n+1, level)
		}
	})
}

func ascendingTo(n int) []float64 {
	xs := make([]float64, n)
	for i := range xs {
		xs[i] = float64(i + 1)
	}
	return xs
}

func TestEValueLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rapid.Float64Range(1.0001, 50).Draw(t, "ratio")
		low := rapid.Float64Range(0.1, r).Draw(t, "low")
		v, l, err := interval.EValue(stat.Estimate{Value: r, Low: low, High: 2 * r})
		v2, l2, err2 := interval.EValue(stat.Estimate{Value: 1 / r, Low: 1 / (2 * r), High: 1 / low})
		if err != nil || err2 != nil {
			t.Fatal(err, err2)
		}
		alike(t, "turned over", v2, v, 1e-9)
		alike(t, "limit turned over", l2, l, 1e-9)
		// The bounding factor E²/(2E−1) of two such ties is the ratio itself.
		alike(t, "bounding factor", v*v/(2*v-1), r, 1e-12)
		if l > v || l < 1 || (low <= 1) != (l == 1) {
			t.Fatalf("limit %v of E-value %v, ratio %v from %v", l, v, r, low)
		}
	})
}

func TestHurdleLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		xs := spread(true).Draw(t, "xs")
		zeros := rapid.IntRange(0, 40).Draw(t, "zeros")
		scale := rapid.Float64Range(0.1, 10).Draw(t, "scale")
		with := append(make([]float64, zeros), xs...)
		h := drawn[interval.Hurdle](t)(interval.HurdleLognormal(with, 0.9))
		alike(t, "part above 0", h.PAny, float64(len(xs))/float64(len(with)), 1e-15)
		big := drawn[interval.Hurdle](t)(interval.HurdleLognormal(affine(with, 0, scale), 0.9))
		alike(t, "mean scaled", big.Mean/h.Mean, scale, 1e-9)
		alike(t, "low scaled", big.PositiveMean.Low/h.PositiveMean.Low, scale, 1e-9)
		alike(t, "spread", big.SDLog, h.SDLog, 1e-9)
		last := 0.0
		for p := 0.05; p < 1; p += 0.05 {
			q := drawn[float64](t)(h.Quantile(p))
			if q < last || (q == 0) != (p <= 1-h.PAny) {
				t.Fatalf("quantile %v is %v after %v, part above 0 %v", p, q, last, h.PAny)
			}
			last = q
		}
	})
}
