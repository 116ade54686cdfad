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

// expOf is e^x for |x| ≤ 300, to within two units in the last place, small
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
