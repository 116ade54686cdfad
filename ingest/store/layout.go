package store

import (
	"database/sql/driver"
	"encoding/binary"
	"fmt"
	"math"
	"strings"
	"unicode/utf8"

	"pourback/ingest/record"
)

// provenance are the columns that each row has behind its record's.
var provenance = []string{"batch_id", "row_no", "digest"}

// unusedColumn holds what stood in columns of no use, as JSON of heading and
// text; NULL where there was nothing.
const unusedColumn = record.UnusedColumn

// row is a stored row: a record's fields with where they came from.
type row struct {
	fields []any
	unused string // as unusedColumn has it, or ""
	batch  int64
	number int // of the row in the batch's file
	digest int64
}

// columnNames are the names of the table's columns.
func columnNames(t *record.Table) []string {
	names := make([]string, len(t.Columns))
	for i := range t.Columns {
		names[i] = t.Columns[i].Name
	}
	return names
}

// keyNames are the names of the key columns.
func keyNames(t *record.Table) []string {
	var names []string
	for _, i := range t.Keys() {
		names = append(names, t.Columns[i].Name)
	}
	return names
}

// selectList names the table's columns so that they can be scanned into a
// record's fields: a text that is missing comes out empty.
func selectList(t *record.Table) string {
	names := columnNames(t)
	for i, c := range t.Columns {
		if isText(&c) && !c.Key {
			names[i] = "COALESCE(" + c.Name + ", '')"
		}
	}
	return joined(names)
}

// wholeList is what [scanRow] reads.
func wholeList(t *record.Table) string {
	return selectList(t) + ", " + joined(provenance) + ", COALESCE(" + unusedColumn + ", '')"
}

func isText(c *record.Column) bool { return c.Kind == record.KindText || c.Kind == record.KindWord }

// marks is a bracketed list of n placeholders.
func marks(n int) string { return "(" + strings.Repeat("?, ", n-1) + "?)" }

// insertText inserts n rows of the columns named.
func insertText(table string, columns []string, n int) string {
	one := marks(len(columns))
	return "INSERT INTO " + table + " (" + joined(columns) + ") VALUES " + strings.Repeat(one+", ", n-1) + one
}

// replaceText inserts n whole rows, each in place of the one that has its key.
func replaceText(t *record.Table, n int) string {
	columns := append(append(columnNames(t), provenance...), unusedColumn)
	keys := keyNames(t)
	var sets []string
	for i, c := range columns {
		if i >= len(t.Columns) || !t.Columns[i].Key {
			sets = append(sets, c+" = excluded."+c)
		}
	}
	return insertText(t.Name, columns, n) + " ON CONFLICT (" + joined(keys) + ") DO UPDATE SET " + joined(sets)
}

// amongText is the condition that a row's key is one of n. The first key says
// its types, which PostgreSQL would otherwise take for text.
func amongText(t *record.Table, n int) string {
	var casts []string
	for _, i := range t.Keys() {
		kind := "TEXT"
		if t.Columns[i].Kind == record.KindCount {
			kind = "BIGINT"
		}
		casts = append(casts, "CAST(? AS "+kind+")")
	}
	return "(" + joined(keyNames(t)) + ") IN (VALUES (" + joined(casts) + ")" + strings.Repeat(", "+marks(len(casts)), n-1) + ")"
}

// betweenText is the condition that a row's key lies between two, both included.
func betweenText(t *record.Table) string {
	keys := "(" + joined(keyNames(t)) + ")"
	one := marks(len(t.Keys()))
	return keys + " >= " + one + " AND " + keys + " <= " + one
}

// value is a field as the database holds it.
func value(c *record.Column, field any) any {
	if s, ok := field.(*string); ok {
		if *s == "" && !c.Key {
			return nil
		}
		return *s
	}
	v, _ := field.(driver.Valuer).Value() // the record's types give no errors
	return v
}

// keyValues are the values of the row's key.
func keyValues(t *record.Table, fields []any) []any {
	var values []any
	for i := range t.Columns {
		if c := &t.Columns[i]; c.Key {
			values = append(values, value(c, fields[i]))
		}
	}
	return values
}

// keyFields are the fields of the row's key.
func keyFields(t *record.Table, fields []any) []any {
	var key []any
	for i := range t.Columns {
		if t.Columns[i].Key {
			key = append(key, fields[i])
		}
	}
	return key
}

// appendKey appends the row's key so that keys compare as the database orders
// them: text byte by byte, then by length; numbers by size.
func appendKey(b []byte, t *record.Table, fields []any) []byte {
	for i := range t.Columns {
		if !t.Columns[i].Key {
			continue
		}
		if n, ok := fields[i].(*record.Count); ok {
			b = binary.BigEndian.AppendUint64(b, uint64(n.V)^1<<63)
			continue
		}
		b = append(record.AppendField(b, fields[i]), 0)
	}
	return b
}

// check finds what no database could hold and give back unchanged. The readers
// of files let nothing of the kind through. The sign of a zero, which SQLite
// would lose, it takes off.
func check(t *record.Table, fields []any) error {
	for i, field := range fields {
		switch f := field.(type) {
		case *string:
			if !storable(*f) {
				return fmt.Errorf("%s: text with bytes that are no characters", t.Columns[i].Name)
			}
		case *record.Number:
			f.V += 0 // -0 + 0 is 0
			if math.IsNaN(f.V) || math.IsInf(f.V, 0) {
				return fmt.Errorf("%s: not a number", t.Columns[i].Name)
			}
		}
	}
	for _, i := range shapes[t].keys {
		if _, text := fields[i].(*string); !text && record.IsMissing(fields[i]) {
			return fmt.Errorf("%s: missing, and without it the row has no key", t.Columns[i].Name)
		}
	}
	return nil
}

// storable says whether a text is characters throughout, none of them NUL.
func storable(s string) bool {
	for i := range len(s) {
		if s[i]-1 >= 0x7f { // NUL, or no ASCII
			return utf8.ValidString(s) && strings.IndexByte(s, 0) < 0
		}
	}
	return true
}
