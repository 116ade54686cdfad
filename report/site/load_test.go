package site

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"maps"
	"math/rand/v2"
	"net"
	"net/http"
	"os"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"pourback/ingest/store"
	"pourback/ingest/store/storetest"
)

// ledger is what a crowd was told of what it wrote.
type ledger struct {
	mu    sync.Mutex
	bids  map[string]int64  // by its name
	fates map[int64]string  // of bids, as said last
	files map[string]string // by the job that is in it, where it was led to
	fixes map[string]bool   // by why
	areas map[string]string // of jobs, as mended last
	keys  map[string]string // of forms that were answered, by what each may have done
}

func newLedger() *ledger {
	return &ledger{bids: map[string]int64{}, fates: map[int64]string{}, files: map[string]string{}, fixes: map[string]bool{}, areas: map[string]string{}, keys: map[string]string{}}
}

func (l *ledger) note(write func()) {
	l.mu.Lock()
	defer l.mu.Unlock()
	write()
}

// writer is somebody who writes, with what they have written last.
type writer struct {
	*member
	*ledger
	name string
	n    int
	jobs []string
	mine []int64 // bids
}

// writers are so many who write, each as several owners.
func (c *crowd) writers(st *store.Store, n int, l *ledger) (all []*writer) {
	for k := range n {
		name := string(rune('V' + k))
		all = append(all, &writer{member: c.member(st, "Writer "+name, Owner, 8), ledger: l, name: name})
	}
	return all
}

// atLeast is how often each writer writes, however slow the machine.
const atLeast = 15

// writes has a writer write until the time is up, a bit of everything.
func (w *writer) writes(pause time.Duration, until time.Time) {
	for ; w.n < atLeast || time.Now().Before(until); w.n++ {
		switch w.n % 5 {
		case 0:
			w.takesFile()
		case 1:
			w.keepsBid()
		case 2:
			w.marks()
		case 3:
			w.mends()
		case 4:
			w.mendsShared()
		}
		time.Sleep(pause)
	}
}

// form sends a form, half of the time twice at once, and returns the answer; both
// must be sent on to what came of the one.
func (w *writer) form(kind, path string, fields ...string) answered {
	u := w.turn()
	send := func() answered { return u.post(kind, path, fields...) }
	if w.n/5%2 == 0 {
		return send()
	}
	both := twice(send)
	for _, got := range both {
		if got.status == http.StatusSeeOther {
			return got
		}
	}
	return both[0]
}

func (w *writer) keepsBid() {
	name, key := fmt.Sprintf("%s %d", w.name, w.n), newKey()
	got := w.form("form bid", "/bids", append([]string{keyField, key, "name", name}, aSlab...)...)
	var id int64
	if _, err := fmt.Sscanf(got.header.Get("Location"), "/bids/%d", &id); err != nil {
		w.t.Errorf("no bid: %v", got)
		return
	}
	w.mine = append(w.mine, id)
	w.note(func() { w.bids[name], w.keys[key] = id, fmt.Sprintf("bid %d", id) })
}

func (w *writer) marks() {
	if len(w.mine) == 0 {
		return
	}
	id, fate, key := w.mine[rand.IntN(len(w.mine))], []string{"won", "lost", "void", "open"}[rand.IntN(4)], newKey()
	w.note(func() {
		if cmp.Or(w.fates[id], "open") == fate { // saying the same again is no deed
			fate = map[bool]string{true: "lost", false: "won"}[fate == "won"]
		}
	})
	if got := w.form("form mark", fmt.Sprintf("/bids/%d/mark", id), keyField, key, "fate", fate); got.status != http.StatusSeeOther {
		w.t.Errorf("not marked: %v", got)
		return
	}
	w.note(func() { w.fates[id], w.keys[key] = fate, fmt.Sprintf("bid %d", id) })
}

// takesFile hands a small file in and keeps it.
func (w *writer) takesFile() {
	job := fmt.Sprintf("%s-%d", w.name, w.n)
	content := fmt.Appendf(nil, "job_no,placement,placed_on,use,area_sqft,thickness_in,delivered_yd,leftover_yd,method,crew\n%s,A,2026-03-02,driveway,400,4,5.5,0.2,chute,Heron\n", job)
	key, u := newKey(), w.turn()
	var got answered
	if send := func() answered { return u.drop("form file", key, job+".csv", content) }; w.n/5%2 == 0 {
		got = send()
	} else {
		both := twice(send)
		if got = both[0]; both[1].header.Get("Location") != got.header.Get("Location") {
			w.t.Errorf("one file was led to %v and %v", both[0], both[1])
		}
	}
	at := got.header.Get("Location")
	if !strings.HasPrefix(at, "/upload/") {
		w.t.Errorf("not taken in: %v", got)
		return
	}
	w.note(func() { w.keys[key] = "upload " + strings.TrimPrefix(at, "/upload/") })
	for range 5 { // others may be faster
		fields := w.turn().get("look", at).hidden(w.t)
		got = w.form("form keep", at+"/keep", fields...)
		if got.status == http.StatusSeeOther {
			w.jobs = append(w.jobs, job)
			to := got.header.Get("Location")
			w.note(func() {
				w.files[job], w.areas[job], w.keys[fields[1]] = to, "400", "batch "+strings.TrimPrefix(to, "/batches/")
			})
			return
		}
	}
	w.t.Errorf("%s is not kept: %v", job, got)
}

// fix mends the area of a job, and says whether that was done.
func (w *writer) fix(job, area, why string) bool {
	fields := w.turn().get("job", "/jobs/"+job).hidden(w.t)
	got := w.form("form fix", "/jobs/fix", append(fields, "column", "area_sqft", "value", area, "why", why)...)
	if got.status != http.StatusSeeOther && got.status != http.StatusConflict {
		w.t.Errorf("%s is not mended: %v %.600s", job, got, got.body)
	}
	if got.status != http.StatusSeeOther {
		return false
	}
	w.note(func() { w.fixes[why], w.keys[fields[1]] = true, "batch" })
	return true
}

func (w *writer) mends() {
	if len(w.jobs) == 0 {
		return
	}
	job, area := w.jobs[rand.IntN(len(w.jobs))], fmt.Sprint(401+w.n)
	if !w.fix(job, area, fmt.Sprintf("taped by %s %d", w.name, w.n)) {
		w.t.Errorf("nobody else is at %s, and it is not mended", job)
		return
	}
	w.note(func() { w.areas[job] = area })
}

// mendsShared mends what all are at: who was too late is told so, and nothing is done.
func (w *writer) mendsShared() {
	w.fix("SHARED", fmt.Sprint(1000+w.n*10+int(w.name[0])%10), fmt.Sprintf("shared by %s %d", w.name, w.n))
}

// loadFor is how long the test under load takes: some seconds, or as long as the
// variable POURBACK_LOAD says, such as 5m.
func loadFor(t *testing.T) time.Duration {
	text := os.Getenv("POURBACK_LOAD")
	if text == "" {
		return 3 * time.Second
	}
	d, err := time.ParseDuration(text)
	if err != nil {
		t.Fatal("POURBACK_LOAD: ", err)
	}
	return d
}

// TestFiftyReadersFiveWriters: while fifty read and five write, each with a pause of
// 50 ms, over HTTP on the loopback, nothing that was answered is lost, nothing is
// done twice, and no page breaks.
func TestFiftyReadersFiveWriters(t *testing.T) {
	if testing.Short() {
		t.Skip("it takes some seconds")
	}
	storetest.Each(t, func(t *testing.T, dsn string) {
		p := newPlace(t, dsn, 60, atHome)
		p.takeFile("shared.csv", "job_no,placement,placed_on,use,area_sqft,thickness_in\nSHARED,A,2026-03-02,driveway,999,4\n")
		before, err := p.store.Batches(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		running := time.Now()
		p.site.Now = func() time.Time { return p.now().Add(time.Since(running)) }
		c := crowdAt(t, p.served())
		const pause = 50 * time.Millisecond
		l := newLedger()
		members, writers := c.readers(p.store, 50), c.writers(p.store, 5, l)
		c.warm(members)
		until := time.Now().Add(loadFor(t))
		var wait sync.WaitGroup
		for k, m := range members {
			wait.Go(func() { m.reads(k, pause, until) })
		}
		for _, w := range writers {
			wait.Go(func() { w.writes(pause, until) })
		}
		wait.Wait()
		c.tell()
		l.isKept(t, p, len(before))
	})
}

// served has the site answer over HTTP, and returns its address.
func (p *place) served() string {
	p.t.Helper()
	ln, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		p.t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	done := make(chan error, 1)
	go func() { done <- p.site.Serve(ctx, ln, nil, Plan{}) }()
	p.t.Cleanup(func() {
		stop()
		if err := <-done; err != nil {
			p.t.Error(err)
		}
	})
	return "http://" + ln.Addr().String()
}

// together adds the kinds of each first word up.
func (c *crowd) together() {
	for _, kind := range slices.Collect(maps.Keys(c.took)) {
		all := strings.Fields(kind)[0] + " (all)"
		c.took[all] = append(c.took[all], c.took[kind]...)
	}
}

// tell tells how long answers took.
func (c *crowd) tell() {
	var text strings.Builder
	for _, kind := range slices.Sorted(maps.Keys(c.took)) {
		all := c.took[kind]
		slices.Sort(all)
		fmt.Fprintf(&text, "\n%-50s %6d  p50 %8v  p99 %8v", kind, len(all), all[len(all)/2].Round(100*time.Microsecond), all[len(all)*99/100].Round(100*time.Microsecond))
	}
	c.t.Log(text.String()) // in one piece: a benchmark shows few
}

// isKept holds what is on record against what a crowd was told.
func (l *ledger) isKept(t *testing.T, p *place, before int) {
	t.Helper()
	if len(l.bids) == 0 || len(l.files) == 0 || len(l.fixes) == 0 || len(l.fates) == 0 {
		t.Fatalf("too little was written: %d bids, %d files, %d mended, %d marked", len(l.bids), len(l.files), len(l.fixes), len(l.fates))
	}
	t.Logf("%d bids, %d files, %d mended, %d bids marked, %d forms in all", len(l.bids), len(l.files), len(l.fixes), len(l.fates), len(l.keys))
	l.bidsAreKept(t, p)
	l.batchesAreKept(t, p, before)
	ctx := t.Context()
	for key, did := range l.keys {
		var done *store.DoneError
		if err := p.store.Done(ctx, &store.Deed{Key: key}); !errors.As(err, &done) || !strings.HasPrefix(done.Did, did) {
			t.Errorf("a form that was answered did %q, and stands as %v", did, done)
		}
	}
	log, err := p.store.Log(ctx, 1<<30)
	if err != nil || len(log) != len(l.keys) {
		t.Errorf("%d lines in the log for %d forms, %v", len(log), len(l.keys), err)
	}
	if waiting, err := p.store.Uploads(ctx); err != nil || len(waiting) > 0 {
		t.Errorf("files wait: %+v, %v", waiting, err)
	}
	checked, err := p.store.Check(ctx, func(f store.Fault) { t.Errorf("%+v", f) })
	if err != nil || checked.Faults != 0 || checked.Rows == 0 || checked.Bids != len(l.bids) {
		t.Errorf("%+v, %v", checked, err)
	}
}

func (l *ledger) bidsAreKept(t *testing.T, p *place) {
	bids, err := p.store.Bids(t.Context())
	if err != nil || len(bids) != len(l.bids) {
		t.Errorf("%d bids, want %d; %v", len(bids), len(l.bids), err)
	}
	names := map[int64]string{}
	for name, id := range l.bids {
		names[id] = name
	}
	for _, b := range bids {
		if name, ok := names[b.ID]; !ok || !strings.Contains(b.Spec, `"`+name+`"`) {
			t.Errorf("bid %d is not %q: %.200s", b.ID, name, b.Spec)
		}
		if want := l.fates[b.ID]; cmp.Or(b.Fate, "open") != cmp.Or(want, "open") {
			t.Errorf("bid %d is marked %q, want %q", b.ID, b.Fate, want)
		}
	}
}

func (l *ledger) batchesAreKept(t *testing.T, p *place, before int) {
	batches, err := p.store.Batches(t.Context())
	if err != nil || len(batches) != before+len(l.files)+len(l.fixes) {
		t.Errorf("%d batches, want %d, %d of files and %d of what was mended; %v", len(batches), before+len(l.files)+len(l.fixes), len(l.files), len(l.fixes), err)
	}
	times := map[string]int{}
	for _, b := range batches[min(before, len(batches)):] {
		_, why, _ := strings.Cut(b.File, ": ")
		times[cmp.Or(why, b.File)]++
	}
	for why := range l.fixes {
		if times[why] != 1 {
			t.Errorf("%q was done %d times", why, times[why])
		}
	}
	h, err := p.store.History(t.Context(), testDay)
	if err != nil {
		t.Fatal(err)
	}
	met := map[string]int{}
	for i := range h.Placements.Len() {
		is := h.Placements.Row(i)
		met[is.JobNo]++
		if want, ok := l.areas[is.JobNo]; ok && fmt.Sprint(is.AreaSqft.V) != want {
			t.Errorf("%s has %v sqft, want %s", is.JobNo, is.AreaSqft.V, want)
		}
	}
	for job := range l.files {
		if met[job] != 1 || times[job+".csv"] != 1 {
			t.Errorf("%s is there %d times, by %d files", job, met[job], times[job+".csv"])
		}
	}
}
