package store

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	sqlite3 "modernc.org/sqlite/lib"
	"pgregory.net/rapid"

	"pourback/ingest/record"
	"pourback/ingest/store/storetest"
)

// TestShortcutIsOpen fails when the SQLite driver comes to hide its connection:
// everything still works then, only slower.
func TestShortcutIsOpen(t *testing.T) {
	s, err := Open(t.Context(), storetest.SQLite(t), Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	conn, err := s.db.Connx(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close()
	if err := conn.Raw(func(c any) error { _, err := directOf(c); return err }); err != nil {
		t.Error(err)
	}
	for _, other := range []any{struct{}{}, &struct{ db, tls string }{}, nil, &struct{ db uintptr }{1}} {
		if _, err := directOf(other); err != errIndirect {
			t.Errorf("%T: %v", other, err)
		}
	}
}

// TestWaysIn demands that the fast way in and the plain one store the same.
func TestWaysIn(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		s, err := Open(t.Context(), dsn, Options{})
		if err != nil {
			t.Fatal(err)
		}
		defer s.Close()
		fast := s.engine.insert
		engine := *s.engine
		s.engine = &engine
		rows := benchRows(0, 2*rowsAtOnce+3)
		rows[5].Record.(*record.Placement).Retarder = record.No
		rows[6].Record.(*record.Placement).Retarder = record.Yes
		rows[7].Record.(*record.Placement).Crew = strings.Repeat("long ", 1<<16)
		rows[8].Record.(*record.Placement).AreaSqft = record.Some(1e300)
		rows[9].Record.(*record.Placement).AreaSqft = record.Some(-5e-324)
		var dumps []string
		for _, way := range []func() error{
			func() error { engine.insert = fast; return nil },
			func() error { engine.insert = insertPlain; return nil },
		} {
			if err := way(); err != nil {
				t.Fatal(err)
			}
			tx, err := s.Begin(t.Context(), "f", "00", "2025-06-03T07:15:00Z")
			if err != nil {
				t.Fatal(err)
			}
			if _, err := tx.Add(t.Context(), record.Placements, nil, rows); err != nil {
				t.Fatal(err)
			}
			stored, err := tx.page(t.Context(), record.Placements, "SELECT "+wholeList(record.Placements)+" FROM placements ORDER BY job_no, placement", nil)
			if err != nil {
				t.Fatal(err)
			}
			var text strings.Builder
			for _, r := range stored {
				for _, f := range r.fields {
					text.WriteString(record.FieldText(f) + "|")
				}
				fmt.Fprintln(&text, r.batch, r.number, r.digest)
			}
			dumps = append(dumps, text.String())
			tx.Rollback()
		}
		if dumps[0] != dumps[1] || strings.Count(dumps[0], "\n") != len(rows) {
			t.Errorf("the fast way:\n%.2000s\nthe plain way:\n%.2000s", dumps[0], dumps[1])
		}
	})
}

// TestValueTooLong demands that a value which SQLite does not take is an error,
// and not a field left empty.
func TestValueTooLong(t *testing.T) {
	s, err := Open(t.Context(), storetest.SQLite(t), Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	tx, err := s.Begin(t.Context(), "f", "00", "2025-06-03T07:15:00Z")
	if err != nil {
		t.Fatal(err)
	}
	defer tx.Rollback()
	err = tx.conn.Raw(func(c any) error {
		d, err := directOf(c)
		sqlite3.Xsqlite3_limit(d.tls, d.db, sqlite3.SQLITE_LIMIT_LENGTH, 5000)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	rows := benchRows(0, 2)
	rows[1].Record.(*record.Placement).Crew = strings.Repeat("long ", 1001)
	if _, err := tx.Add(t.Context(), record.Placements, nil, rows); err == nil || !strings.Contains(err.Error(), "too big") {
		t.Errorf("%v, want an error that says so", err)
	}
}

// TestDigestStays freezes digests: they are stored, so they must come out the
// same in every release. The values are this package's own, of its first release.
func TestDigestStays(t *testing.T) {
	fields := benchRows(41, 1)[0].Fields
	if got := digest(record.Placements, fields, ""); got != frozenDigest {
		t.Errorf("digest %d, was %d", got, frozenDigest)
	}
}

const frozenDigest int64 = 5540319646968691200

// TestDigestTellsApart changes one field at a time.
func TestDigestTellsApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		had := map[int64]string{}
		for _, text := range rapid.SliceOfNDistinct(rapid.StringN(0, 20, 60), 2, 20, rapid.ID).Draw(t, "texts") {
			for i := range 3 {
				var j record.Cost
				*j.Fields()[[]int{0, 1, 6}[i]].(*string) = text
				name := fmt.Sprint(i, text)
				if text == "" {
					name = ""
				}
				if other, ok := had[digest(record.Costs, j.Fields(), "")]; ok && other != name {
					t.Fatalf("%q and %q have one digest", name, other)
				}
				had[digest(record.Costs, j.Fields(), "")] = name
			}
		}
	})
	zero, none := &record.Cost{ActualQty: record.Some(0.0)}, &record.Cost{}
	if digest(record.Costs, zero.Fields(), "") == digest(record.Costs, none.Fields(), "") {
		t.Error("zero and nothing have one digest")
	}
}

// TestDigestSeesEveryColumn demands that zero is not taken for nothing.
func TestDigestSeesEveryColumn(t *testing.T) {
	for _, table := range record.Stored {
		empty := digest(table, table.New().Fields(), "")
		for i, c := range table.Columns {
			r := table.New()
			switch f := r.Fields()[i].(type) {
			case *string:
				*f = "x"
			case *record.Number:
				*f = record.Some(0.0)
			case *record.Count:
				*f = record.Some[int64](0)
			case *record.Money:
				*f = record.Some[record.Cents](0)
			case *record.Date:
				*f = 1
			case *record.Moment:
				*f = 86400
			case *record.Flag:
				*f = record.No
			}
			if digest(table, r.Fields(), "") == empty {
				t.Errorf("%s.%s: zero and missing have one digest", table.Name, c.Name)
			}
		}
	}
}

// TestSortByKey holds it against sorting the keys' text.
func TestSortByKey(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rows := make([]record.Delay, rapid.IntRange(0, 50).Draw(t, "rows"))
		want := make([]string, len(rows))
		for i := range rows {
			rows[i] = record.Delay{JobNo: rapid.StringMatching(`[\x01abé]{0,2}`).Draw(t, "job"), Seq: record.Some(rapid.Int64Range(-12, 12).Draw(t, "seq")), Minutes: record.Some(int64(i))}
			want[i] = string(appendKey(nil, record.Delays, rows[i].Fields()))
		}
		slices.Sort(want)
		seen := map[int64]bool{}
		sortByKey(rows, columnsOf[record.Delay](record.Delays))
		for i := range rows {
			if got := string(appendKey(nil, record.Delays, rows[i].Fields())); got != want[i] {
				t.Fatalf("row %d: %q, want %q", i, got, want[i])
			}
			seen[rows[i].Minutes.V] = true
		}
		if len(seen) != len(rows) {
			t.Fatal("a row was lost")
		}
	})
}

// TestInsertsNameTheirColumns forbids a form that loses rows without an error:
// the SQL library keeps only the first row of a batch where an INSERT does not
// list its columns.
func TestInsertsNameTheirColumns(t *testing.T) {
	files, err := filepath.Glob("*.go")
	if err != nil || len(files) < 10 {
		t.Fatalf("%d files, %v", len(files), err)
	}
	unlisted := regexp.MustCompile(`(?is)insert\s+(or\s+\w+\s+)?into\s+[\w.]+\s+values`)
	if !unlisted.MatchString("INSERT OR FAIL INTO t\n VALUES (1)") {
		t.Fatal("the check finds nothing")
	}
	for _, name := range files {
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(f, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.BasicLit:
				if unlisted.MatchString(n.Value) && name != "shortcut_test.go" {
					t.Errorf("%s: %s", name, n.Value)
				}
			case *ast.SelectorExpr:
				if strings.HasPrefix(n.Sel.Name, "NamedExec") {
					t.Errorf("%s uses %s", name, n.Sel.Name)
				}
			}
			return true
		})
	}
}
