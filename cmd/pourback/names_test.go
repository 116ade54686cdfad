package main

import (
	"encoding/json"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"pourback/ingest/store/storetest"
)

// TestWhoMayRead: the database, copies of it and all that holds names or money
// is for its owner alone; with file_access: umask whom the umask lets may read
// what is no database.
func TestWhoMayRead(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("no such permissions here")
	}
	inFolder(t, map[string]string{"log.csv": jobLog, "lot.yaml": lotSpec})
	write := func(dir string, environ ...string) {
		at := func(name string) string { return filepath.Join(dir, name) }
		for _, args := range [][]string{{"ingest", "log.csv", "--set-aside", at("aside.csv")}, {"backup", at("copy.db")}, {"export", at("out")}, {"report", "--out", at("report")},
			{"report", "--single", at("all.html")}, {"bid", "lot.yaml", "--out", at("bid.html"), "--pour-day", at("day.html")}} {
			if r := callWith(t, environ, append(args, "--db", at("pourback.db"))...); r.status != exitDone && r.status != exitSetAside {
				t.Errorf("%v: status %d, %s", args, r.status, r.stderr)
			}
		}
	}
	for _, dir := range []string{"owner", "umask"} {
		if err := os.Mkdir(dir, 0o755); err != nil {
			t.Fatal(err)
		}
	}
	write("owner")
	write("umask", "POURBACK_FILE_ACCESS=umask")
	probe, err := os.OpenFile("probe", os.O_CREATE|os.O_WRONLY, 0o666)
	if err != nil {
		t.Fatal(err)
	}
	is, _ := probe.Stat()
	probe.Close()
	for dir, want := range map[string]fs.FileMode{"owner": 0o600, "umask": is.Mode().Perm()} {
		filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() {
				return err
			}
			want := want
			if strings.Contains(d.Name(), ".db") {
				want = 0o600
			}
			if is, err := d.Info(); err != nil || is.Mode().Perm() != want {
				t.Errorf("%s has mode %v, want %v", path, is.Mode().Perm(), want)
			}
			return nil
		})
	}
	callWith(t, []string{"POURBACK_FILE_ACCESS=all"}, "config").want(t, exitUsage, "owner, umask")
}

// TestHostileFileNames are shown escaped, and taken in like any other, on both
// engines; so are those that are no UTF-8.
func TestHostileFileNames(t *testing.T) {
	for name, shown := range map[string]string{"a\x1b[31mred.csv": `a\x1b[31mred.csv`, "two\nlines.csv": `two\nlines.csv`, "back\u202egnp.csv": `back\u202egnp.csv`, "lat\xe9in.csv": `lat\xe9in.csv`, "caf\u00e9.csv": "café.csv"} {
		inFolder(t, map[string]string{})
		if err := os.WriteFile(name, []byte(jobLog), 0o644); err != nil {
			t.Logf("no file %q here: %v", name, err)
			continue
		}
		storetest.Each(t, func(t *testing.T, dsn string) {
			r := call(t, "ingest", name, "--db", dsn)
			r.want(t, exitSetAside, "2 new", shown+": placements", strings.TrimSuffix(shown, ".csv")+".set-aside.csv", shown+", row 4")
			all := r.stdout + r.stderr
			for _, args := range [][]string{{"batches"}, {"batches", "--json"}, {"ingest", name, "--json"}, {"undo", "1"}, {"export", name + ".d"}, {"report", "--single", name + ".html"}, {"export", "d", "--force"}} {
				r := call(t, append(args, "--db", dsn)...)
				if r.status != exitDone && r.status != exitSetAside {
					t.Errorf("%q: status %d: %s", args, r.status, r.stderr)
				}
				all += r.stdout + r.stderr
			}
			if shown != name && strings.Contains(all, strings.TrimSuffix(name, ".csv")) || strings.Contains(all, "\ufffd") || strings.Contains(all, "\x1b") {
				t.Errorf("shown as it is: %q", all)
			}
		})
		if r := call(t, "ingest", "no-"+name); r.status != exitFailed || strings.Contains(r.stdout+r.stderr, "\x1b") || strings.Contains(r.stderr, "\xe9") || strings.Contains(r.stderr, "\u202e") {
			t.Errorf("a missing file: status %d, %q", r.status, r.stderr)
		}
		db := strings.TrimSuffix(name, ".csv") + ".db"
		call(t, "ingest", name, "--db", db).want(t, exitSetAside, strings.TrimSuffix(shown, ".csv")+".db")
		if _, err := os.Stat(db); err != nil {
			t.Error(err)
		}
		call(t, "backup", "copy-"+db, "--db", db).want(t, exitDone, strings.TrimSuffix(shown, ".csv")+".db")
	}
}

// TestWideFormulas: full-width signs are neutralised as the others are, and come
// back as they were.
func TestWideFormulas(t *testing.T) {
	inFolder(t, map[string]string{"jobs.csv": "job_no,site,note\nJ-1,＝1+1,＠x\nJ-2,＋5,－5\nJ-3,a＝b,=2\n"})
	call(t, "ingest", "jobs.csv").want(t, exitDone, "3 new")
	call(t, "export", "out").want(t, exitDone)
	text := readFile(t, filepath.Join("out", "jobs.csv"))
	for _, cell := range []string{",'＝1+1,", ",'＠x,", ",'＋5,", ",'－5,", ",a＝b,", ",'=2,"} {
		if !strings.Contains(text, cell) {
			t.Errorf("no cell %q in\n%s", cell, text)
		}
	}
	call(t, "ingest", filepath.Join("out", "jobs.csv"), "--db", "back.db").want(t, exitDone, "3 new")
	call(t, "export", "again", "--db", "back.db").want(t, exitDone)
	if readFile(t, filepath.Join("again", "jobs.csv")) != text {
		t.Error("it comes back otherwise")
	}
}

const namedLog = `job_no,placed_on,use,area_sqft,thickness_in,delivered_yd,leftover_yd,method,contract_price,actual_cost,labor_hours,foreman,site
J-1,2026-03-03,driveway,810,4,10.5,0.25,chute,9000,7000,30,Quillon,7 Secret Lane
J-2,2026-03-04,patio,324,4,4.5,0.25,chute,4000,3100,12,Vantry,9 Hidden Court
J-3,2026-03-05,patio,324,4,4.5,0.25,chute,4000,3100,14,Quillon,7 Secret Lane
`

// TestNoNames: with --no-names neither site nor person stands in anything that
// is written; without it they do.
func TestNoNames(t *testing.T) {
	inFolder(t, map[string]string{"log.csv": namedLog, "lot.yaml": strings.Replace(lotSpec, "name: Lot 14, Mesquite Lane", "name: Hidden Court\ncrew: Quillon", 1)})
	call(t, "ingest", "log.csv").want(t, exitDone, "3 new")
	call(t, "bid", "lot.yaml").want(t, exitDone, "Hidden Court")
	if err := os.WriteFile("later.csv", []byte(strings.ReplaceAll(namedLog, "Quillon", "Vantry")), 0o644); err != nil {
		t.Fatal(err)
	}
	call(t, "ingest", "later.csv", "--db", "changed.db").want(t, exitDone)
	call(t, "ingest", "log.csv", "--db", "changed.db").want(t, exitDone, "2 changed")
	for _, names := range []bool{true, false} {
		dir := filepath.Join(t.TempDir(), "out")
		if err := os.Mkdir(dir, 0o755); err != nil {
			t.Fatal(err)
		}
		at := func(name string) string { return filepath.Join(dir, name) }
		said, fixed := "", map[bool]string{true: "4", false: "6"}
		for _, args := range [][]string{{"report", "--out", at("report")}, {"report", "--single", at("all.html")}, {"factors"}, {"factors", "--json"}, {"factors", "visits"}, {"visits", "--ics", at("v.ics")}, {"bids"}, {"bids", "--json"},
			{"export", at("export")}, {"bid", "lot.yaml", "--dry-run", "--out", at("bid.html"), "--pour-day", at("day.html")}, {"bid", "lot.yaml", "--dry-run", "--json"}, {"visits", "--slab", "J-1/A"},
			{"batches", "2", "--db", "changed.db"}, {"batches", "2", "--json", "--db", "changed.db"},
			{"fix", "J-1/A", "crew=Vantry", "--why", "Quillon said so", "--db", "changed.db"}, {"fix", "J-1/A", "site=Hidden Court", "--json", "--db", "changed.db"},
			{"batches", "--db", "changed.db"}, {"batches", "--json", "--db", "changed.db"}, {"undo", fixed[names], "--db", "changed.db", "--json"}, {"check", "--db", "changed.db"}} {
			if !names {
				args = append(args, "--no-names")
			}
			r := call(t, args...)
			r.want(t, exitDone)
			said += r.stdout
		}
		filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
			if err == nil && !d.IsDir() {
				said += readFile(t, path)
			}
			return err
		})
		for _, name := range []string{"Quillon", "Vantry", "Secret Lane", "Hidden Court"} {
			if strings.Contains(said, name) != names {
				i := max(0, strings.Index(said, name)-100)
				t.Errorf("names %v, and %q is found %v: %q", names, name, !names, said[i:min(len(said), i+200)])
			}
		}
		if strings.Contains(said, "Crew 1") == names {
			t.Errorf("names %v, and Crew 1 is found %v", names, names)
		}
	}
	r := call(t, "bids", "--json")
	if r.want(t, exitDone, "Hidden Court"); !json.Valid([]byte(r.stdout)) {
		t.Error("no JSON")
	}
	call(t, "backup", "x.db", "--no-names").want(t, exitUsage, "every record as it stands")
	call(t, "report", "--no-names", "--with-sites").want(t, exitUsage, "give one of them")
}
