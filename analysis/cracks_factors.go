package analysis

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"pourback/analysis/stat/score"
	"pourback/analysis/stat/survival"
	"pourback/analysis/trade"
)

// falseFinds is the share of false ones that is borne among the tables said to
// differ (Benjamini & Hochberg 1995).
const falseFinds = 0.10

// CrackTable looks at cracks by one thing at a time. It sets nothing beside
// anything else: hot pours may also be the ones with wide joints.
type CrackTable struct {
	Factor      string     `json:"factor"`
	Unit        string     `json:"unit,omitempty"`
	Rows        []CrackRow `json:"rows"`
	NotRecorded int        `json:"not_recorded"` // placements
	LogRank     LogRank    `json:"logrank"`      // that all rows share one risk
	Differ      bool       `json:"differ"`       // and they do not, with all tables looked at
	Says        string     `json:"says"`
}

// CrackRow is the record of the slabs at one level of a factor.
type CrackRow struct {
	Level          string  `json:"level"`
	Placements     int     `json:"placements"`
	Callbacks      int     `json:"callbacks"` // crack events
	PlacementYears float64 `json:"placement_years"`
	Rate           Figure  `json:"rate_per_100_placement_years"`
	Risk1Yr        Figure  `json:"risk_1yr"`
}

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

// crackTables are the one-way tables, with the ones that differ marked.
func (s *slabs) crackTables(level float64) []CrackTable {
	tables := []CrackTable{}
	for _, f := range s.crackFactors() {
		tables = append(tables, s.crackTable(f, level))
	}
	markDiffering(tables)
	return tables
}

func (s *slabs) crackFactors() []factor {
	return []factor{
		bands("air temperature", "°F", s.air, []float64{math.Inf(-1), 40, 60, 80, 90}),
		bands("evaporation", "lb/ft²/h", s.drying, []float64{math.Inf(-1), trade.PrecautionLbFt2 / 2, trade.PrecautionLbFt2}),
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

func named(name string, w *words) factor {
	f := factor{name: name, codes: w.code, levels: len(w.names), others: true}
	if at := w.find("unknown"); at >= 0 {
		f.codes = slices.Clone(w.code)
		for i, c := range f.codes {
			if c == at {
				f.codes[i] = -1
			}
		}
	}
	f.name1 = func(from, _ int) string { return w.names[from] }
	return f
}

// crackTable makes the rows of a factor, small levels pooled, and tests that
// they are alike.
func (s *slabs) crackTable(f factor, level float64) CrackTable {
	t := CrackTable{Factor: f.name, Unit: f.unit, Rows: []CrackRow{}}
	count := make([]int, f.levels)
	for _, c := range f.codes {
		if c < 0 {
			t.NotRecorded++
		} else {
			count[c]++
		}
	}
	if t.NotRecorded == len(f.codes) {
		t.LogRank.Figure = unknown("no placement records its %s", f.name)
		return t
	}
	to, names := f.pool(count)
	unrecorded := len(names)
	group, stratum := make([]int, len(f.codes)), make([]int, len(f.codes))
	for i, c := range f.codes {
		if c < 0 {
			group[i], stratum[i] = unrecorded, 1
		} else {
			group[i] = to[c]
		}
	}
	codes, curves, err := survival.KaplanMeierBy(s.days, s.cracked, group)
	if err != nil {
		t.LogRank.Figure = unknown("%s", reason(err))
		return t
	}
	events := 0
	for k, code := range codes {
		if code != unrecorded {
			t.Rows = append(t.Rows, crackRow(names[code], curves[k], level))
			events += curves[k].Events
		}
	}
	for i, g := range group {
		if g == unrecorded {
			group[i] = codes[0] // alone in a stratum of its own: compared with nobody
		}
	}
	t.LogRank = s.compareRows(len(t.Rows), events, group, stratum)
	return t
}

// compareRows tests that rows share one risk, where there is enough to test.
func (s *slabs) compareRows(rows, events int, group, stratum []int) LogRank {
	switch {
	case rows < 2:
		return LogRank{Figure: unknown("one row alone compares with nothing")}
	case events < eventsForAny:
		return LogRank{Figure: unknown("%s: too few to compare", countOf(events, "crack event"))}
	}
	return newLogRank(s.days, s.cracked, group, stratum)
}

func crackRow(name string, km *survival.KM, level float64) CrackRow {
	c := crackCell(km, oneYear, level)
	r := CrackRow{Level: name, Placements: c.Placements, Callbacks: c.Callbacks, PlacementYears: c.PlacementYears, Rate: c.Rate, Risk1Yr: c.Risk1Yr}
	if r.Placements < leastForRate {
		few := unknown("%s of this kind: too few for a rate", countOf(r.Placements, "placement"))
		r.Rate, r.Risk1Yr = few, few
	}
	return r
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
		if sum += n; sum >= leastForRate {
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
		if n >= leastForRate {
			to[k] = len(names)
			names = append(names, f.name1(k, k))
		}
	}
	for k, n := range count {
		if n < leastForRate {
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

// markDiffering says which tables differ by more than chance among so many,
// and puts each in words.
func markDiffering(tables []CrackTable) {
	var at []int
	var ps []float64
	for i := range tables {
		if tables[i].LogRank.Known() {
			at, ps = append(at, i), append(ps, tables[i].LogRank.Value)
		}
	}
	if adjusted, err := score.BenjaminiHochberg(ps); err == nil {
		for k, i := range at {
			tables[i].Differ = adjusted[k] <= falseFinds
		}
	}
	for i := range tables {
		tables[i].Says = tables[i].says()
	}
}

func (t CrackTable) says() string {
	switch {
	case !t.LogRank.Known():
		return "Nothing to compare: " + t.LogRank.Why + "."
	case !t.Differ:
		return "No difference here that chance alone could not make."
	}
	most, least := -1, -1
	for i, r := range t.Rows {
		if !r.Rate.Known() {
			continue
		}
		if most < 0 || r.Rate.Value > t.Rows[most].Rate.Value {
			most = i
		}
		if least < 0 || r.Rate.Value < t.Rows[least].Rate.Value {
			least = i
		}
	}
	return fmt.Sprintf("The rows differ by more than chance: most cracks a year at %s, fewest at %s. That is no proof of the cause.",
		t.Rows[most].Level, t.Rows[least].Level)
}
