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
	tx      *store.Tx
	table   *sheet.Table
	path    string // of the file
	result  *Result
	aside   *setAside
	seen    *seen
	answers []sheet.Answer

	rules   PictureRules // of the pictures that the table of them names
	takenAt string
	settled Settled
	odd     func(t *sheet.Table, r *sheet.Row)
}

func (t *taker) take(ctx context.Context) error {
	t.tx.Headings(t.table.Records, t.table.Header)
	for block, err := range t.table.Blocks() {
		if err != nil {
			return err
		}
		if err := t.block(ctx, block); err != nil {
			return err
		}
		t.sayOfTable()
	}
	t.sayOfTable()
	t.result.unused(t.table, t.answers)
	t.result.Ambiguous += t.table.AmbiguousDates
	return nil
}

// sayOfTable passes on what has been found about the table as a whole, which
// can be as much as there are rows.
func (t *taker) sayOfTable() {
	for _, p := range t.table.Problems {
		t.result.say(p)
	}
	t.table.Problems = t.table.Problems[:0]
}

// block writes a block's good rows and sets its bad ones aside.
func (t *taker) block(ctx context.Context, block []*sheet.Row) error {
	if err := t.checkEvents(ctx, block); err != nil {
		return err
	}
	if err := t.checkNumbers(ctx, block); err != nil {
		return err
	}
	if t.table.Records == record.Pictures {
		if err := t.pictures(ctx, block); err != nil {
			return err
		}
	}
	t.result.Read += len(block)
	for _, part := range t.parts(block) {
		if err := t.add(ctx, part); err != nil {
			return err
		}
	}
	return t.toFix(block)
}

// add writes rows that are good.
func (t *taker) add(ctx context.Context, part part) error {
	rows := make([]store.Row, 0, len(part.rows))
	for _, r := range part.rows {
		rows = append(rows, store.Row{Record: r.Record, Fields: r.Fields, Number: r.Number, Unused: unusedOf(r)})
	}
	if part.confirmed {
		if err := t.sayRight(ctx, part.rows[0]); err != nil {
			return err
		}
	}
	given := part.given
	if t.table.Records == record.Pictures {
		given = ofPictures(given)
	}
	t.seen.note(t.table.Records, rows)
	outcomes, err := t.tx.Add(ctx, t.table.Records, given, rows)
	if err != nil {
		return err
	}
	for i, o := range outcomes {
		t.count(part.rows[i], o)
		if err := t.noteSettled(ctx, part.rows[i], o); err != nil {
			return err
		}
	}
	return nil
}

// toFix says what is wrong with a block's rows, and writes those that are not
// whole to the file to fix. Where rows of one key are added up, all of them go
// there if one does: handed in again alone it would stand for the sum.
func (t *taker) toFix(block []*sheet.Row) error {
	broken := map[string]bool{}
	for _, r := range block {
		for _, p := range r.Problems {
			t.result.say(p)
		}
		if t.odd != nil && len(r.Problems) > 0 {
			t.odd(t.table, r)
		}
		if !r.Bad() && !r.LeftEmpty() {
			continue
		}
		if t.isLeft(r) {
			continue
		}
		if r.LeftEmpty() {
			t.result.LeftEmpty++
		} else {
			t.result.SetAside++
		}
		if err := t.aside.add(t.path, t.table, r); err != nil {
			return err
		}
		if t.table.AddsUp() {
			broken[record.Key(r.Record)] = true
		}
	}
	for _, r := range block {
		if len(broken) == 0 || r.Bad() || r.LeftEmpty() || !broken[record.Key(r.Record)] {
			continue
		}
		r.Problems = append(r.Problems, record.Problem{Wrong: "to be handed in again with the other rows that it is added up with"})
		if err := t.aside.add(t.path, t.table, r); err != nil {
			return err
		}
	}
	return nil
}

// count notes what became of a row; two rows of a file with one key are a
// problem of the second.
func (t *taker) count(r *sheet.Row, o store.Outcome) {
	if o.Kind < store.Repeated {
		t.result.has(t.table.Records, r.Record)
	}
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
	t.problemAt(r, record.Problem{Severity: s, Code: code, Wrong: wrong, Right: right})
}

// problemAt adds a problem to a row, with its place.
func (t *taker) problemAt(r *sheet.Row, p record.Problem) {
	p.File, p.Sheet, p.Row = t.table.File, t.table.Sheet, r.Number
	r.Problems = append(r.Problems, p)
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
