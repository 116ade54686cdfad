package cracks

import (
	"cmp"
	"slices"
	"strings"

	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/analysis/stat/interval"
	"pourback/analysis/stat/survival"
	"pourback/ingest/record"
)

// Cell is the record of one kind of slab.
type Cell struct {
	Reinforcement  string        `json:"reinforcement"`
	From           figure.Number `json:"spacing_from_ft"` // of the joint spacing band, included; unknown where open
	To             figure.Number `json:"spacing_to_ft"`
	Placements     int           `json:"placements"`
	Callbacks      int           `json:"callbacks"` // crack events
	PlacementYears float64       `json:"placement_years"`
	Rate           figure.Figure `json:"rate_per_100_placement_years"`
	Risk1Yr        figure.Figure `json:"risk_1yr"`
	RiskWarranty   figure.Figure `json:"risk_warranty"`   // within the warranty
	FullYear       figure.Figure `json:"share_full_year"` // of slabs a year old and more, cracked within it
	FirstYear      int           `json:"-"`               // crack events within a year of the pour
	Looked         int           `json:"-"`               // slabs that somebody went to look at, where cracks are seen at visits
	Curve          *Curve        `json:"-"`
}

// Enough says whether there are slabs enough to speak of a rate.
func (c Cell) Enough() bool { return c.Placements >= figure.LeastForRate }

// TellsBy says whether enough slabs stand behind what is told of the kind up to an
// age in days: watched so long, or cracked before. Those that are looked at have
// their own rule, see [Between.Risk].
func (c Cell) TellsBy(day float64) bool {
	return c.Enough() && (c.Curve == nil || c.Curve.looks != nil || c.Curve.behind(day) >= FewestWatched)
}

// Band is the place of a spacing among the bands, or -1 where it is unknown.
func Band(spacing record.Number, bands []float64) int {
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
func (s *Slabs) crackCells(group []int, horizon, level float64) (codes []int, cells []Cell) {
	codes, curves, err := survival.KaplanMeierBy(s.Days, s.Cracked, group)
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
		if s.Old[i] {
			old[at[g-low]]++
			if s.Cracked[i] && s.Days[i] <= OneYear {
				within[at[g-low]]++
			}
		}
	}
	cells = make([]Cell, len(codes))
	for k, km := range curves {
		cells[k] = s.cell(km, func(i int) bool { return group[i] == codes[k] }, horizon, level)
		if old[k] == 0 {
			cells[k].FullYear = figure.Unknown(NoOldSlab{Seen: s.Event == setting.EventSeen})
		} else {
			cells[k].FullYear = figure.Estimated(interval.Wilson(within[k], old[k], level))
		}
	}
	return codes, cells
}

// cell is what is known of some slabs, with their curve: by Kaplan-Meier, or
// where cracks are seen at visits from the looks between which they arose.
func (s *Slabs) cell(km *survival.KM, in func(i int) bool, horizon, level float64) Cell {
	days := watchedDays(km)
	c := Cell{Placements: km.N, Callbacks: km.Events, PlacementYears: days / DaysPerYear, FirstYear: km.EventsBy(OneYear), Curve: &Curve{km: km, level: level}}
	if s.Event == setting.EventSeen {
		s.betweenLooks(&c, s.looksOf(in), horizon)
		return c
	}
	c.Rate = figure.Unknown(NotLookedAt{})
	if days > 0 {
		c.Rate = Garwood(km.Events, days, level)
	}
	c.Risk1Yr, c.RiskWarranty = RiskAt(km, OneYear, level), RiskAt(km, horizon, level)
	return c
}

// betweenLooks fills in the figures that rest on looks.
func (s *Slabs) betweenLooks(c *Cell, looks []Look, horizon float64) {
	b := FitBetween(looks, append([]float64{horizon}, roundAges...), c.Curve.level, s.seed)
	c.Curve.looks, c.Looked = b, len(looks)
	c.Risk1Yr, c.RiskWarranty = b.Risk(OneYear), b.Risk(horizon)
	if c.Rate = figure.Unknown(NotLookedAt{}); len(looks) > 0 {
		rows := make([]survival.Interval, len(looks))
		for i := range looks {
			rows[i] = looks[i].Interval
		}
		rate, err := survival.IntervalRate(rows, c.Curve.level)
		const per = 100 * DaysPerYear
		rate.Value, rate.Low, rate.High = per*rate.Value, per*rate.Low, per*rate.High
		c.Rate = figure.Estimated(rate, err)
	}
}

// OfLooks are the share of some slabs cracked within a year, and the cracks a year
// on 100 of them, where cracks are seen at visits.
func (s *Slabs) OfLooks(in func(i int) bool, level float64) (risk, rate figure.Figure) {
	c := Cell{Curve: &Curve{level: level}}
	s.betweenLooks(&c, s.looksOf(in), OneYear)
	return c.Risk1Yr, c.Rate
}

// Garwood is the rate in 100 placement-years, with exact limits.
func Garwood(events int, days, level float64) figure.Figure {
	return figure.Estimated(interval.Garwood(events, days/DaysPerYear/100, level))
}

// emptyCell is the record of no slab at all.
func emptyCell() Cell {
	none := figure.Unknown(NoPlacements{})
	return Cell{Rate: none, Risk1Yr: none, RiskWarranty: none, FullYear: none}
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

// RiskAt is the probability of a crack by the day, 1 − Kaplan-Meier.
func RiskAt(km *survival.KM, day, level float64) figure.Figure {
	if km.AtRiskAt(day) == 0 && km.Last() < day && km.Survival[len(km.Survival)-1] > 0 {
		return figure.Unknown(WatchedTooShort{Days: day, Longest: km.Last()})
	}
	risk, err := km.Risk(day, level)
	risk.N = km.N
	return figure.Estimated(risk, err)
}

// BySpacing are the cells of reinforcement × spacing band, unknown spacing last
// within each reinforcement.
func (s *Slabs) BySpacing(bands []float64, horizon, level float64) []Cell {
	width := len(bands) + 1
	group := make([]int, s.N())
	for i, steel := range s.Steel.Code {
		b := s.band[i]
		if b < 0 {
			b = len(bands)
		}
		group[i] = steel*width + b
	}
	codes, cells := s.crackCells(group, horizon, level)
	for k, code := range codes {
		cells[k].Reinforcement = s.Steel.Names[code/width]
		if b := code % width; b < len(bands) {
			cells[k].From = figure.Known(bands[b])
			if b+1 < len(bands) {
				cells[k].To = figure.Known(bands[b+1])
			}
		}
	}
	return orEmpty(cells)
}

// bySteel are the cells of each reinforcement over all bands.
func (s *Slabs) bySteel(horizon, level float64) []Cell {
	codes, cells := s.crackCells(s.Steel.Code, horizon, level)
	for k, code := range codes {
		cells[k].Reinforcement = s.Steel.Names[code]
	}
	return orEmpty(cells)
}

// Together is the cell of all slabs.
func (s *Slabs) Together(horizon, level float64) Cell {
	c := emptyCell()
	if _, cells := s.crackCells(make([]int, s.N()), horizon, level); cells != nil {
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
