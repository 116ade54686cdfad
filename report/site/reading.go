package site

import (
	"context"
	"time"

	"pourback/ingest/record"
	"pourback/ingest/store"
)

// reading is a history with the bids of the same moment.
type reading struct {
	version string
	begun   time.Time // what was written before that is in it
	asOf    record.Date
	h       *record.History
	bids    []store.Bid
	crews   map[string]string // the names of crews by what they are called, where names are left out
}

// readings are a company's records as they were read last, which bids, answers and
// stories share. They are read by one at a time.
type readings struct {
	lane lane
	last *reading
}

// readSince reads the records of a date, unless that was begun since a moment: then all
// that was written before it is in what is at hand, whatever was written meanwhile.
func (c *company) readSince(ctx context.Context, asOf record.Date, moment time.Time) (*reading, error) {
	leave, err := c.reads.lane.take(ctx, nil)
	if err != nil {
		return nil, err
	}
	defer leave()
	if r := c.reads.last; r != nil && r.asOf == asOf && r.begun.After(moment) {
		return r, nil
	}
	version, err := c.store.Version(ctx)
	if err != nil {
		return nil, err
	}
	return c.readNow(ctx, asOf, version)
}

func (c *company) readNow(ctx context.Context, asOf record.Date, version string) (*reading, error) {
	last := &c.reads.last
	if r := *last; r != nil && r.version == version && r.asOf == asOf {
		return r, nil
	}
	if r := *last; r != nil && r.asOf == asOf && store.SameRecords(r.version, version) {
		bids, err := c.shelf.Bids(ctx, c.store)
		if err != nil {
			return nil, err
		}
		*last = &reading{version, r.begun, asOf, r.h, bids, r.crews}
		return *last, nil
	}
	*last = nil // before more is read, for its memory
	begun := time.Now()
	h, bids, err := c.shelf.HistoryAndBids(ctx, c.store, asOf)
	if err != nil {
		return nil, err
	}
	r := &reading{version: version, begun: begun, asOf: asOf, h: h, bids: bids}
	if c.settings.NoNames {
		r.withoutNames()
	}
	*last = r
	return r, nil
}
