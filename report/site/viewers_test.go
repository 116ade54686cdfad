package site

import (
	"net/http"
	"strings"
	"testing"

	"pourback/ingest/store/storetest"
)

// TestViewersReadWhatTheOwnerAllows: pages that are not named are neither shown nor
// led to, on the report and beside it; the owner reads all.
func TestViewersReadWhatTheOwnerAllows(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 60, public)
	p.user("Ana", Owner)
	p.user("viewer", Viewer)
	owner := p.signedIn("Ana")
	owner.keepsBid(aDrive...)
	hidden := []string{"/report/margin", "/report/bids", "/bids", "/bids/1", "/bids/1/sheet", "/bids/1/proposal", "/bids/1/json", "/bids/1/pour-day", "/bids/compare?a=1&b=1", "/visits", "/report/visits"}
	viewer := p.signedIn("viewer")
	for _, path := range hidden {
		if got := viewer.get(path); got.status == http.StatusForbidden {
			t.Errorf("%s is refused where nothing is set: %v", path, got)
		}
	}
	p.site.Settings.ViewersRead = []string{"waste", "cracks"}
	for _, path := range hidden {
		if got := viewer.get(path); got.status != http.StatusForbidden {
			t.Errorf("%s: %v", path, got)
		}
		if got := owner.get(path); got.status == http.StatusForbidden {
			t.Errorf("%s is refused to the owner", path)
		}
	}
	if got := viewer.get("/"); got.status != http.StatusSeeOther || got.header.Get("Location") != "/report/waste" {
		t.Errorf("home: %v", got)
	}
	got := viewer.get("/report/cracks")
	got.says(t, "/report/waste")
	for _, link := range []string{`href="/report/margin"`, `href="/bids"`, `href="/visits"`} {
		if strings.Contains(got.body, link) {
			t.Errorf("a page leads to %s", link)
		}
	}
}

func TestViewersReadNamesPages(t *testing.T) {
	c := Config{Access: atHome, Settings: Settings{ViewersRead: []string{"waste", "wages"}}}
	if _, err := New(c); err == nil || !strings.Contains(err.Error(), `"wages", which is no page: want some of index, month`) {
		t.Error(err)
	}
}
