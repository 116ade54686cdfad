package main

import (
	"context"
	"fmt"
	"io"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"

	"pourback/analysis/setting"
	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/report/out"
	"pourback/report/page"
)

func newReport(a *app) *cobra.Command {
	var dir, single, month string
	var withSites bool
	cmd := &cobra.Command{
		Use:   "report",
		Short: "Write the HTML report: a folder of pages, or one self-contained file",
		Args:  wantArgs(0, 0, "no arguments"),
		RunE: func(cmd *cobra.Command, _ []string) error {
			if single != "" && cmd.Flags().Changed("out") {
				return usagef("--out writes a folder and --single one file: give one of them")
			}
			if month != "" {
				if _, err := time.Parse("2006-01", month); err != nil {
					return usagef("--month %q: want a month such as 2025-06", month)
				}
			}
			if withSites && a.settings.NoNames {
				return usagef("--with-sites names sites and --no-names none: give one of them")
			}
			if single != "" {
				if err := a.files.May(single, out.OursHTML); err != nil {
					return err
				}
			}
			st, err := a.open(cmd.Context())
			if err != nil {
				return err
			}
			defer st.Close()
			written, err := a.report(cmd.Context(), st, dir, single, month)
			if err != nil {
				return err
			}
			a.keeps()
			if a.settings.JSON {
				return printJSON(a.beside(single), map[string]string{"open": written})
			}
			fmt.Fprintf(a.beside(single), "The report is in %s: open it in any browser.\n", record.Shown(written))
			return nil
		},
	}
	cmd.Flags().StringVar(&dir, "out", "report", "the folder to write")
	cmd.Flags().StringVar(&single, "single", "", "write one self-contained file instead")
	cmd.Flags().StringVar(&month, "month", "", "the month to speak of, such as 2025-06; the last full one where not given")
	cmd.Flags().BoolVar(&withSites, "with-sites", false, "name people and sites, as is done unless --no-names is given")
	cmd.Flags().MarkHidden("with-sites")
	return cmd
}

// report writes the report and returns the file to open.
func (a *app) report(ctx context.Context, st *store.Store, dir, single, month string) (string, error) {
	withSites := !a.settings.NoNames
	h, bids, asked, err := a.historyAndBids(ctx, st)
	if err != nil {
		return "", err
	}
	f, err := answer(h, asked, nil, func(o *setting.Options) { o.Visits.Asked, o.Visits.NoSites = true, !withSites })
	if err != nil {
		return "", err
	}
	opt := a.reportOptions()
	if opt.Month, opt.WithSites = month, withSites; withSites {
		opt.Sites = sitesOf(&h.Jobs)
	}
	if opt.Bids, err = a.bidOutcomes(h, bids); err != nil {
		return "", err
	}
	pages := page.Pages(f, opt)
	if single != "" {
		return single, a.files.Write(single, out.OursHTML, func(w io.Writer) error { return out.WriteSingle(w, pages) })
	}
	return filepath.Join(dir, "index.html"), out.Write(a.files, dir, pages)
}

// sitesOf are the sites of jobs by their numbers.
func sitesOf(jobs *record.JobColumns) map[string]string {
	sites := make(map[string]string, jobs.Len())
	for j := range jobs.Len() {
		sites[jobs.JobNo.At(j)] = jobs.Site.At(j)
	}
	return sites
}
