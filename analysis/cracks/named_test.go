package cracks

import (
	"testing"

	"pourback/analysis/figure"
	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
	"pourback/ingest/record"
)

// tableOf is a table of rows with these cracks, slabs and cracks expected, that
// differ.
func tableOf(events, slabs []int, expected []float64) *Table {
	t := &Table{Most: -1, Least: -1, Differ: true}
	for i := range events {
		t.Rows = append(t.Rows, Row{Placements: slabs[i], Callbacks: events[i], Rate: figure.Total(1, slabs[i], "")})
		t.code, t.LogRank.label = append(t.code, i), append(t.LogRank.label, i)
		t.LogRank.observed, t.LogRank.expected = append(t.LogRank.observed, float64(events[i])), append(t.LogRank.expected, expected[i])
	}
	t.ends()
	return t
}

// A row is named most with 3 cracks or more in it, and least where 5 or more were
// expected (METHODS.md, Most and least): not 1 crack of 6 slabs, and not 3 of 7
// beside 20 of 60, which the drawn ratio puts first.
func TestMostAndLeastTakeEnough(t *testing.T) {
	for name, c := range map[string]struct {
		events, slabs []int
		expected      []float64
		most, least   int
	}{
		"1 of 6":           {[]int{4, 3, 1}, []int{200, 100, 6}, []float64{5, 2.9, 0.1}, -1, 0},
		"2 of 6":           {[]int{4, 3, 2}, []int{200, 100, 6}, []float64{4.9, 3.9, 0.2}, -1, -1},
		"3 of 7":           {[]int{5, 30, 3}, []int{200, 60, 7}, []float64{24, 12.9, 1.1}, 1, 0},
		"none of a few":    {[]int{0, 30, 20}, []int{10, 100, 100}, []float64{2, 24, 24}, 1, -1},
		"enough and clear": {[]int{2, 30}, []int{100, 100}, []float64{15, 17}, 1, 0},
	} {
		if got := tableOf(c.events, c.slabs, c.expected); got.Most != c.most || got.Least != c.least {
			t.Errorf("%s: most %d, least %d, want %d and %d", name, got.Most, got.Least, c.most, c.least)
		}
	}
}

// Fast drying with hardly any cracks goes against what is known: it is told as
// unexplained, and is never the clearest thing.
func TestAnEffectAgainstPhysicsIsUnexplained(t *testing.T) {
	for _, c := range []struct {
		what  Thing
		ratio figure.Figure
		want  bool
	}{
		{FastDrying, figure.Figure{Value: 0.3, Low: 0.05, High: 0.9, Level: 0.9, Bounded: true, OK: true}, true},
		{FastDrying, figure.Figure{Value: 0.3, Low: 0.05, High: 1.9, Level: 0.9, Bounded: true, OK: true}, true},
		{FastDrying, figure.Figure{Value: 0.95, Low: 0.5, High: 1.9, Level: 0.9, Bounded: true, OK: true}, false},
		{FastDrying, figure.Figure{Value: 1.9, Low: 1.1, High: 3, Level: 0.9, Bounded: true, OK: true}, false},
		{Cured, figure.Figure{Value: 1.9, Low: 1.1, High: 3, Level: 0.9, Bounded: true, OK: true}, true},
		{Cured, figure.Figure{Value: 0.4, Low: 0.2, High: 0.7, Level: 0.9, Bounded: true, OK: true}, false},
		{JointSpacing, figure.Figure{Value: 0.7, Low: 0.5, High: 0.9, Level: 0.9, Bounded: true, OK: true}, true},
		{Made, figure.Figure{Value: 0.3, Low: 0.1, High: 0.6, Level: 0.9, Bounded: true, OK: true}, false},
	} {
		f := &Frame{Terms: []Term{{Covariate: Covariate{What: c.what}, Steel: -1}}, Events: 30}
		term := f.term(0, c.ratio)
		if term.Unexplained != c.want {
			t.Errorf("%s %v: %+v", c.what, c.ratio, term)
		}
		if lead := f.clearest([]CoxTerm{term}); c.want && lead != nil {
			t.Errorf("%s %v is the clearest", c.what, c.ratio)
		}
	}
}

// The rows of a table and the trend of the same thing may disagree.
func TestTablesBesideTrends(t *testing.T) {
	clear, not := figure.Figure{Value: 1.5, Low: 1.1, High: 2, Bounded: true, OK: true}, figure.Figure{Value: 1.2, Low: 0.9, High: 2, Bounded: true, OK: true}
	for _, c := range []struct {
		p      float64
		differ bool
		ratio  figure.Figure
		want   Trend
	}{{0.4, false, clear, TrendAlone}, {0.04, false, clear, TrendAgrees}, {0.001, true, clear, TrendAgrees}, {0.001, true, not, RowsAlone}, {0.4, false, not, TrendAgrees}} {
		tables := []Table{{Factor: ByAir, LogRank: LogRank{Figure: figure.Total(c.p, 9, "")}, Differ: c.differ}}
		besideTrends(tables, []CoxTerm{{Term: Covariate{What: AirTemperature}, HazardRatio: c.ratio}})
		if tables[0].Trend != c.want {
			t.Errorf("%+v: %q", c, tables[0].Trend)
		}
	}
}

// The rows that are named are those of the records, cracks and all.
func TestNamedRowsOfRecords(t *testing.T) {
	var s record.Set
	for i := range 120 {
		after, air := 0, 95.0
		if i%2 == 0 {
			air = 50
		} else if i < 50 {
			after = 50 + i
		}
		p := trial.SlabAt(i, 600, after, "mesh")
		p.AirTempF = record.Some(air)
		s.Placements = append(s.Placements, p)
	}
	heat := cracksOf(t, s, setting.Options{}).OneWay[0]
	if !heat.Differ || heat.Most != 1 || heat.Least != 0 || heat.Rows[1].Callbacks != 25 {
		t.Errorf("%+v", heat)
	}
}
