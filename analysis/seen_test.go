package analysis

import (
	"math"
	"testing"

	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
	"pourback/ingest/invented"
	"pourback/ingest/record"
)

// The crack page and the page of cracks found say the same share of a year: they
// said 22 and 43 in 100. Both hold the truth of the invented company.
func TestPagesOnSeenCracksAgree(t *testing.T) {
	until := record.DateOf(2026, 10, 31)
	var held trial.Share
	for seed := range uint64(4) {
		set, truth, err := invented.Generate(invented.Options{Seed: seed + 1, Until: until})
		if err != nil {
			t.Fatal(err)
		}
		f, err := Run(record.NewHistory(until, set), setting.Options{Event: setting.EventSeen, Seed: seed, Topics: []string{"cracks", setting.VisitsTopic}})
		if err != nil {
			t.Fatal(err)
		}
		risk, year := f.Cracks.All.Risk1Yr, f.Visits.Seen.Year
		if year.AgeDays != 365 || math.Abs(risk.Value-year.Between.Value) > 1e-12 || risk.Low != year.Between.Low || risk.High != year.Between.High {
			t.Errorf("%+v, and %+v", risk, year.Between)
		}
		cracked, old := 0.0, 0.0
		for i, slab := range truth.Slabs {
			if until-set.Placements[i].PlacedOn < 365 {
				continue
			}
			if old++; slab.FirstCrackDays > 0 && slab.FirstCrackDays <= 365 {
				cracked++
			}
		}
		share := cracked / old
		held.Add(risk.Low <= share && share <= risk.High)
		t.Logf("%+v, truth %.3f", risk, share)
	}
	held.Within(t, "the truth", 0.7, 1)
}
