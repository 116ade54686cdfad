package analysis_test

import (
	"bytes"
	"encoding/json"
	"slices"
	"testing"

	"pourback/analysis"
	"pourback/analysis/cracks"
	"pourback/analysis/findings"
	"pourback/analysis/setting"
	"pourback/analysis/steel"
	"pourback/ingest/invented"
	"pourback/ingest/record"
)

// TestBothFormsGiveTheSameFigures: a history handed in as one job log and as
// seven tables of events gives the same JSON to the last byte. So no figure of the JSON may
// rest on what only events tell (lines of cost, tasks, causes, times, planned
// visits); what they add is for the pages, in fields that JSON leaves out. The
// one exception is the money of mesh against rebar, and the finding that goes by
// it: an owner's own lines of cost must count in the verdict, so without them
// the two forms agree on that too.
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
		full, flat := factorsOf(t, asOf, set), factorsOf(t, asOf, log)
		set.Costs, set.Labor = nil, nil
		h := record.NewHistory(asOf, set)
		opt, err := setting.Options{}.Complete()
		if err != nil {
			t.Fatal(err)
		}
		full.Reinforcement = steel.Of(h, cracks.SlabsOf(h, opt), opt)
		full.Findings, flat.Findings = besideSteel(full.Findings), besideSteel(flat.Findings)
		if full, flat := written(t, full), written(t, flat); !bytes.Equal(full, flat) {
			t.Errorf("seed %d: the two forms differ:\n%s\n%s", seed+1, around(full, flat), around(flat, full))
		}
	}
}

// besideSteel are the findings but for that on steel, which moves the last one
// in or out.
func besideSteel(all []findings.Finding) []findings.Finding {
	others := slices.DeleteFunc(slices.Clone(all), func(f findings.Finding) bool { return f.Told.Kind() == findings.KindSteel })
	others = others[:min(len(others), findings.MostFindings-1)]
	for i := range others {
		others[i].Rank = i + 1
	}
	return others
}

func factorsOf(t *testing.T, asOf record.Date, s record.Set) *analysis.Factors {
	t.Helper()
	f, err := analysis.Run(record.NewHistory(asOf, s), setting.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func written(t *testing.T, f *analysis.Factors) []byte {
	t.Helper()
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
