package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pourback/ingest/store/storetest"
)

func TestWordsOfVisits(t *testing.T) {
	inFolder(t, nil)
	for _, c := range []struct {
		args []string
		says string
	}{
		{[]string{"visits", "now"}, "takes no arguments"},
		{[]string{"visits", "--due", "next week"}, "such as 2025-06-03"},
		{[]string{"visits", "--due", ""}, "such as 2025-06-03"},
		{[]string{"visits", "--due", "2026-03-30"}, "before the data date 2026-03-31"},
		{[]string{"visits", "--with-sites"}, "--ics FILE"},
		{[]string{"visits", "--slab", "SF-1001"}, "such as J-104/A"},
		{[]string{"visits", "--slab", "SF-1001/A", "--json"}, "in words"},
		{[]string{"visits", "--slob", "x"}, "--slob"},
		{[]string{"vists"}, "visits"},
		{[]string{"factors", "visit"}, "visits"},
	} {
		r := call(t, c.args...)
		if r.status != exitUsage || !strings.Contains(r.stderr, c.says) || r.stdout != "" {
			t.Errorf("%v: status %d, standard error %q, standard output %q; want status 2 and %q", c.args, r.status, r.stderr, r.stdout, c.says)
		}
	}
}

// Before the first record it says so, and writes no calendar.
func TestVisitsOfNothing(t *testing.T) {
	inFolder(t, nil)
	emptyDatabase(t, "pourback.db")
	call(t, "visits", "--ics", "v.ics").want(t, exitDone, "No placements are on record yet", "was not written")
	if _, err := os.Stat("v.ics"); err == nil {
		t.Error("a calendar without events was written")
	}
	call(t, "visits", "--slab", "J-1/A").want(t, exitFailed, `no placement "J-1/A"`)
}

// The owner's minute on the demo: which slabs to visit, what is open, what
// the warranty may still cost, which new pours are outside a guide; and the same as a file
// for the calendar, as JSON, as one slab's story and in the report.
func TestOwnersMinute(t *testing.T) {
	inFolder(t, nil)
	call(t, "demo").want(t, exitDone, "pourback visits --db")
	db := filepath.Join("demo", "pourback.db")
	r := call(t, "visits", "--db", db, "--ics", "v.ics", "--no-names")
	r.stdout = strings.Join(strings.Fields(r.stdout), " ")
	r.want(t, exitDone, "Visit these ", " this week: SF-", "more sites can wait until you pass by", " open, the oldest for ", "Slabs under warranty may still cost about $", "outside a guide", "Wrote ")
	file, err := os.ReadFile("v.ics")
	if err != nil || !strings.HasPrefix(string(file), "BEGIN:VCALENDAR\r\n") || strings.Contains(string(file), "Lot ") {
		t.Errorf("the calendar begins %.60q (%v)", file, err)
	}
	call(t, "visits", "--db", db, "--ics", "v.ics", "--quiet").want(t, exitDone)
	if again, _ := os.ReadFile("v.ics"); !strings.Contains(string(again), "LOCATION:Lot ") {
		t.Error("the calendar names no site, and nobody asked for that")
	}
	later := call(t, "visits", "--db", db, "--due", "2026-04-30")
	later.want(t, exitDone, "by April 30, 2026")

	r = call(t, "factors", "visits", "--db", db, "--json")
	r.want(t, exitDone)
	var f struct {
		Visits struct {
			Answer  string
			Overdue []struct {
				JobNo     string `json:"job_no"`
				Placement string
			}
		}
	}
	if err := json.Unmarshal([]byte(r.stdout), &f); err != nil || len(f.Visits.Overdue) == 0 || !strings.HasPrefix(f.Visits.Answer, "Visit these ") {
		t.Fatalf("%v %.300s", err, r.stdout)
	}
	if other := call(t, "visits", "--db", db, "--json"); other.stdout != r.stdout {
		t.Error("visits --json and factors visits --json differ")
	}
	slab := f.Visits.Overdue[0].JobNo + "/" + f.Visits.Overdue[0].Placement
	call(t, "visits", "--db", db, "--slab", strings.ToLower(slab)).want(t, exitDone, "The story of ", f.Visits.Overdue[0].JobNo+" ", "Poured: air")
	call(t, "visits", "--db", db, "--slab", "SF1001/A").want(t, exitFailed, `no placement "SF1001/A"`, "did you mean SF-1001/A?")
	call(t, "visits", "--db", db, "--ics", filepath.Join("no", "such", "v.ics")).want(t, exitFailed, "calendar file no")

	for _, page := range []string{"visits", "early", "callbacks", "slabs", "seen", "warranty"} {
		if _, err := os.Stat(filepath.Join("demo", "report", page+".html")); err != nil {
			t.Error(err)
		}
	}
}

func TestVisitPlanFromSettings(t *testing.T) {
	inFolder(t, map[string]string{
		"pourback.yaml": "visits: {days: [2, 30], high_risk: 3}\n",
		"placements.csv": "job_no,placed_on,use,area_sqft,thickness_in,warranty_months\n" +
			"J-1,2026-03-29,patio,400,4,12\nJ-2,2026-03-02,patio,400,4,12\n"})
	call(t, "ingest", "placements.csv").want(t, exitDone)
	call(t, "config").want(t, exitDone, "ahead_days", "[2,30]")
	call(t, "visits").want(t, exitDone, "day 2 ", "day 30")
	for content, says := range map[string]string{
		"visits: {days: [-1]}\n":     "from 0 to 3653",
		"visits: {high_risk: 0.5}\n": "high_risk",
		"visits: {day: [1]}\n":       "did you mean",
		"visits: {days: soon}\n":     "days",
	} {
		if err := os.WriteFile("pourback.yaml", []byte(content), 0o644); err != nil {
			t.Fatal(err)
		}
		if r := call(t, "visits"); r.status != exitUsage || !strings.Contains(r.stderr, says) {
			t.Errorf("%q: status %d, %q; want %q", content, r.status, r.stderr, says)
		}
	}
}

// The pavement sections of the public program are all out of warranty and were
// first looked at years after they were built: there is nothing to visit, and what
// visits saw is dated between looks.
func TestVisitsOfPavements(t *testing.T) {
	source, err := filepath.Abs(filepath.Join("..", "..", "testdata", "ltpp"))
	if err != nil {
		t.Fatal(err)
	}
	inFolder(t, nil)
	call(t, append([]string{"ingest"}, recordFiles(t, source)...)...).want(t, exitDone)
	call(t, "factors", "visits").want(t, exitDone, "No visits to make", "No slab is under warranty", "By 15 years", "found cracked, 80 of them before anybody called")
}

// Both databases give the same visits to the last byte.
func TestOneHistoryOneSetOfVisits(t *testing.T) {
	inFolder(t, nil)
	call(t, "demo", "--jobs", "120").want(t, exitDone)
	first := call(t, "visits", "--db", filepath.Join("demo", "pourback.db"), "--json")
	first.want(t, exitDone, `"overdue":[{`)
	full := recordFiles(t, "demo/records")
	storetest.Each(t, func(t *testing.T, dsn string) {
		call(t, append([]string{"ingest", "--db", dsn}, full...)...).want(t, exitDone)
		if got := call(t, "visits", "--db", dsn, "--json"); got.stdout != first.stdout {
			t.Error("the same records give other visits")
		}
	})
}
