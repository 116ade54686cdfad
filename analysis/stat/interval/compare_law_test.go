package interval_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/combin"
	"pgregory.net/rapid"

	"pourback/analysis/stat"
	"pourback/analysis/stat/interval"
)

func drawTable(largest, least int) *rapid.Generator[interval.TwoProportions] {
	return rapid.Custom(func(t *rapid.T) interval.TwoProportions {
		n1 := rapid.IntRange(1+least, largest).Draw(t, "n1")
		n2 := rapid.IntRange(1+least, largest).Draw(t, "n2")
		return table(rapid.IntRange(least, n1-least).Draw(t, "x1"), n1, rapid.IntRange(least, n2-least).Draw(t, "x2"), n2)
	})
}

func swapped(p interval.TwoProportions) interval.TwoProportions {
	return table(p.X2, p.N2, p.X1, p.N1)
}

// Fisher's p by binomial coefficients, which are whole numbers here.
func TestFisherEqualsCounting(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawTable(20, 0).Draw(t, "table")
		m := p.X1 + p.X2
		ways := func(k int) float64 {
			return float64(combin.Binomial(p.N1, k)) * float64(combin.Binomial(p.N2, m-k))
		}
		var sum, total float64
		for k := max(0, m-p.N2); k <= min(p.N1, m); k++ {
			total += ways(k)
			if ways(k) <= ways(p.X1) {
				sum += ways(k)
			}
		}
		got := drawn[interval.Test](t)(interval.Fisher(p))
		alike(t, "p", got.P, sum/total, 1e-12)
		alike(t, "arms exchanged", drawn[interval.Test](t)(interval.Fisher(swapped(p))).P, got.P, 1e-12)
		recoded := table(p.N1-p.X1, p.N1, p.N2-p.X2, p.N2)
		alike(t, "outcomes exchanged", drawn[interval.Test](t)(interval.Fisher(recoded)).P, got.P, 1e-12)
	})
}

func TestRatiosTurnOver(t *testing.T) {
	methods := map[string]func(interval.TwoProportions, float64) (stat.Estimate, error){
		"risk ratio": interval.RiskRatio, "odds ratio": interval.OddsRatio,
	}
	for name, f := range methods {
		rapid.Check(t, func(t *rapid.T) {
			p, level := drawTable(80, 1).Draw(t, "table"), levels().Draw(t, "level")
			e := drawn[stat.Estimate](t)(f(p, level))
			back := drawn[stat.Estimate](t)(f(swapped(p), level))
			alike(t, name, 1/back.Value, e.Value, 1e-12)
			alike(t, name+" low", 1/back.High, e.Low, 1e-9)
			alike(t, name+" high", 1/back.Low, e.High, 1e-9)
			if !(0 < e.Low && e.Low <= e.Value*(1+1e-12) && e.Value <= e.High*(1+1e-12)) {
				t.Fatalf("%s %+v out of order", name, e)
			}
		})
	}
}

func TestDifferencesTurnOver(t *testing.T) {
	methods := map[string]func(interval.TwoProportions, float64) (stat.Estimate, error){
		"Newcombe": interval.Newcombe, "Miettinen-Nurminen": interval.MiettinenNurminen,
	}
	for name, f := range methods {
		rapid.Check(t, func(t *rapid.T) {
			p, level := drawTable(80, 0).Draw(t, "table"), levels().Draw(t, "level")
			e := drawn[stat.Estimate](t)(f(p, level))
			back := drawn[stat.Estimate](t)(f(swapped(p), level))
			alike(t, name+" low", -back.High, e.Low, 1e-10)
			alike(t, name+" high", -back.Low, e.High, 1e-10)
			if !(-1 <= e.Low && e.Low <= e.Value && e.Value <= e.High && e.High <= 1) {
				t.Fatalf("%s %+v out of order", name, e)
			}
		})
	}
}

// restrictedByCubic is the closed form in the appendix of Miettinen &
// Nurminen (1985): the maximum likelihood p2 when p1 = p2 + delta.
func restrictedByCubic(p interval.TwoProportions, delta float64) float64 {
	x1, n1, x2, n2 := float64(p.X1), float64(p.N1), float64(p.X2), float64(p.N2)
	n, x := n1+n2, x1+x2
	l3, l2 := n, (n1+2*n2)*delta-n-x
	l1, l0 := (n2*delta-n-2*x2)*delta+x, x2*delta*(1-delta)
	c := l2 / (3 * l3)
	q := c*c*c - l1*l2/(6*l3*l3) + l0/(2*l3)
	r := math.Copysign(math.Sqrt(c*c-l1/(3*l3)), q)
	a := (math.Pi + math.Acos(max(-1, min(1, q/(r*r*r))))) / 3
	return 2*r*math.Cos(a) - c
}

func TestMiettinenNurminenAgreesWithClosedForm(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawTable(60, 1).Draw(t, "table")
		e := drawn[stat.Estimate](t)(interval.MiettinenNurminen(p, 0.95))
		n1, n2 := float64(p.N1), float64(p.N2)
		for _, delta := range []float64{e.Low, e.High} {
			q2 := restrictedByCubic(p, delta)
			q1 := q2 + delta
			v := (q1*(1-q1)/n1 + q2*(1-q2)/n2) * (n1 + n2) / (n1 + n2 - 1)
			alike(t, "score at the limit", math.Abs(e.Value-delta)/math.Sqrt(v), z95, 1e-6)
		}
	})
}

// With n trials the two intervals of a difference are within order 1/n of
// that of Wald.
func TestDifferencesMeet(t *testing.T) {
	p := table(300_000, 1_000_000, 280_000, 1_000_000)
	half := z95 * math.Sqrt(0.3*0.7/1e6+0.28*0.72/1e6)
	for _, f := range []func(interval.TwoProportions, float64) (stat.Estimate, error){interval.Newcombe, interval.MiettinenNurminen} {
		nearLimits(t, must[stat.Estimate](t)(f(p, 0.95)), 0.02-half, 0.02+half, 1e-4*half)
	}
}

func drawRate() *rapid.Generator[interval.Rate] {
	return rapid.Custom(func(t *rapid.T) interval.Rate {
		return interval.Rate{
			Events: rapid.IntRange(0, 30).Draw(t, "events"), Exposure: rapid.Float64Range(0.1, 100).Draw(t, "exposure"),
		}
	})
}

func TestCompareRatesLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawRate().Draw(t, "a"), drawRate().Draw(t, "b")
		a.Events++
		b.Events++
		scale := rapid.Float64Range(0.01, 100).Draw(t, "scale")
		compare := drawn[interval.RateComparison](t)
		c := compare(interval.CompareRates(a, b, 0.9))
		back := compare(interval.CompareRates(b, a, 0.9))
		alike(t, "p", back.P, c.P, 1e-10)
		alike(t, "mid-p", back.MidP, c.MidP, 1e-10)
		alike(t, "low turned over", 1/back.High, c.Low, 1e-9)
		alike(t, "difference turned over", -back.Difference, c.Difference, 1e-12)
		a.Exposure *= scale
		b.Exposure *= scale
		other := compare(interval.CompareRates(a, b, 0.9))
		alike(t, "ratio in another unit", other.Ratio, c.Ratio, 1e-12)
		alike(t, "p in another unit", other.P, c.P, 1e-9)
		alike(t, "difference in another unit", other.Difference*scale, c.Difference, 1e-12)
		if !(c.Low <= c.Ratio && c.Ratio <= c.High && c.P <= 1 && c.MidP <= 1) {
			t.Fatalf("%+v out of order", c)
		}
	})
}

func TestEqualRatesLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rates := rapid.SliceOfN(drawRate(), 2, 4).Draw(t, "rates")
		for i := range rates {
			rates[i].Events %= 7
		}
		rates[0].Events++
		test := drawn[interval.RateTest](t)
		got := test(interval.EqualRates(rates))
		alike(t, "any order", test(interval.EqualRates(rapid.Permutation(rates).Draw(t, "order"))).P, got.P, 1e-9)
		if !(got.P > 0 && got.P <= 1 && got.X2 >= 0 && got.G2 >= 0) {
			t.Fatalf("%+v out of range", got)
		}
		for i := range rates {
			rates[i].Exposure *= 3
		}
		alike(t, "another unit", test(interval.EqualRates(rates)).P, got.P, 1e-9)
	})
}

// Over equal exposures the order by X² is that by probability, so two groups
// give the p-value of the conditional test.
func TestTwoEqualExposures(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := rapid.IntRange(0, 60).Draw(t, "a"), rapid.IntRange(1, 60).Draw(t, "b")
		x, y := interval.Rate{Events: a, Exposure: 4}, interval.Rate{Events: b, Exposure: 4}
		many := drawn[interval.RateTest](t)(interval.EqualRates([]interval.Rate{x, y}))
		two := drawn[interval.RateComparison](t)(interval.CompareRates(x, y, 0.9))
		alike(t, "p", many.P, two.P, 1e-9)
	})
}

// Exact and chi-squared p-values meet when expected counts are large, and
// past the stated number of ways the second answers and says so.
func TestEqualRatesFallsBack(t *testing.T) {
	rates := []interval.Rate{{Events: 430, Exposure: 1}, {Events: 480, Exposure: 1.1}, {Events: 500, Exposure: 1}}
	got := must[interval.RateTest](t)(interval.EqualRates(rates))
	if !got.Exact || len(got.Warnings) != 0 {
		t.Errorf("got %+v, want an exact answer", got)
	}
	near(t, "exact against approximate", got.P, got.PX2, 0.002)

	rates = append(rates, interval.Rate{Events: 450, Exposure: 1})
	got = must[interval.RateTest](t)(interval.EqualRates(rates))
	if got.Exact || got.P != got.PX2 || len(got.Warnings) != 1 || got.Tables != 0 {
		t.Errorf("got %+v, want the approximation and a warning", got)
	}
}
