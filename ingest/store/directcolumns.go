package store

import (
	"context"
	"fmt"

	"github.com/jmoiron/sqlx"
	sqlite3 "modernc.org/sqlite/lib"

	"pourback/ingest/record"
)

// loadColumns reads a table that is kept by columns, in the order in which it is
// stored: the second view into columns of its own.
func loadColumns(l *loader, t *record.Table, into, rest record.Columns) {
	n := l.sizeOf(t)
	if l.err != nil || n.Rows == 0 {
		return
	}
	into.Reserve(int(n.Rows))
	rest.Reserve(int(n.Rows)/2 + 1)
	l.halves(n,
		func(v view, last int64) error { return readColumns(l.ctx, v.conn, t, 0, last, into) },
		func(v view, after int64) error { return readColumns(l.ctx, v.conn, t, after, n.Last, rest) })
	if l.err != nil {
		return
	}
	into.Join(rest)
	if read := into.Len(); read != int(n.Rows) {
		l.err = countError(t, read, int(n.Rows))
	}
}

// readColumns reads the rows of a table whose rowids lie in (after, last].
func readColumns(ctx context.Context, conn *sqlx.Conn, t *record.Table, after, last int64, into record.Columns) error {
	readers := make([]func(v *sqlite3.TMem) error, len(into))
	for i := range into {
		readers[i] = readerOf(into[i])
	}
	return raw(conn, func(driverConn any) error {
		d, err := directOf(driverConn)
		if err != nil {
			return err
		}
		return d.each(ctx, rowsBetween(t, after, last, "ASC"), func(values uintptr) error {
			for i, read := range readers {
				if err := read(valueAt(values, i)); err != nil {
					return fmt.Errorf("%s: %w", t.Columns[i].Name, err)
				}
			}
			return nil
		})
	})
}

// readerOf puts SQLite's values, one after the other, behind the last of a column.
func readerOf(into any) func(v *sqlite3.TMem) error {
	switch c := into.(type) {
	case *record.Values[string]:
		return func(v *sqlite3.TMem) error {
			if v.Fflags&sqlite3.MEM_Null == 0 && v.Fenc != sqlite3.SQLITE_UTF8 {
				return errNotUTF8
			}
			record.AddText(c, present(v, characters))
			return nil
		}
	case *record.Values[record.Date]:
		var last lastDay
		return func(v *sqlite3.TMem) error {
			if v.Fflags&sqlite3.MEM_Null != 0 {
				c.Add(0)
				return nil
			}
			day, err := last.day(characters(v))
			c.Add(day)
			return err
		}
	case *record.Values[record.Number]:
		return adding(c, func(v *sqlite3.TMem) record.Number { return record.Some(real(v)) })
	case *record.Values[record.Count]:
		return adding(c, func(v *sqlite3.TMem) record.Count { return record.Some(integer(v)) })
	case *record.Values[record.Money]:
		return adding(c, func(v *sqlite3.TMem) record.Money { return record.Some(record.Cents(integer(v))) })
	case *record.Values[record.Flag]:
		return adding(c, func(v *sqlite3.TMem) record.Flag { return record.FlagOf(integer(v) != 0) })
	}
	panic(fmt.Sprintf("store: a column of type %T", into))
}

// adding puts values that cannot be wrong behind the last of a column.
func adding[T comparable](c *record.Values[T], value func(v *sqlite3.TMem) T) func(v *sqlite3.TMem) error {
	return func(v *sqlite3.TMem) error {
		c.Add(present(v, value))
		return nil
	}
}

// present is a value, or what is missing where it is NULL.
func present[T any](v *sqlite3.TMem, value func(v *sqlite3.TMem) T) (missing T) {
	if v.Fflags&sqlite3.MEM_Null != 0 {
		return missing
	}
	return value(v)
}
