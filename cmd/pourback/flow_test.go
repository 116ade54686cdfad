package main

import (
	"encoding/csv"
	"encoding/json"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pourback/ingest/store/storetest"
)

// demoFactors is `factors --json` of what a folder of record files says, once
// taken into an empty database.
func demoFactors(t *testing.T, dsn string, files ...string) string {
	t.Helper()
	call(t, append([]string{"ingest", "--db", dsn}, files...)...).want(t, exitDone)
	r := call(t, "factors", "--db", dsn, "--json")
	r.want(t, exitDone)
	return r.stdout
}

func recordFiles(t *testing.T, dir string) []string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(dir, "*.csv"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no record files in %s (%v)", dir, err)
	}
	return files
}

// TestOneHistoryOneAnswer takes the invented history in as seven tables and as
// one job log, into both databases, by way of an export and back: the factors
// are the same to the last byte, but for what own lines of cost decide, which a
// job log does not hold.
func TestOneHistoryOneAnswer(t *testing.T) {
	inFolder(t, nil)
	call(t, "demo").want(t, exitDone, "does not exist", filepath.Join("demo", "report", "index.html"))
	first := call(t, "factors", "--db", filepath.Join("demo", "pourback.db"), "--json")
	first.want(t, exitDone)
	if !json.Valid([]byte(first.stdout)) {
		t.Fatalf("factors --json is no JSON: %.200s", first.stdout)
	}
	call(t, "export", "out", "--db", filepath.Join("demo", "pourback.db")).want(t, exitDone)
	full, log, export := recordFiles(t, "demo/records"), recordFiles(t, "demo/job-log"), recordFiles(t, "out")
	storetest.Each(t, func(t *testing.T, dsn string) {
		if got := demoFactors(t, dsn, full...); got != first.stdout {
			t.Error("the full form gives other factors")
		}
	})
	storetest.Each(t, func(t *testing.T, dsn string) {
		got, want := besideOwnCosts(t, demoFactors(t, dsn, log...)), besideOwnCosts(t, first.stdout)
		for _, topic := range slices.Sorted(maps.Keys(want)) {
			if got[topic] != want[topic] {
				t.Errorf("the job log gives other factors of %s:\n%.600s\nwant\n%.600s", topic, got[topic], want[topic])
			}
		}
		if len(got) != len(want) {
			t.Errorf("%d topics, want %d", len(got), len(want))
		}
	})
	storetest.Each(t, func(t *testing.T, dsn string) {
		if got := demoFactors(t, dsn, export...); got != first.stdout {
			t.Error("what was exported gives other factors")
		}
	})
}

// besideOwnCosts are the factors by topic, but for the money of mesh against
// rebar and the findings, one of which goes by it: TestBothFormsGiveTheSameFigures
// of analysis holds those.
func besideOwnCosts(t *testing.T, factors string) map[string]string {
	t.Helper()
	var raw map[string]json.RawMessage
	if err := json.Unmarshal([]byte(factors), &raw); err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	for topic, said := range raw {
		if topic != "reinforcement" && !strings.HasPrefix(topic, "findings") {
			out[topic] = string(said)
		}
	}
	return out
}

func TestDemoLeavesOthersAlone(t *testing.T) {
	inFolder(t, map[string]string{"log.csv": jobLog})
	if err := os.Mkdir("mine", 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join("mine", "pourback.db"), []byte("mine"), 0o644); err != nil {
		t.Fatal(err)
	}
	call(t, "demo", "--dir", "mine").want(t, exitFailed, "no demo wrote")
	call(t, "ingest", "log.csv").want(t, exitSetAside)
	call(t, "demo", "--db", "pourback.db", "--jobs", "5").want(t, exitFailed, "already holds records")
	call(t, "demo", "--jobs", "5").want(t, exitDone)
	call(t, "demo", "--jobs", "5").want(t, exitDone)
}

// TestPavementRecords takes in records of a public program, which nobody here
// wrote: see testdata/ltpp.
func TestPavementRecords(t *testing.T) {
	source, err := filepath.Abs(filepath.Join("..", "..", "testdata", "ltpp"))
	if err != nil {
		t.Fatal(err)
	}
	inFolder(t, nil)
	r := call(t, append([]string{"ingest"}, recordFiles(t, source)...)...)
	r.want(t, exitDone, "160 read, 160 new", "834 read, 834 new", "0 warnings")
	r = call(t, "factors", "cracks", "--event", "seen", "--json")
	r.want(t, exitDone)
	var f struct {
		Placements int
		Checks     int `json:"records_to_check"`
		Cracks     struct {
			All struct {
				Placements int
				Callbacks  int
				Years      float64 `json:"placement_years"`
			}
			SpacingUnknown int `json:"spacing_unknown"`
		}
	}
	if err := json.Unmarshal([]byte(r.stdout), &f); err != nil {
		t.Fatal(err)
	}
	if f.Placements != 160 || f.Cracks.SpacingUnknown != 160 || f.Cracks.All.Years < 1000 || f.Checks != 0 {
		t.Errorf("%+v", f)
	}
	call(t, "factors", "cracks", "--event", "seen").want(t, exitDone, "A crack is known on 80 of 160 slabs", "too few to say how many crack", "Joint spacing is")
}

func TestReportNamesNoSiteWhereAsked(t *testing.T) {
	inFolder(t, nil)
	call(t, "demo", "--jobs", "80").want(t, exitDone)
	db := filepath.Join("demo", "pourback.db")
	call(t, "report", "--db", db, "--single", "without.html", "--no-names").want(t, exitDone)
	call(t, "report", "--db", db, "--single", "with.html").want(t, exitDone)
	jobs, err := os.ReadFile(filepath.Join("demo", "records", "jobs.csv"))
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(strings.NewReader(string(jobs))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	at := slices.Index(rows[0], "site")
	for file, named := range map[string]bool{"without.html": false, "with.html": true} {
		page, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		found := slices.ContainsFunc(rows[1:], func(row []string) bool { return strings.Contains(string(page), row[at]) })
		if found != named {
			t.Errorf("%s names sites: %v", file, found)
		}
	}
}
