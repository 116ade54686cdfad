package store

import (
	"context"

	"github.com/jmoiron/sqlx"

	"pourback/ingest/record"
)

// History reads everything that is known as of a date.
func (s *Store) History(ctx context.Context, asOf record.Date) (*record.History, error) {
	return s.history(ctx, asOf, func(*sqlx.Tx) error { return nil })
}

// HistoryAndBids is [Store.History] and [Store.Bids] of the same moment.
func (s *Store) HistoryAndBids(ctx context.Context, asOf record.Date) (h *record.History, bids []Bid, err error) {
	h, err = s.history(ctx, asOf, func(tx *sqlx.Tx) (err error) {
		bids, err = readBids(ctx, tx)
		return err
	})
	return h, bids, err
}

// reads is what else is to be read of the state of the database of which the
// tables are.
type reads func(tx *sqlx.Tx) error

func (s *Store) history(ctx context.Context, asOf record.Date, also reads) (*record.History, error) {
	var set record.Set
	err := s.retry(ctx, func() error {
		set = record.Set{}
		return s.engine.load(ctx, s, &set, also)
	})
	if err != nil {
		return nil, s.explain(ctx, err)
	}
	return record.NewHistory(asOf, set), nil
}

// loadPlain reads all tables, each in the order of its keys, by what every
// engine has.
func loadPlain(ctx context.Context, s *Store, set *record.Set, also reads) error {
	return s.reading(ctx, func(tx *sqlx.Tx) error {
		r := &reader{ctx: ctx, tx: tx}
		readAll(r, record.Jobs, &set.Jobs)
		readAll(r, record.Placements, &set.Placements)
		readAll(r, record.Loads, &set.Loads)
		readAll(r, record.Delays, &set.Delays)
		readAll(r, record.Labors, &set.Labor)
		readAll(r, record.Costs, &set.Costs)
		readAll(r, record.Visits, &set.Visits)
		if r.err != nil {
			return r.err
		}
		return also(tx)
	})
}

// reader reads tables one after the other until one fails.
type reader struct {
	ctx context.Context
	tx  *sqlx.Tx
	err error
}

func readAll[T any](r *reader, t *record.Table, into *[]T) {
	if r.err != nil {
		return
	}
	rows, err := r.tx.QueryxContext(r.ctx, inOrder(t))
	if err != nil {
		r.err = err
		return
	}
	defer rows.Close()
	for rows.Next() {
		*into = append(*into, *new(T))
		last := any(&(*into)[len(*into)-1]).(record.Record)
		if r.err = rows.Scan(last.Fields()...); r.err != nil {
			return
		}
	}
	r.err = rows.Err()
}
