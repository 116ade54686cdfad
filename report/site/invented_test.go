package site

import (
	"strings"
	"testing"
	"time"

	"pourback/ingest/store/storetest"
	"pourback/report/page"
)

// TestTheInventedCompanyHasABid, with its papers, to look at and not to change; the
// owner's own letterhead stands on none of them, and a viewer sees what viewers do.
func TestTheInventedCompanyHasABid(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 0, public)
	defer p.site.Close()
	p.site.Settings.Letterhead = page.Letterhead{Address: "12 Own Street"}
	p.user("Ana", Owner)
	p.user("Bo", Viewer)
	p.user("Cy", Crew)
	owner := p.signedIn("Ana")
	began := time.Now()
	owner.post("/invented")
	t.Log("invented within ", time.Since(began))
	for name, b := range map[string]*surfer{"Ana": owner, "Bo": p.signedIn("Bo")} {
		b.get("/invented/").says(t, `href="/invented/bids"`, `href="/invented/crew"`)
		b.get("/invented/bids").says(t, `href="/invented/bids/1"`, "Lot 14, Mesquite Lane")
		got := b.get("/invented/bids/1?lang=es")
		got.says(t, `href="/invented/bids/1/proposal?lang=es"`, `href="/invented/bids/1/balance?lang=es"`)
		if main := got.body[strings.Index(got.body, "<main"):]; strings.Contains(main, "<form") {
			t.Errorf("%s can change an invented bid", name)
		}
		for _, paper := range []string{"sheet", "proposal", "pour-day"} {
			got := b.get("/invented/bids/1/" + paper)
			got.says(t, "Mesquite Lane", `<nav><a href="/invented/bids/1">`)
			if strings.Contains(got.body, "Own Street") {
				t.Errorf("the %s of an invented bid bears the owner's letterhead", paper)
			}
		}
		b.get("/invented/bids/1/balance?placed=6&covered=50").says(t, `action="/invented/bids/1/balance"`, "Call")
	}
	crew := p.signedIn("Cy")
	crew.get("/invented/crew").says(t, "/invented/bids/1/pour-day")
	if got := crew.get("/invented/bids/1"); got.status != 403 {
		t.Error(got)
	}
	if got := money.FindString(crew.get("/invented/bids/1/pour-day").body); got != "" {
		t.Errorf("the crew sees %q", got)
	}
	if bids, err := p.store.Bids(t.Context()); err != nil || len(bids) > 0 {
		t.Errorf("the owner's own have %d bids, %v", len(bids), err)
	}
}
