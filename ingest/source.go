package ingest

import (
	"context"
	"io"
	"slices"

	"pourback/ingest/record"
	"pourback/ingest/sheet"
	"pourback/ingest/store"
)

// Source is a file's content that is at hand and need not lie on disk. It may be
// read as often as is needed.
type Source struct {
	Name    string // of the file, without folders
	Content io.ReaderAt
	Size    int64
}

// Open opens it to be read.
func (s Source) Open(opt sheet.Options) (*sheet.File, error) {
	return sheet.OpenReader(s.Name, s.Content, s.Size, opt)
}

// Settled is what somebody has said about single cells of a file, beside mending
// them ([sheet.Mends]).
type Settled struct {
	Right map[sheet.Cell]bool // odd values that are right
	Left  map[sheet.Cell]bool // problems that are left as they are: the cell empty, or the row out for good
}

// rowCell is the place in [Settled] of what is wrong with a row and no cell of it.
const rowCell = -1

// CellOf is the cell that a problem of a row is about. A problem of the row as a
// whole has its first column's left neighbor, -1.
func CellOf(t *sheet.Table, r *sheet.Row, p record.Problem) sheet.Cell {
	at := t.HeadingOf(r, p)
	if at < 0 {
		at = rowCell
	}
	return sheet.Cell{Sheet: t.Sheet, Row: r.Number, Column: at}
}

// Take takes one file in, in one transaction, by what [Files] goes by. What of it
// is set aside is kept with the batch, and written nowhere else. The answers of
// the options are remembered in the same transaction. What is wrong with the file
// is in the result; an error is for what stops everything.
func Take(ctx context.Context, st *store.Store, from Source, opt Options) (Result, error) {
	r := newResult(from.Name, opt.Problem)
	known, err := Remembered(ctx, st)
	if err != nil {
		return r, err
	}
	said := opt.Sheet.Answers
	opt.Sheet.Answers = append(slices.Clone(said), known...)
	c := &call{store: st, opt: opt, aside: &setAside{dry: opt.DryRun, nowhere: true}, seen: newSeen(opt.DryRun), source: &from, said: said}
	for tries := 0; ; tries++ {
		err := c.takeAgain(ctx, &r)
		if !again(err, tries) {
			return r, err
		}
	}
}

// rememberWith keeps, in the transaction of a file, what its headings were said
// and found to mean.
func (c *call) rememberWith(ctx context.Context, tx *store.Tx) error {
	answers := heard(slices.Concat(c.said, c.meanings), c.opt.TakenAt)
	if len(answers) == 0 {
		return nil
	}
	return tx.KeepAnswers(ctx, answers)
}
