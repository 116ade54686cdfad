package store

import (
	"context"
	"database/sql/driver"
	"errors"
	"strconv"

	"pourback/ingest/record"
)

// copier is what the PostgreSQL driver makes of a COPY statement.
type copier interface {
	CopyData(ctx context.Context, lines string) (driver.Result, error)
	Close() error // waits until the server has taken all, and says what it thought of it
}

// insertCopy writes new rows by COPY, which takes a fourth of the time that
// insertPlain takes.
func insertCopy(ctx context.Context, tx *Tx, into target, rows []row) error {
	query := "COPY " + into.table.Name + " (" + joined(into.names()) + ") FROM STDIN"
	return raw(tx.conn, func(driverConn any) error {
		conn, ok := driverConn.(driver.ConnPrepareContext)
		if !ok {
			return errors.New("this PostgreSQL driver cannot copy")
		}
		stmt, err := conn.PrepareContext(ctx, query)
		if err != nil {
			return err
		}
		c, ok := stmt.(copier)
		if !ok {
			return errors.Join(errors.New("this PostgreSQL driver cannot copy"), stmt.Close())
		}
		if err := copyRows(ctx, c, into, rows); err != nil {
			return errors.Join(err, c.Close())
		}
		return c.Close()
	})
}

// copyRows sends rows, some fifty thousand bytes at a time.
func copyRows(ctx context.Context, c copier, into target, rows []row) error {
	var lines []byte
	for i := range rows {
		if lines = appendLine(lines, into, &rows[i]); len(lines) < 50_000 && i < len(rows)-1 {
			lines = append(lines, '\n')
			continue
		}
		if _, err := c.CopyData(ctx, string(lines)); err != nil { // which adds the last line's end
			return err
		}
		lines = lines[:0]
	}
	return nil
}

// appendLine appends a row in COPY's text format (PostgreSQL documentation,
// COPY, File Formats): tabs between values, \N for NULL.
func appendLine(b []byte, into target, r *row) []byte {
	for _, i := range into.columns {
		b = append(appendValue(b, r.fields[i], into.table.Columns[i].Key), '\t')
	}
	b = append(strconv.AppendInt(b, r.batch, 10), '\t')
	b = append(strconv.AppendInt(b, int64(r.number), 10), '\t')
	b = strconv.AppendInt(b, r.digest, 10)
	if into.unused {
		b = appendValue(append(b, '\t'), &r.unused, false)
	}
	return b
}

func appendValue(b []byte, field any, key bool) []byte {
	if record.IsMissing(field) && !key {
		return append(b, `\N`...)
	}
	switch f := field.(type) {
	case *string:
		return appendEscaped(b, *f)
	case *record.Number:
		if n := int64(f.V); float64(n) == f.V && n > -1e15 && n < 1e15 {
			return strconv.AppendInt(b, n, 10) // the same text, sooner
		}
	case *record.Money: // in cents, where its text is in the currency's unit
		return strconv.AppendInt(b, int64(f.V), 10)
	case *record.Flag:
		return strconv.AppendInt(b, int64(record.No-*f), 10)
	}
	return record.AppendField(b, field)
}

// appendEscaped puts a backslash before what has a meaning in the format.
func appendEscaped(b []byte, s string) []byte {
	for i := range len(s) {
		switch c := s[i]; c {
		case '\\':
			b = append(b, `\\`...)
		case '\t':
			b = append(b, `\t`...)
		case '\n':
			b = append(b, `\n`...)
		case '\r':
			b = append(b, `\r`...)
		default:
			b = append(b, c)
		}
	}
	return b
}
