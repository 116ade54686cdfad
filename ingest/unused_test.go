package ingest_test

import (
	"slices"
	"strings"
	"testing"

	"pourback/ingest"
	"pourback/ingest/sheet"
	"pourback/ingest/store"
	"pourback/ingest/store/storetest"
)

const withWeather = "job_no,placed_on,use,area_sqft,thickness_in,Weather,crew,Deposit $,Phone\n" +
	"J-1,2025-06-03,driveway,600,4,hot  & dry,Heron,1.5,555-0100\n" +
	"J-2,2025-06-04,patio,300,4,,Wren,,\n" +
	"J-3,2025-06-05,patio,310,4,'=1+1,Wren,2,\n"

// placements is the export's table of placements, from its header on.
func placements(t *testing.T, st *store.Store) []string {
	t.Helper()
	return strings.Split(strings.TrimSpace(strings.ReplaceAll(exported(t, st)["placements.csv"], "\r\n", "\n")), "\n")
}

// TestColumnsOfNoUseAreKept takes them in, exports them, and takes the export in.
func TestColumnsOfNoUseAreKept(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		st := open(t, dsn)
		results, problems := take(t, st, ingest.Options{}, write(t, "log.csv", withWeather))
		var named []string
		for _, u := range results[0].Unused {
			named = append(named, u.Heading)
		}
		if want := []string{"Weather", "Deposit $", "Phone"}; !slices.Equal(named, want) {
			t.Errorf("named %q, want %q", named, want)
		}
		var loud []string
		for _, p := range problems {
			if p.Code == "column-not-used" {
				loud = append(loud, p.Value)
			}
		}
		if !slices.Equal(loud, []string{"Deposit $"}) {
			t.Errorf("loud about %q, want Deposit $", loud)
		}
		lines := placements(t, st)
		if !strings.HasSuffix(lines[0], ",Deposit $,Phone,Weather") || !strings.HasSuffix(lines[1], ",1.5,555-0100,hot  & dry") ||
			!strings.HasSuffix(lines[2], ",,,") || !strings.HasSuffix(lines[3], ",2,,'=1+1") {
			t.Errorf("exported\n%s", strings.Join(lines, "\n"))
		}

		other := open(t, storetest.SQLite(t))
		take(t, other, ingest.Options{}, write(t, "placements.csv", exported(t, st)["placements.csv"]))
		if again := placements(t, other); !slices.Equal(again, lines) {
			t.Errorf("the export of the export\n%s", strings.Join(again, "\n"))
		}
	})
}

// TestColumnsOfNoUseChange holds them to the rules of every column: the same
// file changes nothing, a changed cell is a change that undo takes back, and a
// file without the column leaves it.
func TestColumnsOfNoUseChange(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		st := open(t, dsn)
		take(t, st, ingest.Options{}, write(t, "log.csv", withWeather))
		first := placements(t, st)
		check := func(content string, changed int) (batch int64) {
			t.Helper()
			results, _ := take(t, st, ingest.Options{}, write(t, "log.csv", content))
			if r := results[0]; r.Changed != changed || r.New != 0 {
				t.Errorf("%d new, %d changed, want 0 and %d\n%s", r.New, r.Changed, changed, content)
			}
			return results[0].Batch
		}
		check(withWeather, 0)
		check("job_no,placed_on,use,area_sqft,thickness_in\nJ-1,2025-06-03,driveway,600,4\n", 0)
		batch := check("job_no,placed_on,use,area_sqft,thickness_in,Weather\nJ-1,2025-06-03,driveway,600,4,cool\n", 1)
		if now := placements(t, st)[1]; !strings.HasSuffix(now, ",1.5,555-0100,cool") {
			t.Errorf("after the change: %s", now)
		}
		if _, err := st.Undo(t.Context(), batch, today+"T13:00:00Z"); err != nil {
			t.Fatal(err)
		}
		if now := placements(t, st); !slices.Equal(now, first) {
			t.Errorf("after undo:\n%s", strings.Join(now, "\n"))
		}
		// what was said to be of no use is named quietly
		results, _ := take(t, st, ingest.Options{Sheet: sheet.Options{Answers: []sheet.Answer{{Heading: "Deposit $", Column: ""}}}}, write(t, "log.csv", withWeather))
		for _, u := range results[0].Unused {
			if u.Loud {
				t.Errorf("loud about %q, which was said to be of no use", u.Heading)
			}
		}
	})
}
