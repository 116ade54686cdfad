package store

import (
	"cmp"
	"context"
	"database/sql"
	"errors"
	"fmt"
	"slices"

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
	FateOn  record.Date
	Version int   // 1 of a bid that revises none
	Revises int64 // the version before it; 0 where there is none
	First   int64 // the bid that it is a version of; 0 of the first itself

	Log []BidChange // what was said of it, in that order; only a list has it
}

// Root is the number of the bid that it is a version of, its own where it is the first.
func (b Bid) Root() int64 {
	if b.First != 0 {
		return b.First
	}
	return b.ID
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
	FateOn  sql.NullString `db:"fate_on"`
	Version int            `db:"version"`
	Revises sql.NullInt64  `db:"revises"`
	First   sql.NullInt64  `db:"first_bid"`
}

const (
	aboutBid   = "job_no, fate, fate_on, version, revises, first_bid"
	bidColumns = "bid_id, made_on, spec, result, factors, " + aboutBid
)

func (r bidRow) bid() (Bid, error) {
	b := Bid{ID: r.ID, MadeOn: r.MadeOn, JobNo: r.JobNo.String, Spec: r.Spec, Result: r.Result, Factors: r.Factors, Fate: r.Fate.String,
		Version: r.Version, Revises: r.Revises.Int64, First: r.First.Int64}
	if !r.FateOn.Valid {
		return b, nil
	}
	on, err := record.ParseDate(r.FateOn.String)
	if err != nil {
		return b, fmt.Errorf("bid %d: the day of its mark cannot be read: %w", r.ID, err)
	}
	b.FateOn = on
	return b, nil
}

// nullable is a text as the database holds it, where "" means that there is
// none.
func nullable(s string) sql.NullString { return sql.NullString{String: s, Valid: s != ""} }

// nullableNumber is the same of a number, where 0 means that there is none.
func nullableNumber(n int64) sql.NullInt64 { return sql.NullInt64{Int64: n, Valid: n != 0} }

// KeepBid keeps a bid under the next number, which it returns. One that revises
// another is kept as the next version of the same bid; where that other is replaced,
// or somebody has said what became of it, it is refused.
func (s *Store) KeepBid(ctx context.Context, b Bid) (id int64, err error) {
	err = s.write(ctx, func(tx *Tx) error {
		b.Version, b.First = 1, 0
		if b.Revises != 0 {
			old, err := tx.family(ctx, b.Revises)
			if err != nil {
				return err
			}
			if err := old.mayRevise(); err != nil {
				return err
			}
			b.Version, b.First = old.last()+1, old.bid.Root()
		}
		if err := tx.sql.GetContext(ctx, &id, "SELECT COALESCE(MAX(bid_id), 0) + 1 FROM bids"); err != nil {
			return err
		}
		insert := s.sqlText("INSERT INTO bids (" + bidColumns + ") VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)")
		tx.did = fmt.Sprintf("bid %d", id)
		_, err := tx.sql.ExecContext(ctx, insert, id, b.MadeOn, b.Spec, b.Result, b.Factors, nullable(b.JobNo), nullable(b.Fate), nullable(b.FateOn.String()),
			b.Version, nullableNumber(b.Revises), nullableNumber(b.First))
		if err != nil || b.Revises == 0 {
			return err
		}
		return tx.logBid(ctx, BidChange{Bid: b.Revises, On: b.MadeOn, Did: DidRevise, After: fmt.Sprint(id)})
	})
	if err != nil {
		return 0, fmt.Errorf("keeping a bid: %w", err)
	}
	return id, nil
}

// Bids lists the kept bids, oldest first, without the factors they stood on,
// which are long: [Store.Bid] has them. What bids say is taken from a list that was read
// before, if there is one, as far as it goes: it stays as it was kept.
func (s *Store) Bids(ctx context.Context, before ...Bid) (bids []Bid, err error) {
	err = s.reading(ctx, func(tx *sqlx.Tx) error {
		bids, err = readBids(ctx, tx, before)
		return err
	})
	return bids, s.explain(ctx, err)
}

// readBids reads the bids that are not in the list before, or of which something was said
// since: rows are long, and what stands behind the long texts of one is found by reading
// through them.
func readBids(ctx context.Context, from rebinder, before []Bid) ([]Bid, error) {
	log, err := readBidLog(ctx, from)
	if err != nil {
		return nil, err
	}
	last, said := lastIn(before)
	anew := []int64{0} // no bid's: a list may not be empty
	for _, c := range log {
		if c.No > said && c.Bid <= last {
			anew = append(anew, c.Bid)
		}
	}
	if len(anew) > mostAnew {
		return readBids(ctx, from, nil)
	}
	asked, args, err := sqlx.In("SELECT bid_id, made_on, spec, result, '' AS factors, "+aboutBid+" FROM bids WHERE bid_id > ? OR bid_id IN (?) ORDER BY bid_id", last, anew)
	if err != nil {
		return nil, err
	}
	var rows []bidRow
	if err := sqlx.SelectContext(ctx, from, &rows, from.Rebind(asked), args...); err != nil {
		return nil, err
	}
	bids, err := bidsOf(rows)
	if err != nil {
		return nil, err
	}
	if len(before) > 0 {
		var there int
		if err := sqlx.GetContext(ctx, from, &there, from.Rebind("SELECT COUNT(*) FROM bids WHERE bid_id <= ?"), last); err != nil {
			return nil, err
		}
		if there != len(before) { // it is another database's list
			return readBids(ctx, from, nil)
		}
		bids = withBids(before, bids)
	}
	for i := range bids {
		bids[i].Log = nil
	}
	for _, c := range log {
		if b := bidIn(bids, c.Bid); b != nil {
			b.Log = append(b.Log, c)
		}
	}
	return bids, nil
}

// mostAnew is of how many bids something may have been said, for the others not to be read.
const mostAnew = 500

// lastIn are the highest number of some bids and that of what was said of them.
func lastIn(bids []Bid) (bid, said int64) {
	for _, b := range bids {
		bid = max(bid, b.ID)
		for _, c := range b.Log {
			said = max(said, c.No)
		}
	}
	return bid, said
}

// withBids is a list by its numbers with others in their places, what is new behind it.
func withBids(before, others []Bid) []Bid {
	all := slices.Clone(before)
	for _, b := range others {
		if was := bidIn(all, b.ID); was != nil {
			*was = b
		} else {
			all = append(all, b)
		}
	}
	return all
}

// bidIn is the bid of a number in a list by their numbers, nil where there is none.
func bidIn(bids []Bid, id int64) *Bid {
	i, there := slices.BinarySearchFunc(bids, id, func(b Bid, id int64) int { return cmp.Compare(b.ID, id) })
	if !there {
		return nil
	}
	return &bids[i]
}

// BidsOf lists the kept bids of a job, oldest first, without what was said of them and
// without the factors they stood on.
func (s *Store) BidsOf(ctx context.Context, jobNo string) ([]Bid, error) {
	var rows []bidRow
	err := sqlx.SelectContext(ctx, s.read, &rows, s.sqlText("SELECT bid_id, made_on, spec, result, '' AS factors, "+aboutBid+" FROM bids WHERE job_no = ? ORDER BY bid_id"), jobNo)
	if err != nil {
		return nil, s.explain(ctx, err)
	}
	return bidsOf(rows)
}

func bidsOf(rows []bidRow) ([]Bid, error) {
	bids := make([]Bid, len(rows))
	for i, r := range rows {
		var err error
		if bids[i], err = r.bid(); err != nil {
			return nil, err
		}
	}
	return bids, nil
}

// Bid finds a kept bid, without what was said of it.
func (s *Store) Bid(ctx context.Context, id int64) (Bid, error) {
	b, err := readBid(ctx, s.read, id)
	if errors.Is(err, sql.ErrNoRows) {
		return Bid{}, noBid(ctx, s.read, id)
	}
	return b, s.explain(ctx, err)
}

func readBid(ctx context.Context, from rebinder, id int64) (Bid, error) {
	var r bidRow
	if err := sqlx.GetContext(ctx, from, &r, from.Rebind("SELECT "+bidColumns+" FROM bids WHERE bid_id = ?"), id); err != nil {
		return Bid{}, err
	}
	return r.bid()
}

// rebinder is a database or a transaction of it.
type rebinder interface {
	sqlx.QueryerContext
	Rebind(query string) string
}

// noBid says that there is no such bid, and which there are.
func noBid(ctx context.Context, from sqlx.QueryerContext, id int64) error {
	var last sql.NullInt64
	if err := sqlx.GetContext(ctx, from, &last, "SELECT MAX(bid_id) FROM bids"); err != nil {
		return err
	}
	if !last.Valid {
		return &BidError{NoSuchBid, id, 0, "", fmt.Sprintf("there is no bid %d: none has been kept yet", id)}
	}
	return &BidError{NoSuchBid, id, 0, "", fmt.Sprintf("there is no bid %d; the latest is %d", id, last.Int64)}
}
