package main

import (
	"context"
	"fmt"
	"io"

	"pourback/analysis/bid"
	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/report/desk"
	"pourback/report/out"
	"pourback/report/page"
)

// one is a kept bid with all versions of it, as known by the data date.
func (b *bidsCommand) one(ctx context.Context, st *store.Store, id int64) (*page.KeptBid, error) {
	is, err := st.Bid(ctx, id)
	if err != nil { // says which there are
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
	kept, err := desk.One(is, b.asOf, all, outcomes, b.settings.NoNames)
	if err != nil {
		return nil, err
	}
	if kept == nil {
		return nil, fmt.Errorf("bid %d had not been made by %s: give a later --as-of", id, b.asOf)
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
	var two [2]*page.KeptBid
	for i, id := range b.compare {
		var err error
		if two[i], err = b.one(ctx, st, id); err != nil {
			return err
		}
	}
	c := desk.Compared(two[0], two[1])
	return b.shows(page.ComparedPage(c, b.reportOptions()), two[1].Bid, func(w io.Writer) error { return out.ComparedJSON(w, c, b.voice()) })
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
