package ingest

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"pourback/ingest/picture"
	"pourback/ingest/record"
	"pourback/ingest/sheet"
	"pourback/ingest/store"
)

// Codes of what is wrong with a row of the table of pictures, beside those of
// the pictures themselves.
const (
	codeNoFile = "picture-file"
	codeClash  = "picture-clash"
	codeFull   = "pictures-full"
	codeOwner  = "picture-owner"
)

// ofPictures are the columns that every row of the table gets, whether or not the
// file has them; and the one that no file can say.
func ofPictures(given []bool) []bool {
	all := append([]bool(nil), given...)
	t := record.Pictures
	for _, name := range []string{"placement", "picture", "file", "width_px", "height_px", "bytes", "sha256", "kept_at"} {
		all[t.Index(name)] = true
	}
	all[t.Index("taken_back_at")] = false
	return all
}

// pictures takes the pictures in that a block of the table names. They stand in
// files beside it.
func (t *taker) pictures(ctx context.Context, block []*sheet.Row) error {
	folder, err := os.OpenRoot(filepath.Dir(t.path)) // no name leads out of it
	if err != nil {
		return err
	}
	defer folder.Close()
	for _, row := range block {
		if row.Bad() {
			continue
		}
		p, problem, err := row.Record.(*record.Picture), record.Problem{}, error(nil)
		if problem, err = t.picture(ctx, folder, p); err != nil {
			return err
		}
		if problem.Code != "" {
			problem.Severity = record.Error
			t.problemAt(row, problem)
		}
		if err := t.checkOwner(ctx, row, p); err != nil {
			return err
		}
	}
	return nil
}

// picture fills a row in with its picture, and keeps that. The problem is what is
// wrong with either.
func (t *taker) picture(ctx context.Context, folder *os.Root, p *record.Picture) (problem record.Problem, err error) {
	if err := t.onlyPlacement(ctx, p); err != nil {
		return problem, err
	}
	made, err := t.readPicture(ctx, folder, p.File)
	var missing *PictureFileError
	var refusal *picture.Refusal
	switch {
	case errors.As(err, &missing):
		return t.withoutFile(ctx, p, missing)
	case errors.As(err, &refusal):
		problem = refusal.Problem
		problem.Column, problem.Value = "file", p.File
		return problem, nil
	case err != nil:
		return problem, err
	}
	said := p.SHA256
	fillPicture(p, made, t.takenAt)
	p.Picture = cmp.Or(p.Picture, pictureKey(p))
	was, err := t.onRecord(ctx, p)
	switch {
	case err != nil:
		return problem, err
	case said != "" && said != p.SHA256:
		return record.Problem{Code: codeClash, Column: "sha256", Value: said, Wrong: "the file is not the picture that was written there",
			Right: "put that one in its place, or empty sha256"}, nil
	case was != nil && was.SHA256 != p.SHA256:
		return record.Problem{Code: codeClash, Column: "picture", Value: p.Picture, Wrong: "the key of another picture on record", Right: "empty the cell, and a key is made"}, nil
	case was != nil:
		p.KeptAt = cmp.Or(p.KeptAt, was.KeptAt)
	}
	p.KeptAt = cmp.Or(p.KeptAt, keptAt(t.takenAt))
	p.TakenBackAt, p.File = 0, p.PictureFile()
	err = t.tx.KeepPicture(ctx, store.PictureBytes{Content: made.JPEG, Thumb: made.Thumb}, t.rules.quota())
	var full *store.PicturesFullError
	if errors.As(err, &full) {
		return record.Problem{Code: codeFull, Column: "file", Value: p.File, Wrong: full.Error()}, nil
	}
	return problem, err
}

// withoutFile fills a row in whose picture is not beside the table: it may be on
// record, and only what is said of it be new.
func (t *taker) withoutFile(ctx context.Context, p *record.Picture, missing error) (problem record.Problem, err error) {
	was, err := t.onRecord(ctx, p)
	if err != nil {
		return problem, err
	}
	if was == nil || was.SHA256 != p.SHA256 {
		return record.Problem{Code: codeNoFile, Column: "file", Value: p.File, Wrong: missing.Error(), Right: "put the picture there, beside the table"}, nil
	}
	p.WidthPx, p.HeightPx, p.Bytes, p.KeptAt = was.WidthPx, was.HeightPx, was.Bytes, cmp.Or(p.KeptAt, was.KeptAt)
	p.TakenBackAt, p.File = 0, p.PictureFile()
	return problem, nil
}

// onRecord is what is known of the picture already, nil where it is new.
func (t *taker) onRecord(ctx context.Context, p *record.Picture) (*record.Picture, error) {
	if p.Picture == "" {
		return nil, nil
	}
	there, err := t.tx.Find(ctx, p)
	was, _ := there.(*record.Picture)
	return was, err
}

// tableTime is how long each picture of a table may take: nobody else waits.
const tableTime = 10 * time.Second

func (t *taker) readPicture(ctx context.Context, folder *os.Root, name string) (*picture.Picture, error) {
	file, err := readWithin(folder, name)
	if err != nil {
		return nil, &PictureFileError{err}
	}
	return t.rules.take(ctx, file, tableTime)
}

// readWithin reads a file of a folder, so much of it that one which is too long is
// known for that.
func readWithin(folder *os.Root, name string) ([]byte, error) {
	name = filepath.FromSlash(name)
	if !filepath.IsLocal(name) {
		return nil, errors.New("not a file in the table's folder")
	}
	f, err := folder.Open(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, errors.New("there is no such file")
	}
	if err != nil {
		return nil, errors.New("this file cannot be read")
	}
	defer f.Close()
	return ReadPicture(f)
}

// ReadPicture reads what is to be a picture, and no more of it than shows that it
// is too long for one.
func ReadPicture(f *os.File) ([]byte, error) {
	is, err := f.Stat()
	if err != nil || !is.Mode().IsRegular() {
		return nil, errors.Join(err, fmt.Errorf("this is no file"))
	}
	return io.ReadAll(io.LimitReader(f, picture.MostBytes+1))
}

// onlyPlacement names the placement of a job that has only one.
func (t *taker) onlyPlacement(ctx context.Context, p *record.Picture) error {
	if p.Placement != "" {
		return nil
	}
	names, err := placementNames(ctx, t.tx, p.JobNo)
	if len(names) == 1 {
		p.Placement = names[0]
	}
	return err
}

// checkOwner warns of a picture whose visit or load is not on record.
func (t *taker) checkOwner(ctx context.Context, row *sheet.Row, p *record.Picture) error {
	for _, o := range ownersOf(p) {
		found := false
		for _, name := range []string{p.Placement, ""} {
			_, placement := o.row.Place()
			*placement = name
			there, err := t.tx.Find(ctx, o.row)
			if err != nil {
				return err
			}
			found = found || there != nil
		}
		if !found {
			t.problemAt(row, record.Problem{Code: codeOwner, Column: o.column, Value: o.value,
				Wrong: "no such " + o.what + " is on record, so it is shown with the slab alone", Right: "hand that in, or mend the row"})
		}
	}
	return nil
}
