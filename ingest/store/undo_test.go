package store_test

import (
	"errors"
	"strings"
	"testing"

	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/ingest/store/storetest"
)

// TestUndo goes through a small history, solved by hand.
func TestUndo(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		s := open(t, dsn)
		undo := func(id int64) (store.Undone, error) { return s.Undo(t.Context(), id, now) }
		must := func(id int64) store.Undone {
			t.Helper()
			done, err := undo(id)
			if err != nil {
				t.Fatal(err)
			}
			return done
		}
		refused := func(id int64, words string) {
			t.Helper()
			if _, err := undo(id); err == nil || !strings.Contains(err.Error(), words) {
				t.Errorf("undo of %d: %v, want %q", id, err, words)
			}
		}
		refused(1, "there is no batch 1; no batch stands")
		file1 := numbered(cost("J1", "pump", "h"), cost("J1", "base", "yd"))
		take(t, s, record.Costs, nil, file1)
		take(t, s, record.Costs, nil, numbered(cost("J1", "pump", "day"), cost("J2", "pump", "h"))) // 2: changes a row of 1
		take(t, s, record.Costs, nil, numbered(cost("J2", "pump", "h"), cost("J3", "pump", "h")))   // 3: has a row just as 2 left it
		take(t, s, record.Costs, nil, numbered(cost("J4", "pump", "h")))                            // 4: stands alone
		refused(9, "there is no batch 9; those that can be are 4, 3, 2, 1")
		refused(2, "batch 2 cannot be taken back while batch 3 stands on it; take back batch 3 first")
		refused(1, "take back batches 3, 2 first, in this order")
		var stands *store.StandsOnError
		if _, err := undo(1); !errors.As(err, &stands) || stands.Batch != 1 || len(stands.First) != 2 {
			t.Errorf("undo of 1: %#v", err)
		}

		done := must(3)
		equal(t, "removed by 3", [2]int{done.Removed, done.Restored}, [2]int{1, 0})
		equal(t, "undone", done.Batch.UndoneAt, now)
		refused(3, "batch 3 was taken back already, at 2025-06-03T07:15:00Z; those that can be are 4, 2, 1")
		done = must(2)
		equal(t, "undone by 2", [2]int{done.Removed, done.Restored}, [2]int{1, 1})
		equal(t, "rows", dump(t, s, record.Costs), []string{"J1|base|||||yd|||", "J1|pump|||||h|||", "J4|pump|||||h|||"})
		sources, err := s.Sources(t.Context(), []record.Record{cost("J1", "pump", ""), cost("J4", "pump", ""), cost("J9", "pump", "")})
		equal(t, "sources", sources, []store.Source{{Batch: 1, File: "file.csv", Row: 2}, {Batch: 4, File: "file.csv", Row: 2}, {}})
		equal(t, "error", err, nil)

		changes, err := s.Changes(t.Context(), 2)
		equal(t, "error", err, nil)
		equal(t, "the log of 2", changes, []store.Change{
			{Batch: 2, No: 1, Table: "costs", Key: []string{"J1", "pump"}, Did: "changed", Row: 2,
				Before: map[string]string{"unit": "h"}, After: map[string]string{"unit": "day"}, BeforeBatch: 1, BeforeRow: 2},
			{Batch: 2, No: 2, Table: "costs", Key: []string{"J2", "pump"}, Did: "removed", Row: 3,
				Before: map[string]string{"job_no": "J2", "item": "pump", "unit": "h"}, After: map[string]string{}, BeforeBatch: 2, BeforeRow: 3},
		})
		must(1)
		b, out := take(t, s, record.Costs, nil, file1)
		equal(t, "handed in again", kinds(out), "new new")
		equal(t, "its batch", b.ID, int64(5))
		equal(t, "digests", s.CheckDigests(t.Context()), nil)
	})
}

// TestUndoOfManyRows takes back more rows than are taken back together.
func TestUndoOfManyRows(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		s := open(t, dsn)
		file := func(from, to int, cause string) []store.Row {
			var records []record.Record
			for i := from; i < to; i++ {
				records = append(records, &record.Delay{JobNo: "J", Seq: record.Some(int64(i)), Cause: cause})
			}
			return numbered(records...)
		}
		take(t, s, record.Delays, nil, file(0, 1500, "clog"))
		before := dump(t, s, record.Delays)
		take(t, s, record.Delays, nil, file(100, 2600, "plant"))
		done, err := s.Undo(t.Context(), 2, now)
		equal(t, "error", err, nil)
		equal(t, "undone", [2]int{done.Removed, done.Restored}, [2]int{1100, 1400})
		equal(t, "rows", dump(t, s, record.Delays), before)
		equal(t, "digests", s.CheckDigests(t.Context()), nil)
		changes, err := s.Changes(t.Context(), 2)
		equal(t, "error", err, nil)
		equal(t, "entries", len(changes), 2500)
	})
}
