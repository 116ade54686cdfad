package site

import (
	"bytes"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"testing/iotest"
	"time"

	"pourback/ingest/store"
	"pourback/ingest/store/storetest"
)

// TestKilledUnderWriters kills a site at random moments while files come in and are
// kept, bids are kept and marked, values mended: what got no answer is sent again to
// the next site, as it was, and all of it stands once.
func TestKilledUnderWriters(t *testing.T) {
	if testing.Short() {
		t.Skip("it takes some seconds")
	}
	dsn := storetest.SQLite(t)
	p := newPlace(t, dsn, 0, atHome)
	url, _, process := alone(t, dsn)
	p.fallsUnder(t, crowdAt(t, url), func(c *crowd) {
		if err := process.Kill(); err != nil {
			t.Error(err)
		}
		url, _, process = alone(t, dsn)
		c.at.Store(&url)
	})
}

// TestTheServerCrashesUnderWriters has the PostgreSQL server under a site crash and
// come back.
func TestTheServerCrashesUnderWriters(t *testing.T) {
	if testing.Short() {
		t.Skip("it takes some seconds")
	}
	p := newPlace(t, storetest.Postgres(t), 0, atHome)
	running := time.Now()
	p.site.Now = func() time.Time { return p.now().Add(time.Since(running)) }
	p.fallsUnder(t, crowdAt(t, p.served()), func(*crowd) { storetest.Crash(t) })
}

// fallsUnder has three write while something falls and comes back, some times.
func (p *place) fallsUnder(t *testing.T, c *crowd, falls func(*crowd)) {
	p.takeFile("shared.csv", "job_no,placement,placed_on,use,area_sqft,thickness_in\nSHARED,A,2026-03-02,driveway,999,4\n")
	c.again = true
	l := newLedger()
	writers := c.writers(p.store, 3, l)
	stop := make(chan struct{})
	var wait, fall sync.WaitGroup
	fall.Go(func() {
		for range 4 {
			select {
			case <-stop:
				return
			case <-time.After(200*time.Millisecond + rand.N(400*time.Millisecond)):
				falls(c)
			}
		}
	})
	for _, w := range writers {
		wait.Go(func() { w.writes(5*time.Millisecond, time.Now().Add(3*time.Second)) })
	}
	wait.Wait()
	close(stop)
	fall.Wait()
	l.isKept(t, p, 1)
}

// TestTheDiskIsFull: who hands a file in is told that there is no room, pages are
// there all the same, and nothing is half kept. It wants to mount a small disk, which
// only some may.
func TestTheDiskIsFull(t *testing.T) {
	dir := t.TempDir()
	if out, err := exec.Command("mount", "-t", "tmpfs", "-o", "size=3m", "tmpfs", dir).CombinedOutput(); err != nil {
		t.Skipf("no small disk can be made here: %s", out)
	}
	t.Cleanup(func() { exec.Command("umount", dir).Run() }) // after the store is closed
	p := newPlace(t, filepath.Join(dir, "pourback.db"), 10, atHome)
	b := p.surfer()
	large := bytes.NewBuffer(oddLog(t))
	for range 300_000 {
		fmt.Fprintf(large, "%s,2026-03-02\n", newKey())
	}
	got := b.drop(newKey(), "large.csv", large.Bytes())
	if got.says(t, "The disk is full, so nothing was kept.", "Make room"); got.status != 507 {
		t.Error(got)
	}
	if got := b.get("/report/waste"); got.status != 200 {
		t.Error(got)
	}
	if waiting, err := p.store.Uploads(t.Context()); err != nil || len(waiting) > 0 {
		t.Errorf("half of it waits: %+v, %v", waiting, err)
	}
	if checked, err := p.store.Check(t.Context(), func(f store.Fault) { t.Errorf("%+v", f) }); err != nil || checked.Rows == 0 {
		t.Errorf("%+v, %v", checked, err)
	}
}

// TestTheClockGoesBack: whoever is signed in stays so, what waits is not swept, and
// nobody is locked out by the limits.
func TestTheClockGoesBack(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 10, public)
	p.user("Ana", Owner)
	b := p.signedIn("Ana")
	at := b.waiting("odd-log.csv", oddLog(t))
	for _, by := range []time.Duration{-time.Hour, -400 * 24 * time.Hour, 400*24*time.Hour + time.Hour} {
		p.later(by)
		if err := p.site.sweepUploads(t.Context(), p.now()); err != nil {
			t.Error(err)
		}
		p.site.limits.forget(p.now())
		for range 30 {
			if got := b.get("/report/waste"); got.status != 200 && got.status != 404 {
				t.Fatalf("%v by %v", got, by)
			}
		}
		if got := b.get(at); got.status != 200 {
			t.Errorf("%v by %v", got, by)
		}
		if got := b.post("/bids", append([]string{keyField, newKey()}, aSlab...)...); got.status != 303 {
			t.Errorf("%v by %v", got, by)
		}
	}
	p.signedIn("Ana")
}

// TestAnUploadThatHangs: who falls silent in the middle is told so, it is no fault of
// ours, and nothing of it stays.
func TestAnUploadThatHangs(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 0, atHome)
	b := p.surfer()
	kind, head := "multipart/form-data; boundary=x", "--x\r\nContent-Disposition: form-data; name=\"form_key\"\r\n\r\n"+newKey()+"\r\n--x\r\nContent-Disposition: form-data; name=\"file\"; filename=\"log.csv\"\r\n\r\njob_no,placed_on\r\n"
	got := b.send(kind, io.MultiReader(strings.NewReader(head), iotest.ErrReader(fmt.Errorf("read: %w", os.ErrDeadlineExceeded))))
	if got.status != 400 {
		t.Error(got)
	}
	if waiting, err := p.store.Uploads(t.Context()); err != nil || len(waiting) > 0 {
		t.Errorf("%+v, %v", waiting, err)
	}
}
