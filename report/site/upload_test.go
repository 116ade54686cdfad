package site

import (
	"bytes"
	"fmt"
	"io"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/ingest/store/storetest"
	"pourback/report/say"
)

// file is a file of the tests' own.
func testFile(t testing.TB, parts ...string) []byte {
	t.Helper()
	content, err := os.ReadFile(filepath.Join(parts...))
	if err != nil {
		t.Fatal(err)
	}
	return content
}

// drop hands a file in.
func (b *surfer) drop(key, name string, content []byte) answered {
	b.t.Helper()
	var body bytes.Buffer
	w := multipart.NewWriter(&body)
	if key != "" {
		w.WriteField(keyField, key)
	}
	part, err := w.CreateFormFile("file", name)
	if err != nil {
		b.t.Fatal(err)
	}
	part.Write(content)
	w.Close()
	return b.send(w.FormDataContentType(), &body)
}

func (b *surfer) send(kind string, body io.Reader) answered {
	b.t.Helper()
	r := httptest.NewRequest("POST", "http://"+b.host+"/upload", body)
	r.Host = b.host
	r.Header.Set("Content-Type", kind)
	r.Header.Set("Origin", b.origin)
	for name, value := range b.cookies {
		r.AddCookie(&http.Cookie{Name: name, Value: value})
	}
	w := httptest.NewRecorder()
	b.site.ServeHTTP(w, r)
	return answered{w.Code, w.Header(), w.Body.String()}
}

// waiting hands a file in and returns the address at which it waits.
func (b *surfer) waiting(name string, content []byte) string {
	b.t.Helper()
	got := b.drop(newKey(), name, content)
	at := got.header.Get("Location")
	if got.status != 303 || !strings.HasPrefix(at, "/upload/") {
		b.t.Fatalf("%s: %v\n%.900s", name, got, got.body)
	}
	return at
}

var hiddenField = regexp.MustCompile(`<input type="hidden" name="(version|counts|table|key|seen)" value="([^"]*)">`)

// hidden are the hidden fields of a page's first form of records or files, and a new key.
func (a answered) hidden(t testing.TB) []string {
	t.Helper()
	fields := []string{keyField, a.key(t)}
	for _, f := range hiddenField.FindAllStringSubmatch(a.body, -1) {
		if !slices.Contains(fields, f[1]) {
			fields = append(fields, f[1], unescaped(f[2]))
		}
	}
	return fields
}

func unescaped(s string) string {
	return strings.NewReplacer("&#34;", `"`, "&#39;", "'", "&lt;", "<", "&gt;", ">", "&#43;", "+", "&amp;", "&").Replace(s)
}

// field is the name of the field with a value, in a page.
func (a answered) field(t testing.TB, pattern string) string {
	t.Helper()
	found := regexp.MustCompile(pattern).FindStringSubmatch(a.body)
	if found == nil {
		t.Fatalf("no %s in\n%.3000s", pattern, a.body)
	}
	return found[1]
}

// oddLog is the log that was written without a look at how logs are read.
func oddLog(t testing.TB) []byte { return testFile(t, "testdata", "odd-log.csv") }

// keep keeps a file that waits and returns the number of its batch.
func (b *surfer) keep(at string, fields ...string) int64 {
	b.t.Helper()
	got := b.post(at+"/keep", append(b.get(at).hidden(b.t), fields...)...)
	var batch int64
	if _, err := fmt.Sscanf(got.header.Get("Location"), "/batches/%d", &batch); err != nil {
		b.t.Fatalf("not kept: %v\n%.1500s", got, got.body)
	}
	return batch
}

// answers answers what is asked about headings, as often as is asked.
func (b *surfer) answers(at string, means ...string) answered {
	b.t.Helper()
	for range 4 {
		page := b.get(at)
		fields, said := page.hidden(b.t), 0
		for _, q := range question.FindAllStringSubmatch(page.body, -1) {
			for i := 0; i < len(means); i += 2 {
				if unescaped(q[1]) == means[i] {
					fields = append(fields, q[2], means[i+1])
					said++
				}
			}
		}
		if said == 0 {
			return page
		}
		if got := b.post(at, fields...); !fits(got, "303 "+at) {
			b.t.Fatal(got, got.body)
		}
	}
	return b.get(at)
}

var question = regexp.MustCompile(`(?s)<legend>What is “([^”]*)”\?</legend>.*?<select name="(q\.\d+)">`)

// TestFromDropToUndo: a log is handed in, cells of it are mended in place, it is
// kept, its rows set aside are fixed later, a value is changed, and all of it is
// taken back.
func TestFromDropToUndo(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		p := newPlace(t, dsn, 0, atHome)
		b := p.surfer()
		b.get("/upload").says(t, "Drop the file here")
		at := b.waiting("odd-log.csv", oddLog(t))
		page := b.get(at)
		page.says(t, "Some headings have to be clear", "What is “Ft x Ft”?", "40x20")
		page = b.answers(at, "Ft x Ft", "size", "Spent", "actual_cost")
		page.says(t, "rows are ready to come in.", "thicker than 24 in", "2/30/25", "What would come in")
		if log, _ := p.store.Batches(t.Context()); len(log) != 0 {
			t.Fatal("something was kept before it was to be")
		}

		thick := page.field(t, `name="(mend\.[0-9.]+)" value="45"`)
		got := b.post(at, append(page.hidden(t), thick, "4 1/2")...)
		if !fits(got, "303 "+at) {
			t.Fatal(got, got.body)
		}
		page = b.get(at)
		page.says(t, "“45” is now “4 1/2”")
		if strings.Contains(page.body, "thicker than 24 in") {
			t.Error("a cell that was mended is still wrong")
		}

		over := page.field(t, `name="(right\.[0-9.]+)"`)
		b.post(at, append(page.hidden(t), over, "1")...)
		page = b.get(at)
		page.says(t, "right as it is")
		batch := b.keep(at)
		shown := b.get(batchPath(batch))
		shown.says(t, "odd-log.csv", "owner", "Rows to fix", "mended before it came in", "said to be right")

		set, err := p.store.History(t.Context(), testDay)
		if err != nil {
			t.Fatal(err)
		}
		i := slices.IndexFunc(placementsOf(set), func(x record.Placement) bool { return x.JobNo == "104" })
		if i < 0 || placementsOf(set)[i].ThicknessIn.V != 4.5 {
			t.Error("job 104 is not on record as it was mended")
		}
		changes, err := p.store.Changes(t.Context(), batch)
		if err != nil || !slices.ContainsFunc(changes, func(c store.Change) bool {
			return c.Did == "mended" && c.Key[0] == "104" && c.Before["thickness_in"] == "45" && c.After["thickness_in"] == "4.5"
		}) {
			t.Errorf("the change log: %+v, %v", changes, err)
		}
		answers, err := p.store.Answers(t.Context())
		if err != nil || !slices.ContainsFunc(answers, func(a store.HeadingAnswer) bool {
			return a.Heading == "Ft x Ft" && a.Column == "size" && a.Header == ""
		}) {
			t.Errorf("remembered: %+v, %v", answers, err)
		}

		got = b.post(batchPath(batch)+"/fix", keyField, newKey(), "part", "0")
		at = got.header.Get("Location")
		page = b.get(at)
		page.says(t, "2/30/25")
		day := page.field(t, `name="(mend\.[0-9.]+)" value="2/30/25"`)
		b.post(at, append(page.hidden(t), day, "2/28/25")...)
		later := b.keep(at)
		b.get(batchPath(batch)).says(t, fmt.Sprintf("Fixed rows came in later, as batch %d", later))
		b.get("/jobs/106").says(t, "February 28, 2025", "written “2/30/25” and mended")

		job := b.get("/jobs/104")
		job.says(t, "Thickness as bid, in", "4.5", "odd-log.csv, row 8", "written “45” and mended")
		fields := append(job.hidden(t), "column", "thickness_in", "value", "5", "why", "probed")
		if got := b.post("/jobs/fix", fields...); !fits(got, "303 /jobs/104") {
			t.Fatal(got, got.body)
		}
		b.get("/jobs/104").says(t, "Earlier values", "fix 104/A: probed")

		if got := b.post(batchPath(batch)+"/undo", keyField, newKey()); got.status != 409 {
			t.Error("a batch on which others stand: ", got)
		}
		b.get(batchPath(batch)).says(t, "Undo them first, in this order")
		for _, id := range []int64{later + 1, later, batch} {
			would, err := p.store.WouldUndo(t.Context(), id)
			if err != nil {
				t.Fatal(id, err)
			}
			b.get(batchPath(id)).says(t, "Undo this batch")
			b.get(batchPath(id)).says(t, b.page().UndoSays(would.Removed, would.Restored))
			before := rowsOnRecord(t, p.store)
			if got := b.post(batchPath(id)+"/undo", keyField, newKey()); !fits(got, "303 "+batchPath(id)) {
				t.Fatal(got, got.body)
			}
			b.get(batchPath(id)).says(t, "Undone on ")
			if gone := before - rowsOnRecord(t, p.store); gone != would.Removed || would.Removed+would.Restored == 0 {
				t.Errorf("batch %d: %d rows are gone, and it was said %+v", id, gone, would)
			}
		}
		if h, err := p.store.History(t.Context(), testDay); err != nil || h.Placements.Len() != 0 {
			t.Error("something is left: ", err)
		}
		if _, err := p.store.Check(t.Context(), func(f store.Fault) { t.Errorf("%+v", f) }); err != nil {
			t.Error(err)
		}
	})
}

// page says what pages say, in English.
func (b *surfer) page() say.Site { return say.Site{Voice: say.New("", "", "")} }

func rowsOnRecord(t *testing.T, st *store.Store) (n int) {
	t.Helper()
	for _, table := range record.Tables {
		if err := st.Records(t.Context(), table, func(record.Record) error { n++; return nil }); err != nil {
			t.Fatal(err)
		}
	}
	return n
}

func placementsOf(h *record.History) (all []record.Placement) {
	for i := range h.Placements.Len() {
		all = append(all, h.Placements.Row(i))
	}
	return all
}
