package main

import (
	"context"
	"errors"
	"fmt"

	"pourback/analysis/bid"
	"pourback/analysis/setting"
	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/report/desk"
	"pourback/report/say"
)

// knows gathers what bids stand on.
func (a *app) knows(ctx context.Context, st *store.Store, h *record.History, opt setting.Options) (*desk.Known, error) {
	kept, err := a.allKept(ctx, st)
	if err != nil {
		return nil, err
	}
	return desk.Know(ctx, h, opt, kept, func(ctx context.Context, on record.Date) (*record.History, error) { return st.History(ctx, on) })
}

// bid makes a bid and keeps it where keep is asked for, in the place of the one that it
// revises, if any; its number is 0 where it is not kept.
func (a *app) bid(ctx context.Context, st *store.Store, known *desk.Known, spec bid.Spec, revises int64, keep bool) (*bid.Bid, int64, error) {
	offer, err := known.Bid(spec)
	if err != nil || !keep {
		return offer, 0, a.inWords(err)
	}
	id, err := known.Keep(ctx, st, offer, revises, a.said(), a.inEnglish())
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
	return desk.KeptBy(a.asOf, all, a.settings.NoNames)
}

// inEnglish is the voice of errors and of what is kept, which later calls may read in
// any language.
func (a *app) inEnglish() *say.Voice { return say.New("en", a.settings.Units, a.settings.Currency) }

// inWords is an error with what is wrong with a bid's spec, where it is that, in
// words: English, as all errors are.
func (a *app) inWords(err error) error {
	var wrong bid.Problems
	if errors.As(err, &wrong) {
		return fmt.Errorf("no bid can be made:\n%s", say.Bid{Voice: a.inEnglish()}.Lines(wrong))
	}
	return err
}
