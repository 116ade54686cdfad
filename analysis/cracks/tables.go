package cracks

import (
	"fmt"

	"pourback/analysis/figure"
	"pourback/analysis/stat/score"
	"pourback/analysis/stat/survival"
)

// FalseFinds is the share of false ones that is borne among the tables said to
// differ (Benjamini & Hochberg 1995).
const FalseFinds = 0.10

// CrackTable looks at cracks by one thing at a time. It sets nothing beside
// anything else: hot pours may also be the ones with wide joints.
type Table struct {
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
	Level          string        `json:"level"`
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
	t := Table{Factor: f.name, Unit: f.unit, Rows: []CrackRow{}}
	count := make([]int, f.levels)
	for _, c := range f.codes {
		if c < 0 {
			t.NotRecorded++
		} else {
			count[c]++
		}
	}
	if t.NotRecorded == len(f.codes) {
		t.LogRank.Figure = figure.UnknownFor("no placement records its %s", f.name)
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
	codes, curves, err := survival.KaplanMeierBy(s.Days, s.Cracked, group)
	if err != nil {
		t.LogRank.Figure = figure.Unknown(figure.ReasonOf(err))
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
func (s *Slabs) compareRows(rows, events int, group, stratum []int) LogRank {
	switch {
	case rows < 2:
		return LogRank{Figure: figure.UnknownFor("one row alone compares with nothing")}
	case events < EventsForAny:
		return LogRank{Figure: figure.UnknownFor("%s: too few to compare", figure.CountOf(events, "crack event"))}
	}
	return newLogRank(s.Days, s.Cracked, group, stratum)
}

func crackRow(name string, km *survival.KM, level float64) CrackRow {
	c := crackCell(km, OneYear, level)
	r := CrackRow{Level: name, Placements: c.Placements, Callbacks: c.Callbacks, PlacementYears: c.PlacementYears, Rate: c.Rate, Risk1Yr: c.Risk1Yr}
	if r.Placements < figure.LeastForRate {
		few := figure.UnknownFor("%s of this kind: too few for a rate", figure.CountOf(r.Placements, "placement"))
		r.Rate, r.Risk1Yr = few, few
	}
	return r
}

// markDiffering says which tables differ by more than chance among so many,
// and puts each in words.
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
		tables[i].Says = tables[i].says()
	}
}

func (t Table) says() string {
	switch {
	case !t.LogRank.Known():
		return "Nothing to compare: " + figure.Text(t.LogRank.Why) + "."
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
