package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"pourback/ingest"
	"pourback/ingest/record"
	"pourback/ingest/sheet"
	"pourback/ingest/store"
)

func newIngest(a *app) *cobra.Command {
	var opt ingest.Options
	var u understanding
	var asideOf int64
	cmd := &cobra.Command{
		Use:   "ingest FILE…",
		Short: "Take in record files (CSV or XLSX)",
		Long: "Take in record files, CSV or XLSX. Every problem is named with its place and what would be right.\n" +
			"Rows with errors are set aside in a file that can be mended and handed in again; the others are kept. The rows\n" +
			"set aside are kept with the batch too: --set-aside-of writes that file again.",
		Example: "  pourback ingest jobs-2025.xlsx loads.csv\n  pourback ingest --set-aside-of 3 mend.csv",
		Args: func(cmd *cobra.Command, paths []string) error {
			if u.aside() {
				return wantArgs(0, 0, "no files with --answers or --forget")(cmd, paths)
			}
			return wantArgs(1, -1, "at least one file")(cmd, paths)
		},
		RunE: func(cmd *cobra.Command, paths []string) error {
			if cmd.Flags().Changed("set-aside-of") {
				return a.setAsideOf(cmd, asideOf, paths, opt)
			}
			if u.aside() {
				return u.memory(a, cmd.Context())
			}
			return a.ingest(cmd, paths, opt, &u)
		},
	}
	u.flags(cmd)
	cmd.Flags().BoolVar(&opt.DryRun, "dry-run", false, "read and check everything, keep nothing")
	cmd.Flags().BoolVar(&opt.Strict, "strict", false, "keep nothing of a file unless all its rows are good")
	cmd.Flags().StringVar(&opt.SetAside, "set-aside", "", "the file for rows that are set aside (default: beside the source)")
	cmd.Flags().Int64Var(&asideOf, "set-aside-of", 0, "write what was set aside of this batch into FILE, and take nothing in")
	return cmd
}

func (a *app) ingest(cmd *cobra.Command, paths []string, opt ingest.Options, u *understanding) error {
	if err := u.parse(); err != nil {
		return err
	}
	a.files.Reads("a file that is being read", paths...)
	if opt.SetAside != "" {
		if err := a.files.May(opt.SetAside, ingest.OursSetAside); err != nil {
			return err
		}
	}
	st, done, err := a.openToTake(cmd.Context(), opt.DryRun || u.explain)
	if err != nil {
		return err
	}
	defer done()
	if err := u.recall(cmd.Context(), st); err != nil {
		return err
	}
	if err := u.settle(a, paths, a.asks && !u.explain && !a.settings.JSON && !a.settings.Quiet); err != nil {
		return err
	}
	if u.explain {
		return a.explainFiles(a.readings(paths, u.options(a)))
	}
	bar := newProgress(a)
	said := newSaying(a.stdout, a.settings.JSON)
	opt.Sheet, opt.TakenAt, opt.Progress, opt.Out, opt.Pictures = a.sheetOptions(), a.stamp(), bar.update, a.files, a.settings.Pictures
	opt.Sheet.Answers = u.said
	opt.Problem = func(p record.Problem) {
		bar.clear()
		said.say(p)
	}
	results, failed := ingest.Files(cmd.Context(), st, paths, opt)
	bar.clear()
	if !anyKept(results) && failed != nil {
		return failed
	}
	if anyKept(results) {
		a.keeps()
		if err := ingest.Remember(cmd.Context(), st, u.said, opt.TakenAt); err != nil {
			failed = errors.Join(failed, fmt.Errorf("what is kept is kept, but the answers about its headings are not remembered: %w", err))
		}
	}
	if a.settings.JSON {
		if err := printIngestJSON(a.stdout, results, said); err != nil {
			return err
		}
	} else {
		said.rest()
		for i := range results {
			printResult(a.stdout, &results[i], opt)
		}
	}
	var unwritten *ingest.UnwrittenError
	if errors.As(failed, &unwritten) {
		return failed
	}
	if failed != nil {
		a.environment.complain(failed)
		return errSetAside
	}
	return ingestStatus(results)
}

// openToTake opens the database, and makes it where there is none. A dry run
// makes none: it is checked against an empty one elsewhere, which done takes
// away.
func (a *app) openToTake(ctx context.Context, dry bool) (st *store.Store, done func(), err error) {
	if !dry {
		st, err = a.openOrMake(ctx)
		return st, func() { st.Close() }, err
	}
	st, err = a.openWith(ctx, store.Options{Existing: true})
	if none := new(store.NoDatabaseError); !errors.As(err, &none) {
		return st, func() { st.Close() }, err
	}
	dir, err := os.MkdirTemp("", "pourback-dry-run-")
	if err != nil {
		return nil, nil, err
	}
	st, err = store.Open(ctx, filepath.Join(dir, "empty.db"), store.Options{})
	return st, func() { st.Close(); os.RemoveAll(dir) }, err
}

func anyKept(results []ingest.Result) bool {
	return slices.ContainsFunc(results, func(r ingest.Result) bool { return r.Batch != 0 })
}

// setAsideOf writes again what was set aside of a batch.
func (a *app) setAsideOf(cmd *cobra.Command, batch int64, paths []string, opt ingest.Options) error {
	if batch < 1 || len(paths) != 1 || opt.SetAside != "" || opt.DryRun || opt.Strict {
		return usagef("--set-aside-of takes a batch's number and one file to write, such as --set-aside-of 3 mend.csv, and no other flag of ingest")
	}
	if err := a.files.May(paths[0], ingest.OursSetAside); err != nil {
		return err
	}
	st, err := a.open(cmd.Context())
	if err != nil {
		return err
	}
	defer st.Close()
	parts, err := st.SetAside(cmd.Context(), batch)
	if err != nil {
		return err
	}
	if len(parts) == 0 {
		return fmt.Errorf("nothing was set aside of batch %d, or an earlier pourback took it in, which kept no such rows", batch)
	}
	files, err := ingest.WriteSetAside(a.files, paths[0], parts)
	if err != nil {
		return err
	}
	a.keeps()
	for i, p := range parts {
		fmt.Fprintf(a.beside(files[i]), "%s: the %d rows of %s that were set aside; mend them there and ingest that file\n", record.Shown(files[i]), p.Kept, asideTable(p))
		if p.Kept < p.Total {
			fmt.Fprintf(a.beside(files[i]), "  these are the first of %d: the others stand only in the file that was handed in\n", p.Total)
		}
	}
	return nil
}

// asideTable names what rows set aside are of: a table, and its tab where there is one.
func asideTable(p store.SetAside) string {
	if p.Tab == "" {
		return p.Table
	}
	return fmt.Sprintf("%s on the tab %s", p.Table, record.Shown(p.Tab))
}

// ingestStatus is 1 where every file was refused, and 3 where some were, or
// some rows were set aside.
func ingestStatus(results []ingest.Result) error {
	refused, aside := 0, 0
	for i := range results {
		if results[i].Refused != "" {
			refused++
		}
		aside += results[i].SetAside + results[i].LeftEmpty
	}
	switch {
	case refused == len(results):
		return errSaid
	case refused+aside > 0:
		return errSetAside
	}
	return nil
}

// sheetOptions are the settings that reading goes by.
func (a *app) sheetOptions() sheet.Options {
	encoding := a.settings.Encoding
	if encoding == "auto" {
		encoding = ""
	}
	return sheet.Options{
		Dictionary:   record.Dictionary{Columns: a.settings.Columns, Words: a.settings.Words},
		Today:        a.today,
		DayFirst:     a.settings.DateOrder == "dmy",
		DecimalComma: a.settings.DecimalComma,
		Encoding:     encoding,
	}
}

// stamp is the moment at which something is taken in or taken back.
func (a *app) stamp() string { return a.now().UTC().Format("2006-01-02T15:04:05Z") }

func printResult(w io.Writer, r *ingest.Result, opt ingest.Options) {
	if r.Refused != "" {
		became := "nothing of it was kept"
		if r.Doubtful() {
			became = "and it is not known whether it is kept"
		}
		fmt.Fprintf(w, "%s: refused, %s: %s\n", r.File, became, r.Refused)
	}
	if r.Read > 0 || r.Refused == "" {
		fmt.Fprintf(w, "%s: %s: %d read, %d new, %d changed, %d unchanged, %d set aside, %s%d warnings\n",
			r.File, strings.Join(r.Tables, ", "), r.Read, r.New, r.Changed, r.Unchanged, r.SetAside, leftEmpty(r), r.Warnings)
	}
	switch {
	case r.Refused != "":
	case opt.DryRun:
		fmt.Fprintln(w, "  a dry run: nothing was kept")
	case r.Batch == 0:
		fmt.Fprintln(w, "  nothing new: the records are as they were")
	default:
		fmt.Fprintf(w, "  kept as batch %d; `pourback undo %d` takes it back\n", r.Batch, r.Batch)
	}
	if r.Ambiguous > 0 {
		fmt.Fprintf(w, "  dates such as 3/4/2025, which only the date_order setting decides: %d\n", r.Ambiguous)
	}
	for _, what := range r.KeptOut {
		fmt.Fprintf(w, "  not used: %s\n", what)
	}
	if len(r.Unused) > 0 {
		fmt.Fprintf(w, "  not used, kept with each row as written: %s\n", unusedNames(r.Unused))
	}
	for _, file := range r.SetAsideTo {
		fmt.Fprintf(w, "  rows to fix are in %s: fix them there and ingest that file\n", file)
	}
}

// leftEmpty counts the rows that were kept with a cell left empty, if any were.
func leftEmpty(r *ingest.Result) string {
	if r.LeftEmpty == 0 {
		return ""
	}
	return fmt.Sprintf("%d kept with a cell left empty, ", r.LeftEmpty)
}

func unusedNames(columns []ingest.Unused) string {
	var names []string
	for _, c := range columns {
		names = append(names, fmt.Sprintf("%q", c.Heading))
	}
	return strings.Join(names, ", ")
}

func printJSON(w io.Writer, v any) error {
	enc := json.NewEncoder(w)
	enc.SetIndent("", "  ")
	return enc.Encode(v)
}
