package site

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"pourback/ingest/store/storetest"
)

// waitFor waits until an expression of the page is true.
func (w *window) waitFor(expression string) {
	w.t.Helper()
	for end := time.Now().Add(20 * time.Second); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		if is, err := chromedp.Run(w.ctx, chromedp.Evaluate[bool](expression)); err == nil && is {
			return
		}
	}
	w.t.Fatalf("never true: %s; the page says %q", expression, ask[string](w, `document.querySelector('main').innerText.slice(0, 600)`))
}

// field types into a field of a form, key by key.
func (w *window) field(name, text string) {
	w.t.Helper()
	w.do(chromedp.SendKeys(chromedp.CSS(fmt.Sprintf(`[name=%q]`, name)), text))
}

// choose chooses from a list as a person does: the page is told.
func (w *window) choose(name, value string) {
	w.t.Helper()
	ask[bool](w, fmt.Sprintf(`(() => { const s = document.querySelector('[name=%q]'); s.value = %q; s.dispatchEvent(new Event('change', {bubbles: true})); return s.value === %q; })()`, name, value, value))
}

// button presses a button by what stands on it, and waits for the next page.
func (w *window) button(text string) {
	w.t.Helper()
	ask[bool](w, `window.pressed = true`)
	if !ask[bool](w, fmt.Sprintf(`(() => { const b = [...document.querySelectorAll('main button')].find(b => b.textContent.trim() === %q && b.offsetParent && !b.matches('.unseen')); if (b) b.setAttribute('data-mine', ''); return !!b; })()`, text)) {
		w.t.Fatalf("there is no button %q", text)
	}
	w.do(chromedp.Click(chromedp.CSS(`[data-mine]`)))
	w.waitFor(`!window.pressed && document.readyState === 'complete'`)
}

func (w *window) path() string { return ask[string](w, `location.pathname`) }

const (
	askTile   = `document.querySelector('.figures .big')?.textContent`
	ways      = `document.querySelectorAll('[data-part=options] tbody tr').length`
	following = `document.documentElement.classList.contains('follows')`
)

// TestABidInChromium: somebody types a bid and sees the price follow, keeps it, has its
// papers, revises it, wins it, and asks for the last load, on a phone and on a desk.
func TestABidInChromium(t *testing.T) {
	for _, width := range []int64{390, 1200} {
		t.Run(fmt.Sprint(width), func(t *testing.T) {
			p := newPlace(t, storetest.SQLite(t), 150, atHome)
			w := p.window(t, width)
			look := func(name string) {
				t.Helper()
				w.lookAt(fmt.Sprint(width, "-", name))
				w.sound(name)
			}
			w.open("/bids/new")
			if !ask[bool](w, following) {
				t.Fatal("the form follows nothing")
			}
			look("bid-empty")
			w.open("/bids/new")
			w.field("name", "Lot 14, Mesquite Lane")
			w.field("on", "2026-07-14")
			w.choose("p0.use", "driveway")
			w.field("p0.length_ft", "44")
			w.waitFor(`document.querySelector('[data-part=answer]').textContent.startsWith('Still to fill in')`)
			w.field("p0.width_ft", "24")
			w.field("p0.thickness_in", "4")
			w.waitFor(askTile + ` !== undefined`)
			plain := ask[string](w, askTile)
			w.choose("p0.reinforcement", "rebar")
			w.waitFor(askTile + ` !== '` + plain + `'`)
			w.waitFor(ways + ` > 4 && !document.querySelector('[aria-busy]')`)
			rebar := ask[string](w, askTile)
			if on := ask[string](w, `document.activeElement.name`); on != "p0.thickness_in" {
				t.Errorf("the focus has gone to %q", on)
			}
			if drawn := ask[int](w, `document.querySelectorAll('.worked svg').length`); drawn != 1 {
				t.Errorf("%d slabs are drawn", drawn)
			}
			w.field("haul_min", "x")
			w.waitFor(`document.querySelector('[name=haul_min]').getAttribute('aria-invalid') === 'true' && document.querySelector('[data-part="says haul_min"] .wrong') !== null`)
			look("bid-wrong")
			ask[bool](w, `(() => { const f = document.querySelector('[name=haul_min]'); f.value = ''; f.dispatchEvent(new Event('input', {bubbles: true})); return true; })()`)
			w.waitFor(`!document.querySelector('.wrong') && ` + askTile + ` === '` + rebar + `' && ` + ways + ` > 4 && !document.querySelector('[aria-busy]')`)
			look("bid")
			w.button("Keep this bid")
			if w.path() != "/bids/1" {
				t.Fatal("kept, and at ", w.path())
			}
			if text := ask[string](w, `document.querySelector('main').innerText`); !strings.Contains(text, rebar) {
				t.Errorf("the bid is not the one that was shown: no %s", rebar)
			}
			look("kept")
			for _, paper := range []string{"sheet", "proposal", "pour-day"} {
				w.open("/bids/1/" + paper)
				styled := ask[string](w, `getComputedStyle(document.body).fontFamily`)
				if strings.Contains(styled, "Times") {
					t.Errorf("%s has lost its style: %s", paper, styled)
				}
				look("paper-" + paper)
			}
			w.open("/bids/1")
			w.button("Revise")
			if at := ask[string](w, `location.pathname + location.search`); at != "/bids/new?revise=1" {
				t.Fatal("revising at ", at)
			}
			if v := ask[string](w, `document.querySelector('[name="p0.length_ft"]').value`); v != "44" {
				t.Error("the form has forgotten the length: ", v)
			}
			look("bid-revise")
			w.open("/bids/new?revise=1")
			w.choose("p0.reinforcement", "mesh")
			w.waitFor(askTile + ` !== '` + rebar + `'`)
			w.button("Keep as a new version")
			if w.path() != "/bids/2" {
				t.Fatal("revised, and at ", w.path())
			}
			w.button("Won")
			look("won")
			w.open("/bids/compare?one=1&other=2")
			look("compared")
			w.open("/bids")
			look("bids")
			w.open("/crew")
			look("crew")
			w.open("/bids/2/balance")
			look("balance-empty")
			w.field("placed", "6")
			w.field("covered", "50")
			w.waitFor(`/^Call /.test(document.querySelector('[data-part=answer]').textContent)`)
			look("balance")
			w.open("/visits")
			look("visits")
			w.open("/calendar")
			w.button("Make a secret address")
			look("calendar")
			first := p.set.Placements[0]
			w.open("/slabs/" + first.JobNo + "/" + first.Placement)
			look("slab")
			w.open("/bids/new?copy=2&lang=es&units=si")
			look("bid-es")
		})
	}
}

// TestABidWithoutScript: the same by buttons, where no script runs.
func TestABidWithoutScript(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 40, atHome)
	w := p.window(t, 390)
	w.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
		return err
	}))
	w.open("/bids/new")
	w.do(chromedp.SetValue(chromedp.CSS(`[name="p0.use"]`), "patio"))
	w.field("p0.length_ft", "20")
	w.field("p0.width_ft", "12")
	w.button("Work it out")
	if says := ask[string](w, `document.querySelector('.answer').textContent`); !strings.Contains(says, "No bid can be made yet") {
		t.Error(says)
	}
	if says := ask[string](w, `document.querySelector('[data-part="says p0.thickness_in"]').textContent`); !strings.Contains(says, "it is needed") {
		t.Errorf("what is missing is said as %q", says)
	}
	w.field("p0.thickness_in", "4")
	w.button("Add another slab")
	if n := ask[int](w, `document.querySelectorAll('.slab').length`); n != 2 {
		t.Errorf("%d slabs", n)
	}
	w.button("Take this slab out")
	w.field("p0.length_ft", "") // the first is gone: the second is empty
	w.do(chromedp.SetValue(chromedp.CSS(`[name="p0.use"]`), "patio"))
	for name, text := range map[string]string{"p0.length_ft": "20", "p0.width_ft": "12", "p0.thickness_in": "4"} {
		w.field(name, text)
	}
	w.button("Work it out")
	if n := ask[int](w, ways); n < 4 {
		t.Errorf("%d other ways", n)
	}
	w.lookAt("390-bid-without-script")
	w.button("Keep this bid")
	if w.path() != "/bids/1" {
		t.Fatal("kept, and at ", w.path())
	}
	w.open("/bids/1/balance")
	w.field("placed", "1.5")
	w.field("covered", "50")
	w.button("What to call in")
	if says := ask[string](w, `document.querySelector('.answer').textContent`); !strings.Contains(says, "Call ") {
		t.Error(says)
	}
}
