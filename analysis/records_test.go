package analysis

import (
	"math"
	"slices"
	"testing"

	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
	"pourback/analysis/shape"
	"pourback/ingest/record"
)

// Visits that contradict each other are listed among the records to check, and
// the crack counts all the same.
func TestVisitsThatContradictEachOther(t *testing.T) {
	s := record.Set{Placements: []record.Placement{trial.Bare("J1", "2025-01-01"), trial.Bare("J2", "2025-01-01"), trial.Bare("J3", "2025-01-01")},
		Visits: []record.Visit{
			trial.Look("J1", "2025-01-29", "sound"), trial.Called("J1", "2025-01-29", "crack", "", 0),
			trial.Look("J2", "2025-01-29", "crack"), trial.Look("J2", "2025-06-30", "sound"), trial.Look("J2", "2025-07-30", "sound"),
			trial.Called("J3", "2025-01-29", "crack", "2025-02-10", 100), trial.Look("J3", "2025-06-30", "sound")}}
	f := answer(t, s, "2025-08-01", setting.Options{Topics: []string{setting.VisitsTopic}})
	var codes []string
	for _, p := range f.Checks {
		codes = append(codes, p.Code+" "+p.Record)
	}
	if want := []string{"visits-disagree J1 A visit 2025-01-29", "crack-gone J2 A visit 2025-06-30"}; !slices.Equal(codes, want) {
		t.Errorf("%q, want %q", codes, want)
	}
	if f.Visits.Seen.SeenSlabs != 3 || f.Visits.Seen.SoundAgain != 1 {
		t.Errorf("%+v", f.Visits.Seen)
	}
	if early := answer(t, record.Set{Placements: s.Placements[:1], Visits: []record.Visit{trial.Look("J1", "2024-12-01", "crack")}}, "2025-08-01", setting.Options{Topics: []string{setting.VisitsTopic}}).Visits; early.Seen.Looked != 0 || early.Findings.Visits != 0 {
		t.Errorf("a visit before the pour counts: %+v", early.Seen)
	}
}

// The neat volume of a record is that of the published takeoff: 9.877 yd³ for
// 20 × 40 ft at 4 in (arithmetic: 324 ft² of an inch are a yd³).
func TestNeatVolumeIsThatOfTheTakeoff(t *testing.T) {
	for _, slab := range [][3]float64{{40, 20, 4}, {10, 10, 3.5}, {50, 30, 6}, {36, 24, 5}} {
		drawn := shape.Slab{Outline: shape.Rectangle(slab[0], slab[1]), ThicknessIn: slab[2]}
		want, wrong := drawn.WorkOut()
		if got := record.NeatYd(slab[0]*slab[1], slab[2]); wrong != nil || math.Abs(got-want.Yd3()) > 1e-9 {
			t.Errorf("%v × %v ft at %v in: %v yd³, want %v (%v)", slab[0], slab[1], slab[2], got, want.Yd3(), wrong)
		}
	}
}
