package main

import (
	"cmp"
	"context"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"sync"
	"time"

	"github.com/spf13/cobra"

	"pourback/analysis"
	"pourback/analysis/setting"
	"pourback/ingest/outfile"
	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/report/out"
	"pourback/report/page"
	"pourback/report/say"
)

// reportCall is what a call of report is to write.
type reportCall struct {
	*app
	dir, single, letter, workbook, month string

	folder bool // the folder was asked for by its flag
	names  bool // --with-sites

	noPictures bool
}

func newReport(a *app) *cobra.Command {
	r := &reportCall{app: a}
	cmd := &cobra.Command{
		Use:   "report",
		Short: "Write the HTML report: a folder of pages, or one self-contained file",
		Example: `  pourback report
  pourback report --month 2025-06 --letter june.html
  pourback report --single report.html --xlsx report.xlsx --no-names`,
		Args: wantArgs(0, 0, "no arguments"),
		RunE: func(cmd *cobra.Command, _ []string) error {
			r.folder = cmd.Flags().Changed("out")
			if err := r.check(); err != nil {
				return err
			}
			st, err := a.open(cmd.Context())
			if err != nil {
				return err
			}
			defer st.Close()
			return r.run(cmd.Context(), st)
		},
	}
	flags := cmd.Flags()
	flags.StringVar(&r.dir, "out", "report", "the folder to write")
	flags.StringVar(&r.single, "single", "", "write one self-contained file instead")
	flags.StringVar(&r.letter, "letter", "", "write the month on one printed page for a partner or a banker; alone, write nothing else")
	flags.StringVar(&r.workbook, "xlsx", "", "write every table of the report as a workbook; alone, write nothing else")
	flags.StringVar(&r.month, "month", "", "the month to speak of, such as 2025-06; the last full one where not given")
	flags.BoolVar(&r.noPictures, "no-pictures", false, "show no pictures of slabs; with --no-names none are shown either")
	flags.BoolVar(&r.names, "with-sites", false, "name people and sites, as is done unless --no-names is given")
	flags.MarkHidden("with-sites")
	return cmd
}

// check says what is wrong with the call before anything is read.
func (r *reportCall) check() error {
	if r.single != "" && r.folder {
		return usagef("--out writes a folder and --single one file: give one of them")
	}
	if r.month != "" {
		if _, err := time.Parse("2006-01", r.month); err != nil {
			return usagef("--month %q: want a month such as 2025-06", r.month)
		}
	}
	if r.names && r.settings.NoNames {
		return usagef("--with-sites names sites and --no-names none: give one of them")
	}
	seen := map[string]string{}
	files := slices.DeleteFunc(r.singles(nil), asked.unnamed)
	for _, f := range files {
		if other := seen[outfile.Landing(f.path)]; other != "" {
			return usagef("%s and %s both name %s: give each its own file", other, f.flag, f.path)
		}
		seen[outfile.Landing(f.path)] = f.flag
	}
	for _, f := range files {
		if err := r.files.May(f.path, f.ours); err != nil {
			return err
		}
	}
	return nil
}

// asked is a file that a flag asks for.
type asked struct {
	flag, key string // of the call, and of its JSON
	path      string
	ours      outfile.Ours
	write     func(io.Writer) error
	says      func(path string) string // where it is, once written
}

func (a asked) unnamed() bool { return a.path == "" }

// singles are the files that may be asked for by name, of an answer.
func (r *reportCall) singles(of *told) []asked {
	return []asked{
		{"--single", "open", r.single, out.OursHTML, func(w io.Writer) error { return out.WriteSingle(w, of.pages()) }, say.Written{Voice: r.voice()}.Report},
		{"--letter", "letter", r.letter, out.OursHTML, func(w io.Writer) error { return out.WriteLetter(w, page.MonthLetter(of.f, of.opt)) }, say.Written{Voice: r.voice()}.Letter},
		{"--xlsx", "xlsx", r.workbook, out.OursWorkbook, func(w io.Writer) error { return out.WriteWorkbook(w, of.pages()) }, say.Written{Voice: r.voice()}.Tables},
	}
}

// told is an answer with how it is to be shown.
type told struct {
	f     *analysis.Factors
	opt   page.Options
	pages func() []page.Page
}

func (r *reportCall) run(ctx context.Context, st *store.Store) error {
	of, err := r.answered(ctx, st)
	if err != nil {
		return err
	}
	files := slices.DeleteFunc(r.singles(of), asked.unnamed)
	written := map[string]string{}
	if len(files) == 0 || r.folder {
		if written["open"], err = r.pages(of); err != nil {
			return err
		}
		r.say("", say.Written{Voice: r.voice()}.Report, written["open"])
	}
	for _, f := range files {
		if err := r.files.Write(f.path, f.ours, f.write); err != nil {
			return err
		}
		written[f.key] = f.path
		r.say(f.path, f.says, f.path)
	}
	r.keeps()
	if r.settings.JSON {
		return printJSON(r.beside(r.piped()), written)
	}
	return nil
}

// pages writes the folder of pages and returns the one to open.
func (r *reportCall) pages(of *told) (string, error) {
	return filepath.Join(r.dir, "index.html"), out.Write(r.files, r.dir, of.pages())
}

// pagesOnly answers and writes the folder of pages.
func (r *reportCall) pagesOnly(ctx context.Context, st *store.Store) (string, error) {
	of, err := r.answered(ctx, st)
	if err != nil {
		return "", err
	}
	return r.pages(of)
}

// piped is the file, if any, that is standard output itself.
func (r *reportCall) piped() string {
	for _, path := range []string{r.single, r.letter, r.workbook} {
		if path != "" && outfile.IsStandardOutput(path) {
			return path
		}
	}
	return ""
}

// say tells where a file is, unless JSON will.
func (r *reportCall) say(path string, says func(path string) string, at string) {
	if !r.settings.JSON {
		fmt.Fprintln(r.beside(cmp.Or(r.piped(), path)), says(record.Shown(at)))
	}
}

// answered reads the history and answers what the report shows.
func (r *reportCall) answered(ctx context.Context, st *store.Store) (*told, error) {
	named := !r.settings.NoNames
	h, bids, asked, err := r.historyAndBids(ctx, st)
	if err != nil {
		return nil, err
	}
	f, err := answer(h, asked, nil, func(o *setting.Options) { o.Visits.Asked, o.Visits.NoSites = true, !named })
	if err != nil {
		return nil, err
	}
	opt := r.reportOptions()
	if opt.Month, opt.WithSites = r.month, named; named {
		opt.Places = page.PlacesOf(&h.Jobs)
	}
	if opt.Bids, err = r.bidOutcomes(h, bids); err != nil {
		return nil, err
	}
	if named && !r.noPictures {
		if opt.Pictures, err = pictured(ctx, st, f); err != nil {
			return nil, err
		}
	}
	return &told{f, opt, sync.OnceValue(func() []page.Page { return page.Pages(f, opt) })}, nil
}
