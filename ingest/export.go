package ingest

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"

	"pourback/ingest/outfile"
	"pourback/ingest/record"
	"pourback/ingest/sheet"
	"pourback/ingest/store"
)

// ExportOptions are how an export is written.
type ExportOptions struct {
	Out     *outfile.Out // nil is as any file may be
	NoNames bool         // name no site and nobody
}

func (o ExportOptions) folder(dir string, names ...string) (*outfile.Folder, error) {
	out := o.Out
	if out == nil {
		out = &outfile.Out{}
	}
	return out.Folder(dir, nil, names...)
}

func tableFiles() []string {
	var names []string
	for _, t := range record.Tables {
		names = append(names, t.Name+".csv")
	}
	return names
}

// Export writes every record of the store into dir, one CSV file a table, in
// the form in which records are handed in: taken into an empty database they
// give the same figures. It returns the files and how many rows each holds.
// Files there that are not ours stay, and where one has a name that is needed
// nothing is written.
func Export(ctx context.Context, st *store.Store, dir string, opt ExportOptions) (files []string, rows []int, err error) {
	folder, err := opt.folder(dir, tableFiles()...)
	if err != nil {
		return nil, nil, err
	}
	var without record.Nameless
	for _, t := range record.Tables {
		unused, err := opt.unusedHeadings(ctx, st, t)
		if err != nil {
			return files, rows, err
		}
		var path string
		n, err := writeTable(t, unused, func(write func(io.Writer) error) (err error) {
			path, err = folder.Write(t.Name+".csv", write)
			return err
		}, func(yield func(record.Record, map[string]string) error) error {
			return st.RecordsWithUnused(ctx, t, func(r record.Record, kept map[string]string) error {
				if opt.NoNames {
					without.Record(r)
				}
				return yield(r, kept)
			})
		})
		if err != nil {
			return files, rows, fmt.Errorf("%s: %w", record.Shown(path), err)
		}
		files, rows = append(files, path), append(rows, n)
	}
	return files, rows, nil
}

// errStop ends a reading of rows that nobody wants any more.
var errStop = errors.New("no more rows wanted")

// unusedHeadings are the columns of no use that an export has: any of them may
// name somebody, so none where nobody is to be named.
func (o ExportOptions) unusedHeadings(ctx context.Context, st *store.Store, t *record.Table) ([]string, error) {
	if o.NoNames {
		return nil, nil
	}
	unused, err := st.UnusedHeadings(ctx, t)
	slices.Sort(unused)
	return unused, err
}

// writeTable writes the rows that each yields, as file does it, with what stands
// in the columns of no use behind them.
func writeTable(t *record.Table, unused []string, file func(write func(io.Writer) error) error, each func(yield func(record.Record, map[string]string) error) error) (n int, err error) {
	err = file(func(w io.Writer) error {
		var read error
		rows := func(yield func(record.Record, map[string]string) bool) {
			read = each(func(r record.Record, kept map[string]string) error {
				if n++; !yield(r, kept) {
					return errStop
				}
				return nil
			})
		}
		if err := sheet.WriteTable(w, t, unused, rows); err != nil {
			return err
		}
		return read
	})
	return n, err
}

// WriteSet writes the tables of a set that have rows into dir, as record files.
func WriteSet(dir string, set record.Set) (files []string, err error) {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return nil, err
	}
	for _, t := range record.Tables {
		path := filepath.Join(dir, t.Name+".csv")
		rows := set.Rows(t)
		if len(rows) == 0 {
			continue
		}
		_, err := writeTable(t, nil, func(write func(io.Writer) error) error { return outfile.Write(path, write) }, func(yield func(record.Record, map[string]string) error) error {
			for _, r := range rows {
				if err := yield(r, nil); err != nil {
					return err
				}
			}
			return nil
		})
		if err != nil {
			return files, fmt.Errorf("%s: %w", path, err)
		}
		files = append(files, path)
	}
	return files, nil
}
