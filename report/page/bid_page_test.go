package page

import (
	"strings"
	"testing"

	"pourback/analysis"
	"pourback/ingest/record"
	"pourback/report/chart"
	"pourback/report/internal/trial"
)

// TestPlanIsDrawnToScale: each panel has the sides on paper that it has on the
// ground, at one scale.
func TestPlanIsDrawnToScale(t *testing.T) {
	b := trial.MadeUpBid(t)
	a := &bidAuthor{Author: NewAuthor(&analysis.Factors{}, Options{}), b: b}
	j := &b.Placements[0].Joints
	d := a.plan(&b.Placements[0])
	var drawn [][]chart.Point
	for _, s := range d.Shapes {
		if s.Class == "panel" {
			drawn = append(drawn, s.Points)
		}
		for _, p := range s.Points {
			if p.X < 0 || p.Y < 0 || p.X > d.Width || p.Y > d.Height {
				t.Errorf("%s %q lies outside the drawing, at %v", s.Class, s.Words, p)
			}
		}
	}
	if len(drawn) != len(j.Panels) {
		t.Fatalf("%d panels are drawn, of %d", len(drawn), len(j.Panels))
	}
	scale := (drawn[0][1].X - drawn[0][0].X) / j.Panels[0].W
	for i, p := range j.Panels {
		if w, h := drawn[i][1].X-drawn[i][0].X, drawn[i][0].Y-drawn[i][2].Y; !near(w, p.W*scale) || !near(h, p.H*scale) {
			t.Errorf("panel %d of %v by %v ft is drawn %v by %v, at %v a foot", i, p.W, p.H, w, h, scale)
		}
	}
}

func near(a, b float64) bool { return a-b < 1e-9 && b-a < 1e-9 }

func TestLengthsAsTheyAreLaidOut(t *testing.T) {
	a := &bidAuthor{Author: NewAuthor(&analysis.Factors{}, Options{})}
	for ft, want := range map[float64]string{10: "10′", 7.5: "7′ 6″", 9.999: "10′", 8 + 10.0/12: "8′ 10″", 0.25: "0′ 3″"} {
		if got := a.side(ft); got != want {
			t.Errorf("%v ft is %s, want %s", ft, got, want)
		}
	}
	for in, want := range map[float64]string{1: "1", 4.0 / 3: "1⅜", 0.5: "½", 1.99: "2", 5.125: "5⅛"} {
		if got := eighths(in); got != want {
			t.Errorf("%v in is %s, want %s", in, got, want)
		}
	}
}

// TestBlanksAreTheColumnsOfTheRecords: every blank's name is a column of its
// table, in both languages, and every Spanish blank says what it means.
func TestBlanksAreTheColumnsOfTheRecords(t *testing.T) {
	b := trial.MadeUpBid(t)
	for _, lang := range Languages {
		a := pourDayAuthor{&bidAuthor{Author: NewAuthor(&analysis.Factors{}, Options{}), b: b}, phrasesOf(lang), nil}
		s := a.sheet(3)
		for _, table := range s.Tables {
			name, _, _ := strings.Cut(table.Title, ":")
			a.holdBlanks(t, lang, record.TableNamed(name), table.Columns)
		}
		a.holdBlanks(t, lang, record.Placements, s.Slab.Columns)
	}
}

func (a pourDayAuthor) holdBlanks(t *testing.T, lang string, table *record.Table, columns []blankColumn) {
	t.Helper()
	for _, c := range columns {
		if table.Column(c.Name) == nil {
			t.Errorf("%s: %s has no column %s", lang, table.Name, c.Name)
		}
		if lang == "es" && c.Gloss == "" {
			t.Errorf("%s.%s has no Spanish", table.Name, c.Name)
		}
	}
}

// TestSpanishKnowsEveryWord: the words of every vocabulary on the sheet, and
// every caution, are said in Spanish.
func TestSpanishKnowsEveryWord(t *testing.T) {
	for _, at := range []struct {
		table  *record.Table
		column string
	}{{record.Placements, "use"}, {record.Placements, "method"}, {record.Placements, "base"}, {record.Placements, "reinforcement"},
		{record.Delays, "cause"}, {record.Delays, "spot"}, {record.Labors, "task"}} {
		for _, w := range at.table.Column(at.column).Words.Words {
			if _, ok := spanish.words[w]; !ok {
				t.Errorf("%s %q has no Spanish", at.column, w)
			}
		}
	}
	said := func(lang string) string {
		var all []string
		for _, c := range PourDaySheet(PourDay{Bid: trial.MadeUpBid(t), ID: 3, Lang: lang}, Options{}).Cautions {
			all = append(all, c.Text)
		}
		return strings.Join(all, "\n")
	}
	english, other := said("en"), said("es")
	for _, c := range []Caution{PluggedHose, heatIllness, causticConcrete, SilicaDust, truckTime} {
		first := strings.SplitAfter(c.Text, ".")[0]
		if !strings.Contains(english, first) || strings.Contains(other, first) || !strings.Contains(other, spanish.cautions[c]) {
			t.Errorf("%q is not said in both languages", first)
		}
	}
}
