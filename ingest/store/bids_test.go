package store_test

import (
	"slices"
	"strings"
	"sync"
	"testing"

	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/ingest/store/storetest"
)

func aBid(jobNo string) store.Bid {
	return store.Bid{MadeOn: record.DateOf(2025, 6, 3), JobNo: jobNo, Spec: `{"site":"Lot 4 — \u0000 'x'"}`, Result: `{"yd":10.5}`, Factors: `{}`}
}

// TestBidsAreKept finds every bid again as it was, after a reopening too.
func TestBidsAreKept(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		s := open(t, dsn)
		if bids, err := s.Bids(t.Context()); err != nil || len(bids) != 0 {
			t.Errorf("an empty database has %v (%v)", bids, err)
		}
		_, err := s.Bid(t.Context(), 1)
		wantSays(t, err, "no bid 1", "none has been kept")
		want := []store.Bid{aBid(""), aBid("J-7")}
		for i := range want {
			id, err := s.KeepBid(t.Context(), want[i])
			want[i].Version = 1
			if want[i].ID = int64(i + 1); err != nil || id != want[i].ID {
				t.Fatalf("kept as %d (%v)", id, err)
			}
		}
		s.Close()
		s = open(t, dsn)
		got, err := s.Bids(t.Context())
		equal(t, "error", err, nil)
		listed := slices.Clone(want)
		for i := range listed {
			listed[i].Factors = ""
		}
		equal(t, "bids", got, listed)
		one, err := s.Bid(t.Context(), 2)
		equal(t, "error", err, nil)
		equal(t, "bid 2", one, want[1])
		_, err = s.Bid(t.Context(), 9)
		wantSays(t, err, "no bid 9", "the latest is 2")
	})
}

// TestBidsReadBefore: a list by one that was read before is the list, whatever was kept and
// said meanwhile; what bids say comes from the one before, and one of another database
// counts for nothing.
func TestBidsReadBefore(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		s := open(t, dsn)
		keep := func(job string) {
			if _, err := s.KeepBid(t.Context(), aBid(job)); err != nil {
				t.Fatal(err)
			}
		}
		keep("")
		keep("J-7")
		before, err := s.Bids(t.Context())
		equal(t, "error", err, nil)
		keep("J-9")
		if _, _, err := s.MarkBid(t.Context(), 2, "won", record.DateOf(2025, 6, 9)); err != nil {
			t.Fatal(err)
		}
		if _, err := s.LinkBid(t.Context(), 1, "J-1", record.DateOf(2025, 6, 9)); err != nil {
			t.Fatal(err)
		}
		want, err := s.Bids(t.Context())
		equal(t, "error", err, nil)
		for _, known := range [][]store.Bid{before, before[:1], want, before[1:], {{ID: 7, Spec: "{}"}}} {
			got, err := s.Bids(t.Context(), known...)
			equal(t, "error", err, nil)
			equal(t, "bids", got, want)
			_, got, err = s.HistoryAndBids(t.Context(), record.DateOf(2025, 6, 9), known...)
			equal(t, "error", err, nil)
			equal(t, "bids of the history's moment", got, want)
		}
		want[1].Result = "as it was"
		if got, err := s.Bids(t.Context(), want...); err != nil || got[1].Result != "as it was" {
			t.Errorf("%+v, %v", got, err)
		}
	})
}

// TestBidsAreLinked to the job that came of them, and to no other bid's.
func TestBidsAreLinked(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		s := open(t, dsn)
		for range 2 {
			if _, err := s.KeepBid(t.Context(), aBid("")); err != nil {
				t.Fatal(err)
			}
		}
		jobs := func() []string {
			bids, err := s.Bids(t.Context())
			equal(t, "error", err, nil)
			return []string{bids[0].JobNo, bids[1].JobNo}
		}
		link := func(id int64, job string) bool {
			news, err := s.LinkBid(t.Context(), id, job, said)
			equal(t, "error", err, nil)
			return news
		}
		equal(t, "link", link(2, "J-1'; --"), true)
		equal(t, "the same again", link(2, "J-1'; --"), false)
		equal(t, "jobs", jobs(), []string{"", "J-1'; --"})
		equal(t, "unlink", link(2, ""), true)
		equal(t, "jobs", jobs(), []string{"", ""})
		_, err := s.LinkBid(t.Context(), 3, "J-1", said)
		wantSays(t, err, "no bid 3", "the latest is 2")
		log, err := s.BidLog(t.Context())
		equal(t, "error", err, nil)
		equal(t, "log", log, []store.BidChange{{1, 2, said, "job", "", "J-1'; --"}, {2, 2, said, "job", "J-1'; --", ""}})
	})
}

// TestBidsAtOnce get a number each, with the writers' lock and without.
func TestBidsAtOnce(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		for _, lock := range []string{"advisory", "none"} {
			s, err := store.Open(t.Context(), dsn, store.Options{Lock: lock})
			if err != nil {
				t.Fatal(err)
			}
			other, err := store.Open(t.Context(), dsn, store.Options{Lock: lock})
			if err != nil {
				t.Fatal(err)
			}
			const each = 5
			ids := make([]int64, 4*each)
			var wg sync.WaitGroup
			for w := range 4 {
				wg.Go(func() {
					for k := range each {
						var err error
						if ids[w*each+k], err = []*store.Store{s, other}[w%2].KeepBid(t.Context(), aBid("")); err != nil {
							t.Error(err)
						}
					}
				})
			}
			wg.Wait()
			slices.Sort(ids)
			if n := len(slices.Compact(slices.Clone(ids))); n != len(ids) || ids[len(ids)-1]-ids[0] != int64(len(ids)-1) {
				t.Errorf("%s lock: the bids have the numbers %v", lock, ids)
			}
			s.Close()
			other.Close()
		}
	})
}

func wantSays(t *testing.T, err error, words ...string) {
	t.Helper()
	for _, w := range words {
		if err == nil || !strings.Contains(err.Error(), w) {
			t.Errorf("%v lacks %q", err, w)
		}
	}
}
