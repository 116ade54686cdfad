package ingest_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pourback/ingest"
	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/ingest/store/storetest"
)

// ownLog is an invented owner's log: a job's walk stands below its driveway.
const ownLog = `Job,Address,Date,Type of Work,Sq Ft,Thick,Yds Ordered,Ticket Yds,Left,Crew,Hrs,Sold For,Our Cost,Remarks
25-01,12 Saltbush Ln,1/16/2025,driveway,480,4,6.25,6.5,0.25,Heron,26,4150,2900,
25-01,12 Saltbush Ln,1/16/2025,walk,120,4,1.75,2,0.25,Heron,SOME,,,
25-02,4 Caliche Ct,1/22/2025,patio,320,4,4.25,4.5,0.25,Wren,20,2650,1900,
25-03,7 Dry Fork Dr,1/29/2025,walk,LOTS,4,1.75,1.75,0,Heron,9,1350,950,
25-04,9 Red Gate Rd,2/6/2025,driveway,600,4,7.75,8,0.25,Wren,32,5150,3600,
25-05,3 Windmill Row,2/12/2025,patio,400,4,5.25,5.5,0.25,Heron,24,3650,2600,
`

var mendLog = strings.NewReplacer("LOTS", "130", "SOME", "8")

// TestSetAsideLogMeansTheSame: the rows of a log that are to be fixed come back
// as what they were, though they are too few to be understood by themselves: the
// walk is still placement B, and every heading means what it did.
func TestSetAsideLogMeansTheSame(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		want := open(t, storetest.SQLite(t))
		take(t, want, ingest.Options{}, write(t, "log.csv", mendLog.Replace(ownLog)))

		st := open(t, dsn)
		aside := filepath.Join(t.TempDir(), "fix.csv")
		results, _ := take(t, st, ingest.Options{SetAside: aside}, write(t, "log.csv", ownLog))
		if r := results[0]; r.New != 5 || r.SetAside != 1 || r.LeftEmpty != 1 {
			t.Fatalf("%+v", r)
		}
		content, err := os.ReadFile(aside)
		if err != nil {
			t.Fatal(err)
		}
		again := write(t, "mended.csv", mendLog.Replace(string(content)))
		if results, problems := take(t, st, ingest.Options{}, again); results[0].New != 1 || results[0].Changed != 1 || results[0].SetAside != 0 || len(problems) != 0 {
			t.Errorf("%+v\n%v\n%s", results[0], problems, content)
		}
		same(t, "mended", exported(t, st), exported(t, want))
	})
}

// TestTimeCardsToFix: of cards that are added up, all that belong to one sum are
// in the file to fix, so that handing it in again gives the whole sum.
func TestTimeCardsToFix(t *testing.T) {
	const cards = "Date,Name,Job,Hrs,Task\n1/16/2025,Ash,25-01,8,place\n1/16/2025,Birch,25-01,many,place\n1/16/2025,Cedar,25-01,7.5,place\n" +
		"1/17/2025,Ash,25-01,4,saw\n1/18/2025,Ash,25-02,8,place\n1/18/2025,Birch,25-02,8,place\n"
	st := open(t, storetest.SQLite(t))
	aside := filepath.Join(t.TempDir(), "fix.csv")
	results, _ := take(t, st, ingest.Options{SetAside: aside}, write(t, "time cards.csv", cards))
	if results[0].SetAside != 1 {
		t.Fatalf("%+v", results[0])
	}
	content, err := os.ReadFile(aside)
	if err != nil || strings.Count(string(content), "1/16/2025") != 3 || strings.Contains(string(content), "1/18/2025") {
		t.Fatalf("to fix:\n%s", content)
	}
	take(t, st, ingest.Options{}, write(t, "fixed time cards.csv", strings.Replace(string(content), "many", "6", 1)))
	if got := hours(t, st); !slices.Equal(got, []string{"25-01 2025-01-16 place 21.5", "25-01 2025-01-17 joint 4", "25-02 2025-01-18 place 16"}) {
		t.Errorf("hours %q", got)
	}
}

func hours(t *testing.T, st *store.Store) (lines []string) {
	t.Helper()
	err := st.Records(t.Context(), record.Labors, func(r record.Record) error {
		l := r.(*record.Labor)
		lines = append(lines, strings.Join([]string{l.JobNo, l.WorkedOn.String(), l.Task, record.FieldText(&l.Hours)}, " "))
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return lines
}

// TestNumberOfAnotherJob: a number that a later log uses for another day at
// another site is set aside, and what is on record stays.
func TestNumberOfAnotherJob(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		st := open(t, dsn)
		take(t, st, ingest.Options{}, write(t, "log.csv", mendLog.Replace(ownLog)))
		before := exported(t, st)
		later := strings.NewReplacer("25-02,4 Caliche Ct,1/22/2025", "25-02,88 Juniper Wash Rd,3/22/2025").Replace(mendLog.Replace(ownLog))
		results, problems := take(t, st, ingest.Options{}, write(t, "log.csv", later))
		if r := results[0]; r.SetAside != 1 || r.Changed != 0 || len(problems) != 1 || !strings.Contains(problems[0].String(), "on record as the job at 4 Caliche Ct, poured on 2025-01-22") {
			t.Errorf("%+v\n%v", r, problems)
		}
		same(t, "another job's number", exported(t, st), before)
		moved := strings.Replace(mendLog.Replace(ownLog), "4 Caliche Ct", "14 Caliche Ct", 1)
		if results, _ := take(t, st, ingest.Options{}, write(t, "log.csv", moved)); results[0].SetAside != 0 || results[0].Changed != 1 {
			t.Errorf("a site corrected: %+v", results[0])
		}
	})
}
