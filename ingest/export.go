package ingest

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"pourback/ingest/outfile"
	"pourback/ingest/record"
	"pourback/ingest/sheet"
	"pourback/ingest/store"
)

// Export writes every record of the store into dir, one CSV file a table, in
// the form in which records are handed in: taken into an empty database they
// give the same figures. It returns the files and how many rows each holds.
//
// All of them, and the kept bids beside them in bids.json, are of one moment,
// whatever is taken in meanwhile.
func Export(ctx context.Context, st *store.Store, dir string) (files []string, rows []int, err error) {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return nil, nil, err
	}
	err = st.Snapshot(ctx, func(now *store.Snapshot) error {
		for _, t := range record.Tables {
			path := filepath.Join(dir, t.Name+".csv")
			n, err := writeTable(t, path, func(yield func(record.Record) error) error { return now.Records(ctx, t, yield) })
			if err != nil {
				return fmt.Errorf("%s: %w", path, err)
			}
			files, rows = append(files, path), append(rows, n)
		}
		bids, n, err := exportBids(ctx, now, dir)
		if n > 0 {
			files, rows = append(files, bids), append(rows, n)
		}
		return err
	})
	return files, rows, err
}

// errStop ends a reading of rows that nobody wants any more.
var errStop = errors.New("no more rows wanted")

// writeTable writes the rows that each yields.
func writeTable(t *record.Table, path string, each func(yield func(record.Record) error) error) (n int, err error) {
	err = outfile.Write(path, func(w io.Writer) error {
		var read error
		rows := func(yield func(record.Record) bool) {
			read = each(func(r record.Record) error {
				if n++; !yield(r) {
					return errStop
				}
				return nil
			})
		}
		if err := sheet.WriteTable(w, t, rows); err != nil {
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
		_, err := writeTable(t, path, func(yield func(record.Record) error) error {
			for _, r := range rows {
				if err := yield(r); err != nil {
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
