package store

import (
	"context"

	"github.com/jmoiron/sqlx"

	"pourback/ingest/record"
)

// Snapshot is the whole database as it was at one moment, whatever is taken in
// or taken back meanwhile. It is for one goroutine.
type Snapshot struct {
	tx     *sqlx.Tx
	engine *engine
	handed bool // something has been read
}

// Snapshot runs work on one state of the database. Where the connection is lost
// before work has read anything, it is done again.
func (s *Store) Snapshot(ctx context.Context, work func(*Snapshot) error) error {
	var final error // of work that cannot be done again
	err := s.retry(ctx, func() error {
		return s.reading(ctx, func(tx *sqlx.Tx) error {
			now := &Snapshot{tx: tx, engine: s.engine}
			err := work(now)
			if now.handed {
				final = err
				return nil
			}
			return err
		})
	})
	if err != nil {
		return err
	}
	return s.explain(ctx, final)
}

// Records hands over the rows of a table in the order of their keys, each in a
// record of its own. It ends at the first error that yield returns, with it.
func (now *Snapshot) Records(ctx context.Context, t *record.Table, yield func(record.Record) error) error {
	return now.RecordsWithUnused(ctx, t, func(r record.Record, _ map[string]string) error { return yield(r) })
}

// Batches is [Store.Batches] of the snapshot.
func (now *Snapshot) Batches(ctx context.Context) ([]Batch, error) {
	now.handed = true
	return readBatches(ctx, now.tx)
}

// Bids is [Store.Bids] of the snapshot.
func (now *Snapshot) Bids(ctx context.Context) ([]Bid, error) {
	now.handed = true
	return readBids(ctx, now.tx, nil)
}

// Bid is [Store.Bid] of the snapshot.
func (now *Snapshot) Bid(ctx context.Context, id int64) (Bid, error) {
	now.handed = true
	return readBid(ctx, now.tx, id)
}
