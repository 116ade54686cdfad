package ingest

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"pourback/ingest/record"
	"pourback/ingest/store"
)

// TestComparisonThatFails: what it says depends on whether anything was kept,
// and never is that nothing was where something is.
func TestComparisonThatFails(t *testing.T) {
	st, err := store.Open(t.Context(), filepath.Join(t.TempDir(), "a.db"), store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	c := &call{store: st, seen: newSeen(false)}
	visit := &record.Visit{JobNo: "J-1"}
	c.seen.note(record.Visits, []store.Row{{Record: visit, Fields: visit.Fields()}})
	if err := c.compare(t.Context(), true); err != nil {
		t.Fatal(err)
	}
	st.Close()
	ended, stop := context.WithCancel(t.Context())
	stop()
	for _, ctx := range []context.Context{t.Context(), ended} {
		for _, kept := range []bool{true, false} {
			err := c.compare(ctx, kept)
			unwritten := new(UnwrittenError)
			if err == nil || errors.As(err, &unwritten) != kept || strings.Contains(err.Error(), "are taken in") != kept || errors.Is(err, context.Canceled) != (ctx == ended) {
				t.Errorf("kept %v, context %v: %v", kept, ctx.Err(), err)
			}
		}
	}
	if err := notCompared(t.Context(), fmt.Errorf("reading: %w", store.ErrLost), true); errors.Is(err, store.ErrLost) {
		t.Errorf("to be done again, though it is kept: %v", err)
	}
}

// TestRefusedInDoubt is not said to be left out.
func TestRefusedInDoubt(t *testing.T) {
	for err, want := range map[error]bool{fmt.Errorf("a.csv: %w", store.ErrDoubt): true, store.ErrLost: false} {
		r := Result{New: 3}
		if r.refuse(err); r.Doubtful() != want || r.New != 0 {
			t.Errorf("%v: %+v", err, r)
		}
	}
}
