package survival

import "math"

// expTable holds 2^(i/512).
var expTable = func() (t [512]float64) {
	for i := range t {
		t[i] = math.Exp2(float64(i) / 512)
	}
	return t
}()

const (
	expSteps  = 512 / math.Ln2
	expRound  = 0x1.8p52                 // adding it rounds to a whole number, in the low bits
	expStepHi = 0x1.62e42fep-1 / 512     // ln 2/512 with room for an exact product
	expStepLo = math.Ln2/512 - expStepHi // and the rest
)

// farthest is the greatest |x| that expOf is made for.
const farthest = 300

// expTo sets dst to e^x, or reports false at an x too far from 0.
func expTo(dst, xs []float64) bool {
	dst = dst[:len(xs)]
	for i, x := range xs {
		if !(math.Abs(x) <= farthest) {
			return false
		}
		dst[i] = expOf(x)
	}
	return true
}

// expOf is e^x for |x| ≤ farthest, to within two units in the last place, small
// enough to be inlined: e^x = 2^(k/512)·e^r, |r| ≤ ln 2/1024, by table and
// Taylor's series to the fourth power, which leaves 1e-18.
func expOf(x float64) float64 {
	kd := x*expSteps + expRound
	k := math.Float64bits(kd)
	kd -= expRound
	r := x - kd*expStepHi - kd*expStepLo
	s := math.Float64frombits(math.Float64bits(expTable[k&511]) + k>>9<<52)
	return s + s*(r+r*r*(.5+r*(1./6+r*(1./24))))
}
