package store

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"

	"pourback/ingest/record"
)

// Change is an entry of the change log.
type Change struct {
	Batch int64    `json:"batch"`
	No    int64    `json:"no"` // counted within the batch
	Table string   `json:"table"`
	Key   []string `json:"key"` // the values of the row's key columns
	Did   string   `json:"did"` // "changed"; "confirmed", with the values as they were; "mended", see [Tx.Mended]; or "removed" when the batch was taken back
	Row   int      `json:"row"` // the row of the batch's file that did it

	Before      map[string]string `json:"before"` // the columns concerned, as canonical text; "" is missing
	After       map[string]string `json:"after"`
	BeforeBatch int64             `json:"before_batch"` // the batch that had written the row before
	BeforeRow   int               `json:"before_row"`   // and the row of its file
}

// change is an entry being made, with the row as it is now.
type change struct {
	did           string
	row           row
	before, after map[string]string
	beforeBatch   int64
	beforeRow     int
}

var changeColumns = []string{"batch_id", "change_no", "table_name", "row_key", "did", "row_no",
	"before_batch", "before_row", "before_values", "after_values"}

// log adds entries to the change log of the transaction's batch.
func (tx *Tx) log(ctx context.Context, t *record.Table, changes []change) error {
	values := func(args []any, c change) []any {
		tx.logged++
		return append(args, tx.batch.ID, tx.logged, t.Name, jsonText(keyTexts(t, c.row.fields)), c.did, c.row.number,
			c.beforeBatch, c.beforeRow, jsonText(c.before), jsonText(c.after))
	}
	return inGroups(ctx, tx, changes, len(changeColumns), values, func(n int) string { return insertText("changes", changeColumns, n) })
}

// keyTexts are the values of the row's key as text.
func keyTexts(t *record.Table, fields []any) []string {
	var texts []string
	for _, f := range keyFields(t, fields) {
		texts = append(texts, record.FieldText(f))
	}
	return texts
}

// jsonText is v, which is made of strings, as JSON.
func jsonText(v any) string {
	text, err := json.Marshal(v)
	if err != nil {
		panic(err) // strings can always be written
	}
	return string(text)
}

// changeRow is an entry as the database holds it.
type changeRow struct {
	Batch       int64  `db:"batch_id"`
	No          int64  `db:"change_no"`
	Table       string `db:"table_name"`
	Key         string `db:"row_key"`
	Did         string `db:"did"`
	Row         int    `db:"row_no"`
	BeforeBatch int64  `db:"before_batch"`
	BeforeRow   int    `db:"before_row"`
	Before      string `db:"before_values"`
	After       string `db:"after_values"`
}

func (r changeRow) change() (Change, error) {
	c := Change{Batch: r.Batch, No: r.No, Table: r.Table, Did: r.Did, Row: r.Row, BeforeBatch: r.BeforeBatch, BeforeRow: r.BeforeRow}
	for _, part := range []struct {
		text string
		into any
	}{{r.Key, &c.Key}, {r.Before, &c.Before}, {r.After, &c.After}} {
		if err := json.Unmarshal([]byte(part.text), part.into); err != nil {
			return c, fmt.Errorf("change log, batch %d, entry %d: %w", r.Batch, r.No, err)
		}
	}
	return c, nil
}

// selectChanges reads a batch's entries behind a number, so many at most.
var selectChanges = "SELECT " + joined(changeColumns) + " FROM changes WHERE batch_id = ? AND change_no > ? ORDER BY change_no"

// Changes is what the change log says of a batch: the rows that it changed, in
// order, and, if it was taken back, the rows that it had added.
func (s *Store) Changes(ctx context.Context, batchID int64) ([]Change, error) {
	var rows []changeRow
	if err := s.read.SelectContext(ctx, &rows, s.sqlText(selectChanges), batchID, 0); err != nil {
		return nil, s.explain(ctx, err)
	}
	return changesOf(rows)
}

func changesOf(rows []changeRow) ([]Change, error) {
	changes := make([]Change, len(rows))
	for i, r := range rows {
		var err error
		if changes[i], err = r.change(); err != nil {
			return nil, err
		}
	}
	return changes, nil
}

// writeLeans notes which batches this one stands on.
func (tx *Tx) writeLeans(ctx context.Context) error {
	var on []int64
	for id := range tx.leans {
		on = append(on, id)
	}
	slices.Sort(on)
	columns := []string{"batch_id", "on_batch"}
	values := func(args []any, id int64) []any { return append(args, tx.batch.ID, id) }
	return inGroups(ctx, tx, on, len(columns), values, func(n int) string { return insertText("leans", columns, n) })
}
