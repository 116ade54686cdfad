package site

import (
	"bytes"
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"
	"time"

	"pourback/analysis"
	"pourback/analysis/setting"
	"pourback/ingest/store/storetest"
	"pourback/report/internal/ics"
	"pourback/report/out"
)

var feedLink = regexp.MustCompile(`readonly value="([^"]*/visits\.ics)"`)

// TestTheCalendarsAddress: it is shown once, kept as a digest, renewed, and leads nowhere
// once it is old; what it gives is what the command line writes, by RFC 5545, and holds
// no money. Nobody signs in to it.
func TestTheCalendarsAddress(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		p := newPlace(t, dsn, 150, public)
		p.user("Ana", Owner)
		b := p.signedIn("Ana")
		page := b.get("/calendar")
		page.says(t, "The calendar has no address yet.")
		renew := func() string {
			t.Helper()
			key := b.get("/calendar").key(t)
			got := b.post("/calendar/renew", keyField, key)
			found := feedLink.FindStringSubmatch(got.body)
			if found == nil || !strings.HasPrefix(found[1], "https://jobs.example.com/calendar/") {
				t.Fatal("no address: ", got)
			}
			if again := b.post("/calendar/renew", keyField, key); feedLink.MatchString(again.body) {
				t.Error("a form that arrives again makes another address")
			}
			at, err := url.Parse(found[1])
			if err != nil {
				t.Fatal(err)
			}
			return at.Path
		}
		path := renew()
		if got := b.get("/calendar"); strings.Contains(got.body, strings.Split(path, "/")[2]) {
			t.Error("the address is shown again")
		}
		nobody := p.surfer()
		got := nobody.get(path)
		if got.status != http.StatusOK || got.header.Get("Content-Type") != "text/calendar; charset=utf-8" {
			t.Fatal(got, got.header)
		}
		events, err := ics.Read([]byte(got.body))
		if err != nil || len(events) == 0 {
			t.Fatal(err, len(events))
		}
		if found := money.FindString(got.body); found != "" {
			t.Errorf("it says %q", found)
		}
		h, err := p.store.History(t.Context(), testDay)
		if err != nil {
			t.Fatal(err)
		}
		opt := p.site.Settings.Analysis
		opt.Topics, opt.Visits.Asked = []string{setting.VisitsTopic}, true
		f, err := analysis.Run(h, opt)
		if err != nil {
			t.Fatal(err)
		}
		var want bytes.Buffer
		if err := out.Calendar(&want, f, out.CalendarOptions{Units: "us", Sites: true}); err != nil {
			t.Fatal(err)
		}
		if got.body != want.String() {
			t.Error("the feed is not the file that the command line writes")
		}
		nobody.headers["If-None-Match"] = got.header.Get("ETag")
		if again := nobody.get(path); again.status != http.StatusNotModified || again.body != "" {
			t.Error("who has it is sent it again: ", again)
		}
		delete(nobody.headers, "If-None-Match")
		want.Reset()
		if err := out.Calendar(&want, f, out.CalendarOptions{Lang: "es", Units: "si", Sites: true}); err != nil {
			t.Fatal(err)
		}
		if spanish := nobody.get(path + "?lang=es&units=si"); spanish.body != want.String() {
			t.Error("in another language it is another calendar")
		}

		old := path
		path = renew()
		p.later(time.Minute)
		for _, wrong := range []string{old, "/calendar/x/visits.ics", "/calendar/%20/visits.ics", strings.ToLower(path)} {
			if got := nobody.get(wrong); got.status != http.StatusNotFound {
				t.Errorf("%s: %v", wrong, got)
			}
		}
		if got := nobody.get(path); got.status != http.StatusOK {
			t.Error(got)
		}
		if strings.Contains(p.logged(), strings.Split(path, "/")[2]) {
			t.Error("the secret stands in the log")
		}
		refused := 0
		for range 40 {
			if got := nobody.get("/calendar/guess/visits.ics"); got.status == http.StatusTooManyRequests {
				refused++
			}
		}
		if refused == 0 {
			t.Error("guessing is never refused")
		}
		if got := b.post("/calendar/end", keyField, newKey()); got.header.Get("Location") != "/calendar" {
			t.Error(got)
		}
		p.later(10 * time.Minute)
		if got := nobody.get(path); got.status != http.StatusNotFound {
			t.Error("taken away, and there: ", got)
		}
		log, err := p.store.Log(t.Context(), 10)
		if err != nil || log[0].Did != "no calendar" || log[1].Did != "calendar" {
			t.Errorf("%+v, %v", log, err)
		}
	})
}

// TestVisitsBySite: each trip of the answer stands under its site, each open callback by
// its age, and each slab leads to its story.
func TestVisitsBySite(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 430, atHome)
	b := p.surfer()
	is, _, err := p.site.own.answer(t.Context(), p.site.Settings.choice(p.now()), time.Time{})
	if err != nil {
		t.Fatal(err)
	}
	v := is.factors.Visits
	if len(v.Trips) == 0 || len(v.Callbacks.Open) == 0 {
		t.Fatal("nothing is to be visited")
	}
	got := b.get("/visits")
	before := -1
	for i := range v.Callbacks.Open {
		c := &v.Callbacks.Open[i]
		_, list, _ := strings.Cut(got.body, `id="open"`)
		at := strings.Index(list, "/slabs/"+c.JobNo+"/"+c.Placement+`"`)
		if at < before || at < 0 {
			t.Errorf("%s %s stands at %d, after %d", c.JobNo, c.Placement, at, before)
		}
		before = at
	}
	for i := range v.Trips {
		got.says(t, "Job "+v.Trips[i].JobNo+": ")
	}
	slab := v.Trips[0]
	b.get("/slabs/"+slab.JobNo+"/"+slab.Placements[0]).says(t, "The story of ", "All visits")
	none := b.get("/slabs/" + slab.JobNo + "/Z")
	if none.says(t, "Did you mean "+slab.JobNo); none.status != http.StatusNotFound {
		t.Error(none)
	}
	b.get("/slabs/"+slab.JobNo+"/"+slab.Placements[0]+"?lang=es").says(t, `lang="es"`)
}
