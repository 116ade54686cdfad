package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"pourback/ingest/outfile"
	"pourback/ingest/store/storetest"
)

// fullDevice is a file that no byte can be written to.
func fullDevice(t *testing.T) *os.File {
	t.Helper()
	needs(t, "/dev/full")
	f, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		t.Skip(err)
	}
	t.Cleanup(func() { f.Close() })
	return f
}

// TestFullStandardOutput: a call whose results nobody could read is not done;
// where something is kept, it says that.
func TestFullStandardOutput(t *testing.T) {
	full := fullDevice(t)
	inFolder(t, map[string]string{"log.csv": goodLog, "lot.yaml": lotSpec})
	for _, c := range []struct {
		args   string
		status int
		says   string
	}{
		{"ingest log.csv", exitUnwritten, "kept"}, {"factors", exitFailed, "standard output"}, {"factors --json", exitFailed, "standard output"},
		{"batches", exitFailed, "standard output"}, {"batches --json", exitFailed, "standard output"}, {"visits", exitFailed, "standard output"},
		{"bid lot.yaml", exitUnwritten, "kept"}, {"bid lot.yaml --dry-run", exitFailed, "standard output"}, {"bids", exitFailed, "standard output"},
		{"config", exitFailed, "standard output"}, {"--help", exitFailed, "standard output"}, {"export out", exitUnwritten, "kept"},
		{"backup copy.db", exitUnwritten, "kept"}, {"report --single all.html", exitUnwritten, "kept"}, {"report --single /dev/stdout", exitFailed, "no space"},
		{"fix J-1/A thickness_in=4.5", exitUnwritten, "kept"}, {"undo 2", exitUnwritten, "kept"}, {"check", exitFailed, "standard output"},
		{"undo 1", exitUnwritten, "kept"}, {"ingest log.csv --json", exitUnwritten, "kept"}, {"ingest log.csv", exitFailed, "standard output"},
	} {
		r := ended(t, program(t, strings.Fields(c.args)...), full)
		if r.status != c.status || !strings.Contains(r.stderr, c.says) {
			t.Errorf("%s: status %d, want %d; standard error %q, want %q", c.args, r.status, c.status, r.stderr, c.says)
		}
	}
	call(t, "factors", "margin", "--json").want(t, exitDone, `"revenue":17000.00`)
}

// TestSetAsideFileThatCannotBeWritten: the good rows are kept, status 4 says so
// with the way to the others, and they come out of the database as they were
// written, on both engines.
func TestSetAsideFileThatCannotBeWritten(t *testing.T) {
	inFolder(t, map[string]string{"log.csv": jobLog, "block": "a file where a folder is wanted", "all-bad.csv": strings.ReplaceAll(jobLog, ",4,", ",45,")})
	blocked := filepath.Join("block", "aside.csv")
	storetest.Each(t, func(t *testing.T, dsn string) {
		r := call(t, "ingest", "log.csv", "--set-aside", blocked, "--db", dsn)
		r.want(t, exitUnwritten, "2 new", "kept as batch 1", "could not be written", "ingest --set-aside-of 1 FILE")
		again := filepath.Join(t.TempDir(), "again.csv")
		call(t, "ingest", "--set-aside-of", "1", again, "--db", dsn).want(t, exitDone, "1 rows of placements")
		if got := readFile(t, again); !strings.HasPrefix(got, strings.SplitN(jobLog, "\n", 2)[0]+",problem\r\nJ-3,2025-06-05,patio,324,45,4.5,0.25,chute,4000,3100,") {
			t.Errorf("again: %q", got)
		}
		call(t, "ingest", "--set-aside-of", "1", again, "--db", dsn).want(t, exitDone)
		call(t, "ingest", "--set-aside-of", "7", again, "--db", dsn).want(t, exitFailed, "no batch 7")
		call(t, "ingest", "--set-aside-of", "1", blocked, "--db", dsn).want(t, exitFailed, "block")
		call(t, "ingest", "all-bad.csv", "--set-aside", blocked, "--db", dsn).want(t, exitFailed, "nothing of all-bad.csv was kept")
		call(t, "batches", "--json", "--db", dsn).want(t, exitDone, `"set_aside": 1`)
	})
	call(t, "ingest", "--set-aside-of", "1", "a.csv", "b.csv").want(t, exitUsage, "one file")
	call(t, "ingest", "--set-aside-of", "1", "a.csv", "--dry-run").want(t, exitUsage, "no other flag")
	call(t, "ingest", "log.csv", "--set-aside", "mend.csv").want(t, exitSetAside)
	mended := strings.Replace(readFile(t, "mend.csv"), ",45,", ",4.5,", 1)
	if err := os.WriteFile("mend.csv", []byte(mended), 0o644); err != nil {
		t.Fatal(err)
	}
	call(t, "ingest", "mend.csv").want(t, exitDone, "1 new")
	call(t, "ingest", "--set-aside-of", "2", "none.csv").want(t, exitFailed, "nothing was set aside of batch 2")
}

// TestSecondFolderCannotBeWritten: of two files, the second's rows set aside
// have no place; both are kept all the same, and the status says what is amiss.
func TestSecondFolderCannotBeWritten(t *testing.T) {
	if os.Getuid() == 0 {
		runAsNobody(t)
		return
	}
	inFolder(t, map[string]string{"log.csv": jobLog})
	shutFolder(t, os.WriteFile)
	call(t, "ingest", "log.csv", filepath.Join("shut", "more.csv")).want(t, exitUnwritten, "kept as batch 1", "kept as batch 2", "ingest --set-aside-of 2 FILE")
	if _, err := os.Stat("log.set-aside.csv"); err != nil {
		t.Error(err)
	}
}

// shutFolder makes a folder with a record file that nothing can be added to.
func shutFolder(t *testing.T, write func(string, []byte, os.FileMode) error) {
	t.Helper()
	if err := os.Mkdir("shut", 0o755); err != nil {
		t.Fatal(err)
	}
	if err := write(filepath.Join("shut", "more.csv"), []byte(strings.ReplaceAll(jobLog, "J-", "K-")), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod("shut", 0o555); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.Chmod("shut", 0o755) })
}

// runAsNobody is the test for root, whom no permission keeps out: the program
// runs as somebody else.
func runAsNobody(t *testing.T) {
	t.Helper()
	if _, err := exec.LookPath("setpriv"); err != nil {
		t.Skip("root may write anywhere, and setpriv is not here")
	}
	inFolder(t, map[string]string{"log.csv": jobLog})
	shutFolder(t, os.WriteFile)
	for dir := must(os.Getwd()); dir != os.TempDir() && dir != "/"; dir = filepath.Dir(dir) {
		os.Chmod(dir, 0o755)
	}
	os.Chmod(".", 0o777)
	cmd := program(t, "ingest", "log.csv", filepath.Join("shut", "more.csv"))
	name := cmd.Path
	for dir := filepath.Dir(name); dir != os.TempDir() && dir != "/"; dir = filepath.Dir(dir) {
		os.Chmod(dir, 0o755)
	}
	other := exec.Command("setpriv", append([]string{"--reuid=65534", "--regid=65534", "--clear-groups", name}, cmd.Args[1:]...)...)
	other.Dir = cmd.Dir
	r := ended(t, other, nil)
	if strings.Contains(r.stderr, "setpriv") || strings.Contains(r.stderr, "permission denied") && r.status > 100 {
		t.Skip("no other user here: ", r.stderr)
	}
	r.want(t, exitUnwritten, "kept as batch 1", "kept as batch 2", "ingest --set-aside-of 2 FILE")
}

// TestDiskThatFills: on a disk that is full at the set-aside file, or at a
// backup, the status tells what is kept, and the good name holds no half.
func TestDiskThatFills(t *testing.T) {
	inFolder(t, map[string]string{"many.csv": manyJobs(3000) + strings.Repeat(",Lot,when,2025-02-03,9,"+strings.Repeat("y", 200)+"\n", 3000)})
	small := filepath.Join(t.TempDir(), "small")
	if err := os.Mkdir(small, 0o755); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command("mount", "-t", "tmpfs", "-o", "size=256k", "tmpfs", small).CombinedOutput(); err != nil {
		t.Skipf("no small disk can be made here: %s", out)
	}
	t.Cleanup(func() { exec.Command("umount", small).Run() })
	call(t, "ingest", "many.csv", "--set-aside", filepath.Join(small, "aside.csv")).want(t, exitUnwritten, "3000 new", "no space left", "--set-aside-of 1")
	call(t, "backup", filepath.Join(small, "copy.db")).want(t, exitFailed, "full")
	call(t, "export", filepath.Join(small, "out")).want(t, exitFailed, "no space left")
	if err := os.WriteFile(filepath.Join(small, "rest.csv"), make([]byte, 1<<20), 0o644); err == nil { // a report is smaller than the disk
		t.Fatal("the disk holds more than its size")
	}
	call(t, "report", "--single", filepath.Join(small, "all.html")).want(t, exitFailed, "no space left")
	filepath.Walk(small, func(path string, is os.FileInfo, err error) error {
		if err == nil && is.Mode().IsRegular() && filepath.Base(path) != outfile.ListName && is.Size() > 0 && !strings.HasSuffix(path, ".csv") {
			t.Errorf("left on the full disk: %s, %d bytes", path, is.Size())
		}
		return nil
	})
	call(t, "ingest", "--set-aside-of", "1", "again.csv").want(t, exitDone, "the 3000 rows of jobs")
}
