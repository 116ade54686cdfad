package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// goodLog is a job log without a bad row.
var goodLog = strings.Replace(jobLog, ",45,", ",4.5,", 1)

// inCompany moves the test into a folder with a database of three placements,
// its source, a settings file, a spec, and other names for the database.
func inCompany(t *testing.T) {
	t.Helper()
	inFolder(t, map[string]string{"log.csv": goodLog, "bad.csv": jobLog, "pourback.yaml": "company: Saltgrass Flatwork\n", "lot.yaml": lotSpec})
	call(t, "ingest", "log.csv").want(t, exitDone)
	for _, err := range []error{os.Symlink("pourback.db", "link.db"), os.Link("pourback.db", "hard.db"), os.Mkdir("sub", 0o755)} {
		if err != nil {
			t.Skip("no links here: ", err)
		}
	}
}

// intact demands that the database and the sources are as they were.
func intact(t *testing.T, after string) {
	t.Helper()
	call(t, "factors", "margin", "--json").want(t, exitDone, `"revenue":17000.00`)
	if readFile(t, "log.csv") != goodLog || readFile(t, "bad.csv") != jobLog || readFile(t, "lot.yaml") != lotSpec {
		t.Errorf("a source is changed after %s", after)
	}
}

// TestNothingTakesThePlaceOfWhatIsRead: no command that writes a file takes the
// database, what lies beside it, or what it reads, by whatever name.
func TestNothingTakesThePlaceOfWhatIsRead(t *testing.T) {
	inCompany(t)
	here := must(os.Getwd())
	names := []string{"pourback.db", "./pourback.db", "sub/../pourback.db", filepath.Join(here, "pourback.db"), "link.db", "hard.db",
		"pourback.db-wal", "pourback.db-shm", "pourback.db-journal", "pourback.yaml"}
	for _, name := range names {
		for _, args := range [][]string{
			{"report", "--single", name}, {"bid", "lot.yaml", "--dry-run", "--out", name}, {"bid", "lot.yaml", "--dry-run", "--pour-day", name},
			{"visits", "--ics", name}, {"ingest", "bad.csv", "--set-aside", name}, {"backup", name},
			{"report", "--force", "--single", name}, {"backup", "--force", name}, {"ingest", "bad.csv", "--force", "--set-aside", name},
		} {
			call(t, args...).want(t, exitUsage, name+" is ")
			intact(t, strings.Join(args, " "))
		}
	}
	for _, args := range [][]string{
		{"ingest", "bad.csv", "--set-aside", "bad.csv"}, {"ingest", "bad.csv", "--set-aside", "sub/../bad.csv"}, {"ingest", "log.csv", "bad.csv", "--set-aside", "log.csv"},
		{"bid", "lot.yaml", "--out", "lot.yaml"}, {"bid", "lot.yaml", "--pour-day", filepath.Join(here, "lot.yaml")}, {"restore", "link.db"},
	} {
		call(t, args...).want(t, exitUsage, " is ")
		intact(t, strings.Join(args, " "))
	}
}

// TestNothingTakesThePlaceOfOthersFiles: a file that pourback did not write
// stays, unless it is told --force; one that it wrote is written anew.
func TestNothingTakesThePlaceOfOthersFiles(t *testing.T) {
	inCompany(t)
	const mine = "<!DOCTYPE html>\nmy own page\n"
	for i, args := range [][]string{
		{"report", "--single"}, {"bid", "lot.yaml", "--dry-run", "--out"}, {"bid", "lot.yaml", "--dry-run", "--pour-day"},
		{"ingest", "bad.csv", "--set-aside"}, {"backup"}, {"ingest", "--set-aside-of", "2"},
	} {
		done := exitDone
		if args[0] == "ingest" && args[1] == "bad.csv" {
			done = exitSetAside
		}
		name := fmt.Sprintf("mine-%d", i)
		if err := os.WriteFile(name, []byte(mine), 0o644); err != nil {
			t.Fatal(err)
		}
		if i == 5 { // a batch of which something was set aside
			if err := os.WriteFile("more.csv", []byte(strings.ReplaceAll(jobLog, "J-", "K-")), 0o644); err != nil {
				t.Fatal(err)
			}
			call(t, "ingest", "more.csv").want(t, exitSetAside)
		}
		call(t, append(args, name)...).want(t, exitFailed, name+" exists", "--force")
		if readFile(t, name) != mine {
			t.Errorf("%v took the place of a file that is not ours", args)
		}
		call(t, append(args, name, "--force")...).want(t, done)
		if readFile(t, name) == mine {
			t.Errorf("%v --force wrote nothing", args)
		}
		if args[0] != "backup" {
			call(t, append(args, name)...).want(t, done) // ours by now
		}
	}
}

// TestCalendarLeavesOthersFiles is the same for a calendar, which wants visits
// that are due.
func TestCalendarLeavesOthersFiles(t *testing.T) {
	inFolder(t, map[string]string{"mine.ics": "BEGIN:VCALENDAR\r\nPRODID:-//mine//EN\r\n",
		"placements.csv": "job_no,placed_on,use,area_sqft,thickness_in\nJ-1,2026-03-30,patio,400,4\n"})
	call(t, "ingest", "placements.csv").want(t, exitDone)
	call(t, "visits", "--ics", "mine.ics").want(t, exitFailed, "mine.ics exists")
	if !strings.Contains(readFile(t, "mine.ics"), "//mine//") {
		t.Error("somebody's calendar is gone")
	}
	call(t, "visits", "--ics", "ours.ics").want(t, exitDone)
	call(t, "visits", "--ics", "ours.ics").want(t, exitDone)
	call(t, "visits", "--ics", "mine.ics", "--force").want(t, exitDone)
}

// TestFoldersKeepOthersFiles: an export and a report share a folder with files
// of others, touch none of them, and refuse whole where a name is taken.
func TestFoldersKeepOthersFiles(t *testing.T) {
	inCompany(t)
	others := map[string]string{"notes.txt": "mine", "jobs.csv": "job_no\nX-1\n", "index.html": "<html>mine</html>"}
	put := func(dir string, names ...string) {
		if err := os.MkdirAll(dir, 0o755); err != nil {
			t.Fatal(err)
		}
		for _, name := range names {
			if err := os.WriteFile(filepath.Join(dir, name), []byte(others[name]), 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	put("a", "notes.txt", "jobs.csv")
	call(t, "export", "a").want(t, exitFailed, filepath.Join("a", "jobs.csv")+" exists", "--force")
	put("b", "notes.txt", "index.html")
	call(t, "report", "--out", "b").want(t, exitFailed, filepath.Join("b", "index.html")+" exists")
	for _, dir := range []string{"a", "b"} {
		if left, _ := os.ReadDir(dir); len(left) != 2 {
			t.Errorf("a refused call left %v in %s", left, dir)
		}
	}
	put("c", "notes.txt")
	for range 2 { // the second time over files of its own
		call(t, "export", "c").want(t, exitDone)
		call(t, "report", "--out", "c").want(t, exitDone)
	}
	if readFile(t, filepath.Join("a", "jobs.csv")) != others["jobs.csv"] || readFile(t, filepath.Join("b", "index.html")) != others["index.html"] || readFile(t, filepath.Join("c", "notes.txt")) != "mine" {
		t.Error("a file of others is changed")
	}
	call(t, "export", "a", "--force").want(t, exitDone)
	if !strings.Contains(readFile(t, filepath.Join("a", "placements.csv")), "J-1") {
		t.Error("--force exported nothing")
	}
}

// TestDemoKeepsOthersFiles: what an owner put beside the demo's files, or into
// its database, outlives the next demo.
func TestDemoKeepsOthersFiles(t *testing.T) {
	inFolder(t, map[string]string{"log.csv": goodLog})
	call(t, "demo", "--jobs", "5").want(t, exitDone)
	notes := filepath.Join("demo", "report", "notes.txt")
	if err := os.WriteFile(notes, []byte("mine"), 0o644); err != nil {
		t.Fatal(err)
	}
	call(t, "demo", "--jobs", "5").want(t, exitDone)
	if readFile(t, notes) != "mine" {
		t.Error("the demo changed somebody's file")
	}
	db := filepath.Join("demo", "pourback.db")
	call(t, "ingest", "log.csv", "--db", db).want(t, exitDone)
	call(t, "demo", "--jobs", "5").want(t, exitFailed, "holds more than the demo took in", "log.csv")
	call(t, "batches", "--db", db).want(t, exitDone, "log.csv")
}

// TestADashNamesNothing: who writes a dash means no file; none of that name is made.
func TestADashNamesNothing(t *testing.T) {
	inCompany(t)
	for _, args := range [][]string{
		{"report", "--out", "-"}, {"report", "--single", "-"}, {"export", "-"}, {"backup", "-"}, {"visits", "--ics", "-"}, {"ingest", "bad.csv", "--set-aside", "-"},
		{"bid", "lot.yaml", "--dry-run", "--out", "-"}, {"bid", "lot.yaml", "--dry-run", "--pour-day", "-"}, {"report", "--db", "-"}, {"ingest", "bad.csv", "--db", "-"},
	} {
		if got := call(t, args...); got.status == exitDone || !strings.Contains(got.stderr, "- is no ") {
			t.Errorf("%v: %d %s", args, got.status, got.stderr)
		}
		if _, err := os.Lstat("-"); err == nil {
			t.Fatalf("%v made one", args)
		}
		intact(t, strings.Join(args, " "))
	}
}
