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

// Export writes every record of the store into dir, one CSV file a table, in
// the form in which records are handed in: taken into an empty database they
// give the same figures. It returns the files and how many rows each holds.
func Export(ctx context.Context, st *store.Store, dir string) (files []string, rows []int, err error) {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return nil, nil, err
	}
	for _, t := range record.Tables {
		path := filepath.Join(dir, t.Name+".csv")
		unused, err := st.UnusedHeadings(ctx, t)
		if err != nil {
			return files, rows, err
		}
		slices.Sort(unused)
		n, err := writeTable(t, path, unused, func(yield func(record.Record, map[string]string) error) error {
			return st.RecordsWithUnused(ctx, t, yield)
		})
		if err != nil {
			return files, rows, fmt.Errorf("%s: %w", path, err)
		}
		files, rows = append(files, path), append(rows, n)
	}
	return files, rows, nil
}

// errStop ends a reading of rows that nobody wants any more.
var errStop = errors.New("no more rows wanted")

// writeTable writes the rows that each yields, with what stands in the columns
// of no use behind them.
func writeTable(t *record.Table, path string, unused []string, each func(yield func(record.Record, map[string]string) error) error) (n int, err error) {
	err = outfile.Write(path, func(w io.Writer) error {
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
		_, err := writeTable(t, path, nil, func(yield func(record.Record, map[string]string) error) error {
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
