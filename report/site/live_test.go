package site

import (
	"github.com/chromedp/chromedp"

	"bytes"
	"compress/gzip"
	"errors"
	"fmt"
	"io"
	"net/http"
	"regexp"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"pourback/analysis"
	"pourback/analysis/setting"
	"pourback/ingest/record"
	"pourback/ingest/store/storetest"
	"pourback/report/out"
	"pourback/report/say"
)

// asJSON is all that an analysis answers, to the last digit.
func asJSON(t testing.TB, f *analysis.Factors) string {
	t.Helper()
	var b bytes.Buffer
	if err := out.JSON(&b, f, say.New("", "", "")); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// onlyPlacements is what is on record of some placements alone: their rows as
// their events have filled them in, and their jobs, without the money of those
// that have other placements too.
func onlyPlacements(h *record.History, keep func(p record.Placement) bool) *record.History {
	var s record.Set
	kept, all := map[string]int{}, map[string]int{}
	for i := range h.Placements.Len() {
		p := h.Placements.Row(i)
		all[p.JobNo]++
		if keep(p) {
			kept[p.JobNo]++
			s.Placements = append(s.Placements, p)
			s.Loads = append(s.Loads, h.LoadsOf(i)...)
			s.Delays = append(s.Delays, h.DelaysOf(i)...)
			s.Labor = append(s.Labor, h.LaborOf(i)...)
			s.Visits = append(s.Visits, h.VisitsOf(i)...)
		}
	}
	for j := range h.Jobs.Len() {
		job := h.Jobs.Row(j)
		if kept[job.JobNo] == 0 {
			continue
		}
		if kept[job.JobNo] == all[job.JobNo] {
			s.Costs = append(s.Costs, h.CostsOf(j)...)
		} else {
			job.ContractPrice, job.ChangeOrders, job.BidCost, job.ActualCost = record.Money{}, record.Money{}, record.Money{}, record.Money{}
		}
		s.Jobs = append(s.Jobs, job)
	}
	return record.NewHistory(h.AsOf, s)
}

// TestAChoiceIsWorkedOutFromItsRecords: the figures of a choice are those that the
// analysis gives of a company that has only those records, and none is cut out of
// an answer about more.
func TestAChoiceIsWorkedOutFromItsRecords(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 150, atHome)
	h, err := p.store.History(t.Context(), testDay)
	if err != nil {
		t.Fatal(err)
	}
	usual := p.site.Settings.choice(p.now())
	for name, c := range map[string]struct {
		set  func(*Choice)
		keep func(record.Placement) bool
	}{
		"everything": {func(*Choice) {}, func(record.Placement) bool { return true }},
		"a use":      {func(c *Choice) { c.Use = "driveway" }, func(p record.Placement) bool { return p.Use == "driveway" }},
		"a crew":     {func(c *Choice) { c.Crew = "Heron" }, func(p record.Placement) bool { return p.Crew == "Heron" }},
		"a way":      {func(c *Choice) { c.Method = "pump" }, func(p record.Placement) bool { return p.Method == "pump" }},
		"months": {func(c *Choice) { c.From, c.To = "2025-01", "2025-06" }, func(p record.Placement) bool {
			return p.PlacedOn >= record.DateOf(2025, 1, 1) && p.PlacedOn <= record.DateOf(2025, 6, 30)
		}},
		"both": {func(c *Choice) { c.Use, c.From = "patio", "2024-03" }, func(p record.Placement) bool {
			return p.Use == "patio" && p.PlacedOn >= record.DateOf(2024, 3, 1)
		}},
	} {
		t.Run(name, func(t *testing.T) {
			choice := usual
			c.set(&choice)
			is, _, err := p.site.own.answer(t.Context(), choice, time.Time{})
			if err != nil {
				t.Fatal(err)
			}
			opt := p.site.Settings.Analysis
			opt.Visits = setting.VisitOptions{Asked: true}
			only := onlyPlacements(h, c.keep)
			want, err := analysis.Run(only, opt)
			if err != nil {
				t.Fatal(err)
			}
			if n := only.Placements.Len(); is.factors.Placements != n || is.of.Placements != n || name != "everything" && n == h.Placements.Len() {
				t.Fatalf("%d placements, want %d", is.factors.Placements, n)
			}
			got, wanted := asJSON(t, is.factors), asJSON(t, want)
			if got != wanted {
				at := 0
				for at < min(len(got), len(wanted)) && got[at] == wanted[at] {
					at++
				}
				t.Errorf("…%.200s\n…%.200s", got[max(0, at-120):], wanted[max(0, at-120):])
			}
		})
	}
	part, cut := usual, 0
	part.Use = "driveway"
	is, _, err := p.site.own.answer(t.Context(), part, time.Time{})
	if err != nil {
		t.Fatal(err)
	}
	for j := range h.Jobs.Len() {
		from, to := h.PlacementsOf(j)
		drives := 0
		for i := from; i < to; i++ {
			if h.Placements.Use.At(i) == "driveway" {
				drives++
			}
		}
		if drives > 0 && drives < to-from {
			cut++
		}
	}
	if is.of.Cut != cut || cut == 0 {
		t.Errorf("%d jobs are cut, want %d", is.of.Cut, cut)
	}
}

// TestThePageSaysWhatIsChosen: a page of a part of the records says so at its head.
func TestThePageSaysWhatIsChosen(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 40, atHome)
	b := p.surfer()
	if got := b.get("/report/waste"); strings.Contains(got.body, `class="chosen"`) {
		t.Error("a page of everything says that it is of a part")
	}
	got := b.get("/report/waste?use=driveway&crew=Heron&from=2025-01&to=2025-12&as_of=2026-01-31")
	got.says(t, "Only ", "driveway, crew Heron and poured January 2025 through December 2025", "As known on January 31, 2026.", `<option value="driveway" selected>`, "/report/crews?as_of=2026-01-31&amp;crew=Heron")
	b.get("/report/waste?lang=es&units=si").says(t, `lang="es"`, "/report/crews?lang=es&amp;units=si")
	for query, says := range map[string]string{"from=June": "Write a month as 2025-06.", "use=drive": "Choose one from the list.", "crew=Nobody": "Choose one from the list.", "as_of=3/4": "Write a date as 2025-06-03.",
		"from=2025-06&to=2025-01": "swap them"} {
		got := b.get("/report/waste?" + query)
		if got.says(t, says); got.status != 400 {
			t.Errorf("%s: %v", query, got)
		}
	}
}

// TestOnceForAll: however many ask at once, a choice is worked out and a page is
// written once for each version of the records.
func TestOnceForAll(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		p := newPlace(t, dsn, 30, atHome)
		before := answers.Load()
		ask := func() {
			var wait sync.WaitGroup
			for range 50 {
				wait.Go(func() {
					if got := p.surfer().get("/report/waste"); got.status != 200 {
						t.Error(got)
					}
				})
			}
			wait.Wait()
		}
		ask()
		if n := answers.Load() - before; n != 1 {
			t.Errorf("worked out %d times", n)
		}
		if n := len(p.site.own.pages.pages); n != 1 {
			t.Errorf("%d pages are kept", n)
		}
		p.onePour("Z-1")
		ask()
		if n := answers.Load() - before; n != 2 {
			t.Errorf("after a change worked out %d times in all", n)
		}
		if is, _, err := p.site.own.answer(t.Context(), p.site.Settings.choice(p.now()), time.Time{}); err != nil || is.factors.Placements != is.of.All {
			t.Error("the change is not in it: ", err)
		}
		p.user("Ana", Owner) // writes to the database, and to no record
		if _, _, err := p.site.own.answer(t.Context(), p.site.Settings.choice(p.now()), time.Time{}); err != nil {
			t.Error(err)
		}
		if n := answers.Load() - before; n != 2 {
			t.Error("what is no record's has the records worked out anew")
		}
	})
}

// TestWhatWasKeptIsSeenAtOnce: who has kept something sees it on the next page.
func TestWhatWasKeptIsSeenAtOnce(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 20, atHome)
	b := p.surfer()
	placements := regexp.MustCompile(`(\d+) placements in`)
	before := placements.FindString(b.get("/").body)
	for _, job := range []string{"Z-1", "Z-2", "Z-3"} {
		p.onePour(job)
		now := placements.FindString(b.get("/").body)
		if now == before || now == "" {
			t.Fatalf("%q after %q", now, before)
		}
		before = now
	}
}

// TestWhileSomebodyWrites: a reader is never kept waiting for long by writers,
// and what is shown meanwhile says that it is out of date.
func TestWhileSomebodyWrites(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 20, atHome)
	c := p.site.own
	choice := p.site.Settings.choice(p.now())
	if _, _, err := c.answer(t.Context(), choice, time.Time{}); err != nil {
		t.Fatal(err)
	}
	var awaited atomic.Bool
	awaited.Store(true)
	leave := c.works.enter(&awaited) // an answer takes as long as this does
	p.onePour("Z-1")
	began := time.Now()
	got := p.surfer().get("/report/waste")
	if waited := time.Since(began); waited < onlyReads || waited > 4*patience {
		t.Errorf("waited %v", waited)
	}
	got.says(t, "New records are coming in.")
	c.mu.Lock()
	for _, is := range c.answers {
		is.fresh = is.fresh.Add(-mostAge)
	}
	c.mu.Unlock()
	shown := make(chan answered)
	go func() { shown <- p.surfer().get("/report/waste") }()
	select {
	case got := <-shown:
		t.Error("what is over ten seconds old is shown: ", got)
	case <-time.After(2 * patience):
	}
	leave()
	if got := <-shown; got.status != 200 || strings.Contains(got.body, "New records are coming in.") {
		t.Error(got)
	}
}

// TestNothingOldIsShown: however it came to be that nobody waits for newer answers, one of
// which nobody has known for more than ten seconds whether it is up to date is not shown.
func TestNothingOldIsShown(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 20, atHome)
	c, choice := p.site.own, p.site.Settings.choice(p.now())
	all := func() int {
		t.Helper()
		is, old, err := c.answer(t.Context(), choice, time.Time{})
		if err != nil || old {
			t.Fatalf("out of date: %v, %v", old, err)
		}
		return is.of.All
	}
	pause := func() { // in which nobody looks
		c.mu.Lock()
		defer c.mu.Unlock()
		for _, is := range c.answers {
			is.fresh, is.begun, is.made = is.fresh.Add(-2*mostAge), is.begun.Add(-2*mostAge), is.made.Add(-2*mostAge)
		}
	}
	before := all()
	for n := range manySoon {
		p.onePour(fmt.Sprint("Z-", n))
		if is := all(); is != before+n+1 {
			t.Fatalf("%d pours, want %d", is, before+n+1)
		}
	}
	if !c.answers[choice.records()].behind {
		t.Fatal("somebody writes all the time, and it is not noticed")
	}
	p.onePour("Z-late")
	pause()
	if is := all(); is != before+manySoon+1 {
		t.Errorf("%d pours after a pause, want %d", is, before+manySoon+1)
	}
	p.onePour("Z-later")
	pause()
	var awaited atomic.Bool
	awaited.Store(true)
	leave := c.works.enter(&awaited) // another choice takes as long as this does
	other := choice
	other.Use = "driveway"
	go c.answer(t.Context(), other, time.Time{})
	shown := make(chan int)
	go func() { shown <- all() }()
	select {
	case is := <-shown:
		t.Errorf("%d pours are shown while another choice is worked out", is)
	case <-time.After(2 * onlyReads):
		leave()
		if is := <-shown; is != before+manySoon+2 {
			t.Errorf("%d pours, want %d", is, before+manySoon+2)
		}
	}
}

// TestNoAnswerWaitsForAStory: while the stories of slabs queue, the report is brought up to
// date; and what was read since a story was asked for is read once for all that queue.
func TestNoAnswerWaitsForAStory(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 20, atHome)
	p.onePour("Y-1")
	c := p.site.own
	choice := p.site.Settings.choice(p.now())
	leave := c.tells.enter(nil) // a story takes as long as this does
	slab := make(chan answered)
	go func() { slab <- p.surfer().get("/slabs/Y-1/A") }()
	p.onePour("Z-1")
	got := p.surfer().get("/report/waste")
	is, old, err := c.answer(t.Context(), choice, time.Time{})
	if err != nil || old || got.status != 200 {
		t.Errorf("%v, out of date: %v, %v", got, old, err)
	}
	leave()
	if got := <-slab; got.status != 200 {
		t.Error(got)
	}
	asked := time.Now()
	p.onePour("Z-2")
	one, err := c.readSince(t.Context(), choice.AsOf, asked)
	p.onePour("Z-3")
	two, bad := c.readSince(t.Context(), choice.AsOf, asked)
	three, worse := c.readSince(t.Context(), choice.AsOf, time.Now())
	if err := errors.Join(err, bad, worse); err != nil || one != two || one.h.Placements.Len() != is.of.All+1 || three.h.Placements.Len() != is.of.All+2 {
		t.Errorf("of %d placements %+v, then %+v, then %+v, %v", is.of.All, one, two, three, err)
	}
}

// TestPagesAreKeptPacked: a page goes out packed to who takes it so, is not sent to
// who has it (RFC 9110, 13.1.2 and 12.5.3), and is another one for others.
func TestPagesAreKeptPacked(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 20, public)
	p.user("Ana", Owner)
	p.user("Bo", Viewer)
	b := p.signedIn("Ana")
	plain := b.get("/report/waste")
	b.headers["Accept-Encoding"] = "br, gzip;q=0.8"
	packed := b.get("/report/waste")
	z, err := gzip.NewReader(strings.NewReader(packed.body))
	if err != nil {
		t.Fatal(err)
	}
	text, err := io.ReadAll(z)
	if err != nil || string(text) != plain.body || len(packed.body)*2 > len(text) {
		t.Errorf("%d bytes packed, %d unpacked, %d plain, %v", len(packed.body), len(text), len(plain.body), err)
	}
	if packed.header.Get("Vary") != "Accept-Encoding, Cookie" || !strings.HasPrefix(packed.header.Get("Cache-Control"), "private") {
		t.Error(packed.header)
	}
	for _, refused := range []string{"gzip;q=0", "gzip;q=0.0, br", "deflate", ""} {
		b.headers["Accept-Encoding"] = refused
		if got := b.get("/report/waste"); got.header.Get("Content-Encoding") != "" || got.body != plain.body {
			t.Errorf("packed for %q", refused)
		}
	}
	b.headers["If-None-Match"] = `"x", W/` + plain.header.Get("ETag")
	if got := b.get("/report/waste"); got.status != http.StatusNotModified || got.body != "" {
		t.Error("what the browser has: ", got)
	}
	if got := p.signedIn("Bo").get("/report/waste"); got.header.Get("ETag") == plain.header.Get("ETag") || strings.Contains(got.body, "/upload") {
		t.Error("a viewer gets the owner's page")
	}
}

// TestPagesWaitForWhoLooksAgain: what was looked at is drawn of a new answer before
// that is shown, and is what would be drawn for who asks; what was not is not.
func TestPagesWaitForWhoLooksAgain(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 30, atHome)
	b := p.surfer()
	pages := []string{"/", "/report/waste", "/report/crews?lang=es&units=si", "/report/waste?month=2023-10"}
	for _, page := range pages {
		if got := b.get(page); got.status != 200 {
			t.Fatal(got)
		}
	}
	b.get("/report/nonesuch")
	p.onePour("Z-1")
	c := p.site.own
	if _, _, err := c.answer(t.Context(), p.site.Settings.choice(p.now()), time.Time{}); err != nil {
		t.Fatal(err)
	}
	drawn := map[string]string{} // by their ETags
	for k, page := range c.pages.pages {
		if k.answer == answers.Load() {
			drawn[page.etag] = k.slug
		}
	}
	if len(drawn) != len(pages) {
		t.Errorf("%d pages were drawn again: %v", len(drawn), drawn)
	}
	for _, page := range pages {
		if got := b.get(page); drawn[got.header.Get("ETag")] == "" {
			t.Errorf("%s: %v is not among %v", page, got.header, drawn)
		}
	}
	c.pages = pageCache{}
	for _, page := range pages {
		if got := b.get(page); drawn[got.header.Get("ETag")] == "" {
			t.Errorf("%s is another page for who asks", page)
		}
	}
}

// TestFiguresMoveByThemselves: a page of figures that is open shows what has come in
// since, at once or, to who is busy with it, by a link.
func TestFiguresMoveByThemselves(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 30, atHome)
	w := p.window(t, 390)
	w.open("/report/waste")
	before := ask[string](w, "document.querySelector('main').innerText")
	look := func() { // as every quarter of a minute
		w.do(chromedp.Sleep(300 * time.Millisecond))
		ask[bool](w, "document.dispatchEvent(new Event('visibilitychange'))")
	}
	ask[bool](w, "window.stays = true")
	look()
	p.onePour("Z-1")
	for tries := 0; ask[bool](w, "!!window.stays"); tries++ {
		if tries > 40 {
			t.Fatal("the page stays as it was")
		}
		look()
	}
	w.do(chromedp.WaitReady("article"))
	if after := ask[string](w, "document.querySelector('main').innerText"); after == before {
		t.Error("it is another page that says the same")
	}
	ask[bool](w, "document.querySelector('details').open = true; window.stays = true")
	look()
	p.onePour("Z-2")
	for tries := 0; !ask[bool](w, "!document.querySelector('[data-fresh]').hidden"); tries++ {
		if tries > 40 || !ask[bool](w, "!!window.stays") {
			t.Fatal("who is busy with the page is not told, or it is taken away")
		}
		look()
	}
	w.do(chromedp.Click("[data-fresh] a"), chromedp.WaitReady("article"))
}

// TestCachesAreBounded: neither answers nor pages pile up.
func TestCachesAreBounded(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 12, atHome)
	b := p.surfer()
	for month := range 30 {
		day := record.DateOf(2023, 9, 28) + record.Date(28*month)
		if got := b.get("/report/waste?as_of=" + day.String()); got.status != 200 {
			t.Fatal(got)
		}
	}
	c := p.site.own
	if n := len(c.answers); n > mostAnswers {
		t.Errorf("%d answers are kept", n)
	}
	cache := &pageCache{}
	noise := make([]byte, 3<<20)
	for i := range noise {
		noise[i] = byte(i * i >> 3 * 7)
	}
	for i := range uint64(60) {
		one := append(slices.Clone(noise), byte(i))
		for k := range one {
			one[k] ^= byte(uint64(k) * (i + 1) * 2654435761 >> 13)
		}
		if _, err := cache.put(pageKey{answer: i}, one); err != nil {
			t.Fatal(err)
		}
	}
	sum := 0
	for _, p := range cache.pages {
		sum += len(p.packed)
	}
	if sum != cache.bytes || sum > mostPages || cache.get(pageKey{answer: 59}) == nil || cache.get(pageKey{answer: 0}) != nil {
		t.Errorf("%d pages of %d bytes, counted %d", len(cache.pages), sum, cache.bytes)
	}
}
