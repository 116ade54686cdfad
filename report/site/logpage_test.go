package site

import (
	"strings"
	"testing"
	"time"

	"pourback/ingest/store/storetest"
)

// TestEveryDeedHasWords: whatever a route keeps is in the log, whose page says it in
// words. A route that is new here wants a line in deeds (logpage.go).
func TestEveryDeedHasWords(t *testing.T) {
	keepNothing := map[string]bool{"POST /invented": true, "POST /invented/gone": true, "POST /bids/work": true}
	writes := map[string]bool{byHandDeed: true, "form": true}
	for _, r := range Routes() {
		at := r.Method + " " + r.Pattern
		if r.Kind == Shows || keepNothing[at] {
			continue
		}
		writes[at] = true
		if deeds[at] == nil {
			t.Errorf("%s has no words in the log", at)
		}
	}
	for at := range deeds {
		if !writes[at] {
			t.Errorf("%s has words in the log, and keeps nothing", at)
		}
	}
}

// TestLogInWords: the log says what was done, about what, by the clock of the
// site's machine.
func TestLogInWords(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		p := newPlace(t, dsn, 0, public)
		p.clock = p.clock.In(time.FixedZone("here", -7*60*60))
		if _, err := InviteOwner(t.Context(), p.store, "Cy", p.now()); err != nil {
			t.Fatal(err)
		}
		p.user("Ana", Owner)
		p.user("Bo", Viewer)
		owner := p.signedIn("Ana")
		batch := owner.keep(owner.waiting("book.xlsx", twoTabs(t)))
		owner.post(batchPath(batch)+"/undo", keyField, newKey())
		bid := owner.keepsBid(aDrive...)
		owner.post("/bids/1/mark", keyField, newKey(), "fate", "won")
		owner.post("/users/2/role", keyField, newKey(), "role", "crew")
		owner.post("/users/invite", keyField, newKey(), "name", "Di", "role", "viewer")
		owner.waiting("again.xlsx", twoTabs(t))
		page := owner.get("/log")
		if batch != 1 || bid != 1 {
			t.Fatal(batch, bid)
		}
		page.says(t, "March 31, 2026, 05:00", `<td data-head="What">Took a file in</td>`, `<td data-head="What">Undid a batch</td>`, `href="/batches/1"><bdi>Batch 1</bdi>`,
			`<td data-head="What">Said what became of a bid</td><td data-head="What it was about"><a class="lead" href="/bids/1"><bdi>Bid 1</bdi>`, "<bdi>Bo, now crew</bdi>",
			"Made a link for somebody new</td><td data-head=\"What it was about\"><bdi>Di</bdi>", "<bdi>command line</bdi></td><td data-head=\"What\">Made a link for an owner</td>", "<bdi>again.xlsx</bdi>", "Signed in")
		shown := page.body[strings.Index(page.body, "<tbody>"):]
		for _, raw := range []string{"POST", "UTC", "add-owner", ">batch 1", "12:00"} {
			if strings.Contains(strings.ReplaceAll(shown, "T12:00:00Z", ""), raw) {
				t.Errorf("the log shows %q", raw)
			}
		}
		owner.get(batchPath(batch)).says(t, "March 31, 2026, 05:00")
	})
}
