package main

import (
	"github.com/spf13/cobra"

	"pourback/analysis/backtest"
	"pourback/report/out"
	"pourback/report/page"
)

func newBacktest(a *app) *cobra.Command {
	return &cobra.Command{
		Use:   "backtest",
		Short: "Say what the factors would have been worth on the company's own past",
		Long: "Walk the company's own past month by month, order for each placement by what was known then, and hold the\n" +
			"orders against what was used: by these factors, by flat 5, 10 and 15 %, by last year's mean and by what was\n" +
			"really ordered. Prices and fees are those of the settings (`pourback config`).",
		Example: "  pourback backtest\n  pourback backtest --as-of 2025-12-31 --json",
		Args:    wantArgs(0, 0, "no arguments"),
		RunE: func(cmd *cobra.Command, _ []string) error {
			st, err := a.open(cmd.Context())
			if err != nil {
				return err
			}
			defer st.Close()
			h, opt, err := a.history(cmd.Context(), st)
			if err != nil {
				return err
			}
			b, err := backtest.New(h, opt)
			if err != nil {
				return err
			}
			if a.settings.JSON {
				return out.BacktestJSON(a.stdout, b, a.voice())
			}
			shown := a.reportOptions()
			shown.LeftOut = h.LeftOut()
			return out.Terminal(a.stdout, []page.Page{page.BacktestPage(b, shown)}, a.width, false)
		},
	}
}
