package survival

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// The order of rows, the clock, the codes of strata and the units of columns
// do not matter: coefficients turn with their units.
func TestCoxRecoding(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := coxRowsDraw(t)
		o := CoxOptions{Ties: Breslow, Firth: rapid.Bool().Draw(t, "Firth")}
		c := fitOrSkip(t, d, o)
		e := CoxData{X: make([][]float64, 2)}
		for i := len(d.Time) - 1; i >= 0; i-- {
			e.Time = append(e.Time, math.Exp(d.Time[i]/20))
			e.Event = append(e.Event, d.Event[i])
			e.Weight = append(e.Weight, d.Weight[i])
			e.Stratum = append(e.Stratum, 40-9*d.Stratum[i])
			e.X[0] = append(e.X[0], 1-d.X[0][i])
			e.X[1] = append(e.X[1], 1e3+3e-3*d.X[1][i])
		}
		f, err := FitCox(e, o)
		if err != nil {
			t.Fatal(err)
		}
		se := c.SE()
		closeTo(t, "log likelihood", f.LogLik, c.LogLik, 1e-8)
		closeTo(t, "arm", -f.Coef[0]/se[0], c.Coef[0]/se[0], 1e-5)
		closeTo(t, "temperature", f.Coef[1]*3e-3/se[1], c.Coef[1]/se[1], 1e-5)
		closeTo(t, "its error", f.SE()[1]*3e-3/se[1], 1, 1e-5)
	})
}

// skipTwoTops gives up draws of so few events that a likelihood with Firth's
// penalty, which is not concave, may have a second top.
func skipTwoTops(t *rapid.T, c *Cox) {
	if c.options.Firth && c.Events < 10 {
		t.Skip("few events")
	}
}

// With Breslow ties a whole weight is the row so many times over, a weight of
// 0 no row; and fitting again from elsewhere ends in the same place.
func TestCoxWeightsAreCopies(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := coxRowsDraw(t)
		var copies CoxData
		copies.X = make([][]float64, 2)
		for i := range d.Time {
			d.Weight[i] *= 2
			for range int(d.Weight[i]) {
				copies.Time = append(copies.Time, d.Time[i])
				copies.Event = append(copies.Event, d.Event[i])
				copies.Stratum = append(copies.Stratum, d.Stratum[i])
				copies.X[0] = append(copies.X[0], d.X[0][i])
				copies.X[1] = append(copies.X[1], d.X[1][i])
			}
		}
		o := CoxOptions{Ties: Breslow, Firth: rapid.Bool().Draw(t, "Firth")}
		plain := d
		plain.Weight = nil
		first, err := FitCox(plain, o)
		if err != nil {
			t.Skip(err)
		}
		c, err := first.Refit(d.Weight)
		if err != nil {
			t.Skip(err)
		}
		f, err := FitCox(copies, o)
		if err != nil {
			t.Fatal(err)
		}
		skipTwoTops(t, c)
		for j, se := range c.SE() {
			closeTo(t, "coefficient", f.Coef[j]/se, c.Coef[j]/se, 1e-6)
			closeTo(t, "error", f.SE()[j]/se, 1, 1e-6)
		}
		closeTo(t, "log likelihood", f.LogLik, c.LogLik, 1e-9)
		closeTo(t, "score test", f.Score.ChiSq, c.Score.ChiSq, 1e-7)
		a, err := c.StandardisedRisk(10, Arm{0: 0}, Arm{0: 1})
		if err != nil {
			t.Fatal(err)
		}
		b, err := f.StandardisedRisk(10, Arm{0: 0}, Arm{0: 1})
		if err != nil {
			t.Fatal(err)
		}
		closeTo(t, "risk in arm 0", a.Risk[0], b.Risk[0], 1e-6)
		closeTo(t, "risk in arm 1", a.Risk[1], b.Risk[1], 1e-6)
	})
}

// Without ties both treatments of them are one.
func TestTiesAgreeWithoutTies(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := coxRowsDraw(t)
		d.Time = rapid.Permutation(ascending(len(d.Time))).Draw(t, "times")
		e, b := fitOrSkip(t, d, CoxOptions{}), fitOrSkip(t, d, CoxOptions{Ties: Breslow})
		if !slices.Equal(e.Coef, b.Coef) || e.LogLik != b.LogLik {
			t.Fatalf("%v and %v", e.Coef, b.Coef)
		}
	})
}

// A flat prior changes nothing, a sharp one holds the coefficient; a contrast
// of two columns says what the first says in columns that hold it alone.
func TestPriorLimits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := coxRowsDraw(t)
		c := fitOrSkip(t, d, CoxOptions{})
		if max(c.SE()[0], math.Abs(c.Coef[0])) > 20 {
			t.Skip("next to separation")
		}
		flat := fitOrSkip(t, d, CoxOptions{Priors: []NormalPrior{{Contrast: []float64{1, 0}, SD: 1e7}}})
		closeTo(t, "flat", flat.Coef[0], c.Coef[0], 1e-6)
		sharp := fitOrSkip(t, d, CoxOptions{Priors: []NormalPrior{{Contrast: []float64{1, 0}, Mean: .3, SD: 1e-6}}})
		closeTo(t, "sharp", sharp.Coef[0], .3, 1e-6)

		prior := fitOrSkip(t, d, CoxOptions{Priors: []NormalPrior{{Contrast: []float64{1, 0}, Mean: .1, SD: .5}}})
		e := d // x₀β₀ + x₁β₁ = x₀(β₀ − β₁) + (x₀ + x₁)β₁
		e.X = [][]float64{d.X[0], slices.Clone(d.X[1])}
		for i, x := range d.X[0] {
			e.X[1][i] += x
		}
		turned := fitOrSkip(t, e, CoxOptions{Priors: []NormalPrior{{Contrast: []float64{1, 1}, Mean: .1, SD: .5}}})
		closeTo(t, "contrast", turned.Coef[0]+turned.Coef[1], prior.Coef[0], 1e-6)
	})
}

// At a profile limit the likelihood, the other coefficient at its best, has
// fallen by z²/2: a sharp prior holds the first one there.
func TestProfileLimitsFall(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := coxRowsDraw(t)
		o := CoxOptions{Ties: Breslow, Firth: rapid.Bool().Draw(t, "Firth")}
		c := fitOrSkip(t, d, o)
		skipTwoTops(t, c)
		p, err := c.Profile(0, .9)
		if err != nil {
			t.Fatal(err)
		}
		if !(p.Low < p.Value && p.Value < p.High) {
			t.Fatalf("%+v", p)
		}
		const z = 1.6448536269514722
		for _, limit := range []float64{p.Low, p.High} {
			b := math.Log(limit)
			if math.IsInf(b, 0) || math.Abs(b) > 30 {
				continue
			}
			held := o
			held.Priors = []NormalPrior{{Contrast: []float64{1, 0}, Mean: b, SD: 1e-5}}
			h, err := FitCox(d, held)
			if err != nil {
				continue
			}
			closeTo(t, "fall", 2*(c.Penalised-h.Penalised), z*z, 1e-3)
		}
	})
}

// Standardised to an arm everybody is in, the mean risk follows the row's own
// covariates; a column that does nothing changes no risk; and the risk of an
// arm does not depend on the codes of arms.
func TestStandardisedRiskLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := coxRowsDraw(t)
		c := fitOrSkip(t, d, CoxOptions{})
		s, err := c.StandardisedRisk(12, Arm{0: 0}, Arm{0: 1}, Arm{0: 1, 1: 70})
		if err != nil {
			t.Fatal(err)
		}
		for a, r := range s.Risk {
			if !(0 <= r && r <= 1) {
				t.Fatalf("risk %v", s.Risk)
			}
			if a == 1 && (s.Risk[1]-s.Risk[0])*c.Coef[0] < 0 {
				t.Fatalf("risks %v with the coefficient %v", s.Risk, c.Coef[0])
			}
		}
		later, err := c.StandardisedRisk(20, Arm{0: 0})
		if err != nil {
			t.Fatal(err)
		}
		if later.Risk[0] < s.Risk[0] || later.AtRisk > s.AtRisk {
			t.Fatalf("%+v after %+v", later, s)
		}
	})
}

// The test of proportional hazards knows no units, no clock and no codes.
func TestPropHazRecoding(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := coxRowsDraw(t)
		c := fitOrSkip(t, d, CoxOptions{})
		if max(c.SE()[0], math.Abs(c.Coef[0])) > 20 {
			t.Skip("next to separation")
		}
		z, err := c.PropHazTest([][]int{{0, 1}, {1}})
		if err != nil {
			t.Skip(err)
		}
		closeTo(t, "both columns are the global test", z.Term[0].ChiSq, z.Global.ChiSq, 1e-9)
		e := d
		e.Time, e.X = slices.Clone(d.Time), [][]float64{d.X[0], slices.Clone(d.X[1])}
		for i := range e.Time {
			e.Time[i] = math.Exp(d.Time[i] / 20)
			e.X[1][i] = 5 - d.X[1][i]/100
		}
		f := fitOrSkip(t, e, CoxOptions{})
		y, err := f.PropHazTest([][]int{{0, 1}, {1}})
		if err != nil {
			t.Fatal(err)
		}
		closeTo(t, "global", y.Global.ChiSq, z.Global.ChiSq, 1e-5)
		closeTo(t, "one column", y.Term[1].ChiSq, z.Term[1].ChiSq, 1e-5)
	})
}

// Many rows are worked on in parts: the same fit as that of the few different
// ones among them, each with the weight of its copies.
func TestCoxPartsAgree(t *testing.T) {
	many := CoxData{X: [][]float64{nil, nil}}
	type row struct {
		t, x0, x1 float64
		event     bool
	}
	copies := map[row]float64{}
	for i := range manyRows + 11 {
		r := row{float64(1 + i*i%97), float64(i % 2), float64(i * 7 % 5), i%11 < 2+i%2}
		many.Time, many.Event = append(many.Time, r.t), append(many.Event, r.event)
		many.X[0], many.X[1] = append(many.X[0], r.x0), append(many.X[1], r.x1)
		copies[r]++
	}
	few := CoxData{X: [][]float64{nil, nil}}
	for r, n := range copies {
		few.Time, few.Event, few.Weight = append(few.Time, r.t), append(few.Event, r.event), append(few.Weight, n)
		few.X[0], few.X[1] = append(few.X[0], r.x0), append(few.X[1], r.x1)
	}
	a, b := fit(t, many, CoxOptions{Ties: Breslow}), fit(t, few, CoxOptions{Ties: Breslow})
	for j := range a.Coef {
		near(t, "coefficient", a.Coef[j], b.Coef[j], 1e-10)
		near(t, "standard error", a.SE()[j]/b.SE()[j], 1, 1e-10)
	}
	near(t, "log likelihood", a.LogLik/b.LogLik, 1, 1e-12)
}

// Fits of the same rows do not touch each other or the data, so that a
// bootstrap may run them at the same time.
func TestRefitAtOnce(t *testing.T) {
	d := weatherRows(300, 1, true)
	times, x := slices.Clone(d.Time), slices.Clone(d.X[0])
	c := fit(t, d, CoxOptions{Ties: Breslow, Firth: true})
	const draws = 8
	weight := make([][]float64, draws)
	for b := range weight {
		weight[b] = make([]float64, 300)
		for i := range weight[b] {
			weight[b][i] = float64((i*7 + b*11) % 3)
		}
	}
	atOnceGot, apart := make([]*Cox, draws), make([]*Cox, draws)
	atOnce(draws, func(b int) { atOnceGot[b], _ = c.Refit(weight[b]) })
	for b := range apart {
		var err error
		if apart[b], err = c.Refit(weight[b]); err != nil {
			t.Fatal(err)
		}
		if atOnceGot[b] == nil || !slices.Equal(atOnceGot[b].Coef, apart[b].Coef) {
			t.Errorf("draw %d: %+v and %+v", b, atOnceGot[b], apart[b])
		}
	}
	again := c.Refits()
	for b := range apart {
		got, err := again.Refit(weight[b])
		if err != nil {
			t.Fatal(err)
		}
		one, bad := got.StandardisedRisk(300, Arm{0: 0}, Arm{0: 1})
		other, worse := apart[b].StandardisedRisk(300, Arm{0: 0}, Arm{0: 1})
		if !slices.Equal(got.Coef, apart[b].Coef) || got.Events != apart[b].Events || !slices.Equal(got.SE(), apart[b].SE()) || bad != nil || worse != nil || !slices.Equal(one.Risk, other.Risk) {
			t.Errorf("draw %d in the room of the one before: %+v with %+v, want %+v with %+v (%v, %v)", b, got, one, apart[b], other, bad, worse)
		}
	}
	if !slices.Equal(times, d.Time) || !slices.Equal(x, d.X[0]) {
		t.Error("the data changed")
	}
}
