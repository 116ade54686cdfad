package site

import (
	"bytes"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"pourback/ingest"
	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/ingest/store/storetest"
)

func storeUpload(id string, bytes int64) store.Upload {
	return store.Upload{ID: id, Who: "Ana", File: id + ".csv", Bytes: bytes, MadeAt: "2026-03-31T12:00:00Z", TouchedAt: "2026-03-31T12:00:00Z"}
}

// exported is all that is on record, as its export has it.
func exported(t *testing.T, st *store.Store) string {
	t.Helper()
	dir := t.TempDir()
	if _, _, err := ingest.Export(t.Context(), st, dir, ingest.ExportOptions{}); err != nil {
		t.Fatal(err)
	}
	files, err := filepath.Glob(filepath.Join(dir, "*.csv"))
	if err != nil {
		t.Fatal(err)
	}
	var all strings.Builder
	for _, f := range files {
		all.WriteString(filepath.Base(f) + "\n")
		all.Write(testFile(t, f))
	}
	return all.String()
}

// TestTheSameAsIngest: a log that is handed in on the site comes to the same records
// as it does on the command line where nobody answers.
func TestTheSameAsIngest(t *testing.T) {
	logs, err := filepath.Glob(filepath.Join("..", "..", "testdata", "logs", "*.[cx][sl][vs]*"))
	if err != nil || len(logs) < 12 {
		t.Fatal(logs, err)
	}
	asked := 0
	for _, path := range logs {
		t.Run(filepath.Base(path), func(t *testing.T) {
			line := newPlace(t, storetest.SQLite(t), 0, atHome)
			opt := ingest.Options{TakenAt: stamp(line.now()), SetAside: filepath.Join(t.TempDir(), "aside.csv")}
			opt.Sheet.Today = record.DayOf(line.now())
			results, err := ingest.Files(t.Context(), line.store, []string{path}, opt)
			if err != nil {
				t.Fatal(err)
			}
			p := newPlace(t, storetest.SQLite(t), 0, atHome)
			b := p.surfer()
			at := b.waiting(filepath.Base(path), testFile(t, path))
			page := b.get(at)
			asked += strings.Count(page.body, "<fieldset>")
			if results[0].Refused != "" {
				if strings.Contains(page.body, "formaction") {
					t.Error("it can be kept, and ingest refuses it: ", results[0].Refused)
				}
				return
			}
			batch := b.keep(at)
			if got, want := exported(t, p.store), exported(t, line.store); got != want {
				t.Errorf("the records differ: %d and %d bytes", len(got), len(want))
			}
			batches, err := p.store.Batches(t.Context())
			if r := results[0]; err != nil || batches[0].ID != batch || batches[0].SetAside != r.SetAside || batches[0].New != r.New || batches[0].Read != r.Read {
				t.Errorf("%+v, %v; want %+v", batches, err, r)
			}
			here, _ := p.store.SetAside(t.Context(), batch)
			there, _ := line.store.SetAside(t.Context(), 1)
			if !slices.EqualFunc(here, there, func(x, y store.SetAside) bool { return x.Total == y.Total && bytes.Equal(x.Content, y.Content) }) {
				t.Error("what was set aside differs")
			}
		})
	}
	if asked == 0 {
		t.Error("no log has a doubtful heading: the questions were not tried")
	}
}

// TestTheSameFileAgain says that it is on record, and keeping it changes nothing;
// while it waits a second drop leads to where it waits.
func TestTheSameFileAgain(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		p := newPlace(t, dsn, 0, atHome)
		b := p.surfer()
		at := b.waiting("odd-log.csv", oddLog(t))
		if again := b.waiting("other name.csv", oddLog(t)); again != at {
			t.Errorf("it waits twice: %s, %s", at, again)
		}
		b.answers(at, "Ft x Ft", "size", "Spent", "actual_cost")
		b.keep(at)
		at = b.waiting("odd-log.csv", oddLog(t))
		page := b.get(at)
		page.says(t, "This very file was taken in before, as batch 1", "13 rows are on record already. 4 rows need a fix.")
		if strings.Contains(page.body, "<fieldset>") {
			t.Error("it asks again what was answered and kept")
		}
		if strings.Contains(page.body, "formaction") {
			t.Error("nothing would come in, and it can be kept")
		}
		if got := b.post(at+"/keep", page.hidden(t)...); got.status != 409 || b.get(at).status != 200 {
			t.Error("rows that need a fix are dropped: ", got)
		}
		b.post(at+"/drop", keyField, newKey())
		const good = "job_no,placed_on,use,area_sqft,thickness_in\nJ-1,2025-06-03,patio,400,4\nJ-2,2025-06-03,patio,400,4\n"
		b.keep(b.waiting("placements.csv", []byte(good)))
		at = b.waiting("placements.csv", []byte(good))
		page = b.get(at)
		page.says(t, "All 2 rows of this file are on record already.")
		if strings.Contains(page.body, "formaction") {
			t.Error("nothing would come in, and it can be kept")
		}
		got := b.post(at+"/keep", page.hidden(t)...)
		got.says(t, "All of it is on record already")
		if batches, err := p.store.Batches(t.Context()); err != nil || len(batches) != 2 {
			t.Errorf("%+v, %v", batches, err)
		}
		if got := b.get(at); got.status != 404 {
			t.Error("it waits on: ", got)
		}
	})
}

// TestSentTwice: browsers send a form again by themselves: a file waits once, and
// is kept once, however often and however much at once that is asked for.
func TestSentTwice(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		p := newPlace(t, dsn, 0, atHome)
		form := []byte("job_no,placed_on,use,area_sqft,thickness_in\nJ-1,2025-06-03,patio,400,4\n")
		key := newKey()
		var wait sync.WaitGroup
		places := make([]string, 6)
		for i := range places {
			wait.Go(func() {
				got := p.surfer().drop(key, "placements.csv", form)
				places[i] = got.header.Get("Location")
				if got.status != 303 {
					t.Error(got)
				}
			})
		}
		wait.Wait()
		waiting, err := p.store.Uploads(t.Context())
		if err != nil || len(waiting) != 1 {
			t.Fatalf("%+v, %v", waiting, err)
		}
		at := "/upload/" + waiting[0].ID
		for _, place := range places {
			if place != at {
				t.Errorf("sent to %s, and it waits at %s", place, at)
			}
		}
		fields := p.surfer().get(at).hidden(t)
		for range 6 {
			wait.Go(func() {
				if got := p.surfer().post(at+"/keep", fields...); !fits(got, "303 /batches/1") {
					t.Errorf("%v %.600s", got, got.body)
				}
			})
		}
		wait.Wait()
		if batches, err := p.store.Batches(t.Context()); err != nil || len(batches) != 1 || batches[0].Who != "owner" {
			t.Errorf("%+v, %v", batches, err)
		}
		if waiting, err := p.store.Uploads(t.Context()); err != nil || len(waiting) != 0 {
			t.Errorf("it waits on: %+v, %v", waiting, err)
		}
	})
}

// TestTwoAtOneFile: what the second says about a file as it was before is not
// kept, and neither is a file that comes to something else by now.
func TestTwoAtOneFile(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		p := newPlace(t, dsn, 0, public)
		p.user("Ana", Owner)
		p.user("Bo", Owner)
		ana, bo := p.signedIn("Ana"), p.signedIn("Bo")
		at := ana.waiting("odd-log.csv", oddLog(t))
		page := ana.answers(at, "Ft x Ft", "size", "Spent", "actual_cost")
		mine, theirs := bo.get(at), page
		thick := theirs.field(t, `name="(mend\.[0-9.]+)" value="45"`)
		if got := ana.post(at, append(theirs.hidden(t), thick, "4")...); !fits(got, "303 "+at) {
			t.Fatal(got)
		}
		got := bo.post(at, append(mine.hidden(t), thick, "5")...)
		if got.says(t, "Somebody else has answered about this file meanwhile."); got.status != 409 {
			t.Error(got)
		}
		if got := bo.post(at+"/keep", mine.hidden(t)...); got.status != 409 {
			t.Error("kept what somebody else has changed: ", got)
		}
		page = ana.get(at)
		p.takeFile("other.csv", "job_no,placement,placed_on,use,area_sqft,thickness_in\n101,A,2025-03-04,driveway,800,4\n")
		got = ana.post(at+"/keep", page.hidden(t)...)
		if got.says(t, "The records or your answers changed"); got.status != 409 {
			t.Errorf("kept what comes to something else: %v", got)
		}
		if got := ana.post(at+"/keep", got.hidden(t)...); !fits(got, "303 /batches/2") {
			t.Errorf("%v\n%.900s", got, got.body)
		}
		if batches, err := p.store.Batches(t.Context()); err != nil || batches[1].Who != "Ana" || batches[1].Changed != 1 {
			t.Errorf("%+v, %v", batches, err)
		}
	})
}

func (p *place) takeFile(name, text string) {
	p.t.Helper()
	opt := ingest.Options{TakenAt: stamp(p.now())}
	opt.Sheet.Today = testDay
	if r, err := ingest.Take(p.t.Context(), p.store, ingest.Source{Name: name, Content: strings.NewReader(text), Size: int64(len(text))}, opt); err != nil || r.Refused != "" || r.SetAside > 0 {
		p.t.Fatalf("%+v, %v", r, err)
	}
}

// TestChangedAndKeptAtOnce: what is written into the form that keeps is looked at first.
func TestChangedAndKeptAtOnce(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 0, atHome)
	b := p.surfer()
	at := b.waiting("odd-log.csv", oddLog(t))
	page := b.answers(at, "Ft x Ft", "size", "Spent", "actual_cost")
	thick := page.field(t, `name="(mend\.[0-9.]+)" value="45"`)
	if got := b.post(at+"/keep", append(page.hidden(t), thick, "4.5")...); !fits(got, "303 "+at) {
		t.Fatal(got)
	}
	b.get(at).says(t, "“45” is now “4.5”")
	b.keep(at)
}

// TestLeftAndTakenBack: a row that is left out for good is in no list of rows to
// fix, a cell that is left empty is no more to do, and each can be taken back.
func TestLeftAndTakenBack(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 0, atHome)
	b := p.surfer()
	at := b.waiting("odd-log.csv", oddLog(t))
	page := b.answers(at, "Ft x Ft", "size", "Spent", "actual_cost")
	fields := page.hidden(t)
	for _, row := range []string{"8", "10", "15", "17"} {
		fields = append(fields, page.field(t, `name="(left\.0\.`+row+`\.\d+)"`), "1")
	}
	b.post(at, fields...)
	page = b.get(at)
	page.says(t, "13 rows are ready to come in. Nothing needs a fix.", "Left out by you", "Row 8, Deep: left")
	back := page.field(t, `Row 8, Deep: left <label class="tick"><input type="checkbox" name="(back\.\d+)"`)
	b.post(at, append(page.hidden(t), back, "1")...)
	page = b.get(at)
	page.says(t, "1 row needs a fix.", "thicker than 24 in")
	batch := b.keep(at)
	parts, err := p.store.SetAside(t.Context(), batch)
	if err != nil || len(parts) != 1 || parts[0].Total != 1 || !strings.Contains(string(parts[0].Content), "Sumac Rd,Dogwood") {
		t.Errorf("%+v, %v", parts, err)
	}
}

// TestReadOtherwise: a heading that was taken for sure can be said to mean
// something else, and the answer can be taken back.
func TestReadOtherwise(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 0, atHome)
	b := p.surfer()
	at := b.waiting("odd-log.csv", oddLog(t))
	page := b.answers(at, "Ft x Ft", "size", "Spent", "actual_cost")
	place := page.field(t, `<option value="(\d+\.\d+)">Outdoor temp</option>`)
	if got := b.post(at, append(page.hidden(t), fieldHeading, place, fieldMeans, "loads.yards")...); got.status != 400 {
		t.Error("a column of another table: ", got)
	}
	b.post(at, append(page.hidden(t), fieldHeading, place, fieldMeans, ofNoUse)...)
	page = b.get(at)
	page.says(t, "“Outdoor temp” means: not used")
	b.post(at, append(page.hidden(t), page.field(t, `“Outdoor temp” means: not used <label class="tick"><input type="checkbox" name="(back\.\d+)"`), "1")...)
	if page = b.get(at); strings.Contains(page.body, "means: not used") {
		t.Error("an answer that was taken back stands")
	}
	b.keep(at)
	b.get("/jobs/101").says(t, "Air temperature")
}

// TestWaitingEnds: what nobody touches is dropped, what broke off sooner, and what
// waits has its bounds.
func TestWaitingEnds(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		p := newPlace(t, dsn, 0, atHome)
		b := p.surfer()
		at := b.waiting("odd-log.csv", oddLog(t))
		broken := storeUpload("BROKEN", 500)
		if err := p.store.BeginUpload(t.Context(), broken, mostWaiting); err != nil {
			t.Fatal(err)
		}
		if _, err := p.store.AddToUpload(t.Context(), broken.ID, strings.NewReader("half a file"), func() string { return stamp(p.now()) }); err != nil {
			t.Fatal(err)
		}
		if waiting, _ := p.store.Uploads(t.Context()); len(waiting) != 1 {
			t.Error("what is not whole waits")
		}
		if err := p.store.BeginUpload(t.Context(), storeUpload("MORE", mostWaiting-500), mostWaiting); err != store.ErrUploadsFull {
			t.Error("more than may wait: ", err)
		}
		p.later(comesWithin + time.Second)
		if err := p.site.sweepUploads(t.Context(), p.now()); err != nil {
			t.Fatal(err)
		}
		more := storeUpload("MORE", mostWaiting-int64(len(oddLog(t))))
		more.MadeAt, more.TouchedAt = stamp(p.now()), stamp(p.now())
		if err := p.store.BeginUpload(t.Context(), more, mostWaiting); err != nil {
			t.Error("what broke off takes room: ", err)
		}
		if got := b.drop(newKey(), "more.csv", []byte("job_no\n1\n")); got.status != 507 {
			t.Error("more than may wait: ", got)
		}
		if got := b.get(at); got.status != 200 {
			t.Error("too soon: ", got)
		}
		p.later(waitsFor)
		if err := p.site.sweepUploads(t.Context(), p.now()); err != nil {
			t.Fatal(err)
		}
		if got := b.get(at); got.status != 404 {
			t.Error("after its time: ", got)
		}
	})
}

// TestAHundredThousandRows are looked at and kept within the time that a browser waits.
func TestAHundredThousandRows(t *testing.T) {
	if testing.Short() {
		t.Skip("it takes some seconds")
	}
	storetest.Each(t, func(t *testing.T, dsn string) {
		p := newPlace(t, dsn, 0, atHome)
		b := p.surfer()
		var text bytes.Buffer
		text.WriteString("job_no,placed_on,use,area_sqft,thickness_in,delivered_yd,leftover_yd,crew\n")
		for i := range 100_000 {
			thick := "4"
			if i%10 == 0 {
				thick = "45"
			}
			fmt.Fprintf(&text, "J-%06d,2025-%02d-%02d,patio,400,%s,5.5,0.25,Heron\n", i, i%12+1, i%28+1, thick)
		}
		began := time.Now()
		at := b.waiting("placements.csv", text.Bytes())
		page := b.get(at)
		page.says(t, "90,000 rows are ready to come in. 10,000 rows need a fix.", "9,975 more rows come up")
		looked := time.Since(began)
		b.keep(at)
		took := time.Since(began)
		t.Logf("%d MB: looked at after %v, kept after %v; the page has %d KB", text.Len()>>20, looked, took, len(page.body)>>10)
		if took > 90*time.Second || len(page.body) > 300<<10 {
			t.Error("too slow, or too long a page")
		}
	})
}
