package site

import (
	"bytes"
	"encoding/json"
	"fmt"
	"image"
	"image/jpeg"
	"mime/multipart"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"

	"pourback/ingest"
	"pourback/ingest/record"
	"pourback/ingest/store/storetest"
)

// photo is a picture of so many pixels, unlike that of another shade.
func photo(t testing.TB, width, height int, shade uint8) []byte {
	t.Helper()
	m := image.NewYCbCr(image.Rect(0, 0, width, height), image.YCbCrSubsampleRatio420)
	for i := range m.Y {
		m.Y[i] = uint8(i%width*200/width) + shade
	}
	for i := range m.Cb {
		m.Cb[i], m.Cr[i] = 120, 130
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// upload is a file of a form.
type uploaded struct {
	name    string
	content []byte
}

// enter sends a form with files as a browser does.
func (b *surfer) enter(path string, fields []string, files ...uploaded) answered {
	b.t.Helper()
	kind, body := withFiles(fields, files...)
	return b.ask("POST", path, kind, string(body))
}

// withFiles is a form with files as a browser sends it: the fields in their order, then
// the files.
func withFiles(fields []string, files ...uploaded) (kind string, body []byte) {
	var b bytes.Buffer
	w := multipart.NewWriter(&b)
	for i := 0; i+1 < len(fields); i += 2 {
		w.WriteField(fields[i], fields[i+1])
	}
	for _, f := range files {
		if part, err := w.CreateFormFile(pictureField, f.name); err == nil { // a buffer takes all
			part.Write(f.content)
		}
	}
	w.Close()
	return w.FormDataContentType(), b.Bytes()
}

// queue has a browser send as the queue of a phone does, and reads what it is answered.
func (b *surfer) queue(do func() answered) (answered, map[string]string) {
	b.t.Helper()
	b.headers[entryHeader] = "1"
	got := do()
	delete(b.headers, entryHeader)
	said := map[string]string{}
	if got.header.Get("Content-Type") == "application/json" {
		if err := json.Unmarshal([]byte(got.body), &said); err != nil {
			b.t.Fatal(err, got.body)
		}
	}
	return got, said
}

// keyed are the fields of a form with a new key.
func keyed(fields ...string) []string { return append([]string{keyField, newKey()}, fields...) }

// slabs takes two slabs in, of which one was called about.
func (p *place) slabs() {
	p.t.Helper()
	p.takeFile("placements.csv", "job_no,placement,placed_on,use,area_sqft,thickness_in,crew\nJ-1,A,2025-06-03,driveway,800,4,Heron\nJ-1,B,2025-06-04,patio,320,4,Heron\n")
	p.takeFile("loads.csv", "job_no,placement,ticket_no,yards\nJ-1,A,881,9\n")
	p.takeFile("visits.csv", "job_no,placement,seen_on,why,finding,crack_kind,cost\nJ-1,A,2025-09-01,callback,crack,drying,300\n")
}

func (p *place) visits() (all []record.Visit) {
	p.t.Helper()
	err := p.store.Records(p.t.Context(), record.Visits, func(r record.Record) error {
		all = append(all, *r.(*record.Visit))
		return nil
	})
	if err != nil {
		p.t.Fatal(err)
	}
	return all
}

var aCrack = []string{"why", "callback", "called", "the customer", "finding", "crack", "crack_kind", "drying", "at_joint", "no", "width", "0.016 in", "length", "6", "spot", "0.167 0.833", "spot_at", "0.250 0.750",
	"seen_on", "2026-03-30", "cost", "", "note", "by the garage", "caption", "the long one"}

// TestAVisitWithPicturesIsKept: the form's fields are a visit with its pictures, once
// however often they arrive and in whatever order; the slab, the report, an export and
// the pictures themselves have it at once.
func TestAVisitWithPicturesIsKept(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		p := newPlace(t, dsn, 0, public)
		p.slabs()
		p.user("Ana", Owner)
		p.user("Bo", Crew)
		owner, crew := p.signedIn("Ana"), p.signedIn("Bo")
		owner.keepsBid("job_no", "J-1", "p0.use", "driveway", "p0.length_ft", "40", "p0.width_ft", "20", "p0.thickness_in", "4")
		form := crew.get("/slabs/J-1/A/visit")
		form.says(t, "Visit to J-1 A", "The drawing of the slab, as it was bid", `data-wide="40.00"`)
		fields := append([]string{keyField, form.key(t)}, aCrack...)
		one, other := uploaded{"IMG_1.jpg", photo(t, 900, 600, 0)}, uploaded{"IMG_2.jpg", photo(t, 900, 600, 40)}
		got, said := crew.queue(func() answered { return crew.enter("/slabs/J-1/A/visit", fields, one, other) })
		if got.status != 200 || said["key"] != fields[1] || !strings.HasPrefix(said["kept"], "batch ") || said["became"] != "new" || said["says"] != "J-1 A: crack, on record." {
			t.Fatalf("%v %v", got, said)
		}
		again, before := crew.queue(func() answered { return crew.enter("/slabs/J-1/A/visit", fields, other, one) })
		if again.status != 200 || before["kept"] != said["kept"] || before["key"] != fields[1] {
			t.Errorf("again: %v %v", again, before)
		}
		if got, said := crew.queue(func() answered { return crew.enter("/slabs/J-1/A/visit", fields, one) }); got.status != http.StatusConflict || said["refused"] == "" || said["kept"] != "" {
			t.Errorf("the key for something else: %v %v", got, said)
		}
		if got := crew.enter("/slabs/J-1/A/visit", fields, one, other); !fits(got, "303 /slabs/J-1/A") {
			t.Errorf("without script: %v", got)
		}
		want := record.Visit{JobNo: "J-1", Placement: "A", SeenOn: record.DateOf(2026, 3, 30), Why: "callback", Finding: "crack", CrackKind: "drying", AtJoint: record.No, WidthIn: record.Some(0.016), LengthFt: record.Some(6.0),
			SpotX: record.Some(0.25), SpotY: record.Some(0.75), Note: "called: the customer; by the garage"}
		if all := p.visits(); len(all) != 2 || all[1] != want {
			t.Fatalf("on record: %+v", all)
		}
		pictures, err := p.store.Pictures(t.Context(), "J-1")
		if err != nil || len(pictures) != 2 {
			t.Fatalf("%d pictures, %v", len(pictures), err)
		}
		for _, is := range pictures {
			if is.Placement != "A" || is.SeenOn != want.SeenOn || is.Caption != "the long one" || is.KeptBy != "Bo" || is.XFt != record.Some(10.0) || is.YFt != record.Some(15.0) {
				t.Errorf("%+v", is)
			}
		}
		for _, b := range []*surfer{crew, owner} {
			page := b.get("/slabs/J-1/A")
			page.says(t, "2026-03-30; crack, drying; the long one", "Callback: crack, drying, not in a joint, 6 ft long")
			sources := regexp.MustCompile(`<img src="([^"]+)/small" width="900" height="600"`).FindAllStringSubmatch(page.body, -1)
			if len(sources) != 2 {
				t.Fatalf("%d pictures are shown", len(sources))
			}
			for _, at := range sources {
				b.get(at[1]).says(t, `<img src="`+at[1]+`/large"`, "the long one", "Back to the slab")
				for _, size := range []string{"/small", "/large"} {
					got := b.get(at[1] + size)
					if _, err := jpeg.Decode(strings.NewReader(got.body)); err != nil || got.header.Get("Content-Type") != "image/jpeg" || got.header.Get("X-Content-Type-Options") != "nosniff" {
						t.Errorf("%s: %v %v", size, err, got.header)
					}
					b.headers["If-None-Match"] = got.header.Get("ETag")
					if same := b.get(at[1] + size); same.status != http.StatusNotModified {
						t.Errorf("%s again: %v", size, same)
					}
					delete(b.headers, "If-None-Match")
				}
				if got := b.get(at[1] + "/huge"); got.status != http.StatusNotFound {
					t.Error(got)
				}
				if got := b.get(strings.Replace(at[1], "/A/", "/B/", 1)); got.status != http.StatusNotFound {
					t.Error("a picture of another slab: ", got)
				}
			}
		}
		if nobody := p.surfer().get("/slabs/J-1/A/pictures/" + pictures[0].Picture + "/large"); nobody.status != http.StatusSeeOther {
			t.Error("who has not signed in: ", nobody)
		}
		owner.get("/report/month?month=2026-03").says(t, "2026")
		owner.get("/visits").says(t, "J-1 A")
		dir := t.TempDir()
		if _, _, err := ingest.Export(t.Context(), p.store, dir, ingest.ExportOptions{}); err != nil {
			t.Fatal(err)
		}
		for file, want := range map[string]string{"visits.csv": "J-1,A,2026-03-30,callback,crack,drying,no,0.016,6", "pictures.csv": "the long one"} {
			text, err := os.ReadFile(filepath.Join(dir, file))
			if err != nil || !strings.Contains(string(text), want) {
				t.Errorf("%s lacks %q: %v", file, want, err)
			}
		}
		if log, err := p.store.Log(t.Context(), 1); err != nil || log[0].Who != "Bo" || log[0].What != "POST /slabs/J-1/A/visit" || log[0].Did != said["kept"] {
			t.Errorf("%+v, %v", log, err)
		}
		p.sound()
	})
}

// sound has the store look over itself.
func (p *place) sound() {
	p.t.Helper()
	looked, err := p.store.Check(p.t.Context(), nil)
	if err != nil || looked.Faults > 0 {
		p.t.Errorf("%+v, %v", looked, err)
	}
}

// TestOneEntryManyTimesAtOnce keeps it once.
func TestOneEntryManyTimesAtOnce(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		p := newPlace(t, dsn, 0, public)
		p.slabs()
		p.user("Bo", Crew)
		b := p.signedIn("Bo")
		fields, file := keyed(aCrack...), uploaded{"a.jpg", photo(t, 400, 300, 0)}
		var wait sync.WaitGroup
		for range 6 {
			wait.Go(func() {
				one := p.surfer()
				one.cookies[public.cookie()] = b.cookies[public.cookie()]
				if got, said := one.queue(func() answered { return one.enter("/slabs/J-1/A/visit", fields, file) }); got.status != 200 || said["kept"] == "" {
					t.Error(got, said)
				}
			})
		}
		wait.Wait()
		pictures, err := p.store.Pictures(t.Context(), "J-1")
		if all := p.visits(); len(all) != 2 || len(pictures) != 1 || err != nil {
			t.Errorf("%d visits, %d pictures, %v", len(all), len(pictures), err)
		}
	})
}

// TestWhatAVisitCannotBe: each is refused with words, as JSON to a queue and on the form
// to a browser, which then holds what was written; nothing is kept.
func TestWhatAVisitCannotBe(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 0, public)
	p.slabs()
	p.user("Bo", Crew)
	b := p.signedIn("Bo")
	with := func(name, value string) []string {
		fields := keyed(aCrack...)
		for i := 0; i+1 < len(fields); i += 2 {
			if fields[i] == name {
				fields[i+1] = value
			}
		}
		return fields
	}
	for what, c := range map[string]struct {
		fields []string
		says   string
	}{
		"no reason":        {with("why", ""), "Planned or called for: fill it in."},
		"no finding":       {with("finding", ""), "What was seen: fill it in."},
		"to come":          {with("seen_on", "2026-04-09"), "in the future"},
		"before the pour":  {with("seen_on", "2025-01-02"), "before the pour"},
		"no day":           {with("seen_on", "soon"), "Day of the visit: “soon” is no day; write it like 2026-07-14."},
		"a width of words": {with("width", "hairline"), "Width of the crack: “hairline” is no number here; write it like 4.5."},
		"a wide width":     {with("width", "40"), "more than 2 in"},
		"off the drawing":  {with("spot_at", "1.5 0.5"), "from the left: more than 1"},
		"money":            {with("cost", "300"), "only the owner enters it"},
		"a bad word":       {with("crack_kind", "zigzag"), "Kind of crack: “zigzag” is not understood."},
	} {
		got, said := b.queue(func() answered {
			return b.enter("/slabs/J-1/A/visit", c.fields, uploaded{"a.jpg", photo(t, 300, 200, 0)})
		})
		if got.status != http.StatusUnprocessableEntity || said["key"] != c.fields[1] || !strings.Contains(said["refused"], c.says) || said["kept"] != "" {
			t.Errorf("%s: %v %v", what, got, said)
		}
		page := b.enter("/slabs/J-1/A/visit", append(keyed(), c.fields[2:]...))
		if page.says(t, "by the garage", `role="alert"`); page.status != http.StatusUnprocessableEntity {
			t.Errorf("%s on the form: %v", what, page)
		}
	}
	if all := p.visits(); len(all) != 1 {
		t.Errorf("kept: %+v", all)
	}
	if got := b.post("/slabs/J-1/Z/visit", keyed(aCrack...)...); got.status != http.StatusNotFound {
		t.Error("no such slab: ", got)
	}
	if got := b.post("/slabs/J-1/A/visit", aCrack...); got.status != http.StatusBadRequest {
		t.Error("without a key: ", got)
	}
}

// TestWhatIsOfCracksAlone is left out of other findings, and of a planned look what is
// of callbacks.
func TestWhatIsOfCracksAlone(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 0, atHome)
	p.slabs()
	b := p.surfer()
	if got := b.post("/slabs/J-1/B/visit", keyed("why", "planned", "called", "x", "finding", "scaling", "width", "1", "length", "2", "at_joint", "yes", "crack_kind", "drying", "resolved_on", "2026-03-31", "seen_on", "2026-03-31", "cost", "$40")...); got.status != 303 {
		t.Fatal(got)
	}
	want := record.Visit{JobNo: "J-1", Placement: "B", SeenOn: testDay, Why: "planned", Finding: "scaling", Cost: record.Some[record.Cents](4000)}
	if all := p.visits(); all[1] != want {
		t.Errorf("%+v", all[1])
	}
}

// TestAVisitInMeters: bare numbers are of the reader's units.
func TestAVisitInMeters(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 0, atHome)
	p.slabs()
	b := p.surfer()
	b.get("/slabs/J-1/A/visit?units=si").says(t, "Width where it is widest, mm", "Length, m", `value="0.41 mm"`)
	for i, c := range []struct{ width, length string }{{"0.5", "3"}, {"0.5 mm", "3 m"}, {"0.0196850394 in", "9.842519685 ft"}} {
		day := fmt.Sprintf("2026-03-%d", 10+i)
		if got := b.post("/slabs/J-1/A/visit?units=si", keyed("why", "planned", "finding", "crack", "width", c.width, "length", c.length, "seen_on", day)...); got.status != 303 {
			t.Fatal(got)
		}
		v := p.visits()[1+i]
		if w, l := v.WidthIn.V*25.4, v.LengthFt.V*0.3048; w < 0.4999 || w > 0.5001 || l < 2.9999 || l > 3.0001 {
			t.Errorf("%+v: %v mm, %v m", c, w, l)
		}
	}
}

// TestLookedAtItSound: one tap in the list of visits records a planned look, which who
// made it may take back, and nobody else but the owner.
func TestLookedAtItSound(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		p := newPlace(t, dsn, 60, public)
		p.user("Ana", Owner)
		p.user("Bo", Crew)
		p.user("Cy", Crew)
		p.user("Vi", Viewer)
		bo, cy := p.signedIn("Bo"), p.signedIn("Cy")
		list := bo.get("/visits")
		form := regexp.MustCompile(`<form method="post" action="(/slabs/[^"]+)/visit"[^>]*><input type="hidden" name="form_key" value="([A-Z0-9]+)"><input type="hidden" name="why" value="planned"><input type="hidden" name="finding" value="sound"><input type="hidden" name="seen_on" value="2026-03-31"><button>Looked at it: sound`).FindStringSubmatch(list.body)
		if form == nil {
			t.Fatal("no visit is one tap away")
		}
		if strings.Contains(p.signedIn("Vi").get("/visits").body, "<form method=\"post\"") {
			t.Error("a viewer is offered to write")
		}
		n := len(p.visits())
		sound := []string{keyField, form[2], "why", "planned", "finding", "sound", "seen_on", "2026-03-31"}
		for range 2 {
			got := bo.post(form[1]+"/visit", sound...)
			if !fits(got, "303 "+form[1]) {
				t.Fatal(got)
			}
			bo.get(got.header.Get("Location")).says(t, "sound, on record.", "Take it back")
		}
		all := p.visits()
		if len(all) != n+1 {
			t.Fatalf("%d visits, and %d before", len(all), n)
		}
		undo := regexp.MustCompile(`name="batch" value="(\d+)"`).FindStringSubmatch(bo.get(form[1]).body)
		if undo == nil {
			t.Fatal("nothing to take it back by")
		}
		if strings.Contains(cy.get(form[1]).body, "Take it back") {
			t.Error("another is offered to take it back")
		}
		if got := cy.post(form[1]+"/undo", keyed("batch", undo[1])...); got.status != http.StatusConflict {
			t.Error("another takes it back: ", got)
		}
		back := keyed("batch", undo[1])
		if got := bo.post(form[1]+"/undo", back...); !fits(got, "303 "+form[1]) {
			t.Error(got)
		}
		if got := bo.post(form[1]+"/undo", back...); got.status != 200 {
			t.Error("the same again: ", got)
		}
		if all := p.visits(); len(all) != n {
			t.Errorf("%d visits, and %d before", len(all), n)
		}
		if strings.Contains(bo.get(form[1]).body, "Take it back") {
			t.Error("there is something left to take back")
		}
		p.sound()
	})
}

// TestACallbackIsClosed by its day; closed otherwise meanwhile, both are kept.
func TestACallbackIsClosed(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		p := newPlace(t, dsn, 0, public)
		p.slabs()
		p.user("Bo", Crew)
		p.user("Cy", Crew)
		bo, cy := p.signedIn("Bo"), p.signedIn("Cy")
		bo.get("/slabs/J-1/A").says(t, "The callback of September 1, 2025 (crack) is open")
		for _, c := range [][2]string{{"2025-09-01", "2025-08-01"}, {"2025-09-02", "2026-03-30"}, {"", ""}} {
			if got, said := bo.queue(func() answered { return bo.post("/slabs/J-1/A/close", keyed("seen_on", c[0], "resolved_on", c[1])...) }); got.status != http.StatusUnprocessableEntity || said["refused"] == "" {
				t.Error(c, got, said)
			}
		}
		if got, said := bo.queue(func() answered {
			return bo.post("/slabs/J-1/A/close", keyed("seen_on", "2025-09-01", "resolved_on", "2026-03-30")...)
		}); said["became"] != "changed" || said["says"] != "J-1 A: the callback of September 1, 2025 is closed." {
			t.Fatal(got, said)
		}
		if got, said := cy.queue(func() answered {
			return cy.post("/slabs/J-1/A/close", keyed("seen_on", "2025-09-01", "resolved_on", "2026-03-31")...)
		}); said["became"] != "clash" {
			t.Error(got, said)
		}
		if v := p.visits(); v[0].ResolvedOn != record.DateOf(2026, 3, 30) || v[0].Cost != record.Some[record.Cents](30000) {
			t.Errorf("%+v", v)
		}
		if strings.Contains(bo.get("/slabs/J-1/A").body, "(crack) is open") {
			t.Error("it is open still")
		}
	})
}
