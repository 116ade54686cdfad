package main

import (
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/ingest/store/storetest"
)

// answering are commands that keep nothing.
var answering = [][]string{
	{"factors"}, {"factors", "--json"}, {"visits"}, {"backtest"}, {"batches"}, {"bids"}, {"check"}, {"picture"},
	{"bid", "--use", "driveway", "--length", "40", "--width", "20", "--thickness", "4", "--dry-run"},
	{"report", "--out", "report"}, {"export", "out"},
}

// TestStandbyAnswers: a standby, which takes no writes, answers what the primary
// answers, and says what it is where something was to be kept.
func TestStandbyAnswers(t *testing.T) {
	primary, standby := storetest.Replicated(t)
	inFolder(t, nil)
	call(t, "factors", "--db", standby).want(t, exitFailed, "holds no database of pourback's")
	call(t, "ingest", "--db", standby, write(t, "none.csv", "job_no,item,unit\nJ-1,pump,h\n")).want(t, exitFailed, "keeps nothing, as a standby does", "primary")
	call(t, "demo", "--jobs", "60", "--quiet").want(t, exitDone)
	call(t, append([]string{"ingest", "--db", primary, "--quiet"}, recordFiles(t, "demo/records")...)...).want(t, exitDone)
	storetest.CatchUp(t)
	for i, args := range answering {
		var said [2]result
		for k, dsn := range []string{primary, standby} {
			dir := fmt.Sprint("at", i, k)
			if err := os.Mkdir(dir, 0o755); err != nil {
				t.Fatal(err)
			}
			t.Chdir(dir)
			said[k] = call(t, append(args, "--db", dsn)...)
			said[k].want(t, exitDone)
			t.Chdir("..")
		}
		if said[0].stdout != said[1].stdout && args[0] != "report" && args[0] != "export" {
			t.Errorf("%v: the standby says\n%.800s\nand the primary\n%.800s", args, said[1].stdout, said[0].stdout)
		}
		sameFiles(t, fmt.Sprint("at", i, 0), fmt.Sprint("at", i, 1))
	}
	for _, args := range [][]string{
		{"ingest", "none.csv"}, {"undo", "1"}, {"fix", "SF-1001", "site=9 Dry Wash Rd"},
		{"bid", "--use", "driveway", "--length", "40", "--width", "20", "--thickness", "4"},
	} {
		r := call(t, append(args, "--db", standby)...)
		if r.want(t, r.status, "keeps nothing, as a standby does", "primary's address"); r.status == exitDone {
			t.Errorf("%v on a standby is done", args)
		}
	}
}

// write puts a file into the folder of the test.
func write(t *testing.T, name, text string) string {
	t.Helper()
	if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return name
}

// sameFiles demands that two folders hold the same.
func sameFiles(t *testing.T, one, other string) {
	t.Helper()
	err := filepath.WalkDir(one, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		a, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		b, err := os.ReadFile(filepath.Join(other, path[len(one):]))
		if err == nil && string(a) != string(b) {
			t.Errorf("%s differs from that in %s", path, other)
		}
		return err
	})
	if err != nil {
		t.Error(err)
	}
}

// TestStandbyAnswersWhileOthersWrite: two writers take files in and take them
// back on the primary, and what the standby answers is of some moment, whole.
func TestStandbyAnswersWhileOthersWrite(t *testing.T) {
	primary, standby := storetest.Replicated(t)
	inFolder(t, nil)
	call(t, "demo", "--jobs", "40", "--quiet").want(t, exitDone)
	call(t, append([]string{"ingest", "--db", primary, "--quiet"}, recordFiles(t, "demo/records")...)...).want(t, exitDone)
	storetest.CatchUp(t)
	done := make(chan struct{})
	var writers sync.WaitGroup
	for w := range 2 {
		file := write(t, fmt.Sprintf("w%d.csv", w), fmt.Sprintf("job_no,placement,placed_on,use,area_sqft,thickness_in\nW-%d,A,2026-01-05,driveway,480,4\nW-%d,B,2026-01-06,patio,320,4\n", w, w))
		writers.Go(func() {
			for n := 1; ; n++ {
				select {
				case <-done:
					return
				default:
				}
				text := fmt.Sprintf("job_no,placement,placed_on,use,area_sqft,thickness_in\nW-%d,A,2026-01-05,driveway,%d,4\nW-%d,B,2026-01-06,patio,%d,4\n", w, 300+n, w, 300+n)
				if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
					t.Error(err)
					return
				}
				call(t, "ingest", "--db", primary, "--quiet", file).want(t, exitDone)
			}
		})
	}
	st, err := store.Open(t.Context(), standby, store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer st.Close()
	for range 3 {
		time.AfterFunc(100*time.Millisecond, func() { storetest.EndConnections(t, primary) }) // as where another server takes over
		wholeFiles(t, st)
		for _, args := range [][]string{answering[0], {"visits"}, answering[7], {"report", "--out", "report", "--force"}} {
			call(t, append(args, "--db", standby)...).want(t, exitDone)
		}
	}
	close(done)
	writers.Wait()
	storetest.CatchUp(t)
	last := call(t, "factors", "--json", "--db", primary)
	if got := call(t, "factors", "--json", "--db", standby); got.stdout != last.stdout {
		t.Error("at last the standby says something else than the primary")
	}
}

// wholeFiles reads histories, in each of which the rows of a writer's file stand
// as one file had them.
func wholeFiles(t *testing.T, st *store.Store) {
	t.Helper()
	for range 20 {
		h, err := st.History(t.Context(), record.DateOf(2026, 3, 31))
		if err != nil {
			t.Error(err)
			return
		}
		for _, no := range []string{"W-0", "W-1"} {
			if j, ok := h.FindJob(no); ok {
				from, to := h.PlacementsOf(j)
				if to-from != 2 || h.Placements.At(from).AreaSqft() != h.Placements.At(from+1).AreaSqft() {
					t.Errorf("%s: rows of different files", no)
				}
			}
		}
	}
}
