package ingest

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"pourback/ingest/record"
)

// pictures writes the pictures that stand into a folder of their own, and the
// table that names them beside the others: both can be handed in. There is no
// such table where there are none, unless an earlier one is to be replaced.
func (x *exporting) pictures(ctx context.Context, dir string) (path string, n int, err error) {
	if x.NoNames {
		return "", 0, nil
	}
	table := record.Pictures.Name + ".csv"
	all, err := x.now.Pictures(ctx, "")
	if err != nil {
		return "", 0, err
	}
	if _, err := os.Lstat(filepath.Join(dir, table)); len(all) == 0 && errors.Is(err, fs.ErrNotExist) {
		return "", 0, nil
	}
	if err := x.pictureFiles(ctx, dir, all); err != nil {
		return "", 0, err
	}
	beside := *x
	if beside.folder, err = x.ExportOptions.folder(dir, table); err != nil {
		return "", 0, err
	}
	return beside.table(ctx, record.Pictures)
}

// pictureFiles writes the pictures, one after the other.
func (x *exporting) pictureFiles(ctx context.Context, dir string, all []record.Picture) error {
	if len(all) == 0 {
		return nil
	}
	names := make([]string, len(all))
	for i := range all {
		names[i] = filepath.Base(all[i].PictureFile())
	}
	folder, err := x.ExportOptions.folder(filepath.Join(dir, filepath.Dir(all[0].PictureFile())), names...)
	if err != nil {
		return err
	}
	for i := range all {
		content, err := x.now.PictureContent(ctx, all[i].Picture)
		if err != nil {
			return fmt.Errorf("picture %s: %w; `pourback check` says what is wrong with the database", record.Shown(all[i].Picture), err)
		}
		if _, err := folder.Write(names[i], func(w io.Writer) error { _, err := w.Write(content); return err }); err != nil {
			return err
		}
	}
	return nil
}

// exported says whether a row is written, and names a picture's file. What was
// taken back is not: neither are the rows of a batch that was.
func exported(r record.Record) bool {
	p, ok := r.(*record.Picture)
	if ok {
		p.File = p.PictureFile()
	}
	return !ok || p.TakenBackAt == 0
}
