package ingest

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"pourback/ingest/record"
	"pourback/ingest/store"
)

// What a fix cannot be.
var (
	ErrNoRecord     = errors.New("this record is not there any more")
	ErrNothingToFix = errors.New("there is nothing to fix")
)

// ChangedError says that a record is another one by now than the one that was
// looked at: nothing was kept.
type ChangedError struct {
	Now     record.Record // as it is
	Version string        // of it
}

func (e *ChangedError) Error() string {
	return "somebody has changed this record meanwhile: nothing was kept"
}

// UnfitError says what is wrong with the values that a record was to get: nothing
// was kept.
type UnfitError struct{ Problems []record.Problem }

func (e *UnfitError) Error() string { return nothingKept(e.Problems) }

// nothingKept says what was wrong with values.
func nothingKept(problems []record.Problem) string {
	wrong := make([]string, len(problems))
	for i, p := range problems {
		wrong[i] = p.String()
	}
	return "nothing kept: " + strings.Join(wrong, "\n")
}

// NoTargetError says that there is no such record as was named.
type NoTargetError struct{ wrong string }

func (e *NoTargetError) Error() string { return e.wrong }

func noTarget(format string, args ...any) error { return &NoTargetError{fmt.Sprintf(format, args...)} }

// findKey finds the record that has a key.
func (f *fixer) findKey(ctx context.Context) error {
	t := record.TableNamed(f.Table)
	if t == nil || len(f.Key) != len(t.Keys()) {
		return ErrNoRecord
	}
	key := t.New()
	for n, i := range t.Keys() {
		if err := record.SetField(key.Fields()[i], f.Key[n]); err != nil {
			return ErrNoRecord
		}
	}
	r, version, err := f.tx.Seen(ctx, key)
	switch {
	case err != nil:
		return err
	case r == nil:
		return ErrNoRecord
	case f.Seen != "" && f.Seen != version:
		return &ChangedError{r, version}
	}
	return f.found(r)
}

// findRow finds the row of a table that the target names: the job, and behind it
// what tells its rows apart, with strokes between. The placement may be left out,
// and all of it, where one row is left all the same.
func (f *fixer) findRow(ctx context.Context, st *store.Store) error {
	t := record.TableNamed(f.Table)
	if t == nil {
		var names []string
		for _, t := range record.Tables {
			names = append(names, t.Name)
		}
		near, _ := record.Nearest(f.Table, names)
		return fmt.Errorf("there is no table %q; did you mean %s? There are %s", f.Table, near, strings.Join(names, ", "))
	}
	rows, rest, err := f.rowsOfTarget(ctx, t)
	if err != nil {
		return err
	}
	if len(rows) == 0 {
		all, err := st.JobNos(ctx)
		if err != nil {
			return err
		}
		if job := f.jobOfTarget(all); job != "" {
			return fmt.Errorf("job %s has no row of %s on record", job, t.Name)
		}
		return unknownJob(ctx, st, f.Target)
	}
	var found []record.Record
	for _, r := range rows {
		if exact, near := namesRow(r, rest); exact {
			return f.found(r)
		} else if near {
			found = append(found, r)
		}
	}
	if len(found) == 1 {
		return f.found(found[0])
	}
	return whichRow(t, rows)
}

// jobOfTarget is the job that the target begins with, or "".
func (f *fixer) jobOfTarget(all []string) string {
	for job := f.Target; ; {
		if slices.Contains(all, job) {
			return job
		}
		i := strings.LastIndexByte(job, '/')
		if i < 0 {
			return ""
		}
		job = job[:i]
	}
}

// rowsOfTarget are the rows of the job that the target begins with, and what
// stands behind it. A job's number may hold strokes itself.
func (f *fixer) rowsOfTarget(ctx context.Context, t *record.Table) (rows []record.Record, rest string, err error) {
	for job := f.Target; ; {
		if rows, err = f.tx.RowsOf(ctx, t, job); err != nil || len(rows) > 0 {
			return rows, strings.TrimPrefix(f.Target[len(job):], "/"), err
		}
		i := strings.LastIndexByte(job, '/')
		if i < 0 {
			return nil, "", nil
		}
		job = job[:i]
	}
}

// namesRow says whether a text names a row of a job: exactly, or leaving its
// placement out, or everything.
func namesRow(r record.Record, text string) (exact, near bool) {
	whole, short := rowName(r)
	return text == whole, text == "" || text == short
}

// rowName is what tells a row from others of its job, and the same without the
// placement.
func rowName(r record.Record) (whole, short string) {
	var all, but []string
	t, fields := r.Table(), r.Fields()
	for _, i := range t.Keys()[1:] { // every key begins with the job_no
		text := record.FieldText(fields[i])
		all = append(all, text)
		if t.Columns[i].Name != "placement" {
			but = append(but, text)
		}
	}
	return strings.Join(all, "/"), strings.Join(but, "/")
}

// whichRow asks for one of a job's rows.
func whichRow(t *record.Table, rows []record.Record) error {
	const most = 8
	job := *rows[0].Fields()[0].(*string)
	var names []string
	for _, r := range rows[:min(len(rows), most)] {
		whole, _ := rowName(r)
		names = append(names, job+"/"+whole)
	}
	more := ""
	if len(rows) > most {
		more = fmt.Sprintf(" and %d more", len(rows)-most)
	}
	return fmt.Errorf("name one row of %s: job %s has %s%s", t.Name, job, strings.Join(names, ", "), more)
}
