package site

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"math/rand/v2"
	"net/http"
	"net/http/httptrace"
	"net/url"
	"os"
	"regexp"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"testing/iotest"
	"time"

	"pourback/ingest/record"
	"pourback/ingest/store/storetest"
)

// crewPhone is a phone at the crews' forms. Two of them are at each pour: those of a pair.
type crewPhone struct {
	*member
	*crewLedger
	pair, side int
	name       string
	now        func() time.Time
	photo      uploaded
	made       map[string][]string // keys of its entries by what they are about, as the queue of a phone notes them
}

// crewEntry is what a phone says at a form, and what came of it.
type crewEntry struct {
	form, path  string
	fields      []string
	files       []uploaded
	batch       string // what its batch is called
	page, shows string // where it is seen once it was answered, and what is seen there; "" for nowhere

	key, who, became string
	after            []string // what the same phone has said before of the same
	did              int64    // its batch
}

// phones are so many of the crews, two to a pair.
func (c *crowd) phones(p *place, n int, l *crewLedger) (all []*crewPhone) {
	for k := range n {
		f := &crewPhone{member: c.member(p.store, fmt.Sprintf("Phone %d", k), Crew, 1), crewLedger: l, pair: k / 2, side: k % 2, now: p.site.Now, made: map[string][]string{}}
		f.name = fmt.Sprintf("Phone %d 0", k)
		f.photo = uploaded{"IMG.jpg", photo(p.t, 320, 240, uint8(k))}
		all = append(all, f)
	}
	return all
}

// slabsOfPair is how many slabs each pair looks at.
const slabsOfPair = 6

// slabsOfPairs takes in a job with some slabs for each pair, poured long ago.
func (p *place) slabsOfPairs(n int) {
	var text strings.Builder
	text.WriteString("job_no,placement,placed_on,use,area_sqft,thickness_in\n")
	for pair := range n {
		for s := range slabsOfPair {
			fmt.Fprintf(&text, "%s%d,%c,2023-01-10,driveway,800,4\n", slabJobs, pair, 'A'+s)
		}
	}
	p.takeFile("slabs.csv", text.String())
}

// What the jobs are called at which the phones write.
const (
	pourJobs = "POUR-"
	slabJobs = "SLAB-"
)

// A connection may go before all of a request is sent, or before its answer comes.

func tornOff(r *http.Request) *http.Request {
	r.Body, r.GetBody = io.NopCloser(io.MultiReader(io.LimitReader(r.Body, r.ContentLength/2), iotest.ErrReader(errors.New("no signal")))), nil
	return r
}

func unheard(r *http.Request) *http.Request {
	ctx, goes := context.WithCancel(r.Context())
	sent := func(httptrace.WroteRequestInfo) { time.AfterFunc(rand.N(40*time.Millisecond), goes) }
	return r.WithContext(httptrace.WithClientTrace(ctx, &httptrace.ClientTrace{WroteRequest: sent}))
}

// sends sends an entry once, with what the queue of a phone says beside it.
func (f *crewPhone) sends(e *crewEntry, tears func(*http.Request) *http.Request) (answered, error) {
	u := turn{crowd: f.crowd, token: f.tokens[0], tears: tears, headers: map[string]string{entryHeader: "1", clockHeader: f.now().Format(time.RFC3339),
		userHeader: strconv.FormatInt(f.ids[0], 10), afterHeader: strings.Join(e.after, ",")}}
	fields := append([]string{keyField, e.key}, e.fields...)
	if len(e.files) > 0 {
		kind, body := withFiles(fields, e.files...)
		return u.once("post "+e.form, "POST", e.path, kind, body)
	}
	form := url.Values{}
	for i := 0; i+1 < len(fields); i += 2 {
		form.Add(fields[i], fields[i+1])
	}
	return u.once("post "+e.form, "POST", e.path, "application/x-www-form-urlencoded", []byte(form.Encode()))
}

// arrives sends an entry until it is told that it is on record. Who writes too often comes
// again later, as the queue of a phone does; any other answer is a fault.
func (f *crewPhone) arrives(e *crewEntry) (q queued) {
	for range 60 {
		got, err := f.sends(e, nil)
		if got.status == http.StatusTooManyRequests {
			f.note(func() { f.late++ })
			time.Sleep(time.Second)
			continue
		}
		if bad := json.Unmarshal([]byte(got.body), &q); bad != nil || err != nil || got.status != http.StatusOK || q.Key != e.key || q.Kept == "" {
			f.t.Errorf("%s %v: %v %v %.600s", e.path, e.fields, err, got, got.body)
		}
		return q
	}
	f.t.Errorf("%s %v is put off for a minute", e.path, e.fields)
	return q
}

// enters has an entry arrive: most once, some up to five times at once, some after the
// connection was gone before the answer. Whichever way, all answers are to say the same.
func (f *crewPhone) enters(e crewEntry) *crewEntry {
	about := e.path[:strings.LastIndex(e.path, "/")]
	e.key, e.who, e.after = newKey(), f.name, f.made[about][max(0, len(f.made[about])-mostAfter):]
	copies := 1
	switch rand.IntN(6) {
	case 0:
		copies = 2 + rand.IntN(4)
	case 1:
		for range 1 + rand.IntN(2) {
			if got, _ := f.sends(&e, []func(*http.Request) *http.Request{tornOff, unheard, unheard}[rand.IntN(3)]); got.status >= 500 {
				f.t.Errorf("%s: %v", e.path, got)
			}
			f.note(func() { f.torn++ })
		}
	}
	said := make([]queued, copies)
	var wait sync.WaitGroup
	for i := range said {
		wait.Go(func() { said[i] = f.arrives(&e) })
	}
	wait.Wait()
	for _, q := range said[1:] {
		if q.Kept != said[0].Kept || q.Became != said[0].Became {
			f.t.Errorf("%s, sent %d times, was answered by %+v and by %+v", e.path, copies, said[0], q)
		}
	}
	f.made[about] = append(f.made[about], e.key)
	e.became = said[0].Became
	e.did, _ = strconv.ParseInt(strings.TrimPrefix(said[0].Kept, "batch "), 10, 64)
	f.note(func() { f.copies, f.entries = f.copies+copies-1, append(f.entries, e) })
	return &e
}

// entersAndSees has an entry arrive, and looks at once whether the phone's page shows it.
func (f *crewPhone) entersAndSees(e crewEntry) *crewEntry {
	done := f.enters(e)
	f.sees(done)
	return done
}

// sees looks at the page on which an entry is seen from when it was answered.
func (m *member) sees(e *crewEntry) string {
	got := m.turn().get("page "+kindOf(e.page), e.page)
	if got.status != http.StatusOK || !strings.Contains(got.body, e.shows) {
		m.t.Errorf("%s was answered, and %s does not show %q: %v\n%s", e.batch, e.page, e.shows, got, mainOf(got.body))
	}
	return got.body
}

// kindOf is an address without what it is about.
func kindOf(path string) string {
	at, _, _ := strings.Cut(path, "?")
	parts := strings.Split(at, "/")
	return strings.Join(append(parts[:min(2, len(parts))], parts[min(4, len(parts)):]...), "/")
}

// pours has a phone write a pour down, together with the other of its pair, a bit of it
// at least, and on until the time is up. What each says alone is on record as it was said
// last; of what both say differently one stands.
func (f *crewPhone) pours(n int, until time.Time) {
	day := testDay - record.Date(n%40) // what waits on a phone may be of some weeks ago
	job := fmt.Sprintf("%s%d-%d", pourJobs, f.pair, n)
	at := func(clock string) string { return day.String() + "T" + clock }
	entry := func(form string, fields ...string) crewEntry {
		return crewEntry{form: form, path: "/pour/" + job + "/" + form, fields: append([]string{"part", "A", "at", at("10:00:00")}, fields...), batch: form + " of " + job + " A", page: "/pour/" + job + "?part=A"}
	}
	parts := []func(){
		func() { f.truck(job, at, entry) },
		func() { f.visits(n) },
		func() { f.truckOfBoth(job, entry) },
		func() { f.weather(job, n, entry) },
		func() { f.clog(job, at, entry); f.hours(job, day, entry) },
		func() { f.leftover(job, entry); f.notes(job, entry) },
	}
	f.begins(job, day, entry("begin", "use", "driveway", "area_sqft", "1200", "thickness_in", "4", "method", "pump"))
	for i := range parts {
		if i > 0 && time.Now().After(until) {
			return
		}
		parts[(f.pair+i)%len(parts)]()
	}
}

// asEntry makes an entry of a form of a pour.
type asEntry func(form string, fields ...string) crewEntry

// begins begins the pour, as the other phone does: there is one of it.
func (f *crewPhone) begins(job string, day record.Date, e crewEntry) {
	e.batch = "start of " + job + " A"
	e.shows = job
	f.entersAndSees(e)
	for _, v := range [][2]string{{"placed_on", day.String()}, {"use", "driveway"}, {"area_sqft", "1200"}, {"thickness_in", "4"}, {"method", "pump"}} {
		f.put(record.Placements, []string{job, "A"}, v[0], v[1])
	}
}

// truck is one of the phone's own, stamped by a tap.
func (f *crewPhone) truck(job string, at func(string) string, entry asEntry) {
	ticket := fmt.Sprintf("%d-%d", f.pair, f.side)
	key := []string{job, "A", ticket}
	e := entry("truck", "ticket_no", ticket, "yards", "8.5", "arrived_at", "08:15")
	e.batch, e.shows = "truck "+ticket+" of "+job+" A", "Truck "+ticket+", 8½ yd"
	f.entersAndSees(e)
	f.put(record.Loads, key, "yards", "8.5")
	f.put(record.Loads, key, "arrived_at", at("08:15"))
	for i, stamp := range []string{"pour_start", "pour_end"} {
		clock := fmt.Sprintf("08:%d", 20+20*i)
		e := entry("truck", "ticket_no", ticket, "stamp", stamp)
		e.fields[3], e.batch = at(clock+":30"), "truck "+ticket+" of "+job+" A"
		f.enters(e)
		f.put(record.Loads, key, stamp, at(clock))
	}
}

// truckOfBoth is one that both write down, each with another slump.
func (f *crewPhone) truckOfBoth(job string, entry asEntry) {
	key, slump := []string{job, "A", "both"}, strconv.Itoa(4+f.side)
	e := entry("truck", "ticket_no", "both", "yards", "9", "slump_in", slump)
	e.batch = "truck both of " + job + " A"
	f.put(record.Loads, key, "yards", "9")
	f.disputes(record.Loads, key, "slump_in", slump, f.enters(e))
	f.mendsBoth(job, entry)
}

// shownSlump is the slump that the form of a truck had shown.
var shownSlump = regexp.MustCompile(`name="was\.slump_in" value="([0-9.]*)"`)

// mendsBoth gives the truck of both another slump, from what its form shows now: that of
// the other phone may come between.
func (f *crewPhone) mendsBoth(job string, entry asEntry) {
	page := f.turn().get("page /pour", "/pour/"+job+"?part=A&truck=both").body
	was := shownSlump.FindStringSubmatch(page)
	if was == nil {
		f.t.Errorf("%s shows no slump of the truck:\n%s", job, mainOf(page))
		return
	}
	slump := strconv.Itoa(6 + f.side)
	e := entry("truck", "ticket_no", "both", "was.yards", "9", "yards", "9", "was.slump_in", was[1], "slump_in", slump)
	e.batch = "truck both of " + job + " A"
	f.disputes(record.Loads, []string{job, "A", "both"}, "slump_in", slump, f.enters(e))
}

func (f *crewPhone) clog(job string, at func(string) string, entry asEntry) {
	note := "clog of " + f.name
	e := entry("clog", "started_at", "08:30", "stopped_at", "08:42", "spot", "reducer", "note", note)
	e.page, e.shows = "/jobs/"+job, note
	f.enters(e)
	key := []string{job, "A", note}
	for _, v := range [][2]string{{"cause", "clog"}, {"started_at", at("08:30")}, {"spot", "reducer"}, {"minutes", "12"}} {
		f.put(record.Delays, key, v[0], v[1])
	}
}

// hours are of another task than those of the other phone.
func (f *crewPhone) hours(job string, day record.Date, entry asEntry) {
	task, people, all := "place", "4", "26"
	if f.side == 1 {
		task, people, all = "finish", "2", "13"
	}
	e := entry("hours", "worked_on", day.String(), "task", task, "people", people, "each", "6.5")
	e.shows = all + " person-hours"
	f.entersAndSees(e)
	f.put(record.Labors, []string{job, "A", day.String(), task}, "hours", all)
}

// weather is in other columns than that of the other phone, and comes twice.
func (f *crewPhone) weather(job string, n int, entry asEntry) {
	for again := range 2 {
		var fields []string
		for i, column := range [][]string{{"air_temp_f", "wind_mph"}, {"concrete_temp_f", "humidity_pct"}}[f.side] {
			value := func(again int) string { return strconv.Itoa(60 - 40*i + 3*again + n%7) }
			if fields = append(fields, column, value(again)); again > 0 {
				fields = append(fields, "was."+column, value(again-1))
			}
			f.put(record.Placements, []string{job, "A"}, column, value(again))
		}
		if e := f.enters(entry("weather", fields...)); e.became == "clash" {
			f.t.Errorf("%s: the weather clashes, and nobody else writes that of %v", job, fields)
		}
	}
}

// notes come one behind the other.
func (f *crewPhone) notes(job string, entry asEntry) {
	note := "note of " + f.name
	f.enters(entry("note", "note", note))
	f.put(record.Placements, []string{job, "A"}, "note", note)
}

// leftover is given by both.
func (f *crewPhone) leftover(job string, entry asEntry) {
	yd := []string{"0.5", "1"}[f.side]
	f.disputes(record.Placements, []string{job, "A"}, "leftover_yd", yd, f.enters(entry("leftover", "leftover_yd", yd)))
}

// visits finds a crack at a slab, on a day on which the other phone finds one, too: the
// two join to one as long as both.
func (f *crewPhone) visits(n int) {
	job, slab, day := fmt.Sprintf("%s%d", slabJobs, f.pair), string(rune('A'+n%slabsOfPair)), record.DateOf(2023, 2, 1)+record.Date(n)
	feet, note, caption := strconv.Itoa(1+f.side), "seen by "+f.name, day.String()+" by "+f.name
	at := "/slabs/" + job + "/" + slab
	e := f.entersAndSees(crewEntry{form: "visit", path: at + "/visit", batch: "visit to " + job + " " + slab, page: at, shows: caption, files: []uploaded{f.photo},
		fields: []string{"why", "planned", "finding", "crack", "length", feet, "seen_on", day.String(), "note", note, "caption", caption}})
	key := []string{job, slab, day.String()}
	for _, v := range [][2]string{{"why", "planned"}, {"finding", "crack"}, {"note", note}} {
		f.put(record.Visits, key, v[0], v[1])
	}
	f.join(key, 1+f.side, e)
	f.put(record.Pictures, append(key, caption), "kept_by", f.name)
}

// smallPicture is a picture on a slab's page.
var smallPicture = regexp.MustCompile(`src="(/slabs/[^"]+/small)"`)

// looksRound has an owner look at pages until nobody writes any more: at the report and
// the records, and between them for what was answered just before.
func (m *member) looksRound(l *crewLedger, from int, pause time.Duration, done <-chan struct{}) {
	paths := append(slices.Clone(seenBefore[Owner]), "/crew", "/visits", "/bids")
	for n := from; ; n++ {
		select {
		case <-done:
			return
		case <-time.After(pause/2 + rand.N(pause)):
		}
		e := l.anyShown()
		if n%2 == 0 || e == nil {
			path := paths[n/2%len(paths)]
			if got := m.turn().get("page "+path, path); got.status != http.StatusOK {
				m.t.Errorf("%s: %v", path, got)
			}
			continue
		}
		if src := smallPicture.FindStringSubmatch(m.sees(e)); src != nil {
			if got := m.turn().get("picture", src[1]); got.status != http.StatusOK || got.header.Get("Content-Type") != "image/jpeg" {
				m.t.Errorf("%s: %v", src[1], got)
			}
		}
	}
}

// TestFiftyCrewsFiftyOwners: while fifty phones write at the crews' forms, two to a pour,
// and fifty owners read, over HTTP on the loopback, all that was answered is on record
// once, however often and brokenly it was sent; of two values both are kept; no page
// breaks, and each read after an answer shows what was answered.
func TestFiftyCrewsFiftyOwners(t *testing.T) {
	if testing.Short() {
		t.Skip("it takes some seconds")
	}
	storetest.Each(t, func(t *testing.T, dsn string) {
		const crews, owners = 50, 50
		pause := 50 * time.Millisecond
		if os.Getenv("POURBACK_LOAD") == "" { // it is to be short on a machine that has other work
			pause = 2 * time.Second
		}
		p := newPlace(t, dsn, 60, atHome)
		p.slabsOfPairs(crews / 2)
		p.site.Log = slog.New(slog.NewTextHandler(lockedWriter{&p.mu, &p.log}, &slog.HandlerOptions{Level: slog.LevelWarn})) // or it outgrows all else
		running := time.Now()
		p.site.Now = func() time.Time { return p.now().Add(time.Since(running)) }
		c := crowdAt(t, p.served())
		l := newCrewLedger(t, p)
		phones := c.phones(p, crews, l)
		var readers []*member
		for k := range owners {
			readers = append(readers, c.member(p.store, fmt.Sprintf("Owner %d", k), Owner, 1))
		}
		c.warm(readers)

		began, done := time.Now(), make(chan struct{})
		until := began.Add(loadFor(t))
		var reading, writing sync.WaitGroup
		for k, m := range readers {
			reading.Go(func() { m.looksRound(l, k, pause, done) })
		}
		for _, f := range phones {
			writing.Go(func() {
				for n := 0; n == 0 || time.Now().Before(until); n++ {
					f.pours(n, until)
				}
			})
		}
		reading.Go(func() { c.watches(done) })
		writing.Wait()
		close(done)
		reading.Wait()
		c.tellCrews(l, time.Since(began))
		l.isKept(t, p, readers[0])
	})
}

// watches tells every minute how much memory is taken, of this process: the site's and
// that of who asks.
func (c *crowd) watches(done <-chan struct{}) {
	for {
		var is runtime.MemStats
		runtime.ReadMemStats(&is)
		c.t.Logf("%d MB resident, heap %d MB, %d goroutines, the machine's load %s", resident(os.Getpid()), is.HeapAlloc>>20, runtime.NumGoroutine(), machineLoad())
		select {
		case <-done:
			return
		case <-time.After(time.Minute):
		}
	}
}

// tellCrews tells how much was asked, and how long answers took.
func (c *crowd) tellCrews(l *crewLedger, lasted time.Duration) {
	asked := 0
	for _, all := range c.took {
		asked += len(all)
	}
	c.t.Logf("%d entries, %d more copies of them, %d sent in vain, %d put off; %d requests in %v: %.0f a second; %d MB resident, the machine's load %s", len(l.entries), l.copies, l.torn, l.late,
		asked, lasted.Round(time.Millisecond), float64(asked)/lasted.Seconds(), resident(os.Getpid()), machineLoad())
	c.together()
	c.tell()
}
