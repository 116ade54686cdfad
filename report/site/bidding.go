package site

import (
	"context"
	"sync"

	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/report/desk"
)

// bidding is what bids of a company stand on, gathered once for each version of its
// records: somebody who types asks for a bid after each change.
type bidding struct {
	mu      sync.Mutex
	version string
	asOf    record.Date
	known   *desk.Known
}

// bidding is what a bid stands on now.
func (c *company) bidding(ctx context.Context, asOf record.Date) (*desk.Known, error) {
	version, err := c.store.Version(ctx)
	if err != nil {
		return nil, err
	}
	b := &c.bids
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.known != nil && b.version == version && b.asOf == asOf {
		return b.known, nil
	}
	all, err := c.store.Bids(ctx)
	if err != nil {
		return nil, err
	}
	kept, err := desk.KeptBy(asOf, all, c.settings.NoNames)
	if err != nil {
		return nil, err
	}
	var known *desk.Known
	if b.known != nil && b.asOf == asOf && store.SameRecords(b.version, version) {
		known, err = b.known.With(ctx, kept)
	} else {
		var h *record.History
		if h, err = c.namedHistory(ctx, asOf, version); err == nil {
			known, err = desk.Know(ctx, h, c.settings.Analysis, kept, c.store.History)
		}
	}
	if err != nil {
		return nil, err
	}
	b.version, b.asOf, b.known = version, asOf, known
	return known, nil
}

// namedHistory is the history that bids stand on: crews by their names, whoever may
// read of them.
func (c *company) namedHistory(ctx context.Context, asOf record.Date, version string) (*record.History, error) {
	select {
	case c.working <- struct{}{}:
	case <-ctx.Done():
		return nil, ctx.Err()
	}
	defer func() { <-c.working }()
	if c.settings.NoNames {
		return c.store.History(ctx, asOf)
	}
	r, err := c.readAsOf(ctx, asOf, version)
	if err != nil {
		return nil, err
	}
	return r.h, nil
}

// keptBids are all bids of a company with what became of them, as a page about bids
// has them.
func (a *Ask) keptBids() (all []store.Bid, known *desk.Known, err error) {
	if known, err = a.Company.bidding(a.Context(), a.Choice.AsOf); err != nil {
		return nil, nil, err
	}
	all, err = a.Store().Bids(a.Context())
	return all, known, err
}
