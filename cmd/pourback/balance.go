package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"pourback/analysis/bid"
	"pourback/analysis/clock"
	"pourback/analysis/concrete"
	"pourback/ingest/record"
	"pourback/ingest/spec"
	"pourback/ingest/store"
	"pourback/report/out"
	"pourback/report/page"
)

// balanceCommand is what a call of `pourback balance` asks for.
type balanceCommand struct {
	*app
	id                      int64
	day                     int
	placed, covered, onHand string
	now                     string
	stopped                 int
}

func newBalance(a *app) *cobra.Command {
	b := balanceCommand{app: a}
	cmd := &cobra.Command{
		Use:   "balance --bid ID --placed-yd Q --covered PCT",
		Short: "During the pour: how many yards to call in for the last load",
		Long: "Say during the pour how many yards to call in for the last load, from what has been placed on the area\n" +
			"covered so far, with the chance of running short. The bid's own spec and the factors of today are used.\n" +
			"With --now the trucks still to come are put on the clock anew, after a stop of --stopped-min more minutes.",
		Example: "  pourback balance --bid 3 --placed-yd 6 --covered 60%\n" +
			"  pourback balance --bid 3 --placed-yd 6 --covered 60 --on-hand-yd 3\n" +
			"  pourback balance --bid 3 --placed-yd 13 --covered 55 --now 7:39 --stopped-min 20",
		Args: wantArgs(0, 0, "no arguments"),
		RunE: func(cmd *cobra.Command, _ []string) error { return b.run(cmd) },
	}
	flags := cmd.Flags()
	flags.SortFlags = false
	flags.Int64Var(&b.id, "bid", 0, "the kept bid's number; `pourback bids` lists them")
	flags.StringVar(&b.placed, "placed-yd", "", "placed so far, in yd³ or with a unit")
	flags.StringVar(&b.covered, "covered", "", "how much of the area that covers, 0 to 100 %")
	flags.StringVar(&b.onHand, "on-hand-yd", "0", "at the site or on its way and not yet placed, in yd³ or with a unit; what was ordered first less what is placed, where not given")
	flags.StringVar(&b.now, "now", "", "the time on site, such as 7:39: the trucks still to come are put on the clock anew")
	flags.IntVar(&b.stopped, "stopped-min", 0, "minutes until work goes on, such as those of a clog; with --now")
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
	offer, err := bidOf(kept)
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
	again, err := b.again(offer, at.PlacedYd, call.CallYd)
	if err != nil {
		return err
	}
	if b.settings.JSON {
		return out.BalanceJSON(b.stdout, b.id, b.day, at, call, again, b.voice())
	}
	p := page.BalancePage(call, at, b.reportOptions())
	if again != nil {
		p.Exhibits = append(p.Exhibits, page.TrucksAgain(again, b.reportOptions()))
	}
	return out.Terminal(b.stdout, []page.Page{p}, 0, false)
}

// again is the rest of the day by the clock, nil where nobody said what time it is.
func (b *balanceCommand) again(offer *bid.Bid, placedYd, callYd float64) (*clock.Day, error) {
	const longest = 12 * 60
	switch {
	case b.now == "" && b.stopped != 0:
		return nil, usagef("--stopped-min %d: say what time it is, such as --now 7:39", b.stopped)
	case b.now == "":
		return nil, nil
	case b.stopped < 0 || b.stopped > longest:
		return nil, usagef("--stopped-min %d: want 0 to %d", b.stopped, longest)
	}
	now, err := record.ParseClock(b.now)
	if err != nil {
		return nil, usagef("--now %w", err)
	}
	for i := range offer.Days {
		d := &offer.Days[i]
		if b.day != 0 && d.Day != b.day {
			continue
		}
		if d.Clock == nil {
			return nil, fmt.Errorf("bid %d was kept without a clock: bid on the job again", b.id)
		}
		return d.Clock.Again(int(now), b.stopped, placedYd, callYd), nil
	}
	return nil, nil
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

// bidOf is the bid that was kept.
func bidOf(kept store.Bid) (*bid.Bid, error) {
	offer, err := bid.ReadKept([]byte(kept.Result))
	if err != nil {
		return nil, fmt.Errorf("bid %d as kept cannot be read: %w", kept.ID, err)
	}
	return offer, nil
}
