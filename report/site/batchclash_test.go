package site

import (
	"fmt"
	"strings"
	"testing"

	"pourback/ingest"
	"pourback/ingest/store"
	"pourback/ingest/store/storetest"
)

// enter keeps an entry of one placement, as its forms do.
func (p *place) enter(who string, values [][2]string, was map[string]string) ingest.Entered {
	p.t.Helper()
	opt := p.site.Settings.Sheet
	opt.Today = testDay
	e := ingest.Entry{What: "weather of J-1 A", Sheet: opt, TakenAt: stamp(p.now()), By: who,
		Rows: []ingest.EntryRow{{Table: "placements", Values: append([][2]string{{"job_no", "J-1"}, {"placement", "A"}}, values...), Was: was}}}
	done, err := ingest.Enter(p.t.Context(), p.store, e)
	if err != nil {
		p.t.Fatal(err)
	}
	return done
}

// TestSettleAClash: two give one value differently; the owner sees both with the
// batch of the second, uses what was entered, and takes that back again.
func TestSettleAClash(t *testing.T) {
	for _, comma := range []string{"", "yes"} {
		t.Run("decimal comma "+comma, func(t *testing.T) {
			storetest.Each(t, func(t *testing.T, dsn string) { settleAClash(t, dsn, comma) })
		})
	}
}

func settleAClash(t *testing.T, dsn, comma string) {
	p := newPlace(t, dsn, 0, atHome)
	p.takeFile("placements.csv", "job_no,placement,placed_on,use,area_sqft,thickness_in,note\nJ-1,A,2025-06-03,driveway,800,4,\"gate; code\"\n")
	p.site.Settings.Sheet.DecimalComma = comma
	p.enter("Ana", [][2]string{{"wind_mph", "12"}, {"air_temp_f", "68"}}, nil)
	done := p.enter("Bo", [][2]string{{"wind_mph", "5 1/4"}, {"humidity_pct", "40"}, {"saw_hours", "6"}}, map[string]string{"wind_mph": ""})
	if r := done.Rows[0]; r.Became != "clash" || len(r.Clashes) != 1 {
		t.Fatalf("%+v", r)
	}
	b := p.surfer()
	at := batchPath(done.Batch)
	p.enter("Ana", [][2]string{{"area_sqft", "810"}}, map[string]string{"area_sqft": "800"}) // which settling leaves alone
	page := b.get(at)
	page.says(t, "form: weather of J-1 A", "Values to settle", "J-1, Placement A, Wind, mph: 12 is on record, 5.25 was entered.", "1 record was changed.")
	before := exported(t, p.store)
	got := b.post(at+"/fix", append(page.hidden(t), "part", "0")...)
	waits := got.header.Get("Location")
	if got.status != 303 || !strings.HasPrefix(waits, "/upload/") {
		t.Fatal(got)
	}
	b.get(waits).says(t, "1 row is ready to come in. Nothing needs a fix.")
	kept := b.keep(waits)
	after := exported(t, p.store)
	if want := strings.Replace(before, "68,,40,12,", "68,,40,5.25,", 1); after != want || after == before {
		t.Errorf("the records are\n%s\nwant\n%s", after, want)
	}
	b.get(at).says(t, "These values are on record as they were entered.", fmt.Sprintf("batch %d", kept))
	b.get("/jobs/J-1").says(t, "form: weather of J-1 A, by Bo", "form: weather of J-1 A, by Ana")
	if _, err := p.store.Undo(t.Context(), kept, stamp(p.now())); err != nil || exported(t, p.store) != before {
		t.Error("taken back, it is not as before: ", err)
	}
	b.get(at).says(t, "12 is on record, 5.25 was entered.")
	for _, id := range []int64{done.Batch + 1, done.Batch, done.Batch - 1} {
		if _, err := p.store.Undo(t.Context(), id, stamp(p.now())); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := p.store.Check(t.Context(), func(f store.Fault) { t.Errorf("%+v", f) }); err != nil {
		t.Fatal(err)
	}
}

// TestFormThatBroughtNothing says so, and what it would be to take it back.
func TestFormThatBroughtNothing(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 0, atHome)
	p.takeFile("placements.csv", "job_no,placement,placed_on,use,area_sqft,thickness_in,wind_mph\nJ-1,A,2025-06-03,driveway,800,4,12\n")
	b := p.surfer()
	same := p.enter("Ana", [][2]string{{"wind_mph", "12 mph"}}, nil)
	b.get(batchPath(same.Batch)).says(t, "Nothing was changed: all of it was on record already.", "It changed no record.")
	clash := p.enter("Ana", [][2]string{{"wind_mph", "20"}}, map[string]string{"wind_mph": "3"})
	b.get(batchPath(clash.Batch)).says(t, "Nothing was changed: somebody else had given other values meanwhile.", "12 is on record, 20 was entered.")
	b.get("/batches").says(t, "form: weather of J-1 A", "Ana")
}
