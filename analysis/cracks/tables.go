package cracks

import (
	"pourback/analysis/figure"
	"pourback/analysis/stat/score"
	"pourback/analysis/stat/survival"
)

// FalseFinds is the share of false ones that is borne among the tables said to
// differ (Benjamini & Hochberg 1995).
const FalseFinds = 0.10

// Table looks at cracks by one thing at a time. It sets nothing beside
// anything else: hot pours may also be the ones with wide joints.
type Table struct {
	Factor      Factor      `json:"factor"`
	Unit        figure.Unit `json:"unit,omitempty"`
	Rows        []Row       `json:"rows"`
	NotRecorded int         `json:"not_recorded"` // placements
	LogRank     LogRank     `json:"logrank"`      // that all rows share one risk
	Differ      bool        `json:"differ"`       // and they do not, with all tables looked at
	Most, Least int         `json:"-"`            // where they differ, the rows with most and fewest cracks a year
}

// Row is the record of the slabs at one level of a factor.
type Row struct {
	Level          Level         `json:"level"`
	Placements     int           `json:"placements"`
	Callbacks      int           `json:"callbacks"` // crack events
	PlacementYears float64       `json:"placement_years"`
	Rate           figure.Figure `json:"rate_per_100_placement_years"`
	Risk1Yr        figure.Figure `json:"risk_1yr"`
}

// crackTables are the one-way tables, with the ones that differ marked.
func (s *Slabs) crackTables(level float64) []Table {
	tables := []Table{}
	for _, f := range s.crackFactors() {
		tables = append(tables, s.crackTable(f, level))
	}
	markDiffering(tables)
	return tables
}

// crackTable makes the rows of a factor, small levels pooled, and tests that
// they are alike.
func (s *Slabs) crackTable(f factor, level float64) Table {
	t := Table{Factor: f.name, Unit: f.unit, Rows: []Row{}}
	count := make([]int, f.levels)
	for _, c := range f.codes {
		if c < 0 {
			t.NotRecorded++
		} else {
			count[c]++
		}
	}
	if t.NotRecorded == len(f.codes) {
		t.LogRank.Figure = figure.Unknown(NoneRecords{Factor: f.name})
		return t
	}
	to, levels := f.pool(count)
	unrecorded := len(levels)
	group, stratum := make([]int, len(f.codes)), make([]int, len(f.codes))
	for i, c := range f.codes {
		if c < 0 {
			group[i], stratum[i] = unrecorded, 1
		} else {
			group[i] = to[c]
		}
	}
	codes, curves, err := survival.KaplanMeierBy(s.Days, s.Cracked, group)
	if err != nil {
		t.LogRank.Figure = figure.Unknown(figure.ReasonOf(err))
		return t
	}
	events := 0
	for k, code := range codes {
		if code != unrecorded {
			t.Rows = append(t.Rows, crackRow(levels[code], curves[k], level))
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
func (s *Slabs) compareRows(rows, events int, group, stratum []int) LogRank {
	switch {
	case rows < 2:
		return LogRank{Figure: figure.Unknown(OneRow{})}
	case events < EventsForAny:
		return LogRank{Figure: figure.Unknown(TooFewCracks{N: events, Within: ToCompare})}
	}
	return newLogRank(s.Days, s.Cracked, group, stratum)
}

func crackRow(l Level, km *survival.KM, level float64) Row {
	c := crackCell(km, OneYear, level)
	r := Row{Level: l, Placements: c.Placements, Callbacks: c.Callbacks, PlacementYears: c.PlacementYears, Rate: c.Rate, Risk1Yr: c.Risk1Yr}
	if r.Placements < figure.LeastForRate {
		few := figure.Unknown(TooFewPlacements{N: r.Placements})
		r.Rate, r.Risk1Yr = few, few
	}
	return r
}

// markDiffering says which tables differ by more than chance among so many.
func markDiffering(tables []Table) {
	var at []int
	var ps []float64
	for i := range tables {
		if tables[i].LogRank.Known() {
			at, ps = append(at, i), append(ps, tables[i].LogRank.Value)
		}
	}
	if adjusted, err := score.BenjaminiHochberg(ps); err == nil {
		for k, i := range at {
			tables[i].Differ = adjusted[k] <= FalseFinds
		}
	}
	for i := range tables {
		if tables[i].Differ {
			tables[i].ends()
		}
	}
}

// OneOfSeveral says whether luck alone would seldom make such differences in one
// table, but among so many tables it may.
func (t *Table) OneOfSeveral() bool {
	return t.LogRank.Known() && !t.Differ && t.LogRank.Value <= FalseFinds
}

// ends finds the rows with the most and the fewest cracks a year.
func (t *Table) ends() {
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
	t.Most, t.Least = max(0, most), max(0, least)
}
