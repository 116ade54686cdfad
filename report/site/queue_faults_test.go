package site

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"pourback/report/internal/browse"
)

const status = `document.querySelector('[data-waiting] > [role=status]').textContent`

// refuses has the bench refuse what fits.
func (b *bench) refuses(why string, fits func(arrival) bool) {
	b.say(func(k arrival) *reply {
		if !fits(k) {
			return nil
		}
		return &reply{422, "application/json", "", fmt.Sprintf(`{"key":"KEY","refused":%q}`, why), false}
	})
}

// act taps a button of an entry that waits, by what it does.
func (w *window) act(what string) {
	w.t.Helper()
	w.do(chromedp.Tap(chromedp.CSS(`.queue [data-do=` + what + `]`)))
}

// TestARefusedEntry: it says why, holds up nothing, is mended under a key of its own, and
// is dropped only after asking.
func TestARefusedEntry(t *testing.T) {
	b := newBench(t, atHome)
	w := b.phone(t)
	b.line.is(refuses)
	w.enter(0, "ticket", "9000")
	w.enter(0, "ticket", "4711")
	w.enter(2, "note", "hose clogged")
	b.refuses("Truck 9000 came in August. Check the ticket.", func(k arrival) bool { return k.fields.Get("ticket") == "9000" })
	b.line.is(fine)
	w.signal()
	b.becomes(t, "truck 4711", "clog hose clogged")
	w.until(`document.querySelectorAll('.queue > li[data-id]').length === 1`)
	if says := ask[string](w, `document.querySelector('.queue [data-is=why]').textContent`); says != "Truck 9000 came in August. Check the ticket." {
		t.Error("it says ", says)
	}
	w.sound("a refused entry")
	w.lookAt("queue-refused")
	refused := b.arrived[slices.IndexFunc(b.arrived, func(k arrival) bool { return k.fields.Get("ticket") == "9000" })]
	came := b.came()
	w.signal()
	w.open("/pour/bench/day")
	w.until(`document.querySelectorAll('.queue > li[data-state=refused]').length === 1`)
	if b.came() != came {
		t.Error("it was sent again by itself")
	}
	const refusedNow = `document.querySelectorAll('.queue > li[data-state=refused]').length`
	ask[bool](w, `(() => { window.left = false; new MutationObserver(() => { left ||= `+refusedNow+` === 0; }).observe(document.querySelector('.queue'), {childList: true}); return true; })()`) // it is soon back
	w.act("again")
	w.until(`left && ` + refusedNow + ` === 1`)
	if b.came() != came+1 {
		t.Errorf("sent again by hand, it came %d times", b.came()-came)
	}
	w.act("mend")
	w.until(`document.activeElement.name === 'ticket'`)
	if got := ask[string](w, `(f => [f.elements.ticket.value, f.elements.placement.value, f.elements.mix.value, f.closest('details').open].join())(document.activeElement.form)`); got != "9000,A,plain,true" {
		t.Errorf("the form says %q", got)
	}
	w.enter(0, "ticket", "4712")
	b.becomes(t, "truck 4711", "clog hose clogged", "truck 4712")
	w.until(`document.querySelectorAll('.queue > li[data-id]').length === 0`)
	if key := b.kept[2].key; key == refused.key {
		t.Error("mended, it has the key that was refused")
	}
	w.enter(0, "ticket", "9000")
	w.until(`document.querySelectorAll('.queue > li[data-state=refused]').length === 1`)
	var asked string
	yes := false
	chromedp.Listen(w.ctx, func(event any) {
		if e, ok := event.(*page.EventJavascriptDialogOpening); ok {
			asked = e.Message
			accept := yes
			go chromedp.Call(w.ctx, page.HandleJavaScriptDialog, page.HandleJavaScriptDialogParams{Accept: accept})
		}
	})
	w.act("drop")
	if !strings.Contains(asked, "Truck · 9000") || len(w.waits()) != 1 {
		t.Errorf("asked %q, and %q waits", asked, w.waits())
	}
	yes = true
	w.act("drop")
	w.until(`document.querySelectorAll('.queue > li[data-id]').length === 0`)
	w.open("/pour/bench/day")
	time.Sleep(200 * time.Millisecond)
	if got := w.waits(); len(got) != 0 {
		t.Errorf("dropped, and %q waits", got)
	}
}

// TestWhatTheSiteCannotAnswer holds up what is behind it at its pour for a few tries, and
// other pours not at all.
func TestWhatTheSiteCannotAnswer(t *testing.T) {
	b := newBench(t, atHome)
	w := b.phone(t)
	b.line.is(refuses)
	w.enter(0, "ticket", "9000")
	w.enter(0, "ticket", "4711")
	w.enter(3, "hours", "8")
	b.say(func(k arrival) *reply {
		if k.fields.Get("ticket") != "9000" {
			return nil
		}
		return &reply{500, "text/html", "", "broke", false}
	})
	b.line.is(fine)
	w.signal()
	b.becomes(t, "hours 8", "truck 4711")
	if nine := slices.DeleteFunc(slices.Clone(b.arrived), func(k arrival) bool { return k.fields.Get("ticket") != "9000" }); len(nine) < 3 {
		t.Errorf("it was passed after %d tries", len(nine))
	}
	w.until(`document.querySelectorAll('.queue > li[data-state=stuck]').length === 1`)
	b.say(nil)
	w.act("again")
	b.becomes(t, "hours 8", "truck 4711", "truck 9000")
}

// TestLostAnswers: the answer to one entry is lost five times after the site has done it;
// and an answer that is later than a try lasts is of no use, and does no harm.
func TestLostAnswers(t *testing.T) {
	b := newBench(t, atHome)
	b.site.try = time.Second
	w := b.phone(t)
	b.line.is(deaf)
	w.enter(0, "ticket", "4711")
	for end := time.Now().Add(60 * time.Second); b.line.missed() < 5 && time.Now().Before(end); time.Sleep(100 * time.Millisecond) {
		w.signal()
	}
	if got := w.waits(); b.came() < 5 || len(got) != 1 {
		t.Fatalf("it came %d times, and %q waits", b.came(), got)
	}
	b.line.wait = 3 * time.Second
	b.line.is(late)
	w.enter(0, "ticket", "4712")
	for end := time.Now().Add(60 * time.Second); len(b.onRecord()) < 1 && time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
	}
	time.Sleep(4 * time.Second) // until the late answer is there, and nobody is to hear it
	if got := w.waits(); len(got) != 2 {
		t.Errorf("%q waits while every answer is late", got)
	}
	b.line.is(fine)
	w.signal()
	b.becomes(t, "truck 4711", "truck 4712")
	w.until(`document.querySelectorAll('.queue > li[data-id]').length === 0`)
}

// TestTwoTabs: both show the same, one sends, and where both do nothing is kept twice;
// what one of them sent is seen in the other.
func TestTwoTabs(t *testing.T) {
	b := newBench(t, atHome)
	one, two := b.phone(t), b.phone(t)
	b.line.is(refuses)
	var want []string
	for i := range 6 {
		ticket := fmt.Sprint(4711 + i)
		want = append(want, "truck "+ticket)
		[]*window{one, two}[i%2].enter(0, "ticket", ticket)
	}
	for _, w := range []*window{one, two} {
		w.until(`document.querySelectorAll('.queue > li[data-id]').length === 6`)
	}
	b.line.is(fine)
	var both sync.WaitGroup
	for _, w := range []*window{one, two} {
		both.Go(func() { w.signal() })
	}
	both.Wait()
	b.becomes(t, want...)
	for _, w := range []*window{one, two} {
		w.until(`document.querySelectorAll('.queue > li[data-id]').length === 0`)
		w.until(`document.querySelectorAll('.record li').length === 6`)
	}
	if b.came() != 6 {
		t.Errorf("one was to send, and %d came", b.came())
	}
	// The tab that sends is frozen while it holds the lease, as phones do: the other goes on.
	ask[bool](one, `pourback.store.lease('somebody', 3000).then(() => true)`)
	two.enter(0, "ticket", "4717")
	b.becomes(t, append(want, "truck 4717")...)
	// A clock that was set back does not leave the lease to somebody for a year.
	ask[bool](one, `pourback.store.lease('somebody', 365 * 86400000).then(() => true)`)
	two.enter(0, "ticket", "4718")
	b.becomes(t, append(want, "truck 4717", "truck 4718")...)
}

// TestTheBrowserIsKilled: what waits is sent when the browser is there again, from the
// same profile, with its pictures; as a phone that ran out of power would.
func TestTheBrowserIsKilled(t *testing.T) {
	b := newBench(t, atHome)
	profile := t.TempDir()
	browser, kill := browse.OwnChromium(t, profile, nil)
	w := phone(t, browser, "http://"+b.line.at)
	w.open("/pour/bench/day")
	b.line.is(refuses)
	w.enter(0, "ticket", "4711")
	w.pick(2, "clog.jpg", camera(t, 1200, 900, 1))
	w.enter(2, "note", "hose clogged")
	w.until(status + `.includes('No connection')`)
	kill()
	b.line.is(fine)
	browser, _ = browse.OwnChromium(t, profile, nil)
	w = phone(t, browser, "http://"+b.line.at)
	w.open("/pour/else/day")
	b.becomes(t, "truck 4711", "clog hose clogged")
	if len(b.kept[1].pictures) != 1 || len(b.kept[1].pictures[0]) < 1000 {
		t.Errorf("%d pictures came in", len(b.kept[1].pictures))
	}
	w.until(`document.querySelectorAll('.queue > li[data-id]').length === 0`)
}

// TestWithoutADatabase: where the browser lets no page have one, forms are sent as any
// others are.
func TestWithoutADatabase(t *testing.T) {
	for name, script := range map[string]string{
		"none":         `Object.defineProperty(window, 'indexedDB', {value: undefined})`,
		"refused":      `IDBFactory.prototype.open = function () { throw new DOMException('no', 'SecurityError') }`,
		"fails later":  `IDBFactory.prototype.open = function () { const r = {}; setTimeout(() => { r.error = new DOMException('no', 'UnknownError'); r.onerror() }, 300); return r }`,
		"keeps naught": `IDBObjectStore.prototype.add = function () { throw new DOMException('no', 'DataError') }`,
	} {
		t.Run(name, func(t *testing.T) {
			b := newBench(t, atHome)
			w := phone(t, browse.Chromium(t), "http://"+b.line.at)
			w.do(chromedp.Func(func(ctx context.Context, _ *chromedp.Target) error {
				_, err := chromedp.Call(ctx, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: script})
				return err
			}))
			w.open("/pour/bench/day")
			w.goes("sending it as ever", func() {
				ask[bool](w, `(() => { const f = document.querySelector('form[data-entry]'); f.closest('details').open = true; f.elements.ticket.value = '4711'; f.querySelector('button').dataset.tap = '1'; return true; })()`)
				w.do(chromedp.Tap(chromedp.CSS(`[data-tap]`)))
			})
			b.becomes(t, "truck 4711")
			if k := b.kept[0]; k.fields.Get("did") != "poured" || k.fields.Get("mix") != "plain" || len(k.fields["did"]) != 1 {
				t.Errorf("it came in as %v", k.fields)
			}
		})
	}
}
