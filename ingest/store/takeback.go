package store

import (
	"context"
	"fmt"

	"pourback/ingest/record"
)

// takenBack is how many rows are taken back together.
const takenBack = 1000

// restore gives the rows that the batch changed the values they had before.
func (tx *Tx) restore(ctx context.Context) (restored int, err error) {
	query := tx.store.sqlText(selectChanges + fmt.Sprintf(" LIMIT %d", takenBack))
	for {
		var rows []changeRow
		if err := tx.sql.SelectContext(ctx, &rows, query, tx.batch.ID, tx.logged); err != nil {
			return restored, err
		}
		if len(rows) == 0 {
			return restored, nil
		}
		changes, err := changesOf(rows)
		if err != nil {
			return restored, err
		}
		for from := 0; from < len(changes); {
			to := from + 1
			for to < len(changes) && changes[to].Table == changes[from].Table && changes[to].Did == changes[from].Did {
				to++
			}
			if changes[from].Did == didChange { // a confirmation changed nothing
				if err := tx.restoreRows(ctx, changes[from:to]); err != nil {
					return restored, err
				}
				restored += to - from
			}
			from = to
		}
		tx.logged = changes[len(changes)-1].No
	}
}

// restoreRows undoes changes to one table.
func (tx *Tx) restoreRows(ctx context.Context, changes []Change) error {
	t := record.TableNamed(changes[0].Table)
	if t == nil {
		return fmt.Errorf("change log: there is no table %s", changes[0].Table)
	}
	keys := make([][]any, len(changes))
	which := make([]int, len(changes))
	for i, c := range changes {
		keys[i], which[i] = t.New().Fields(), i
		for k, f := range keyFields(t, keys[i]) {
			if err := record.SetField(f, c.Key[k]); err != nil {
				return fmt.Errorf("change log, %s: %w", t.Name, err)
			}
		}
	}
	now, err := tx.fetch(ctx, t, which, func(i int) []any { return keys[i] })
	if err != nil {
		return err
	}
	rows := make([]row, len(changes))
	for i, c := range changes {
		if rows[i], err = c.undo(t, now[string(appendKey(nil, t, keys[i]))]); err != nil {
			return err
		}
	}
	return tx.replace(ctx, t, rows)
}

// undo is the row as it was before the change, given the row as it is.
func (c Change) undo(t *record.Table, now row) (row, error) {
	if now.fields == nil || now.batch != c.Batch {
		return row{}, fmt.Errorf("change log: %s %q is not as batch %d left it", t.Name, c.Key, c.Batch)
	}
	damage := digest(t, now.fields, now.unused) ^ now.digest // none, or a check goes on finding it
	for name, text := range c.Before {
		if name == unusedColumn {
			now.unused = text
			continue
		}
		i := t.Index(name)
		if i < 0 {
			return row{}, fmt.Errorf("change log: %s has no column %s", t.Name, name)
		}
		if err := record.SetField(now.fields[i], text); err != nil {
			return row{}, fmt.Errorf("change log: %s.%s: %w", t.Name, name, err)
		}
	}
	return row{fields: now.fields, unused: now.unused, batch: c.BeforeBatch, number: c.BeforeRow, digest: digest(t, now.fields, now.unused) ^ damage}, nil
}

// remove takes out the rows that the batch added to a table: what is left of
// it there once its changes are undone. Their values go into the change log.
func (tx *Tx) remove(ctx context.Context, t *record.Table) (removed int, err error) {
	keys := joined(keyNames(t))
	query := "SELECT " + wholeList(t) + " FROM " + t.Name + " WHERE batch_id = ?"
	args := []any{tx.batch.ID}
	for beyond := ""; ; beyond = " AND (" + keys + ") > " + marks(len(t.Keys())) {
		rows, err := tx.page(ctx, t, query+beyond+" ORDER BY "+keys+fmt.Sprintf(" LIMIT %d", takenBack), args)
		if err != nil {
			return removed, err
		}
		if len(rows) == 0 {
			break
		}
		if err := tx.log(ctx, t, removals(t, rows)); err != nil {
			return removed, err
		}
		removed += len(rows)
		args = append(args[:1], keyValues(t, rows[len(rows)-1].fields)...)
	}
	if removed > 0 {
		_, err = tx.sql.ExecContext(ctx, tx.store.sqlText("DELETE FROM "+t.Name+" WHERE batch_id = ?"), tx.batch.ID)
	}
	return removed, err
}

// page reads whole rows.
func (tx *Tx) page(ctx context.Context, t *record.Table, query string, args []any) ([]row, error) {
	stmt, err := tx.prepare(ctx, query)
	if err != nil {
		return nil, err
	}
	rows, err := stmt.QueryxContext(ctx, args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var read []row
	for rows.Next() {
		r, err := scanRow(rows, t)
		if err != nil {
			return nil, err
		}
		read = append(read, r)
	}
	return read, rows.Err()
}

// removals are the log's entries for rows that are taken out.
func removals(t *record.Table, rows []row) []change {
	changes := make([]change, len(rows))
	for i, r := range rows {
		before := map[string]string{}
		for k, c := range t.Columns {
			if text := record.FieldText(r.fields[k]); text != "" {
				before[c.Name] = text
			}
		}
		if r.unused != "" {
			before[unusedColumn] = r.unused
		}
		changes[i] = change{did: didRemove, row: r, before: before, after: map[string]string{}, beforeBatch: r.batch, beforeRow: r.number}
	}
	return changes
}
