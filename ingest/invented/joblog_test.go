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
		if flat.Placements.Len() != full.Placements.Len() || flat.Jobs.Len() != full.Jobs.Len() || len(flat.Checks) > 0 {
			t.Fatalf("flat %d in %d, full %d in %d, %v", flat.Placements.Len(), flat.Jobs.Len(), full.Placements.Len(), full.Jobs.Len(), flat.Checks)
		}
		for i := range flat.Placements.Len() {
			p := flat.Placements.Row(i)
			for _, problem := range p.Check(asOf) {
				t.Fatal(problem)
			}
			if i > 0 && p.JobNo == flat.Placements.Row(i-1).JobNo && (p.Log.ContractPrice.OK || p.Log.BidCost.OK || p.Log.ActualCost.OK) {
				t.Fatalf("%s %s: the job's money stands on its first row", p.JobNo, p.Placement)
			}
			p.Log = record.Job{}
			if p != full.Placements.Row(i) {
				t.Fatalf("flat %+v\nfull %+v", p, full.Placements.Row(i))
			}
		}
		for j := range flat.Jobs.Len() {
			if flat.Jobs.Row(j) != full.Jobs.Row(j) {
				t.Fatalf("flat %+v\nfull %+v", flat.Jobs.Row(j), full.Jobs.Row(j))
			}
		}
	})
}
