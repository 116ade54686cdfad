package ingest

import (
	"context"
	"fmt"

	"pourback/ingest/record"
	"pourback/ingest/sheet"
	"pourback/ingest/store"
)

// taker takes the rows of one table into a transaction, block by block.
type taker struct {
	tx     *store.Tx
	table  *sheet.Table
	path   string // of the file
	result *Result
	aside  *setAside
}

func (t *taker) take(ctx context.Context) error {
	for block, err := range t.table.Blocks() {
		if err != nil {
			return err
		}
		if err := t.block(ctx, block); err != nil {
			return err
		}
	}
	for _, p := range t.table.Problems {
		t.result.say(p)
	}
	for _, heading := range t.table.Unknown {
		t.result.KeptOut = append(t.result.KeptOut, fmt.Sprintf("%s: column %q", t.table.Records.Name, heading))
	}
	t.result.Ambiguous += t.table.AmbiguousDates
	return nil
}

// block writes a block's good rows and sets its bad ones aside.
func (t *taker) block(ctx context.Context, block []*sheet.Row) error {
	if err := t.checkVisits(ctx, block); err != nil {
		return err
	}
	good, rows := make([]*sheet.Row, 0, len(block)), make([]store.Row, 0, len(block))
	for _, r := range block {
		t.result.Read++
		if !r.Bad() {
			good = append(good, r)
			rows = append(rows, store.Row{Record: r.Record, Fields: r.Fields, Number: r.Number})
		}
	}
	outcomes, err := t.tx.Add(ctx, t.table.Records, t.table.Given, rows)
	if err != nil {
		return err
	}
	for i, o := range outcomes {
		t.count(good[i], o)
	}
	for _, r := range block {
		for _, p := range r.Problems {
			t.result.say(p)
		}
		if r.Bad() {
			t.result.SetAside++
			if err := t.aside.add(t.path, t.table, r); err != nil {
				return err
			}
		}
	}
	return nil
}

// count notes what became of a row; two rows of a file with one key are a
// problem of the second.
func (t *taker) count(r *sheet.Row, o store.Outcome) {
	switch o.Kind {
	case store.New:
		t.result.New++
	case store.Changed:
		t.result.Changed++
	case store.Unchanged:
		t.result.Unchanged++
	case store.Repeated:
		t.result.Unchanged++
		t.problem(r, record.Warning, "repeated-row", fmt.Sprintf("the same as row %d", o.FirstRow), "one row is enough")
	case store.Conflict:
		t.problem(r, record.Error, "conflicting-row", fmt.Sprintf("the same key as row %d, with other values", o.FirstRow),
			"one row for each "+keyNames(t.table.Records))
	}
}

func (t *taker) problem(r *sheet.Row, s record.Severity, code, wrong, right string) {
	r.Problems = append(r.Problems, record.Problem{Severity: s, Code: code, File: t.table.File, Sheet: t.table.Sheet,
		Row: r.Number, Wrong: wrong, Right: right})
}

func keyNames(t *record.Table) string {
	names := ""
	for i, k := range t.Keys() {
		if i > 0 {
			names += " and "
		}
		names += t.Columns[k].Name
	}
	return names
}

// checkVisits finds visits before the pour that the store knows of.
func (t *taker) checkVisits(ctx context.Context, block []*sheet.Row) error {
	if t.table.Records != record.Visits {
		return nil
	}
	var jobs []string
	for _, r := range block {
		if v, ok := r.Record.(*record.Visit); ok && (len(jobs) == 0 || jobs[len(jobs)-1] != v.JobNo) {
			jobs = append(jobs, v.JobNo)
		}
	}
	poured, err := t.tx.PlacedOn(ctx, jobs)
	if err != nil {
		return err
	}
	for _, r := range block {
		v, ok := r.Record.(*record.Visit)
		if !ok {
			continue
		}
		if on := poured[[2]string{v.JobNo, v.Placement}]; on != 0 && v.SeenOn != 0 && v.SeenOn < on {
			r.Problems = append(r.Problems, record.Problem{Severity: record.Error, Code: "visit-before-pour", File: t.table.File, Sheet: t.table.Sheet,
				Row: r.Number, Column: "seen_on", Value: v.SeenOn.String(), Wrong: "before the pour on " + on.String(), Right: "a later day"})
		}
	}
	return nil
}
