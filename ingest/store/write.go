package store

import (
	"context"

	"pourback/ingest/record"
)

// target is the columns of a table that new rows are written to, by their
// places; provenance follows them.
type target struct {
	table   *record.Table
	columns []int
	unused  bool // write what stands in columns of no use, too
}

// targetOf leaves out the columns that the file does not have.
func targetOf(t *record.Table, given []bool) target {
	into := target{table: t}
	for i, c := range t.Columns {
		if given == nil || given[i] || c.Key {
			into.columns = append(into.columns, i)
		}
	}
	return into
}

func (into target) names() []string {
	var names []string
	for _, i := range into.columns {
		names = append(names, into.table.Columns[i].Name)
	}
	names = append(names, provenance...)
	if into.unused {
		names = append(names, unusedColumn)
	}
	return names
}

// values are what is written for a row.
func (into target) values(args []any, r row) []any {
	for _, i := range into.columns {
		args = append(args, value(&into.table.Columns[i], r.fields[i]))
	}
	args = append(args, r.batch, r.number, r.digest)
	if into.unused {
		args = append(args, nullable(r.unused))
	}
	return args
}

// insertPlain writes new rows, many to a statement, by what every engine has.
func insertPlain(ctx context.Context, tx *Tx, into target, rows []row) error {
	names := into.names()
	return inGroups(ctx, tx, rows, len(names), into.values, func(n int) string { return insertText(into.table.Name, names, n) })
}

// replace writes whole rows in place of those that have their keys.
func (tx *Tx) replace(ctx context.Context, t *record.Table, rows []row) error {
	into := targetOf(t, nil)
	into.unused = true
	return inGroups(ctx, tx, rows, len(into.names()), into.values, func(n int) string { return replaceText(t, n) })
}

// inGroups runs a statement that takes so many items at a time, and the same
// statement for one item for those that remain.
func inGroups[T any](ctx context.Context, tx *Tx, items []T, columns int, values func([]any, T) []any, query func(n int) string) error {
	size := min(100, 30000/columns) // SQLite takes 32766 values, PostgreSQL 65535
	var args []any
	for len(items) > 0 {
		n := size
		if len(items) < size {
			n = 1
		}
		stmt, err := tx.prepare(ctx, query(n))
		if err != nil {
			return err
		}
		args = args[:0]
		for _, item := range items[:n] {
			args = values(args, item)
		}
		if _, err := stmt.ExecContext(ctx, args...); err != nil {
			return err
		}
		items = items[n:]
	}
	return nil
}
