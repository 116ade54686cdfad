package analysis

import (
	"math"
	"testing"

	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
	"pourback/ingest/invented"
	"pourback/ingest/record"
)

// The months' reserves add up to that of all slabs, which is what the cracks
// page says; asked for alone, margin says the same.
func TestReserveAddsUp(t *testing.T) {
	set, _, err := invented.Generate(invented.Options{Seed: 4, Until: trial.Day("2026-03-31")})
	if err != nil {
		t.Fatal(err)
	}
	h := record.NewHistory(trial.Day("2026-03-31"), set)
	f, err := Run(h, setting.Options{})
	if err != nil {
		t.Fatal(err)
	}
	sum := 0.0
	for _, m := range f.Margin.Months {
		sum += m.Reserve.Value
	}
	all := f.Margin.Reserve
	if all.Value <= 0 || math.Abs(sum-all.Value) > 1e-6*all.Value {
		t.Errorf("months %v, all %v", sum, all.Value)
	}
	if all.Value != f.Cracks.Later.Cost.Value {
		t.Errorf("margin reserves %v, the cracks page %v", all.Value, f.Cracks.Later.Cost.Value)
	}
	alone, err := Run(h, setting.Options{Topics: []string{"margin"}})
	if err != nil {
		t.Fatal(err)
	}
	if alone.Margin.Reserve != all {
		t.Errorf("asked for alone: %+v, with all: %+v", alone.Margin.Reserve, all)
	}
}
