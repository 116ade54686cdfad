// Package ingest takes record files into the store: files in, batches in the
// database, problems out. One file is one transaction; a row with an error is
// set aside with all its problems and the good rows are kept.
package ingest

import (
	"cmp"
	"context"
	"encoding/hex"
	"errors"
	"fmt"
	"slices"

	"pourback/ingest/outfile"
	"pourback/ingest/record"
	"pourback/ingest/sheet"
	"pourback/ingest/store"
)

// Options are how files are read and what is kept of them.
type Options struct {
	Sheet    sheet.Options
	DryRun   bool         // read and check everything, keep nothing
	Strict   bool         // keep nothing of a file unless all its rows are good
	SetAside string       // file for rows set aside; beside the source where ""
	Out      *outfile.Out // how files are written; nil is as any may be
	TakenAt  string       // UTC, to the second: 2006-01-02T15:04:05Z
	Problem  func(record.Problem)
	Progress func(file string, done, total int64)
}

// Result is what became of one file.
type Result struct {
	File       string   `json:"file"`
	Tables     []string `json:"tables"`
	Batch      int64    `json:"batch,omitempty"` // 0 where nothing was kept
	Read       int      `json:"read"`
	New        int      `json:"new"`
	Changed    int      `json:"changed"`
	Unchanged  int      `json:"unchanged"`
	SetAside   int      `json:"set_aside"`
	LeftEmpty  int      `json:"left_empty"` // rows kept with a cell that could not be read
	Warnings   int      `json:"warnings"`
	Ambiguous  int      `json:"ambiguous_dates"`
	KeptOut    []string `json:"kept_out"` // sheets that hold no records, with why
	Unused     []Unused `json:"unused"`   // columns that are kept with their rows and count nowhere
	SetAsideTo []string `json:"set_aside_to,omitempty"`
	Refused    string   `json:"refused,omitempty"` // why the whole file was
	problems   func(record.Problem)
	path       string // as it was given
}

// Files takes the files in, those that others refer to first: jobs before
// placements before their events. Beside the answers of the options it goes by
// those that earlier files were given. A file that cannot be read at all is refused
// and the others go on; the error is for what stops everything. What the results
// say was kept is kept, whatever the error.
func Files(ctx context.Context, st *store.Store, paths []string, opt Options) ([]Result, error) {
	results := make([]Result, len(paths))
	type opened struct {
		file *sheet.File
		at   int
	}
	known, err := Remembered(ctx, st)
	if err != nil {
		return results, err
	}
	opt.Sheet.Answers = append(slices.Clone(opt.Sheet.Answers), known...)
	var files []opened
	for i, path := range paths {
		results[i] = Result{File: record.Shown(path), path: path, Tables: []string{}, KeptOut: []string{}, Unused: []Unused{}, problems: opt.Problem}
		so := opt.Sheet
		if opt.Progress != nil {
			so.Progress = func(done, total int64) { opt.Progress(path, done, total) }
		}
		f, err := sheet.Open(path, so)
		if err != nil {
			results[i].Refused = whyRefused(err)
			continue
		}
		defer f.Close()
		files = append(files, opened{f, i})
	}
	slices.SortStableFunc(files, func(a, b opened) int { return cmp.Compare(rank(a.file), rank(b.file)) })
	if opt.Out == nil {
		opt.Out = &outfile.Out{}
	}
	c := &call{store: st, opt: opt, aside: &setAside{path: opt.SetAside, dry: opt.DryRun, out: opt.Out}, seen: newSeen(opt.DryRun)}
	for i, f := range files {
		if err := c.takeFile(ctx, f.file, &results[f.at]); err != nil {
			results[f.at].refuse(err)
			c.aside.drop(results[f.at].path)
			for _, rest := range files[i+1:] {
				results[rest.at].refuse(errors.New("it was not reached"))
			}
			return results, errors.Join(err, c.aside.finish(results))
		}
	}
	if err := Remember(ctx, st, c.meanings, opt.TakenAt); err != nil {
		return results, errors.Join(err, c.aside.finish(results))
	}
	if err := c.aside.finish(results); err != nil {
		return results, err
	}
	return results, c.compare(ctx)
}

// rank is the place of a file's first table in the order of taking in.
func rank(f *sheet.File) int {
	first := len(record.Tables)
	for _, t := range f.Tables {
		first = min(first, slices.Index(record.Tables, t.Records))
	}
	return first
}

// call is one call of [Files].
type call struct {
	store *store.Store
	opt   Options
	aside *setAside
	seen  *seen

	meanings []sheet.Answer // of headings of files with rows set aside
}

// compare says where summaries that were handed in differ from their events.
func (c *call) compare(ctx context.Context) error {
	found, err := differences(ctx, c.store, c.seen, c.opt.Sheet.Today)
	for _, p := range found {
		if c.opt.Problem != nil {
			c.opt.Problem(p)
		}
	}
	return err
}

// takeFile takes one file in, in one transaction.
func (c *call) takeFile(ctx context.Context, f *sheet.File, r *Result) error {
	tx, err := c.store.Begin(ctx, record.Shown(f.Name), "", c.opt.TakenAt)
	if err != nil {
		return err
	}
	defer tx.Rollback()
	r.KeptOut = append(r.KeptOut, f.Ignored...)
	for _, t := range f.Tables {
		r.Tables = append(r.Tables, t.Records.Name)
		taker := &taker{tx: tx, table: t, path: r.path, result: r, aside: c.aside, seen: c.seen, answers: c.opt.Sheet.Answers}
		err := taker.take(ctx)
		var refusal *sheet.Refusal
		if errors.As(err, &refusal) {
			r.refuse(err)
			return nil
		}
		if err != nil {
			return fmt.Errorf("%s: %w", f.Name, err)
		}
	}
	if r.SetAside+r.LeftEmpty > 0 && !c.opt.DryRun {
		for _, t := range f.Tables {
			c.meanings = append(c.meanings, t.Meanings()...)
		}
	}
	return r.keep(ctx, tx, f, c)
}

// refuse forgets the counts of a file that turned out unreadable halfway.
func (r *Result) refuse(err error) {
	r.Refused = whyRefused(err)
	r.New, r.Changed, r.Unchanged = 0, 0, 0
}

// whyRefused is the reason without the file's name, which stands beside it.
func whyRefused(err error) string {
	var refusal *sheet.Refusal
	if errors.As(err, &refusal) {
		p := refusal.Problem
		p.File = ""
		return p.String()
	}
	return record.Shown(err.Error())
}

// keep commits, unless the call or a bad row forbids it.
func (r *Result) keep(ctx context.Context, tx *store.Tx, f *sheet.File, c *call) error {
	if c.opt.Strict && r.SetAside+r.LeftEmpty > 0 {
		r.refuse(fmt.Errorf("%d of its rows have errors, and --strict keeps none unless all are good", r.SetAside+r.LeftEmpty))
		return nil
	}
	if c.opt.DryRun {
		return nil
	}
	aside, err := c.aside.keep(r.path)
	if err == nil {
		err = tx.KeepSetAside(ctx, aside)
	}
	if err != nil {
		return err
	}
	digest, err := f.Digest()
	if err != nil {
		return err
	}
	batch, err := tx.Commit(ctx, store.Batch{SHA256: hex.EncodeToString(digest[:]), Read: r.Read, SetAside: r.SetAside, Warnings: r.Warnings})
	r.Batch = batch.ID
	return err
}

// say passes a problem on and counts warnings.
func (r *Result) say(p record.Problem) {
	if p.Severity == record.Warning {
		r.Warnings++
	}
	if r.problems != nil {
		r.problems(p)
	}
}
