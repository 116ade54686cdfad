package site

import (
	"context"
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/ingest/store/storetest"
	"pourback/report/internal/browse"
)

// aSite is a site in a process of its own, which falls, and a line to it that is cut.
type aSite struct {
	*place
	t       *testing.T
	dsn     string
	process *os.Process
	line    *line
}

func siteOnALine(t *testing.T, dsn string) *aSite {
	t.Helper()
	s := &aSite{place: newPlace(t, dsn, 0, atHome), t: t, dsn: dsn}
	s.surfer().keepsBid(aPour("LM-900")...)
	url, _, process := alone(t, dsn)
	s.process, s.line = process, newLine(t, strings.TrimPrefix(url, "http://"))
	return s
}

// falls kills the site and starts another.
func (s *aSite) falls() {
	s.t.Helper()
	if err := s.process.Kill(); err != nil {
		s.t.Fatal(err)
	}
	url, _, process := alone(s.t, s.dsn)
	s.line.is(refuses)
	s.process, s.line.to = process, strings.TrimPrefix(url, "http://")
	s.line.is(fine)
}

// fill fills in a form of a pour and taps its button; the form is closed once what it says
// is kept on the phone.
func (w *window) fill(form string, fields ...string) {
	w.t.Helper()
	at := "#" + form
	w.until(fmt.Sprintf(`!!document.querySelector('%s form:not([data-keeping])')`, at))
	ask[bool](w, fmt.Sprintf(`document.querySelector('%s').open = true`, at))
	for i := 0; i+1 < len(fields); i += 2 {
		if !ask[bool](w, fmt.Sprintf(`(() => { const f = document.querySelector('%s form').elements.namedItem(%q); f.value = %q; (f.dispatchEvent ? f : f[0]).dispatchEvent(new Event('input', {bubbles: true})); return f.value === %q; })()`, at, fields[i], fields[i+1], fields[i+1])) {
			w.t.Fatalf("%s: %s could not be set", form, fields[i])
		}
	}
	w.do(chromedp.Tap(chromedp.CSS(at + " button.main")))
	w.until(fmt.Sprintf(`!document.querySelector('%s').open`, at))
}

// sent waits until nothing waits any more.
func (w *window) sent() {
	w.t.Helper()
	w.until(`document.querySelectorAll('.queue > li[data-id]').length === 0`)
}

// TestADayAtAPour: a dozen things are said of a pour over a day on which the line is cut
// three times, an answer is lost and the site falls: each is on record once, on either
// database.
func TestADayAtAPour(t *testing.T) {
	if testing.Short() {
		t.Skip("no browsers in a short run")
	}
	storetest.Each(t, func(t *testing.T, dsn string) {
		s := siteOnALine(t, dsn)
		w := phone(t, browse.Chromium(t), "http://"+s.line.at)
		w.open("/pour/LM-900?part=drive")
		truck := func(ticket, yards string) { t.Helper(); w.fill("truck", "ticket_no", ticket, "yards", yards) }
		w.fill("weather", "air_temp_f", "71", "concrete_temp_f", "75")
		truck("4711", "9")
		w.sent()
		w.until(`!!document.querySelector('[data-part=stamps] button')`)

		s.line.is(refuses) // no signal behind the garage
		w.do(chromedp.Tap(chromedp.CSS(`[data-part=stamps] button`)))
		w.until(`!document.querySelector('[data-part=stamps] button')?.offsetParent`)
		truck("4712", "8.5")
		w.fill("clog", "minutes", "12", "note", "reducer")
		w.until(status + `.includes('No connection')`)
		s.line.is(fine)
		w.signal()
		w.sent()

		s.line.is(deaf) // the site hears it, and what it answers is lost
		truck("4713", "9")
		for end := time.Now().Add(60 * time.Second); s.line.missed() == 0 && time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		}
		truck("4714", "9")
		s.falls()
		w.fill("delay", "cause", "truck late", "minutes", "15")
		w.signal()
		w.sent()

		s.line.is(swallows) // one bar, and nothing goes through
		truck("4715", "4")
		w.fill("leftover", "leftover_yd", "0.5")
		w.fill("hours", "worked_on", testDay.String(), "task", "place", "people", "4", "each", "6")
		s.line.is(fine)
		w.fill("note", "note", "neighbor's dog ran over the edge")
		w.signal()
		w.sent()
		w.until(`document.querySelector('[data-part=record]').innerText.includes('4715')`)
		w.sound("after the day")
		w.lookAt("queue-after-the-day")

		s.is(record.Loads, "drive 4711: yards 9, arrived_at", "drive 4712: yards 8.5", "drive 4713: yards 9", "drive 4714: yards 9", "drive 4715: yards 4")
		s.is(record.Delays, "drive 1: cause clog, minutes 12", "drive 2: cause truck late, minutes 15")
		s.is(record.Labors, "drive "+testDay.String()+" place: crew Heron, hours 24")
		s.is(record.Placements, "drive: ")
		for _, column := range []string{"air_temp_f 71", "concrete_temp_f 75", "leftover_yd 0.5", "note neighbor's dog"} {
			if row := s.onRecord(record.Placements, "LM-900")[0]; !strings.Contains(row, column) {
				t.Errorf("%s is not in %s", column, row)
			}
		}
		batches, err := s.store.Batches(t.Context())
		if err != nil || len(batches) != 12 || slices.ContainsFunc(batches, func(b store.Batch) bool { return b.SetAside > 0 }) {
			t.Errorf("%d batches, want one for each thing that was said: %+v, %v", len(batches), batches, err)
		}
		if checked, err := s.store.Check(context.Background(), func(f store.Fault) { t.Errorf("%+v", f) }); err != nil || checked.Rows == 0 {
			t.Errorf("%+v, %v", checked, err)
		}
		if s.line.missed() == 0 {
			t.Error("no answer was lost")
		}
	})
}

// is holds the rows of a table to how they begin.
func (s *aSite) is(table *record.Table, want ...string) {
	s.t.Helper()
	rows := s.onRecord(table, "LM-900")
	ok := len(rows) == len(want)
	for i := 0; ok && i < len(rows); i++ {
		ok = strings.HasPrefix(rows[i], want[i])
	}
	if !ok {
		s.t.Errorf("%s: %q, want %q", table.Name, rows, want)
	}
}

// TestTheSameIsSaidTwiceWithoutSignal: who measures again before the first value went out
// corrects their own, which is no clash with anybody.
func TestTheSameIsSaidTwiceWithoutSignal(t *testing.T) {
	s := siteOnALine(t, storetest.SQLite(t))
	w := phone(t, browse.Chromium(t), "http://"+s.line.at)
	w.open("/pour/LM-900?part=drive")
	s.line.is(refuses)
	w.fill("weather", "air_temp_f", "71")
	w.fill("weather", "air_temp_f", "84")
	s.line.is(fine)
	w.signal()
	w.sent()
	if row := s.onRecord(record.Placements, "LM-900")[0]; !strings.Contains(row, "air_temp_f 84") {
		t.Error(row)
	}
	if n := ask[int](w, `document.querySelectorAll('.queue > li[data-state=clash]').length`); n != 0 {
		t.Error("it clashes with itself: ", ask[string](w, `document.querySelector('.queue').innerText`))
	}
}

// TestPicturesOfAPourWithoutSignal wait on the phone, and are on record once: the answer
// to the first try is lost.
func TestPicturesOfAPourWithoutSignal(t *testing.T) {
	s := siteOnALine(t, storetest.SQLite(t))
	w := phone(t, browse.Chromium(t), "http://"+s.line.at)
	w.open("/pour/LM-900?part=drive")
	s.line.is(refuses)
	w.hold("pictures", "a.jpg", photo(t, 300, 200, 0), "b.jpg", photo(t, 300, 200, 20))
	w.fill("pictures", "caption", "forms set")
	w.until(status + `.includes('No connection')`)
	w.lookAt("queue-pictures-wait")
	s.line.is(deaf)
	w.signal()
	for end := time.Now().Add(60 * time.Second); s.line.missed() == 0 && time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
	}
	s.line.is(fine)
	w.signal()
	w.sent()
	w.until(`document.querySelectorAll('[data-part=pictures] img').length === 2`)
	pictures, err := s.store.Pictures(t.Context(), "LM-900")
	if err != nil || len(pictures) != 2 || pictures[0].Caption != "forms set" || s.line.missed() == 0 {
		t.Errorf("%d pictures, %d answers lost, %v", len(pictures), s.line.missed(), err)
	}
	if batches, err := s.store.Batches(t.Context()); err != nil || len(batches) != 1 {
		t.Errorf("%d batches, %v", len(batches), err)
	}
}

// TestATruckGoesOnWithoutSignal: the next tap of a truck that itself still waits on the
// phone is there at once, each tap once, and all of it is on record once there is signal.
func TestATruckGoesOnWithoutSignal(t *testing.T) {
	s := siteOnALine(t, storetest.SQLite(t))
	w := phone(t, browse.Chromium(t), "http://"+s.line.at)
	w.open("/pour/LM-900?part=drive")
	s.line.is(refuses)
	w.fill("truck", "ticket_no", "4711", "yards", "9")
	for _, says := range []string{"Truck 4711 is here", "Truck 4711 starts pouring", "Truck 4711 is empty"} {
		w.until(fmt.Sprintf(`[...document.querySelectorAll('.stamps button')].filter(b => b.offsetParent).map(b => b.textContent).join() === %q`, says))
		w.do(chromedp.Tap(chromedp.CSS(`[data-next] button`)))
	}
	w.until(`!document.querySelector('[data-next] form')`)
	s.line.is(fine)
	w.signal()
	w.sent()
	w.until(`document.querySelector('[data-part=record]').innerText.includes('poured')`)
	if ask[bool](w, `!!document.querySelector('.stamps form')`) {
		t.Error("an empty truck is asked about")
	}
	rows := s.onRecord(record.Loads, "LM-900")
	if len(rows) != 1 || !regexp.MustCompile(`^drive 4711: yards 9, arrived_at \S+, pour_start \S+, pour_end \S+$`).MatchString(rows[0]) {
		t.Error(rows)
	}
	if batches, err := s.store.Batches(t.Context()); err != nil || len(batches) != 4 || slices.ContainsFunc(batches, func(b store.Batch) bool { return b.SetAside > 0 }) {
		t.Errorf("%d batches: %+v, %v", len(batches), batches, err)
	}
}
