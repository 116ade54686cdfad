package site

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/storage"
	"github.com/chromedp/chromedp"

	"pourback/report/internal/browse"
)

// signsIn signs in as somebody.
func (w *window) signsIn(name string) {
	w.t.Helper()
	w.open("/login")
	w.do(chromedp.SendKeys(chromedp.CSS(`input[name=name]`), name), chromedp.SendKeys(chromedp.CSS(`input[name=password]`), everybodys))
	w.press("/login")
}

// TestNothingUnderAnotherName: what one has entered waits while somebody else is signed
// in, even where a page of the first is still open, and goes out under the right name.
func TestNothingUnderAnotherName(t *testing.T) {
	b := newBench(t, atHome)
	b.user("Ana", Crew)
	b.user("Bo", Crew)
	w := b.phone(t)
	w.signsIn("Ana")
	w.open("/pour/bench/day")
	b.line.is(refuses)
	w.enter(0, "ticket", "4711")
	b.line.is(fine)
	b.say(func(arrival) *reply { return &reply{503, "text/html", "", "", false} }) // so that it waits on
	other := phone(t, w.ctx, "http://"+b.line.at)
	other.open("/you")
	other.press("/logout")
	other.signsIn("Bo")
	b.say(nil)
	w.signal() // Ana's page, and Bo's session
	w.until(status + `.includes('Sign in')`)
	w.sound("who entered it is not signed in")
	w.lookAt("queue-sign-in")
	other.open("/pour/bench/day")
	other.until(`document.querySelectorAll('.queue > li[data-state=others]').length === 1`)
	if says := ask[string](other, `document.querySelector('.queue [data-is=state]').textContent`); !strings.Contains(says, "by Ana") {
		t.Errorf("it says %q", says)
	}
	other.enter(3, "hours", "8")
	b.becomes(t, "hours 8")
	other.sound("somebody else's")
	other.open("/you")
	other.press("/logout")
	other.signsIn("Ana")
	other.open("/pour/bench/day")
	b.becomes(t, "hours 8", "truck 4711")
	if b.kept[0].who != "Bo" || b.kept[1].who != "Ana" {
		t.Errorf("by %s and by %s", b.kept[0].who, b.kept[1].who)
	}
}

// TestAClashIsSaidUntilItIsSeen: it stays over a page that is opened anew.
func TestAClashIsSaidUntilItIsSeen(t *testing.T) {
	b := newBench(t, atHome)
	w := b.phone(t)
	b.say(func(arrival) *reply {
		return &reply{200, "application/json", "", `{"key":"KEY","kept":"batch 1","became":"clash","says":"Yards: on record is 8, you entered 9."}`, true}
	})
	w.enter(0, "ticket", "4711")
	w.until(`document.querySelectorAll('.queue > li[data-state=clash]').length === 1`)
	w.open("/pour/bench/day")
	w.until(`document.querySelector('.queue > li[data-state=clash]')?.textContent.includes('you entered 9')`)
	w.sound("a clash")
	w.do(chromedp.Tap(chromedp.CSS(`.queue > li[data-state=clash] button`)))
	w.until(`document.querySelectorAll('.queue > li[data-state=clash]').length === 0`)
	w.open("/pour/bench/day")
	time.Sleep(300 * time.Millisecond)
	if n := ask[int](w, `document.querySelectorAll('.queue > li').length`); n != 0 {
		t.Error("dismissed, and it is there again")
	}
}

// TestAFormBeingFilledInIsLeftAlone: what is on record by now is shown once nobody fills
// in a form; and after a form was sent it is empty and closed, and the line has the focus.
func TestAFormBeingFilledInIsLeftAlone(t *testing.T) {
	b := newBench(t, atHome)
	w, other := b.phone(t), b.phone(t)
	ask[bool](w, `(() => { const f = document.querySelectorAll('form[data-entry]')[1]; f.elements.ticket.focus(); f.elements.ticket.value = '47'; f.elements.ticket.dispatchEvent(new Event('input', {bubbles: true})); return true; })()`)
	other.enter(3, "hours", "8")
	b.becomes(t, "hours 8")
	other.until(`document.querySelectorAll('.record li').length === 1`)
	time.Sleep(time.Second)
	if n := ask[int](w, `document.querySelectorAll('.record li').length`); n != 0 {
		t.Error("the page changed under a form that is being filled in")
	}
	w.enter(0, "ticket", "4711")
	if got := ask[string](w, `[document.activeElement.getAttribute('role'), document.querySelector('details').open, document.querySelector('form[data-entry]').elements.yards.value].join()`); got != "status,false,9" {
		t.Errorf("after it was kept: %s", got)
	}
	b.becomes(t, "hours 8", "truck 4711")
	time.Sleep(time.Second)
	if n := ask[int](w, `document.querySelectorAll('.record li').length`); n != 0 {
		t.Error("the page changed under the other form, which is being filled in")
	}
	w.enter(1, "ticket", "4712")
	w.until(`document.querySelectorAll('.record li').length === 3`)
}

// TestWhoTapsTwiceMeansItOnce.
func TestWhoTapsTwiceMeansItOnce(t *testing.T) {
	b := newBench(t, atHome)
	w := b.phone(t)
	ask[bool](w, `(() => { const f = document.querySelectorAll('form[data-entry]')[1]; f.elements.ticket.value = '4711'; f.elements.ticket.required = false; for (let i = 0; i < 3; i++) f.requestSubmit(); return true; })()`)
	w.until(`document.querySelectorAll('form[data-entry]')[1].elements.ticket.value === ''`)
	ask[bool](w, `document.querySelectorAll('form[data-entry]')[1].requestSubmit() === undefined`)
	b.becomes(t, "truck 4711")
	time.Sleep(700 * time.Millisecond)
	b.becomes(t, "truck 4711")
}

// TestThePhoneIsFull: nothing is kept, which is said at once; what was entered stands in
// the form, and goes without its pictures, or at once.
func TestThePhoneIsFull(t *testing.T) {
	b := newBench(t, atHome)
	w := b.phone(t)
	quota := 200_000.0
	room := func(quota *float64) {
		t.Helper()
		if _, err := chromedp.Call(w.ctx, storage.OverrideQuotaForOrigin, storage.OverrideQuotaForOriginParams{Origin: "http://" + b.line.at, QuotaSize: quota}); err != nil {
			t.Fatal(err)
		}
	}
	room(&quota)
	b.line.is(refuses)
	w.pick(2, "1.jpg", camera(t, 1200, 900, 1))
	fill := `(() => { const f = document.querySelectorAll('form[data-entry]')[2]; f.elements.note.value = 'hose clogged'; f.requestSubmit(); return true; })()`
	ask[bool](w, fill)
	w.until(`document.querySelector('[role=alert]')?.textContent.includes('no room left')`)
	if got := ask[string](w, `(f => f.elements.note.value + f.elements.pictures.files.length)(document.querySelectorAll('form[data-entry]')[2])`); got != "hose clogged1" || len(w.waits()) != 0 {
		t.Errorf("the form says %q, and %q waits", got, w.waits())
	}
	w.sound("the phone is full")
	w.lookAt("queue-full")
	w.do(chromedp.Tap(chromedp.CSS(`form .wrong button`)))
	w.until(`document.querySelectorAll('.queue > li[data-id]').length === 1`)
	b.line.is(fine)
	w.signal()
	b.becomes(t, "clog hose clogged")
	w.until(`document.querySelectorAll('.queue > li[data-id]').length === 0`)
	w.pick(2, "1.jpg", camera(t, 1200, 900, 1))
	w.until(`!document.querySelectorAll('form[data-entry]')[2].dataset.keeping`)
	ask[bool](w, strings.Replace(fill, "hose", "pump", 1))
	w.until(`document.querySelector('[role=alert]')?.textContent.includes('no room left')`)
	w.goes("sending it now", func() { w.do(chromedp.Tap(chromedp.CSS(`form .wrong button:last-child`))) })
	b.becomes(t, "clog hose clogged", "clog pump clogged")
	if len(b.kept[0].pictures) != 0 || len(b.kept[1].pictures) != 1 {
		t.Errorf("%d and %d pictures came in", len(b.kept[0].pictures), len(b.kept[1].pictures))
	}
}

// TestPlainHTTPByAnotherName: a phone that reaches the office's computer by its name in
// the local network is no secure context: no locks, no randomUUID, no worker; all goes
// the same, pictures too.
func TestPlainHTTPByAnotherName(t *testing.T) {
	named := atHome
	named.Loopback, named.Hosts = false, []string{"pours.test"}
	b := newBench(t, named)
	b.user("Ana", Crew)
	profile, flags := t.TempDir(), map[string]any{"host-resolver-rules": "MAP pours.test 127.0.0.1"}
	at := "http://pours.test" + b.line.at[strings.LastIndex(b.line.at, ":"):]
	browser, kill := browse.OwnChromium(t, profile, flags)
	w := phone(t, browser, at)
	w.signsIn("Ana")
	w.open("/pour/bench/day")
	if secure := ask[bool](w, `isSecureContext || 'locks' in navigator || 'randomUUID' in crypto || 'serviceWorker' in navigator`); secure {
		t.Fatal("this is a secure context: it tries nothing that loopback does not")
	}
	two := phone(t, browser, at)
	two.open("/pour/bench/day")
	b.line.is(refuses)
	w.enter(0, "ticket", "4711")
	w.pick(2, "1.jpg", camera(t, 2400, 1800, 1))
	w.enter(2, "note", "hose clogged")
	two.until(`document.querySelectorAll('.queue > li[data-id]').length === 2`)
	time.Sleep(300 * time.Millisecond)
	kill() // the cookie of a session outlives it, as it does on a phone
	b.line.is(fine)
	browser, _ = browse.OwnChromium(t, profile, flags)
	w = phone(t, browser, at)
	w.open("/pour/bench/day")
	if ask[string](w, `location.pathname`) == "/login" { // Chromium had not written the cookie yet
		w.signsIn("Ana")
		w.open("/pour/bench/day")
	}
	b.becomes(t, "truck 4711", "clog hose clogged")
	if slices.ContainsFunc(b.kept, func(k arrival) bool { return k.who != "Ana" }) || len(b.kept[1].pictures) != 1 {
		t.Errorf("%v", b.kept)
	}
}

// TestTheQueueHasNoWordsOfItsOwn: in a made-up language, whose letters no English has,
// none stands out, whatever is shown.
func TestTheQueueHasNoWordsOfItsOwn(t *testing.T) {
	b := newBench(t, atHome)
	b.site.Settings.Lang, b.site.own.settings.Lang = "qps", "qps"
	w := b.phone(t)
	b.say(func(k arrival) *reply {
		text := map[string]string{"1": `{"key":"KEY","refused":""}`, "2": `{"key":"KEY","refused":"7"}`}[k.fields.Get("ticket")]
		if text == "" {
			return &reply{500, "text/html", "", "", false}
		}
		return &reply{422, "application/json", "", text, false}
	})
	for i := 1; i <= 4; i++ {
		w.enter(0, "ticket", fmt.Sprint(i))
	}
	w.until(`document.querySelectorAll('.queue > li[data-state=refused]').length === 2`)
	w.pick(2, "1.heic", []byte("no picture"))
	w.signal()
	w.signal()
	w.until(`document.querySelectorAll('.queue > li[data-state=stuck]').length > 0`)
	says := ask[string](w, `(() => { document.querySelectorAll('.queue details').forEach(d => { d.querySelector('ul').remove(); d.open = true; }); document.querySelectorAll('[data-is=what], [data-is=when]').forEach(e => e.remove());
		return document.querySelector('[data-waiting]').innerText + document.querySelector('[data-pictures-say]').innerText; })()`)
	for _, word := range letters.FindAllString(strings.ReplaceAll(says, "heic", ""), -1) {
		t.Errorf("%q is in plain letters", word)
	}
	if len(says) < 200 {
		t.Errorf("it says next to nothing: %q", says)
	}
}
