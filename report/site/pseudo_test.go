package site

import (
	"html"
	"regexp"
	"strings"
	"testing"

	"pourback/ingest/store/storetest"
)

var (
	tags     = regexp.MustCompile(`(?s)<(script|style|head|svg)\b.*?</(script|style|head|svg)>|<[^>]*>`)
	spoken   = regexp.MustCompile(`(?:aria-label|title|alt)="([^"]*)"`)
	letters  = regexp.MustCompile(`[A-Za-z]{3,}`)
	commands = regexp.MustCompile(`(?s)<code>.*?</code>|<bdi>.*?</bdi>|<h2>Bo</h2>|>(?:Heron|Kestrel|Wren)<|Low Mesa Test Crew|\d min\b|\bAna\b|<a [^>]*hreflang=[^>]*>[^<]*</a>`) // names, and languages by what they call themselves
)

// TestNoWordStandsOutside: every word of the site's own pages goes through the
// catalogue, as a made-up language shows whose letters no English has.
func TestNoWordStandsOutside(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 0, atHome)
	p.site.Settings.Lang = "qps"
	p.site.own.settings.Lang = "qps"
	b := p.surfer()
	look := func(path string, got answered) {
		t.Helper()
		body := commands.ReplaceAllString(got.body[strings.Index(got.body, "<body"):], "")
		said := tags.ReplaceAllString(body, " ")
		for _, found := range spoken.FindAllStringSubmatch(body, -1) {
			said += " " + found[1]
		}
		for _, word := range letters.FindAllString(html.UnescapeString(said), -1) {
			t.Errorf("%s: %q is in plain letters", path, word)
		}
		if len(said) < 100 {
			t.Errorf("%s says next to nothing", path)
		}
	}
	for _, path := range []string{"/", "/start", "/users", "/log", "/you", "/upload", "/bids", "/bids/new", "/bids/9", "/crew", "/pour/LM-1", "/visits", "/slabs/x/A", "/calendar", "/nowhere", "/report/waste?use=x", "/join?t=x"} {
		look(path, b.get(path))
	}
	look("/bids/work", b.post("/bids/work", aSlab...))
	b.keepsBid(aSlab...)
	for _, path := range []string{"/bids", "/bids/1/balance", "/bids/1/balance?placed=2&covered=50", "/bids/new?revise=1", "/bids/new?copy=1", "/crew"} {
		look(path, b.get(path))
	}
	lookAtPours(t, b, look)
	lookAtRecords(t, b, look)
	lookAtVisits(t, b, look)
	p.takeFile("placements.csv", "job_no,placement,placed_on,use,area_sqft,thickness_in\nJ-1,A,2025-06-03,driveway,800,4\n")
	p.enter("Ana", [][2]string{{"wind_mph", "12"}}, nil)
	for _, wind := range []string{"12", "5"} {
		page := b.get(batchPath(p.enter("Ana", [][2]string{{"wind_mph", wind}}, nil).Batch))
		page.body = units.ReplaceAllString(page.body, "")
		look("a form's batch", page)
	}
	lookAtPhones(t, p, look)
	p.user("Ana", Owner)
	look("/login", b.get("/login"))
	look("/login", b.post("/login", "name", "Ana", "password", "wrong"))
	owner := p.signedIn("Ana")
	for _, path := range []string{"/users", "/you", "/log"} {
		look(path, owner.get(path))
	}
	look("/users/invite", owner.post("/users/invite", "name", "Bo"))
}
