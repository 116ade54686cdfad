package store

import (
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"pourback/ingest/record"
	"pourback/ingest/store/storetest"
)

// onServer opens a new database on the server, with many placements.
func onServer(t *testing.T) *Store {
	t.Helper()
	s, err := Open(t.Context(), storetest.Postgres(t), Options{})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	tx, err := s.Begin(t.Context(), "f.csv", "00", "2025-06-03T07:15:00Z")
	if err != nil {
		t.Fatal(err)
	}
	defer tx.Rollback()
	rows := benchRows(0, 2*manyRows)
	rows[7].Record.(*record.Placement).Note = strings.Repeat("more than is taken at once ", 1<<14)
	if _, err := tx.Add(t.Context(), record.Placements, nil, rows); err != nil {
		t.Fatal(err)
	}
	if _, err := tx.Commit(t.Context(), Batch{}); err != nil {
		t.Fatal(err)
	}
	return s
}

func placementsOf(t *testing.T, s *Store) (rows []record.Placement) {
	t.Helper()
	h, err := s.History(t.Context(), record.DateOf(2100, 1, 1))
	if err != nil {
		t.Fatal(err)
	}
	for i := range h.Placements.Len() {
		rows = append(rows, h.Placements.Row(i))
	}
	return rows
}

// TestWaysOut: what the server cannot do it is not asked for again, and the
// history is the same.
func TestWaysOut(t *testing.T) {
	s := onServer(t)
	want := placementsOf(t, s)
	if len(want) != 2*manyRows || s.alone.Load() || s.plain.Load() {
		t.Fatalf("%d placements, alone %v, plain %v", len(want), s.alone.Load(), s.plain.Load())
	}
	lacking := func(change func(*engine)) *Store {
		e := *s.engine
		change(&e)
		return &Store{db: s.db, read: s.db, engine: &e, pairing: make(chan struct{}, 1)}
	}
	for name, c := range map[string]struct {
		s            *Store
		alone, plain bool
	}{
		"lends nothing":      {lacking(func(e *engine) { e.lend = "SELECT no_such_function()" }), true, false},
		"loses what is lent": {lacking(func(e *engine) { e.borrow = "SET TRANSACTION SNAPSHOT '%s0'; SET LOCAL synchronize_seqscans = off" }), false, false},
		"takes nothing lent": {lacking(func(e *engine) { e.borrow = "SET TRANSACTION SNAPSHOTS '%s'" }), true, false},
		"copies nothing":     {lacking(func(e *engine) { e.copyOut = "COPY NOTHING OF (%s) TO STDOUT" }), false, true},
		"copies text":        {lacking(func(e *engine) { e.copyOut = "COPY (%s) TO STDOUT" }), false, true},
	} {
		for range 2 {
			got := placementsOf(t, c.s)
			if fmt.Sprint(got) != fmt.Sprint(want) || c.s.alone.Load() != c.alone || c.s.plain.Load() != c.plain {
				t.Errorf("a server that %s: %d placements, alone %v, plain %v", name, len(got), c.s.alone.Load(), c.s.plain.Load())
			}
		}
	}
}

// TestWireIsOpen fails when the PostgreSQL driver comes to hide its connection.
func TestWireIsOpen(t *testing.T) {
	s := onServer(t)
	conn, err := s.db.Connx(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close()
	if err := conn.Raw(func(c any) error { _, err := wireOf(c); return err }); err != nil {
		t.Error(err)
	}
	for _, other := range []any{struct{}{}, &struct{ c, buf string }{}, nil, &struct{ c error }{}} {
		if _, err := wireOf(other); err != errIndirect {
			t.Errorf("%T: %v", other, err)
		}
	}
}

// TestCopyStops: after an error in the middle the connection goes on; after the
// end of the context it does not, and the error is the context's.
func TestCopyStops(t *testing.T) {
	s := onServer(t)
	views, done, err := s.views(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	enough, n := errors.New("enough"), 0
	for range 2 {
		err = s.readCopied(views[0], record.Placements, "", func([][]byte) error {
			if n++; n%1000 == 0 {
				return enough
			}
			return nil
		})
		if err != enough {
			t.Errorf("%v, want the reader's error", err)
		}
	}
	var one int
	if err := views[0].tx.Get(&one, "SELECT 1"); err != nil || one != 1 || n != 2000 {
		t.Errorf("%d after %d rows: %v", one, n, err)
	}
	done()

	ctx, stop := context.WithCancel(t.Context())
	views, done, err = s.views(ctx)
	if err != nil {
		t.Fatal(err)
	}
	defer done()
	err = s.readCopied(views[0], record.Placements, " CROSS JOIN (VALUES (1), (2), (3), (4), (5), (6), (7), (8), (9)) AS more (n)", func([][]byte) error {
		stop()
		return nil
	})
	if err = s.explain(ctx, err); !errors.Is(err, context.Canceled) {
		t.Errorf("%v, want the context's error", err)
	}
	if len(placementsOf(t, s)) != 2*manyRows {
		t.Error("the next history is not whole")
	}
}

// TestCopyLosesItsConnection: the history is read again, whole.
func TestCopyLosesItsConnection(t *testing.T) {
	dsn := storetest.Postgres(t)
	s, err := Open(t.Context(), dsn, Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	views, done, err := s.views(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	defer done()
	storetest.EndConnections(t, dsn)
	if err := s.readCopied(views[0], record.Placements, "", func([][]byte) error { return nil }); !s.engine.lost(err) {
		t.Errorf("%v, want a lost connection", err)
	}
	if got := placementsOf(t, s); len(got) != 0 {
		t.Errorf("%d placements", len(got))
	}
}

// TestBinaryRows takes rows apart wherever the server cuts them (PostgreSQL
// documentation, COPY, Binary Format).
func TestBinaryRows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var want []string
		sent := []byte(binaryStart)
		for range rapid.IntRange(0, 5).Draw(t, "rows") {
			sent = append(sent, 0, 2)
			var row [2][]byte
			for i := range row {
				if rapid.Bool().Draw(t, "null") {
					sent = append(sent, 0xff, 0xff, 0xff, 0xff)
					continue
				}
				row[i] = append([]byte{}, rapid.SliceOfN(rapid.Byte(), 0, 9).Draw(t, "value")...)
				sent = append(binary.BigEndian.AppendUint32(sent, uint32(len(row[i]))), row[i]...)
			}
			want = append(want, fmt.Sprintf("%q %v %q %v", row[0], row[0] == nil, row[1], row[1] == nil))
		}
		sent = append(sent, 0xff, 0xff)
		var got []string
		r := binaryRows{values: make([][]byte, 2), take: func(v [][]byte) error {
			got = append(got, fmt.Sprintf("%q %v %q %v", v[0], v[0] == nil, v[1], v[1] == nil))
			return nil
		}}
		for len(sent) > 0 {
			n := rapid.IntRange(1, len(sent)).Draw(t, "cut")
			if err := r.data(append([]byte{}, sent[:n]...)); err != nil {
				t.Fatal(err)
			}
			if sent = sent[n:]; r.ended != (len(sent) == 0) {
				t.Fatalf("ended with %d bytes to come", len(sent))
			}
		}
		if fmt.Sprint(got) != fmt.Sprint(want) {
			t.Fatalf("got %q\nwant %q", got, want)
		}
	})
	for _, wrong := range []string{"J-1\tA\t2025-06-03\tdriveway\t648\n", binaryStart + "\x00\x03"} {
		r := binaryRows{values: make([][]byte, 2)}
		if err := r.data([]byte(wrong)); err != errForm {
			t.Errorf("%q: %v", wrong, err)
		}
	}
	for _, c := range record.Placements.Columns {
		if c.Kind == record.KindText || c.Kind == record.KindWord || c.Kind == record.KindDate {
			continue
		}
		if err := columnReaders(record.Placements, new(record.PlacementColumns).Columns())(valuesWith(record.Placements.Index(c.Name), "abc")); err == nil || !strings.Contains(err.Error(), c.Name) {
			t.Errorf("%s of three bytes: %v", c.Name, err)
		}
	}
}

// valuesWith is a row of placements with one value.
func valuesWith(at int, value string) [][]byte {
	values := make([][]byte, len(record.Placements.Columns))
	values[at] = []byte(value)
	return values
}
