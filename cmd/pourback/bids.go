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

func newBids(a *app) *cobra.Command {
	var link string
	marks := map[bid.Fate]*[]int64{}
	cmd := &cobra.Command{
		Use:   "bids",
		Short: "Show kept bids beside what their jobs turned out to be",
		Long: "Show the kept bids beside what their jobs turned out to be: hours, yards, cost and margin, and how many of the\n" +
			"80 % ranges held. A bid knows its job by the job_no of its spec, or by --link. Bids marked won or lost tell what was\n" +
			"won at which markup and price, and a bid shows what its price may win; a void bid counts nowhere.",
		Example: "  pourback bids\n  pourback bids --link 3=SF-1043   # bid 3 became job SF-1043\n  pourback bids --link 3=          # or none after all\n  pourback bids --won 3 --lost 4,5",
		Args:    wantArgs(0, 0, "no arguments"),
		RunE: func(cmd *cobra.Command, _ []string) error {
			id, job, err := int64(0), "", error(nil)
			if cmd.Flags().Changed("link") {
				if id, job, err = readLink(link); err != nil {
					return err
				}
			}
			st, err := a.open(cmd.Context())
			if err != nil {
				return err
			}
			defer st.Close()
			if id != 0 {
				if err := a.linkBid(cmd.Context(), st, id, job); err != nil {
					return err
				}
			}
			for _, fate := range bidFates {
				for _, id := range *marks[fate] {
					if err := a.markBid(cmd.Context(), st, id, fate); err != nil {
						return err
					}
				}
			}
			return a.listBids(cmd.Context(), st)
		},
	}
	cmd.Flags().StringVar(&link, "link", "", "name the job that came of a bid: ID=JOB_NO")
	for fate, about := range map[bid.Fate]string{bid.Won: "mark a bid as won; several as 3,5", bid.Lost: "mark a bid as lost", bid.Void: "mark a bid as withdrawn or made by mistake: it counts nowhere"} {
		marks[fate] = cmd.Flags().Int64Slice(string(fate), nil, about)
	}
	return cmd
}

// bidFates are what a bid can be marked as.
var bidFates = []bid.Fate{bid.Won, bid.Lost, bid.Void}

// markBid says what became of a bid.
func (a *app) markBid(ctx context.Context, st *store.Store, id int64, fate bid.Fate) error {
	if err := st.MarkBid(ctx, id, string(fate)); err != nil {
		return err
	}
	a.keeps()
	a.tell("Bid %d is marked %s.", id, fate)
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
	if err := st.LinkBid(ctx, id, job); err != nil {
		return err
	}
	a.keeps()
	if job == "" {
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
		kept = append(kept, bid.Kept{ID: b.ID, MadeOn: b.MadeOn, JobNo: b.JobNo, Fate: bid.Fate(b.Fate), Bid: *offer})
	}
	return kept, nil
}
