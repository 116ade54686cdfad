package ingest_test

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"pourback/ingest"
	"pourback/ingest/invented"
	"pourback/ingest/record"
	"pourback/ingest/sheet"
	"pourback/ingest/store"
	"pourback/ingest/store/storetest"
)

const today = "2026-03-31"

func day(s string) record.Date {
	d, err := record.ParseDate(s)
	if err != nil {
		panic(err)
	}
	return d
}

func open(t *testing.T, dsn string) *store.Store {
	t.Helper()
	st, err := store.Open(context.Background(), dsn, store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { st.Close() })
	return st
}

// take hands files in and returns what became of them and the problems said.
func take(t *testing.T, st *store.Store, opt ingest.Options, paths ...string) ([]ingest.Result, []record.Problem) {
	t.Helper()
	var problems []record.Problem
	opt.Sheet.Today, opt.TakenAt = day(today), today+"T12:00:00Z"
	opt.Problem = func(p record.Problem) { problems = append(problems, p) }
	results, err := ingest.Files(context.Background(), st, paths, opt)
	if err != nil {
		t.Fatal(err)
	}
	return results, problems
}

// write puts a file into a new folder.
func write(t *testing.T, name, content string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, []byte(content), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// inventedFiles are the record files of an invented company, in full form.
func inventedFiles(t *testing.T, jobs int) []string {
	t.Helper()
	set, _, err := invented.Generate(invented.Options{Jobs: jobs, Seed: 7, Until: day(today)})
	if err != nil {
		t.Fatal(err)
	}
	files, err := ingest.WriteSet(t.TempDir(), set)
	if err != nil {
		t.Fatal(err)
	}
	return files
}

// exported is everything a store holds, as record files.
func exported(t *testing.T, st *store.Store) map[string]string {
	t.Helper()
	files, _, err := ingest.Export(context.Background(), st, t.TempDir(), ingest.ExportOptions{})
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	for _, f := range files {
		content, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		out[filepath.Base(f)] = string(content)
	}
	return out
}

func same(t *testing.T, what string, got, want map[string]string) {
	t.Helper()
	for name := range want {
		if got[name] != want[name] {
			t.Errorf("%s: %s differs", what, name)
		}
	}
}

func TestExportAndBack(t *testing.T) {
	files := inventedFiles(t, 60)
	var first map[string]string
	storetest.Each(t, func(t *testing.T, dsn string) {
		st := open(t, dsn)
		take(t, st, ingest.Options{}, files...)
		out := exported(t, st)
		if first == nil {
			first = out
		}
		same(t, "the other database", out, first)
		dir := t.TempDir()
		var back []string
		for name, content := range out {
			back = append(back, filepath.Join(dir, name))
			if err := os.WriteFile(back[len(back)-1], []byte(content), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		again := open(t, filepath.Join(t.TempDir(), "again.db"))
		if results, _ := take(t, again, ingest.Options{}, back...); slices.ContainsFunc(results, func(r ingest.Result) bool { return r.SetAside > 0 || r.Refused != "" }) {
			t.Errorf("an export was not taken in whole: %+v", results)
		}
		same(t, "the way back", exported(t, again), out)
	})
}

// TestOrderOfFilesDoesNotMatter hands files in one call each, in the worst
// order: events before the placements they belong to.
func TestOrderOfFilesDoesNotMatter(t *testing.T) {
	files := inventedFiles(t, 40)
	together := open(t, filepath.Join(t.TempDir(), "a.db"))
	take(t, together, ingest.Options{}, files...)
	apart := open(t, filepath.Join(t.TempDir(), "b.db"))
	slices.Reverse(files)
	warned := 0
	for _, f := range files {
		_, problems := take(t, apart, ingest.Options{}, f)
		warned += len(problems)
	}
	if warned == 0 {
		t.Error("nothing said that events named no placement on record")
	}
	same(t, "files handed in apart", exported(t, apart), exported(t, together))
}

func TestTheSameFileTwiceChangesNothing(t *testing.T) {
	files := inventedFiles(t, 30)
	storetest.Each(t, func(t *testing.T, dsn string) {
		st := open(t, dsn)
		take(t, st, ingest.Options{}, files...)
		before := exported(t, st)
		results, _ := take(t, st, ingest.Options{}, files...)
		for _, r := range results {
			if r.New+r.Changed != 0 || r.Unchanged != r.Read || r.Batch != 0 {
				t.Errorf("%+v", r)
			}
		}
		same(t, "twice", exported(t, st), before)
	})
}

const head = "job_no,placement,placed_on,use,area_sqft,thickness_in,delivered_yd,clogs,method,note_to_self\n"

func TestOneFileIsOneTransaction(t *testing.T) {
	var b strings.Builder
	b.WriteString(head)
	for i := range 5000 {
		fmt.Fprintf(&b, "J-%d,A,2025-06-03,patio,400,4,5,0,chute,\n", i)
	}
	st := open(t, filepath.Join(t.TempDir(), "a.db"))
	results, _ := take(t, st, ingest.Options{}, write(t, "placements.csv", b.String()+"J-x,A,2025-06-03,pat\x00io,400,4,5,0,chute,\n"))
	if results[0].Refused == "" || results[0].Batch != 0 {
		t.Errorf("%+v", results[0])
	}
	if out := exported(t, st)["placements.csv"]; strings.Count(out, "\n") != 1 {
		t.Errorf("%d rows of a refused file were kept", strings.Count(out, "\n")-1)
	}
	results, _ = take(t, st, ingest.Options{Strict: true}, write(t, "placements.csv", b.String()+"J-x,A,2025-06-03,patio,400,45,5,0,chute,\n"))
	if !strings.Contains(results[0].Refused, "1 of its rows") || len(results[0].SetAsideTo) != 1 {
		t.Errorf("%+v", results[0])
	}
	if batches, err := st.Batches(context.Background()); err != nil || len(batches) != 0 {
		t.Errorf("batches %v (%v), want none", batches, err)
	}
}

func TestUndoBringsBackWhatWasChanged(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		st := open(t, dsn)
		take(t, st, ingest.Options{}, write(t, "placements.csv", head+"J-1,A,2025-06-03,patio,400,4,5,0,chute,\n"))
		before := exported(t, st)
		results, _ := take(t, st, ingest.Options{}, write(t, "placements.csv", "job_no,placed_on,use,area_sqft,thickness_in,delivered_yd\nJ-1,2025-06-03,patio,410,4,\nJ-2,2025-06-04,patio,300,4,4\n"))
		if r := results[0]; r.New != 1 || r.Changed != 1 {
			t.Fatalf("%+v", r)
		}
		if out := exported(t, st)["placements.csv"]; !strings.Contains(out, "J-1,A,2025-06-03,patio,410,4,,,,,,chute") {
			t.Errorf("an empty cell makes a value missing, a column that is absent leaves it:\n%s", out)
		}
		changes, err := st.Changes(context.Background(), 2)
		if err != nil || len(changes) != 1 || changes[0].Before["area_sqft"] != "400" || changes[0].Before["delivered_yd"] != "5" {
			t.Errorf("the change log says %+v (%v)", changes, err)
		}
		if _, err := st.Undo(context.Background(), 2, today+"T13:00:00Z"); err != nil {
			t.Fatal(err)
		}
		same(t, "taken back", exported(t, st), before)
	})
}

func TestSummariesThatEventsContradict(t *testing.T) {
	st := open(t, filepath.Join(t.TempDir(), "a.db"))
	_, problems := take(t, st, ingest.Options{},
		write(t, "loads.csv", "job_no,ticket_no,yards\nJ-1,T1,5\nJ-1,T2,1.5\n"),
		write(t, "placements.csv", head+"J-1,A,2025-06-03,patio,400,4,7,0,chute,\nJ-2,A,2025-06-03,patio,400,4,5,0,chute,\n"))
	if len(problems) != 1 || problems[0].Code != record.UnlikeEvents || problems[0].Value != "7" || !strings.Contains(problems[0].Wrong, "6.5") {
		t.Errorf("problems %v, want one that says 7 and 6.5", problems)
	}
}

func TestVisitsBeforeTheirPour(t *testing.T) {
	st := open(t, filepath.Join(t.TempDir(), "a.db"))
	visits := "job_no,seen_on,why,finding\nJ-1,2025-06-01,planned,sound\nJ-1,2025-07-01,planned,sound\nJ-9,2025-07-01,planned,sound\n"
	results, problems := take(t, st, ingest.Options{}, write(t, "visits.csv", visits), write(t, "placements.csv", head+"J-1,A,2025-06-03,patio,400,4,5,0,chute,\n"))
	if r := results[0]; r.SetAside != 1 || r.New != 2 {
		t.Errorf("%+v", r)
	}
	var codes []string
	for _, p := range problems {
		codes = append(codes, fmt.Sprintf("%d %s", p.Row, p.Code))
	}
	if !slices.Equal(codes, []string{"2 visit-before-pour", "4 unknown-job"}) {
		t.Errorf("problems %v", problems)
	}
}

// TestRowsSetAsideComeBack: what is set aside, mended, gives the same store as
// a file that was right from the start; and so does a row that was kept with a
// cell left empty, which the same file holds.
func TestRowsSetAsideComeBack(t *testing.T) {
	rows := []string{"J-1,A,2025-06-03,patio,400,4,5,0,chute,ä", "J-2,A,6/3/2025,patio,\"1,400\",45,18,0,chute,\"=1+1\"", "J-3,A,2025-06-03,patio,400,4,5,0,slide,"}
	right := strings.NewReplacer(",45,", ",4.5,", "slide", "chute")
	want := open(t, filepath.Join(t.TempDir(), "a.db"))
	take(t, want, ingest.Options{}, write(t, "placements.csv", right.Replace(head+strings.Join(rows, "\n")+"\n")))

	st := open(t, filepath.Join(t.TempDir(), "b.db"))
	aside := filepath.Join(t.TempDir(), "mend me.csv")
	results, _ := take(t, st, ingest.Options{SetAside: aside}, write(t, "placements.csv", head+strings.Join(rows, "\n")+"\n"))
	if r := results[0]; r.New != 2 || r.SetAside != 1 || r.LeftEmpty != 1 || !slices.Equal(r.SetAsideTo, []string{aside}) {
		t.Fatalf("%+v", r)
	}
	content, err := os.ReadFile(aside)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(aside, []byte(right.Replace(string(content))), 0o644); err != nil {
		t.Fatal(err)
	}
	if results, _ := take(t, st, ingest.Options{}, aside); results[0].New != 1 || results[0].Changed != 1 || results[0].SetAside+results[0].LeftEmpty != 0 {
		t.Errorf("%+v", results[0])
	}
	same(t, "mended", exported(t, st), exported(t, want))
}

func TestSetAsideNeverOverwritesAnotherFile(t *testing.T) {
	path := write(t, "placements.csv", head+"J-1,A,2025-06-03,patio,400,45,5,0,chute,\n")
	mine := filepath.Join(filepath.Dir(path), "placements.set-aside.csv")
	if err := os.WriteFile(mine, []byte("mine"), 0o644); err != nil {
		t.Fatal(err)
	}
	st := open(t, filepath.Join(t.TempDir(), "a.db"))
	for range 2 { // the same rows again need no second file
		results, _ := take(t, st, ingest.Options{}, path)
		want := filepath.Join(filepath.Dir(path), "placements.set-aside-2.csv")
		if !slices.Equal(results[0].SetAsideTo, []string{want}) {
			t.Errorf("set aside to %v, want %s", results[0].SetAsideTo, want)
		}
	}
	if got, err := os.ReadFile(mine); err != nil || string(got) != "mine" {
		t.Errorf("a file of the user's became %q", got)
	}
}

// TestWritersAtOnce hands in different files at the same time: all are kept.
func TestWritersAtOnce(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		const writers, rows = 8, 60
		paths := make([]string, writers)
		for w := range paths {
			var b strings.Builder
			b.WriteString(head)
			for i := range rows {
				fmt.Fprintf(&b, "W%d-%d,A,2025-06-03,patio,400,4,5,0,chute,\n", w, i)
			}
			paths[w] = write(t, "placements.csv", b.String())
		}
		open(t, dsn)
		var wg sync.WaitGroup
		errs := make([]error, writers)
		for w := range writers {
			wg.Go(func() {
				st, err := store.Open(context.Background(), dsn, store.Options{})
				if err != nil {
					errs[w] = err
					return
				}
				defer st.Close()
				_, errs[w] = ingest.Files(context.Background(), st, paths[w:w+1], ingest.Options{TakenAt: today + "T12:00:00Z", Sheet: sheet.Options{Today: day(today)}})
			})
		}
		wg.Wait()
		for w, err := range errs {
			if err != nil {
				t.Errorf("writer %d: %v", w, err)
			}
		}
		if n := strings.Count(exported(t, open(t, dsn))["placements.csv"], "\n") - 1; n != writers*rows {
			t.Errorf("%d rows were kept, want %d", n, writers*rows)
		}
	})
}

func TestSample(t *testing.T) {
	st := open(t, filepath.Join(t.TempDir(), "a.db"))
	results, problems := take(t, st, ingest.Options{}, filepath.Join("..", "testdata", "sample", "placements.csv"))
	if r := results[0]; r.New != 5 || len(problems) != 0 || len(r.KeptOut) != 0 {
		t.Errorf("the sample gives %+v and %v", r, problems)
	}
}

func TestFormulasAreTextAndDisarmed(t *testing.T) {
	st := open(t, filepath.Join(t.TempDir(), "a.db"))
	take(t, st, ingest.Options{}, write(t, "visits.csv", "job_no,seen_on,why,finding,note\nJ-1,2025-06-01,planned,sound,\"=HYPERLINK(\"\"http://x\"\")\"\n"))
	out := exported(t, st)["visits.csv"]
	if !strings.Contains(out, `"'=HYPERLINK(""http://x"")"`) && !strings.Contains(out, `'=HYPERLINK(`) || bytes.Contains([]byte(out), []byte(",=")) {
		t.Errorf("exported as %q", out)
	}
}
