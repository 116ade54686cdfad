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
//
// All of them, and the kept bids beside them in bids.json, are of one moment,
// whatever is taken in meanwhile. Pictures stand in the folder pictures, and the
// table pictures.csv names each with what it belongs to; without names there are
// none, for a picture may show people and houses.
func Export(ctx context.Context, st *store.Store, dir string, opt ExportOptions) (files []string, rows []int, err error) {
	folder, err := opt.folder(dir, tableFiles()...)
	if err != nil {
		return nil, nil, err
	}
	err = st.Snapshot(ctx, func(now *store.Snapshot) error {
		files, rows = nil, nil // it may be begun again
		x := &exporting{ExportOptions: opt, now: now, folder: folder}
		for _, t := range record.Tables {
			path, n, err := x.table(ctx, t)
			if err != nil {
				return err
			}
			files, rows = append(files, path), append(rows, n)
		}
		pictures, n, err := x.pictures(ctx, dir)
		if err != nil {
			return err
		}
		if pictures != "" {
			files, rows = append(files, pictures), append(rows, n)
		}
		bids, n, err := exportBids(ctx, now, dir, opt)
		if n > 0 {
			files, rows = append(files, bids), append(rows, n)
		}
		return err
	})
	return files, rows, err
}

// exporting is one export.
type exporting struct {
	ExportOptions
	now     *store.Snapshot
	folder  *outfile.Folder
	without record.Nameless // one for all tables: a crew is called the same in each
}

// table writes a table's rows into the folder.
func (x *exporting) table(ctx context.Context, t *record.Table) (path string, n int, err error) {
	unused, err := x.unusedHeadings(ctx, t)
	if err != nil {
		return "", 0, err
	}
	n, err = writeTable(t, unused, func(write func(io.Writer) error) (err error) {
		path, err = x.folder.Write(t.Name+".csv", write)
		return err
	}, func(yield func(record.Record, map[string]string) error) error {
		return x.now.RecordsWithUnused(ctx, t, func(r record.Record, kept map[string]string) error {
			if !exported(r) {
				return nil
			}
			if x.NoNames {
				x.without.Record(r)
			}
			return yield(r, kept)
		})
	})
	if err != nil {
		err = fmt.Errorf("%s: %w", record.Shown(path), err)
	}
	return path, n, err
}

// errStop ends a reading of rows that nobody wants any more.
var errStop = errors.New("no more rows wanted")

// unusedHeadings are the columns of no use that an export has: any of them may
// name somebody, so none where nobody is to be named.
func (x *exporting) unusedHeadings(ctx context.Context, t *record.Table) ([]string, error) {
	if x.NoNames {
		return nil, nil
	}
	return x.now.UnusedHeadings(ctx, t)
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
