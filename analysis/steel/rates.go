package steel

import (
	"math"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/analysis/stat/interval"
	"pourback/analysis/stat/survival"
)

// HotFrom is the air temperature in °F from which a day counts as hot.
const HotFrom = 80

// rawDifference is that of the plain shares cracked within a year, the first
// kind less the second, or of the plain rates where most slabs are younger.
func (s reinforced) rawDifference(p cracks.Pair, level float64) figure.Figure {
	var x, n [2]int
	for i, k := range p.Kind {
		if k >= 0 && s.Old[i] {
			n[k]++
			if s.Cracked[i] && s.Days[i] <= cracks.OneYear {
				x[k]++
			}
		}
	}
	if 2*n[0] >= p.N[0] && 2*n[1] >= p.N[1] {
		return figure.Estimated(interval.Newcombe(interval.TwoProportions{X1: x[0], N1: n[0], X2: x[1], N2: n[1]}, level))
	}
	d, err := survival.MantelHaenszelRateDifference(p.Rates(s.Days, s.Cracked, 1, func(int) int { return 0 }), level)
	d.Method = "difference of cracks a placement-year, since most slabs are younger than a year"
	return figure.Estimated(d.Estimate, err)
}

// rateRatio is the first kind's rate over the second's within bands of
// temperature between the cuts.
func (s reinforced) rateRatio(p cracks.Pair, cuts []float64, level float64) (survival.Effect, error) {
	rates := p.Rates(s.Alone, s.First, len(cuts)+1, func(i int) int {
		if math.IsNaN(s.Air[i]) {
			return -1
		}
		return bandOf(s.Air[i], cuts)
	})
	return survival.MantelHaenszelRateRatio(rates, level)
}

// tens are the cuts at each 10 °F from 30 to 110.
var tens = []float64{30, 40, 50, 60, 70, 80, 90, 100, 110}

// Compared is a comparison in short: of mesh or rebar with none or fiber.
type Compared struct {
	Of                string        `json:"of"`
	Against           string        `json:"against"`
	OfPlacements      int           `json:"of_placements"`
	AgainstPlacements int           `json:"against_placements"`
	RawDifference     figure.Figure `json:"raw_difference"` // first less second
	Ratio             figure.Figure `json:"rate_ratio"`     // first over second, within bands of temperature
}

// inShort compares mesh and rebar with none and fiber, where there are both.
func (s reinforced) inShort(opt setting.Options) []Compared {
	pairs := []Compared{}
	for _, of := range []string{"mesh", "rebar"} {
		for _, against := range []string{"none", "fiber"} {
			a, b := s.Steel.Find(of), s.Steel.Find(against)
			if a < 0 || b < 0 {
				continue
			}
			p := s.Pair(a, b)
			out := Compared{Of: of, Against: against, OfPlacements: p.N[0], AgainstPlacements: p.N[1]}
			why := s.CannotTell(a, b, of, against)
			if events := s.eventsOf(p); why == nil && events < cracks.EventsForAny {
				why = tooFew(events)
			}
			switch {
			case why != nil:
				out.RawDifference, out.Ratio = figure.Unknown(why), figure.Unknown(why)
			case s.Event == setting.EventSeen:
				out.RawDifference, out.Ratio = s.lookedDifference(p, opt.Level), s.lookedRatio(p, of, against, opt)
			default:
				ratio, err := s.rateRatio(p, tens, opt.Level)
				out.RawDifference, out.Ratio = s.rawDifference(p, opt.Level), figure.Estimated(ratio.Estimate, err)
			}
			pairs = append(pairs, out)
		}
	}
	return pairs
}

// eventsOf counts the cracks among slabs of a pair.
func (s reinforced) eventsOf(p cracks.Pair) int {
	n := 0
	for i, k := range p.Kind {
		if k >= 0 && s.First[i] {
			n++
		}
	}
	return n
}

func tooFew(events int) figure.Reason {
	return cracks.TooFewCracks{N: events, Within: cracks.ToCompareKind}
}
