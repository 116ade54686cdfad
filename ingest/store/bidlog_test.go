package store_test

import (
	"fmt"
	"slices"
	"strings"
	"sync"
	"testing"

	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/ingest/store/storetest"
)

var said = record.DateOf(2025, 6, 9)

// keep keeps a bid that revises another, or none where that is 0.
func keep(t *testing.T, s *store.Store, revises int64) int64 {
	t.Helper()
	b := aBid("")
	b.Revises = revises
	id, err := s.KeepBid(t.Context(), b)
	if err != nil {
		t.Fatal(err)
	}
	return id
}

// mark marks a bid, and says whether that was news.
func mark(t *testing.T, s *store.Store, id int64, fate string) bool {
	t.Helper()
	_, news, err := s.MarkBid(t.Context(), id, fate, said)
	if err != nil {
		t.Fatal(err)
	}
	return news
}

// TestBidsAreMarked with a day, each mark once in the log, and back.
func TestBidsAreMarked(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		s := open(t, dsn)
		id := keep(t, s, 0)
		for _, c := range []struct {
			fate string
			news bool
		}{{"", false}, {"won", true}, {"won", false}, {"lost", true}, {"", true}, {"", false}, {"void", true}} {
			equal(t, "news of "+c.fate, mark(t, s, id, c.fate), c.news)
			one, err := s.Bid(t.Context(), id)
			equal(t, "error", err, nil)
			day := said
			if c.fate == "" {
				day = 0
			}
			equal(t, "fate", []any{one.Fate, one.FateOn}, []any{c.fate, day})
		}
		log, err := s.BidLog(t.Context())
		equal(t, "error", err, nil)
		equal(t, "log", log, []store.BidChange{{1, id, said, "mark", "", "won"}, {2, id, said, "mark", "won", "lost"}, {3, id, said, "mark", "lost", ""}, {4, id, said, "mark", "", "void"}})
		_, _, err = s.MarkBid(t.Context(), 9, "won", said)
		wantSays(t, err, "no bid 9", "the latest is 1")
		equal(t, "digests", s.CheckDigests(t.Context()), nil)
	})
}

// TestBidsAreRevised: each version has its number and the one before it; what is
// replaced or marked is not revised, and what is replaced takes no mark.
func TestBidsAreRevised(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		s := open(t, dsn)
		one := keep(t, s, 0)
		other := keep(t, s, 0)
		two := keep(t, s, one)
		three := keep(t, s, two)
		bids, err := s.Bids(t.Context())
		equal(t, "error", err, nil)
		var got []string
		for _, b := range bids {
			got = append(got, fmt.Sprint(b.ID, b.Version, b.Revises, b.Root()))
		}
		equal(t, "versions", got, []string{"1 1 0 1", "2 1 0 2", "3 2 1 1", "4 3 3 1"})
		refused := func(id int64, says ...string) {
			t.Helper()
			b := aBid("")
			b.Revises = id
			_, err := s.KeepBid(t.Context(), b)
			wantSays(t, err, says...)
			wantSays(t, s.MayRevise(t.Context(), id), says...)
		}
		refused(one, "bid 1 was replaced by bid 4", "--revise 4", "--copy 1")
		refused(9, "no bid 9")
		_, _, err = s.MarkBid(t.Context(), one, "won", said)
		wantSays(t, err, "bid 1 was replaced by bid 4: mark that one")
		for _, fate := range []string{"won", "lost", "void"} {
			mark(t, s, other, fate)
			refused(other, "bid 2 is marked "+fate, "--open 2", "--copy 2")
		}
		mark(t, s, three, "void") // then the second stands again
		mark(t, s, two, "won")
		_, _, err = s.MarkBid(t.Context(), three, "", said)
		wantSays(t, err, "bid 3 is an earlier version of bid 4 and is marked won", "--open 3")
		mark(t, s, two, "")
		equal(t, "may be revised", s.MayRevise(t.Context(), two), nil)
		four := keep(t, s, two)
		b, err := s.Bid(t.Context(), four)
		equal(t, "error", err, nil)
		equal(t, "version", []int64{int64(b.Version), b.Revises, b.First}, []int64{4, two, one})
		equal(t, "digests", s.CheckDigests(t.Context()), nil)
		if _, faults := checked(t, s); len(faults) > 0 {
			t.Errorf("%+v", faults)
		}
	})
}

// TestVersionsAreUnique whatever writes them: the database itself refuses a second.
func TestVersionsAreUnique(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		s := open(t, dsn)
		keep(t, s, keep(t, s, 0))
		if err := s.Exec("INSERT INTO bids (bid_id, made_on, spec, result, factors, version, revises, first_bid) VALUES (9, '2025-06-03', '{}', '{}', '{}', 2, 1, 1)"); err == nil {
			t.Error("two bids are version 2 of the same bid")
		}
	})
}

// TestBidsAreMarkedAndRevisedAtOnce by several programs, with the writers' lock and
// without: every mark is in the log, each version has a number of its own, and no bid
// is both marked and replaced.
func TestBidsAreMarkedAndRevisedAtOnce(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		for _, lock := range []string{"advisory", "none"} {
			var stores []*store.Store
			for range 4 {
				s, err := store.Open(t.Context(), dsn, store.Options{Lock: lock})
				if err != nil {
					t.Fatal(err)
				}
				defer s.Close()
				stores = append(stores, s)
			}
			s := stores[0]
			first, linked := keep(t, s, 0), keep(t, s, 0)
			before, err := s.BidLog(t.Context())
			equal(t, "error", err, nil)
			var mu sync.Mutex
			entries, revised := 0, 0
			count := func(n *int, err error, news bool) {
				mu.Lock()
				defer mu.Unlock()
				switch {
				case err == nil && news:
					*n++
				case err != nil && !strings.Contains(err.Error(), "replaced by") && !strings.Contains(err.Error(), "is marked") && !strings.Contains(err.Error(), "earlier version"):
					t.Error(err)
				}
			}
			var wg sync.WaitGroup
			for w, s := range stores {
				wg.Go(func() {
					at := first
					for k := range 6 {
						news, err := s.LinkBid(t.Context(), linked, fmt.Sprint("J-", w, k), said)
						count(&entries, err, news)
						b := aBid("")
						b.Revises = at
						id, err := s.KeepBid(t.Context(), b)
						count(&revised, err, true)
						if err == nil {
							at = id
						}
						_, news, err = s.MarkBid(t.Context(), at, []string{"won", "lost", "void", ""}[k%4], said)
						count(&entries, err, news)
					}
				})
			}
			wg.Wait()
			log, err := s.BidLog(t.Context())
			equal(t, "error", err, nil)
			if n := len(log) - len(before); n != entries+revised || revised == 0 {
				t.Errorf("%s lock: %d entries of the log, of %d marks and jobs and %d revisions", lock, n, entries, revised)
			}
			bids, err := s.Bids(t.Context())
			equal(t, "error", err, nil)
			var versions []int
			for _, b := range bids {
				if b.Root() != first {
					continue
				}
				versions = append(versions, b.Version)
				for _, later := range bids {
					if later.Root() == first && later.Version > b.Version && later.Fate != "void" && b.Fate != "" && b.Fate != "void" {
						t.Errorf("%s lock: bid %d is %s and replaced by bid %d", lock, b.ID, b.Fate, later.ID)
					}
				}
			}
			slices.Sort(versions)
			for i, v := range versions {
				if v != i+1 {
					t.Fatalf("%s lock: versions %v", lock, versions)
				}
			}
			equal(t, "versions", len(versions), revised+1)
			if _, faults := checked(t, s); len(faults) > 0 {
				t.Errorf("%s lock: %+v", lock, faults)
			}
		}
	})
}
