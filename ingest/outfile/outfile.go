// Package outfile writes files whole or not at all, and never over what a call
// reads or somebody else made: no reader sees half of a file, and a failure, a
// kill or a power cut leaves what stood under the name, or the new file.
package outfile

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"syscall"
)

// Write writes the file at path.
func Write(path string, write func(io.Writer) error) error { return writeAs(path, 0o666, write) }

func writeAs(path string, mode fs.FileMode, write func(io.Writer) error) error {
	f, err := begin(path, mode)
	if err != nil {
		return err
	}
	if err := write(f); err != nil {
		return errors.Join(err, f.Drop())
	}
	return f.Put(path)
}

// File is a file in the making.
type File struct {
	*os.File
	mode fs.FileMode // before the umask
}

// BeginPrivate is [Begin] for a file that its owner alone may read.
func BeginPrivate(path string) (*File, error) { return begin(path, 0o600) }

func begin(path string, mode fs.FileMode) (*File, error) {
	dir := os.TempDir()
	if poured(path) {
		mode = 0o600 // what passes through is nobody else's
	} else {
		path = Landing(path)
		dir = filepath.Dir(path)
	}
	sweep(dir)
	f, err := makeTemp(dir, filepath.Base(path), mode)
	if errors.Is(err, fs.ErrNotExist) {
		err = fmt.Errorf("%s: the folder %s does not exist; make it first, or name another file", path, dir)
	}
	if err != nil {
		return nil, err
	}
	return &File{f, mode}, nil
}

// Put closes the file and gives it its name. What stood there keeps its
// permissions; a link there stays one, and what it leads to is replaced. What is
// no plain file, a device or a pipe, is written into and stays what it is.
func (f *File) Put(path string) error {
	if poured(path) {
		return f.pour(path)
	}
	path = Landing(path)
	if filepath.Dir(path) != filepath.Dir(f.Name()) {
		return f.moveTo(path)
	}
	defer os.Remove(f.Name())
	if err := errors.Join(f.likeOld(path), f.Sync(), f.Close()); err != nil {
		return err
	}
	if err := os.Rename(f.Name(), path); err != nil {
		return err
	}
	return syncFolder(filepath.Dir(path))
}

// likeOld takes over the permissions of what is to be replaced.
func (f *File) likeOld(path string) error {
	old, err := os.Stat(path)
	if err != nil {
		return nil
	}
	return f.Chmod(old.Mode().Perm())
}

// moveTo writes the file anew beside a path in another folder, which may be on
// another disk.
func (f *File) moveTo(path string) error {
	defer f.Drop()
	return writeAs(path, f.mode, f.copyTo)
}

func (f *File) copyTo(w io.Writer) error {
	if _, err := f.Seek(0, io.SeekStart); err != nil {
		return err
	}
	_, err := io.Copy(w, f.File)
	return err
}

// Drop forgets the file.
func (f *File) Drop() error { return errors.Join(f.Close(), os.Remove(f.Name())) }

// pour writes what the file holds into path.
func (f *File) pour(path string) error {
	defer f.Drop()
	if std := standard(path); std != nil {
		return f.copyTo(std) // at its own place in the file that it may be sent into
	}
	to, err := os.OpenFile(path, os.O_WRONLY|os.O_APPEND, 0)
	if err != nil {
		return err
	}
	return errors.Join(f.copyTo(to), to.Close())
}

// poured says whether something stands at path that a file may not replace: a
// device, a pipe, or what this program was given as an open file.
func poured(path string) bool {
	if standard(path) != nil || openFile(path) {
		return true
	}
	is, err := os.Stat(path)
	return err == nil && !is.Mode().IsRegular()
}

// openFile says whether path is a name of a file that is open already.
func openFile(path string) bool {
	dir := filepath.Dir(filepath.Clean(path))
	return dir == "/dev/fd" || dir == "/proc/self/fd"
}

// standard is this program's standard output or error where path is it, or nil.
func standard(path string) *os.File {
	is, err := os.Stat(path)
	if err != nil {
		return nil
	}
	for _, std := range []*os.File{os.Stdout, os.Stderr} {
		if s, err := std.Stat(); err == nil && os.SameFile(is, s) && !nullDevice(s) {
			return std
		}
	}
	return nil
}

// nullDevice keeps /dev/null from being taken for an output sent there.
func nullDevice(is fs.FileInfo) bool {
	null, err := os.Stat(os.DevNull)
	return err == nil && os.SameFile(is, null)
}

// IsStandardOutput says whether what is written to path goes where this
// program's results go.
func IsStandardOutput(path string) bool { return standard(path) == os.Stdout }

// Landing is where a file written to path comes to stand: behind every link,
// also one that leads to nothing yet.
func Landing(path string) string {
	const mostLinks = 40
	for range mostLinks {
		if to, err := filepath.EvalSymlinks(path); err == nil {
			return to
		}
		to, err := os.Readlink(path)
		if err != nil {
			break
		}
		if !filepath.IsAbs(to) {
			to = filepath.Join(filepath.Dir(path), to)
		}
		path = to
	}
	if dir, err := filepath.EvalSymlinks(filepath.Dir(path)); err == nil {
		return filepath.Join(dir, filepath.Base(path))
	}
	return filepath.Clean(path)
}

// syncFolder makes a new name last through a power cut, where the system has a
// way to.
func syncFolder(dir string) error {
	if runtime.GOOS == "windows" {
		return nil
	}
	f, err := os.Open(dir)
	if errors.Is(err, fs.ErrPermission) {
		return nil // a folder that may be written to and not read
	}
	if err != nil {
		return err
	}
	defer f.Close()
	if err := f.Sync(); err != nil && !errors.Is(err, syscall.EINVAL) && !errors.Is(err, errors.ErrUnsupported) {
		return err
	}
	return nil
}
