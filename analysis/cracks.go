package analysis

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"pourback/analysis/stat/interval"
	"pourback/analysis/stat/survival"
	"pourback/ingest/record"
)

// Cracks says how often slabs of each make crack, and how long they have been
// watched: a slab poured last week has proved nothing.
type Cracks struct {
	Event          string      `json:"event"` // what counts as a crack
	All            CrackCell   `json:"all"`
	Cells          []CrackCell `json:"cells"`            // reinforcement × spacing band
	Reinforcements []CrackCell `json:"by_reinforcement"` // over all bands
	LogRank        Figure      `json:"logrank"`
	Cox            []CoxTerm   `json:"cox"`
	SpacingUnknown int         `json:"spacing_unknown"` // placements
	Notes          []string    `json:"notes"`
}

// CrackCell is the record of one kind of slab.
type CrackCell struct {
	Reinforcement  string        `json:"reinforcement"`
	From           record.Number `json:"-"` // spacing band in ft, From included
	To             record.Number `json:"-"`
	Placements     int           `json:"placements"`
	Callbacks      int           `json:"callbacks"` // crack events
	PlacementYears float64       `json:"placement_years"`
	Risk1Yr        Figure        `json:"risk_1yr"`
	FullYear       Figure        `json:"share_full_year"` // of slabs a year old and more, cracked within it
	Curve          *survival.KM  `json:"-"`
}

// CoxTerm is one covariate of the hazard model.
type CoxTerm struct {
	Term        string `json:"term"`
	HazardRatio Figure `json:"hazard_ratio"`
	P           Figure `json:"p"`
}

// band is the place of a spacing among the bands, or -1 where it is unknown.
func band(spacing record.Number, bands []float64) int {
	if !spacing.OK || spacing.V < bands[0] {
		return -1
	}
	at, exact := slices.BinarySearch(bands, spacing.V)
	if exact {
		return at
	}
	return at - 1
}

type crackKey struct {
	reinforcement string
	band          int
}

func (k crackKey) compare(o crackKey) int {
	known := func(b int) int { return min(b, 0) * -1 } // unknown last
	return cmp.Or(cmp.Compare(reinforcementRank(k.reinforcement), reinforcementRank(o.reinforcement)),
		cmp.Compare(k.reinforcement, o.reinforcement), cmp.Compare(known(k.band), known(o.band)), cmp.Compare(k.band, o.band))
}

// reinforcementRank puts none before mesh before rebar before fiber, and
// unknown last.
func reinforcementRank(r string) int {
	first, _, _ := strings.Cut(r, "+")
	words := record.Placements.Column("reinforcement").Words.Words
	if i := slices.Index(words, first); i >= 0 {
		return i
	}
	return len(words)
}

func cracks(h *record.History, opt Options) *Cracks {
	c := &Cracks{Event: opt.Event, Cells: []CrackCell{}, Reinforcements: []CrackCell{}, Cox: []CoxTerm{}, Notes: []string{}}
	c.LogRank = later("the comparison of curves")
	watched := make([]followUp, len(h.Placements))
	for i := range h.Placements {
		watched[i] = watch(h, i, opt.Event)
		if !h.Placements[i].JointSpacingFt.OK {
			c.SpacingUnknown++
		}
	}
	keyOf := func(i int) crackKey {
		p := &h.Placements[i]
		return crackKey{orUnknown(p.Reinforcement), band(p.JointSpacingFt, opt.Bands)}
	}
	cells := groupBy(len(watched), func(i int) (crackKey, bool) { return keyOf(i), true })
	for _, k := range cells.sorted(crackKey.compare) {
		cell := crackCell(h, watched, cells.rows[k], opt.Level)
		cell.Reinforcement = k.reinforcement
		if k.band >= 0 {
			cell.From = record.Some(opt.Bands[k.band])
			if k.band+1 < len(opt.Bands) {
				cell.To = record.Some(opt.Bands[k.band+1])
			}
		}
		c.Cells = append(c.Cells, cell)
	}
	made := groupBy(len(watched), func(i int) (crackKey, bool) { return crackKey{keyOf(i).reinforcement, 0}, true })
	for _, k := range made.sorted(crackKey.compare) {
		cell := crackCell(h, watched, made.rows[k], opt.Level)
		cell.Reinforcement = k.reinforcement
		c.Reinforcements = append(c.Reinforcements, cell)
	}
	c.All = crackCell(h, watched, every(len(watched)), opt.Level)
	c.All.Reinforcement = "all"
	c.note(h)
	return c
}

// every is 0 … n−1.
func every(n int) []int {
	rows := make([]int, n)
	for i := range rows {
		rows[i] = i
	}
	return rows
}

func crackCell(h *record.History, watched []followUp, rows []int, level float64) CrackCell {
	c := CrackCell{Placements: len(rows)}
	if len(rows) == 0 {
		c.Risk1Yr = unknown("no placements")
		c.FullYear = c.Risk1Yr
		return c
	}
	times, events := make([]float64, len(rows)), make([]bool, len(rows))
	old, within := 0, 0
	for j, i := range rows {
		w := watched[i]
		times[j], events[j] = w.time(), w.cracked
		c.PlacementYears += w.years()
		if w.cracked {
			c.Callbacks++
		}
		if h.AsOf-h.Placements[i].PlacedOn >= 365 {
			old++
			if w.cracked && w.days <= 365 {
				within++
			}
		}
	}
	c.Risk1Yr, c.Curve = riskAt(times, events, 365, level)
	if old == 0 {
		c.FullYear = unknown("no slab of this kind is a year old")
	} else {
		c.FullYear = estimated(interval.Wilson(within, old, level))
	}
	return c
}

// riskAt is the probability of a crack by the day, 1 − Kaplan-Meier.
func riskAt(times []float64, events []bool, day, level float64) (Figure, *survival.KM) {
	km, err := survival.KaplanMeier(times, events)
	if err != nil {
		return unknown("%s", reason(err)), nil
	}
	if km.AtRiskAt(day) == 0 && km.Last() < day && km.Survival[len(km.Survival)-1] > 0 {
		return unknown("no slab of this kind has been watched for %.0f days: the longest for %.0f", day, km.Last()), km
	}
	risk, err := km.Risk(day, level)
	risk.N = km.N
	return estimated(risk, err), km
}

func (c *Cracks) note(h *record.History) {
	if n := len(h.Placements); n > 0 && c.SpacingUnknown > 0 {
		c.Notes = append(c.Notes, fmt.Sprintf("Joint spacing is unknown for %d of %d placements: a difference between reinforcements there may be the spacing's doing, and the records cannot tell the two apart.", c.SpacingUnknown, n))
	}
	if c.Event == EventSeen {
		c.Notes = append(c.Notes, "A crack counts from the first visit that saw it; slabs without one are followed to their last visit.")
	} else {
		c.Notes = append(c.Notes, "A crack counts when the customer called about it: a callback is not a crack, and a crack may go unreported.")
	}
}

// MarshalJSON adds the band's ends, null where open or unknown.
func (c CrackCell) MarshalJSON() ([]byte, error) {
	type plain CrackCell
	return marshalWith(plain(c), func(b []byte) []byte {
		b = appendNumber(append(b, `"spacing_from_ft":`...), c.From.V, c.From.OK)
		return appendNumber(append(b, `,"spacing_to_ft":`...), c.To.V, c.To.OK)
	})
}
