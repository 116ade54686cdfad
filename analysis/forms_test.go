package analysis_test

import (
	"bytes"
	"encoding/json"
	"testing"

	"pourback/analysis"
	"pourback/analysis/setting"
	"pourback/ingest/invented"
	"pourback/ingest/record"
)

// TestBothFormsGiveTheSameFigures: a history handed in as one job log and as
// seven tables of events gives the same JSON to the last byte. So no figure of the JSON may
// rest on what only events tell (lines of cost, tasks, causes, times, planned
// visits); what they add is for the pages, in fields that JSON leaves out.
func TestBothFormsGiveTheSameFigures(t *testing.T) {
	asOf, err := record.ParseDate("2026-03-31")
	if err != nil {
		t.Fatal(err)
	}
	for seed := range uint64(3) {
		set, _, err := invented.Generate(invented.Options{Seed: seed + 1, Until: asOf})
		if err != nil {
			t.Fatal(err)
		}
		log := record.Set{Placements: invented.JobLog(set, asOf)}
		full, flat := figures(t, asOf, set), figures(t, asOf, log)
		if !bytes.Equal(full, flat) {
			t.Errorf("seed %d: the two forms differ:\n%s\n%s", seed+1, around(full, flat), around(flat, full))
		}
	}
}

func figures(t *testing.T, asOf record.Date, s record.Set) []byte {
	t.Helper()
	f, err := analysis.Run(record.NewHistory(asOf, s), setting.Options{})
	if err != nil {
		t.Fatal(err)
	}
	out, err := json.Marshal(f)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// around is where a first differs from b.
func around(a, b []byte) []byte {
	i := 0
	for i < len(a) && i < len(b) && a[i] == b[i] {
		i++
	}
	return a[max(0, i-120):min(len(a), i+120)]
}
