package main

import (
	"context"
	"fmt"
	"io"

	"pourback/analysis/bid"
	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/report/out"
	"pourback/report/page"
)

// saidOf is what was said of a bid as the analysis takes it.
func saidOf(log []store.BidChange) []bid.Said {
	said := make([]bid.Said, len(log))
	for i, c := range log {
		said[i] = bid.Said{On: c.On, Did: c.Did, Before: c.Before, After: c.After}
	}
	return said
}

// one is a kept bid with all versions of it, as known by the data date.
func (b *bidsCommand) one(ctx context.Context, st *store.Store, id int64) (*page.KeptBid, error) {
	if _, err := st.Bid(ctx, id); err != nil { // says which there are
		return nil, err
	}
	h, all, _, err := b.historyAndBids(ctx, st)
	if err != nil {
		return nil, err
	}
	outcomes, err := b.bidOutcomes(h, all)
	if err != nil {
		return nil, err
	}
	root := map[int64]int64{}
	for _, k := range all {
		root[k.ID] = k.Root()
	}
	var kept *page.KeptBid
	for _, k := range all {
		if k.ID != id || k.MadeOn > b.asOf {
			continue
		}
		offer, err := bidOf(k)
		if err != nil {
			return nil, err
		}
		if b.settings.NoNames {
			nameless(offer)
		}
		kept = &page.KeptBid{Bid: offer}
		for _, s := range saidOf(k.Log) {
			if s.On <= b.asOf {
				kept.Log = append(kept.Log, s)
			}
		}
	}
	if kept == nil {
		return nil, fmt.Errorf("bid %d had not been made by %s: give a later --as-of", id, b.asOf)
	}
	for _, o := range outcomes.Outcomes {
		if root[o.ID] == root[id] {
			kept.Versions = append(kept.Versions, o)
		}
		if o.ID == id {
			kept.Is = o
		}
	}
	return kept, nil
}

// showOne shows a kept bid again as it was made.
func (b *bidsCommand) showOne(ctx context.Context, st *store.Store) error {
	kept, err := b.one(ctx, st, b.show)
	if err != nil {
		return err
	}
	p := page.KeptBidPage(kept, b.reportOptions())
	return b.shows(p, kept.Bid, func(w io.Writer) error {
		return out.BidJSON(w, kept.Is.ID, kept.Bid, b.voice(), out.BidMore{Kept: kept})
	})
}

// explainOne shows where each number of a kept bid came from.
func (b *bidsCommand) explainOne(ctx context.Context, st *store.Store) error {
	kept, err := b.one(ctx, st, b.explain)
	if err != nil {
		return err
	}
	return b.shows(page.ExplainedPage(kept.Bid, b.reportOptions()), kept.Bid, func(w io.Writer) error {
		return out.BidJSON(w, kept.Is.ID, kept.Bid, b.voice(), out.BidMore{Kept: kept, Explain: true})
	})
}

// compareTwo sets two kept bids side by side.
func (b *bidsCommand) compareTwo(ctx context.Context, st *store.Store) error {
	var two [2]*bid.Kept
	for i, id := range b.compare {
		kept, err := b.one(ctx, st, id)
		if err != nil {
			return err
		}
		two[i] = &bid.Kept{ID: id, MadeOn: kept.Is.MadeOn, JobNo: kept.Is.JobNo, Version: kept.Is.Version, Bid: *kept.Bid}
	}
	c := bid.Compare(two[0], two[1])
	return b.shows(page.ComparedPage(c, b.reportOptions()), &two[1].Bid, func(w io.Writer) error { return out.ComparedJSON(w, c, b.voice()) })
}

// shows writes a page about a bid to its file or the terminal, or JSON.
func (b *bidsCommand) shows(p page.Page, of *bid.Bid, asJSON func(io.Writer) error) error {
	if b.out != "" {
		err := b.files.Write(b.out, out.OursHTML, func(w io.Writer) error { return out.WriteBidPage(w, p, of.AsOf, b.reportOptions()) })
		if err != nil {
			return err
		}
		b.keeps()
	}
	to := b.beside(b.out)
	switch {
	case b.settings.JSON:
		return asJSON(to)
	case b.out == "":
		return out.Terminal(to, []page.Page{p}, b.width, false)
	}
	_, err := fmt.Fprintf(to, "%s\nIt is in %s: open it in any browser.\n", p.Answer, record.Shown(b.out))
	return err
}
