package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/ingest/store/storetest"
)

// TestFix corrects values, confirms one, and takes each back, on both engines.
func TestFix(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		inFolder(t, map[string]string{"log.csv": jobLog})
		pb := func(args ...string) result { return call(t, append(args, "--db", dsn)...) }
		pb("ingest", "log.csv").want(t, exitSetAside, "2 new")
		pb("fix", "J-1/A", "thickness_in=4 1/2 in", "use=walkway", "--why", "read off the drawing").want(t, exitDone,
			"J-1 A, thickness_in: 4.5, was 4", "J-1 A, use: walkway, was driveway", "kept as batch 2")
		pb("batches").want(t, exitDone, "fix J-1/A: read off the drawing")
		pb("batches", "2").want(t, exitDone, "thickness_in", "4.5")
		pb("factors", "overage", "--json").want(t, exitDone, `"use":"walkway"`)
		pb("fix", "J-1", "contract_price=$9,500.005", "leftover_yd=").want(t, exitDone, "contract_price: 9500.01, was 9000.00", "leftover_yd: missing, was 0.25", "read as 9500.01")
		pb("undo", "1").want(t, exitFailed, "take back batches 3, 2 first")
		pb("undo", "3").want(t, exitDone, "1 given back")
		pb("undo", "2").want(t, exitDone, "1 given back")
		pb("factors", "overage", "--json").want(t, exitDone, `"use":"driveway"`)

		pb("fix", "J-1/A", "delivered_yd=10.5").want(t, exitDone, "delivered_yd: 10.5 is right as it is", "kept as batch 4")
		pb("batches", "4").want(t, exitDone, "is right as it is")
		pb("fix", "J-1/A", "delivered_yd=10.5", "area_sqft=820", "--json").want(t, exitDone, `"confirmed": true`, `"after": "820"`)
		confirmed(t, dsn, "[placements [J-1 A] delivered_yd 10.5 4]", "[placements [J-1 A] delivered_yd 10.5 5]")
		pb("undo", "5").want(t, exitDone, "1 given back")
		pb("undo", "4").want(t, exitDone, "0 records removed, 1 given back")
		confirmed(t, dsn)
		pb("check").want(t, exitDone, "Every record is as it was written: 2 rows, 5 batches")
	})
}

func confirmed(t *testing.T, dsn string, want ...string) {
	t.Helper()
	st, err := store.Open(t.Context(), dsn, store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer st.Close()
	all, err := st.Confirmed(t.Context())
	var got []string
	for _, c := range all {
		got = append(got, fmt.Sprint([]any{c.Table, c.Key, c.Column, c.Value, c.Batch}))
	}
	if err != nil || strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("confirmed %v (%v), want %v", got, err, want)
	}
}

// TestFixThatIsRefused names what would be right, and keeps nothing.
func TestFixThatIsRefused(t *testing.T) {
	inFolder(t, map[string]string{"log.csv": jobLog, "all-bad.csv": strings.ReplaceAll(jobLog, ",4,", ",45,"), "placements.csv": "job_no,placement,placed_on,use,area_sqft,thickness_in\nK-7,A,2025-06-03,patio,320,4\nK-7,B,2025-06-03,walkway,90,4\n"})
	call(t, "fix", "J-1", "use=patio").want(t, exitFailed, "there is no database")
	call(t, "ingest", "all-bad.csv").want(t, exitSetAside)
	call(t, "fix", "J-1", "use=patio").want(t, exitFailed, "nothing has been taken in yet")
	call(t, "ingest", "log.csv", "placements.csv").want(t, exitSetAside)
	for _, c := range []struct {
		says string
		args []string
	}{
		{"did you mean J-1?", []string{"J1", "use=patio"}}, {"did you mean K-7?", []string{"K-8/A", "use=patio"}}, {"did you mean K-7/A?", []string{"K-7/AA", "use=patio"}},
		{"placements A, B: name one, such as K-7/A", []string{"K-7", "use=patio"}},
		{`no column "thicknes_in"; did you mean thickness_in?`, []string{"J-1/A", "thicknes_in=4"}},
		{"thicker than 24 in; did you mean 4.5?", []string{"J-1/A", "thickness_in=45"}},
		{"not a number", []string{"J-1/A", "use=patio", "area_sqft=big"}}, {"missing", []string{"J-1/A", "placed_on="}},
		{"before the pour", []string{"J-1/A", "callback_on=2025-01-02", "callback_kind=crack"}},
		{"cannot be fixed", []string{"J-1/A", "placement=B"}}, {"given twice", []string{"J-1/A", "use=patio", "use=patio"}},
		{"nothing to fix", []string{"J-1/A", "humidity_pct="}},
	} {
		call(t, append([]string{"fix"}, c.args...)...).want(t, exitFailed, c.says)
	}
	call(t, "fix", "J-1/A").want(t, exitUsage, "takes a job")
	call(t, "fix", "J-1/A", "use").want(t, exitUsage, "want a column and its value")
	call(t, "batches").want(t, exitDone, "log.csv")
	if r := call(t, "batches"); strings.Contains(r.stdout, "fix") {
		t.Errorf("a refused fix left a batch:\n%s", r.stdout)
	}
}

// TestCheckSaysWhatToDo changes a row behind the program's back.
func TestCheckSaysWhatToDo(t *testing.T) {
	schema := readSchema(t, filepath.Join(top, "report", "check.schema.json"))
	inFolder(t, map[string]string{"log.csv": jobLog})
	call(t, "ingest", "log.csv").want(t, exitSetAside)
	call(t, "backup", "sound.db").want(t, exitDone)
	call(t, "check").want(t, exitDone, "2 rows, 1 batches, 0 bids")
	db, err := os.ReadFile("pourback.db")
	if err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(string(db), "driveway"); n != 1 {
		t.Fatalf("driveway stands %d times in the file", n)
	}
	if err := os.WriteFile("pourback.db", []byte(strings.Replace(string(db), "driveway", "drivewax", 1)), 0o600); err != nil {
		t.Fatal(err)
	}
	call(t, "check").want(t, exitFailed, "placements J-1 A (batch 1 from log.csv, row 2): its values are not those that were written", "1 faults in 2 rows", "pourback restore BACKUP")
	r := call(t, "check", "--json")
	r.want(t, exitFailed, `"ok": false`, `"record": "J-1 A"`)
	var value any
	if err := json.Unmarshal([]byte(r.stdout), &value); err != nil {
		t.Fatal(err)
	}
	for _, wrong := range schema.against(schema, "check", value) {
		t.Error(wrong)
	}
	call(t, "check", "--db", "sound.db").want(t, exitDone, "as it was written")
	call(t, "fix", "J-1/A", "area_sqft=800").want(t, exitDone, "not even now", "hold its other values")
	call(t, "undo", "2").want(t, exitDone)
	call(t, "check").want(t, exitFailed, "J-1 A")
	call(t, "fix", "J-1/A", "use=driveway").want(t, exitDone, "use: driveway, was drivewax")
	call(t, "check").want(t, exitDone, "as it was written")
}

// TestEachKindIsCapped tells a hundred of a kind and the number of the others.
func TestEachKindIsCapped(t *testing.T) {
	var log strings.Builder
	log.WriteString("job_no,placed_on,use,area_sqft,thickness_in,humidity_pct\n")
	const rows = 1500
	for i := range rows {
		fmt.Fprintf(&log, "J-%d,2025-06-03,patio,big,45,0\n", i)
	}
	inFolder(t, map[string]string{"log.csv": log.String()})
	r := call(t, "ingest", "log.csv")
	r.want(t, exitSetAside, "error: log.csv, area_sqft: 1400 more like the last not-a-number, 1500 in all", "warning: log.csv, humidity_pct: 1400 more like the last unusual-value, 1500 in all")
	if lines := strings.Count(r.stdout, "\n"); lines > 3*mostAlike+20 {
		t.Errorf("%d lines", lines)
	}
	r = call(t, "ingest", "log.csv", "--json")
	r.want(t, exitSetAside, `"count": 1500`, `"told": 100`)
	if n := strings.Count(r.stdout, `"wrong"`); n != 3*mostAlike {
		t.Errorf("%d problems as JSON", n)
	}
}

// TestManyKindsAreCapped has a kind of its own for each problem.
func TestManyKindsAreCapped(t *testing.T) {
	var out strings.Builder
	s := newSaying(&out, false)
	for i := range 100_000 {
		s.say(record.Problem{Severity: record.Error, Code: "not-a-number", File: "f", Sheet: fmt.Sprint(i), Wrong: "wrong"})
	}
	s.rest()
	if lines := strings.Count(out.String(), "\n"); lines > mostKinds+mostAlike+1 || !strings.Contains(out.String(), "99500 in all") {
		t.Errorf("%d lines: …%s", lines, out.String()[max(0, out.Len()-200):])
	}
}
