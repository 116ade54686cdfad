package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"

	"github.com/jmoiron/sqlx"

	"pourback/ingest/record"
)

// BidChange is one thing that was said of a kept bid. None is ever changed or taken
// out.
type BidChange struct {
	No     int64       `db:"log_no" json:"no"`
	Bid    int64       `db:"bid_id" json:"bid"`
	On     record.Date `db:"said_on" json:"on"`
	Did    string      `db:"did" json:"did"` // one of those below
	Before string      `db:"before_value" json:"before"`
	After  string      `db:"after_value" json:"after"`
}

// BidError says why nothing came of what was asked of a kept bid.
type BidError struct {
	What    BidFault
	Bid, By int64  // By is the version that stands in the way, or 0
	Fate    string // as Bid is marked
	text    string
}

func (e *BidError) Error() string { return e.text }

// BidFault is what stands in the way.
type BidFault int

// What may stand in the way.
const (
	NoSuchBid BidFault = iota
	BidReplaced
	BidMarked        // only an open bid is revised
	BidEarlierMarked // an earlier version of By, which cannot be brought back beside it
)

// What may be said of a kept bid.
const (
	DidMark   = "mark"   // Before and After are fates, "" for none
	DidLink   = "job"    // Before and After are job numbers, "" for none
	DidRevise = "revise" // After is the number of the bid that replaces it
)

// MarkBid says on a day what became of a bid: won, lost or void; "" takes the mark
// back. It says whether that is news: the same mark again changes nothing. A replaced
// bid takes no mark, and a void one none that its earlier version has taken.
func (s *Store) MarkBid(ctx context.Context, id int64, fate string, on record.Date) (was Bid, news bool, err error) {
	err = s.write(ctx, func(tx *Tx) error {
		f, err := tx.family(ctx, id)
		if err != nil {
			return err
		}
		if was, news = f.bid, f.bid.Fate != fate; !news {
			return nil
		}
		if err := f.mayMark(); err != nil {
			return err
		}
		day := nullable(on.String())
		day.Valid = fate != ""
		if err := tx.setBid(ctx, "fate = ?, fate_on = ?", nullable(fate), day, id); err != nil {
			return err
		}
		return tx.logBid(ctx, BidChange{Bid: id, On: on, Did: DidMark, Before: f.bid.Fate, After: fate})
	})
	return was, news, err
}

// LinkBid names on a day the job that came of a bid; "" takes the name away again.
// It says whether that is news.
func (s *Store) LinkBid(ctx context.Context, id int64, jobNo string, on record.Date) (news bool, err error) {
	err = s.write(ctx, func(tx *Tx) error {
		f, err := tx.family(ctx, id)
		if err != nil {
			return err
		}
		if news = f.bid.JobNo != jobNo; !news {
			return nil
		}
		if err := tx.setBid(ctx, "job_no = ?", nullable(jobNo), id); err != nil {
			return err
		}
		return tx.logBid(ctx, BidChange{Bid: id, On: on, Did: DidLink, Before: f.bid.JobNo, After: jobNo})
	})
	return news, err
}

// setBid sets columns of the bid whose number comes last.
func (tx *Tx) setBid(ctx context.Context, set string, values ...any) error {
	_, err := tx.sql.ExecContext(ctx, tx.store.sqlText("UPDATE bids SET "+set+" WHERE bid_id = ?"), values...)
	return err
}

// logBid writes down what was said, under the number after the last one that family
// saw. Were there no lock, whoever spoke meanwhile would have taken it, and all is
// read and decided again.
func (tx *Tx) logBid(ctx context.Context, c BidChange) error {
	if tx.did == "" {
		tx.did = fmt.Sprintf("bid %d", c.Bid)
	}
	insert := tx.store.sqlText("INSERT INTO bid_log (log_no, bid_id, said_on, did, before_value, after_value) VALUES (?, ?, ?, ?, ?, ?)")
	_, err := tx.sql.ExecContext(ctx, insert, tx.bidSaid+1, c.Bid, c.On, c.Did, c.Before, c.After)
	return err
}

// readBidLog is all that was said of kept bids, in the order in which it was.
func readBidLog(ctx context.Context, from sqlx.QueryerContext) ([]BidChange, error) {
	log := []BidChange{}
	return log, sqlx.SelectContext(ctx, from, &log, "SELECT log_no, bid_id, said_on, did, before_value, after_value FROM bid_log ORDER BY log_no")
}

// family is a bid with all versions of it, in their order.
type family struct {
	bid      Bid
	versions []Bid
}

// family reads a bid's, without what they say; before it the last number of the log.
func (tx *Tx) family(ctx context.Context, id int64) (f family, err error) {
	if err := tx.sql.GetContext(ctx, &tx.bidSaid, "SELECT COALESCE(MAX(log_no), 0) FROM bid_log"); err != nil {
		return f, err
	}
	var first int64
	err = tx.sql.GetContext(ctx, &first, tx.store.sqlText("SELECT COALESCE(first_bid, bid_id) FROM bids WHERE bid_id = ?"), id)
	if errors.Is(err, sql.ErrNoRows) {
		return f, noBid(ctx, tx.sql, id)
	}
	if err != nil {
		return f, err
	}
	var rows []bidRow
	query := "SELECT bid_id, made_on, '' AS spec, '' AS result, '' AS factors, " + aboutBid + " FROM bids WHERE bid_id = ? OR first_bid = ? ORDER BY version, bid_id"
	if err := tx.sql.SelectContext(ctx, &rows, tx.store.sqlText(query), first, first); err != nil {
		return f, err
	}
	f.versions, err = bidsOf(rows)
	for _, b := range f.versions {
		if b.ID == id {
			f.bid = b
		}
	}
	return f, err
}

// void is the mark of a bid that counts nowhere.
const void = "void"

// last is the highest version.
func (f family) last() int { return f.versions[len(f.versions)-1].Version }

// replacement is the latest version after a bid that is not void; 0 where it stands.
func (f family) replacement() (by int64) {
	for _, b := range f.versions {
		if b.Version > f.bid.Version && b.Fate != void {
			by = b.ID
		}
	}
	return by
}

func (f family) mayRevise() error {
	id := f.bid.ID
	switch by := f.replacement(); {
	case by != 0:
		return &BidError{BidReplaced, id, by, "", fmt.Sprintf("bid %d was replaced by bid %d: revise that one, `pourback bid --revise %d`, or start a new bid from this one, `pourback bid --copy %d`", id, by, by, id)}
	case f.bid.Fate != "":
		return &BidError{BidMarked, id, 0, f.bid.Fate, fmt.Sprintf("bid %d is marked %s, and only an open bid is revised: `pourback bids --open %d` takes the mark back, `pourback bid --copy %d` starts a new bid from it", id, f.bid.Fate, id, id)}
	}
	return nil
}

func (f family) mayMark() error {
	if by := f.replacement(); by != 0 {
		return &BidError{BidReplaced, f.bid.ID, by, "", fmt.Sprintf("bid %d was replaced by bid %d: mark that one", f.bid.ID, by)}
	}
	if f.bid.Fate != void {
		return nil
	}
	for _, b := range f.versions { // without this one they stood, and may have been marked since
		if b.Version < f.bid.Version && b.Fate != "" && b.Fate != void {
			return &BidError{BidEarlierMarked, b.ID, f.bid.ID, b.Fate, fmt.Sprintf("bid %d is an earlier version of bid %d and is marked %s: take that back first, `pourback bids --open %d`", b.ID, f.bid.ID, b.Fate, b.ID)}
		}
	}
	return nil
}

// MayRevise says why a bid cannot be revised, and what would be right; nil where it can.
func (s *Store) MayRevise(ctx context.Context, id int64) error {
	b, err := s.Bid(ctx, id)
	if err != nil {
		return err
	}
	all, err := s.Bids(ctx)
	if err != nil {
		return err
	}
	f := family{bid: b}
	for _, v := range all {
		if v.Root() == b.Root() {
			f.versions = append(f.versions, v)
		}
	}
	return f.mayRevise()
}
