package ingest_test

import (
	"errors"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pourback/ingest"
	"pourback/ingest/picture"
	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/ingest/store/storetest"
)

// and puts rows of a further table behind those of an entry.
func and(e ingest.Entry, table string, rows ...[]string) ingest.Entry {
	e.Rows = append(e.Rows, entering(table, rows...).Rows...)
	return e
}

// TestEntryOfEveryTable begins a job with all that can be said of one, events before
// the placement that they are of, and takes it back.
func TestEntryOfEveryTable(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		st := open(t, dsn)
		e := entering("visits", []string{"job_no", "J-7", "seen_on", "7/1/2025", "why", "planned", "finding", "ok", "labor_hours", "30 min"})
		e = and(e, "labor", []string{"job_no", "J-7", "worked_on", "2025-06-03", "task", "pour", "hours", "21"})
		e = and(e, "delays", []string{"job_no", "J-7", "cause", "late truck", "minutes", "0:40"}, []string{"job_no", "J-7", "cause", "clog", "minutes", "5", "seq", ""}, []string{"job_no", "J-7", "cause", "clog", "minutes", "6", "seq", "9"})
		e = and(e, "loads", []string{"job_no", "J-7", "ticket_no", "1", "yards", "9"})
		e = and(e, "placements", []string{"job_no", "J-7", "placed_on", "6/3/2025", "use", "drive", "area_sqft", "24x20", "thickness_in", "4"})
		e = and(e, "jobs", []string{"job_no", "J-7", "site", "Lot 7 (invented)"})
		done := mustEnter(t, st, e)
		var names []string
		for _, r := range done.Rows {
			if r.Became != ingest.EntryNew {
				t.Errorf("%+v", r)
			}
			names = append(names, r.Table+" "+r.Record)
		}
		want := []string{"visits J-7 A 2025-07-01", "labor J-7 A 2025-06-03 place", "delays J-7 A 1", "delays J-7 A 2", "delays J-7 A 9", "loads J-7 A 1", "placements J-7 A", "jobs J-7"}
		if !slices.Equal(names, want) {
			t.Errorf("%q", names)
		}
		if got := onRecord(t, st, &record.Placement{JobNo: "J-7", Placement: "A"}, "area_sqft"); got != "480" {
			t.Error(got)
		}
		h, err := st.History(t.Context(), day(today))
		if err != nil || len(h.Checks) > 0 || h.Placements.At(0).DeliveredYd() != record.Some(9.0) || h.Placements.At(0).DelayMin() != record.Some(int64(51)) {
			t.Errorf("%v %+v", err, h.Checks)
		}
		if len(exported(t, st)) < 7 {
			t.Error(exported(t, st))
		}
		undone, err := st.Undo(t.Context(), done.Batch, entryAt)
		if err != nil || undone.Removed != 8 {
			t.Errorf("%+v, %v", undone, err)
		}
		sound(t, st)
	})
}

// TestEntryNamesItsPlacement: where a row names none it is the job's only one; events
// on record that name none are the same ones; and what names nothing on record is
// refused with what would be right.
func TestEntryNamesItsPlacement(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		st, dir := poured(t, dsn)
		inDir(t, dir, "loads.csv", "job_no,ticket_no,yards,driver\nJ-1,55,9,Wren\n")
		inDir(t, dir, "delays.csv", "job_no,cause,minutes\nJ-1,clog,4\nJ-1,clog,5\n")
		for _, name := range []string{"loads.csv", "delays.csv"} {
			takeIn(t, st, filepath.Join(dir, name), 0)
		}
		e := entering("loads", []string{"job_no", "J-1", "placement", "A", "ticket_no", "55", "yards", "9"}, []string{"job_no", "J-1", "ticket_no", "56", "yards", "8"})
		done := mustEnter(t, st, and(e, "delays", []string{"job_no", "J-1", "cause", "weather", "minutes", "3"}))
		if r := done.Rows; r[0].Became != "unchanged" || r[0].Record != "J-1 55" || r[1].Record != "J-1 A 56" || r[2].Record != "J-1 A 3" {
			t.Errorf("%+v", r)
		}
		temp := entering("loads", []string{"job_no", "J-1", "ticket_no", "55", "concrete_temp_f", "71"})
		if r := mustEnter(t, st, temp).Rows[0]; r.Became != "changed" {
			t.Errorf("%+v", r)
		}
		if got := exported(t, st)["loads.csv"]; !strings.Contains(got, "J-1,,55,9,,,,,,71,,,Wren") {
			t.Error(got)
		}
		for _, c := range []struct {
			row         []string
			code, right string
		}{
			{[]string{"job_no", "J-2", "ticket_no", "1", "yards", "9"}, "names-no-placement", "name one, such as A"},
			{[]string{"job_no", "J-2", "placement", "C", "ticket_no", "1", "yards", "9"}, "unknown-placement", "did you mean"},
			{[]string{"job_no", "J-11", "ticket_no", "1", "yards", "9"}, "unknown-job", "did you mean J-1?"},
			{[]string{"job_no", "J-1", "yards", "9"}, "missing-value", "every row needs it"},
			{[]string{"ticket_no", "1", "yards", "9"}, "missing-value", "every row needs it"},
			{[]string{"job_no", "J-1", "ticket_no", "1"}, "missing-value", "every row needs it"},
			{[]string{"job_no", "J-1", "ticket_no", "1", "yards", "nine-ish"}, "not-a-number", "write"},
		} {
			_, err := ingest.Enter(t.Context(), st, entering("loads", c.row))
			var wrong *ingest.EntryError
			if !errors.As(err, &wrong) || len(wrong.Problems) != 1 || wrong.Problems[0].Code != c.code || !strings.Contains(wrong.Problems[0].Right, c.right) {
				t.Errorf("%q: %v", c.row, err)
			}
		}
		_, err := ingest.Enter(t.Context(), st, entering("visits", []string{"job_no", "J-1", "seen_on", "2025-06-01", "why", "planned", "finding", "sound"}))
		var wrong *ingest.EntryError
		if !errors.As(err, &wrong) || wrong.Problems[0].Code != "visit-before-pour" {
			t.Error(err)
		}
		sound(t, st)
	})
}

// TestEntryTellsAllThatIsWrong of all its rows, and nothing that follows from it.
func TestEntryTellsAllThatIsWrong(t *testing.T) {
	st, _ := poured(t, storetest.SQLite(t))
	e := entering("placements", []string{"job_no", "J-8", "placed_on", "someday", "use", "patio", "area_sqft", "1e9", "thickness_in", "4"})
	e = and(e, "loads", []string{"job_no", "J-8", "ticket_no", "1", "yards", "0"}, []string{"job_no", "J-1", "ticket_no", "1", "yards", "9", "colour", "gray"})
	e = and(e, "trucks", []string{"job_no", "J-8"})
	_, err := ingest.Enter(t.Context(), st, e)
	var wrong *ingest.EntryError
	if !errors.As(err, &wrong) {
		t.Fatal(err)
	}
	var columns []string
	for _, p := range wrong.Problems {
		columns = append(columns, p.Column+"="+p.Value)
		if p.Right == "" || p.Wrong == "" {
			t.Errorf("%+v", p)
		}
	}
	slices.Sort(columns)
	if want := []string{"area_sqft=1e9", "colour=gray", "placed_on=someday", "table=trucks", "yards=0"}; !slices.Equal(columns, want) {
		t.Errorf("%q", columns)
	}
}

// TestTwoCracks: a second crack joins the first of the same visit, and what there is
// no place for stands in the note.
func TestTwoCracks(t *testing.T) {
	crack := func(more ...string) ingest.Entry {
		e := entering("visits", append([]string{"job_no", "J-1", "seen_on", "2025-07-01", "why", "planned", "finding", "crack"}, more...))
		e.Rows[0].AddUp = true
		return e
	}
	storetest.Each(t, func(t *testing.T, dsn string) {
		st, _ := poured(t, dsn)
		visit := &record.Visit{JobNo: "J-1", Placement: "A", SeenOn: day("2025-07-01")}
		holds := func(want ...string) {
			t.Helper()
			for i := 0; i < len(want); i += 2 {
				if got := onRecord(t, st, visit, want[i]); got != want[i+1] {
					t.Errorf("%s is %q, want %q", want[i], got, want[i+1])
				}
			}
			sound(t, st)
		}
		sound1 := crack()
		sound1.Rows[0].Values[3][1] = "sound"
		mustEnter(t, st, sound1)
		mustEnter(t, st, crack("length_ft", "4.1", "width_in", "0.01", "spot_x", "0.2", "spot_y", "0.3", "crack_kind", "drying", "at_joint", "yes", "note", "by the door"))
		holds("finding", "crack", "length_ft", "4.1", "width_in", "0.01", "spot_x", "0.2", "note", "by the door")
		mustEnter(t, st, crack("length_ft", "3", "spot_x", "0.72", "spot_y", "0.1"))
		holds("length_ft", "7.1", "width_in", "0.01", "spot_x", "0.2", "spot_y", "0.3", "note", "by the door; also 3 ft at 0.72, 0.10")
		done := mustEnter(t, st, crack("length_ft", "0.2", "width_in", "0.02", "crack_kind", "settlement", "at_joint", "no", "note", "near gate"))
		if done.Rows[0].Became != "changed" {
			t.Errorf("%+v", done)
		}
		whole := "by the door; also 3 ft at 0.72, 0.10; also 0.2 ft, 0.02 in wide, settlement, at no joint; near gate"
		holds("length_ft", "7.3", "width_in", "0.02", "crack_kind", "drying", "at_joint", "yes", "note", whole)

		scaling := crack("cost", "80", "note", "salt")
		scaling.Rows[0].Values[3][1] = "scaling"
		clash := mustEnter(t, st, scaling)
		if r := clash.Rows[0]; r.Became != "clash" || len(r.Clashes) != 3 || r.Clashes[0].Column != "finding" {
			t.Errorf("%+v", r)
		}
		holds("finding", "crack", "cost", "", "note", whole)
		called := crack("length_ft", "1")
		called.Rows[0].Values[2][1] = "callback"
		if r := mustEnter(t, st, called).Rows[0]; r.Became != "clash" || len(r.Clashes) != 1 || r.Clashes[0].Column != "why" {
			t.Errorf("%+v", r)
		}
		holds("why", "planned", "length_ft", "8.3")
		two := and(crack("length_ft", "1"), "visits", []string{"job_no", "J-1", "seen_on", "2025-07-01", "finding", "crack", "length_ft", "2"})
		two.Rows[1].AddUp = true
		batch := mustEnter(t, st, two).Batch
		holds("length_ft", "11.3")
		if _, err := st.Undo(t.Context(), batch, entryAt); err != nil {
			t.Error(err)
		}
		holds("length_ft", "8.3")
	})
}

// TestEntryWithPictures: pictures come in with the row that they belong to, or with
// nothing; one that cannot be taken is refused alone, unless there is nothing else.
func TestEntryWithPictures(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		st, _ := poured(t, dsn)
		good := ingest.PictureFile{Name: "ticket.jpg", Key: "key-of-a-picture", Read: func() ([]byte, error) { return scene(t, "gray.jpg"), nil }}
		bad := ingest.PictureFile{Name: "movie.gif", Read: func() ([]byte, error) { return []byte("GIF89a"), nil }}
		e := entering("loads", []string{"job_no", "J-1", "ticket_no", "4711", "yards", "9"})
		e.Pictures = &ingest.Adding{Target: "J-1/A", TicketNo: "4711", Rules: ingest.DefaultPictureRules(), Files: []ingest.PictureFile{good, bad}}
		done := mustEnter(t, st, e)
		if p := done.Pictures; len(p) != 2 || p[0].Became != "new" || p[1].Became != "refused" || p[1].Refused == "" {
			t.Errorf("%+v", p)
		}
		all, err := st.Pictures(t.Context(), "J-1")
		if err != nil || len(all) != 1 || all[0].TicketNo != "4711" || all[0].KeptBy != "Ana" || all[0].KeptAt == 0 {
			t.Errorf("%+v, %v", all, err)
		}
		var wrong *ingest.EntryError
		e.Pictures.TicketNo = "none such"
		if _, err := ingest.Enter(t.Context(), st, e); !errors.As(err, &wrong) || wrong.Problems[0].Column != "pictures" || !strings.Contains(wrong.Error(), "none such") {
			t.Error(err)
		}
		only := ingest.Entry{What: "picture of J-1 A", TakenAt: entryAt, Pictures: &ingest.Adding{Target: "J-1", Rules: ingest.DefaultPictureRules(), Files: []ingest.PictureFile{bad}}}
		if _, err := ingest.Enter(t.Context(), st, only); !errors.As(err, &wrong) || wrong.Problems[0].Code != picture.CodeForeign || wrong.Problems[0].Value != "movie.gif" {
			t.Error(err)
		}
		if batches, err := st.Batches(t.Context()); err != nil || len(batches) != 2 {
			t.Errorf("%+v, %v", batches, err)
		}
		if _, err := st.Undo(t.Context(), done.Batch, entryAt); err != nil {
			t.Fatal(err)
		}
		if all, err := st.Pictures(t.Context(), ""); err != nil || len(all) > 0 {
			t.Errorf("%+v, %v", all, err)
		}
		sound(t, st)
	})
}

// TestPlacementThatBegins: the first form of the day begins a placement from its bid
// and says something of it; the second phone's does the same, and begins nothing.
func TestPlacementThatBegins(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		st, _ := poured(t, dsn)
		begin := func(area, crew string) ingest.Entry {
			e := entering("placements", []string{"job_no", "J-5", "placement", "B", "placed_on", "2025-06-30", "use", "patio", "area_sqft", area, "thickness_in", "4", "note", "from its bid"},
				[]string{"job_no", "J-5", "placement", "B", "crew", crew})
			e.Rows[0].IfNew = true
			return and(e, "loads", []string{"job_no", "J-5", "ticket_no", crew, "yards", "4"})
		}
		if r := mustEnter(t, st, begin("300", "Heron")).Rows; r[0].Became != "new" || r[1].Became != "new" || r[2].Record != "J-5 B Heron" {
			t.Errorf("%+v", r)
		}
		if r := mustEnter(t, st, begin("310", "Heron")).Rows; r[0].Became != "unchanged" || r[1].Became != "unchanged" {
			t.Errorf("%+v", r)
		}
		if r := mustEnter(t, st, begin("310", "Wren")).Rows; r[0].Became != "unchanged" || r[1].Became != "clash" || r[2].Became != "new" {
			t.Errorf("%+v", r)
		}
		if got := onRecord(t, st, &record.Placement{JobNo: "J-5", Placement: "B"}, "area_sqft"); got != "300" {
			t.Error(got)
		}
		other := entering("placements", []string{"job_no", "J-5", "air_temp_f", "60"}, []string{"job_no", "J-5", "air_temp_f", "61"})
		var wrong *ingest.EntryError
		if _, err := ingest.Enter(t.Context(), st, other); !errors.As(err, &wrong) || wrong.Problems[0].Code != "conflicting-row" {
			t.Error(err)
		}
		sound(t, st)
	})
}

// TestEntryOddButPossible is kept, and told.
func TestEntryOddButPossible(t *testing.T) {
	st, _ := poured(t, storetest.SQLite(t))
	done := mustEnter(t, st, entering("loads", []string{"job_no", "J-1", "ticket_no", "1", "yards", "14", "slump_in", "4-5"}))
	if len(done.Problems) != 2 || done.Problems[0].Record != "J-1 A 1" || done.Problems[0].Severity != record.Warning {
		t.Errorf("%+v", done.Problems)
	}
	batches, err := st.Batches(t.Context())
	if err != nil || batches[1].Warnings != 2 {
		t.Errorf("%+v, %v", batches, err)
	}
}

// TestBatchOfAForm is named as one, and no file is taken for one.
func TestBatchOfAForm(t *testing.T) {
	for _, c := range [][3]string{
		{"form truck 4711 of J-104 A", "Ana", "form: truck 4711 of J-104 A, by Ana"},
		{"form truck 4711 of J-104 A", "", "form: truck 4711 of J-104 A"},
		{"form 7.csv", "Ana", "form 7.csv"},
		{"fix J-1/A: taped", "Ana", "fix J-1/A: taped"},
	} {
		if got := ingest.BatchName(store.Batch{File: c[0], Who: c[1]}); got != c[2] {
			t.Errorf("%q, want %q", got, c[2])
		}
	}
}
