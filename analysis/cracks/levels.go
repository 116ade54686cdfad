package cracks

import (
	"math"
	"slices"

	"pourback/analysis/figure"
	"pourback/analysis/trade"
)

// factor is one thing that slabs differ in: levels by code, −1 where it was not
// recorded. The levels of bands stand in order, so that a small one goes to its
// neighbour; those of words do not.
type factor struct {
	name   Factor
	unit   figure.Unit
	codes  []int
	levels int
	level  func(from, to int) Level // the levels from … to, pooled
	others bool                     // small levels go together, wherever they stand
}

// Factor is a thing that slabs differ in.
type Factor string

// The factors that the one-way tables look at.
const (
	ByAir         Factor = "air temperature"
	ByEvaporation Factor = "evaporation"
	BySpacing     Factor = "joint spacing over thickness"
	ByCut         Factor = "joint cut"
	BySaw         Factor = "saw delay"
	ByCuring      Factor = "curing"
)

// Level is what the slabs of a row share: a number over Low and up to High, in
// the unit of the table, or a word; several words where few slabs have each.
type Level struct {
	Low, High figure.Number // unknown where open
	Words     []string
}

// crackFactors are what the one-way tables look at.
func (s *Slabs) crackFactors() []factor {
	return []factor{
		bands(ByAir, figure.Fahrenheit, s.Air, []float64{math.Inf(-1), 40, 60, 80, 90}),
		bands(ByEvaporation, figure.Evaporation, s.Drying, []float64{math.Inf(-1), trade.PrecautionLbFt2 / 2, trade.PrecautionLbFt2}),
		bands(BySpacing, figure.Thicknesses, s.ratio, []float64{0, 24, 30, 36}),
		named(ByCut, &s.cut),
		bands(BySaw, figure.AfterFinishing, s.saw, []float64{0, 4, 8, 12, 18}),
		named(ByCuring, &s.curing),
	}
}

// bands makes levels of a number by their lower ends; a value at an end belongs
// to the band below it where the end is a guide's upper limit, as all are here.
func bands(name Factor, unit figure.Unit, values, lower []float64) factor {
	f := factor{name: name, unit: unit, codes: make([]int, len(values)), levels: len(lower)}
	for i, v := range values {
		f.codes[i] = -1
		for k := range lower {
			if v > lower[k] || k == 0 && v >= lower[0] {
				f.codes[i] = k
			}
		}
	}
	f.level = func(from, to int) (l Level) {
		if from > 0 {
			l.Low = figure.Known(lower[from])
		}
		if to < len(lower)-1 {
			l.High = figure.Known(lower[to+1])
		}
		return l
	}
	return f
}

func named(name Factor, w *figure.Words) factor {
	f := factor{name: name, codes: w.Code, levels: len(w.Names), others: true}
	if at := w.Find("unknown"); at >= 0 {
		f.codes = slices.Clone(w.Code)
		for i, c := range f.codes {
			if c == at {
				f.codes[i] = -1
			}
		}
	}
	f.level = func(from, _ int) Level { return Level{Words: []string{w.Names[from]}} }
	return f
}

// pool joins levels with too few placements: of bands each to its neighbours
// until there are enough, of words all to one row of others. It gives each
// level its row, and says what each row holds.
func (f factor) pool(count []int) (to []int, rows []Level) {
	to = make([]int, f.levels)
	if f.others {
		return f.poolWords(count, to)
	}
	from, sum := 0, 0
	var starts []int
	for k, n := range count {
		if sum += n; sum >= figure.LeastForRate {
			starts = append(starts, from)
			from, sum = k+1, 0
		}
	}
	if len(starts) == 0 {
		starts = []int{0}
	}
	for r, at := range starts {
		end := f.levels
		if r+1 < len(starts) {
			end = starts[r+1]
		}
		for k := at; k < end; k++ {
			to[k] = r
		}
		rows = append(rows, f.level(at, end-1))
	}
	return to, rows
}

func (f factor) poolWords(count, to []int) ([]int, []Level) {
	var rows []Level
	var others Level
	for k, n := range count {
		if n >= figure.LeastForRate {
			to[k] = len(rows)
			rows = append(rows, f.level(k, k))
		}
	}
	for k, n := range count {
		if n < figure.LeastForRate {
			to[k] = len(rows)
			if n > 0 {
				others.Words = append(others.Words, f.level(k, k).Words...)
			}
		}
	}
	return to, append(rows, others)
}
