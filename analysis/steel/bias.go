package steel

import (
	"math"

	"pourback/analysis/cracks"
	"pourback/analysis/setting"
)

// leastBias is the spread of a log ratio by what nobody recorded that is
// allowed for at the least (soil, shade, how the subgrade was wetted): 9 times
// in 10 it moves the ratio by no more than 1.9 times either way (a judgment, no
// published source).
const leastBias = 0.4

// biasOf is that spread: what is on record moved the ratio by so much, and what
// is not may move it as far. Where the two took turns nothing goes with either
// but the steel.
func (s reinforced) biasOf(p cracks.Pair, e effect, opt setting.Options) float64 {
	if opt.Steel.Alternated {
		return 0
	}
	raw, err := s.rateRatio(p, nil, opt.Level)
	if err != nil {
		return leastBias
	}
	return max(leastBias, math.Abs(math.Log(raw.Value)-e.b))
}

func (e effect) biasMethod() string {
	if e.alternated {
		return "none: mesh and rebar took turns"
	}
	return "standard deviation of a log ratio: the larger of 0.4 and the raw one less the like for like one"
}
