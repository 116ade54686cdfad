package main

import (
	"context"
	"errors"
	"fmt"

	"pourback/analysis"
	"pourback/analysis/bid"
	"pourback/analysis/setting"
	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/report/out"
	"pourback/report/say"
)

// bid makes a bid and keeps it where keep is asked for, in the place of the one that it
// revises, if any; its number is 0 where it is not kept.
func (a *app) bid(ctx context.Context, st *store.Store, h *record.History, opt setting.Options, spec bid.Spec, revises int64, keep bool) (*bid.Bid, int64, error) {
	kept, err := a.allKept(ctx, st)
	if err != nil {
		return nil, 0, err
	}
	lean, err := a.lean(ctx, st, h, opt, kept)
	if err != nil {
		return nil, 0, err
	}
	offer, err := bid.MakeLeaning(h, spec, opt, lean)
	if err == nil {
		offer.Winning = bid.WinsOf(kept).For(offer, opt.Level)
	}
	if err != nil || !keep {
		return offer, 0, a.inWords(err)
	}
	id, err := a.keepBid(ctx, st, h, opt, offer, revises, a.said())
	return offer, id, err
}

// said is the day on which something is said of a bid, or one is made: today, or the data
// date where that is before.
func (a *app) said() record.Date { return min(a.today, a.asOf) }

// allKept are the kept bids, none without a database.
func (a *app) allKept(ctx context.Context, st *store.Store) ([]bid.Kept, error) {
	if st == nil {
		return nil, nil
	}
	all, err := st.Bids(ctx)
	if err != nil {
		return nil, err
	}
	return a.keptBids(all)
}

// lean is how the kept bids would have turned out by today's method.
func (a *app) lean(ctx context.Context, st *store.Store, h *record.History, opt setting.Options, kept []bid.Kept) (bid.Lean, error) {
	return bid.LeanOf(h, kept, opt, func(on record.Date) (*record.History, error) { return st.History(ctx, on) })
}

// inWords is an error with what is wrong with a bid's spec, where it is that, in
// words: English, as all errors are.
func (a *app) inWords(err error) error {
	var wrong bid.Problems
	if errors.As(err, &wrong) {
		return fmt.Errorf("no bid can be made:\n%s", say.Bid{Voice: say.New("en", a.settings.Units, a.settings.Currency)}.Lines(wrong))
	}
	return err
}

// factorsOfBids are the topics that a bid stands on.
var factorsOfBids = []string{"overage", "crews", "pump", "cracks"}

// keepBid keeps a bid, made on a day, with the factors it stood on: in English,
// whatever the call is read in, since later calls may be read in any language.
func (a *app) keepBid(ctx context.Context, st *store.Store, h *record.History, opt setting.Options, offer *bid.Bid, revises int64, made record.Date) (int64, error) {
	opt.Topics = factorsOfBids
	f, err := analysis.Run(h, opt)
	if err != nil {
		return 0, err
	}
	f.Overage.BySize = nil // it follows from the groups, and is half of all
	kept := store.Bid{MadeOn: made, JobNo: offer.JobNo, Revises: revises}
	for _, part := range []struct {
		into *string
		v    any
	}{{&kept.Spec, offer.Spec}, {&kept.Result, offer}, {&kept.Factors, f}} {
		text, err := out.KeptJSON(say.New("en", a.settings.Units, a.settings.Currency), part.v)
		if err != nil {
			return 0, fmt.Errorf("keeping a bid: %w", err)
		}
		*part.into = string(text)
	}
	return st.KeepBid(ctx, kept)
}
