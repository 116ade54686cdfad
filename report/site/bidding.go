package site

import (
	"context"
	"sync"
	"sync/atomic"
	"time"

	"pourback/analysis/bid"
	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/report/desk"
)

// bidding is what bids of a company stand on, gathered once for each version of its
// records: somebody who types asks for a bid after each change.
type bidding struct {
	gathering sync.Mutex // held while records are gathered
	taking    sync.Mutex // and while bids are
	renewing  atomic.Bool
	making    lane // of the bid of a form: it takes a processor for a while, and pages are to have one
	mu        sync.Mutex
	is        *standing
}

// standing is what bids stood on in one moment. The bids are always those kept now;
// where somebody writes all the time the records may be of a moment before, as an
// answer's are.
type standing struct {
	records string // the version of the records
	version string // and of the bids
	asOf    record.Date
	bids    []store.Bid
	known   *desk.Known

	begun  time.Time // what was written before that is in the records
	behind bool      // they were out of date when they had been gathered
	old    time.Time // when they were first seen to be; zero while they are not
}

// bidsRest is how old the records that bids stand on are to be before newer ones are
// gathered, where somebody writes all the time: that takes its turn among answers, and is
// done within mostAge.
const bidsRest = 5 * time.Second

// make makes the bid of a form, one at a time.
func (b *bidding) make(ctx context.Context, known *desk.Known, of bid.Spec) (*bid.Bid, error) {
	leave, err := b.making.take(ctx, nil)
	if err != nil {
		return nil, err
	}
	defer leave()
	return known.Bid(of)
}

// tried are other ways to do a bid's job, likewise.
func (b *bidding) tried(ctx context.Context, known *desk.Known, made *bid.Bid) []bid.Tried {
	leave, err := b.making.take(ctx, nil)
	if err != nil { // who asked has gone
		return nil
	}
	defer leave()
	return known.Ground.Try(made)
}

// bidding is what a bid stands on now, with all bids. Where somebody writes all the
// time its records are of some moments before even for who writes: they then keep the
// bid that was shown to them.
func (c *company) bidding(ctx context.Context, asOf record.Date) ([]store.Bid, *desk.Known, error) {
	now := time.Now()
	version, err := c.store.Version(ctx)
	if err != nil {
		return nil, nil, err
	}
	is, fits, stale := c.bids.at(asOf, version, now, false)
	if stale {
		go c.renew(asOf)
	}
	if !fits || is.version != version {
		if is, err = c.gather(ctx, asOf, now, false); err != nil {
			return nil, nil, err
		}
	}
	return is.bids, is.known, nil
}

// at is what is at hand for a version, if its records do; stale says that newer ones
// are to be gathered meanwhile. Of old records none are where newer ones are wanted.
func (b *bidding) at(asOf record.Date, version string, now time.Time, newer bool) (is *standing, fits, stale bool) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if is = b.is; is == nil || is.asOf != asOf {
		return nil, false, false
	}
	if store.SameRecords(is.records, version) {
		return is, true, false
	}
	if is.old.IsZero() {
		is.old = now
	}
	if !is.begun.Before(now) { // gathered since this was asked for
		return is, true, false
	}
	if newer || !mayShow(is.behind, is.begun, is.old, time.Time{}) {
		return nil, false, false
	}
	return is, true, now.Sub(is.old) > bidsRest
}

// gather brings what bids stand on up to date: the records, unless those at hand do,
// and the bids. Who needs no newer records does not wait for them.
func (c *company) gather(ctx context.Context, asOf record.Date, now time.Time, newer bool) (*standing, error) {
	b := &c.bids
	version, err := c.store.Version(ctx)
	if err != nil {
		return nil, err
	}
	turn := &b.taking
	if _, fits, _ := b.at(asOf, version, now, newer); !fits {
		turn = &b.gathering
	}
	turn.Lock()
	defer turn.Unlock()
	begun := time.Now()
	if version, err = c.store.Version(ctx); err != nil {
		return nil, err
	}
	was, fits, _ := b.at(asOf, version, now, newer)
	if fits && was.version == version { // meanwhile somebody else has
		return was, nil
	}
	is := &standing{version: version, asOf: asOf}
	if is.bids, err = c.shelf.Bids(ctx, c.store); err != nil {
		return nil, err
	}
	kept, err := c.shelf.KeptBy(asOf, is.bids, c.settings.NoNames)
	if err != nil {
		return nil, err
	}
	if !fits {
		err = c.know(ctx, is, kept, begun, newer)
	} else if is.known, err = was.known.With(ctx, kept); err == nil {
		b.mu.Lock()
		defer b.mu.Unlock()
		is.records, is.begun, is.behind, is.old = was.records, was.begun, was.behind, was.old
		if b.is == was {
			b.is = is
		}
	}
	return is, err
}

// renew gathers newer records for those who come later, unless that is under way.
func (c *company) renew(asOf record.Date) {
	if !c.bids.renewing.CompareAndSwap(false, true) {
		return
	}
	defer c.bids.renewing.Store(false)
	ctx, stop := context.WithTimeout(context.Background(), time.Minute)
	defer stop()
	defer func() { recover() }() // what goes wrong is told to whoever has to wait for it
	if leave, err := c.works.take(ctx, nil); err == nil {
		defer leave()
		c.gather(ctx, asOf, time.Now(), true)
	}
}

// know gathers what bids stand on from the records.
func (c *company) know(ctx context.Context, is *standing, kept []bid.Kept, begun time.Time, ready bool) error {
	h, version, err := c.namedHistory(ctx, is.asOf, begun)
	if err != nil {
		return err
	}
	if is.known, err = desk.Know(ctx, h, c.settings.Analysis, kept, c.store.History); err != nil {
		return err
	}
	if ready { // nobody waits for it
		if err := is.known.Ready(); err != nil {
			return err
		}
	}
	after, err := c.store.Version(ctx)
	if err != nil {
		return err
	}
	is.records, is.begun = version, begun
	if is.behind = !store.SameRecords(after, version); is.behind {
		is.old = begun
	}
	c.bids.mu.Lock()
	defer c.bids.mu.Unlock()
	c.bids.is = is
	return nil
}

// namedHistory is the history that bids stand on, as it is since a moment at least, with
// its version: crews by their names, whoever may read of them.
func (c *company) namedHistory(ctx context.Context, asOf record.Date, begun time.Time) (h *record.History, version string, err error) {
	if !c.settings.NoNames {
		r, err := c.readSince(ctx, asOf, begun)
		if err != nil {
			return nil, "", err
		}
		return r.h, r.version, nil
	}
	leave, err := c.reads.lane.take(ctx, nil)
	if err != nil {
		return nil, "", err
	}
	defer leave()
	if version, err = c.store.Version(ctx); err == nil {
		h, err = c.store.History(ctx, asOf)
	}
	return h, version, err
}

// keptBids are all bids of a company with what became of them, as a page about bids
// has them.
func (a *Ask) keptBids() (all []store.Bid, known *desk.Known, err error) {
	return a.Company.bidding(a.Context(), a.Choice.AsOf)
}
