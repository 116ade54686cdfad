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
	Pictures PictureRules // of the pictures that a table of them names
	TakenAt  string       // UTC, to the second: 2006-01-02T15:04:05Z
	Problem  func(record.Problem)
	Progress func(file string, done, total int64)

	// Of one file, by [Take].
	Settled Settled
	Odd     func(t *sheet.Table, r *sheet.Row)                       // told of each row with problems; it is valid meanwhile
	With    func(ctx context.Context, tx *store.Tx, r *Result) error // what is done in the same transaction, last before it is kept; its error gives all up
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

	Jobs        int            `json:"-"` // of which rows were read
	Rows        map[string]int `json:"-"` // that came in or are there, by table
	First, Last record.Date    `json:"-"` // day of a pour among them; 0 for none
	LeftOut     int            `json:"-"` // rows that somebody has left out for good

	problems   func(record.Problem)
	path       string // as it was given
	doubt      bool   // it is refused, and may be kept all the same
	said, told int    // problems found in this reading, and passed on in all
}

// newResult is of a file of which nothing is read yet.
func newResult(path string, problems func(record.Problem)) Result {
	return Result{File: record.Shown(path), path: path, Tables: []string{}, KeptOut: []string{}, Unused: []Unused{}, Rows: map[string]int{}, problems: problems}
}

// Doubtful says of a file that was refused that it is not known whether it is
// kept all the same.
func (r *Result) Doubtful() bool { return r.doubt }

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
	for i, path := range paths {
		results[i] = newResult(path, opt.Problem)
	}
	known, err := Remembered(ctx, st)
	if err != nil {
		for i := range results {
			results[i].refuse(err)
		}
		return results, err
	}
	opt.Sheet.Answers = append(slices.Clone(opt.Sheet.Answers), known...)
	var files []opened
	for i, path := range paths {
		f, err := opt.open(path)
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
		r := &results[f.at]
		err := c.takeFile(ctx, f.file, r)
		for tries := 0; again(err, tries) && rereadable(r.path); tries++ {
			err = c.takeAgain(ctx, r)
		}
		if err != nil {
			r.refuse(err)
			c.aside.drop(r.path)
			for _, rest := range files[i+1:] {
				results[rest.at].refuse(errors.New("it was not reached"))
			}
			return results, errors.Join(fmt.Errorf("%s: %w", record.Shown(f.file.Name), err), c.aside.finish(results))
		}
	}
	if err := errors.Join(c.remember(ctx, slices.ContainsFunc(results, kept)), c.aside.finish(results)); err != nil {
		return results, err
	}
	return results, c.compare(ctx, slices.ContainsFunc(results, kept))
}

// open opens a file to be read.
func (opt *Options) open(path string) (*sheet.File, error) {
	so := opt.Sheet
	if opt.Progress != nil {
		so.Progress = func(done, total int64) { opt.Progress(path, done, total) }
	}
	return sheet.Open(path, so)
}

// rank is the place of a file's first table in the order of taking in.
func rank(f *sheet.File) int {
	first := len(record.Stored)
	for _, t := range f.Tables {
		first = min(first, slices.Index(record.Stored, t.Records))
	}
	return first
}

// call is one call of [Files].
type call struct {
	store *store.Store
	opt   Options
	aside *setAside
	seen  *seen

	source *Source        // the one file of a call that has it at hand
	said   []sheet.Answer // about its headings, to be remembered with it

	meanings []sheet.Answer // of headings that were understood: what is set aside, and next month's few rows, mean the same
}

// remember keeps what the headings of files with rows set aside mean, for when
// those rows are handed in again. The error is an [*UnwrittenError] if anything was
// kept, and does not pass on what may say that nothing was.
func (c *call) remember(ctx context.Context, kept bool) error {
	err := Remember(ctx, c.store, c.meanings, c.opt.TakenAt)
	if err == nil {
		return nil
	}
	why := fmt.Errorf("what the headings above rows set aside mean is not remembered: %v", err)
	if ended := ctx.Err(); ended != nil {
		why = fmt.Errorf("it ended before it was remembered what the headings above rows set aside mean: %w", ended)
	}
	if kept {
		return &UnwrittenError{Reason: fmt.Errorf("the files are taken in; %w", why)}
	}
	return why
}

func kept(r Result) bool { return r.Batch != 0 }

// compare says where summaries that were handed in differ from their events.
// Where it cannot, the error is an [*UnwrittenError] if anything was kept.
func (c *call) compare(ctx context.Context, kept bool) error {
	found, err := differences(ctx, c.store, c.seen, c.opt.Sheet.Today)
	if err != nil {
		return notCompared(ctx, err, kept)
	}
	for _, p := range found {
		if c.opt.Problem != nil {
			c.opt.Problem(p)
		}
	}
	return nil
}

// notCompared does not pass the error itself on, which may say that nothing was
// kept; only the end of the context, as that.
func notCompared(ctx context.Context, err error, kept bool) error {
	why := fmt.Errorf("summaries could not be compared with their events: %v", err)
	if ended := ctx.Err(); ended != nil {
		why = fmt.Errorf("it ended before summaries were compared with their events: %w", ended)
	}
	if kept {
		return &UnwrittenError{Reason: fmt.Errorf("the files are taken in; %w", why)}
	}
	return why
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
		taker := &taker{tx: tx, table: t, path: r.path, result: r, aside: c.aside, seen: c.seen, answers: c.opt.Sheet.Answers, settled: c.opt.Settled, odd: c.opt.Odd, rules: c.opt.Pictures, takenAt: c.opt.TakenAt}
		err := taker.take(ctx)
		var refusal *sheet.Refusal
		if errors.As(err, &refusal) {
			r.refuse(err)
			return nil
		}
		if err != nil {
			return err
		}
	}
	if !c.opt.DryRun {
		for _, t := range f.Tables {
			c.meanings = append(c.meanings, t.Meanings()...)
		}
	}
	return r.keep(ctx, tx, f, c)
}

// refuse forgets the counts of a file that turned out unreadable halfway.
func (r *Result) refuse(err error) {
	r.Refused, r.doubt = whyRefused(err), errors.Is(err, store.ErrDoubt)
	r.New, r.Changed, r.Unchanged, r.Jobs, r.Rows, r.First, r.Last = 0, 0, 0, 0, map[string]int{}, 0, 0
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
	r.Jobs = len(c.seen.jobs)
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
	if err == nil && c.source != nil {
		err = c.rememberWith(ctx, tx)
	}
	if err == nil && c.opt.With != nil {
		err = c.opt.With(ctx, tx, r)
	}
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
	if r.said++; r.problems != nil && r.said > r.told {
		r.told = r.said
		r.problems(p)
	}
}
