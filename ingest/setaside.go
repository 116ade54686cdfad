package ingest

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"pourback/ingest/outfile"
	"pourback/ingest/sheet"
)

// setAside writes the rows that could not be taken in, as they were written and
// with a problem column behind them, to files that can be mended and handed in
// again: one for each table that a file held.
type setAside struct {
	path  string // where the user wants them; "" is beside the source
	dry   bool
	files []*asideFile
}

type asideFile struct {
	source string // the file that the rows came from
	table  *sheet.Table
	target string
	tmp    *outfile.File
	rows   *sheet.Rejects
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
			return fmt.Errorf("file for rows set aside: %w", err)
		}
		i, s.files = len(s.files), append(s.files, f)
	}
	return s.files[i].rows.Write(r)
}

func (s *setAside) open(source string, t *sheet.Table) (*asideFile, error) {
	target := s.target(source, t)
	tmp, err := outfile.Begin(target)
	if err != nil {
		return nil, err
	}
	rows, err := t.SetAside(tmp)
	return &asideFile{source: source, table: t, target: target, tmp: tmp, rows: rows}, err
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
	ext := filepath.Ext(path)
	for n, name := 1, path; ; n++ {
		if !slices.ContainsFunc(s.files, func(f *asideFile) bool { return f.target == name }) {
			return name
		}
		name = strings.TrimSuffix(path, ext) + "." + t.Records.Name + ext
		if n > 1 {
			name = fmt.Sprintf("%s.%s-%d%s", strings.TrimSuffix(path, ext), t.Records.Name, n, ext)
		}
	}
}

// forget drops what was set aside of a file that is read again.
func (s *setAside) forget(source string) error {
	var errs []error
	s.files = slices.DeleteFunc(s.files, func(f *asideFile) bool {
		if f.source == source {
			errs = append(errs, f.tmp.Drop())
		}
		return f.source == source
	})
	return errors.Join(errs...)
}

// finish puts the files in place and tells the results where they are.
func (s *setAside) finish(results []Result) error {
	var errs []error
	for _, f := range s.files {
		name, err := f.finish(s.path == "")
		if err != nil {
			errs = append(errs, fmt.Errorf("file for rows set aside: %w", err))
			continue
		}
		for i := range results {
			if results[i].File == f.source {
				results[i].SetAsideTo = append(results[i].SetAsideTo, name)
			}
		}
	}
	return errors.Join(errs...)
}

// finish moves the file to its place. A name that we chose never replaces a
// file with other content: a number is added instead.
func (f *asideFile) finish(ours bool) (string, error) {
	if err := f.rows.Flush(); err != nil {
		return "", errors.Join(err, f.tmp.Drop())
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
