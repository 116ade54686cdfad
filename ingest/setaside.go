package ingest

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"pourback/ingest/outfile"
	"pourback/ingest/record"
	"pourback/ingest/sheet"
	"pourback/ingest/store"
)

// setAside writes the rows that could not be taken in, as they were written and
// with a problem column behind them, to files that can be mended and handed in
// again: one for each table that a file held. What goes wrong with those files
// stops no taking in: the rows are kept with the batch as well.
type setAside struct {
	path string // where the user wants them; "" is beside the source
	dry  bool
	out  *outfile.Out

	nowhere bool // they are kept with the batch alone
	files   []*asideFile
}

type asideFile struct {
	source string // the file that the rows came from
	table  *sheet.Table
	target string
	tmp    *outfile.File // nil where it could not be made
	rows   *sheet.Rejects
	err    error // the first that befell the file

	total, kept int
	copy        bytes.Buffer // of the first rows, to be kept with the batch
	copyRows    *sheet.Rejects
}

// mostKept is how many bytes of rows set aside are kept with a batch, for each
// table.
const mostKept = 16 << 20

// UnwrittenError says that what was taken in is kept, and that what came of it
// could not all be written.
type UnwrittenError struct{ Reason error }

func (e *UnwrittenError) Error() string { return e.Reason.Error() }

func (e *UnwrittenError) Unwrap() error { return e.Reason }

// OursSetAside knows a file for rows set aside by its headings.
func OursSetAside(head []byte) bool {
	line, _, _ := bytes.Cut(bytes.TrimPrefix(head, []byte("\ufeff")), []byte("\n"))
	return bytes.HasSuffix(bytes.TrimRight(line, "\r\""), []byte("problem"))
}

// add writes one row of a table of the file source.
func (s *setAside) add(source string, t *sheet.Table, r *sheet.Row) error {
	if s.dry {
		return nil
	}
	i := slices.IndexFunc(s.files, func(f *asideFile) bool { return f.table == t })
	if i < 0 {
		f, err := s.open(source, t)
		if err != nil {
			return fmt.Errorf("rows set aside: %w", err)
		}
		i, s.files = len(s.files), append(s.files, f)
	}
	return s.files[i].add(r)
}

func (f *asideFile) add(r *sheet.Row) error {
	f.total++
	if f.rows != nil && f.err == nil {
		f.err = f.rows.Write(r)
	}
	if f.copy.Len() >= mostKept {
		return nil
	}
	f.kept++
	return f.copyRows.Write(r)
}

func (s *setAside) open(source string, t *sheet.Table) (*asideFile, error) {
	f := &asideFile{source: source, table: t, target: s.target(source, t)}
	if s.path != "" {
		f.err = s.out.May(f.target, OursSetAside)
	}
	if f.err == nil && !s.nowhere {
		f.tmp, f.err = s.out.Begin(f.target)
	}
	if f.err == nil && f.tmp != nil {
		f.rows, f.err = t.SetAside(f.tmp)
	}
	var err error
	f.copyRows, err = t.SetAside(&f.copy)
	return f, err
}

// target names the file for a table's rows: what the user asked for, for the
// first table, and that name with the table's in it for further ones.
func (s *setAside) target(source string, t *sheet.Table) string {
	path := s.path
	if path == "" {
		stem := strings.TrimSuffix(source, filepath.Ext(source))
		path = strings.TrimSuffix(stem, ".set-aside") + ".set-aside.csv"
		if t.Sheet != "" {
			path = stem + "." + t.Records.Name + ".set-aside.csv"
		}
	}
	return nextTarget(path, t.Records.Name, func(name string) bool {
		return slices.ContainsFunc(s.files, func(f *asideFile) bool { return f.target == name })
	})
}

// nextTarget is the path, or where that is taken the path with a table's name in
// it.
func nextTarget(path, table string, taken func(string) bool) string {
	ext := filepath.Ext(path)
	name := path
	for n := 1; taken(name); n++ {
		name = strings.TrimSuffix(path, ext) + "." + table + ext
		if n > 1 {
			name = fmt.Sprintf("%s.%s-%d%s", strings.TrimSuffix(path, ext), table, n, ext)
		}
	}
	return name
}

// keep is what of a source's rows is kept with its batch.
func (s *setAside) keep(source string) ([]store.SetAside, error) {
	var parts []store.SetAside
	for _, f := range s.files {
		if f.source != source {
			continue
		}
		if err := f.copyRows.Flush(); err != nil {
			return nil, err
		}
		parts = append(parts, store.SetAside{Tab: f.table.Sheet, Table: f.table.Records.Name, Total: f.total, Kept: f.kept, Content: f.copy.Bytes()})
	}
	return parts, nil
}

// drop forgets the files for a source's rows.
func (s *setAside) drop(source string) {
	s.files = slices.DeleteFunc(s.files, func(f *asideFile) bool {
		if f.source == source && f.tmp != nil {
			f.tmp.Drop()
		}
		return f.source == source
	})
}

// finish puts the files in place and tells the results where they are. Where
// that fails the error is an [*UnwrittenError] if anything was kept.
func (s *setAside) finish(results []Result) error {
	var errs []error
	for _, f := range s.files {
		name, err := f.finish(s.path == "")
		i := slices.IndexFunc(results, func(r Result) bool { return r.path == f.source })
		if err != nil {
			errs = append(errs, unwritten(f, results[i].Batch, err))
			continue
		}
		results[i].SetAsideTo = append(results[i].SetAsideTo, record.Shown(name))
	}
	err := errors.Join(errs...)
	if err != nil && slices.ContainsFunc(results, kept) {
		return &UnwrittenError{Reason: err}
	}
	return err
}

// unwritten says that a file for rows set aside could not be written, and how to
// get at the rows.
func unwritten(f *asideFile, batch int64, err error) error {
	err = fmt.Errorf("%d rows of %s are set aside, and the file for them could not be written: %w", f.total, record.Shown(f.source), err)
	if batch == 0 {
		return fmt.Errorf("%w; nothing of %s was kept", err, record.Shown(f.source))
	}
	return fmt.Errorf("%w; `pourback ingest --set-aside-of %d FILE` gives them again", err, batch)
}

// finish moves the file to its place. A name that we chose never replaces a
// file with other content: a number is added instead.
func (f *asideFile) finish(ours bool) (string, error) {
	if f.tmp == nil {
		return "", f.err
	}
	if f.err == nil {
		f.err = f.rows.Flush()
	}
	if f.err != nil {
		return "", errors.Join(f.err, f.tmp.Drop())
	}
	name := f.target
	for n := 2; ours; n++ {
		same, err := sameContent(f.tmp.Name(), name)
		if errors.Is(err, fs.ErrNotExist) || err == nil && same {
			break
		}
		if err != nil {
			return "", errors.Join(err, f.tmp.Drop())
		}
		name = fmt.Sprintf("%s-%d.csv", strings.TrimSuffix(f.target, ".csv"), n)
	}
	return name, f.tmp.Put(name)
}

func sameContent(a, b string) (bool, error) {
	x, err := os.ReadFile(a)
	if err != nil {
		return false, err
	}
	y, err := os.ReadFile(b)
	return bytes.Equal(x, y), err
}

// WriteSetAside writes what was set aside of a batch into the file at path, and
// further tables beside it. It returns the files and what stands in each.
func WriteSetAside(out *outfile.Out, path string, parts []store.SetAside) (files []string, err error) {
	for _, p := range parts {
		name := nextTarget(path, p.Table, func(n string) bool { return slices.Contains(files, n) })
		err := out.Write(name, OursSetAside, func(w io.Writer) error { _, err := w.Write(p.Content); return err })
		if err != nil {
			return files, err
		}
		files = append(files, name)
	}
	return files, nil
}
