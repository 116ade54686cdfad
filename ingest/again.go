package ingest

import (
	"context"
	"errors"
	"os"

	"pourback/ingest/sheet"
	"pourback/ingest/store"
)

// rereadable says whether what is at path can be read once more from its
// beginning: a pipe cannot.
func rereadable(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.Mode().IsRegular()
}

// mostOutrun is how often a file may be given up by the server in favor of
// another writer.
const mostOutrun = 5

// again says whether a file that has been tried so often before is to be taken
// in from its beginning: once where the connection to the database was lost
// halfway, and some times where another writer came between.
func again(err error, tries int) bool {
	return errors.Is(err, store.ErrLost) && tries == 0 || errors.Is(err, store.ErrOutrun) && tries < mostOutrun
}

// open opens a file of the call.
func (c *call) open(path string) (*sheet.File, error) {
	if c.source != nil {
		return c.source.Open(c.opt.Sheet)
	}
	return c.opt.open(path)
}

// takeAgain takes a file in from its beginning, as if it had never been begun:
// all that the first time had brought is gone. Problems that were told then are not told again.
func (c *call) takeAgain(ctx context.Context, r *Result) error {
	c.aside.drop(r.path)
	f, err := c.open(r.path)
	told := r.told
	*r = newResult(r.path, r.problems)
	r.told = told
	if err != nil {
		r.Refused = whyRefused(err)
		return nil
	}
	defer f.Close()
	return c.takeFile(ctx, f, r)
}
