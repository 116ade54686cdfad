package pool

import (
	"math"
	"math/rand/v2"
	"testing"

	"pourback/analysis/stat/regress"
)

// twoGroups is a small fit of two groups with two columns.
func twoGroups(t *testing.T) *Posterior {
	t.Helper()
	rng := rand.New(rand.NewPCG(1, 2))
	n := 24
	d := Data{X: regress.Design{regress.Ones(n), make([]float64, n)}, Y: make([]float64, n), H: make([]float64, n), Group: make([]int, n)}
	for i := range n {
		d.X[1][i], d.H[i], d.Group[i] = rng.NormFloat64(), 0.2+rng.Float64(), i%2
		d.Y[i] = 0.1 + 0.2*d.X[1][i] + 0.1*float64(d.Group[i]) + 0.1*rng.NormFloat64()
	}
	r, kappa := DefaultGrid()
	m := Model{Prior: Prior{Mean: []float64{0, 0}, SD: []float64{1, 1}, Sigma: .1, Nu: 4, RScale: .75}, GridR: r, GridKappa: kappa}
	post, err := m.Fit(d)
	if err != nil {
		t.Fatal(err)
	}
	return post
}

func sameLaw(t *testing.T, what string, got, want Mixture) {
	t.Helper()
	for k := range want.Weight {
		if math.Abs(got.Loc[k]-want.Loc[k]) > 1e-12 || math.Abs(got.Scale[k]-want.Scale[k]) > 1e-12 {
			t.Fatalf("%s: cell %d is %v ± %v, want %v ± %v", what, k, got.Loc[k], got.Scale[k], want.Loc[k], want.Scale[k])
		}
	}
}

// One outcome alone follows Predict; the difference of two outcomes with equal
// columns in two groups follows the posterior of the groups' difference widened
// by both errors, found by Difference.
func TestTogetherAgreesWithTheLawsOfOne(t *testing.T) {
	post := twoGroups(t)
	x := []float64{1, 0.3}
	joint, err := post.Together([]Row{{X: x, H: .5, Group: 0}, {X: x, H: .5, Group: 1}, {X: x, H: 2, Group: -1}})
	if err != nil {
		t.Fatal(err)
	}
	for i, g := range []int{0, 1, -1} {
		times := make([]float64, 3)
		times[i] = 1
		want, err := post.Predict(x, []float64{.5, .5, 2}[i], g)
		if err != nil {
			t.Fatal(err)
		}
		sameLaw(t, "one alone", joint.Sum(times), want)
	}
	want, err := post.Difference(0, 1)
	if err != nil {
		t.Fatal(err)
	}
	for k, c := range post.Cells {
		want.Scale[k] = math.Sqrt(want.Scale[k]*want.Scale[k] + 2*c.Sigma2*(1+c.Kappa*.5))
	}
	sameLaw(t, "difference", joint.Sum([]float64{1, -1, 0}), want)
}

// Two outcomes of one new group share its effect, two of two new groups do not:
// the variances of their sums differ by twice the effect's variance, σ²r².
func TestNewGroupsAreSharedByNumber(t *testing.T) {
	post := twoGroups(t)
	x := []float64{1, 0}
	both, _ := post.Together([]Row{{X: x, Group: -1}, {X: x, Group: -1}})
	apart, err := post.Together([]Row{{X: x, Group: -1}, {X: x, Group: -2}})
	if err != nil {
		t.Fatal(err)
	}
	one := []float64{1, 1}
	a, b := both.Sum(one), apart.Sum(one)
	for k, c := range post.Cells {
		if got, want := a.Scale[k]*a.Scale[k]-b.Scale[k]*b.Scale[k], 2*c.Sigma2*c.R*c.R; math.Abs(got-want) > 1e-12 {
			t.Fatalf("cell %d: %v, want %v", k, got, want)
		}
	}
}

// Draws have the means, variances and covariance of the law: 40,000 draws leave
// a mean within four standard errors and a variance within 5 %.
func TestDrawsFollowTheLaw(t *testing.T) {
	post := twoGroups(t)
	student, err := post.Together([]Row{{X: []float64{1, 0.3}, H: .5, Group: 0}, {X: []float64{1, 1}, H: 1, Group: 0}})
	if err != nil {
		t.Fatal(err)
	}
	for name, joint := range map[string]Joint{"student": student, "normal": student.Normal()} {
		rng := rand.New(rand.NewPCG(3, 4))
		const n = 40_000
		sum, squares, out := 0.0, 0.0, make([]float64, 2)
		for range n {
			joint.Draw(rng, out)
			s := 2*out[0] + out[1]
			sum, squares = sum+s, squares+s*s
		}
		law := student.Sum([]float64{2, 1})
		mean, variance := sum/n, squares/n-sum*sum/n/n
		if math.Abs(mean-law.Mean()) > 4*math.Sqrt(law.Var()/n) || math.Abs(variance/law.Var()-1) > 0.05 {
			t.Errorf("%s: drew %v with variance %v, want %v and %v", name, mean, variance, law.Mean(), law.Var())
		}
	}
}

// Before any outcome the prediction is the prior's own: mean m0'x, variance
// ν/(ν−2)·(σ0²(1+κh) + Σx²s0² + σ0²r²), κ and r weighted by their priors (Box &
// Tiao 1973, by hand on a grid of one point).
func TestBeforeIsThePrior(t *testing.T) {
	m := Model{Prior: Prior{Mean: []float64{.05, .1}, SD: []float64{.05, .25}, Sigma: .05, Nu: 4, RScale: .75}, GridR: []float64{.5}, GridKappa: []float64{2}}
	post, err := m.Before()
	if err != nil {
		t.Fatal(err)
	}
	law, err := post.Predict([]float64{1, .25}, .25, -1)
	if err != nil {
		t.Fatal(err)
	}
	want := 2 * (.0025*1.5 + .0025 + .0625*.0625 + .0025*.25)
	if math.Abs(law.Mean()-.075) > 1e-12 || math.Abs(law.Var()-want) > 1e-12 {
		t.Errorf("%v with variance %v, want 0.075 and %v", law.Mean(), law.Var(), want)
	}
}
