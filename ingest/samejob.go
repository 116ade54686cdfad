package ingest

import (
	"context"
	"fmt"

	"pourback/ingest/record"
	"pourback/ingest/sheet"
)

// checkNumbers holds the placements of a job log against those on record: a
// number that stands for a pour of another day at another site is another job's,
// and its row is set aside. A change of the one or the other alone is a
// correction.
func (t *taker) checkNumbers(ctx context.Context, block []*sheet.Row) error {
	if t.table.Records != record.Placements || !t.table.Understood() {
		return nil
	}
	var jobs []string
	for _, r := range block {
		if p := r.Record.(*record.Placement); p.JobNo != "" && p.Log.Site != "" {
			jobs = append(jobs, p.JobNo)
		}
	}
	if len(jobs) == 0 {
		return nil
	}
	stored, err := t.tx.Sites(ctx, jobs)
	if err != nil {
		return err
	}
	for _, r := range block {
		p := r.Record.(*record.Placement)
		was, known := stored[[2]string{p.JobNo, p.Placement}]
		if !known || p.Log.Site == "" || was.Site == "" || p.PlacedOn == was.PlacedOn || record.Fold(p.Log.Site) == record.Fold(was.Site) {
			continue
		}
		t.problemAt(r, record.Problem{Severity: record.Error, Code: sheet.CodeSameNumber, Column: "job_no", Value: p.JobNo, Job: p.JobNo,
			Wrong: fmt.Sprintf("on record as the job at %s, poured on %s", was.Site, was.PlacedOn), Right: "give this one a number of its own"})
	}
	return nil
}
