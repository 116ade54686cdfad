package ingest_test

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"
	"sync/atomic"
	"testing"
	"time"

	"pourback/ingest"
	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/ingest/store/storetest"
)

// addJob takes one job in by one transaction, with a row of it in each table,
// and then keeps a bid.
func addJob(ctx context.Context, st *store.Store, n int) error {
	tx, err := st.Begin(ctx, "f", "00", today+"T12:00:00Z")
	if err != nil {
		return err
	}
	defer tx.Rollback()
	job, on := fmt.Sprintf("J-%04d", n), record.DateOf(2025, 6, 3)
	for _, r := range []record.Record{
		&record.Job{JobNo: job}, &record.Placement{JobNo: job, Placement: "A", PlacedOn: on, Use: "patio"}, &record.Load{JobNo: job, Placement: "A", TicketNo: "1"},
		&record.Delay{JobNo: job, Placement: "A", Seq: record.Some(int64(1)), Cause: "clog"}, &record.Labor{JobNo: job, Placement: "A", WorkedOn: on, Task: "place"},
		&record.Cost{JobNo: job, Item: "pump"}, &record.Visit{JobNo: job, Placement: "A", SeenOn: on},
	} {
		if _, err := tx.Add(ctx, r.Table(), nil, []store.Row{{Record: r, Number: 2}}); err != nil {
			return err
		}
	}
	if _, err := tx.Commit(ctx, store.Batch{Read: 7}); err != nil {
		return err
	}
	_, err = st.KeepBid(ctx, store.Bid{MadeOn: on, Spec: "{}", Result: "{}", Factors: "{}"})
	return err
}

// TestOneMoment reads all tables while another writes to all of them: an
// export, a history with its bids and a backup each hold as many rows in every
// table, and as many bids or one less.
func TestOneMoment(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		st := open(t, dsn)
		ctx, stop := context.WithCancel(t.Context())
		ended := make(chan error, 1)
		var read atomic.Int64 // moments that were read
		go func() {
			const ahead = 10 // more jobs make each moment take longer, and nothing else
			other, err := store.Open(ctx, dsn, store.Options{})
			for n := int64(0); err == nil; n++ {
				for n > ahead*(read.Load()+1) && ctx.Err() == nil {
					time.Sleep(time.Millisecond)
				}
				err = addJob(ctx, other, int(n))
			}
			if ctx.Err() != nil {
				err = nil
			}
			ended <- err
		}()
		check := func(what string, rows []int, bids int) {
			if slices.Min(rows) != slices.Max(rows) || bids > rows[0] || bids < rows[0]-1 {
				t.Errorf("%s of more than one moment: rows %v, bids %d", what, rows, bids)
			}
		}
		dir, last := t.TempDir(), 0
		for try := 0; try < moments(80) || last < 20; try++ {
			read.Store(int64(try))
			files, rows, err := ingest.Export(t.Context(), st, filepath.Join(dir, "out"), ingest.ExportOptions{})
			if err != nil {
				t.Fatal(err)
			}
			bids := 0
			if len(files) > len(record.Tables) {
				bids = rows[len(rows)-1]
			}
			check("an export", rows[:len(record.Tables)], bids)
			last = rows[0]
			h, kept, err := st.HistoryAndBids(t.Context(), day(today))
			if err != nil {
				t.Fatal(err)
			}
			check("a history", []int{h.Jobs.Len(), h.Placements.Len(), len(h.Costs)}, len(kept))
			if st.Engine() == "sqlite" && try%4 == 0 {
				name := filepath.Join(dir, fmt.Sprint(try, ".db"))
				if err := st.Backup(t.Context(), name, false); err != nil {
					t.Fatal(err)
				}
				h, kept, err := open(t, name).HistoryAndBids(t.Context(), day(today))
				if err != nil {
					t.Fatal(err)
				}
				check("a backup", []int{h.Jobs.Len(), h.Placements.Len(), len(h.Costs)}, len(kept))
			}
		}
		stop()
		if err := <-ended; err != nil {
			t.Error(err)
		}
	})
}
