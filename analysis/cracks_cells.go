package analysis

import (
	"cmp"
	"slices"
	"strings"

	"pourback/analysis/stat/interval"
	"pourback/analysis/stat/survival"
	"pourback/ingest/record"
)

// CrackCell is the record of one kind of slab.
type CrackCell struct {
	Reinforcement  string        `json:"reinforcement"`
	From           record.Number `json:"-"` // spacing band in ft, From included
	To             record.Number `json:"-"`
	Placements     int           `json:"placements"`
	Callbacks      int           `json:"callbacks"` // crack events
	PlacementYears float64       `json:"placement_years"`
	Rate           Figure        `json:"rate_per_100_placement_years"`
	Risk1Yr        Figure        `json:"risk_1yr"`
	RiskWarranty   Figure        `json:"risk_warranty"`   // within the warranty
	FullYear       Figure        `json:"share_full_year"` // of slabs a year old and more, cracked within it
	Curve          *survival.KM  `json:"-"`
}

// MarshalJSON adds the band's ends, null where open or unknown.
func (c CrackCell) MarshalJSON() ([]byte, error) {
	type plain CrackCell
	return marshalWith(plain(c), func(b []byte) []byte {
		b = appendNumber(append(b, `"spacing_from_ft":`...), c.From.V, c.From.OK)
		return appendNumber(append(b, `,"spacing_to_ft":`...), c.To.V, c.To.OK)
	})
}

// band is the place of a spacing among the bands, or -1 where it is unknown.
func band(spacing record.Number, bands []float64) int {
	if !spacing.OK || !(spacing.V >= bands[0]) {
		return -1
	}
	at, exact := slices.BinarySearch(bands, spacing.V)
	if exact {
		return at
	}
	return at - 1
}

// wordOrder compares the words of a column by their place in its vocabulary,
// joined words by the first, those that are not in it and unknown last.
func wordOrder(column string) func(a, b string) int {
	words := record.Placements.Column(column).Words.Words
	rank := func(s string) int {
		first, _, _ := strings.Cut(s, "+")
		if i := slices.Index(words, first); i >= 0 {
			return i
		}
		return len(words)
	}
	return func(a, b string) int { return cmp.Or(cmp.Compare(rank(a), rank(b)), cmp.Compare(a, b)) }
}

// crackCells are the records of groups of slabs, in the order of their codes.
func (s *slabs) crackCells(group []int, horizon, level float64) (codes []int, cells []CrackCell) {
	codes, curves, err := survival.KaplanMeierBy(s.days, s.cracked, group)
	if err != nil {
		return nil, nil
	}
	low := codes[0]
	at := make([]int, codes[len(codes)-1]-low+1)
	for k, code := range codes {
		at[code-low] = k
	}
	old, within := make([]int, len(codes)), make([]int, len(codes))
	for i, g := range group {
		if s.old[i] {
			old[at[g-low]]++
			if s.cracked[i] && s.days[i] <= oneYear {
				within[at[g-low]]++
			}
		}
	}
	cells = make([]CrackCell, len(codes))
	for k, km := range curves {
		cells[k] = crackCell(km, horizon, level)
		if old[k] == 0 {
			cells[k].FullYear = unknown("no slab of this kind is a year old")
		} else {
			cells[k].FullYear = estimated(interval.Wilson(within[k], old[k], level))
		}
	}
	return codes, cells
}

// crackCell is what a curve says of its slabs.
func crackCell(km *survival.KM, horizon, level float64) CrackCell {
	days := watchedDays(km)
	c := CrackCell{Placements: km.N, Callbacks: km.Events, PlacementYears: days / daysPerYear, Curve: km}
	c.Rate = unknown("nobody has looked at these slabs since the pour")
	if days > 0 {
		c.Rate = garwood(km.Events, days, level)
	}
	c.Risk1Yr, c.RiskWarranty = riskAt(km, oneYear, level), riskAt(km, horizon, level)
	return c
}

// garwood is the rate in 100 placement-years, with exact limits.
func garwood(events int, days, level float64) Figure {
	return estimated(interval.Garwood(events, days/daysPerYear/100, level))
}

// emptyCell is the record of no slab at all.
func emptyCell() CrackCell {
	none := unknown("no placements")
	return CrackCell{Rate: none, Risk1Yr: none, RiskWarranty: none, FullYear: none}
}

// watchedDays is the time that a curve's slabs were watched, all together.
func watchedDays(km *survival.KM) float64 {
	sum := 0.0
	for i, t := range km.Time {
		ended := km.AtRisk[i]
		if i+1 < len(km.AtRisk) {
			ended -= km.AtRisk[i+1]
		}
		sum += t * float64(ended)
	}
	return sum
}

// riskAt is the probability of a crack by the day, 1 − Kaplan-Meier.
func riskAt(km *survival.KM, day, level float64) Figure {
	if km.AtRiskAt(day) == 0 && km.Last() < day && km.Survival[len(km.Survival)-1] > 0 {
		return unknown("no slab of this kind has been watched for %.0f days: the longest for %.0f", day, km.Last())
	}
	risk, err := km.Risk(day, level)
	risk.N = km.N
	return estimated(risk, err)
}

// bySpacing are the cells of reinforcement × spacing band, unknown spacing last
// within each reinforcement.
func (s *slabs) bySpacing(bands []float64, horizon, level float64) []CrackCell {
	width := len(bands) + 1
	group := make([]int, s.n())
	for i, steel := range s.steel.code {
		b := s.band[i]
		if b < 0 {
			b = len(bands)
		}
		group[i] = steel*width + b
	}
	codes, cells := s.crackCells(group, horizon, level)
	for k, code := range codes {
		cells[k].Reinforcement = s.steel.names[code/width]
		if b := code % width; b < len(bands) {
			cells[k].From = record.Some(bands[b])
			if b+1 < len(bands) {
				cells[k].To = record.Some(bands[b+1])
			}
		}
	}
	return orEmpty(cells)
}

// bySteel are the cells of each reinforcement over all bands.
func (s *slabs) bySteel(horizon, level float64) []CrackCell {
	codes, cells := s.crackCells(s.steel.code, horizon, level)
	for k, code := range codes {
		cells[k].Reinforcement = s.steel.names[code]
	}
	return orEmpty(cells)
}

// together is the cell of all slabs.
func (s *slabs) together(horizon, level float64) CrackCell {
	c := emptyCell()
	if _, cells := s.crackCells(make([]int, s.n()), horizon, level); cells != nil {
		c = cells[0]
	}
	c.Reinforcement = "all"
	return c
}

// orEmpty keeps JSON from writing null for no rows.
func orEmpty[T any](rows []T) []T {
	if rows == nil {
		return []T{}
	}
	return rows
}
