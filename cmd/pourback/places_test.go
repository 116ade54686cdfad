package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// otherDisk is a folder on another filesystem than the tests' own.
func otherDisk(t *testing.T) string {
	t.Helper()
	needs(t, "/dev/shm")
	dir, err := os.MkdirTemp("/dev/shm", "pourback-test-")
	if err != nil {
		t.Skip(err)
	}
	t.Cleanup(func() { os.RemoveAll(dir) })
	if os.Link("log.csv", filepath.Join(dir, "probe")) == nil {
		t.Skip("/dev/shm is the same filesystem")
	}
	return dir
}

// TestLinksToAnotherDisk are written through: what they lead to is whole, they
// stay links, and nothing is left beside either.
func TestLinksToAnotherDisk(t *testing.T) {
	inFolder(t, map[string]string{"log.csv": jobLog, "lot.yaml": lotSpec})
	disk := otherDisk(t)
	for name, args := range map[string][]string{
		"aside.csv": {"ingest", "log.csv", "--set-aside"}, "all.html": {"report", "--single"}, "bid.html": {"bid", "lot.yaml", "--dry-run", "--out"}, "copy.db": {"backup"},
	} {
		if name != "aside.csv" {
			call(t, "ingest", "log.csv", "--set-aside", "first.csv").want(t, exitSetAside)
		}
		if err := os.Symlink(filepath.Join(disk, name), name); err != nil {
			t.Skip(err)
		}
		for _, more := range [][]string{nil, {"--force"}} { // the link leads nowhere yet, then to a file
			if r := call(t, append(append(args, name), more...)...); r.status != exitDone && r.status != exitSetAside {
				t.Fatalf("%s: status %d: %s", name, r.status, r.stderr)
			}
			if is, err := os.Lstat(name); err != nil || is.Mode()&os.ModeSymlink == 0 {
				t.Errorf("%s is a link no more (%v)", name, err)
			}
			if is, err := os.Stat(filepath.Join(disk, name)); err != nil || is.Size() == 0 {
				t.Errorf("%s: nothing stands at the end of the link (%v)", name, err)
			}
		}
	}
	for _, dir := range []string{".", disk} {
		entries, _ := os.ReadDir(dir)
		for _, e := range entries {
			if strings.Contains(e.Name(), ".tmp") {
				t.Errorf("left in %s: %s", dir, e.Name())
			}
		}
	}
}

// TestStandardOutputIntoAFile: what is written to /dev/stdout is whole in the
// file that this goes into, behind what stood there.
func TestStandardOutputIntoAFile(t *testing.T) {
	needs(t, "/dev/stdout")
	inFolder(t, map[string]string{"log.csv": jobLog, "lot.yaml": lotSpec})
	call(t, "ingest", "log.csv").want(t, exitSetAside)
	into := func(flags int, args ...string) string {
		f, err := os.OpenFile("into", os.O_CREATE|os.O_WRONLY|flags, 0o644)
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		ended(t, program(t, args...), f).want(t, exitDone)
		return readFile(t, "into")
	}
	for _, path := range []string{"/dev/stdout", "/proc/self/fd/1", "into"} {
		got := into(os.O_TRUNC, "report", "--single", path)
		if !strings.HasPrefix(got, "<!DOCTYPE html>") || !strings.HasSuffix(strings.TrimSpace(got), "</html>") {
			t.Errorf("%s: %d bytes, %.40q … %q", path, len(got), got, got[max(0, len(got)-40):])
		}
	}
	if got := into(os.O_TRUNC, "bid", "lot.yaml", "--dry-run", "--out", "/dev/stdout"); !strings.HasPrefix(got, "<!DOCTYPE html>") || !strings.HasSuffix(strings.TrimSpace(got), "</html>") {
		t.Errorf("the cost sheet is not whole or not alone: %.80q", got)
	}
	if err := os.WriteFile("into", []byte("first line\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if got := into(os.O_APPEND, "ingest", "--set-aside-of", "1", "/dev/stdout"); !strings.HasPrefix(got, "first line\njob_no,") || !strings.Contains(got, "J-3,") {
		t.Errorf("appended: %q", got)
	}
	into(os.O_TRUNC, "backup", "/dev/stdout")
	if err := os.Rename("into", "into.db"); err != nil {
		t.Fatal(err)
	}
	call(t, "factors", "margin", "--json", "--db", "into.db").want(t, exitDone, `"revenue":13000.00`)
	if odd, _ := filepath.Glob("/dev/.stdout*"); len(odd) > 0 {
		t.Errorf("left in /dev: %v", odd)
	}
}
