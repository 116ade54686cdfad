package main

import (
	"context"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"pourback/analysis/bid"
	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/report/out"
	"pourback/report/page"
)

// bidsCommand is what a call of `pourback bids` asks for.
type bidsCommand struct {
	*app
	link, out     string
	show, explain int64
	compare, open []int64
	marks         map[bid.Fate]*[]int64
}

func newBids(a *app) *cobra.Command {
	b := &bidsCommand{app: a, marks: map[bid.Fate]*[]int64{}}
	cmd := &cobra.Command{
		Use:   "bids [ID]",
		Short: "Show kept bids beside what their jobs turned out to be; one again; two side by side",
		Long: "Show the kept bids: those open by age, those won and lost, and beside what their jobs turned out to be: hours,\n" +
			"yards, cost and margin, and how many of the 80 % ranges held. A bid knows its job by the job_no of its spec, or by\n" +
			"--link. Bids marked won or lost tell what was won at which markup and price, and a bid shows what its price may win;\n" +
			"a void bid counts nowhere, nor does one with a later version. With a number, show that bid again as it was made,\n" +
			"with its versions and what was said of it. Every mark is kept with its day, those taken back too.",
		Example: "  pourback bids\n  pourback bids 3                  # bid 3 again, with its versions\n  pourback bids --compare 3,5      # two bids side by side\n" +
			"  pourback bids --explain 3        # where each number of bid 3 comes from\n" +
			"  pourback bids --link 3=SF-1043   # bid 3 became job SF-1043\n  pourback bids --link 3=          # or none after all\n" +
			"  pourback bids --won 3 --lost 4,5\n  pourback bids --open 3           # takes the mark of bid 3 back",
		Args: wantArgs(0, 1, "no more than one bid's number"),
		RunE: func(cmd *cobra.Command, args []string) error { return b.run(cmd, args) },
	}
	flags := cmd.Flags()
	flags.SortFlags = false
	flags.Int64Var(&b.show, "show", 0, "show one bid again as it was made, as its number alone does")
	flags.Int64SliceVar(&b.compare, "compare", nil, "two bids side by side, as 3,5")
	flags.Int64Var(&b.explain, "explain", 0, "where each number of a bid comes from")
	flags.StringVar(&b.out, "out", "", "write what is shown of one bid or two into this HTML file instead of the terminal")
	flags.StringVar(&b.link, "link", "", "name the job that came of a bid: ID=JOB_NO")
	for _, m := range []struct {
		fate  bid.Fate
		about string
	}{{bid.Won, "mark a bid as won; several as 3,5"}, {bid.Lost, "mark a bid as lost"}, {bid.Void, "mark a bid as withdrawn or made by mistake: it counts nowhere"}} {
		b.marks[m.fate] = flags.Int64Slice(string(m.fate), nil, m.about)
	}
	flags.Int64SliceVar(&b.open, "open", nil, "take the mark of a bid back")
	b.marks[bid.Open] = &b.open
	return cmd
}

// run marks and links first, and then shows what was asked for.
func (b *bidsCommand) run(cmd *cobra.Command, args []string) error {
	if err := b.check(cmd, args); err != nil {
		return err
	}
	id, job, err := int64(0), "", error(nil)
	if cmd.Flags().Changed("link") {
		if id, job, err = readLink(b.link); err != nil {
			return err
		}
	}
	st, err := b.app.open(cmd.Context())
	if err != nil {
		return err
	}
	defer st.Close()
	if id != 0 {
		if err := b.linkBid(cmd.Context(), st, id, job); err != nil {
			return err
		}
	}
	for _, fate := range bidFates {
		for _, id := range *b.marks[fate] {
			if err := b.markBid(cmd.Context(), st, id, fate); err != nil {
				return err
			}
		}
	}
	switch {
	case b.show != 0:
		return b.showOne(cmd.Context(), st)
	case b.explain != 0:
		return b.explainOne(cmd.Context(), st)
	case len(b.compare) > 0:
		return b.compareTwo(cmd.Context(), st)
	}
	return b.listBids(cmd.Context(), st)
}

// check says what is wrong with the words of the call.
func (b *bidsCommand) check(cmd *cobra.Command, args []string) error {
	flags := cmd.Flags()
	if len(args) > 0 {
		id, err := strconv.ParseInt(args[0], 10, 64)
		if err != nil || id < 1 || flags.Changed("show") && id != b.show {
			return usagef("bids %s: want a bid's number, such as `pourback bids 3`; `pourback bids` lists them", args[0])
		}
		b.show = id
	}
	asked := 0
	for flag, is := range map[string]bool{"show": b.show != 0 || flags.Changed("show"), "compare": flags.Changed("compare"), "explain": flags.Changed("explain")} {
		if is {
			asked++
		}
		if one := map[string]int64{"show": b.show, "explain": b.explain}[flag]; is && flag != "compare" && one < 1 {
			return usagef("--%s %d: want a bid's number, such as --%s 3; `pourback bids` lists them", flag, one, flag)
		}
	}
	switch {
	case asked > 1:
		return usagef("one bid again, --explain and --compare each show something else: ask for one of them")
	case flags.Changed("compare") && (len(b.compare) != 2 || b.compare[0] == b.compare[1]):
		return usagef("--compare: want two bids, such as --compare 3,5")
	case b.out != "" && asked == 0:
		return usagef("--out writes one bid or two: name a bid, or give --explain or --compare; `pourback report` has the list")
	case b.out != "":
		return b.files.May(b.out, out.OursHTML)
	}
	return b.onceEach()
}

// onceEach refuses two marks of one bid in one call.
func (b *bidsCommand) onceEach() error {
	seen := map[int64]bid.Fate{}
	for _, fate := range bidFates {
		for _, id := range *b.marks[fate] {
			if other, twice := seen[id]; twice && other != fate {
				return usagef("bid %d is to be %s and %s: say one of them", id, flagOf(other), flagOf(fate))
			}
			seen[id] = fate
		}
	}
	return nil
}

// bidFates are what a bid can be marked as, marks taken back first.
var bidFates = []bid.Fate{bid.Open, bid.Won, bid.Lost, bid.Void}

// flagOf is the flag that says so.
func flagOf(fate bid.Fate) string {
	if fate == bid.Open {
		return "open"
	}
	return string(fate)
}

// markBid says what became of a bid.
func (a *app) markBid(ctx context.Context, st *store.Store, id int64, fate bid.Fate) error {
	was, news, err := st.MarkBid(ctx, id, string(fate), a.said())
	if err != nil {
		return err
	}
	a.keeps()
	switch before := bid.Fate(was.Fate); {
	case !news && fate == bid.Open:
		a.tell("Bid %d is open already.", id)
	case !news && was.FateOn != 0:
		a.tell("Bid %d is marked %s already, since %s.", id, fate, was.FateOn)
	case !news:
		a.tell("Bid %d is marked %s already.", id, fate)
	case fate == bid.Open:
		a.tell("Bid %d is open again, no longer %s.", id, before)
	case before != bid.Open:
		a.tell("Bid %d is marked %s, no longer %s.", id, fate, before)
	default:
		a.tell("Bid %d is marked %s.", id, fate)
	}
	return nil
}

// readLink takes ID=JOB_NO apart.
func readLink(link string) (id int64, job string, err error) {
	number, job, found := strings.Cut(link, "=")
	id, err = strconv.ParseInt(strings.TrimSpace(number), 10, 64)
	if !found || err != nil || id < 1 {
		return 0, "", usagef("--link %q: want a bid and its job, such as 3=SF-1043", link)
	}
	job = strings.TrimSpace(job)
	if most := record.Jobs.Column("job_no").MaxChars; len([]rune(job)) > most {
		return 0, "", usagef("--link %q: a job_no has at most %d characters", link, most)
	}
	return id, job, nil
}

// linkBid names the job that came of a bid.
func (a *app) linkBid(ctx context.Context, st *store.Store, id int64, job string) error {
	news, err := st.LinkBid(ctx, id, job, a.said())
	if err != nil {
		return err
	}
	a.keeps()
	if !news {
		a.tell("That is known of bid %d already.", id)
	} else if job == "" {
		a.tell("Bid %d is no job's now.", id)
	} else {
		a.tell("Bid %d became job %s.", id, job)
	}
	return nil
}

func (a *app) listBids(ctx context.Context, st *store.Store) error {
	h, bids, _, err := a.historyAndBids(ctx, st)
	if err != nil {
		return err
	}
	outcomes, err := a.bidOutcomes(h, bids)
	if err != nil {
		return err
	}
	if a.settings.JSON {
		return out.BidsJSON(a.stdout, outcomes, a.voice())
	}
	shown := a.reportOptions()
	shown.LeftOut = h.LeftOut()
	return out.Terminal(a.stdout, []page.Page{page.BidsPage(outcomes, shown)}, a.width, false)
}

// bidOutcomes holds the kept bids against the history.
func (a *app) bidOutcomes(h *record.History, all []store.Bid) (*bid.Record, error) {
	kept, err := a.keptBids(all)
	if err != nil {
		return nil, err
	}
	return bid.Outcomes(h, kept), nil
}

// keptBids are those that were made by the data date, as the analysis takes them.
func (a *app) keptBids(all []store.Bid) ([]bid.Kept, error) {
	kept := make([]bid.Kept, 0, len(all))
	for _, b := range all {
		if b.MadeOn > a.asOf { // nobody had made it yet
			continue
		}
		offer, err := bidOf(b)
		if err != nil {
			return nil, err
		}
		if a.settings.NoNames {
			offer.Name, offer.Spec.Name = "", ""
		}
		k := keptOf(b, offer)
		k.Fate, k.FateOn = bid.FateOn(a.asOf, k.Fate, k.FateOn, saidOf(b.Log))
		kept = append(kept, *k)
	}
	return kept, nil
}
