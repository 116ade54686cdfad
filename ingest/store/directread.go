package store

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"unsafe"

	"github.com/jmoiron/sqlx"
	sqlite3 "modernc.org/sqlite/lib"

	"pourback/ingest/record"
)

// readDirect reads the rows of a table whose rowids lie in (after, last] into
// all: from its front on, or backwards from its end on. It returns their number.
func readDirect[T any](ctx context.Context, conn *sqlx.Conn, t *record.Table, after, last int64, backwards bool, all []T) (n int, err error) {
	order := "ASC"
	if backwards {
		order = "DESC"
	}
	query := rowsBetween(t, after, last, order)
	columns := columnsOf[T](t)
	err = raw(conn, func(driverConn any) error {
		d, err := directOf(driverConn)
		if err != nil {
			return err
		}
		return d.each(ctx, query, func(values uintptr) error {
			if n == len(all) {
				return countError(t, n+1, len(all))
			}
			at := n
			if backwards {
				at = len(all) - 1 - n
			}
			n++
			return readRow(columns, values, unsafe.Pointer(&all[at]))
		})
	})
	return n, err
}

// rowsBetween selects the rows of a table whose rowids lie in (after, last].
func rowsBetween(t *record.Table, after, last int64, order string) string {
	return fmt.Sprintf("SELECT %s FROM %s WHERE rowid > %d AND rowid <= %d ORDER BY rowid %s", joined(columnNames(t)), t.Name, after, last, order)
}

func countError(t *record.Table, rows, counted int) error {
	return fmt.Errorf("%s: read %d rows where %d were counted", t.Name, rows, counted)
}

// each runs a query and hands over the values of each row, as SQLite has them.
func (d direct) each(ctx context.Context, query string, read func(values uintptr) error) error {
	stmt, err := d.prepare(query)
	if err != nil {
		return err
	}
	defer sqlite3.Xsqlite3_finalize(d.tls, stmt)
	for n := 0; ; n++ {
		if n%1024 == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		switch sqlite3.Xsqlite3_step(d.tls, stmt) {
		case sqlite3.SQLITE_ROW:
			if err := read((*sqlite3.TVdbe)(pointer(stmt)).FpResultRow); err != nil {
				return err
			}
		case sqlite3.SQLITE_DONE:
			return nil
		default:
			return d.fault("reading")
		}
	}
}

var errNotUTF8 = errors.New("text is not in UTF-8")

// column is where a column's values go, and what it held last.
type column struct {
	name   string
	kind   record.Kind
	key    bool
	offset uintptr // of the field within the record
	words  [64]string
	lastDay
}

// lastDay is the day that was read last: rows in a row often have the same.
type lastDay struct {
	iso  string
	date record.Date // of iso
}

// columnsOf finds out where a record keeps the fields of its columns.
func columnsOf[T any](t *record.Table) []column {
	one := new(T)
	columns := make([]column, len(t.Columns))
	for i, field := range any(one).(record.Record).Fields() {
		c := &t.Columns[i]
		columns[i] = column{name: c.Name, kind: c.Kind, key: c.Key, offset: uintptr(reflect.ValueOf(field).UnsafePointer()) - uintptr(unsafe.Pointer(one))}
	}
	return columns
}

// readRow puts a row's values in their places in a record that is empty.
func readRow(columns []column, values uintptr, row unsafe.Pointer) error {
	for i := range columns {
		c := &columns[i]
		v := valueAt(values, i)
		if v.Fflags&sqlite3.MEM_Null != 0 {
			continue
		}
		field := unsafe.Add(row, c.offset)
		var err error
		switch c.kind {
		case record.KindText, record.KindWord:
			*(*string)(field), err = c.text(v)
		case record.KindNumber:
			*(*record.Number)(field) = record.Some(real(v))
		case record.KindCount:
			*(*record.Count)(field) = record.Some(integer(v))
		case record.KindMoney:
			*(*record.Money)(field) = record.Some(record.Cents(integer(v)))
		case record.KindFlag:
			err = (*record.Flag)(field).Scan(integer(v))
		case record.KindDate:
			*(*record.Date)(field), err = c.day(characters(v))
		case record.KindMoment:
			*(*record.Moment)(field), err = record.ParseMoment(string(characters(v)))
		}
		if err != nil {
			return fmt.Errorf("%s: %w", c.name, err)
		}
	}
	return nil
}

// integer is a value in a column of type INTEGER.
func integer(v *sqlite3.TMem) int64 { return int64(math.Float64bits(v.Fu.Fr)) }

// real is a value in a column of type REAL, which may be held as an integer.
func real(v *sqlite3.TMem) float64 {
	if v.Fflags&sqlite3.MEM_Real != 0 {
		return v.Fu.Fr
	}
	return float64(integer(v))
}

// characters is a view of SQLite's memory, good until the next row.
func characters(v *sqlite3.TMem) []byte {
	if v.Fn == 0 {
		return nil
	}
	return unsafe.Slice((*byte)(pointer(v.Fz)), v.Fn)
}

// text is a value in a column of type TEXT.
func (c *column) text(v *sqlite3.TMem) (string, error) {
	if v.Fenc != sqlite3.SQLITE_UTF8 {
		return "", errNotUTF8
	}
	return c.word(characters(v)), nil
}

// word is a text of the column. Texts repeat: each has one place among the
// column's words, where the string it had last time may still be.
func (c *column) word(s []byte) string {
	if len(s) == 0 {
		return ""
	}
	place := &c.words[(len(s)*7+int(s[0])*5+int(s[len(s)/2])*3+int(s[len(s)-1])*31)%len(c.words)]
	if *place != string(s) {
		*place = string(s)
	}
	return *place
}

func (l *lastDay) day(s []byte) (record.Date, error) {
	if l.iso == string(s) {
		return l.date, nil
	}
	l.iso = string(s)
	var err error
	l.date, err = record.ParseDate(l.iso)
	return l.date, err
}

// sortByKey puts rows in the order of their keys, in which they mostly are.
// Each row is moved once.
func sortByKey[T any](rows []T, columns []column) {
	columns = slices.DeleteFunc(columns, func(c column) bool { return !c.key })
	compare := func(a, b int32) int { return compareKeys(columns, unsafe.Pointer(&rows[a]), unsafe.Pointer(&rows[b])) }
	order := make([]int32, len(rows))
	for i := range order {
		order[i] = int32(i)
	}
	if slices.IsSortedFunc(order, compare) {
		return
	}
	slices.SortFunc(order, compare)
	for start := range order {
		first, at := rows[start], int32(start)
		for order[at] >= 0 {
			from := order[at]
			order[at] = -1
			if int(from) == start {
				rows[at] = first
				break
			}
			rows[at] = rows[from]
			at = from
		}
	}
}

// compareKeys compares two records by their key columns.
func compareKeys(keys []column, a, b unsafe.Pointer) int {
	for i := range keys {
		a, b := unsafe.Add(a, keys[i].offset), unsafe.Add(b, keys[i].offset)
		order := 0
		switch keys[i].kind {
		case record.KindText, record.KindWord:
			order = strings.Compare(*(*string)(a), *(*string)(b))
		case record.KindCount:
			order = cmp.Compare((*record.Count)(a).V, (*record.Count)(b).V)
		case record.KindDate:
			order = cmp.Compare(*(*record.Date)(a), *(*record.Date)(b))
		}
		if order != 0 {
			return order
		}
	}
	return 0
}
