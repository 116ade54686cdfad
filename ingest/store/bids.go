package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"

	"github.com/jmoiron/sqlx"

	"pourback/ingest/record"
)

// Bid is a bid that was kept, so that it can be held against what its job
// turned out to be. What it says is JSON that the store does not read.
type Bid struct {
	ID      int64
	MadeOn  record.Date
	JobNo   string // the job that came of it; "" while none is known
	Spec    string // what was asked
	Result  string // what was answered
	Factors string // what the answer stood on
	Fate    string // what became of it: won, lost or void; "" while nobody has said
}

// bidRow is a bid as the database holds it.
type bidRow struct {
	ID      int64          `db:"bid_id"`
	MadeOn  record.Date    `db:"made_on"`
	Spec    string         `db:"spec"`
	Result  string         `db:"result"`
	Factors string         `db:"factors"`
	JobNo   sql.NullString `db:"job_no"`
	Fate    sql.NullString `db:"fate"`
}

const bidColumns = "bid_id, made_on, spec, result, factors, job_no, fate"

func (r bidRow) bid() Bid {
	return Bid{ID: r.ID, MadeOn: r.MadeOn, JobNo: r.JobNo.String, Spec: r.Spec, Result: r.Result, Factors: r.Factors, Fate: r.Fate.String}
}

// nullable is a text as the database holds it, where "" means that there is
// none.
func nullable(s string) sql.NullString { return sql.NullString{String: s, Valid: s != ""} }

// KeepBid keeps a bid under the next number, which it returns.
func (s *Store) KeepBid(ctx context.Context, b Bid) (id int64, err error) {
	err = s.write(ctx, func(tx *Tx) error {
		if err := tx.sql.GetContext(ctx, &id, "SELECT COALESCE(MAX(bid_id), 0) + 1 FROM bids"); err != nil {
			return err
		}
		insert := s.sqlText("INSERT INTO bids (" + bidColumns + ") VALUES (?, ?, ?, ?, ?, ?, ?)")
		tx.did = fmt.Sprintf("bid %d", id)
		_, err := tx.sql.ExecContext(ctx, insert, id, b.MadeOn, b.Spec, b.Result, b.Factors, nullable(b.JobNo), nullable(b.Fate))
		return err
	})
	if err != nil {
		return 0, fmt.Errorf("keeping a bid: %w", err)
	}
	return id, nil
}

// Bids lists the kept bids, oldest first, without the factors they stood on,
// which are long: [Store.Bid] has them.
func (s *Store) Bids(ctx context.Context) ([]Bid, error) {
	bids, err := readBids(ctx, s.read)
	return bids, s.explain(ctx, err)
}

func readBids(ctx context.Context, from sqlx.QueryerContext) ([]Bid, error) {
	var rows []bidRow
	if err := sqlx.SelectContext(ctx, from, &rows, "SELECT bid_id, made_on, spec, result, '' AS factors, job_no, fate FROM bids ORDER BY bid_id"); err != nil {
		return nil, err
	}
	bids := make([]Bid, len(rows))
	for i, r := range rows {
		bids[i] = r.bid()
	}
	return bids, nil
}

// Bid finds a kept bid.
func (s *Store) Bid(ctx context.Context, id int64) (Bid, error) {
	b, err := readBid(ctx, s.read, id)
	if errors.Is(err, sql.ErrNoRows) {
		return Bid{}, s.noBid(ctx, id)
	}
	return b, s.explain(ctx, err)
}

func readBid(ctx context.Context, from rebinder, id int64) (Bid, error) {
	var r bidRow
	err := sqlx.GetContext(ctx, from, &r, from.Rebind("SELECT "+bidColumns+" FROM bids WHERE bid_id = ?"), id)
	return r.bid(), err
}

// rebinder is a database or a transaction of it.
type rebinder interface {
	sqlx.QueryerContext
	Rebind(query string) string
}

// LinkBid names the job that came of a bid; "" takes the name away again.
func (s *Store) LinkBid(ctx context.Context, id int64, jobNo string) error {
	return s.setBid(ctx, id, "job_no", jobNo)
}

// MarkBid says what became of a bid: won, lost or void; "" takes the mark away again.
func (s *Store) MarkBid(ctx context.Context, id int64, fate string) error {
	return s.setBid(ctx, id, "fate", fate)
}

// setBid sets one of a bid's own columns.
func (s *Store) setBid(ctx context.Context, id int64, column, value string) error {
	found := false
	err := s.write(ctx, func(tx *Tx) error {
		done, err := tx.sql.ExecContext(ctx, s.sqlText("UPDATE bids SET "+column+" = ? WHERE bid_id = ?"), nullable(value), id)
		if err != nil {
			return err
		}
		n, err := done.RowsAffected()
		found = n > 0
		return err
	})
	if err == nil && !found {
		err = s.noBid(ctx, id)
	}
	return err
}

// noBid says that there is no such bid, and which there are.
func (s *Store) noBid(ctx context.Context, id int64) error {
	var last sql.NullInt64
	if err := sqlx.GetContext(ctx, s.read, &last, "SELECT MAX(bid_id) FROM bids"); err != nil {
		return s.explain(ctx, err)
	}
	if !last.Valid {
		return fmt.Errorf("there is no bid %d: none has been kept yet", id)
	}
	return fmt.Errorf("there is no bid %d; the latest is %d", id, last.Int64)
}
