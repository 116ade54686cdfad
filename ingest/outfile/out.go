package outfile

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
)

// Out is how one call writes its files: not over what it reads, not over what
// is not ours, and readable for whom the owner wants. The zero value knows of
// nothing that is read.
type Out struct {
	Force   bool // write over files that are not ours
	Private bool // files are for their owner alone, whatever the umask

	read []readFile
}

// readFile is a file that the call reads, and what it is to the call.
type readFile struct{ what, path string }

// Ours says by how a file begins whether pourback wrote it. Nil is for files
// that say nothing about that themselves.
type Ours func(head []byte) bool

// Holding knows our files by a mark that they hold near their beginning.
func Holding(mark string) Ours {
	return func(head []byte) bool { return strings.Contains(string(head), mark) }
}

// InUseError is a file to write that the call reads, or writes already.
type InUseError struct{ Path, What string }

func (e *InUseError) Error() string {
	return fmt.Sprintf("%s is %s: it would be lost; name another file", e.Path, e.What)
}

// Reads tells of files that the call reads, or has written, and that nothing
// may take the place of. They need not exist.
func (o *Out) Reads(what string, paths ...string) {
	for _, p := range paths {
		o.read = append(o.read, readFile{what, p})
	}
}

// ReadsDatabase is [Out.Reads] for a database file with what lies beside it.
func (o *Out) ReadsDatabase(path string) {
	for _, at := range []string{path, Landing(path)} {
		o.Reads("the database", at)
		o.Reads("a part of the database", at+"-wal", at+"-shm", at+"-journal")
	}
}

// May says why nothing may be written to path: with an [*InUseError] where the
// call reads it, by whatever name; with a [DashError] where it is a dash; and where a
// file stands there that is not ours, unless forced.
func (o *Out) May(path string, ours Ours) error {
	if err := named(path); err != nil {
		return err
	}
	is, err := os.Stat(path)
	if err == nil && !is.IsDir() && !is.Mode().IsRegular() {
		return nil // a device or a pipe
	}
	for _, r := range o.read {
		if sameFile(path, r.path) {
			return &InUseError{path, r.what}
		}
	}
	switch {
	case err == nil && is.IsDir():
		return fmt.Errorf("%s is a folder; name a file in it, or another", path)
	case err != nil || poured(path):
		return nil // nothing to lose; what else is wrong, writing will say
	case is.Size() == 0 || o.Force:
		return nil
	}
	head, err := beginning(path)
	if err != nil {
		return fmt.Errorf("%s exists, and cannot be read to see whose it is: %w", path, err)
	}
	if ours == nil || !ours(head) {
		return fmt.Errorf("%s exists and is no such file of pourback's; name another file, or give --force to write over it", path)
	}
	return nil
}

// DashError is a dash in the place of a name: who writes one means no file, and none of
// that name is wanted.
type DashError struct{}

func (DashError) Error() string {
	return "- is no file or folder here; give a name (./- is a file that is called so)"
}

func named(path string) error {
	if path == "-" {
		return DashError{}
	}
	return nil
}

// Write writes the file at path, if it may.
func (o *Out) Write(path string, ours Ours, write func(io.Writer) error) error {
	if err := o.May(path, ours); err != nil {
		return err
	}
	if err := writeAs(path, o.mode(), write); err != nil {
		return err
	}
	if !poured(path) {
		o.Reads("what this call has just written", path)
	}
	return nil
}

// Begin begins a file with the permissions of this call's.
func (o *Out) Begin(path string) (*File, error) { return begin(path, o.mode()) }

func (o *Out) mode() fs.FileMode {
	if o.Private {
		return 0o600
	}
	return 0o666
}

// beginning is how a file begins: far enough to hold a page's head or the
// headings of a table.
func beginning(path string) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	head := make([]byte, 64<<10)
	n, err := io.ReadFull(f, head)
	if errors.Is(err, io.ErrUnexpectedEOF) || errors.Is(err, io.EOF) {
		err = nil
	}
	return head[:n], err
}

// sameFile says whether two names lead to one file, or would if it were made:
// by what the system knows of it, else by where the names land.
func sameFile(a, b string) bool {
	x, err1 := os.Stat(a)
	y, err2 := os.Stat(b)
	if err1 == nil && err2 == nil {
		return os.SameFile(x, y)
	}
	if (err1 == nil) != (err2 == nil) {
		return false
	}
	at, bt := absolute(Landing(a)), absolute(Landing(b))
	return at == bt || runtime.GOOS != "linux" && strings.EqualFold(at, bt)
}

func absolute(path string) string {
	if abs, err := filepath.Abs(path); err == nil {
		return abs
	}
	return path
}
