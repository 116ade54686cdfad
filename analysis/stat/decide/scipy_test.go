package decide

import "testing"

// Tail and partial expectation of Student's t, computed with SciPy 1.10:
// stats.t.sf and integrate.quad of it.
func TestStudentAgainstSciPy(t *testing.T) {
	for _, c := range []struct{ nu, z, tail, loss float64 }{
		{7, 2.5, 0.020496109292876437, 0.01498814161215412},
		{4.5, .3, 0.38876677351971567, 0.35225350708068276},
		{12, -1.7, 0.9425600673023954, 1.7324401115145662},
		{3, 8, 0.0020382887938927333, 0.008380058100580156},
		{250, 1e-6, 0.4999996014564614, 0.40014361504885393},
		{5e4, 3.1, 0.0009681405408622671, 0.00026745512436191903},
		{3e5, 2.2, 0.013903827329484874, 0.00488724008741196},
		{2e6, 4.5, 3.3978641844944485e-06, 6.942584996284769e-07},
	} {
		u, err := Student(10, 2, c.nu)
		belief(t, u, err)
		near(t, "tail", u.Survival(10+2*c.z), c.tail, 1e-10*c.tail)
		near(t, "loss", u.Shortage(10+2*c.z), 2*c.loss, 2e-9*c.loss+1e-13)
	}
}

// P(p₁ < p₂), computed with SciPy 1.10: quad of beta.cdf over beta.ppf.
func TestProportionLessAgainstSciPy(t *testing.T) {
	for _, c := range []struct {
		one, two Beta
		want     float64
	}{
		{Beta{3.5, 92.5}, Beta{4.5, 129.5}, 0.46596227835191284},
		{Beta{1, 9}, Beta{1, 1}, 0.9},
		{Beta{.5, .5}, Beta{.5, 20}, 0.0804750936262579},
		{Beta{200, 800}, Beta{250, 750}, 0.9963386633378772},
		{Beta{30, 1e5}, Beta{60, 1e5}, 0.9993307362667604},
		{Beta{.01, 3}, Beta{2, 5}, 0.9953182847289125},
	} {
		got, err := ProportionLess(c.one, c.two)
		noError(t, err)
		near(t, "P(p₁ < p₂)", got, c.want, 1e-9)
	}
}

// Two arms, computed with NumPy and SciPy 1.10 over the whole table of
// outcomes: betabinom(30, 2.5, 40) and betabinom(25, 1.5, 60), C 2800, D 35.
func TestArmsAgainstSciPy(t *testing.T) {
	a, err := ArmsValue(Beta{2.5, 40}, Beta{1.5, 60}, 30, 25, 2800, 35)
	noError(t, err)
	near(t, "now", a.CostNow, 103.29268292682927, 1e-10)
	near(t, "after", a.CostAfter, 98.37607164154127, 1e-9)
}
