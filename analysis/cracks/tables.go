package cracks

import (
	"slices"

	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/analysis/stat/pool"
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
	Most, Least int         `json:"-"`            // where they differ, the rows with most and fewest cracks a year; −1 where too little stands behind it to name one
	Trend       Trend       `json:"-"`

	code []int // of the rows
}

// Trend says how a table and the trend of the same thing in the hazard model,
// other things equal, go together.
type Trend string

// How they do.
const (
	TrendAgrees Trend = ""
	TrendAlone  Trend = "trend alone" // the trend is clear, and the rows could be luck
	RowsAlone   Trend = "rows alone"  // the rows differ, and no trend is clear
)

// Row is the record of the slabs at one level of a factor.
type Row struct {
	Level          Level         `json:"level"`
	Placements     int           `json:"placements"`
	Callbacks      int           `json:"callbacks"` // crack events
	PlacementYears float64       `json:"placement_years"`
	Rate           figure.Figure `json:"rate_per_100_placement_years"`
	Risk1Yr        figure.Figure `json:"risk_1yr"`
	Told           bool          `json:"-"` // enough slabs of the row are a year old, or cracked before, to speak of that risk
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
	t := Table{Factor: f.name, Unit: f.unit, Rows: []Row{}, Most: -1, Least: -1}
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
	group := make([]int, len(f.codes))
	for i, c := range f.codes {
		if group[i] = unrecorded; c >= 0 {
			group[i] = to[c]
		}
	}
	codes, curves, err := survival.KaplanMeierBy(s.Days, s.Cracked, group)
	if err != nil {
		t.LogRank.Figure = figure.Unknown(figure.ReasonOf(err))
		return t
	}
	for k, code := range codes {
		if code != unrecorded {
			t.code = append(t.code, code)
			t.Rows = append(t.Rows, s.row(levels[code], curves[k], func(i int) bool { return group[i] == code }, level))
		}
	}
	for i, g := range group {
		if g == unrecorded {
			group[i] = -1
		}
	}
	t.LogRank = s.compare(group, nil)
	return t
}

// compare tests that groups share one risk, where there is enough to test: those
// of each stratum with each other (nil: all). A slab of group −1 is left out.
func (s *Slabs) compare(group, stratum []int) LogRank {
	n := 0
	for _, g := range group {
		if g >= 0 {
			n++
		}
	}
	days, cracked, groups := make([]float64, 0, n), make([]bool, 0, n), make([]int, 0, n)
	var strata []int
	events := 0
	for i, g := range group {
		if g < 0 {
			continue
		}
		days, cracked, groups = append(days, s.Days[i]), append(cracked, s.Cracked[i]), append(groups, g)
		if stratum != nil {
			strata = append(strata, stratum[i])
		}
		events += int(Indicator(s.Cracked[i]))
	}
	switch {
	case len(groups) == 0 || slices.Min(groups) == slices.Max(groups):
		return LogRank{Figure: figure.Unknown(OneRow{})}
	case events < EventsForAny:
		return LogRank{Figure: figure.Unknown(TooFewCracks{N: events, Within: ToCompare})}
	case s.Event == setting.EventSeen:
		return s.CompareLooks(group, stratum)
	}
	return newLogRank(days, cracked, groups, strata)
}

func (s *Slabs) row(l Level, km *survival.KM, in func(i int) bool, level float64) Row {
	c := s.cell(km, in, OneYear, level)
	r := Row{Level: l, Placements: c.Placements, Callbacks: c.Callbacks, PlacementYears: c.PlacementYears, Rate: c.Rate, Risk1Yr: c.Risk1Yr, Told: c.TellsBy(OneYear)}
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

// The fewest cracks of a row that is named most, and the fewest expected of one
// that is named least.
const (
	leastOfMost  = figure.LeastEvents
	leastOfLeast = EventsForAny
)

// ends finds the rows with the most and the fewest cracks a year for what all
// rows together would lead one to expect, drawn together so that a few slabs do
// not stand out by luck.
func (t *Table) ends() {
	events, expected := make([]float64, len(t.Rows)), make([]float64, len(t.Rows))
	for k, code := range t.LogRank.label {
		if i := slices.Index(t.code, code); i >= 0 {
			events[i], expected[i] = t.LogRank.observed[k], t.LogRank.expected[k]
		}
	}
	most, least := -1, -1
	times := drawnRatios(events, expected)
	for i, r := range t.Rows {
		if !r.Rate.Known() || times == nil || !(expected[i] > 0) {
			continue
		}
		if most < 0 || times[i] > times[most] {
			most = i
		}
		if least < 0 || times[i] < times[least] {
			least = i
		}
	}
	if most >= 0 && events[most] >= leastOfMost && most != least {
		t.Most = most
	}
	if least >= 0 && expected[least] >= leastOfLeast && most != least {
		t.Least = least
	}
}

// Against says whether it would go against what is known of concrete that a row
// has the most cracks: the coolest, the slowest to dry, the one with the closest
// joints, the first to be sawn, or one that was cured.
func (t *Table) Against(row int) bool {
	l := t.Rows[row].Level
	if t.Factor == ByCuring {
		return len(l.Words) != 1 || l.Words[0] != "none"
	}
	what, ordered := trendOf[t.Factor]
	return ordered && !l.Low.OK && Against(what, false)
}

// drawnRatios are how many times the expected events each row had, drawn
// together by a gamma-Poisson model; nil where there is no answer.
func drawnRatios(events, expected []float64) []float64 {
	exposure := make([]float64, len(expected))
	for i, e := range expected {
		exposure[i] = max(e, 1e-9)
	}
	grid, err := pool.GammaPoissonGrid(events, exposure, pool.DefaultRatePrior())
	if err != nil {
		return nil
	}
	out := make([]float64, len(events))
	for i := range out {
		if law, err := grid.Outfit(i); err == nil {
			out[i] = law.Mean()
		}
	}
	return out
}

// trendOf is the thing of the hazard model that a factor's rows are bands of.
var trendOf = map[Factor]Thing{ByAir: AirTemperature, ByEvaporation: FastDrying, BySpacing: JointSpacing, BySaw: SawDelay, ByCuring: Cured}

// besideTrends says of each table how it goes with the trend of the same thing.
func besideTrends(tables []Table, terms []CoxTerm) {
	for i := range tables {
		t := &tables[i]
		at := slices.IndexFunc(terms, func(c CoxTerm) bool { return c.Term.What == trendOf[t.Factor] })
		if at < 0 || !t.LogRank.Known() || !terms[at].HazardRatio.Known() {
			continue
		}
		switch clear := terms[at].clear(); {
		case clear && !t.Differ && !t.OneOfSeveral():
			t.Trend = TrendAlone
		case !clear && t.Differ:
			t.Trend = RowsAlone
		}
	}
}
