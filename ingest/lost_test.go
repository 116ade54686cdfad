package ingest_test

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"pourback/ingest"
	"pourback/ingest/store"
	"pourback/ingest/store/storetest"
)

// These tests end, stall and swallow the connections of a PostgreSQL server
// under whatever uses them. Whatever happens: the call ends within seconds, all
// is kept or nothing, and it says which.

// within fails a test whose work does not end: it must not hang.
func within(t *testing.T, limit time.Duration, what string, work func() error) error {
	t.Helper()
	done := make(chan error, 1)
	go func() { done <- work() }()
	select {
	case err := <-done:
		return err
	case <-time.After(limit):
		t.Fatalf("%s hangs", what)
		return nil
	}
}

// moments is how many times something is tried: few in a short run.
func moments(n int) int {
	if testing.Short() {
		return max(1, n/8)
	}
	return n
}

// holding is all that a store holds, as one text: records, batches, changes.
func holding(t *testing.T, dsn string) string {
	t.Helper()
	st := open(t, dsn)
	defer st.Close()
	text := fmt.Sprint(exported(t, st))
	batches, err := st.Batches(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	for _, b := range batches {
		changes, err := st.Changes(context.Background(), b.ID)
		if err != nil {
			t.Fatal(err)
		}
		text += fmt.Sprintf("\n%+v %+v", b, changes)
	}
	return text
}

type handed struct {
	dsn                    string   // a database that has taken the first files in
	first, second          []string // a company's files, and the same with many changes
	before, between, after string   // what a store holds: empty, with the first files, with both
	one                    string   // with the second of the second files only
}

func handIn(t *testing.T) handed {
	t.Helper()
	h := handed{first: inventedFiles(t, 40)}
	for _, path := range h.first {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		changed := filepath.Join(t.TempDir(), filepath.Base(path))
		if err := os.WriteFile(changed, []byte(strings.NewReplacer("driveway", "garage slab", "Heron", "Wren", ",planned,", ",callback,").Replace(string(text))), 0o644); err != nil {
			t.Fatal(err)
		}
		h.second = append(h.second, changed)
	}
	h.dsn = storetest.Postgres(t)
	h.before = holding(t, h.dsn)
	mustTake(t, h.dsn, h.first)
	h.between = holding(t, h.dsn)
	dsn := storetest.Like(t, h.dsn)
	mustTake(t, dsn, h.second)
	h.after = holding(t, dsn)
	dsn = storetest.Like(t, h.dsn)
	mustTake(t, dsn, h.second[1:2])
	h.one = holding(t, dsn)
	if h.before == h.between || h.between == h.after {
		t.Fatal("the files change nothing")
	}
	return h
}

func mustTake(t *testing.T, dsn string, files []string) {
	t.Helper()
	if err := takeFiles(dsn, files, store.Options{}); err != nil {
		t.Fatal(err)
	}
}

func takeFiles(dsn string, files []string, opt store.Options) error {
	st, err := store.Open(context.Background(), dsn, opt)
	if err != nil {
		return err
	}
	defer st.Close()
	return takeInto(st, files)
}

// takeInto takes one file after the other in, by a call each.
func takeInto(st *store.Store, files []string) error {
	for _, path := range files {
		o := ingest.Options{TakenAt: today + "T12:00:00Z"}
		o.Sheet.Today = day(today)
		if _, err := ingest.Files(context.Background(), st, []string{path}, o); err != nil {
			return err
		}
	}
	return nil
}

// soon runs strike at some moment of the time that work takes.
func soon(random *rand.Rand, takes time.Duration, strike func()) {
	at := time.Duration(random.Int64N(int64(takes)))
	go func() {
		time.Sleep(at)
		strike()
	}()
}

// TestConnectionsEndDuringIngest ends them once, at many moments: the file is
// taken in by another try, and nothing is lost or doubled.
func TestConnectionsEndDuringIngest(t *testing.T) {
	h := handIn(t)
	random := rand.New(rand.NewPCG(1, 2))
	takes := 400 * time.Millisecond
	struck := 0
	for range moments(30) {
		dsn := storetest.Like(t, h.dsn)
		done := make(chan struct{})
		soon(random, takes, func() { struck += storetest.EndConnections(t, dsn); close(done) })
		began := time.Now()
		err := within(t, 20*time.Second, "ingest", func() error { return takeFiles(dsn, h.second, store.Options{}) })
		takes = max(takes/2, min(takes, time.Since(began)))
		<-done
		if err != nil {
			t.Errorf("not taken in by another try: %v", err)
		} else if holding(t, dsn) != h.after {
			t.Error("after another try the store holds something else")
		}
	}
	if struck == 0 {
		t.Error("no connection was ended")
	}
}

// TestConnectionsEndForGood ends every connection as soon as it is made: the
// call gives up, keeps nothing of the file and says so.
func TestConnectionsEndForGood(t *testing.T) {
	h := handIn(t)
	gaveUp := 0
	for range moments(8) {
		dsn := storetest.Like(t, h.dsn)
		st := open(t, dsn)
		var stop atomic.Bool
		ended := make(chan struct{})
		go func() {
			for !stop.Load() {
				storetest.EndConnections(t, dsn)
				time.Sleep(time.Millisecond)
			}
			close(ended)
		}()
		err := within(t, 20*time.Second, "ingest", func() error { return takeInto(st, h.second[1:2]) })
		stop.Store(true)
		<-ended
		switch got := holding(t, dsn); {
		case errors.Is(err, store.ErrLost) && got == h.between && strings.Contains(err.Error(), "nothing kept: try again"):
			gaveUp++
		case errors.Is(err, store.ErrLost):
			t.Errorf("something was kept, or it is not said that nothing was: %v", err)
		case got != h.one: // it came through between two ends, whatever ended behind that
			t.Errorf("neither nothing is kept nor all: %v", err)
		}
	}
	if gaveUp == 0 {
		t.Error("it never gave up")
	}
}

// TestConnectionsEndDuringUndo takes a batch back meanwhile.
func TestConnectionsEndDuringUndo(t *testing.T) {
	h := handIn(t)
	random := rand.New(rand.NewPCG(3, 4))
	takes := 100 * time.Millisecond
	want := ""
	for i := range moments(12) + 1 { // the first time undisturbed
		dsn := storetest.Like(t, h.dsn)
		mustTake(t, dsn, h.second[1:2])
		st := open(t, dsn)
		batches, err := st.Batches(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		last := batches[len(batches)-1].ID
		done := make(chan struct{})
		if i == 0 {
			close(done)
		} else {
			soon(random, takes, func() { storetest.EndConnections(t, dsn); close(done) })
		}
		began := time.Now()
		err = within(t, 20*time.Second, "undo", func() error { _, err := st.Undo(context.Background(), last, today+"T13:00:00Z"); return err })
		if i == 0 {
			takes = time.Since(began) + time.Millisecond
		}
		<-done
		if err != nil {
			t.Errorf("not taken back by another try: %v", err)
		}
		if got := holding(t, dsn); i == 0 {
			want = got
		} else if got != want {
			t.Error("after another try the store holds something else")
		}
	}
}

// TestConnectionsEndDuringMigration makes the schema meanwhile.
func TestConnectionsEndDuringMigration(t *testing.T) {
	h := handIn(t)
	random := rand.New(rand.NewPCG(5, 6))
	for range moments(12) {
		dsn := storetest.Postgres(t)
		done := make(chan struct{})
		soon(random, 120*time.Millisecond, func() { storetest.EndConnections(t, dsn); close(done) })
		err := within(t, 20*time.Second, "migration", func() error {
			st, err := store.Open(context.Background(), dsn, store.Options{})
			if err == nil {
				err = st.Close()
			}
			return err
		})
		<-done
		if err != nil {
			t.Errorf("not made by another try: %v", err)
		}
		if holding(t, dsn) != h.before {
			t.Error("a schema that holds something")
		}
		mustTake(t, dsn, h.first[1:2])
	}
}

// TestServerCrashesDuringIngest has it come back, too.
func TestServerCrashesDuringIngest(t *testing.T) {
	h := handIn(t)
	random := rand.New(rand.NewPCG(7, 8))
	for range moments(6) {
		dsn := storetest.Like(t, h.dsn)
		done := make(chan struct{})
		soon(random, 300*time.Millisecond, func() { storetest.Crash(t); close(done) })
		// A server that comes back on a machine that is busy with other tests takes its time.
		err := within(t, 90*time.Second, "ingest", func() error { return takeFiles(dsn, h.second, store.Options{Patience: time.Minute}) })
		<-done
		if err != nil {
			t.Errorf("not taken in once the server was back: %v", err)
			continue
		}
		if holding(t, dsn) != h.after {
			t.Error("after the crash the store holds something else")
		}
	}
}

// TestBytesAreSwallowed loses, stalls and cuts what goes between, at many
// places of one file's way: the answer to the commit among them.
func TestBytesAreSwallowed(t *testing.T) {
	h := handIn(t)
	whole := func(down bool) int64 { // how much goes that way, undisturbed
		dsn := storetest.Like(t, h.dsn)
		p, address := through(t, storetest.Socket(t), fault{down: down, after: 1 << 40})
		if err := takeFiles(storetest.Through(dsn, address), h.second[1:2], store.Options{}); err != nil {
			t.Fatal(err)
		}
		return p.passed.Load()
	}
	random := rand.New(rand.NewPCG(9, 10))
	size := map[bool]int64{false: whole(false), true: whole(true)}
	opt := store.Options{Patience: 300 * time.Millisecond}
	for i := range moments(30) {
		f := fault{does: []string{"cut", "swallow", "stall"}[i%3], down: i/3%2 == 1, all: i/6%2 == 1}
		f.after = random.Int64N(size[f.down])
		if i%8 == 0 { // the last bytes: the end of the transaction
			f.after = size[f.down] - 1 - random.Int64N(200)
		}
		t.Run(fmt.Sprintf("%+v", f), func(t *testing.T) {
			t.Parallel()
			dsn := storetest.Like(t, h.dsn)
			p, address := through(t, storetest.Socket(t), f)
			err := within(t, 40*time.Second, "ingest", func() error {
				return takeFiles(storetest.Through(dsn, address)+"&connect_timeout=1", h.second[1:2], opt)
			})
			got := holding(t, dsn)
			switch {
			case !p.struck.Load():
				t.Error("nothing was disturbed")
			case err == nil && got != h.one:
				t.Error("said to be kept, and is not")
			case errors.Is(err, store.ErrLost) && got != h.between:
				t.Errorf("said not to be kept, and is: %v", err)
			case err != nil && got != h.one && got != h.between:
				t.Errorf("half of it is kept: %v", err)
			case err != nil && !f.all:
				t.Errorf("not taken in by another try: %v", err)
			}
		})
	}
}
