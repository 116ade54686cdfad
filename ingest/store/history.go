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
func (s *Store) HistoryAndBids(ctx context.Context, asOf record.Date, before ...Bid) (h *record.History, bids []Bid, err error) {
	h, err = s.history(ctx, asOf, func(tx *sqlx.Tx) (err error) {
		bids, err = readBids(ctx, tx, before)
		return err
	})
	return h, bids, err
}

// reads is what else is to be read of the state of the database of which the
// tables are.
type reads func(tx *sqlx.Tx) error

func (s *Store) history(ctx context.Context, asOf record.Date, also reads) (*record.History, error) {
	var all record.Records
	err := s.retry(ctx, func() error {
		all = record.Records{}
		return s.engine.load(ctx, s, &all, also)
	})
	if err != nil {
		return nil, s.explain(ctx, err)
	}
	return record.HistoryOf(asOf, all), nil
}

// loadPlain reads all tables, each in the order of its keys, by what every
// engine has.
func loadPlain(ctx context.Context, s *Store, all *record.Records, also reads) error {
	return s.reading(ctx, func(tx *sqlx.Tx) error {
		r := &reader{ctx: ctx, tx: tx}
		addAll(r, record.Jobs, all.Jobs.Columns())
		addAll(r, record.Placements, all.Placements.Columns())
		readAll(r, record.Loads, &all.Loads)
		readAll(r, record.Delays, &all.Delays)
		readAll(r, record.Labors, &all.Labor)
		readAll(r, record.Costs, &all.Costs)
		readAll(r, record.Visits, &all.Visits)
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

// each reads a table in the order of its keys, each row into what place gives.
func (r *reader) each(t *record.Table, place func() record.Record, done func()) {
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
		if r.err = rows.Scan(place().Fields()...); r.err != nil {
			return
		}
		done()
	}
	r.err = rows.Err()
}

func readAll[T any](r *reader, t *record.Table, into *[]T) {
	r.each(t, func() record.Record {
		*into = append(*into, *new(T))
		return any(&(*into)[len(*into)-1]).(record.Record)
	}, func() {})
}

// addAll reads a table that is kept by columns.
func addAll(r *reader, t *record.Table, into record.Columns) {
	row := t.New()
	r.each(t, func() record.Record { return row }, func() { into.Add(row) })
}
