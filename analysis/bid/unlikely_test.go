package bid

import (
	"slices"
	"testing"

	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
	"pourback/ingest/record"
)

// TestWhatDoesNotGoWithTheRecords: a day or month before the data date, and a crew
// that is on no record, are cautions, with what is nearest to it.
func TestWhatDoesNotGoWithTheRecords(t *testing.T) {
	var set record.Set
	for _, crew := range []string{"Heron", "Wren", "Egret", "Plover"} {
		p := trial.Pour("J-"+crew, "2025-06-03", "patio", "chute", 5, 5.4)
		p.Crew = crew
		set.Placements = append(set.Placements, p)
	}
	today := trial.Day("2026-03-31")
	g, err := GroundOf(record.NewHistory(today, set), setting.Options{})
	if err != nil {
		t.Fatal(err)
	}
	past, ahead := today-1, today+1
	slab := []Placement{{Use: "patio", AreaSqft: 300, ThicknessIn: 4}}
	for _, c := range []struct {
		on, crew string
		want     []What
	}{{"", "", nil}, {past.String(), "Heron", []What{PastDay}}, {today.String(), "Heron", nil}, {ahead.String(), "", nil}, {today.Month(), "", nil}, {"2001-02", "", []What{PastDay}}, {"2", "", nil},
		{"", "herron", []What{UnknownCrew}}, {past.String(), "x", []What{PastDay, UnknownCrew}}} {
		b, err := g.Make(Spec{On: c.on, Crew: c.crew, Placements: slab}, Lean{})
		if err != nil {
			t.Fatal(err)
		}
		var found []What
		for _, p := range b.Cautions {
			if p.What == PastDay || p.What == UnknownCrew {
				found = append(found, p.What)
			}
			if p.Value == "herron" && (len(p.Amounts.Words) != 3 || p.Amounts.Words[0] != "Heron") {
				t.Errorf("nearest to herron: %v", p.Amounts.Words)
			}
		}
		if !slices.Equal(found, c.want) {
			t.Errorf("%q, %q: %v, want %v", c.on, c.crew, found, c.want)
		}
	}
}
