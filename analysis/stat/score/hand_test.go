package score

import (
	"math"
	"math/big"
	"slices"
	"testing"
)

func near(t testing.TB, name string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %.12g, want %.12g", name, got, want)
	}
}

func noError(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// A forecast of 10 at the 0.8-quantile: 12 came, 0.8·2 = 1.6; 7 came,
// 0.2·3 = 0.6; 10 came, 0.
func TestPinballByHand(t *testing.T) {
	for y, want := range map[float64]float64{12: 1.6, 7: .6, 10: 0} {
		got, err := Pinball(y, 10, .8)
		noError(t, err)
		near(t, "pinball", got, want, 1e-12)
	}
}

// 5 to 9 at level 0.9, 2/α = 20: inside 4; at 4.5 it is 4 + 20·0.5 = 14; at
// 9.1 it is 4 + 20·0.1 = 6.
func TestIntervalScoreByHand(t *testing.T) {
	for y, want := range map[float64]float64{5: 4, 7: 4, 4.5: 14, 9.1: 6} {
		got, err := IntervalScore(y, 5, 9, .9)
		noError(t, err)
		near(t, "interval score", got, want, 1e-12)
	}
}

// At its own mean a normal forecast scores σ(2φ(0) − 1/√π) =
// σ(0.7978846 − 0.5641896) = 0.2336950σ.
func TestCRPSAtTheMean(t *testing.T) {
	got, err := CRPSNormal(7, 7, 3)
	noError(t, err)
	near(t, "CRPS", got, 3*.2336950, 1e-6)
}

// Months 1 1 2 4 4 4 5, warm-up of 2 rows: month 2 from two rows, month 4 from
// three, month 5 from six.
func TestSplitsByHand(t *testing.T) {
	got, err := Splits([]int{1, 1, 2, 4, 4, 4, 5}, 2)
	noError(t, err)
	if want := []Split{{2, 3}, {3, 6}, {6, 7}}; !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}

// Past 1, 2, 3: mean 2, sd 1, n 3; scale √(4/3) = 1.154701; t with 2 degrees
// at 0.95 is 2.919986 (table): 2 ± 3.371711; at 0.75 it is 0.816497: 2.942809.
func TestNextOfSampleByHand(t *testing.T) {
	f, err := NextOfSample([]float64{1, 2, 3}, Plan{Tau: .75, Level: .9})
	noError(t, err)
	near(t, "low", f.Low, 2-3.371711, 1e-5)
	near(t, "high", f.High, 2+3.371711, 1e-5)
	near(t, "quantile", f.Quantile, 2.942809, 1e-5)
}

// p 0.01, 0.04, 0.03 of m = 3; in order 0.01, 0.03, 0.04.
// Bonferroni ×3. Holm ×3, ×2, ×1: 0.03, 0.06, 0.04 → 0.06.
// Hochberg from the top: 0.04, min(0.06, 0.04) = 0.04, 0.03.
// Benjamini-Hochberg ×3, ×1.5, ×1: 0.03, 0.045 → 0.04, 0.04.
// Benjamini-Yekutieli ×(1 + ½ + ⅓) = 11/6: 0.055, 0.07333, 0.07333.
func TestMultiplicityByHand(t *testing.T) {
	p := []float64{.01, .04, .03}
	for _, c := range []struct {
		name   string
		method func([]float64) ([]float64, error)
		want   []float64
	}{
		{"Bonferroni", Bonferroni, []float64{.03, .12, .09}},
		{"Holm", Holm, []float64{.03, .06, .06}},
		{"Hochberg", Hochberg, []float64{.03, .04, .04}},
		{"Benjamini-Hochberg", BenjaminiHochberg, []float64{.03, .04, .04}},
		{"Benjamini-Yekutieli", BenjaminiYekutieli, []float64{.055, .22 / 3, .22 / 3}},
	} {
		got, err := c.method(p)
		noError(t, err)
		for i := range got {
			near(t, c.name, got[i], c.want[i], 1e-12)
		}
	}
}

// Three parts of 33⅓ cents make 100: each 33, the odd cent to the first.
// −0.5, 1.75 and 0.75 make 2: rounded down −1, 1, 0, two cents missing, both
// to the parts that lost ¾.
func TestApportionByHand(t *testing.T) {
	third := big.NewRat(100, 3)
	got, err := Apportion(100, []*big.Rat{third, third, third})
	noError(t, err)
	if !slices.Equal(got, []int64{34, 33, 33}) {
		t.Errorf("thirds of a dollar: %v", got)
	}
	got, err = Apportion(2, rats(-.5, 1.75, .75))
	noError(t, err)
	if !slices.Equal(got, []int64{-1, 2, 1}) {
		t.Errorf("mixed signs: %v", got)
	}
}

// Planned 10 yd³ at $160, built as 10.2, used 10.5, delivered 11 at $162.25:
// price 2.25·11 = $24.75, geometry 0.2·160 = $32, use 0.3·160 = $48,
// leftover 0.5·160 = $80; 11·162.25 − 1600 = $184.75 in all.
func TestMaterialByHand(t *testing.T) {
	got, err := Material{Planned: 10_000, Built: 10_200, Used: 10_500, Delivered: 11_000, StandardPrice: 1_600_000, ActualPrice: 1_622_500}.Variance()
	noError(t, err)
	if want := (MaterialVariance{2475, 3200, 4800, 8000, 18475}); got != want {
		t.Errorf("got %+v, want %+v", got, want)
	}
}

// 3 hours at $33.335 against 2.5 at $30.005: actual $100.005, in the books
// $100.01 (half away from zero); standard $75.0125, $75.01; total $25.00.
// Rate 3.33·3 = $9.99 exactly, efficiency 0.5·30.005 = $15.0025: 9.99 + 15.00
// leaves a cent, which the efficiency lost most of.
func TestCentsByHand(t *testing.T) {
	got, err := PriceUsageCents(ExactLine{3000, 333_350}, ExactLine{2500, 300_050})
	noError(t, err)
	if want := (VarianceCents{Price: 999, Usage: 1501, Total: 2500}); got != want {
		t.Errorf("got %+v, want %+v", got, want)
	}
}

// A month without work has no mean price: all is volume.
func TestBennetFromNothing(t *testing.T) {
	c, err := Bennet([]Line{{0, 2}, {0, 3}}, []Line{{10, 2}, {5, 3}})
	noError(t, err)
	near(t, "volume", c.Volume, 35, 1e-12)
	near(t, "mix", c.Mix, 0, 0)
	near(t, "price", c.Price, 0, 0)
}

// Twice as much of everything at the same prices is volume; a swap of one for
// the other, mix.
func TestBennetVolumeAndMix(t *testing.T) {
	twice, err := Bennet([]Line{{10, 2}, {5, 3}}, []Line{{20, 2}, {10, 3}})
	noError(t, err)
	near(t, "volume", twice.Volume, 35, 1e-12)
	near(t, "mix", twice.Mix, 0, 1e-12)
	swap, err := Bennet([]Line{{10, 2}, {5, 3}}, []Line{{5, 2}, {10, 3}})
	noError(t, err)
	near(t, "volume", swap.Volume, 0, 1e-12)
	near(t, "mix", swap.Mix, 5, 1e-12)
}

// Ends belong to the interval: 1 and 3 are held by 1 to 3, 4 is not. Two of
// three by Wilson at 95 %, z² = 3.84146: mid (0.66667 + 0.64024)/2.28049 =
// 0.57309; half 1.95996·√(0.22222/3 + 3.84146/36)/2.28049 = 0.36542.
func TestCoverageByHand(t *testing.T) {
	got, err := Coverage([]float64{1, 3, 4}, []float64{1, 1, 1}, []float64{3, 3, 3}, .95)
	noError(t, err)
	near(t, "share", got.Value, 2./3, 1e-15)
	near(t, "low", got.Low, .2077, 5e-5)
	near(t, "high", got.High, .9385, 5e-5)
}

func rats(parts ...float64) []*big.Rat {
	exact := make([]*big.Rat, len(parts))
	for i, p := range parts {
		exact[i] = new(big.Rat).SetFloat64(p)
	}
	return exact
}
