package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"pourback/analysis/bid"
	"pourback/ingest/spec"
	"pourback/ingest/store"
	"pourback/report/desk"
	"pourback/report/out"
	"pourback/report/page"
)

// again is a bid that starts from a kept one: a new version of it, or a new bid from
// its spec.
type again struct {
	revise, copy int64
	old          *bid.Kept // that it starts from; nil where it starts from none
}

// asked says whether the bid starts from a kept one.
func (g *again) asked() bool { return g.revise != 0 || g.copy != 0 }

// check says what is wrong with the words of the call.
func (g *again) check(cmd *cobra.Command) error {
	if g.revise != 0 && g.copy != 0 {
		return usagef("--revise makes a new version of a bid, --copy a new bid from its spec: give one of them")
	}
	for flag, id := range map[string]int64{"revise": g.revise, "copy": g.copy} {
		if cmd.Flags().Changed(flag) && id < 1 {
			return usagef("--%s: want a bid's number, such as --%s 3; `pourback bids` lists them", flag, flag)
		}
	}
	return nil
}

// base is the spec of the kept bid that this one starts from.
func (b *bidCommand) base(ctx context.Context, st *store.Store) (*spec.Spec, error) {
	id := max(b.again.revise, b.again.copy)
	if st == nil {
		return nil, fmt.Errorf("there is no bid %d: there is no database to have kept it", id)
	}
	if b.again.revise != 0 {
		if err := st.MayRevise(ctx, id); err != nil {
			return nil, err
		}
	}
	kept, err := st.Bid(ctx, id)
	if err != nil {
		return nil, err
	}
	offer, err := desk.BidOf(kept)
	if err != nil {
		return nil, err
	}
	b.again.old = desk.KeptOf(kept, offer)
	if b.again.copy != 0 {
		return desk.Copied(offer), nil
	}
	return desk.Revised(kept, offer), nil
}

// over reads what the call lays over the spec of the bid that this one starts from.
func (b *bidCommand) over(base *spec.Spec, args []string, words []spec.Word) (bid.Spec, error) {
	if len(args) == 0 {
		return b.accept(spec.ReadOver(base, "", nil, words, b.sheetOptions()))
	}
	text, err := os.ReadFile(args[0])
	if err != nil {
		return bid.Spec{}, err
	}
	return b.accept(spec.ReadOver(base, filepath.Base(args[0]), text, words, b.sheetOptions()))
}

// changes is the bid beside the version that it revises, nil where it revises none.
func (b *bidCommand) changes(offer *bid.Bid, id int64) *bid.Comparison {
	if b.again.revise == 0 {
		return nil
	}
	old, now := *b.again.old, bid.Kept{ID: id, Version: b.version, Bid: offer}
	if b.settings.NoNames {
		for _, k := range []*bid.Kept{&old, &now} {
			same := *k.Bid
			desk.Nameless(&same)
			k.Bid = &same
		}
	}
	return bid.Compare(&old, &now)
}

// sayChanges tells what a revision changed, where the bid is one.
func (b *bidCommand) sayChanges(c *bid.Comparison) error {
	if c == nil {
		return nil
	}
	p := page.RevisedPage(c, b.reportOptions())
	if b.out != "" {
		fmt.Fprintln(b.toStdout, p.Answer)
		return nil
	}
	if err := out.Terminal(b.toStdout, []page.Page{p}, b.width, false); err != nil {
		return err
	}
	_, err := fmt.Fprintln(b.toStdout)
	return err
}
