package desk

import (
	"context"
	"fmt"
	"slices"
	"sync"

	"pourback/analysis"
	"pourback/analysis/bid"
	"pourback/analysis/setting"
	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/report/out"
	"pourback/report/say"
)

// Known is what bids stand on at one moment: the records, and the bids kept before.
type Known struct {
	H      *record.History
	Ground *bid.Ground
	Kept   []bid.Kept
	Lean   bid.Lean

	opt     setting.Options
	wins    *bid.Wins
	then    Then
	factors *factorsSaid // that bids are kept with
}

// Then is the history as of an earlier day.
type Then func(context.Context, record.Date) (*record.History, error)

// Know gathers what bids of a history by these settings stand on. then gives the
// history as of an earlier day; it may be nil where no bid was kept.
func Know(ctx context.Context, h *record.History, opt setting.Options, kept []bid.Kept, then Then) (*Known, error) {
	ground, err := bid.GroundOf(h, opt)
	if err != nil {
		return nil, err
	}
	k := &Known{H: h, Ground: ground, opt: opt, then: then, factors: factorsToSay(h, opt)}
	return k, k.take(ctx, kept)
}

// Ready works out beforehand what the first bid would have to wait for.
func (k *Known) Ready() error {
	slab := bid.Placement{Use: "patio", LengthFt: 20, WidthFt: 12, ThicknessIn: 4}
	if _, err := k.Bid(bid.Spec{Placements: []bid.Placement{slab}}); err != nil {
		return err
	}
	_, err := k.factors.of()
	return err
}

// With is the same records with the bids that are kept now.
func (k *Known) With(ctx context.Context, kept []bid.Kept) (*Known, error) {
	now := *k
	if sameJobs(k.Kept, kept) { // how those turned out is known
		now.Kept, now.wins = kept, bid.WinsOf(kept)
		return &now, nil
	}
	return &now, now.take(ctx, kept)
}

func (k *Known) take(ctx context.Context, kept []bid.Kept) (err error) {
	k.Kept, k.wins = kept, bid.WinsOf(kept)
	k.Lean, err = bid.LeanOf(k.H, kept, k.opt, func(on record.Date) (*record.History, error) { return k.then(ctx, on) })
	return err
}

// sameJobs says whether what bids lean by is the same: which of them have a job, and
// which count.
func sameJobs(was, is []bid.Kept) bool {
	withJob := func(all []bid.Kept) (jobs []string) {
		for _, k := range all {
			if k.JobNo != "" || k.Version > 1 {
				jobs = append(jobs, fmt.Sprint(k.ID, k.JobNo, k.Fate == bid.Void, k.Version, k.First))
			}
		}
		return jobs
	}
	return slices.Equal(withJob(was), withJob(is))
}

// Bid is the bid for a job.
func (k *Known) Bid(spec bid.Spec) (*bid.Bid, error) {
	offer, err := k.Ground.Make(spec, k.Lean)
	if err == nil {
		offer.Winning = k.wins.For(offer, k.opt.Level)
	}
	return offer, err
}

// factorsOfBids are the topics that a bid stands on.
var factorsOfBids = []string{"overage", "crews", "pump", "cracks"}

// Keep keeps a bid, made on a day, with the factors it stood on, in the place of the
// one that it revises, if any; it returns the number under which it is kept. What is kept is
// said in English, by the voice it is given, whatever language the bid is read in: later
// calls may be read in any.
func Keep(ctx context.Context, st *store.Store, h *record.History, opt setting.Options, offer *bid.Bid, revises int64, made record.Date, v *say.Voice) (int64, error) {
	return factorsToSay(h, opt).keep(ctx, st, offer, revises, made, v)
}

// factorsSaid are the factors that bids of a history are kept with, as they are said.
type factorsSaid struct {
	of func() (*analysis.Factors, error) // worked out once

	mu   sync.Mutex
	text map[sayer]string
}

func factorsToSay(h *record.History, opt setting.Options) *factorsSaid {
	return &factorsSaid{of: sync.OnceValues(func() (*analysis.Factors, error) { return factorsOf(h, opt) }), text: map[sayer]string{}}
}

// sayer is what English words of figures hang on.
type sayer struct {
	si       bool
	currency string
}

// by are the factors as a voice says them, said once.
func (f *factorsSaid) by(v *say.Voice) (string, error) {
	is, err := f.of()
	if err != nil {
		return "", err
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	k := sayer{v.Units.Si, v.Currency}
	if f.text[k] == "" {
		text, err := out.KeptJSON(v, is)
		if err != nil {
			return "", fmt.Errorf("keeping a bid: %w", err)
		}
		f.text[k] = string(text)
	}
	return f.text[k], nil
}

// factorsOf are the factors that a bid is kept with.
func factorsOf(h *record.History, opt setting.Options) (*analysis.Factors, error) {
	opt.Topics = factorsOfBids
	f, err := analysis.Run(h, opt)
	if err == nil {
		f.Overage.BySize = nil // it follows from the groups, and is half of all
	}
	return f, err
}

func (f *factorsSaid) keep(ctx context.Context, st *store.Store, offer *bid.Bid, revises int64, made record.Date, v *say.Voice) (int64, error) {
	factors, err := f.by(v)
	if err != nil {
		return 0, err
	}
	kept := store.Bid{MadeOn: made, JobNo: offer.JobNo, Revises: revises, Factors: factors}
	for _, part := range []struct {
		into *string
		v    any
	}{{&kept.Spec, offer.Spec}, {&kept.Result, offer}} {
		text, err := out.KeptJSON(v, part.v)
		if err != nil {
			return 0, fmt.Errorf("keeping a bid: %w", err)
		}
		*part.into = string(text)
	}
	return st.KeepBid(ctx, kept)
}

// Keep keeps a bid that was made of what is known.
func (k *Known) Keep(ctx context.Context, st *store.Store, offer *bid.Bid, revises int64, made record.Date, v *say.Voice) (int64, error) {
	return k.factors.keep(ctx, st, offer, revises, made, v)
}
