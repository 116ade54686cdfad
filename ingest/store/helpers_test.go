package store_test

import (
	"fmt"
	"math"
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"pourback/ingest/record"
	"pourback/ingest/store"
)

const now = "2025-06-03T07:15:00Z"

func open(t testing.TB, dsn string) *store.Store {
	t.Helper()
	s, err := store.Open(t.Context(), dsn, store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s
}

// numbered gives records the row numbers of a sheet with one heading.
func numbered(records ...record.Record) []store.Row {
	rows := make([]store.Row, len(records))
	for i, r := range records {
		rows[i] = store.Row{Record: r, Number: i + 2}
	}
	return rows
}

// only tells that a file has the columns named.
func only(t *record.Table, names ...string) []bool {
	given := make([]bool, len(t.Columns))
	for _, name := range names {
		given[t.Index(name)] = true
	}
	return given
}

// take takes in one file of one table.
func take(t testing.TB, s *store.Store, table *record.Table, given []bool, rows []store.Row) (store.Batch, []store.Outcome) {
	t.Helper()
	tx, err := s.Begin(t.Context(), "file.csv", "00", now)
	if err != nil {
		t.Fatal(err)
	}
	defer tx.Rollback()
	outcomes, err := tx.Add(t.Context(), table, given, rows)
	if err != nil {
		t.Fatal(err)
	}
	b, err := tx.Commit(t.Context(), store.Batch{Read: len(rows)})
	if err != nil {
		t.Fatal(err)
	}
	return b, outcomes
}

// dump is a table's rows as text.
func dump(t testing.TB, s *store.Store, table *record.Table) []string {
	t.Helper()
	var lines []string
	err := s.Records(t.Context(), table, func(r record.Record) error {
		line := ""
		for _, f := range r.Fields() {
			line += record.FieldText(f) + "|"
		}
		lines = append(lines, line)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return lines
}

func equal(t testing.TB, what string, got, want any) {
	t.Helper()
	if !reflect.DeepEqual(got, want) {
		g, w := fmt.Sprint(got), fmt.Sprint(want)
		at := 0
		for at < min(len(g), len(w)) && g[at] == w[at] {
			at++
		}
		at = max(0, at-200)
		t.Errorf("%s:\n got %.500s\nwant %.500s", what, g[at:], w[at:])
	}
}

// fill gives a field a value, or none where it may be missing.
func fill(t *rapid.T, c *record.Column, field any) {
	missing := !c.Key && rapid.IntRange(0, 3).Draw(t, c.Name+" missing") == 0
	switch f := field.(type) {
	case *string:
		if *f = ""; !missing {
			*f = rapid.StringMatching(`[^\x00]{0,12}`).Draw(t, c.Name)
		}
		if c.Key {
			*f = fmt.Sprintf("%c", 'A'+rapid.IntRange(0, 4).Draw(t, c.Name))
		}
	case *record.Number:
		if *f = (record.Number{}); !missing {
			*f = record.Some(rapid.Float64Range(-1e9, math.MaxFloat32).Draw(t, c.Name) + 0) // no -0: see TestMinusZero
		}
	case *record.Count:
		if *f = (record.Count{}); !missing {
			*f = record.Some(rapid.Int64Range(-300, 300).Draw(t, c.Name))
		}
	case *record.Money:
		if *f = (record.Money{}); !missing {
			*f = record.Some(record.Cents(rapid.Int64Range(-9e15, 9e15).Draw(t, c.Name)))
		}
	case *record.Date:
		if *f = 0; !missing {
			*f = record.Date(rapid.Int32Range(1, 3652059).Draw(t, c.Name)) // the years 1 to 9999
		}
	case *record.Moment:
		if *f = 0; !missing {
			*f = record.Moment(rapid.Int64Range(86400, 3652059*86400).Draw(t, c.Name))
		}
	case *record.Flag:
		if *f = 0; !missing {
			*f = record.Flag(rapid.IntRange(1, 2).Draw(t, c.Name))
		}
	}
}

func anyRecord(t *rapid.T, table *record.Table) record.Record {
	r := table.New()
	for i, f := range r.Fields() {
		fill(t, &table.Columns[i], f)
	}
	return r
}
