package site

import (
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"pourback/analysis/bid"
	"pourback/analysis/concrete"
	"pourback/ingest/store/storetest"
	"pourback/report/desk"
	"pourback/report/say"
)

// money is an amount as pages write it.
var money = regexp.MustCompile(`[$€]\s?[\d−-]|\d\s?(?:dollars|USD)|dólares`)

// TestTheCrewSeesNoMoney: on no page that a crew may see does an amount stand, in any
// language, nor the number of one.
func TestTheCrewSeesNoMoney(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 150, public)
	p.user("Ana", Owner)
	p.user("crew", Crew)
	owner := p.signedIn("Ana")
	owner.keepsBid(append(slices.Clone(aDrive), "concrete_per_yd", "187.25", "labor_per_hour", "41.75")...)
	owner.keepsBid(aSlab...)
	owner.keepsBid(append(aPour("LM-900"), "concrete_per_yd", "187.25", "labor_per_hour", "41.75")...)
	if !money.MatchString(owner.get("/bids/1").body) || !money.MatchString(owner.get("/visits").body) {
		t.Fatal("no amount is found where there are many")
	}
	is, err := p.store.Bid(t.Context(), 1)
	if err != nil {
		t.Fatal(err)
	}
	offer, err := desk.BidOf(is)
	if err != nil {
		t.Fatal(err)
	}
	amounts := []string{"187.25", "41.75", say.Grouped(offer.Price.Asked, 0), say.Grouped(offer.Cost.Total.Mean, 0), say.Grouped(offer.Price.Price, 2)}
	crew := p.signedIn("crew")
	looked := 0
	look := func(path string) {
		t.Helper()
		for _, view := range []string{"", "lang=es", "units=si"} {
			p.later(2 * time.Second)
			at := path
			if view != "" {
				at += map[bool]string{true: "&", false: "?"}[strings.Contains(path, "?")] + view
			}
			got := crew.get(at)
			if got.status != http.StatusOK && got.status != http.StatusSeeOther && got.status != http.StatusNotFound && got.status != http.StatusGone {
				t.Errorf("%s: %v", at, got)
			}
			if found := money.FindString(got.body); found != "" {
				t.Errorf("%s says %q", at, found)
			}
			for _, amount := range amounts {
				if strings.Contains(got.body, amount) {
					t.Errorf("%s says %s", at, amount)
				}
			}
			looked++
		}
	}
	at := crew.enters(t, "/pour/LM-900/truck", "part", "drive", "ticket_no", "4711", "yards", "9", "arrived_at", "8:15")
	if found := money.FindString(at.body); found != "" {
		t.Errorf("what is kept of a truck says %q", found)
	}
	owner.enters(t, "/pour/LM-900/note", "part", "drive", "note", "the customer owes $500 still")
	for _, path := range []string{"/pour/LM-900", "/pour/LM-900?part=walk", "/pour/LM-900?truck=4711", "/pour/LM-900/last-load", "/pour/LM-900/last-load?placed=9&covered=60"} {
		look(path)
	}
	for _, r := range Routes() {
		if r.Method != "GET" || r.For&Crew == 0 || strings.Contains(r.Pattern, "{name}") {
			continue
		}
		paths := []string{strings.NewReplacer("{$}", "", "{token}", "x", "{id}", "1").Replace(r.Pattern)}
		switch {
		case strings.Contains(r.Pattern, "{job}"):
			paths = nil
			for i := range p.set.Placements {
				if s := p.set.Placements[i]; i%9 == 0 || s.CallbackOn != 0 {
					paths = append(paths, strings.NewReplacer("{job}", url.PathEscape(s.JobNo), "{placement}", url.PathEscape(s.Placement)).Replace(r.Pattern))
				}
			}
		case strings.HasSuffix(r.Pattern, "/balance"):
			paths = append(paths, paths[0]+"?placed=6&covered=50", paths[0]+"?placed=600&covered=50", paths[0]+"?placed=x&covered=50")
		}
		for _, path := range paths {
			look(path)
		}
	}
	if looked < 60 {
		t.Errorf("only %d pages were looked at", looked)
	}
	for _, path := range []string{"/bids", "/bids/1", "/bids/1/sheet", "/bids/1/proposal", "/bids/1/json"} {
		if got := crew.get(path); got.status != http.StatusForbidden {
			t.Errorf("%s: %v", path, got)
		}
	}
}

// TestPapersLeadBack to the bid, or to the pours where who looks may not see the bid.
func TestPapersLeadBack(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 0, public)
	p.user("Ana", Owner)
	p.user("crew", Crew)
	owner := p.signedIn("Ana")
	owner.keepsBid(aDrive...)
	for _, paper := range []string{"sheet", "proposal", "pour-day"} {
		owner.get("/bids/1/"+paper).says(t, `<nav><a href="/bids/1">Back to the bid</a></nav>`)
		owner.get("/bids/1/"+paper+"?lang=es").says(t, `<nav><a href="/bids/1?lang=es">Volver a la cotización</a></nav>`)
	}
	p.signedIn("crew").get("/bids/1/pour-day").says(t, `<nav><a href="/pours">Pours</a></nav>`)
}

// TestTheLastLoad: the page says what the desk's ground says of the same numbers.
func TestTheLastLoad(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 40, atHome)
	b := p.surfer()
	b.keepsBid(aDrive...)
	_, known, err := p.site.own.bidding(t.Context(), testDay)
	if err != nil {
		t.Fatal(err)
	}
	at := struct{ placed, covered float64 }{6, .5}
	offer := known.Kept[0].Bid
	progress, err := offer.Underway(0, progressOf(at.placed, at.covered, 0))
	if err != nil {
		t.Fatal(err)
	}
	want, err := known.Ground.Balance(offer.Spec, 0, progress)
	if err != nil {
		t.Fatal(err)
	}
	w := say.Balance{Voice: say.New("", "", "")}
	b.get("/bids/1/balance?placed=6&covered=50").says(t, w.Answer(want), "The rest of the area will take", "Before the pour")
	b.get("/bids/1/balance?placed=6+yd&covered=50%25&on_hand=3").says(t, w.Answer(mustBalance(t, known, offer, progressOf(6, .5, 3))))
	b.get("/bids/1/balance").says(t, "Fill in both")
	b.get("/bids/1/balance?placed=600&covered=50").says(t, "No answer by these numbers", "one of the two must be a slip")
	b.get("/bids/1/balance?placed=some&covered=150").says(t, `value="some"`, "more than 100 %")
	b.headers["Pourback-Follow"] = "now"
	if got := b.get("/bids/1/balance?placed=6&covered=50"); strings.Contains(got.body, "<html") || !strings.Contains(got.body, w.Answer(want)) {
		t.Error("what follows is not the page's own: ", got)
	}
}

func progressOf(placed, covered, onHand float64) concrete.Progress {
	return concrete.Progress{PlacedYd: placed, Covered: covered, OnHandYd: onHand}
}

func mustBalance(t *testing.T, known *desk.Known, b *bid.Bid, at concrete.Progress) concrete.BalanceCall {
	t.Helper()
	call, err := known.Ground.Balance(b.Spec, 0, at)
	if err != nil {
		t.Fatal(err)
	}
	return call
}
