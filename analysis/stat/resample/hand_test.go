package resample

import (
	"math"
	"testing"

	"pourback/analysis/stat"
)

// mean returns the weighted mean of xs as a statistic.
func mean(xs []float64) Statistic {
	return func(out, weights []float64) error {
		var sum, n float64
		for i, w := range weights {
			sum += w * xs[i]
			n += w
		}
		if n == 0 {
			return stat.ErrNoData
		}
		out[0] = sum / n
		return nil
	}
}

func near(t *testing.T, name string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %.12g, want %.12g", name, got, want)
	}
}

// All 27 ordered samples of three rows 1, 2, 3 are given. The mean of a sample
// has expectation 2 and variance σ²/n = (2/3)/3 = 2/9; over 27 values with the
// divisor 26 the standard deviation is √(27/26 · 2/9) = 0.4803845.
func TestGivenAllSamplesOfThree(t *testing.T) {
	var samples [][]int
	for a := range 3 {
		for b := range 3 {
			for c := range 3 {
				samples = append(samples, []int{a, b, c})
			}
		}
	}
	s, err := Given(Plan{Rows: 3}, samples, Stateless(mean([]float64{1, 2, 3})))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "estimate", s.Estimate[0], 2, 1e-15)
	se, err := s.SE(0)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "SE", se, math.Sqrt(27./26*2/9), 1e-14)
	// The sums 3 to 9 occur 1, 3, 6, 7, 6, 3, 1 times. Ten draws lie below 2:
	// z0 = Φ⁻¹(10/27) = −0.33 (Φ(−0.33) = 0.3707, 10/27 = 0.3704; normal table).
	z0, err := s.BiasZ(0)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "z0", z0, -.33, .002)
	// At level 0.8 the limits lie at h = 26·0.1 = 2.6 and 26·0.9 = 23.4. In
	// order the means are 1, 4/3 ×3, …, 8/3 ×3, 3: the draws 2 and 3 are both
	// 4/3, the draws 23 and 24 both 8/3.
	e, err := s.Percentile(0, .8)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "low", e.Low, 4./3, 1e-15)
	near(t, "high", e.High, 8./3, 1e-15)
}

// Rows 1, 2, 6. Left-out means: 4, 3.5, 1.5, of mean 3. d = −1, −½, 1½:
// Σd² = 1 + ¼ + 2¼ = 3.5, Σd³ = −1 − ⅛ + 3⅜ = 2.25.
// SE = √(2/3 · 3.5) = 1.5275252, a = 2.25/(6·3.5^1.5) = 0.05727106.
func TestJackknifeOfThree(t *testing.T) {
	j, err := Jackknife(Plan{Rows: 3}, Stateless(mean([]float64{1, 2, 6})))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "SE", j.SE[0], math.Sqrt(7./3), 1e-14)
	near(t, "acceleration", j.Acceleration[0], 2.25/(6*math.Pow(3.5, 1.5)), 1e-14)
	near(t, "bias", j.Bias[0], 0, 1e-14)
}

// Clusters {1, 2}, {6}: left out one at a time the means are 6 and 1.5, of
// mean 3.75; d = −2.25, 2.25; SE = √(½ · 10.125) = 2.25. The estimate is 3,
// the bias (2−1)(3.75−3) = 0.75.
func TestJackknifeByCluster(t *testing.T) {
	j, err := Jackknife(Plan{Rows: 3, Clusters: []int{7, 7, -1}}, Stateless(mean([]float64{1, 2, 6})))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "SE", j.SE[0], 2.25, 1e-14)
	near(t, "bias", j.Bias[0], .75, 1e-14)
	near(t, "acceleration", j.Acceleration[0], 0, 1e-14)
}
