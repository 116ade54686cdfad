package main

import (
	"database/sql"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// manyJobs is a record file long enough for a copy of it to take a while.
func manyJobs(rows int) string {
	var b strings.Builder
	b.WriteString("job_no,site,bid_on,won_on,contract_price,note\n")
	for i := range rows {
		fmt.Fprintf(&b, "J-%d,Lot %d,2025-01-02,2025-02-03,%d,%s\n", i, i, i%900+1000, strings.Repeat("x", 60))
	}
	return b.String()
}

// contents is a database as its export of jobs has it.
func contents(t *testing.T, db string) string {
	t.Helper()
	dir := t.TempDir()
	call(t, "export", dir, "--db", db).want(t, exitDone)
	return readFile(t, filepath.Join(dir, "jobs.csv"))
}

// TestKilledBackup kills backups at random moments: the good name holds nothing
// or a whole copy, and over an older copy the older or the newer one, whole.
// What they leave behind is gone after the next backup that is let live.
func TestKilledBackup(t *testing.T) {
	inFolder(t, map[string]string{"many.csv": manyJobs(20000), "more.csv": "job_no,site,bid_on,won_on,contract_price\nK-1,Lot 1,2025-01-02,2025-02-03,1000\n"})
	call(t, "ingest", "many.csv").want(t, exitDone)
	call(t, "backup", "old.db").want(t, exitDone)
	old := contents(t, "old.db")
	call(t, "ingest", "more.csv").want(t, exitDone)
	now := contents(t, "pourback.db")
	if old == now {
		t.Fatal("the two states are alike")
	}
	unhindered := program(t, "backup", "whole.db")
	began := time.Now()
	ended(t, unhindered, nil).want(t, exitDone)
	took := time.Since(began)
	kills, cut := 40, 0
	if testing.Short() {
		kills = 12
	}
	for i := range kills {
		name, args := "new.db", []string{"backup", "new.db"}
		os.Remove(name)
		over := i%2 == 1
		if over {
			name, args = "over.db", []string{"backup", "over.db", "--force"}
			if err := os.WriteFile(name, []byte(readFile(t, "old.db")), 0o600); err != nil {
				t.Fatal(err)
			}
		}
		cmd := program(t, args...)
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(time.Duration(rand.Int64N(int64(took))))
		cmd.Process.Kill()
		if cmd.Wait() != nil {
			cut++
		}
		_, err := os.Stat(name)
		switch {
		case err != nil && over:
			t.Fatalf("kill %d: the older copy is gone", i)
		case err != nil:
			continue
		}
		if got := contents(t, name); got != now && !(over && got == old) {
			t.Fatalf("kill %d: %s holds %d bytes of jobs, neither the %d before nor the %d now", i, name, len(got), len(old), len(now))
		}
	}
	if cut < kills/4 {
		t.Errorf("only %d of %d backups were killed before they ended", cut, kills)
	}
	call(t, "backup", "last.db").want(t, exitDone)
	entries, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if strings.Contains(e.Name(), ".tmp") {
			t.Errorf("left behind: %s", e.Name())
		}
	}
	if contents(t, "pourback.db") != now {
		t.Error("the database itself changed")
	}
}

// TestKilledRestore kills restores at random moments: the database is the one
// before or the one of the backup, whole, and the one before is lost in no case.
func TestKilledRestore(t *testing.T) {
	inFolder(t, map[string]string{"many.csv": manyJobs(5000), "more.csv": "job_no,site,bid_on,won_on,contract_price\nK-1,Lot 1,2025-01-02,2025-02-03,1000\n"})
	call(t, "ingest", "many.csv").want(t, exitDone)
	call(t, "backup", "old.db").want(t, exitDone)
	old := contents(t, "old.db")
	call(t, "ingest", "more.csv").want(t, exitDone)
	call(t, "backup", "now.db").want(t, exitDone)
	now := contents(t, "now.db")
	unhindered := program(t, "restore", "now.db")
	began := time.Now()
	ended(t, unhindered, nil).want(t, exitDone)
	took, restored := time.Since(began), 0
	for i := range 24 {
		cmd := program(t, "restore", "old.db")
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(time.Duration(rand.Int64N(int64(took))))
		cmd.Process.Kill()
		cmd.Wait()
		switch got := contents(t, "pourback.db"); {
		case got == old:
			restored++
			kept, _ := filepath.Glob("pourback.before-restore-*.db")
			if len(kept) == 0 || contents(t, kept[len(kept)-1]) != now {
				t.Fatalf("kill %d: what stood there is not kept: %v", i, kept)
			}
			call(t, "restore", "now.db").want(t, exitDone)
		case got != now:
			t.Fatalf("kill %d: neither the old nor the new: %d bytes", i, len(got))
		}
		kept, _ := filepath.Glob("pourback.before-restore-*.db*")
		for _, name := range kept {
			os.Remove(name)
		}
	}
	if restored == 24 {
		t.Error("no restore was killed before it ended")
	}
}

// TestRestore puts a backup back, keeps what stood there, and refuses what is no
// backup with everything left as it is.
func TestRestore(t *testing.T) {
	inFolder(t, map[string]string{"log.csv": goodLog, "more.csv": strings.ReplaceAll(goodLog, "J-", "K-"), "photo.jpg": "\xff\xd8\xff\xe0", "empty.db": ""})
	call(t, "ingest", "log.csv").want(t, exitDone)
	call(t, "backup", "copy.db").want(t, exitDone)
	call(t, "ingest", "more.csv").want(t, exitDone)
	damaged := []byte(readFile(t, "copy.db"))
	for i := 3 * 8192; i < 3*8192+4000; i++ {
		damaged[i] ^= 0x5a
	}
	if err := os.WriteFile("damaged.db", damaged, 0o600); err != nil {
		t.Fatal(err)
	}
	foreignDatabase(t, "foreign.db")
	for _, file := range []string{"photo.jpg", "empty.db", "missing.db", "damaged.db", "foreign.db", "."} {
		call(t, "restore", file).want(t, exitFailed, file)
		call(t, "factors", "margin", "--json").want(t, exitDone, `"revenue":34000.00`)
	}
	call(t, "restore", "copy.db").want(t, exitDone, "is now as copy.db", "pourback.before-restore-20260331T120000Z.db")
	call(t, "factors", "margin", "--json").want(t, exitDone, `"revenue":17000.00`)
	kept := "pourback.before-restore-20260331T120000Z.db"
	call(t, "factors", "margin", "--json", "--db", kept).want(t, exitDone, `"revenue":34000.00`)
	call(t, "restore", kept).want(t, exitDone, "before-restore-20260331T120000Z-2.db")
	call(t, "factors", "margin", "--json").want(t, exitDone, `"revenue":34000.00`)
	call(t, "restore", "copy.db", "--db", "fresh.db").want(t, exitDone)
	call(t, "factors", "margin", "--json", "--db", "fresh.db").want(t, exitDone, `"revenue":17000.00`)

	before := readFile(t, "foreign.db")
	call(t, "restore", "copy.db", "--db", "foreign.db").want(t, exitFailed, "no database of pourback's", "--force")
	if readFile(t, "foreign.db") != before {
		t.Error("somebody's database is changed")
	}
	if err := os.WriteFile("pourback.db", damaged, 0o600); err != nil { // what restore is for
		t.Fatal(err)
	}
	for _, part := range []string{"-wal", "-shm"} {
		os.Remove("pourback.db" + part)
	}
	call(t, "restore", "copy.db").want(t, exitDone, "before-restore-20260331T120000Z-3.db")
	call(t, "factors", "margin", "--json").want(t, exitDone, `"revenue":17000.00`)
}

// foreignDatabase makes another program's database.
func foreignDatabase(t *testing.T, path string) {
	t.Helper()
	db, err := sql.Open("sqlite", path)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	if _, err := db.Exec("CREATE TABLE bookmarks (url TEXT)"); err != nil {
		t.Fatal(err)
	}
}

// TestRestoreWhileInUse fails and changes nothing.
func TestRestoreWhileInUse(t *testing.T) {
	inFolder(t, map[string]string{"log.csv": goodLog, "more.csv": strings.ReplaceAll(goodLog, "J-", "K-")})
	call(t, "ingest", "log.csv").want(t, exitDone)
	call(t, "backup", "copy.db").want(t, exitDone)
	call(t, "ingest", "more.csv").want(t, exitDone)
	db, err := sql.Open("sqlite", "file:pourback.db?_pragma=busy_timeout(1000)")
	if err != nil {
		t.Fatal(err)
	}
	var n int
	if err := db.QueryRow("SELECT COUNT(*) FROM jobs").Scan(&n); err != nil {
		t.Fatal(err)
	}
	call(t, "restore", "copy.db").want(t, exitFailed, "another program is using")
	db.Close()
	call(t, "factors", "margin", "--json").want(t, exitDone, `"revenue":34000.00`)
	call(t, "restore", "copy.db").want(t, exitDone)
}

// TestOnlyIngestMakesADatabase: what reads says where it looked and what to do,
// and leaves nothing; ingest says with its full path what it makes.
func TestOnlyIngestMakesADatabase(t *testing.T) {
	inFolder(t, map[string]string{"log.csv": goodLog, "lot.yaml": lotSpec})
	here := must(os.Getwd())
	for _, args := range [][]string{{"report"}, {"factors"}, {"visits"}, {"bids"}, {"batches"}, {"undo", "1"}, {"backtest"}, {"export", "out"}, {"backup", "b.db"},
		{"balance", "--bid", "1", "--placed-yd", "1", "--covered", "50"}, {"ingest", "--set-aside-of", "1", "x.csv"}} {
		call(t, args...).want(t, exitFailed, "there is no database at "+filepath.Join(here, "pourback.db"), "pourback ingest FILE", "--db")
	}
	call(t, "bid", "lot.yaml", "--db", "typo.db").want(t, exitFailed, filepath.Join(here, "typo.db"))
	call(t, "bid", "lot.yaml").want(t, exitDone, filepath.Join(here, "pourback.db"), "not kept", "common practice")
	call(t, "ingest", "log.csv", "--dry-run").want(t, exitDone, "3 new")
	if left, _ := filepath.Glob("*"); len(left) != 2 {
		t.Errorf("left behind: %v", left)
	}
	if err := os.WriteFile("empty.db", nil, 0o600); err != nil {
		t.Fatal(err)
	}
	call(t, "factors", "--db", "empty.db").want(t, exitFailed, filepath.Join(here, "empty.db")+" is empty")
	call(t, "ingest", "log.csv", "--db", "empty.db").want(t, exitDone, filepath.Join(here, "empty.db")+" is empty: making a new database of it")
	call(t, "ingest", "log.csv").want(t, exitDone, "making a new database at "+filepath.Join(here, "pourback.db"))
	r := call(t, "ingest", "log.csv")
	if r.want(t, exitDone); strings.Contains(r.stderr, "making") {
		t.Errorf("a database that is there is made again: %s", r.stderr)
	}
}
