package site

import (
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"pourback/ingest/store/storetest"
)

// TestTheOwnerSeesTheDayAsItComes: each thing that is said of a pour stands on the list of
// pours at once, with who said it and when, the newest first and once; what was taken back
// is not there, a crew's own list is short, and no names are shown where none may be.
func TestTheOwnerSeesTheDayAsItComes(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		p := newPlace(t, dsn, 0, public)
		p.user("Ana", Owner)
		p.user("Bo", Crew)
		p.user("Cy", Crew)
		ana, bo, cy := p.signedIn("Ana"), p.signedIn("Bo"), p.signedIn("Cy")
		ana.keepsBid(aPour("LM-900")...)
		if got := ana.get("/crew"); strings.Contains(got.body, `class="came"`) {
			t.Error("before anything came: ", mainOf(got.body))
		}
		for _, e := range []struct {
			by     *surfer
			form   string
			fields []string
		}{
			{bo, "truck", []string{"ticket_no", "4711", "yards", "9", "arrived_at", "08:15"}},
			{cy, "clog", []string{"minutes", "12"}},
			{bo, "weather", []string{"air_temp_f", "71"}},
			{cy, "truck", []string{"ticket_no", "4711", "stamp", "pour_start"}},
		} {
			p.later(time.Minute)
			e.by.enters(t, "/pour/LM-900/"+e.form, append([]string{"part", "drive"}, e.fields...)...)
		}
		p.later(time.Minute)
		bo.enter("/pour/LM-900/pictures", keyed("part", "drive"), uploaded{"a.jpg", photo(t, 60, 40, 0)})
		list := ana.get("/crew")
		inOrder(t, mainOf(list.body), "LM-900: driveway", "<li>12:05 UTC, Bo: Pictures</li>", "<li>12:04 UTC, Cy: Truck 4711, 9 yd, on site 8:15, pouring since 12:04 pm</li>", "<li>12:03 UTC, Bo: Air 71 °F</li>", "<li>12:02 UTC, Cy: Clog</li>")
		if n := strings.Count(list.body, "Truck 4711"); n != 1 {
			t.Errorf("one truck stands there %d times", n)
		}
		if got := bo.get("/crew"); strings.Contains(got.body, `class="came"`) {
			t.Error("a crew's own: ", mainOf(got.body))
		}
		bo.post("/slabs/LM-900/drive/undo", keyField, newKey(), "batch", "5")
		if got := ana.get("/crew"); strings.Contains(got.body, "Bo: Pictures") || got.header.Get("ETag") == list.header.Get("ETag") {
			t.Error("what was taken back is told: ", mainOf(got.body))
		}
		p.site.own.settings.NoNames, p.site.own.shown = true, shownPages{} // as in another run
		ana.get("/crew").says(t, "<li>12:02 UTC: Clog</li>")
		p.site.own.settings.NoNames, p.site.own.shown = false, shownPages{}
		p.later(24 * time.Hour)
		if got := ana.get("/crew"); strings.Contains(got.body, `class="came"`) {
			t.Error("the day after: ", mainOf(got.body))
		}
	})
}

// TestTheListOfPoursMovesOn by itself, as the pages of figures do.
func TestTheListOfPoursMovesOn(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 0, atHome)
	b := p.surfer()
	b.keepsBid(aPour("LM-900")...)
	w := p.window(t, 390)
	w.open("/crew")
	look := func() { // as every quarter of a minute
		w.do(chromedp.Sleep(300 * time.Millisecond))
		ask[bool](w, "document.dispatchEvent(new Event('visibilitychange'))")
	}
	look()
	w.do(chromedp.Sleep(time.Second))
	b.enters(t, "/pour/LM-900/truck", "part", "drive", "ticket_no", "4711", "yards", "9")
	for tries := 0; !ask[bool](w, `!!document.querySelector('.came')`); tries++ {
		if tries > 60 {
			t.Fatal("the page stays as it was: ", ask[string](w, `document.querySelector('main').innerText`))
		}
		look()
	}
	if says := ask[string](w, `document.querySelector('.came').textContent`); !strings.Contains(says, "Truck 4711, 9 yd") {
		t.Error(says)
	}
	w.sound("the list as it came")
	w.lookAt("came")
}
