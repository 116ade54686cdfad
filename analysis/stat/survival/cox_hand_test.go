package survival

import (
	"math"
	"slices"
	"testing"
)

// Therneau & Grambsch (2000), Appendix E.1: times 9 1 1+ 6 6 8+, x = 0 1 1 1 0
// 0, r = e^β. The risk sets, from the last back:
//
//	t = 9: the row x=0            Σ = 1
//	t = 6: events x=1, x=0; and   Σ = r + 3, the events r + 1
//	       two rows x=0 later
//	t = 1: event x=1 and all      Σ = 3r + 3
func smallData() CoxData {
	return CoxData{
		Time:  []float64{9, 1, 1, 6, 6, 8},
		Event: []bool{true, true, false, true, true, false},
		X:     [][]float64{{0, 1, 1, 1, 0, 0}},
	}
}

// Breslow: ℓ = 2β − log(3r+3) − 2·log(r+3); the slope 2 − r/(r+1) − 2r/(r+3)
// is 0 at r = (3+√33)/2; information r/(r+1)² + 6r/(r+3)². H₀ steps by
// 1/(3r+3), 2/(r+3) and 1.
func TestCoxBreslowByHand(t *testing.T) {
	c := fit(t, smallData(), CoxOptions{Ties: Breslow})
	r := (3 + math.Sqrt(33)) / 2
	near(t, "β", c.Coef[0], math.Log(r), 1e-12)
	near(t, "ℓ", c.LogLik, 2*math.Log(r)-math.Log(3*r+3)-2*math.Log(r+3), 1e-12)
	near(t, "se", c.SE()[0], 1/math.Sqrt(r/(r+1)/(r+1)+6*r/(r+3)/(r+3)), 1e-11)
	h, err := c.CumHazard([]float64{0})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "H₀ before the first event", h[0].At(.5), 0, 0)
	near(t, "H₀(1)", h[0].At(1), 1/(3*r+3), 1e-12)
	near(t, "H₀(6)", h[0].At(8), 1/(3*r+3)+2/(r+3), 1e-12)
	near(t, "H₀(9)", h[0].At(9), 1/(3*r+3)+2/(r+3)+1, 1e-12)
}

// Efron: the second event at 6 has half of the tied pair's r + 1 gone, so that
// Σ = r + 3 − (r+1)/2 = (r+5)/2 and ℓ = 2β − log(3r+3) − log(r+3) −
// log((r+5)/2); slope 2 − r/(r+1) − r/(r+3) − r/(r+5), information
// r/(r+1)² + 3r/(r+3)² + 5r/(r+5)².
func TestCoxEfronByHand(t *testing.T) {
	c := fit(t, smallData(), CoxOptions{})
	r := math.Exp(c.Coef[0])
	near(t, "slope", 2-r/(r+1)-r/(r+3)-r/(r+5), 0, 1e-10)
	near(t, "ℓ", c.LogLik, 2*c.Coef[0]-math.Log(3*r+3)-math.Log(r+3)-math.Log((r+5)/2), 1e-12)
	near(t, "se", c.SE()[0], 1/math.Sqrt(r/(r+1)/(r+1)+3*r/(r+3)/(r+3)+5*r/(r+5)/(r+5)), 1e-11)
	h, err := c.CumHazard([]float64{0})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "H₀(6)", h[0].At(6), 1/(3*r+3)+1/(r+3)+2/(r+5), 1e-12)
}

// Score residuals of the Breslow fit by hand, with x̄ = r/(r+1) at 1, r/(r+3)
// at 6 and 0 at 9, and the steps of H₀ above. The row x=1 with its event at 6:
// (1 − x̄₆) − r[(1 − x̄₁)·h₁ + (1 − x̄₆)·h₆]. Each row its own cluster, the
// robust variance is Σu²/I².
func TestCoxRobustByHand(t *testing.T) {
	d := smallData()
	d.Cluster = []int{1, 2, 3, 4, 5, 6}
	c := fit(t, d, CoxOptions{Ties: Breslow})
	r := math.Exp(c.Coef[0])
	x1, x6 := r/(r+1), r/(r+3)
	h1, h6, h9 := 1/(3*r+3), 2/(r+3), 1.
	want := []float64{
		0 - (-x1*h1 - x6*h6 - 0*h9), // event at 9, where the mean is 0
		(1 - x1) - r*(1-x1)*h1,
		-r * (1 - x1) * h1,
		(1 - x6) - r*((1-x1)*h1+(1-x6)*h6),
		-x6 - (-x1*h1 - x6*h6),
		-(-x1*h1 - x6*h6),
	}
	got := make([]float64, 6)
	c.sets.scoreResiduals(func(row int, u []float64) { got[row] = u[0] })
	sum, square := 0., 0.
	for i := range want {
		near(t, "residual", got[i], want[i], 1e-12)
		sum += got[i]
		square += got[i] * got[i]
	}
	near(t, "their sum", sum, 0, 1e-12)
	near(t, "robust variance", c.Robust.At(0, 0), square*c.Cov.At(0, 0)*c.Cov.At(0, 0), 1e-12)
	near(t, "robust se", c.SE()[0], math.Sqrt(c.Robust.At(0, 0)), 1e-15)
}

// Two rows, the one with x = 1 has the event first: ℓ = β − log(e^β + 1) rises
// for ever. I = r/(1+r)², so that ℓ + ½log|I| = 1.5β − 2·log(1+r) with its top
// at r = 3: β = log 3, where I = 3/16.
func TestFirthByHand(t *testing.T) {
	d := CoxData{Time: []float64{1, 2}, Event: []bool{true, false}, X: [][]float64{{1, 0}}}
	c := fit(t, d, CoxOptions{Ties: Breslow, Firth: true})
	near(t, "β", c.Coef[0], math.Log(3), 1e-9)
	near(t, "penalised ℓ", c.Penalised, 1.5*math.Log(3)-2*math.Log(4), 1e-12)
	near(t, "se", c.SE()[0], math.Sqrt(16./3), 1e-8)

	// The profile limits solve 1.5β − 2·log(1+r) = top − z²/2, z = 1.959964; as
	// r grows the left side goes to −β/2, and to 3β/2 as it shrinks.
	p, err := c.Profile(0, .95)
	if err != nil {
		t.Fatal(err)
	}
	for _, limit := range []float64{p.Low, p.High} {
		fall := c.Penalised - (1.5*math.Log(limit) - 2*math.Log(1+limit))
		near(t, "fall at the limit", 2*fall, 1.959963984540054*1.959963984540054, 1e-7)
	}
	if !(p.Low < 3 && 3 < p.High) {
		t.Errorf("%+v", p)
	}
}

// A prior with the two rows above: ℓ = β − log(1+r) − ½(β/τ)² has its top where
// 1/(1+r) = β/τ². With τ² = 2·log 2 that is... r = 1/(β/τ²) − 1.
func TestPriorByHand(t *testing.T) {
	d := CoxData{Time: []float64{1, 2}, Event: []bool{true, false}, X: [][]float64{{1, 0}}}
	// β = log 2: 1/(1+2) = log 2/τ² gives τ² = 3·log 2.
	tau := math.Sqrt(3 * math.Ln2)
	c := fit(t, d, CoxOptions{Ties: Breslow, Priors: []NormalPrior{{Contrast: []float64{1}, SD: tau}}})
	near(t, "β", c.Coef[0], math.Ln2, 1e-10)
	near(t, "posterior sd", c.SE()[0], 1/math.Sqrt(2./9+1/(3*math.Ln2)), 1e-9)
}

// Two strata of two rows each: the likelihoods multiply.
// ℓ = 2β − 2·log(r+1) would rise for ever, so one event is turned round:
// ℓ = β − 2·log(r+1) + 0, slope 1 − 2r/(r+1) = 0 at r = 1.
func TestCoxStrataByHand(t *testing.T) {
	d := CoxData{Time: []float64{1, 5, 3, 4}, Event: []bool{true, false, true, false},
		X: [][]float64{{1, 0, 0, 1}}, Stratum: []int{7, 7, 3, 3}}
	c := fit(t, d, CoxOptions{})
	near(t, "β", c.Coef[0], 0, 1e-12)
	near(t, "ℓ", c.LogLik, -2*math.Ln2, 1e-12)
	h, err := c.CumHazard([]float64{0})
	if err != nil {
		t.Fatal(err)
	}
	if len(h) != 2 || h[0].Stratum != 3 || h[1].Stratum != 7 || !slices.Equal(h[0].Time, []float64{3}) {
		t.Fatalf("%+v", h)
	}
	near(t, "H₀ of stratum 3", h[0].Cum[0], .5, 1e-12)
}
