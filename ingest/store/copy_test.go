package store

import (
	"context"
	"errors"
	"strings"
	"testing"
	"time"

	"github.com/lib/pq"

	"pourback/ingest/record"
	"pourback/ingest/store/storetest"
)

// TestServerTakesNoCopies: it is asked once, and given the rows as everywhere.
func TestServerTakesNoCopies(t *testing.T) {
	for name, statement := range map[string]string{"nothing": "COPY NOTHING INTO %s (%s)", "text": "COPY %s (%s) FROM STDIN"} {
		s, err := Open(t.Context(), storetest.Postgres(t), Options{})
		if err != nil {
			t.Fatal(err)
		}
		defer s.Close()
		e := *s.engine
		e.copyIn = statement
		s.engine = &e
		for from := range 2 {
			addRows(t, s, benchRows(from*50, 50), nil)
		}
		if n := len(placementsOf(t, s)); n != 100 || s.takes.Load() != takesNoCopies {
			t.Errorf("%s: %d rows, %d", name, n, s.takes.Load())
		}
	}
}

// addRows takes rows of a job log in as one file, and wants an error that says so.
func addRows(t *testing.T, s *Store, rows []Row, says func(error) bool) {
	t.Helper()
	tx, err := s.Begin(t.Context(), "f.csv", "00", "2025-06-03T07:15:00Z")
	if err != nil {
		t.Fatal(err)
	}
	defer tx.Rollback()
	if _, err = tx.Add(t.Context(), record.Placements, nil, rows); err == nil {
		_, err = tx.Commit(t.Context(), Batch{})
	}
	if says == nil && err != nil || says != nil && (err == nil || !says(err)) {
		t.Errorf("error %v", err)
	}
}

// TestServerRefusesARow that it was copied: the file fails with the server's
// reason, nothing of it is kept, and the next one is taken in.
func TestServerRefusesARow(t *testing.T) {
	s, err := Open(t.Context(), storetest.Postgres(t), Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	if err := s.Exec("ALTER TABLE placements ADD CHECK (crew <> 'nobody')"); err != nil {
		t.Fatal(err)
	}
	rows := benchRows(0, 3*chunkRows)
	rows[chunkRows/2].Record.(*record.Placement).Crew = "nobody"
	addRows(t, s, rows, func(err error) bool { return pq.As(err, "23514") != nil })
	if n := len(placementsOf(t, s)); n != 0 {
		t.Errorf("%d rows kept", n)
	}
	addRows(t, s, benchRows(0, 10), nil)
	if n := len(placementsOf(t, s)); n != 10 {
		t.Errorf("%d rows kept", n)
	}
}

// TestCopyEnds in the middle: with its context, or given up. The connection and
// the turn are free for the next one.
func TestCopyEnds(t *testing.T) {
	s, err := Open(t.Context(), storetest.Postgres(t), Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	for _, wait := range []time.Duration{0, time.Millisecond, 20 * time.Millisecond} {
		ctx, stop := context.WithCancel(t.Context())
		tx, err := s.Begin(ctx, "f.csv", "00", "2025-06-03T07:15:00Z")
		if err != nil {
			t.Fatal(err)
		}
		time.AfterFunc(wait, stop)
		for at := 0; err == nil; at += chunkRows {
			_, err = tx.Add(ctx, record.Placements, nil, benchRows(at, chunkRows))
		}
		if !errors.Is(err, context.Canceled) {
			t.Errorf("after %v: %v", wait, err)
		}
		tx.Rollback()
	}
	tx, err := s.Begin(t.Context(), "f.csv", "00", "2025-06-03T07:15:00Z")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := tx.Add(t.Context(), record.Placements, nil, benchRows(0, 10)); err != nil || tx.copying == nil {
		t.Errorf("%v, copying %v", err, tx.copying)
	}
	if err := tx.Rollback(); err != nil {
		t.Error(err)
	}
	long := benchRows(0, 10)
	long[3].Record.(*record.Placement).Note = strings.Repeat("longer than a message ", messageSize)
	addRows(t, s, long, nil)
	if got := placementsOf(t, s); len(got) != 10 || got[3].Note != long[3].Record.(*record.Placement).Note {
		t.Errorf("%d rows kept", len(got))
	}
}
