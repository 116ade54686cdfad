package ingest_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"pourback/ingest"
	"pourback/ingest/picture"
	"pourback/ingest/record"
	"pourback/ingest/sheet"
	"pourback/ingest/store"
	"pourback/ingest/store/storetest"
)

const pourLog = "job_no,placement,placed_on,use,area_sqft,thickness_in\nJ-1,A,2025-06-03,patio,320,4\nJ-2,A,2025-06-03,patio,320,4\nJ-2,B,2025-06-03,walkway,96,4\n"

func scene(t *testing.T, name string) []byte {
	t.Helper()
	b, err := os.ReadFile(filepath.Join("picture", "testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// poured is a store with three placements, and a folder.
func poured(t *testing.T, dsn string) (st *store.Store, dir string) {
	t.Helper()
	st, dir = open(t, dsn), t.TempDir()
	inDir(t, dir, "placements.csv", pourLog)
	takeIn(t, st, filepath.Join(dir, "placements.csv"), 0)
	return st, dir
}

func inDir(t *testing.T, dir, name, content string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(filepath.Join(dir, name)), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, name), []byte(content), 0o644); err != nil {
		t.Fatal(err)
	}
}

// takeIn takes one file in; a quota of 0 is the default one.
func takeIn(t *testing.T, st *store.Store, path string, quotaMB float64) (r ingest.Result, said []record.Problem) {
	t.Helper()
	rules := ingest.DefaultPictureRules()
	if quotaMB > 0 {
		rules.QuotaMB = quotaMB
	}
	results, err := ingest.Files(t.Context(), st, []string{path}, ingest.Options{Sheet: sheet.Options{Today: day(today)}, TakenAt: "2025-07-01T08:00:00Z", Pictures: rules,
		Problem: func(p record.Problem) { said = append(said, p) }})
	if err != nil {
		t.Fatal(err)
	}
	return results[0], said
}

func adding(key string, file []byte) ingest.Adding {
	return ingest.Adding{Target: "J-1/A", Rules: ingest.DefaultPictureRules(), Within: time.Minute, TakenAt: "2025-07-01T08:00:00Z",
		Files: []ingest.PictureFile{{Name: "a.jpg", Key: key, Read: func() ([]byte, error) { return file, nil }}}}
}

// TestKeysOfSenders: the same key again adds nothing, whatever else is said; with
// other bytes, or for another slab, it is a clash; and a picture that was taken back
// stays so when its sender, who heard no answer, sends it again.
func TestKeysOfSenders(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		st, _ := poured(t, dsn)
		add := func(a ingest.Adding) ingest.AddedPicture {
			t.Helper()
			done, err := ingest.AddPictures(t.Context(), st, a)
			if err != nil {
				t.Fatal(err)
			}
			return done.Pictures[0]
		}
		if is := add(adding("key-1", scene(t, "turned-6.jpg"))); is.Became != "new" || is.Key != "key-1" {
			t.Fatalf("%+v", is)
		}
		a := adding("key-1", scene(t, "turned-6.jpg"))
		a.Caption = "another caption"
		if is := add(a); is.Became != "unchanged" {
			t.Errorf("%+v", is)
		}
		if is := add(adding("key-1", scene(t, "gray.jpg"))); !errors.Is(is.Why, ingest.ErrPictureClash) || is.Became != "refused" {
			t.Errorf("%+v", is)
		}
		a = adding("key-1", scene(t, "turned-6.jpg"))
		a.Target = "J-2/B"
		if is := add(a); !errors.Is(is.Why, ingest.ErrPictureClash) {
			t.Errorf("%+v", is)
		}
		var refusal *picture.Refusal
		if is := add(adding("key-2", []byte("GIF89a"))); !errors.As(is.Why, &refusal) || refusal.Code != picture.CodeForeign {
			t.Errorf("%+v", is)
		}
		if _, err := ingest.TakeBackPicture(t.Context(), st, "key-1", "2025-07-02T08:00:00Z"); err != nil {
			t.Fatal(err)
		}
		if is := add(adding("key-1", scene(t, "turned-6.jpg"))); is.Became != "unchanged" {
			t.Errorf("%+v", is)
		}
		all, err := st.Pictures(t.Context(), "")
		if len(all) != 0 || err != nil {
			t.Errorf("%v, %v", all, err)
		}
		if h, err := st.History(t.Context(), day(today)); err != nil || h.Placements.Len() != 3 || len(h.Checks) != 0 {
			t.Errorf("the history: %v", err)
		}
	})
}

// TestTableOfPictures reads a table that an owner wrote, with all that can be wrong
// with it, and again once it is mended.
func TestTableOfPictures(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		st, dir := poured(t, dsn)
		inDir(t, dir, "in/p/good.jpg", string(scene(t, "turned-3.jpg")))
		inDir(t, dir, "in/p/other.webp", string(scene(t, "lossy.webp")))
		inDir(t, dir, "in/p/phone.jpg", "\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic")
		inDir(t, dir, "secret.png", string(scene(t, "upright.png")))
		if err := os.Symlink(filepath.Join("..", "..", "secret.png"), filepath.Join(dir, "in", "p", "link.png")); err != nil {
			t.Fatal(err)
		}
		table := filepath.Join(dir, "in", "pictures.csv")
		rows := "job_no,placement,seen_on,file,taken_at,caption\n" +
			"J-1,,,p/good.jpg,2025-06-03T07:15,as poured\n" +
			"J-2,B,2025-06-20,p/other.webp,,\n" + // no such visit on record
			"J-1,A,,p/none.jpg,,\nJ-1,A,,../secret.png,,\nJ-1,A,,p/link.png,,\nJ-1,A,,/etc/hostname,,\nJ-1,A,,p/phone.jpg,,\nJ-1,A,,p,,\n" +
			"J-1,A,2030-01-01,p/good.jpg,,\nJ-9,A,,p/good.jpg,,\n,A,,p/good.jpg,,\nJ-1,A,,,,\n"
		inDir(t, dir, "in/pictures.csv", rows)
		r, said := takeIn(t, st, table, 0)
		if r.Read != 12 || r.New != 3 || r.SetAside != 9 {
			t.Errorf("%+v", r)
		}
		has(t, said, "picture-owner 3 seen_on", "picture-file 4 file", "picture-file 5 file", "picture-file 6 file", "picture-file 7 file",
			"picture-heic 8 file", "picture-file 9 file", "future-visit 10 seen_on", "unknown-job 11 job_no")
		again, _ := takeIn(t, st, table, 0)
		if again.New+again.Changed != 0 || again.Unchanged != 3 {
			t.Errorf("again: %+v", again)
		}
		inDir(t, dir, "in/p/none.jpg", string(scene(t, "gray.jpg")))
		mended, _ := takeIn(t, st, strings.TrimSuffix(table, ".csv")+".set-aside.csv", 0)
		if mended.New != 1 || mended.Changed != 1 { // without its day, row 10 is row 2's picture again, and says nothing of it
			t.Errorf("mended: %+v", mended)
		}
		all, err := st.Pictures(t.Context(), "J-1")
		if err != nil || len(all) != 2 {
			t.Fatalf("%v, %v", all, err)
		}
		for _, p := range all {
			if p.Placement != "A" || p.KeptAt.String() != "2025-07-01T08:00" || p.WidthPx.V != 48 || len(p.SHA256) != 64 || len(p.Picture) != 32 {
				t.Errorf("%+v", p)
			}
		}
		for _, batch := range []int64{mended.Batch, r.Batch} {
			if _, err := st.Undo(t.Context(), batch, "2025-07-02T08:00:00Z"); err != nil {
				t.Error(err)
			}
		}
		if all, err := st.Pictures(t.Context(), ""); len(all) != 0 || err != nil {
			t.Errorf("%v, %v", all, err)
		}
	})
}

// has demands problems by code, row and column.
func has(t *testing.T, said []record.Problem, want ...string) {
	t.Helper()
	all := map[string]bool{}
	for _, p := range said {
		all[fmt.Sprint(p.Code, " ", p.Row, " ", p.Column)] = true
	}
	for _, w := range want {
		if !all[w] {
			t.Errorf("nothing said of %s, only %v", w, all)
		}
	}
}

// TestTableOfPicturesOnRecord: a table without its files may say something new of
// pictures that are there, and nothing else.
func TestTableOfPicturesOnRecord(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		st, dir := poured(t, dsn)
		done, err := ingest.AddPictures(t.Context(), st, adding("", scene(t, "turned-6.jpg")))
		if err != nil {
			t.Fatal(err)
		}
		key := done.Pictures[0].Key
		out := filepath.Join(dir, "out")
		if _, _, err := ingest.Export(t.Context(), st, out, ingest.ExportOptions{}); err != nil {
			t.Fatal(err)
		}
		table, err := os.ReadFile(filepath.Join(out, "pictures.csv"))
		if err != nil {
			t.Fatal(err)
		}
		inDir(t, dir, "alone/pictures.csv", strings.Replace(string(table), ".jpg,,,", ".jpg,,by the door,", 1))
		r, said := takeIn(t, st, filepath.Join(dir, "alone", "pictures.csv"), 0)
		if r.Changed != 1 || len(said) != 0 {
			t.Errorf("%+v %v", r, said)
		}
		all, err := st.Pictures(t.Context(), "")
		if err != nil || all[0].Caption != "by the door" || all[0].WidthPx.V != 48 {
			t.Errorf("%+v, %v", all, err)
		}
		sum := all[0].SHA256
		inDir(t, dir, "other/pictures.csv", strings.Replace(string(table), sum, strings.Repeat("0", 64), 1))
		r, said = takeIn(t, st, filepath.Join(dir, "other", "pictures.csv"), 0)
		if r.SetAside != 1 {
			t.Errorf("%+v", r)
		}
		has(t, said, "picture-file 2 file")
		inDir(t, dir, "out/"+all[0].PictureFile(), string(scene(t, "gray.jpg"))) // not the one that was exported
		r, said = takeIn(t, st, filepath.Join(out, "pictures.csv"), 0)
		if r.SetAside != 1 {
			t.Errorf("%+v", r)
		}
		has(t, said, "picture-clash 2 sha256")
		inDir(t, dir, "clash/x.jpg", string(scene(t, "gray.jpg")))
		inDir(t, dir, "clash/pictures.csv", "job_no,placement,picture,file\nJ-1,A,"+key+",x.jpg\n")
		r, said = takeIn(t, st, filepath.Join(dir, "clash", "pictures.csv"), 0)
		if r.SetAside != 1 {
			t.Errorf("%+v", r)
		}
		has(t, said, "picture-clash 2 picture")
	})
}

// TestQuotaOfPictures: what does not fit is set aside and said, and what fits is
// kept.
func TestQuotaOfPictures(t *testing.T) {
	st, dir := poured(t, storetest.SQLite(t))
	inDir(t, dir, "in/a.png", string(scene(t, "upright.png")))
	inDir(t, dir, "in/b.jpg", string(scene(t, "gray.jpg")))
	inDir(t, dir, "in/pictures.csv", "job_no,placement,file\nJ-1,A,a.png\nJ-1,A,b.jpg\nJ-2,A,a.png\n")
	r, said := takeIn(t, st, filepath.Join(dir, "in", "pictures.csv"), 0.002)
	if r.New != 2 || r.SetAside != 1 {
		t.Errorf("%+v", r)
	}
	has(t, said, "pictures-full 3 file")
	for _, p := range said {
		if strings.Contains(p.String(), "pictures.quota_mb") {
			return
		}
	}
	t.Errorf("%v does not say which setting", said)
}

// TestDryRunKeepsNoPicture reads everything and keeps nothing.
func TestDryRunKeepsNoPicture(t *testing.T) {
	st, dir := poured(t, storetest.SQLite(t))
	inDir(t, dir, "in/a.png", string(scene(t, "upright.png")))
	inDir(t, dir, "in/pictures.csv", "job_no,placement,file\nJ-1,A,a.png\n")
	results, err := ingest.Files(t.Context(), st, []string{filepath.Join(dir, "in", "pictures.csv")},
		ingest.Options{Sheet: sheet.Options{Today: day(today)}, TakenAt: "2025-07-01T08:00:00Z", Pictures: ingest.DefaultPictureRules(), DryRun: true})
	if err != nil || results[0].New != 1 || results[0].Batch != 0 {
		t.Errorf("%+v, %v", results, err)
	}
	if used, err := st.PicturesUsed(t.Context()); used != 0 || err != nil {
		t.Errorf("%d bytes, %v", used, err)
	}
}

// TestALogCalledPictures is still a job log: the table is known by its columns too.
func TestALogCalledPictures(t *testing.T) {
	st, dir := poured(t, storetest.SQLite(t))
	inDir(t, dir, "pictures.csv", strings.ReplaceAll(pourLog, "J-", "K-"))
	if r, _ := takeIn(t, st, filepath.Join(dir, "pictures.csv"), 0); r.New != 3 || r.Tables[0] != "placements" {
		t.Errorf("%+v", r)
	}
}
