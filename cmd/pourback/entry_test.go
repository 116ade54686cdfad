package main

import (
	"os"
	"strings"
	"testing"

	"pourback/ingest"
	"pourback/ingest/record"
	"pourback/ingest/sheet"
	"pourback/ingest/store"
	"pourback/ingest/store/storetest"
)

// TestBatchesOfForms: what was said at forms of the site stands among the batches by
// what it was and by whom, is checked, exported and taken back like any.
func TestBatchesOfForms(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		inFolder(t, map[string]string{"placements.csv": "job_no,placement,placed_on,use,area_sqft,thickness_in\nJ-1,A,2025-06-03,patio,320,4\n"})
		pb := func(args ...string) result { return call(t, append(args, "--db", dsn)...) }
		pb("ingest", "placements.csv").want(t, exitDone, "1 new")
		enter := func(column, value string) {
			t.Helper()
			st, err := store.Open(t.Context(), dsn, store.Options{})
			if err != nil {
				t.Fatal(err)
			}
			defer st.Close()
			e := ingest.Entry{What: "weather of J-1 A", TakenAt: "2025-06-03T14:00:00Z", By: "Ana", Sheet: sheet.Options{Today: record.DateOf(2026, 3, 31)},
				Rows: []ingest.EntryRow{{Table: "placements", Values: [][2]string{{"job_no", "J-1"}, {column, value}}}}}
			if _, err := ingest.Enter(t.Context(), st, e); err != nil {
				t.Fatal(err)
			}
		}
		enter("wind_mph", "12")
		enter("wind_mph", "12 mph")
		enter("wind_mph", "5")
		pb("batches").want(t, exitDone, "form: weather of J-1 A, by Ana")
		pb("batches", "--json").want(t, exitDone, `"file": "form weather of J-1 A"`, `"who": "Ana"`)
		without := pb("batches", "--no-names")
		without.want(t, exitDone, "form: weather of J-1 A")
		if strings.Contains(without.stdout, "Ana") {
			t.Error(without.stdout)
		}
		pb("batches", "2").want(t, exitDone, "wind_mph", "12")
		pb("batches", "3").want(t, exitDone)
		pb("check").want(t, exitDone, "Every record is as it was written: 1 rows, 4 batches")
		pb("export", "out").want(t, exitDone)
		pb("ingest", "--set-aside-of", "4", "clash.csv").want(t, exitDone, "clash.csv")
		content, err := os.ReadFile("clash.csv")
		if want := "job_no,placement,placed_on,use,area_sqft,thickness_in,neat_yd,wind_mph,problem\r\n" +
			`J-1,A,2025-06-03,patio,320,4,,5,"wind_mph ""5"": ""12"" is on record, and the form had shown """"; keep one of them"` + "\r\n"; err != nil || string(content) != want {
			t.Errorf("%q, %v, want %q", content, err, want)
		}
		pb("ingest", "clash.csv").want(t, exitDone, "1 changed")
		for _, id := range []string{"5", "4", "3", "2"} {
			pb("undo", id).want(t, exitDone)
		}
		pb("check").want(t, exitDone, "Every record is as it was written")
	})
}
