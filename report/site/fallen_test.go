package site

import (
	"math/rand/v2"
	"sync"
	"testing"
	"time"

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
