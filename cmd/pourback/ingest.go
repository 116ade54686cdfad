package main

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"pourback/ingest"
	"pourback/ingest/record"
	"pourback/ingest/sheet"
)

func newIngest(a *app) *cobra.Command {
	var opt ingest.Options
	cmd := &cobra.Command{
		Use:   "ingest FILE…",
		Short: "Take in record files (CSV or XLSX)",
		Long: "Take in record files, CSV or XLSX. Every problem is named with its place and what would be right.\n" +
			"Rows with errors are set aside in a file that can be mended and handed in again; the others are kept.",
		Args: wantArgs(1, -1, "at least one file"),
		RunE: func(cmd *cobra.Command, paths []string) error { return a.ingest(cmd, paths, opt) },
	}
	cmd.Flags().BoolVar(&opt.DryRun, "dry-run", false, "read and check everything, keep nothing")
	cmd.Flags().BoolVar(&opt.Strict, "strict", false, "keep nothing of a file unless all its rows are good")
	cmd.Flags().StringVar(&opt.SetAside, "set-aside", "", "the file for rows that are set aside (default: beside the source)")
	return cmd
}

func (a *app) ingest(cmd *cobra.Command, paths []string, opt ingest.Options) error {
	st, err := a.open(cmd.Context())
	if err != nil {
		return err
	}
	defer st.Close()
	bar := newProgress(a)
	said := newSaying(a.stdout, a.settings.JSON)
	opt.Sheet, opt.TakenAt, opt.Progress = a.sheetOptions(), a.stamp(), bar.update
	opt.Problem = func(p record.Problem) {
		bar.clear()
		said.say(p)
	}
	results, err := ingest.Files(cmd.Context(), st, paths, opt)
	bar.clear()
	if err != nil {
		return err
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
	return ingestStatus(results)
}

// ingestStatus is 1 where every file was refused, and 3 where some were, or
// some rows were set aside.
func ingestStatus(results []ingest.Result) error {
	refused, aside := 0, 0
	for i := range results {
		if results[i].Refused != "" {
			refused++
		}
		aside += results[i].SetAside
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
		fmt.Fprintf(w, "%s: refused, nothing of it was kept: %s\n", r.File, r.Refused)
	}
	if r.Read > 0 || r.Refused == "" {
		fmt.Fprintf(w, "%s: %s: %d read, %d new, %d changed, %d unchanged, %d set aside, %d warnings\n",
			r.File, strings.Join(r.Tables, ", "), r.Read, r.New, r.Changed, r.Unchanged, r.SetAside, r.Warnings)
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
		fmt.Fprintf(w, "  kept out: %s\n", what)
	}
	for _, file := range r.SetAsideTo {
		fmt.Fprintf(w, "  rows set aside are in %s: mend them there and ingest that file\n", file)
	}
}

func printJSON(w io.Writer, v any) error {
	enc := json.NewEncoder(w)
	enc.SetIndent("", "  ")
	return enc.Encode(v)
}
