package outfile

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"testing"
)

func says(text string) func(io.Writer) error {
	return func(w io.Writer) error { _, err := io.WriteString(w, text); return err }
}

func read(t *testing.T, path string) string {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

func TestWriteReplacesOrLeaves(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "a.html")
	for _, text := range []string{"first", "second"} {
		if err := Write(path, says(text)); err != nil || read(t, path) != text {
			t.Fatalf("%q: %v, file %q", text, err, read(t, path))
		}
	}
	failed := errors.New("no more paper")
	err := Write(path, func(w io.Writer) error { io.WriteString(w, "half"); return failed })
	if !errors.Is(err, failed) || read(t, path) != "second" {
		t.Errorf("a failure gave %v and left %q", err, read(t, path))
	}
	if left, _ := os.ReadDir(dir); len(left) != 1 {
		t.Errorf("files left behind: %v", left)
	}
}

func TestWriteKeepsALinkAndAMode(t *testing.T) {
	dir := t.TempDir()
	path, link := filepath.Join(dir, "kept"), filepath.Join(dir, "link")
	if err := os.WriteFile(path, []byte("old"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(path, link); err != nil {
		t.Skip("no links here: ", err)
	}
	if err := Write(link, says("new")); err != nil || read(t, path) != "new" {
		t.Fatalf("%v, file %q", err, read(t, path))
	}
	if is, err := os.Lstat(link); err != nil || is.Mode()&os.ModeSymlink == 0 {
		t.Error("the link was replaced by a file")
	}
	if is, err := os.Stat(path); err != nil || is.Mode().Perm() != 0o600 {
		t.Errorf("mode %v, want 0600", is.Mode())
	}
}

// A device is written into: once a report sent there took its place.
func TestWriteLeavesADeviceWhatItIs(t *testing.T) {
	before, err := os.Stat(os.DevNull)
	if err != nil || before.Mode()&os.ModeDevice == 0 {
		t.Skip("no null device here")
	}
	f, err := begin(os.DevNull, 0o666)
	if err != nil {
		t.Fatal(err)
	}
	if filepath.Dir(f.Name()) == filepath.Dir(os.DevNull) {
		t.Fatalf("begun beside the device, as %s", f.Name())
	}
	if err := f.Put(os.DevNull); err != nil {
		t.Error(err)
	}
	if after, err := os.Stat(os.DevNull); err != nil || after.Mode() != before.Mode() {
		t.Errorf("the null device is now %v", after.Mode())
	}
	if _, err := os.Stat(f.Name()); !errors.Is(err, os.ErrNotExist) {
		t.Error("the file in the making is left behind")
	}
}
