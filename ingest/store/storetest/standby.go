package storetest

import (
	"sync"
	"testing"
	"time"
)

// pair is a primary and the standby that it streams to.
type pair struct{ primary, standby *throwaway }

var servers = sync.OnceValues(func() (p pair, err error) {
	if p.primary, err = start("", "-c wal_level=replica -c max_wal_senders=4"); err != nil {
		return p, err
	}
	p.standby, err = start(p.primary.dir, "-c hot_standby=on -c max_wal_senders=4")
	return p, err
})

// Replicated makes an empty database in a throwaway primary, and returns its DSN
// and the DSN of the same database on a hot standby, which follows a little
// later (see [CatchUp]) and takes no writes. It is dropped when the test ends.
func Replicated(t testing.TB) (primary, standby string) {
	t.Helper()
	p, err := servers()
	required(t, err)
	name := fresh(t, p.primary, "")
	CatchUp(t)
	return p.primary.dsn(name), p.standby.dsn(name)
}

// CatchUp waits until the standby has all that the primary has kept so far.
func CatchUp(t testing.TB) {
	t.Helper()
	p, err := servers()
	if err != nil {
		t.Fatal(err)
	}
	var kept string
	if err := p.primary.admin.QueryRow("SELECT pg_current_wal_flush_lsn()").Scan(&kept); err != nil {
		t.Fatal(err)
	}
	for end := time.Now().Add(30 * time.Second); ; time.Sleep(5 * time.Millisecond) {
		there := false
		err := p.standby.admin.QueryRow("SELECT pg_last_wal_replay_lsn() >= $1", kept).Scan(&there)
		switch {
		case err != nil:
			t.Fatal(err)
		case there:
			return
		case time.Now().After(end):
			t.Fatal("the standby does not catch up")
		}
	}
}
