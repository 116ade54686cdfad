package desk

import (
	"context"
	"sync"

	"pourback/analysis/bid"
	"pourback/ingest/record"
	"pourback/ingest/store"
)

// Shelf keeps the bids of a store as they were read last: what a bid says stays as it
// was kept, and is read once. The zero value is empty.
type Shelf struct {
	mu    sync.Mutex
	bids  []store.Bid // without what they say
	reads map[int64]*bid.Bid
}

// Bids are [store.Store.Bids] as they stand now, without what they say.
func (s *Shelf) Bids(ctx context.Context, st *store.Store) ([]store.Bid, error) {
	all, err := st.Bids(ctx, s.last()...)
	return s.put(all, err)
}

// HistoryAndBids are [store.Store.HistoryAndBids], the bids without what they say.
func (s *Shelf) HistoryAndBids(ctx context.Context, st *store.Store, asOf record.Date) (*record.History, []store.Bid, error) {
	h, all, err := st.HistoryAndBids(ctx, asOf, s.last()...)
	all, err = s.put(all, err)
	return h, all, err
}

func (s *Shelf) last() []store.Bid {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.bids
}

// put reads what is new in a list and keeps that, unless a longer one has been put
// meanwhile.
func (s *Shelf) put(all []store.Bid, err error) ([]store.Bid, error) {
	if err != nil {
		return nil, err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.reads == nil {
		s.reads = map[int64]*bid.Bid{}
	}
	for i := range all {
		b := &all[i]
		if s.reads[b.ID] == nil {
			is, err := BidOf(*b)
			if err != nil { // whoever needs it is told
				continue
			}
			s.reads[b.ID] = is
		}
		b.Spec, b.Result = "", ""
	}
	if len(all) >= len(s.bids) {
		s.bids = all
	}
	return all, nil
}

// KeptBy is [KeptBy] of bids that were read by the shelf. What it gives is not to be
// changed.
func (s *Shelf) KeptBy(day record.Date, all []store.Bid, nameless bool) ([]bid.Kept, error) {
	return keptBy(day, all, nameless, func(b store.Bid) (*bid.Bid, error) {
		s.mu.Lock()
		defer s.mu.Unlock()
		if is := s.reads[b.ID]; is != nil {
			return is, nil
		}
		return BidOf(b)
	})
}
