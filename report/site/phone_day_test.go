package site

import (
	"fmt"
	"net/http/httptest"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"pourback/ingest/record"
	"pourback/ingest/store/storetest"
	"pourback/report/internal/browse"
)

// figures are the numbers in what a page says where a pattern fits.
func (b *surfer) figures(path, pattern string) (all []int) {
	b.t.Helper()
	text := regexp.MustCompile(`<[^>]*>`).ReplaceAllString(mainOf(b.get(path).body), " ")
	found := regexp.MustCompile(pattern).FindStringSubmatch(strings.Join(strings.Fields(text), " "))
	if found == nil {
		b.t.Fatalf("%s says nothing like %s", path, pattern)
	}
	for _, number := range found[1:] {
		n, err := strconv.Atoi(number)
		if err != nil {
			b.t.Fatal(err)
		}
		all = append(all, n)
	}
	return all
}

// TestADayWithoutSignal is the whole way of what is seen at the forms: a phone that has no
// signal any more, a truck, a clog, and a visit with a tap and two pictures, in Spanish; the
// signal back, and they stand once each on the pour's page, the slab's, in what is exported,
// and in the figures of the month and the owner.
func TestADayWithoutSignal(t *testing.T) {
	if testing.Short() {
		t.Skip("no browsers in a short run")
	}
	p := newPlace(t, storetest.SQLite(t), 60, atHome)
	owner := p.surfer()
	owner.keepsBid(aPour("LM-900")...)
	slab := p.set.Placements[0]
	at := "/slabs/" + slab.JobNo + "/" + slab.Placement
	moved := func() []int {
		t.Helper()
		return append(append(owner.figures("/report/cracks", `So far (\d+) of (\d+) have`),
			owner.figures("/report/month?month=2026-03", `of (\d+) jobs have a price and a cost on record`)...),
			owner.figures("/report/pump", `Plan on (\d+) clogs in 100 yd`)...)
	}
	before, visits := moved(), len(p.visits())

	server := httptest.NewServer(p.site)
	t.Cleanup(server.Close)
	line := newLine(t, strings.TrimPrefix(server.URL, "http://"))
	w := phone(t, browse.Chromium(t), "http://"+line.at)
	w.open("/crew?lang=es")
	w.until(`!!navigator.serviceWorker.controller`)
	w.open("/pour/LM-900?part=drive&lang=es")
	w.open(at + "/visit?lang=es")

	line.is(refuses)
	w.open("/pour/LM-900?part=drive&lang=es")
	w.until(`document.body.innerText.includes('Sin conexión. Esta es la página')`)
	w.fill("truck", "ticket_no", "4711", "yards", "9")
	w.fill("clog", "minutes", "12", "note", "se tapó el reductor")
	w.sound("a pour without signal")
	w.lookAt("day-pour-without-signal")
	w.open(at + "/visit?lang=es")
	w.until(`document.querySelectorAll('.queue > li[data-id]').length === 2`) // and nothing moves under a finger
	for _, answer := range []string{`[name=why][value=callback]`, `[name=finding][value=crack]`} {
		w.do(chromedp.Tap(chromedp.CSS("label:has(" + answer + ")")))
	}
	layer := w.box(".ninths")
	w.tapAt(layer.X+0.4*layer.Width, layer.Y+0.7*layer.Height)
	w.pick(0, "IMG_1.jpg", camera(t, 3000, 2000, 1), "IMG_2.jpg", camera(t, 2000, 3000, 6))
	w.do(chromedp.Tap(chromedp.CSS("form > p > button.main")))
	w.until(`document.querySelectorAll('.queue > li[data-id]').length === 3`)
	w.sound("a visit without signal")
	w.lookAt("day-visit-without-signal")
	if n := len(p.visits()) - visits + len(p.onRecord(record.Loads, "LM-900")); n != 0 {
		t.Errorf("%d are on record without signal", n)
	}

	line.is(fine)
	w.signal()
	w.sent()
	w.sound("all sent")
	w.lookAt("day-sent")
	w.open("/pour/LM-900?part=drive&lang=es")
	if n := ask[int](w, `[...document.querySelectorAll('.lines-on li')].filter(li => /Camión 4711, 9 yd³|Tapón, 12 minutos/.test(li.innerText)).length`); n != 2 {
		t.Errorf("%d on the pour's page", n)
	}
	w.open(at + "?lang=es")
	w.sound("the slab")
	w.lookAt("day-slab")
	if n := ask[int](w, `document.querySelectorAll('.life li img').length`); n != 2 {
		t.Errorf("%d pictures on the slab's page", n)
	}
	if n := ask[int](w, fmt.Sprintf(`document.querySelector('[data-part=story]').innerText.split('%s').length - 1`, testDay)); n == 0 {
		t.Error("the visit is not told on the slab's page")
	}
	all := exported(t, p.store)
	written := func(table, holds string, want int) (lines []string) {
		t.Helper()
		_, text, _ := strings.Cut(all, table+".csv\n")
		text, _, _ = strings.Cut(text, ".csv\n")
		for line := range strings.Lines(text) {
			if strings.Contains(line, holds) {
				lines = append(lines, line)
			}
		}
		if len(lines) != want {
			t.Errorf("%d %s are exported, want %d: %q", len(lines), table, want, lines)
		}
		return lines
	}
	written("loads", "LM-900,", 1)
	written("delays", "LM-900,", 1)
	written("pictures", slab.JobNo+",", 2)
	if visit := written("visits", fmt.Sprintf("%s,%s,%s", slab.JobNo, slab.Placement, testDay), 1); !strings.Contains(strings.Join(visit, ""), "crack") {
		t.Error(visit)
	}
	want := []int{before[0] + 1, before[1] + 1, before[2] + 1, 3} // a crack call, a slab seen or called, a job; clogs from 2
	if after := moved(); fmt.Sprint(after) != fmt.Sprint(want) || before[3] != 2 {
		t.Errorf("the owner's figures were %d and are %d, want %d", before, after, want)
	}
}
