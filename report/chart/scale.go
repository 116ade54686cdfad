package chart

import (
	"math"
	"strconv"

	"pourback/ingest/record"
	"pourback/report/say"
)

// scale maps values to a stretch of a drawing.
type scale struct {
	low, high float64 // the values at its ends
	from, to  float64 // where those lie
	ratio     bool    // doubling and halving are the same way off from 1
}

// at is where a value lies; one beyond an end lies beyond it.
func (s scale) at(v float64) float64 {
	low, high := s.low, s.high
	if s.ratio {
		low, high, v = math.Log(low), math.Log(high), math.Log(v)
	}
	if low == high {
		return (s.from + s.to) / 2
	}
	return s.from + (v-low)/(high-low)*(s.to-s.from)
}

// holds says whether a value lies between the ends, or as good as.
func (s scale) holds(v float64) bool {
	slack := 1e-9 * (s.high - s.low)
	if s.ratio {
		slack = 1e-9 * s.low
	}
	return v >= s.low-slack && v <= s.high+slack
}

// within brings a value to the nearer end where it is beyond.
func (s scale) within(v float64) float64 { return min(max(v, s.low), s.high) }

// Rule is a line across a chart, or a mark on its scale, at a value that has a
// name.
type Rule struct {
	Name string
	At   float64
}

// marks are round numbers on a scale, at most so many and no fewer than two.
func (s scale) marks(most int) []Rule {
	if s.ratio {
		return s.ratios(most)
	}
	step := RoundStep(s.high-s.low, most)
	var out []Rule
	for k := math.Ceil(s.low/step - 1e-9); k*step <= s.high+1e-9*step && len(out) <= most+1; k++ {
		out = append(out, Rule{number(k*step, step), k * step})
	}
	return out
}

// ratios are marks on a scale of ratios: powers of two, or round numbers where it
// is short.
func (s scale) ratios(most int) []Rule {
	doublings := math.Log2(s.high / s.low)
	if doublings < 1.6 {
		plain := s
		plain.ratio = false
		return plain.marks(most)
	}
	by := math.Ceil(doublings / float64(most-1))
	var out []Rule
	for k := by * math.Ceil(math.Log2(s.low)/by-1e-9); math.Exp2(k) <= s.high*(1+1e-9); k += by {
		out = append(out, Rule{number(math.Exp2(k), math.Exp2(min(k, 0))), math.Exp2(k)})
	}
	return out
}

// number writes a mark of a scale whose marks are a step apart.
func number(v, step float64) string {
	if math.Abs(v) >= 1e9 || step < 1e-6 {
		return strconv.FormatFloat(v, 'g', 3, 64)
	}
	decimals := 0
	for scaled := step; decimals < 6 && math.Abs(scaled-math.Round(scaled)) > 1e-6*scaled; scaled *= 10 {
		decimals++
	}
	return say.Grouped(v, decimals)
}

// flat says whether two ends are too near each other to be told apart.
func flat(low, high float64) bool {
	return !(high-low > 1e-12+1e-9*max(math.Abs(low), math.Abs(high)))
}

// widened is a scale whose ends are round numbers, so that the values lie
// within.
func widened(low, high float64, most int) (float64, float64) {
	if flat(low, high) {
		off := max(1, math.Abs(low)/2)
		if math.Abs(low) > 1e-12 {
			low, high = low-off, high+off
		} else {
			low, high = 0, 1
		}
	}
	step := RoundStep(high-low, most)
	return step * math.Floor(low/step+1e-9), step * math.Ceil(high/step-1e-9)
}

// RoundStep is the least step of 1, 2 or 5 times a power of ten of which at most
// most steps cover a span.
func RoundStep(span float64, most int) float64 {
	if !(span > 0) || math.IsInf(span, 0) {
		return 1
	}
	unit := math.Pow(10, math.Floor(math.Log10(span/float64(most))))
	for _, m := range []float64{1, 2, 5} {
		if unit*m*float64(most) >= span*(1-1e-9) {
			return unit * m
		}
	}
	return 10 * unit
}

// ends are the least and the greatest of values that can be drawn; none where
// there are none.
func ends(values ...float64) (low, high float64, ok bool) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, v := range values {
		if finite(v) {
			low, high = min(low, v), max(high, v)
		}
	}
	return low, high, low <= high
}

// ratioEnds are the ends of a scale of ratios: as far off 1 as the values, and as
// their ranges, but not much farther than the values. A range that goes beyond is
// drawn to the edge.
func ratioEnds(values, ranges []float64) (low, high float64) {
	const beyond = 2.5
	up, down := func(v float64) float64 { return v }, func(v float64) float64 { return 1 / v }
	farthest := func(all []float64, side func(float64) float64) float64 {
		away := 1.0
		for _, v := range all {
			if v > 0 && finite(v) && finite(1/v) {
				away = max(away, side(v))
			}
		}
		return away
	}
	most := beyond * max(farthest(values, up), farthest(values, down))
	end := func(side func(float64) float64) float64 {
		return ratioEnd(max(farthest(values, side), min(farthest(ranges, side), most)))
	}
	return 1 / end(down), end(up)
}

// ratioEnd is a round ratio that is no less.
func ratioEnd(away float64) float64 {
	for _, end := range []float64{1.1, 1.2, 1.5, 2} {
		if away <= end {
			return end
		}
	}
	return math.Exp2(math.Ceil(math.Log2(away) - 1e-9))
}

// Calendar says the words under dates: those of a month such as 2026-05, and of
// a year.
type Calendar struct {
	Month func(month string) string
}

// marks are the beginnings of years, quarters or months between two days, the
// coarsest of which there are enough, at most so many.
func (c Calendar) marks(from, to float64, most int) (out []Rule) {
	for _, months := range []int{1, 2, 3, 6, 12, 24, 60, 120, 240, 600} {
		out = out[:0]
		first := record.Date(from).Time()
		for year, month := first.Year(), 1; len(out) <= most; month += months {
			day := record.DateOf(year, 1, 1).Time().AddDate(0, month-1, 0)
			switch at := float64(record.DayOf(day)); {
			case at > to:
				return out
			case at >= from && months >= 12:
				out = append(out, Rule{strconv.Itoa(day.Year()), at})
			case at >= from:
				out = append(out, Rule{c.Month(day.Format("2006-01")), at})
			}
		}
	}
	return out
}
