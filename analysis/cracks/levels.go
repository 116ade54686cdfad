package cracks

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"pourback/analysis/figure"
	"pourback/analysis/trade"
)

// factor is one thing that slabs differ in: levels by code, −1 where it was not
// recorded. The levels of bands stand in order, so that a small one goes to its
// neighbour; those of words do not.
type factor struct {
	name, unit string
	codes      []int
	levels     int
	name1      func(from, to int) string // of the levels from … to, pooled
	others     bool                      // small levels go together, wherever they stand
}

// crackFactors are what the one-way tables look at.
func (s *Slabs) crackFactors() []factor {
	return []factor{
		bands("air temperature", "°F", s.Air, []float64{math.Inf(-1), 40, 60, 80, 90}),
		bands("evaporation", "lb/ft²/h", s.Drying, []float64{math.Inf(-1), trade.PrecautionLbFt2 / 2, trade.PrecautionLbFt2}),
		bands("joint spacing over thickness", "thicknesses", s.ratio, []float64{0, 24, 30, 36}),
		named("joint cut", &s.cut),
		bands("saw delay", "hours after finishing", s.saw, []float64{0, 4, 8, 12, 18}),
		named("curing", &s.curing),
	}
}

// bands makes levels of a number by their lower ends; a value at an end belongs
// to the band below it where the end is a guide's upper limit, as all are here.
func bands(name, unit string, values, lower []float64) factor {
	f := factor{name: name, unit: unit, codes: make([]int, len(values)), levels: len(lower)}
	for i, v := range values {
		f.codes[i] = -1
		for k := range lower {
			if v > lower[k] || k == 0 && v >= lower[0] {
				f.codes[i] = k
			}
		}
	}
	text := func(v float64) string { return strconv.FormatFloat(v, 'g', 4, 64) }
	f.name1 = func(from, to int) string {
		switch {
		case from == 0 && to == len(lower)-1:
			return "all"
		case from == 0:
			return "up to " + text(lower[to+1])
		case to == len(lower)-1:
			return "over " + text(lower[from])
		}
		return "over " + text(lower[from]) + " to " + text(lower[to+1])
	}
	return f
}

func named(name string, w *figure.Words) factor {
	f := factor{name: name, codes: w.Code, levels: len(w.Names), others: true}
	if at := w.Find("unknown"); at >= 0 {
		f.codes = slices.Clone(w.Code)
		for i, c := range f.codes {
			if c == at {
				f.codes[i] = -1
			}
		}
	}
	f.name1 = func(from, _ int) string { return w.Names[from] }
	return f
}

// pool joins levels with too few placements: of bands each to its neighbours
// until there are enough, of words all to one row of others. It gives each
// level its row, and the rows their names.
func (f factor) pool(count []int) (to []int, names []string) {
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
		names = append(names, f.name1(at, end-1))
	}
	return to, names
}

func (f factor) poolWords(count, to []int) ([]int, []string) {
	var names, small []string
	for k, n := range count {
		if n >= figure.LeastForRate {
			to[k] = len(names)
			names = append(names, f.name1(k, k))
		}
	}
	for k, n := range count {
		if n < figure.LeastForRate {
			to[k] = len(names)
			if n > 0 {
				small = append(small, f.name1(k, k))
			}
		}
	}
	if len(small) == 1 {
		names = append(names, small[0])
	} else {
		names = append(names, "others ("+strings.Join(small, ", ")+")")
	}
	return to, names
}
