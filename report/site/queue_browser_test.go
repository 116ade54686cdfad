package site

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"pourback/report/internal/browse"
)

// phone is a window of a phone that goes by an address.
func phone(t *testing.T, browser context.Context, at string) *window {
	t.Helper()
	w := &window{t: t, at: at, bad: true}
	ctx, cancel := chromedp.NewContext(browser, chromedp.WithListener(w.listen))
	t.Cleanup(cancel)
	w.ctx, cancel = context.WithTimeout(ctx, 4*time.Minute)
	t.Cleanup(cancel)
	w.do(chromedp.EmulateViewport(360, 640, chromedp.EmulateMobile, chromedp.EmulateTouch))
	return w
}

// phone is one that calls by the bench's line.
func (b *bench) phone(t *testing.T) *window {
	t.Helper()
	if testing.Short() {
		t.Skip("no browsers in a short run")
	}
	w := phone(t, browse.Chromium(t), "http://"+b.line.at)
	w.open("/pour/bench/day")
	return w
}

// enter fills in a field of a form and taps its button, which empties the form once what
// it says is kept.
func (w *window) enter(form int, field, value string) {
	w.t.Helper()
	if !ask[bool](w, fmt.Sprintf(`(() => { const f = document.querySelectorAll('form[data-entry]')[%d]; for (let d = f.closest('details'); d; d = null) d.open = true;
		document.querySelectorAll('[data-tap]').forEach(b => delete b.dataset.tap); f.querySelector('button:not([type=button])').dataset.tap = '1';
		f.elements[%q].value = %q; f.elements[%q].dispatchEvent(new Event('input', {bubbles: true})); return true; })()`, form, field, value, field)) {
		w.t.Fatal("no form")
	}
	w.until(fmt.Sprintf(`!document.querySelectorAll('form[data-entry]')[%d].dataset.keeping`, form))
	w.do(chromedp.Tap(chromedp.CSS(`[data-tap]`)))
	w.until(fmt.Sprintf(`document.querySelectorAll('form[data-entry]')[%d].elements[%q].value === ''`, form, field))
}

// until waits until something is so on the page.
func (w *window) until(expression string) {
	w.t.Helper()
	for end := time.Now().Add(90 * time.Second); time.Now().Before(end); time.Sleep(30 * time.Millisecond) {
		if is, err := chromedp.Run(w.ctx, chromedp.Evaluate[bool](expression, chromedp.EvalAwaitPromise)); err == nil && is {
			return
		}
	}
	w.t.Fatalf("it never came to be that %s; the page %s", expression, ask[string](w, `location.href + ' says ' + (document.querySelector('[data-waiting]')?.innerText ?? document.body.innerText.slice(0, 500))`))
}

// signal has the browser say that it is online, upon which the page tries again at once.
func (w *window) signal() {
	w.t.Helper()
	ask[bool](w, `dispatchEvent(new Event('online'))`)
}

// waits is what the page shows of what waits, by state and label.
func (w *window) waits() []string {
	w.t.Helper()
	return ask[[]string](w, `[...document.querySelectorAll('.queue > li[data-id]')].map(li => li.dataset.state + ' ' + li.querySelector('[data-is=what]').textContent)`)
}

// TestADayOnABadLine: what is entered over a day at a pour, while the line is cut at the
// socket in every way and comes back, is on record once, each, in the order of its making.
func TestADayOnABadLine(t *testing.T) {
	b := newBench(t, atHome)
	b.site.try = 3 * time.Second
	w := b.phone(t)
	var want []string
	next := func() {
		want = append(want, fmt.Sprint("truck ", 4711+len(want)))
		w.enter(0, "ticket", strings.TrimPrefix(want[len(want)-1], "truck "))
	}
	for i, bad := range []lineState{refuses, swallows, hangsUp, deaf} {
		next()
		b.line.is(bad)
		next()
		next()
		if bad == deaf {
			for end := time.Now().Add(30 * time.Second); b.line.missed() == 0 && time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
			}
		} else {
			w.until(`document.querySelector('[data-waiting] > [role=status]').textContent.includes('No connection')`)
			if got := w.waits(); len(got) < 2 || !strings.HasPrefix(got[0], "waits Truck · 47") {
				t.Errorf("the line is bad, and the page shows %q", got)
			}
		}
		b.line.is(fine)
		b.becomes(t, want...)
		if i == 0 {
			w.until(`document.querySelector('[data-waiting] > [role=status]').textContent === 'All sent.'`)
		}
	}
	w.until(`document.querySelectorAll('.queue > li[data-id]').length === 0`)
	w.until(`document.querySelectorAll('.record li').length === 12`)
	if b.line.missed() == 0 || b.came() <= 12 {
		t.Errorf("%d answers were lost and %d entries came: the line was never bad", b.line.missed(), b.came())
	}
	for _, k := range b.kept {
		if k.fields.Get("yards") != "9" || k.fields.Get("mix") != "plain" || k.fields.Get("method") != "chute" || k.fields.Get("did") != "poured" || k.fields.Get("placement") != "A" || k.fields.Has("extra") || len(k.key) != 26 {
			t.Errorf("it came in as %v", k.fields)
		}
		if at, err := time.Parse(time.RFC3339, k.clock); err != nil || time.Since(at).Abs() > 5*time.Minute {
			t.Errorf("the phone's clock is %q, %v", k.clock, err)
		}
	}
}

// TestAnswersThatKeepTheEntry: whatever is answered, but the site's own word that it is
// on record, leaves the entry where it is.
func TestAnswersThatKeepTheEntry(t *testing.T) {
	const html, js = "text/html; charset=utf-8", "application/json"
	const odd, signIn, busy = "could not be taken yet", "Sign in", "much to do"
	b := newBench(t, atHome)
	w := b.phone(t)
	var want []string
	for i, c := range []struct {
		name string
		reply
		says string
	}{
		{"another key", reply{200, js, "", `{"key":"ABCDEFGHIJKLMNOPQRSTUVWXYZ","kept":"batch 1","became":"new","says":""}`, false}, odd},
		{"not kept", reply{200, js, "", `{"key":"KEY","says":"fine"}`, false}, odd},
		{"kept, and failed", reply{500, js, "", `{"key":"KEY","kept":"batch 1"}`, false}, odd},
		{"nothing", reply{200, js, "", `null`, false}, odd},
		{"half an answer", reply{200, js, "", `{"key":"KEY","kept":"bat`, false}, odd},
		{"a page", reply{200, html, "", "<!DOCTYPE html><title>Sign in</title> KEY kept", false}, signIn},
		{"no content", reply{204, html, "", "", false}, odd},
		{"moved", reply{302, html, "/login", "", false}, signIn},
		{"see other", reply{303, html, "/healthz", "", false}, signIn},
		{"keep the method", reply{307, html, "/pour/bench/clog", "", false}, signIn},
		{"not signed in", reply{401, html, "", "<p>Sign in", false}, signIn},
		{"may not", reply{403, html, "", "<p>No", false}, odd},
		{"not there", reply{404, html, "", "<p>No", false}, odd},
		{"too large", reply{413, html, "", "<p>No", false}, odd},
		{"refuses another", reply{422, js, "", `{"key":"ABCDEFGHIJKLMNOPQRSTUVWXYZ","refused":"no"}`, false}, odd},
		{"too often", reply{429, html, "", "<p>No", false}, busy},
		{"broke", reply{500, html, "", "<p>No", false}, odd},
		{"bad gateway", reply{502, html, "", "<p>No", false}, busy},
		{"not now", reply{503, html, "", "<p>No", false}, busy},
	} {
		b.say(func(arrival) *reply { return &c.reply })
		came, ticket := b.came(), fmt.Sprint(4711+i)
		w.enter(0, "ticket", ticket)
		w.until(fmt.Sprintf(`document.querySelector('[data-waiting] > [role=status]').textContent.includes(%q)`, c.says))
		w.signal()
		for end := time.Now().Add(20 * time.Second); b.came() < came+2 && time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		}
		if got := w.waits(); b.came() < came+2 || len(got) != 1 || !slices.Equal(b.onRecord(), want) {
			t.Errorf("%s: it came %d times, and %q waits", c.name, b.came()-came, got)
		}
		b.say(nil)
		w.signal()
		want = append(want, "truck "+ticket)
		b.becomes(t, want...)
		w.until(`document.querySelectorAll('.queue > li[data-id]').length === 0`)
	}
	if slices.ContainsFunc(b.arrived, func(k arrival) bool { return k.what != "truck" }) {
		t.Error("it followed to another address")
	}
}
