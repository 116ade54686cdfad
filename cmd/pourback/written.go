package main

import (
	"fmt"
	"io"

	"pourback/ingest"
	"pourback/ingest/outfile"
	"pourback/ingest/store"
)

// results is standard output, which remembers what went wrong with it: a call
// whose results nobody could read is not done.
type results struct {
	io.Writer
	err  error
	kept bool // the call has changed or written something that stands
}

func (r *results) Write(b []byte) (int, error) {
	n, err := r.Writer.Write(b)
	if err != nil && r.err == nil {
		r.err = err
	}
	return n, err
}

// verdict is how a call ended that ended with err, seen with what became of its
// results.
func (r *results) verdict(err error) error {
	if r.err == nil {
		return err
	}
	lost := fmt.Errorf("standard output cannot be written: %w", r.err)
	if r.kept {
		return &ingest.UnwrittenError{Reason: fmt.Errorf("what was asked for is done and kept, but %w", lost)}
	}
	return lost
}

// keeps notes that the call has changed or written something that stands.
func (a *app) keeps() {
	if r, ok := a.stdout.(*results); ok {
		r.kept = true
	}
}

// guard says what this call's files may not take the place of, and who may read
// them.
func (a *app) guard() {
	force, _ := a.flags.Flags().GetBool("force")
	a.files = &outfile.Out{Force: force, Private: a.settings.FileAccess == accessOwner}
	if a.settings.file != "" {
		a.files.Reads("the settings file", a.settings.file)
	}
	if path, ok := store.File(a.settings.DB); ok {
		a.files.ReadsDatabase(path)
	}
}

// whereFrom says which setting, flag or default gave a value.
func (a *app) whereFrom(key string) string {
	if from := a.settings.source[key]; from != "default" {
		return key + " by " + from
	}
	return "the default"
}

// beside is where a call says what it has written to path: not into the file
// itself, if that is standard output.
func (a *app) beside(path string) io.Writer {
	if path != "" && outfile.IsStandardOutput(path) {
		return a.stderr
	}
	return a.stdout
}
