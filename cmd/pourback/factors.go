package main

import (
	"context"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"pourback/analysis"
	"pourback/analysis/setting"
	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/report/out"
	"pourback/report/page"
	"pourback/report/say"
)

func newFactors(a *app) *cobra.Command {
	known := append(slices.Clone(setting.Topics), setting.VisitsTopic)
	return &cobra.Command{
		Use:   "factors [TOPIC…]",
		Short: "Print the factors: what the records say about the next job",
		Long: "Print the factors. Topics: " + strings.Join(setting.Topics, ", ") + "; none means all of these.\n" +
			"What happens after the pour is answered where it is asked for: visits.",
		ValidArgs: known,
		Args: func(_ *cobra.Command, topics []string) error {
			for _, t := range topics {
				if !slices.Contains(known, t) {
					return usagef("no topic %q; want one of %s", t, strings.Join(known, ", "))
				}
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, topics []string) error {
			st, err := a.open(cmd.Context())
			if err != nil {
				return err
			}
			defer st.Close()
			f, err := a.factors(cmd.Context(), st, topics)
			if err != nil {
				return err
			}
			if a.settings.JSON {
				return out.JSON(a.stdout, f, a.voice())
			}
			return out.Terminal(a.stdout, page.Pages(f, a.reportOptions()), a.width, false)
		},
	}
}

// factors answers the topics from what the store holds; with may ask for more.
func (a *app) factors(ctx context.Context, st *store.Store, topics []string, with ...func(*setting.Options)) (*analysis.Factors, error) {
	h, opt, err := a.history(ctx, st)
	if err != nil {
		return nil, err
	}
	return answer(h, opt, topics, with...)
}

// answer is the factors of a history.
func answer(h *record.History, opt setting.Options, topics []string, with ...func(*setting.Options)) (*analysis.Factors, error) {
	opt.Topics = topics
	for _, ask := range with {
		ask(&opt)
	}
	return analysis.Run(h, opt)
}

// history is what the store holds, with the settings that the analysis goes by;
// without names where they are not to be written.
func (a *app) history(ctx context.Context, st *store.Store) (*record.History, setting.Options, error) {
	h, opt, err := a.namedHistory(ctx, st)
	a.unname(h)
	return h, opt, err
}

// namedHistory is history with all its names.
func (a *app) namedHistory(ctx context.Context, st *store.Store) (*record.History, setting.Options, error) {
	return a.read(func() (*record.History, error) { return st.History(ctx, a.asOf) })
}

// historyAndBids is history, and the bids that were kept by then.
func (a *app) historyAndBids(ctx context.Context, st *store.Store) (h *record.History, bids []store.Bid, opt setting.Options, err error) {
	h, opt, err = a.read(func() (h *record.History, err error) {
		h, bids, err = st.HistoryAndBids(ctx, a.asOf)
		return h, err
	})
	a.unname(h)
	return h, bids, opt, err
}

// unname takes the names out of a history, where they are not to be written.
func (a *app) unname(h *record.History) {
	if h != nil && a.settings.NoNames {
		new(record.Nameless).History(h)
	}
}

func (a *app) read(history func() (*record.History, error)) (*record.History, setting.Options, error) {
	opt, err := a.settings.options()
	if err != nil {
		return nil, opt, err
	}
	began := a.now()
	h, err := history()
	if err != nil {
		return nil, opt, err
	}
	a.detail("read %d placements of %d jobs as of %s in %s", h.Placements.Len(), h.Jobs.Len(), h.AsOf, a.now().Sub(began).Round(time.Millisecond))
	return h, opt, nil
}

func (a *app) reportOptions() page.Options {
	return page.Options{Lang: a.settings.Lang, Units: a.settings.Units, Company: a.settings.Company.Name, Letterhead: a.settings.letterhead(), Currency: a.settings.Currency}
}

// voice says answers in the language, units and currency that are set.
func (a *app) voice() *say.Voice {
	return say.New(a.settings.Lang, a.settings.Units, a.settings.Currency)
}
