package site

import (
	"testing"
	"time"

	"pourback/report/internal/browse"
)

// TestTheQueueInFirefox: what is entered on a bad line waits there, too, and goes out when
// the line is back.
func TestTheQueueInFirefox(t *testing.T) {
	if testing.Short() {
		t.Skip("no browsers in a short run")
	}
	b := newBench(t, atHome)
	f := browse.StartFirefox(t)
	f.Open("http://"+b.line.at+"/pour/bench/day", 360, 640)
	enters := func(ticket string) {
		t.Helper()
		var is bool
		f.Ask(`(() => { const f = document.querySelectorAll('form[data-entry]')[1]; f.elements.ticket.value = '`+ticket+`'; return true; })()`, &is)
		f.Click(`details + form button`)
		for end := time.Now().Add(60 * time.Second); time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
			f.Ask(`(f => f.elements.ticket.value === '' && !f.dataset.keeping)(document.querySelectorAll('form[data-entry]')[1])`, &is)
			if is {
				return
			}
		}
		var says string
		f.Ask(`document.body.innerText + pourback.ready + document.activeElement.outerHTML`, &says)
		t.Fatal("the form was not taken: ", says, f.Trouble)
	}
	b.line.is(refuses)
	enters("4711")
	enters("4712")
	var waits int
	for end := time.Now().Add(60 * time.Second); waits != 2 && time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		f.Ask(`document.querySelectorAll('.queue > li[data-id]').length`, &waits)
	}
	if waits != 2 {
		t.Errorf("%d entries wait", waits)
	}
	b.line.is(fine)
	f.Open("http://"+b.line.at+"/pour/bench/day", 360, 640)
	b.becomes(t, "truck 4711", "truck 4712")
	var wide int
	if f.Ask(tooWide, &wide); wide > 0 {
		t.Errorf("%d pixels wider than the screen", wide)
	}
	for end := time.Now().Add(60 * time.Second); waits != 0 && time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		f.Ask(`document.querySelectorAll('.queue > li[data-id]').length`, &waits)
	}
	if waits != 0 {
		t.Errorf("%d entries wait on", waits)
	}
	for _, said := range f.Trouble {
		t.Log("Firefox said: ", said)
	}
}
