package ingest_test

import (
	"errors"
	"strings"
	"testing"

	"pourback/ingest"
	"pourback/ingest/record"
	"pourback/ingest/sheet"
	"pourback/ingest/store"
	"pourback/ingest/store/storetest"
)

const entryAt = "2025-07-01T15:04:05Z"

// entering is an entry of rows of one table, each given as column, value, column,
// value.
func entering(table string, rows ...[]string) ingest.Entry {
	e := ingest.Entry{What: "test of J-1 A", Sheet: sheet.Options{Today: day(today)}, TakenAt: entryAt, By: "Ana"}
	for _, row := range rows {
		one := ingest.EntryRow{Table: table}
		for i := 0; i+1 < len(row); i += 2 {
			one.Values = append(one.Values, [2]string{row[i], row[i+1]})
		}
		e.Rows = append(e.Rows, one)
	}
	return e
}

func mustEnter(t *testing.T, st *store.Store, e ingest.Entry) ingest.Entered {
	t.Helper()
	done, err := ingest.Enter(t.Context(), st, e)
	if err != nil {
		t.Fatal(err)
	}
	if done.Batch == 0 {
		t.Fatalf("no batch: %+v", done)
	}
	return done
}

// sound checks that the store finds nothing wrong with itself.
func sound(t *testing.T, st *store.Store) {
	t.Helper()
	if _, err := st.Check(t.Context(), func(f store.Fault) { t.Errorf("%+v", f) }); err != nil {
		t.Fatal(err)
	}
}

// onRecord is a value on record, found by its key.
func onRecord(t *testing.T, st *store.Store, key record.Record, column string) string {
	t.Helper()
	found := "no such record"
	err := st.Records(t.Context(), key.Table(), func(r record.Record) error {
		if record.Key(r) == record.Key(key) {
			found = record.FieldText(r.Fields()[key.Table().Index(column)])
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return found
}

var slab = &record.Placement{JobNo: "J-1", Placement: "A"}

// TestEnter: a truck is new, the same again is unchanged, a column more changes it,
// and a value that somebody else has changed meanwhile clashes.
func TestEnter(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		st, _ := poured(t, dsn)
		truck := entering("loads", []string{"job_no", "J-1", "ticket_no", "4711", "yards", "9", "arrived_at", "7/1/2025 8:15 am"})
		for i, want := range []string{"new", "unchanged"} {
			done := mustEnter(t, st, truck)
			if r := done.Rows[0]; r.Became != want || r.Record != "J-1 A 4711" || r.Table != "loads" || done.Batch != int64(i+2) {
				t.Errorf("%+v, want %s", done, want)
			}
		}
		more := entering("loads", []string{"job_no", "J-1", "placement", "A", "ticket_no", "4711", "yards", "9", "slump_in", "4 1/2"})
		if r := mustEnter(t, st, more).Rows[0]; r.Became != "changed" || len(r.Clashes) != 0 {
			t.Errorf("%+v", r)
		}
		other := entering("loads", []string{"job_no", "J-1", "ticket_no", "4711", "yards", "8.5", "note", "hot"})
		done := mustEnter(t, st, other)
		if r := done.Rows[0]; r.Became != "clash" || len(r.Clashes) != 1 || r.Clashes[0] != (ingest.EntryClash{Column: "yards", Record: "9", Entered: "8.5"}) {
			t.Errorf("%+v", r)
		}
		load := &record.Load{JobNo: "J-1", Placement: "A", TicketNo: "4711"}
		for column, want := range map[string]string{"yards": "9", "slump_in": "4.5", "note": "hot", "arrived_at": "2025-07-01T08:15"} {
			if got := onRecord(t, st, load, column); got != want {
				t.Errorf("%s is %q, want %q", column, got, want)
			}
		}
		parts, err := st.SetAside(t.Context(), done.Batch)
		if err != nil || len(parts) != 1 || parts[0].Table != "loads" || !strings.Contains(string(parts[0].Content), "J-1,A,4711,8.5,") {
			t.Errorf("%v %+v", err, parts)
		}
		batches, err := st.Batches(t.Context())
		if b := batches[len(batches)-1]; err != nil || b.File != "form test of J-1 A" || b.Who != "Ana" || b.SetAside != 1 || b.Changed != 1 {
			t.Errorf("%+v, %v", b, err)
		}
		sound(t, st)
	})
}

// TestEnterRefuses: nothing is kept of an entry in which one thing cannot be, and
// each problem says where, what, why and what would be right.
func TestEnterRefuses(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		st, _ := poured(t, dsn)
		e := entering("loads", []string{"job_no", "J-1", "ticket_no", "1", "yards", "9"}, []string{"job_no", "J-1", "ticket_no", "2", "yards", "900"}, []string{"job_no", "J-9", "ticket_no", "2", "yards", "9"})
		_, err := ingest.Enter(t.Context(), st, e)
		var wrong *ingest.EntryError
		if !errors.As(err, &wrong) || len(wrong.Problems) != 2 {
			t.Fatal(err)
		}
		for _, p := range wrong.Problems {
			if p.Column == "" || p.Value == "" || p.Wrong == "" || p.Right == "" || p.Severity != record.Error {
				t.Errorf("%+v", p)
			}
		}
		if batches, err := st.Batches(t.Context()); err != nil || len(batches) != 1 {
			t.Errorf("%+v, %v", batches, err)
		}
	})
}
