package invented

import (
	"testing"

	"pgregory.net/rapid"

	"pourback/ingest/record"
)

// TestFlatFormSaysTheSame resolves both forms on any day and demands the same
// placements and the same jobs, field for field.
func TestFlatFormSaysTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		opt := someOptions(t)
		set, _ := generate(t, opt)
		before := digest(&set)
		asOf := opt.Until - record.Date(rapid.IntRange(0, 400).Draw(t, "daysBefore"))
		flat := record.NewHistory(asOf, record.Set{Placements: JobLog(set, asOf)})
		if digest(&set) != before {
			t.Fatal("the set was changed")
		}
		full := record.NewHistory(asOf, copyOf(set))
		if len(flat.Placements) != len(full.Placements) || len(flat.Jobs) != len(full.Jobs) || len(flat.Checks) > 0 {
			t.Fatalf("flat %d in %d, full %d in %d, %v", len(flat.Placements), len(flat.Jobs), len(full.Placements), len(full.Jobs), flat.Checks)
		}
		for i := range flat.Placements {
			p := flat.Placements[i]
			for _, problem := range p.Check(asOf) {
				t.Fatal(problem)
			}
			if i > 0 && p.JobNo == flat.Placements[i-1].JobNo && (p.Log.ContractPrice.OK || p.Log.BidCost.OK || p.Log.ActualCost.OK) {
				t.Fatalf("%s %s: the job's money stands on its first row", p.JobNo, p.Placement)
			}
			p.Log = record.Job{}
			if p != full.Placements[i] {
				t.Fatalf("flat %+v\nfull %+v", p, full.Placements[i])
			}
		}
		for j := range flat.Jobs {
			if flat.Jobs[j] != full.Jobs[j] {
				t.Fatalf("flat %+v\nfull %+v", flat.Jobs[j], full.Jobs[j])
			}
		}
	})
}
