package store_test

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"strconv"
	"sync"
	"testing"
	"time"

	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/ingest/store/storetest"
)

// TestMain lets the test binary serve as the other program that uses the same
// database: told of one, it takes in files as fast as it can.
func TestMain(m *testing.M) {
	if dsn := os.Getenv("POURBACK_TEST_OTHER"); dsn != "" {
		files, _ := strconv.Atoi(os.Getenv("POURBACK_TEST_FILES"))
		if err := takeMany(dsn, os.Getenv("POURBACK_TEST_LOCK"), "other", files); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		os.Exit(0)
	}
	os.Exit(storetest.Main(m))
}

// takeMany opens a database and takes in files of one row that all share, which
// each changes, and one of its own.
func takeMany(dsn, lock, name string, files int) error {
	ctx := context.Background()
	s, err := store.Open(ctx, dsn, store.Options{Lock: lock})
	if err != nil {
		return err
	}
	defer s.Close()
	for i := range files {
		tx, err := s.Begin(ctx, name, "00", now)
		if err != nil {
			return err
		}
		_, err = tx.Add(ctx, record.Costs, nil, numbered(cost("shared", "pump", fmt.Sprint(name, i)), cost(fmt.Sprint(name, i), "pump", "h")))
		if err != nil {
			tx.Rollback()
			return err
		}
		if _, err := tx.Commit(ctx, store.Batch{}); err != nil {
			return err
		}
	}
	return nil
}

// other starts takeMany in a process of its own.
func other(dsn, lock string, files int) *exec.Cmd {
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), "POURBACK_TEST_OTHER="+dsn, "POURBACK_TEST_LOCK="+lock, "POURBACK_TEST_FILES="+strconv.Itoa(files))
	cmd.Stderr = os.Stderr
	return cmd
}

// TestTwoProcessesMakeADatabase opens one that does not exist yet, at once.
func TestTwoProcessesMakeADatabase(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		for _, lock := range []string{"advisory", "none"} {
			var both []*exec.Cmd
			for range 3 {
				cmd := other(dsn, lock, 0)
				if err := cmd.Start(); err != nil {
					t.Fatal(err)
				}
				both = append(both, cmd)
			}
			for _, cmd := range both {
				if err := cmd.Wait(); err != nil {
					t.Error(err)
				}
			}
		}
	})
}

// TestWritersQueue lets two processes and several goroutines write at once: none
// may fail, and nothing may be lost.
func TestWritersQueue(t *testing.T) {
	const goroutines, files = 3, 6
	for _, lock := range []string{"advisory", "none"} {
		t.Run(lock, func(t *testing.T) {
			storetest.Each(t, func(t *testing.T, dsn string) {
				if _, file := store.File(dsn); lock == "none" && !file {
					dsn += "&application_name=" + storetest.Lockless
				}
				cmd := other(dsn, lock, 2*files)
				if err := cmd.Start(); err != nil {
					t.Fatal(err)
				}
				s, err := store.Open(t.Context(), dsn, store.Options{Lock: lock})
				if err != nil {
					t.Fatal(err)
				}
				defer s.Close()
				var all sync.WaitGroup
				for g := range goroutines {
					all.Go(func() {
						if err := takeMany(dsn, lock, fmt.Sprintf("g%d-", g), files); err != nil {
							t.Error(err)
						}
					})
					all.Go(func() { readWhile(t, s) })
				}
				all.Wait()
				if err := cmd.Wait(); err != nil {
					t.Error(err)
				}
				equal(t, "rows", len(dump(t, s, record.Costs)), goroutines*files+2*files+1)
				batches, err := s.Batches(t.Context())
				equal(t, "error", err, nil)
				equal(t, "batches", len(batches), goroutines*files+2*files)
				changed := 0
				for _, b := range batches {
					changed += b.Changed
				}
				equal(t, "changes of the shared row", changed, len(batches)-1)
			})
		})
	}
}

// readWhile reads whole histories while others write: each must be of one moment.
func readWhile(t *testing.T, s *store.Store) {
	for range 5 {
		h, err := s.History(t.Context(), record.DateOf(2030, 1, 1))
		if err != nil {
			t.Error(err)
			return
		}
		if len(h.Costs) == 1 {
			t.Error("a history with half a file")
		}
	}
}

// TestOneStoreManyGoroutines has them share a store, too.
func TestOneStoreManyGoroutines(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		s := open(t, dsn)
		var all sync.WaitGroup
		for g := range 30 {
			all.Go(func() {
				take(t, s, record.Costs, nil, numbered(cost(fmt.Sprint(g), "pump", "h")))
			})
		}
		all.Wait()
		equal(t, "rows", len(dump(t, s, record.Costs)), 30)
	})
}

// TestInterrupt ends the context in the middle of a file: nothing of it stays,
// and the next writer gets its turn.
func TestInterrupt(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		s := open(t, dsn)
		ctx, stop := context.WithCancel(t.Context())
		tx, err := s.Begin(ctx, "f", "00", now)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := tx.Add(ctx, record.Costs, nil, numbered(cost("J1", "pump", "h"))); err != nil {
			t.Fatal(err)
		}
		stop()
		for _, wait := range []time.Duration{0, 20 * time.Millisecond} { // before and after the driver has noticed
			time.Sleep(wait)
			if _, err := tx.Add(ctx, record.Costs, nil, numbered(cost("J2", "pump", "h"))); !errors.Is(err, context.Canceled) {
				t.Errorf("add: %v", err)
			}
		}
		if _, err := tx.Add(t.Context(), record.Costs, nil, numbered(cost("J3", "pump", "h"))); err == nil {
			t.Error("added to what had been rolled back")
		}
		if _, err := tx.Commit(t.Context(), store.Batch{}); err == nil {
			t.Error("committed what had been rolled back")
		}
		equal(t, "rollback", tx.Rollback(), nil)
		take(t, s, record.Costs, nil, numbered(cost("J4", "pump", "h")))
		equal(t, "rows", dump(t, s, record.Costs), []string{"J4|pump|||||h|||"})
	})
}

// TestWaitingEndsWithTheContext holds a writer up with another one.
func TestWaitingEndsWithTheContext(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		holder, waiter := open(t, dsn), open(t, dsn)
		tx, err := holder.Begin(t.Context(), "f", "00", now)
		if err != nil {
			t.Fatal(err)
		}
		defer tx.Rollback()
		for _, s := range []*store.Store{holder, waiter} {
			ctx, stop := context.WithTimeout(t.Context(), 50*time.Millisecond)
			if _, err := s.Begin(ctx, "f", "00", now); !errors.Is(err, context.DeadlineExceeded) {
				t.Errorf("begin: %v", err)
			}
			stop()
		}
	})
}

// TestHeldUp waits longer than SQLite's own patience for another writer.
func TestHeldUp(t *testing.T) {
	dsn := storetest.SQLite(t)
	holder := open(t, dsn)
	waiter, err := store.Open(t.Context(), dsn, store.Options{BusyTimeout: 10 * time.Millisecond})
	if err != nil {
		t.Fatal(err)
	}
	defer waiter.Close()
	tx, err := holder.Begin(t.Context(), "f", "00", now)
	if err != nil {
		t.Fatal(err)
	}
	time.AfterFunc(200*time.Millisecond, func() { tx.Rollback() })
	b, _ := take(t, waiter, record.Costs, nil, numbered(cost("J1", "pump", "h")))
	equal(t, "batch", b.ID, int64(1))
}

// TestWhoWritesWaitsForNoReader: where all that read are at it, and more of them wait,
// who writes is let in.
func TestWhoWritesWaitsForNoReader(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		s, err := store.Open(t.Context(), dsn, store.Options{Readers: 2})
		if err != nil {
			t.Fatal(err)
		}
		defer s.Close()
		const many = 20 // more than there are connections
		stop := make(chan struct{})
		var wait sync.WaitGroup
		for range many {
			wait.Go(func() {
				err := s.Snapshot(t.Context(), func(*store.Snapshot) error {
					<-stop
					return nil
				})
				if err != nil {
					t.Error(err)
				}
			})
		}
		defer wait.Wait()
		defer close(stop)
		for !s.ReadersQueue() {
			time.Sleep(time.Millisecond)
		}
		ctx, end := context.WithTimeout(t.Context(), 10*time.Second)
		defer end()
		tx, err := s.Begin(ctx, "form", "00", now)
		if err != nil {
			t.Fatal("who writes waits for those who read: ", err)
		}
		tx.Rollback()
	})
}
