package store

import (
	"context"
	"encoding/json"
	"fmt"

	"github.com/jmoiron/sqlx"

	"pourback/ingest/record"
)

// bids reads what was kept as JSON, and holds each bid against the version that it
// revises and against the log.
func (c *checker) bids(ctx context.Context, tx *sqlx.Tx) error {
	log, err := readBidLog(ctx, tx)
	if err != nil {
		c.fault(Fault{Table: "bid_log", Wrong: fmt.Sprintf("cannot be read: %v", err)})
	}
	rows, err := tx.QueryxContext(ctx, "SELECT "+bidColumns+" FROM bids ORDER BY bid_id")
	if err != nil {
		return err
	}
	defer rows.Close()
	seen := map[int64]Bid{}
	for rows.Next() {
		var r bidRow
		var b Bid
		c.Bids++
		err := rows.StructScan(&r)
		for _, text := range []string{r.Spec, r.Result, r.Factors} {
			if err == nil && !json.Valid([]byte(text)) {
				err = fmt.Errorf("what it says is no JSON")
			}
		}
		if err == nil {
			b, err = r.bid()
		}
		if err == nil {
			err = b.follows(seen)
		}
		if err != nil {
			c.fault(Fault{Table: "bids", Record: fmt.Sprint(r.ID), Wrong: err.Error()})
		}
		b.Spec, b.Result, b.Factors = "", "", ""
		seen[r.ID] = b
	}
	c.bidLog(log, seen)
	return rows.Err()
}

// follows says what is wrong with a version beside those before it.
func (b Bid) follows(seen map[int64]Bid) error {
	if b.Revises == 0 {
		if b.Version != 1 || b.First != 0 {
			return fmt.Errorf("it revises no bid, and is version %d of bid %d", b.Version, b.Root())
		}
		return nil
	}
	old, there := seen[b.Revises]
	if !there || old.Root() != b.Root() || old.Version >= b.Version {
		return fmt.Errorf("it is version %d of bid %d and revises bid %d, which is no version before it", b.Version, b.Root(), b.Revises)
	}
	return nil
}

// bidLog holds what was said of bids against what they bear.
func (c *checker) bidLog(log []BidChange, bids map[int64]Bid) {
	type said struct{ fate, on, job string }
	last, days := map[int64]said{}, map[int64]record.Date{}
	for _, e := range log {
		b, there := bids[e.Bid]
		if !there {
			c.fault(Fault{Table: "bid_log", Record: fmt.Sprint(e.No), Wrong: fmt.Sprintf("it is about bid %d, which there is not", e.Bid)})
			continue
		}
		s, known := last[e.Bid]
		if !known {
			s = said{b.Fate, b.FateOn.String(), b.JobNo}
		}
		switch e.Did {
		case DidMark:
			s.fate, s.on = e.After, e.On.String()
			if e.After == "" {
				s.on = ""
			}
		case DidLink:
			s.job = e.After
		}
		last[e.Bid], days[e.Bid] = s, e.On
	}
	for id, s := range last {
		if b := bids[id]; s != (said{b.Fate, b.FateOn.String(), b.JobNo}) {
			c.fault(Fault{Table: "bids", Record: fmt.Sprint(id), Wrong: "its mark or its job is not what was last said of it, on " + days[id].String()})
		}
	}
}
