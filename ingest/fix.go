package ingest

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
	"strings"

	"pourback/ingest/record"
	"pourback/ingest/sheet"
	"pourback/ingest/store"
)

// Fixing is what an owner says of single values of one record.
type Fixing struct {
	Target  string      // JOB, or JOB/PLACEMENT; of another table JOB and what tells its rows apart: JOB/PLACEMENT/TICKET
	Table   string      // the table that the target is a row of; jobs or placements where ""
	Key     []string    // in place of a target: the values of the row's key columns
	Seen    string      // the version of the record that was looked at, or "" for any: see [store.Trace]
	Exact   bool        // the values are as the database has them, not as people write them
	Values  [][2]string // column and value, as they are written
	Why     string
	Sheet   sheet.Options
	TakenAt string // UTC, to the second
	Problem func(record.Problem)
}

// Fixed is what became of it.
type Fixed struct {
	Batch   int64         `json:"batch"`
	Table   string        `json:"table"`
	Record  string        `json:"record"` // the key: "J-104 A"
	Columns []FixedColumn `json:"columns"`
}

// FixedColumn is one value. One that was given just as it is on record is
// confirmed: the owner says that it is right.
type FixedColumn struct {
	Column    string `json:"column"`
	Before    string `json:"before"`
	After     string `json:"after"`
	Confirmed bool   `json:"confirmed"`
}

// Fix corrects single values of a record, of whichever table, or confirms them. It is a batch like
// any file, by the same rules for values: in the change log, and to be undone.
func Fix(ctx context.Context, st *store.Store, f Fixing) (done Fixed, err error) {
	for tries := 0; ; tries++ {
		if done, err = fix(ctx, st, f); !again(err, tries) {
			return done, err
		}
	}
}

func fix(ctx context.Context, st *store.Store, f Fixing) (Fixed, error) {
	if f.Key != nil {
		f.Target = strings.Join(f.Key, "/")
	}
	file, digest := fixed+f.Target, sha256.Sum256([]byte(fmt.Sprint(f.Target, f.Values, f.Why)))
	if f.Why != "" {
		file += because + f.Why
	}
	tx, err := st.Begin(ctx, record.Shown(file), hex.EncodeToString(digest[:]), f.TakenAt)
	if err != nil {
		return Fixed{}, err
	}
	defer tx.Rollback()
	fx := &fixer{Fixing: &f, tx: tx}
	find := fx.find
	switch {
	case f.Key != nil:
		find = func(ctx context.Context, _ *store.Store) error { return fx.findKey(ctx) }
	case f.Table != "":
		find = fx.findRow
	}
	if err := find(ctx, st); err != nil {
		return Fixed{}, err
	}
	if err := fx.read(); err != nil {
		return Fixed{}, err
	}
	if err := fx.write(ctx); err != nil {
		return Fixed{}, err
	}
	batch, err := tx.Commit(ctx, store.Batch{Read: 1, Warnings: fx.warnings})
	fx.done.Batch = batch.ID
	return fx.done, err
}

// What the name of a fix's batch is made of.
const (
	fixed   = "fix "
	because = ": "
)

// IsFix says whether the file of a batch is a fix, and none.
func IsFix(file string) bool { return strings.HasPrefix(file, fixed) }

// WithoutWhy is the name of a batch without the reason of a fix, which may name
// anybody.
func WithoutWhy(file string) string {
	if IsFix(file) {
		file, _, _ = strings.Cut(file, because)
	}
	return file
}

// fixer fixes one record.
type fixer struct {
	*Fixing
	tx       *store.Tx
	old, now record.Record
	form     *sheet.Form
	given    []bool // the columns that get another value
	done     Fixed
	warnings int
}

// find finds the record: the job, or a placement of it. Columns of a job that
// has no row of its own stand with its only placement.
func (f *fixer) find(ctx context.Context, st *store.Store) error {
	job, err := f.tx.Find(ctx, &record.Job{JobNo: f.Target})
	if err != nil {
		return err
	}
	placed, err := f.tx.PlacedOn(ctx, []string{f.Target})
	if err != nil {
		return err
	}
	if job != nil && f.allIn(record.Jobs) {
		return f.found(job)
	}
	var names []string
	for at := range placed {
		names = append(names, at[1])
	}
	slices.Sort(names)
	switch {
	case len(names) == 1:
		return f.placement(ctx, f.Target, names[0])
	case len(names) > 1:
		return fmt.Errorf("job %s has placements %s: name one, such as %s/%s", f.Target, strings.Join(names, ", "), f.Target, names[0])
	case job != nil:
		return f.found(job)
	}
	if i := strings.LastIndexByte(f.Target, '/'); i > 0 {
		return f.findPlacement(ctx, st, f.Target[:i], f.Target[i+1:])
	}
	return unknownJob(ctx, st, f.Target)
}

// allIn says whether a table has all columns that are to be fixed.
func (f *fixer) allIn(t *record.Table) bool {
	form := sheet.NewForm(t, f.Sheet)
	return !slices.ContainsFunc(f.Values, func(v [2]string) bool { return form.Column(v[0]) < 0 })
}

func (f *fixer) findPlacement(ctx context.Context, st *store.Store, job, name string) error {
	placed, err := f.tx.PlacedOn(ctx, []string{job})
	if err != nil {
		return err
	}
	if len(placed) == 0 {
		return unknownJob(ctx, st, job)
	}
	if _, ok := placed[[2]string{job, name}]; ok {
		return f.placement(ctx, job, name)
	}
	var names []string
	for at := range placed {
		names = append(names, at[1])
	}
	slices.Sort(names)
	near, _ := record.Nearest(name, names)
	return fmt.Errorf("job %s has no placement %q; did you mean %s/%s?", job, name, job, near)
}

func unknownJob(ctx context.Context, st *store.Store, job string) error {
	all, err := st.JobNos(ctx)
	if err != nil {
		return err
	}
	if near, _ := record.Nearest(job, all); near != "" {
		return noTarget("no job %q on record; did you mean %s?", job, near)
	}
	return noTarget("no job %q on record, and no other: nothing has been taken in yet", job)
}

func (f *fixer) placement(ctx context.Context, job, name string) error {
	r, err := f.tx.Find(ctx, &record.Placement{JobNo: job, Placement: name})
	if err == nil && r == nil {
		err = fmt.Errorf("no placement %s/%s on record", job, name)
	}
	if err != nil {
		return err
	}
	return f.found(r)
}

// found readies what is needed to fix a record.
func (f *fixer) found(r record.Record) error {
	t := r.Table()
	f.old, f.now = r, copyOf(r)
	f.form, f.given = sheet.NewForm(t, f.Sheet), make([]bool, len(t.Columns))
	var key []string
	for _, i := range t.Keys() {
		f.given[i] = true
		key = append(key, record.FieldText(r.Fields()[i]))
	}
	f.done.Table, f.done.Record = t.Name, strings.Join(key, " ")
	return nil
}

// read reads the values and holds the record as it would be against the rules.
func (f *fixer) read() error {
	var problems []record.Problem
	for _, v := range f.Values {
		said, err := f.value(v[0], v[1])
		if err != nil {
			return err
		}
		problems = append(problems, said...)
	}
	before := f.old.Check(f.Sheet.Today)
	for _, p := range f.now.Check(f.Sheet.Today) {
		if !slices.ContainsFunc(before, func(b record.Problem) bool { return b.Code == p.Code && b.Column == p.Column }) {
			problems = append(problems, p)
		}
	}
	var wrong []record.Problem
	for _, p := range problems {
		p.Record = f.done.Record
		if p.Severity == record.Error {
			wrong = append(wrong, p)
			continue
		}
		f.warn(p)
	}
	if len(wrong) > 0 {
		return &UnfitError{wrong}
	}
	return nil
}

func (f *fixer) warn(p record.Problem) {
	f.warnings++
	if f.Problem != nil {
		f.Problem(p)
	}
}

// value reads one value into the record, or knows it for the one on record.
func (f *fixer) value(name, text string) ([]record.Problem, error) {
	t := f.old.Table()
	i := f.form.Column(name)
	switch {
	case i < 0:
		return nil, fmt.Errorf("%s have no column %q; did you mean %s?", t.Name, name, f.form.Nearest(name))
	case t.Columns[i].Key:
		return nil, fmt.Errorf("%s is what the record is known by, and cannot be fixed: take its batch back with `pourback undo`, and hand the row in anew", t.Columns[i].Name)
	case slices.ContainsFunc(f.done.Columns, func(c FixedColumn) bool { return c.Column == t.Columns[i].Name }):
		return nil, fmt.Errorf("%s is given twice", t.Columns[i].Name)
	}
	old, now := f.old.Fields()[i], f.now.Fields()[i]
	is := FixedColumn{Column: t.Columns[i].Name, Before: record.FieldText(old)}
	var said []record.Problem
	again := t.New().Fields()[i]
	if exact := record.SetField(again, text); f.Exact {
		if exact != nil {
			return nil, exact
		}
		record.CopyField(now, again)
	} else if text == "" || exact != nil || record.FieldText(again) != is.Before {
		said = f.form.Read(f.now.Fields(), name, text)
	}
	is.After = record.FieldText(now)
	if is.Confirmed = is.After == is.Before && !failed(said); is.Confirmed {
		said = nil
	}
	if is.Confirmed && is.Before == "" {
		return nil, fmt.Errorf("%s of %s is missing as it is: %w", is.Column, f.done.Record, ErrNothingToFix)
	}
	f.given[i] = f.given[i] || !is.Confirmed
	f.done.Columns = append(f.done.Columns, is)
	return said, nil
}

func failed(said []record.Problem) bool {
	return slices.ContainsFunc(said, func(p record.Problem) bool { return p.Severity == record.Error })
}

// saidRight notes on the record that values are right, so that one that is not
// possible counts all the same. It is false where nothing new was noted: all was
// so before, or the table has no such note.
func (f *fixer) saidRight(confirmed []string) bool {
	note := f.now.Table().Index("said_right")
	if note < 0 {
		return false
	}
	before := record.FieldText(f.now.Fields()[note])
	for _, column := range confirmed {
		record.Confirm(f.now, column)
	}
	f.given[note] = f.given[note] || record.FieldText(f.now.Fields()[note]) != before
	return f.given[note]
}

// doubtfulRow says of a row that a check finds it and goes on finding it.
func doubtfulRow() record.Problem {
	return record.Problem{Code: "not-as-written", Wrong: "before this the record was not as it was written, and it is not even now",
		Right: "hold its other values against the file it came from"}
}

// write writes what is another now, and confirms what is not.
func (f *fixer) write(ctx context.Context) error {
	var confirmed []string
	for _, c := range f.done.Columns {
		if c.Confirmed {
			confirmed = append(confirmed, c.Column)
		}
	}
	if len(confirmed) < len(f.done.Columns) || f.saidRight(confirmed) {
		doubtful, err := f.tx.Set(ctx, f.now, f.given)
		if err != nil {
			return err
		}
		if doubtful {
			p := doubtfulRow()
			p.Record = f.done.Record
			f.warn(p)
		}
	}
	if len(confirmed) == 0 {
		return nil
	}
	return f.tx.Confirm(ctx, f.now, confirmed)
}
