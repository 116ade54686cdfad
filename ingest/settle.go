package ingest

import (
	"context"
	"slices"

	"pourback/ingest/record"
	"pourback/ingest/sheet"
	"pourback/ingest/store"
)

// part is rows of a block that are written together.
type part struct {
	rows      []*sheet.Row
	given     []bool // the columns that they have
	confirmed bool   // it is one row, of which values are said to be right
}

// parts are the good rows of a block. A row of which values are said to be right
// has a column more than the file, and is a part of its own.
func (t *taker) parts(block []*sheet.Row) []part {
	all := []part{{rows: make([]*sheet.Row, 0, len(block)), given: t.table.Given}}
	for _, r := range block {
		switch {
		case r.Bad():
		case len(t.settled.Right) > 0 && len(t.right(r)) > 0:
			all = append(all, part{rows: []*sheet.Row{r}, given: t.table.Given, confirmed: true}, part{given: t.table.Given})
			if note := t.table.Records.Index("said_right"); note >= 0 {
				given := slices.Clone(t.table.Given)
				given[note] = true
				all[len(all)-2].given = given
			}
		default:
			all[len(all)-1].rows = append(all[len(all)-1].rows, r)
		}
	}
	return slices.DeleteFunc(all, func(p part) bool { return len(p.rows) == 0 })
}

// right are the columns of a row whose values are said to be right.
func (t *taker) right(r *sheet.Row) []string {
	var columns []string
	for i := range t.table.Header {
		name := t.table.ReadAs(i)
		if !t.settled.Right[sheet.Cell{Sheet: t.table.Sheet, Row: r.Number, Column: i}] {
			continue
		}
		for _, p := range r.Problems { // a size may be what an area was worked out from
			if t.table.HeadingOf(r, p) == i {
				name = p.Column
			}
		}
		at := t.table.Records.Index(name)
		if at >= 0 && !record.IsMissing(r.Fields[at]) && !slices.Contains(columns, name) {
			columns = append(columns, name)
		}
	}
	return columns
}

// sayRight notes on a row, beside what is noted on the record already, that values
// of it are right: then they count. What was odd about them is odd no longer.
func (t *taker) sayRight(ctx context.Context, r *sheet.Row) error {
	columns := t.right(r)
	if note := t.table.Records.Index("said_right"); note >= 0 {
		there, err := t.tx.Find(ctx, r.Record)
		if err != nil {
			return err
		}
		if said := r.Fields[note].(*string); *said == "" && there != nil {
			*said = *there.Fields()[note].(*string)
		}
		for _, column := range columns {
			record.Confirm(r.Record, column)
		}
	}
	r.Problems = slices.DeleteFunc(r.Problems, func(p record.Problem) bool {
		return p.Severity == record.Warning && slices.Contains(columns, p.Column)
	})
	return nil
}

// noteSettled notes in the change log what was mended of a row that came in, and
// which of its values are said to be right.
func (t *taker) noteSettled(ctx context.Context, r *sheet.Row, o store.Outcome) error {
	if o.Kind != store.New && o.Kind != store.Changed {
		return nil
	}
	if mended := r.Mended(); len(mended) > 0 {
		written, now := map[string]string{}, map[string]string{}
		for _, m := range mended {
			name := t.table.ReadAs(m.Column)
			at := t.table.Records.Index(name)
			if name == "" {
				name = storable(t.table.Header[m.Column])
			}
			written[name], now[name] = storable(m.Written), storable(m.Now)
			if at >= 0 {
				now[name] = record.FieldText(r.Fields[at])
			}
		}
		if err := t.tx.Mended(ctx, r.Record, r.Number, written, now); err != nil {
			return err
		}
	}
	if len(t.settled.Right) == 0 {
		return nil
	}
	if columns := t.rightNow(r); len(columns) > 0 {
		return t.tx.Confirm(ctx, r.Record, columns)
	}
	return nil
}

// rightNow is right, once what was odd is odd no longer.
func (t *taker) rightNow(r *sheet.Row) []string {
	note := t.table.Records.Index("said_right")
	if note < 0 {
		return t.right(r)
	}
	var columns []string
	for i, c := range t.table.Records.Columns {
		if text := record.FieldText(r.Fields[i]); text != "" && record.SaysRight(*r.Fields[note].(*string), c.Name, text) {
			columns = append(columns, c.Name)
		}
	}
	return columns
}

// isLeft says whether all that sets a row aside, or has left cells of it empty,
// is left as it is: then there is nothing to fix.
func (t *taker) isLeft(r *sheet.Row) bool {
	if len(t.settled.Left) == 0 {
		return false
	}
	bad := r.Bad()
	for _, p := range r.Problems {
		if toFix := p.Severity == record.Error || !bad && sheet.LeavesEmpty(p); toFix && !t.settled.Left[CellOf(t.table, r, p)] {
			return false
		}
	}
	if bad {
		t.result.LeftOut++
	}
	return true
}

// has counts a row that came in, or is there.
func (r *Result) has(t *record.Table, row record.Record) {
	r.Rows[t.Name]++
	p, ok := row.(*record.Placement)
	if !ok || p.PlacedOn == 0 {
		return
	}
	if r.First == 0 || p.PlacedOn < r.First {
		r.First = p.PlacedOn
	}
	r.Last = max(r.Last, p.PlacedOn)
}
