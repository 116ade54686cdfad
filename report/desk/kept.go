// Package desk is where bids are made and kept, whoever asks: the command line and the
// site call the same functions, and get the same figures.
package desk

import (
	"fmt"
	"slices"

	"pourback/analysis/bid"
	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/report/page"
)

// BidOf is the bid that was kept.
func BidOf(kept store.Bid) (*bid.Bid, error) {
	offer, err := bid.ReadKept([]byte(kept.Result))
	if err != nil {
		return nil, fmt.Errorf("bid %d as kept cannot be read: %w", kept.ID, err)
	}
	return offer, nil
}

// KeptOf is a kept bid as the analysis takes it.
func KeptOf(b store.Bid, offer *bid.Bid) *bid.Kept {
	return &bid.Kept{ID: b.ID, MadeOn: b.MadeOn, JobNo: b.JobNo, Fate: bid.Fate(b.Fate), FateOn: b.FateOn, Version: b.Version, Revises: b.Revises, First: b.First, Bid: offer}
}

// saidOf is what was said of a bid as the analysis takes it.
func saidOf(log []store.BidChange) []bid.Said {
	said := make([]bid.Said, len(log))
	for i, c := range log {
		said[i] = bid.Said{On: c.On, Did: c.Did, Before: c.Before, After: c.After}
	}
	return said
}

// Nameless takes the names of people and sites out of a bid that was kept with them.
func Nameless(b *bid.Bid) {
	b.Name, b.Spec.Name, b.Spec.Site, b.Spec.Crew, b.Labor.Crew = "", "", "", "", ""
	b.Notes = slices.DeleteFunc(slices.Clone(b.Notes), func(n bid.Note) bool { return n.Kind == bid.NoteUnknownCrew })
	b.Cautions = slices.DeleteFunc(slices.Clone(b.Cautions), func(p bid.Problem) bool { return p.What == bid.UnknownCrew })
}

// KeptBy are the bids that were made by a day, as the analysis takes them, without
// names where nameless is asked for.
func KeptBy(day record.Date, all []store.Bid, nameless bool) ([]bid.Kept, error) {
	return keptBy(day, all, nameless, BidOf)
}

func keptBy(day record.Date, all []store.Bid, nameless bool, read func(store.Bid) (*bid.Bid, error)) ([]bid.Kept, error) {
	kept := make([]bid.Kept, 0, len(all))
	for _, b := range all {
		if b.MadeOn > day { // nobody had made it yet
			continue
		}
		offer, err := read(b)
		if err != nil {
			return nil, err
		}
		k := KeptOf(b, offer)
		if nameless {
			same := *offer
			same.Name, same.Spec.Name = "", ""
			k.Bid = &same
		}
		k.Fate, k.FateOn = bid.FateOn(day, k.Fate, k.FateOn, saidOf(b.Log))
		kept = append(kept, *k)
	}
	return kept, nil
}

// Outcomes holds the bids that were made by the date of a history against it.
func Outcomes(h *record.History, all []store.Bid, nameless bool) (*bid.Record, error) {
	kept, err := KeptBy(h.AsOf, all, nameless)
	if err != nil {
		return nil, err
	}
	return bid.Outcomes(h, kept), nil
}

// One is a kept bid with all versions of it and what was said of it by a day, of all
// bids, which need not say what they offer, and how they stand then; nil where it had not
// been made.
func One(is store.Bid, day record.Date, all []store.Bid, outcomes *bid.Record, nameless bool) (*page.KeptBid, error) {
	root := map[int64]int64{}
	var listed *store.Bid
	for i := range all {
		root[all[i].ID] = all[i].Root()
		if all[i].ID == is.ID && all[i].MadeOn <= day {
			listed = &all[i]
		}
	}
	if listed == nil {
		return nil, nil
	}
	offer, err := BidOf(is)
	if err != nil {
		return nil, err
	}
	if nameless {
		Nameless(offer)
	}
	kept := &page.KeptBid{Bid: offer}
	for _, s := range saidOf(listed.Log) {
		if s.On <= day {
			kept.Log = append(kept.Log, s)
		}
	}
	for _, o := range outcomes.Outcomes {
		if root[o.ID] == root[is.ID] {
			kept.Versions = append(kept.Versions, o)
		}
		if o.ID == is.ID {
			kept.Is = o
		}
	}
	return kept, nil
}

// Compared sets two kept bids side by side.
func Compared(one, other *page.KeptBid) *bid.Comparison {
	of := func(k *page.KeptBid) *bid.Kept {
		return &bid.Kept{ID: k.Is.ID, MadeOn: k.Is.MadeOn, JobNo: k.Is.JobNo, Version: k.Is.Version, Bid: k.Bid}
	}
	return bid.Compare(of(one), of(other))
}
