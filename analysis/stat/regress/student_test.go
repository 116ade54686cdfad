package regress

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Tails and quantiles with 40 digits by mpmath 1.2.1:
// betainc(nu/2, 1/2, 0, nu/(nu+t**2), regularized=True)/2 and its inverse.
var studentTails = [][3]float64{
	{1, 0.125, 0.46041657583943446}, {1, 1, 0.25}, {1, 2.5, 0.1211189415908434}, {1, 6, 0.05256845671125343},
	{2.5, 0.125, 0.45493795080427535}, {2.5, 1, 0.20203051363913673}, {2.5, 2.5, 0.052284981539077694}, {2.5, 6, 0.0076408649427614503},
	{4, 0.125, 0.45327696465030252}, {4, 1, 0.18695048315002944}, {4, 2.5, 0.033383272405994073}, {4, 6, 0.0019412685234802552},
	{18, 0.125, 0.45095450557256201}, {18, 1, 0.16528246563909213}, {18, 2.5, 0.011154010116011112}, {18, 6, 5.6349855530039339e-6},
	{54, 0.125, 0.45049387055112468}, {54, 1, 0.16088531921612182}, {54, 2.5, 0.0077444122206081769}, {54, 6, 8.526914320135146e-8},
	{120, 0.125, 0.45036635721431084}, {120, 1, 0.15966136193221062}, {120, 2.5, 0.0068847674625152115}, {120, 6, 1.0741519096530204e-8},
	{1004, 0.125, 0.45027428674842946}, {1004, 1, 0.1587757272695273}, {1004, 2.5, 0.0062889659290028186}, {1004, 6, 1.3758950096732613e-9},
	{100004, 0.125, 0.45026190079678167}, {100004, 1, 0.15865646373366304}, {100004, 2.5, 0.0062104595645091979}, {100004, 6, 9.899645925241164e-10},
}

var studentQuantiles = [][3]float64{
	{1, 0.9, 3.0776835371752534}, {1, 0.975, 12.706204736174705}, {1, 0.999, 318.30883898555045},
	{4, 0.9, 1.5332062740589439}, {4, 0.975, 2.7764451051977944}, {4, 0.999, 7.1731822197823085},
	{18, 0.9, 1.3303909435699091}, {18, 0.975, 2.1009220402410385}, {18, 0.999, 3.6104848848250933},
	{504, 0.9, 1.2832335467048622}, {504, 0.975, 1.9646820033895751}, {504, 0.999, 3.1064810049803031},
	{100004, 0.9, 1.2815600311107361}, {100004, 0.975, 1.9599877065857165}, {100004, 0.999, 3.0903138061671589},
	{2000000, 0.9, 1.2815519888371268}, {2000000, 0.975, 1.959965170676375}, {2000000, 0.999, 3.0902363812372434},
}

func TestStudentAgainstManyDigits(t *testing.T) {
	for _, c := range studentTails {
		if got := NewStudent(c[0]).Tail(c[1]); math.Abs(got-c[2]) > 1e-11*c[2] {
			t.Errorf("tail of t_%v at %v: got %.17g, want %.17g", c[0], c[1], got, c[2])
		}
	}
	for _, c := range studentQuantiles {
		if got := NewStudent(c[0]).Quantile(c[1]); math.Abs(got-c[2]) > 1e-12*c[2] {
			t.Errorf("quantile %v of t_%v: got %.17g, want %.17g", c[1], c[0], got, c[2])
		}
	}
}

func TestStudentLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		nu := math.Exp(rapid.Float64Range(-1, 18).Draw(t, "log ν"))
		s := NewStudent(nu)
		p := rapid.Float64Range(1e-6, 1-1e-6).Draw(t, "p")
		x := s.Quantile(p)
		if back := s.CDF(x); math.Abs(back-p) > 1e-13 {
			t.Errorf("ν %v: CDF(Quantile(%v)) = %v", nu, p, back)
		}
		if sum := s.CDF(x) + s.CDF(-x); math.Abs(sum-1) > 1e-15 {
			t.Errorf("ν %v: CDF(x)+CDF(−x) = %v at %v", nu, sum, x)
		}
		// The slope of the distribution function is the density.
		const h = 1e-5
		step := h * (1 + math.Abs(x))
		slope := (s.CDF(x+step) - s.CDF(x-step)) / (2 * step)
		if d := s.Density(x); math.Abs(slope-d) > 1e-6*d+1e-9 {
			t.Errorf("ν %v at %v: slope %v, density %v", nu, x, slope, d)
		}
	})
}

// TestStudentLimits: one degree of freedom is Cauchy's law, +Inf the normal, and
// the change to the expansion is smooth.
func TestStudentLimits(t *testing.T) {
	for _, x := range []float64{0, 0.3, 2, 7, 1e3, 1e9} {
		cauchy := 0.5 - math.Atan(x)/math.Pi
		if got := NewStudent(1).Tail(x); math.Abs(got-cauchy) > 1e-15 {
			t.Errorf("Cauchy tail at %v: %v, want %v", x, got, cauchy)
		}
		normal := math.Erfc(x/math.Sqrt2) / 2
		if got := NewStudent(math.Inf(1)).Tail(x); got != normal {
			t.Errorf("normal tail at %v: %v, want %v", x, got, normal)
		}
		below, above := NewStudent(manyDF*(1-1e-9)).Tail(x), NewStudent(manyDF*(1+1e-9)).Tail(x)
		if math.Abs(below-above) > 1e-12 {
			t.Errorf("tail at %v jumps from %v to %v", x, below, above)
		}
	}
	for p, want := range map[float64]float64{0: math.Inf(-1), 1: math.Inf(1), 0.5: 0, -1: math.Inf(-1)} {
		if got := NewStudent(7).Quantile(p); got != want {
			t.Errorf("quantile %v: %v, want %v", p, got, want)
		}
	}
}
