package site

import (
	"context"
	"fmt"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"pourback/ingest/record"
	"pourback/ingest/store/storetest"
)

// smallOnPour are what is touched on the crew's own pages and is under 48 pixels high or
// 44 wide: gloves are wet there.
const smallOnPour = `[...document.querySelectorAll('.crew button, .crew select, .crew textarea, .crew input:not([type=hidden]), .crew summary, .crew a')].filter(e => {
	const r = e.getBoundingClientRect(); return r.width > 0 && (r.height < 47.5 || r.width < 44); }).map(e => e.outerHTML.slice(0, 90) + ' ' + JSON.stringify(e.getBoundingClientRect()))`

// TestPoursOnAPhone: a phone of either size shows each page of a pour whole, large enough to
// be touched, in both languages.
func TestPoursOnAPhone(t *testing.T) {
	for _, size := range [][2]int64{{360, 640}, {390, 844}} {
		t.Run(fmt.Sprint(size), func(t *testing.T) {
			p := newPlace(t, storetest.SQLite(t), 40, atHome)
			b := p.surfer()
			b.keepsBid(aPour("LM-900")...)
			b.keepsBid(append(aSlab, "job_no", "LM-901", "on", "2026-04-02")...)
			b.keepsBid(aSlab...)
			w := p.window(t, size[0])
			w.do(chromedp.EmulateViewport(size[0], size[1], chromedp.EmulateMobile, chromedp.EmulateTouch))
			look := func(name string) {
				t.Helper()
				w.lookAt(fmt.Sprint(size[0], "-", name, "-folded"))
				w.sound(name)
				if small := ask[[]string](w, smallOnPour); len(small) > 0 {
					t.Errorf("%s: too small for gloves: %s", name, strings.Join(small, "\n\t"))
				}
				w.lookAt(fmt.Sprint(size[0], "-", name))
			}
			for _, lang := range []string{"", "?lang=es"} {
				w.open("/crew" + lang)
				look("crew" + lang)
				w.open("/pour/LM-900" + lang)
				look("pour" + lang)
				w.open("/pour/LM-905" + lang)
				w.mu.Lock()
				w.trouble = nil // the browser itself says that it was a 404
				w.mu.Unlock()
				look("unknown" + lang)
			}
			b.enters(t, "/pour/LM-900/weather", "part", "drive", "air_temp_f", "92", "concrete_temp_f", "88", "humidity_pct", "20", "wind_mph", "10")
			b.enters(t, "/pour/LM-900/truck", "part", "drive", "ticket_no", "4711", "yards", "9", "arrived_at", "08:15", "pour_start", "8:20", "pour_end", "8:52", "slump_in", "4.5", "water_added_gal", "5")
			b.enters(t, "/pour/LM-900/clog", "part", "drive", "started_at", "8:30", "stopped_at", "8:42", "spot", "reducer")
			b.enters(t, "/pour/LM-900/hours", "part", "drive", "worked_on", "2026-03-31", "task", "place", "people", "4", "each", "6")
			got := b.post("/pour/LM-900/truck", keyField, newKey(), "part", "drive", "ticket_no", "4712", "yards", "5.5", "arrived_at", "11:40")
			for _, lang := range []string{"", "&lang=es"} {
				w.open(strings.TrimSuffix(got.header.Get("Location"), "&lang=es") + lang)
				look("begun" + lang)
				w.open("/pour/LM-900?part=drive&truck=4711" + lang)
				look("again" + lang)
				w.open("/pour/LM-900/last-load?placed=9&covered=60" + lang)
				look("last" + lang)
			}
			w.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
				_, err := cdp.Call(ctx, t, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: "dark"}}})
				return err
			}))
			w.open(got.header.Get("Location"))
			look("dark")
			w.open("/crew")
			look("dark-crew")
			w.open("/pour/LM-900/last-load?placed=9&covered=60")
			look("dark-last")
		})
	}
}

// TestTapsOnAPhone: a tap fills in the phone's time and says so, what is written over it is
// no tap any more, and a form notes when it was made, once for two quick taps.
func TestTapsOnAPhone(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 0, atHome)
	b := p.surfer()
	b.keepsBid(aPour("LM-900")...)
	w := p.window(t, 390)
	w.do(chromedp.EmulateViewport(390, 844, chromedp.EmulateMobile, chromedp.EmulateTouch))
	w.open("/pour/LM-900")
	w.do(chromedp.Tap(chromedp.CSS("#truck summary")))
	w.do(chromedp.Tap(chromedp.CSS(`#truck [data-now=batched_at]`)), chromedp.Tap(chromedp.CSS(`#truck [data-now=arrived_at]`)))
	const form = `document.querySelector('#truck form').elements`
	if at := ask[string](w, form+`.arrived_at.value`); !regexp.MustCompile(`^\d\d:\d\d$`).MatchString(at) {
		t.Error("a tap fills in ", at)
	}
	if said := ask[string](w, form+`.tapped.value`); said != "batched_at,arrived_at" {
		t.Error("tapped: ", said)
	}
	ask[bool](w, `(() => { const f = `+form+`.batched_at; f.value = '07:40'; f.dispatchEvent(new Event('input', { bubbles: true })); return true; })()`)
	if said := ask[string](w, form+`.tapped.value`); said != "arrived_at" {
		t.Error("written over, and tapped: ", said)
	}
	ask[bool](w, `(() => { document.querySelector('#truck form').addEventListener('submit', e => e.preventDefault()); `+form+`.ticket_no.value = '4711'; `+form+`.yards.value = '9'; return true; })()`)
	submit := chromedp.Tap(chromedp.CSS("#truck button.main"))
	w.do(submit)
	first := ask[string](w, form+`.at.value`)
	time.Sleep(1100 * time.Millisecond)
	w.do(submit)
	if again := ask[string](w, form+`.at.value`); again != first || !regexp.MustCompile(`^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d$`).MatchString(first) {
		t.Errorf("made at %q, and a second later at %q", first, again)
	}
	ask[bool](w, `(() => { document.querySelector('#truck form').reset(); return true; })()`)
	if said := ask[string](w, form+`.tapped.value`); said != "" {
		t.Error("empty again, and tapped: ", said)
	}
	w.open("/pour/LM-900")
	w.do(chromedp.Tap(chromedp.CSS("#curing summary")), chromedp.Tap(chromedp.CSS("#curing input[value=water]")), chromedp.Tap(chromedp.CSS("#curing button.main")))
	for end := time.Now().Add(20 * time.Second); len(p.onRecord(record.Placements, "LM-900")) == 0 && time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
	}
	if got := p.onRecord(record.Placements, "LM-900"); len(got) != 1 || !strings.Contains(got[0], "curing water") {
		t.Error("by touch alone: ", got)
	}
}
