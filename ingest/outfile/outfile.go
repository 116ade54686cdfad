// Package outfile writes files whole or not at all: no reader sees half of one,
// and a failure leaves what stood under the name.
package outfile

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// Write writes the file at path.
func Write(path string, write func(io.Writer) error) error {
	f, err := Begin(path)
	if err != nil {
		return err
	}
	if err := write(f); err != nil {
		f.Drop()
		return err
	}
	return f.Put(path)
}

// File is a file in the making.
type File struct{ *os.File }

// Begin makes a file that is to stand at path once it is whole.
func Begin(path string) (*File, error) {
	dir, name := filepath.Split(path)
	if special(path) {
		dir = os.TempDir()
	} else if dir == "" {
		dir = "."
	}
	f, err := os.CreateTemp(dir, "."+name+"-*")
	if errors.Is(err, fs.ErrNotExist) {
		err = fmt.Errorf("%s: the folder %s does not exist; make it first, or name another file", path, filepath.Clean(dir))
	}
	return &File{f}, err
}

// Put closes the file and gives it its name. What is no plain file, a device or
// a pipe, is written into and stays what it is; so does a link.
func (f *File) Put(path string) error {
	if special(path) {
		return f.pour(path)
	}
	defer os.Remove(f.Name())
	if to, err := filepath.EvalSymlinks(path); err == nil {
		path = to
	}
	mode := os.FileMode(0o644)
	if old, err := os.Stat(path); err == nil {
		mode = old.Mode().Perm()
	}
	if err := errors.Join(f.Chmod(mode), f.Close()); err != nil {
		return err
	}
	return os.Rename(f.Name(), path)
}

// Drop forgets the file.
func (f *File) Drop() error { return errors.Join(f.Close(), os.Remove(f.Name())) }

// pour writes what the file holds into path.
func (f *File) pour(path string) error {
	defer f.Drop()
	to, err := os.OpenFile(path, os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	if _, err := f.Seek(0, io.SeekStart); err != nil {
		return errors.Join(err, to.Close())
	}
	_, err = io.Copy(to, f)
	return errors.Join(err, to.Close())
}

// special says whether something stands at path that a file may not replace.
func special(path string) bool {
	is, err := os.Stat(path)
	return err == nil && !is.Mode().IsRegular()
}
