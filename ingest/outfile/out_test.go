package outfile

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"
	"time"
)

func put(t *testing.T, path, text string) string {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// TestLeftovers: what a killed run left in a folder is gone after the next one,
// and nothing else is.
func TestLeftovers(t *testing.T) {
	dead := exec.Command(os.Args[0], "-test.run=^$")
	if err := dead.Run(); err != nil {
		t.Fatal(err)
	}
	gonePID, now, old := dead.Process.Pid, time.Now(), time.Now().Add(-2*longAgo)
	temp := func(name, host string, pid int, run, end string) string {
		return fmt.Sprintf(".%s.pourback-%s-%d-%s-7%s", name, host, pid, run, end)
	}
	for _, c := range []struct {
		name string
		made time.Time
		goes bool
	}{
		{temp("a.html", thisHost(), gonePID, "0123abcd", ".tmp"), now, true},
		{temp("copy.db", thisHost(), gonePID, "0123abcd", ".tmp-journal"), now, true},
		{temp("a.html", thisHost(), os.Getpid(), "0123abcd", ".tmp"), now, true}, // an earlier run that had our number
		{temp("a.html", thisHost(), os.Getpid(), thisRun(), ".tmp"), now, false}, // another of this run's
		{temp("a.html", thisHost(), os.Getppid(), "0123abcd", ".tmp"), now, false},
		{temp("a.html", "ffffffff", gonePID, "0123abcd", ".tmp"), now, false}, // on another machine
		{temp("a.html", "ffffffff", gonePID, "0123abcd", ".tmp"), old, true},
		{temp("a.html", thisHost(), gonePID, "0123abcd", ".tmp.txt"), old, false},
		{".a.html-123456", old, false}, {"a.tmp", old, false}, {".pourback-1-2-3.tmp", old, false},
	} {
		dir := t.TempDir()
		left := put(t, filepath.Join(dir, c.name), "half")
		if err := os.Chtimes(left, c.made, c.made); err != nil {
			t.Fatal(err)
		}
		if err := Write(filepath.Join(dir, "b.html"), says("whole")); err != nil {
			t.Fatal(err)
		}
		if _, err := os.Stat(left); errors.Is(err, os.ErrNotExist) != c.goes {
			t.Errorf("%s from %v: gone is %v, want %v", c.name, c.made, !c.goes, c.goes)
		}
	}
}

// TestTempNamesAreOurs: what is begun is known for ours later, however long the
// name or odd its letters.
func TestTempNamesAreOurs(t *testing.T) {
	long := make([]byte, 240)
	for i := range long {
		long[i] = 'x'
	}
	for _, name := range []string{"a.html", string(long), "lat\xe9in", "two\nlines", ".hidden"} {
		f, err := begin(filepath.Join(t.TempDir(), name), 0o666)
		if err != nil {
			t.Errorf("%.20q: %v", name, err)
			continue
		}
		if base := filepath.Base(f.Name()); !madeByUs.MatchString(base) {
			t.Errorf("%q is not known for ours", base)
		}
		f.Drop()
	}
}

// TestMay: by any of its names what is read is refused, forced or not; what is
// not ours is refused unless forced.
func TestMay(t *testing.T) {
	t.Chdir(t.TempDir())
	put(t, "read.csv", "job_no\n")
	put(t, "ours", "MARK")
	put(t, "theirs", "something else")
	put(t, "empty", "")
	for _, force := range []bool{false, true} {
		o := &Out{Force: force}
		o.Reads("the source", "read.csv", "later.csv")
		for _, name := range []string{"read.csv", "./read.csv", "later.csv", filepath.Join("..", filepath.Base(mustAbs(".")), "later.csv")} {
			var inUse *InUseError
			if err := o.May(name, Holding("MARK")); !errors.As(err, &inUse) || inUse.What != "the source" {
				t.Errorf("force %v: %s: %v", force, name, err)
			}
		}
		for name, may := range map[string]bool{"ours": true, "empty": true, "new": true, "theirs": force, ".": false, "-": false, "./-": true, os.DevNull: true} {
			if err := o.May(name, Holding("MARK")); (err == nil) != may {
				t.Errorf("force %v: %s: %v", force, name, err)
			}
		}
	}
}

func mustAbs(path string) string {
	abs, err := filepath.Abs(path)
	if err != nil {
		panic(err)
	}
	return abs
}

// TestOneCallWritesAFileOnce: two outputs of a call that are one file by a link
// are not written over each other.
func TestOneCallWritesAFileOnce(t *testing.T) {
	t.Chdir(t.TempDir())
	if err := os.Symlink("a", "b"); err != nil {
		t.Skip(err)
	}
	o := &Out{}
	if err := o.Write("a", nil, says("first")); err != nil {
		t.Fatal(err)
	}
	if err := o.Write("b", anybodys, says("second")); err == nil || read(t, "a") != "first" {
		t.Errorf("%v, and a holds %q", err, read(t, "a"))
	}
}

// TestFolder: a folder's list grows by what is written, is known before the
// first file is there, and covers no file that it does not name.
func TestFolder(t *testing.T) {
	t.Chdir(t.TempDir())
	f, err := (&Out{}).Folder("d", nil, "a", "b")
	if err != nil {
		t.Fatal(err)
	}
	put(t, filepath.Join("d", "a"), "written before the run was killed")
	if _, err := f.Write("c", says("x")); err == nil {
		t.Error("a file was written that was not told of")
	}
	f, err = (&Out{}).Folder("d", nil, "a", "c")
	if err != nil || !slices.Equal(f.list.Files, []string{"a", "b", "c"}) {
		t.Fatalf("%v, %v", err, f)
	}
	if path, err := f.Write("a", says("new")); err != nil || read(t, path) != "new" {
		t.Error(path, err)
	}
	put(t, filepath.Join("d", "mine"), "mine")
	if _, err := (&Out{}).Folder("d", nil, "a", "mine"); err == nil || read(t, filepath.Join("d", "mine")) != "mine" {
		t.Error("a file that nobody listed was taken for ours")
	}
	put(t, filepath.Join("d", ListName), `{"files": ["mine"]}`)
	if _, err := (&Out{}).Folder("d", nil, "mine"); err == nil {
		t.Error("somebody's list was taken for ours")
	}
	if _, err := (&Out{}).Folder("-", nil, "a"); err == nil {
		t.Error("a dash was taken for a folder's name")
	}
}
