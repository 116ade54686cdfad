package store

import (
	"context"
	"strings"

	"pourback/ingest/record"
)

// What an entry of the change log did.
const (
	didChange  = "changed"
	didRemove  = "removed"
	didConfirm = "confirmed" // the owner says that the values are right as they are
	didMend    = "mended"    // cells of the file were mended before they went in
)

// Find is the stored row that has a record's key, as this transaction sees it,
// or nil.
func (tx *Tx) Find(ctx context.Context, key record.Record) (record.Record, error) {
	there, err := tx.stored(ctx, key)
	if err != nil || there.fields == nil {
		return nil, err
	}
	r := key.Table().New()
	copyFields(r.Fields(), there.fields)
	return r, nil
}

// stored is the whole row that has a record's key; without fields where there
// is none.
func (tx *Tx) stored(ctx context.Context, r record.Record) (row, error) {
	if err := tx.usable(ctx); err != nil {
		return row{}, err
	}
	t, fields := r.Table(), r.Fields()
	found, err := tx.fetch(ctx, t, []int{0}, func(int) []any { return fields })
	return found[string(appendKey(nil, t, fields))], tx.fail(ctx, err)
}

// Set gives a stored row the values of a record in the columns given. Unlike
// [Tx.Add] it goes by the values themselves and not by their digest, so that a
// row can be mended whose values are not those that were written; doubtful says
// that it was such a row and that these values do not mend it.
func (tx *Tx) Set(ctx context.Context, r record.Record, given []bool) (doubtful bool, err error) {
	there, err := tx.stored(ctx, r)
	if err != nil {
		return false, err
	}
	t, fields := r.Table(), r.Fields()
	if err := check(t, fields); err != nil {
		return false, tx.fail(ctx, err)
	}
	damage := digest(t, there.fields, there.unused) ^ there.digest
	before, after := difference(t, there.fields, fields, given)
	tx.standOn(t, there.batch)
	now := merged(t, there, row{fields: fields, batch: tx.batch.ID, number: 1}, given)
	if now.digest == there.digest { // these are the values that were written
		damage = 0
	}
	now.digest ^= damage // a row that is not as it was written stays one that a check finds
	return damage != 0, tx.fail(ctx, tx.writeChanges(ctx, t, []change{{did: didChange, row: now, before: before, after: after,
		beforeBatch: there.batch, beforeRow: there.number}}))
}

// Confirm notes in the change log that the owner says of the columns named of a
// stored row that their values are right.
func (tx *Tx) Confirm(ctx context.Context, r record.Record, columns []string) error {
	there, err := tx.stored(ctx, r)
	if err != nil {
		return err
	}
	t, values := r.Table(), map[string]string{}
	for _, name := range columns {
		values[name] = record.FieldText(there.fields[t.Index(name)])
	}
	tx.standOn(t, there.batch)
	tx.confirmed += len(columns)
	return tx.fail(ctx, tx.log(ctx, t, []change{{did: didConfirm, row: row{fields: there.fields, number: 1}, before: values, after: values,
		beforeBatch: there.batch, beforeRow: there.number}}))
}

// standOn notes the table as one of the batch's, and the batch that it stands on.
func (tx *Tx) standOn(t *record.Table, batch int64) {
	if batch != tx.batch.ID {
		tx.leans[batch] = true
	}
	if tx.tables[t] == nil {
		tx.tables[t] = &passage{table: t, greatest: endless} // should rows follow, they are looked up
	}
}

// endless is beyond every key.
var endless = strings.Repeat("\xff", 16)

// Confirmed is a value of which the owner says that it is right.
type Confirmed struct {
	Table  string
	Key    []string // the values of the row's key columns
	Column string
	Value  string // canonical text; a value that is another by now is confirmed no longer
	Batch  int64
}

// Confirmed lists what batches that stand have confirmed.
func (s *Store) Confirmed(ctx context.Context) ([]Confirmed, error) {
	var rows []changeRow
	query := "SELECT " + joined(changeColumns) + " FROM changes WHERE did = ? AND batch_id IN (SELECT batch_id FROM batches WHERE undone_at IS NULL) ORDER BY batch_id, change_no"
	if err := s.read.SelectContext(ctx, &rows, s.sqlText(query), didConfirm); err != nil {
		return nil, s.explain(ctx, err)
	}
	changes, err := changesOf(rows)
	if err != nil {
		return nil, err
	}
	var all []Confirmed
	for _, c := range changes {
		for _, column := range record.TableNamed(c.Table).Columns {
			if value, ok := c.After[column.Name]; ok {
				all = append(all, Confirmed{Table: c.Table, Key: c.Key, Column: column.Name, Value: value, Batch: c.Batch})
			}
		}
	}
	return all, nil
}

// PlacementNames are those of a job's placements, in their order.
func (s *Store) PlacementNames(ctx context.Context, jobNo string) (names []string, err error) {
	err = s.db.SelectContext(ctx, &names, s.sqlText("SELECT placement FROM placements WHERE job_no = ? ORDER BY job_no, placement"), jobNo)
	return names, s.explain(ctx, err)
}

// JobNos lists every job on record, with a row of its own or without.
func (s *Store) JobNos(ctx context.Context) ([]string, error) {
	var all []string
	err := s.read.SelectContext(ctx, &all, "SELECT job_no FROM jobs UNION SELECT job_no FROM placements")
	return all, s.explain(ctx, err)
}
