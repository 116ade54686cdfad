package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"pourback/analysis/bid"
	"pourback/analysis/concrete"
	"pourback/ingest/spec"
	"pourback/report/desk"
	"pourback/report/out"
	"pourback/report/page"
)

// balanceCommand is what a call of `pourback balance` asks for.
type balanceCommand struct {
	*app
	id                      int64
	day                     int
	placed, covered, onHand string
}

func newBalance(a *app) *cobra.Command {
	b := balanceCommand{app: a}
	cmd := &cobra.Command{
		Use:   "balance --bid ID --placed-yd Q --covered PCT",
		Short: "During the pour: how many yards to call in for the last load",
		Long: "Say during the pour how many yards to call in for the last load, from what has been placed on the area\n" +
			"covered so far, with the chance of running short. The bid's own spec and the factors of today are used.",
		Example: "  pourback balance --bid 3 --placed-yd 6 --covered 60%\n" +
			"  pourback balance --bid 3 --placed-yd 6 --covered 60 --on-hand-yd 3",
		Args: wantArgs(0, 0, "no arguments"),
		RunE: func(cmd *cobra.Command, _ []string) error { return b.run(cmd) },
	}
	flags := cmd.Flags()
	flags.SortFlags = false
	flags.Int64Var(&b.id, "bid", 0, "the kept bid's number; `pourback bids` lists them")
	flags.StringVar(&b.placed, "placed-yd", "", "placed so far, in yd³ or with a unit")
	flags.StringVar(&b.covered, "covered", "", "how much of the area that covers, 0 to 100 %")
	flags.StringVar(&b.onHand, "on-hand-yd", "0", "at the site or on its way and not yet placed, in yd³ or with a unit; what was ordered first less what is placed, where not given")
	flags.IntVar(&b.day, "day", 0, "which day of the bid, where it pours on several; the first where not given")
	return cmd
}

func (b *balanceCommand) run(cmd *cobra.Command) error {
	at, err := b.progress()
	if err != nil {
		return err
	}
	st, err := b.open(cmd.Context())
	if err != nil {
		return err
	}
	defer st.Close()
	kept, err := st.Bid(cmd.Context(), b.id)
	if err != nil {
		return err
	}
	offer, err := desk.BidOf(kept)
	if err != nil {
		return err
	}
	if !cmd.Flags().Changed("on-hand-yd") {
		if at, err = offer.Underway(b.day, at); err != nil {
			return fmt.Errorf("%w (--on-hand-yd)", err)
		}
	}
	h, opt, err := b.namedHistory(cmd.Context(), st)
	if err != nil {
		return err
	}
	call, err := bid.Balance(h, offer.Spec, opt, b.day, at)
	if err != nil {
		return b.inWords(err)
	}
	if b.settings.JSON {
		return out.BalanceJSON(b.stdout, b.id, b.day, at, call, b.voice())
	}
	return out.Terminal(b.stdout, []page.Page{page.BalancePage(call, at, b.reportOptions())}, 0, false)
}

// progress reads how far the pour is, and says all that is wrong with it.
func (b *balanceCommand) progress() (concrete.Progress, error) {
	var at concrete.Progress
	var wrong []string
	if b.id < 1 {
		wrong = append(wrong, "--bid: name the kept bid by its number, such as --bid 3; `pourback bids` lists them")
	}
	for _, f := range []struct {
		flag, text, key string
		into            *float64
	}{{"--placed-yd", b.placed, "placed_yd", &at.PlacedYd}, {"--covered", b.covered, "covered_pct", &at.Covered}, {"--on-hand-yd", b.onHand, "on_hand_yd", &at.OnHandYd}} {
		v, problems := spec.ReadProgress(f.key, f.text, b.sheetOptions())
		for _, p := range problems {
			p.Column = f.flag
			wrong = append(wrong, p.String())
		}
		*f.into = v
	}
	at.Covered /= 100
	if len(wrong) == 0 && at.Covered > 0 && at.PlacedYd == 0 {
		wrong = append(wrong, fmt.Sprintf("--placed-yd %s: nothing placed, and %s of the area covered; give the yards that cover it", b.placed, b.covered))
	}
	if len(wrong) > 0 {
		return at, usagef("%s", strings.Join(wrong, "\npourback: "))
	}
	return at, nil
}
