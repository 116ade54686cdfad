package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strconv"

	"github.com/spf13/cobra"

	"pourback/analysis/bid"
	"pourback/ingest"
	"pourback/ingest/invented"
	"pourback/ingest/outfile"
	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/report/page"
	"pourback/report/say"
)

func newDemo(a *app) *cobra.Command {
	d := demo{app: a}
	cmd := &cobra.Command{
		Use:   "demo",
		Short: "Invent a company's history, take it in, and write its report and a bid",
		Long: "Invent the job history of Saltgrass Flatwork, a company that does not exist, as record files in full form;\n" +
			"take them into a database, bid on its latest jobs as if they were still to come and on one that is, write the\n" +
			"report and that bid, and say what to open.",
		Args: wantArgs(0, 0, "no arguments"),
		RunE: func(cmd *cobra.Command, _ []string) error {
			if d.jobs < 1 || d.jobs > 1_000_000 {
				return usagef("--jobs %d: want 1 to 1000000", d.jobs)
			}
			return d.run(cmd.Context(), cmd.Flags().Changed("db") || a.settings.source["db"] != "default")
		},
	}
	cmd.Flags().StringVar(&d.dir, "dir", "demo", "the folder to write")
	cmd.Flags().IntVar(&d.jobs, "jobs", 430, "how many jobs to invent; 430 make about 600 placements")
	cmd.Flags().Uint64Var(&d.seed, "seed", 1, "another number invents another history")
	return cmd
}

type demo struct {
	*app
	dir    string
	jobs   int
	seed   uint64
	folder *outfile.Folder
}

const (
	demoMark = "INVENTED.txt"
	demoNote = "Everything in this folder is invented by `pourback demo`: the company, its jobs and\n" +
		"every number. The command replaces what it wrote here when it is run again, and leaves other files.\n"
)

func (d *demo) run(ctx context.Context, ownDB bool) error {
	if !ownDB {
		d.settings.DB = filepath.Join(d.dir, "pourback.db")
	}
	if err := d.clear(ctx, ownDB); err != nil {
		return err
	}
	if d.settings.Company.Name == "" {
		d.settings.Company = company{Name: "Saltgrass Flatwork (invented)", Address: "12 Cinder Road, Low Mesa", Phones: phones{Plant: "555-0142", Pump: "555-0171", Owner: "555-0110"}}
	}
	st, err := d.openOrMake(ctx)
	if err != nil {
		return err
	}
	defer st.Close()
	if err := mustBeEmpty(ctx, st); err != nil {
		return err
	}
	set, _, err := invented.Generate(invented.Options{Jobs: d.jobs, Seed: d.seed, Until: d.asOf})
	if err != nil {
		return err
	}
	files, err := d.writeRecords(set)
	if err != nil {
		return err
	}
	d.tell("Invented %d jobs with %d placements: record files in %s", len(set.Jobs), len(set.Placements), filepath.Join(d.dir, "records"))
	if err := d.take(ctx, st, files); err != nil {
		return err
	}
	bid, id, err := d.bids(ctx, st)
	if err != nil {
		return err
	}
	page, err := (&reportCall{app: d.app, dir: filepath.Join(d.dir, "report")}).pagesOnly(ctx, st)
	if err != nil {
		return err
	}
	d.keeps()
	return d.say(page, bid, id)
}

// clear makes the folder, or readies one that an earlier demo wrote: its
// database is taken away, and its files are to be replaced. It touches no folder
// that holds anything else, and nothing that the demo did not write.
func (d *demo) clear(ctx context.Context, ownDB bool) error {
	entries, err := os.ReadDir(d.dir)
	if err != nil && !errors.Is(err, os.ErrNotExist) {
		return err
	}
	marked := slices.ContainsFunc(entries, func(e os.DirEntry) bool { return e.Name() == demoMark })
	if len(entries) > 0 && !marked {
		return fmt.Errorf("%s holds files that no demo wrote; name an empty or a new folder with --dir", record.Shown(d.dir))
	}
	if !ownDB {
		if err := d.clearDatabase(ctx); err != nil {
			return err
		}
	}
	d.files = &outfile.Out{Force: d.files.Force} // invented: anybody may read it
	if path, ok := store.File(d.settings.DB); ok {
		d.files.ReadsDatabase(path)
	}
	if d.folder, err = d.files.Folder(d.dir, nil, demoMark, "bid.yaml", "bid.html", "proposal.html", "pour-day.html"); err != nil {
		return err
	}
	_, err = d.folder.Write(demoMark, func(w io.Writer) error { _, err := io.WriteString(w, demoNote); return err })
	return err
}

// clearDatabase takes away an earlier demo's database, unless something was
// taken into it since.
func (d *demo) clearDatabase(ctx context.Context) error {
	st, err := d.openWith(ctx, store.Options{Existing: true})
	if none := new(store.NoDatabaseError); errors.As(err, &none) {
		return nil
	}
	if err != nil {
		return err
	}
	batches, err := st.Batches(ctx)
	if err := errors.Join(err, st.Close()); err != nil {
		return err
	}
	files := map[string]bool{}
	for _, b := range batches {
		ours := slices.ContainsFunc(record.Tables, func(t *record.Table) bool { return b.File == t.Name+".csv" })
		if !ours || files[b.File] {
			return fmt.Errorf("%s holds more than the demo took in (batch %d, from %s); name another folder with --dir", d.settings.DB, b.ID, b.File)
		}
		files[b.File] = true
	}
	for _, part := range []string{"", "-wal", "-shm"} {
		if err := os.Remove(d.settings.DB + part); err != nil && !errors.Is(err, os.ErrNotExist) {
			return err
		}
	}
	return nil
}

// mustBeEmpty keeps invented records out of a database with real ones.
func mustBeEmpty(ctx context.Context, st *store.Store) error {
	batches, err := st.Batches(ctx)
	if err != nil {
		return err
	}
	for _, b := range batches {
		if b.UndoneAt == "" {
			return fmt.Errorf("the database already holds records (batch %d, from %s): the demo's are invented and want an empty one", b.ID, b.File)
		}
	}
	return nil
}

// writeRecords writes the full form, which is taken in, and beside it the same
// history as the single job log an owner would keep.
func (d *demo) writeRecords(set record.Set) ([]string, error) {
	files, err := ingest.WriteSet(filepath.Join(d.dir, "records"), set)
	if err != nil {
		return nil, err
	}
	log := record.Set{Placements: invented.JobLog(set, d.asOf)}
	_, err = ingest.WriteSet(filepath.Join(d.dir, "job-log"), log)
	return files, err
}

func (d *demo) take(ctx context.Context, st *store.Store, files []string) error {
	bar := newProgress(d.app)
	opt := ingest.Options{Sheet: d.sheetOptions(), TakenAt: d.stamp(), Progress: bar.update}
	opt.Sheet.Today = max(d.today, d.asOf)
	results, err := ingest.Files(ctx, st, files, opt)
	bar.clear()
	if err != nil {
		return err
	}
	rows := 0
	for i := range results {
		r := &results[i]
		if r.Refused != "" || r.SetAside > 0 {
			return fmt.Errorf("the demo's own records were not all taken in: %s: %d set aside %s", r.File, r.SetAside, r.Refused)
		}
		rows += r.New
	}
	d.tell("Took in %d rows into %s", rows, store.Shown(d.settings.DB))
	return nil
}

// say prints the bid's answer and what to open.
func (d *demo) say(index string, offer *bid.Bid, id int64) error {
	in := func(name string) string { return filepath.Join(d.dir, name) }
	if d.settings.JSON {
		return printJSON(d.stdout, map[string]any{"invented": true, "db": store.Shown(d.settings.DB), "report": index, "bid": id,
			"bid_sheet": in("bid.html"), "spec": in("bid.yaml"), "pour_day": in("pour-day.html"), "proposal": in("proposal.html"),
			"records": in("records"), "job_log": filepath.Join(in("job-log"), "placements.csv")})
	}
	_, err := io.WriteString(d.stdout, say.Written{Voice: d.voice()}.Demo(say.DemoFiles{Answer: page.BidPage(offer, d.reportOptions()).Answer,
		Report: index, Bid: in("bid.html"), Spec: in("bid.yaml"), Proposal: in("proposal.html"), PourDay: in("pour-day.html"), DB: store.Shown(d.settings.DB), ID: strconv.FormatInt(id, 10),
		Records: in("records"), JobLog: filepath.Join(in("job-log"), "placements.csv")}))
	return err
}
