package control_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"

	"pourback/analysis/stat/control"
)

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

// series draws at least eight values that are not all alike.
func series() *rapid.Generator[[]float64] {
	return rapid.Custom(func(t *rapid.T) []float64 {
		xs := rapid.SliceOfN(rapid.Float64Range(0, 100), 8, 60).Draw(t, "xs")
		xs[0], xs[1] = 3+xs[0], 2
		return xs
	})
}

func TestXmRLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		xs := series().Draw(t, "xs")
		base := rapid.IntRange(8, len(xs)).Draw(t, "base")
		shift, scale := rapid.Float64Range(-50, 50).Draw(t, "shift"), rapid.Float64Range(0.5, 20).Draw(t, "scale")
		before := slices.Clone(xs)
		c := drawn[control.Individuals](t)(control.XmR(xs, base))
		if !slices.Equal(xs, before) {
			t.Fatal("the input was changed")
		}
		moved, mirrored := make([]float64, len(xs)), make([]float64, len(xs))
		for i, x := range xs {
			moved[i], mirrored[i] = shift+scale*x, -x
		}
		m := drawn[control.Individuals](t)(control.XmR(moved, base))
		alike(t, "centre", m.Center, shift+scale*c.Center, 1e-10)
		alike(t, "natural limit", m.Natural.High, shift+scale*c.Natural.High, 1e-10)
		alike(t, "strict limit", m.Strict.Low, shift+scale*c.Strict.Low, 1e-10)
		alike(t, "median limit", m.ByMedian.Low, shift+scale*c.ByMedian.Low, 1e-10)
		back := drawn[control.Individuals](t)(control.XmR(mirrored, base))
		alike(t, "mirrored", -back.Natural.Low, c.Natural.High, 1e-12)
		if c.Strict.High <= c.Natural.High || c.Strict.Low >= c.Natural.Low {
			t.Fatalf("strict limits %v inside the natural %v", c.Strict, c.Natural)
		}
		if got := len(c.Signals.By(control.EightOnOneSide)) + len(c.Signals.By(control.TwoOfThree)); base < control.MinRunPoints && got > 0 {
			t.Fatalf("%d run signals from a base of %d", got, base)
		}
		// What comes after the base does not move the limits.
		first := drawn[control.Individuals](t)(control.XmR(xs[:base], base))
		alike(t, "limits of the base", first.Natural.High, c.Natural.High, 0)
	})
}

// The strict limit nears the 3-sigma limit as the base grows.
func TestStrictLimitOfALongBase(t *testing.T) {
	xs := make([]float64, 200_000)
	for i := range xs {
		xs[i] = float64(i * i % 7)
	}
	c := must[control.Individuals](t)(control.XmR(xs, len(xs)))
	near(t, "ratio", (c.Strict.High-c.Center)/(c.ThreeSigma.High-c.Center), 1, 1e-4)
}

// Effective degrees of freedom of mR̄, by matching its variance: with
// d = xᵢ − xᵢ₋₁ of correlation −½, in units of σ, E|d| = 2/√π, var|d| = 2 − 4/π
// and cov(|dᵢ|, |dᵢ₊₁|) = (4/π)(√¾ + ½·asin ½ − 1) (Nabeya 1951, from memory);
// ν = E²/(2·var mR̄). The chart takes .62(m−1).
func TestFreedomOfTheMovingRange(t *testing.T) {
	mean2 := 4 / math.Pi
	v, cov := 2-mean2, mean2*(math.Sqrt(0.75)+math.Asin(0.5)/2-1)
	for _, m := range []float64{8, 12, 24, 60} {
		n := m - 1
		nu := mean2 / (2 * (n*v + 2*(n-1)*cov) / (n * n))
		near(t, "ν/(m−1)", nu/n, 0.62, 0.016)
	}
}

// Of years judged by limits from the twelve months before, some 16 % give a
// false signal by the 2.66 limits and some 1.5 % by the strict ones: figures
// found apart by the same simulation in R.
func TestFalseSignalsOfAYear(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 12))
	const years = 20_000
	counts := map[control.Rule]float64{}
	xs := make([]float64, 24)
	for range years {
		for i := range xs {
			xs[i] = r.NormFloat64()
		}
		c := must[control.Individuals](t)(control.XmR(xs, 12))
		for _, rule := range []control.Rule{control.BeyondLimits, control.BeyondStrict} {
			if points := c.Signals.By(rule); len(points) > 0 && points[len(points)-1] >= 12 {
				counts[rule]++
			}
		}
	}
	near(t, "worth a look", counts[control.BeyondLimits]/years, 0.16, 0.01)
	near(t, "a real change", counts[control.BeyondStrict]/years, 0.015, 0.004)
}

// Champ & Woodall (1987), Technometrics 29:393: with the centre and sigma
// known, one false signal in 370.4 points by 3-sigma limits alone, in 91.75
// with the run rules.
func TestRunLengthOfRunRules(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 1))
	const series, length = 4000, 1200
	xs := make([]float64, length)
	var sum float64
	for range series {
		for i := range xs {
			xs[i] = r.NormFloat64()
		}
		first := length
		for i, x := range xs {
			if math.Abs(x) > 3 {
				first = i
				break
			}
		}
		for _, s := range control.RunSignals(xs[:first], 0, 1) {
			first = min(first, s.Index)
		}
		sum += float64(first + 1)
	}
	near(t, "average run length", sum/series, 91.75, 4)
}

func TestAttributeLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(8, 40).Draw(t, "points")
		trials := rapid.SliceOfN(rapid.IntRange(2, 200), n, n).Draw(t, "trials")
		counts, rest, exposure := make([]int, n), make([]int, n), make([]float64, n)
		for i, m := range trials {
			counts[i] = rapid.IntRange(0, m-1).Draw(t, "count")
			rest[i], exposure[i] = m-counts[i], float64(m)/10
		}
		counts[0]++
		rest[0]--
		base := rapid.IntRange(8, n).Draw(t, "base")
		p := drawn[control.Attributes](t)(control.P(counts, trials, base))
		q := drawn[control.Attributes](t)(control.P(rest, trials, base))
		alike(t, "recoded centre", 1-q.Center, p.Center, 1e-12)
		alike(t, "recoded factor", q.SigmaZ, p.SigmaZ, 1e-9)
		u := drawn[control.Attributes](t)(control.U(counts, exposure, base))
		for i := range exposure {
			exposure[i] *= 5
		}
		other := drawn[control.Attributes](t)(control.U(counts, exposure, base))
		alike(t, "factor in another unit", other.SigmaZ, u.SigmaZ, 1e-9)
		for i, x := range counts {
			alike(t, "recoded limit", 1-q.Limits[i].High, p.Limits[i].Low, 1e-12)
			alike(t, "recoded tail", q.PUpper[i], p.PLower[i], 1e-9)
			alike(t, "limit in another unit", 5*other.Limits[i].High, u.Limits[i].High, 1e-12)
			b := distuv.Binomial{N: float64(trials[i]), P: p.Center}
			alike(t, "binomial tails", p.PLower[i]+p.PUpper[i]-1, b.Prob(float64(x)), 1e-10)
			y := distuv.Poisson{Lambda: u.Center * exposure[i] / 5}
			alike(t, "Poisson tails", u.PLower[i]+u.PUpper[i]-1, y.Prob(float64(x)), 1e-10)
		}
	})
}

// Counts that vary as chance allows have a Laney factor near 1; mixed rates
// drive it up and quiet the signals.
func TestLaneyFactor(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 5))
	const n = 5000
	plain, mixed, exposure := make([]int, n), make([]int, n), make([]float64, n)
	for i := range exposure {
		exposure[i] = 1 + r.Float64()
		plain[i] = int(distuv.Poisson{Lambda: 30 * exposure[i], Src: r}.Rand())
		mixed[i] = int(distuv.Poisson{Lambda: 30 * exposure[i] * math.Exp(0.4*r.NormFloat64()), Src: r}.Rand())
	}
	steady := must[control.Attributes](t)(control.U(plain, exposure, n))
	near(t, "factor", steady.SigmaZ, 1, 0.03)
	wild := must[control.Attributes](t)(control.U(mixed, exposure, n))
	if wild.SigmaZ < 2 {
		t.Errorf("factor %v of mixed rates, want well above 1", wild.SigmaZ)
	}
	classic, laney := len(wild.Signals.By(control.BeyondLimits)), len(wild.Signals.By(control.BeyondLaney))
	if laney*10 > classic {
		t.Errorf("%d signals by Laney's limits, %d without, want far fewer", laney, classic)
	}
}

// Nelson's power makes exponential gaps near normal: the 3-sigma limits are
// passed about as seldom as 1 in 370 (a floor of 0 takes away the low side).
func TestRareEventsLaws(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	gaps := make([]float64, 50_000)
	for i := range gaps {
		gaps[i] = 90 * r.ExpFloat64()
	}
	c := must[control.Gaps](t)(control.RareEvents(gaps, len(gaps)))
	near(t, "part beyond", float64(len(c.Signals.By(control.BeyondLimits)))/float64(len(gaps)), 0.0005, 0.0005)
	near(t, "part in the exponential tails", float64(len(c.Signals.By(control.ExactTail)))/float64(len(gaps)), 0.0027, 0.0008)

	rapid.Check(t, func(t *rapid.T) {
		gaps := series().Draw(t, "gaps")
		scale := rapid.Float64Range(0.1, 100).Draw(t, "scale")
		scaled := make([]float64, len(gaps))
		for i, x := range gaps {
			scaled[i] = scale * x
		}
		a := drawn[control.Gaps](t)(control.RareEvents(gaps, len(gaps)))
		b := drawn[control.Gaps](t)(control.RareEvents(scaled, len(gaps)))
		alike(t, "limit in another unit", b.Limits.High/scale, a.Limits.High, 1e-9)
		alike(t, "tail in another unit", b.PShorter[0], a.PShorter[0], 1e-9)
		if !(a.Limits.Low <= a.Center && a.Center <= a.Limits.High && a.Limits.High <= a.Strict.High) {
			t.Fatalf("limits %v, centre %v, strict %v out of order", a.Limits, a.Center, a.Strict)
		}
	})
}
