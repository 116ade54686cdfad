package pool

import (
	"math"
	"testing"
)

// Without records the common rate is as believed: Gamma(2, 2/r) has the mean r and
// the variance r²/2, and a new group's rate m·g with g ~ Gamma(a, a) the variance
// E(m²)(1 + 1/a) − r² (by arithmetic), averaged over the shapes of the grid. Counts of
// a group far larger than the belief are all that matters.
func TestBelievedRateGrid(t *testing.T) {
	const r = 0.03
	g, err := BelievedRateGrid(nil, nil, RateBelief{r, 2})
	if err != nil {
		t.Fatal(err)
	}
	law := g.New()
	near := func(what string, got, want, tol float64) {
		t.Helper()
		if math.Abs(got-want) > tol {
			t.Errorf("%s: %v, want %v", what, got, want)
		}
	}
	near("mean", law.Mean(), r, 1e-3*r)
	second, want := 0.0, 0.0
	for k, w := range law.Weight {
		second += w * law.Shape[k] * (law.Shape[k] + 1) / (law.Rate[k] * law.Rate[k])
	}
	for _, a := range believedShapes {
		want += 1.5 * r * r * (1 + 1/a) / float64(len(believedShapes))
	}
	near("second moment", second, want, 1e-3*want)
	much, err := BelievedRateGrid([]float64{600, 900}, []float64{2000, 3000}, RateBelief{r, 2})
	if err != nil {
		t.Fatal(err)
	}
	law, err = much.Outfit(0)
	if err != nil {
		t.Fatal(err)
	}
	near("many events", law.Mean(), 0.3, 0.002)
	for _, bad := range []func() (*RateGrid, error){
		func() (*RateGrid, error) { return BelievedRateGrid(nil, nil, RateBelief{0, 2}) },
		func() (*RateGrid, error) { return BelievedRateGrid([]float64{1}, []float64{0}, RateBelief{1, 2}) },
		func() (*RateGrid, error) { return BelievedRateGrid([]float64{1}, nil, RateBelief{1, 2}) },
	} {
		if _, err := bad(); err == nil {
			t.Error("taken")
		}
	}
}

// Two events in few placement-years lift a rate believed to be 0.03 by less than
// the conjugate answer for one group of such records alone allows, (2+2)/(2/r+E), and
// more exposure without events lowers it.
func TestFewEventsMoveABeliefLittle(t *testing.T) {
	const r = 0.03
	last := math.Inf(1)
	for _, years := range []float64{4, 10, 40, 200, 2000} {
		g, err := BelievedRateGrid([]float64{2}, []float64{years}, RateBelief{r, 2})
		if err != nil {
			t.Fatal(err)
		}
		law, _ := g.Outfit(0)
		if m := law.Mean(); m >= last || m > 4*r {
			t.Errorf("%v years: a rate of %v after %v", years, m, last)
		} else {
			last = m
		}
	}
	if math.Abs(last-2./2000) > 1e-3 {
		t.Errorf("2 in 2,000 years are a rate of %v", last)
	}
}
