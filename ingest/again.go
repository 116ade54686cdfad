package ingest

import (
	"context"
	"os"
)

// rereadable says whether what is at path can be read once more from its
// beginning: a pipe cannot.
func rereadable(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.Mode().IsRegular()
}

// takeAgain takes a file in from its beginning, as if it had never been begun:
// the connection to the database was lost halfway, and with it all that the
// first time had brought. Problems that were told then are not told again.
func (c *call) takeAgain(ctx context.Context, r *Result) error {
	c.aside.drop(r.path)
	f, err := c.opt.open(r.path)
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
