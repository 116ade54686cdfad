package store_test

import (
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/ingest/store/storetest"
)

// TestVersionTellsWhatAnswersRestOn: another batch, one taken back, a bid and what is
// said of it are each another version, whoever does it; users and sessions are none.
func TestVersionTellsWhatAnswersRestOn(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		s, other := open(t, dsn), open(t, dsn)
		watched, err := store.Open(t.Context(), dsn, store.Options{Readers: 2})
		if err != nil {
			t.Fatal(err)
		}
		defer watched.Close()
		met := map[string]string{}
		last := ""
		step := func(what string, news bool, did error) {
			t.Helper()
			time.Sleep(10 * time.Millisecond) // what another program has written may go unseen for a moment
			is, err := watched.Version(t.Context())
			if err != nil || did != nil {
				t.Fatal(what, did, err)
			}
			if earlier := met[is]; news && earlier != "" || !news && is != last {
				t.Errorf("%s: version %s, as after %q", what, is, earlier)
			}
			ofBids := what == "a bid" || what == "its job" || what == "its fate"
			if same := store.SameRecords(last, is); last != "" && same != (ofBids || !news) {
				t.Errorf("%s: the same records: %v", what, same)
			}
			if same := store.SameBids(last, is); last != "" && same == ofBids {
				t.Errorf("%s: the same bids: %v", what, same)
			}
			met[is], last = what, is
		}
		step("nothing", true, nil)
		take(t, s, record.Jobs, only(record.Jobs, "job_no"), numbered(&record.Job{JobNo: "J-1"}))
		step("a batch", true, nil)
		_, err = s.AddUser(t.Context(), store.User{Name: "Ana", Role: "owner", Password: "x", MadeAt: now})
		step("a user", false, err)
		step("a session", false, other.BeginSession(t.Context(), store.Session{Hash: "h", UserID: 1, MadeAt: now, ExpiresAt: "2099-01-01T00:00:00Z"}, ""))
		id, err := other.KeepBid(t.Context(), store.Bid{MadeOn: record.DateOf(2025, 6, 3), Spec: "{}", Result: "{}", Factors: "{}"})
		step("a bid", true, err)
		_, err = s.LinkBid(t.Context(), id, "J-1", record.DateOf(2025, 6, 3))
		step("its job", true, err)
		_, _, err = other.MarkBid(t.Context(), id, "won", record.DateOf(2025, 6, 4))
		step("its fate", true, err)
		_, err = other.Undo(t.Context(), 1, now)
		step("a batch taken back", true, err)
	})
}

// TestWhoWritesSeesTheVersion: whoever has written finds it in the version at once, however
// many others write, ask, or write from elsewhere; and in the end all say the same.
func TestWhoWritesSeesTheVersion(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		s, err := store.Open(t.Context(), dsn, store.Options{Readers: 2})
		if err != nil {
			t.Fatal(err)
		}
		defer s.Close()
		other := open(t, dsn)
		bidIn := func(version string) (bid int64) {
			parts := strings.Split(version, ".")
			bid, err := strconv.ParseInt(parts[2], 10, 64)
			if err != nil {
				t.Error(version, err)
			}
			return bid
		}
		var wait sync.WaitGroup
		for range 6 {
			wait.Go(func() {
				last := int64(0)
				for range 15 {
					id, err := s.KeepBid(t.Context(), aBid(""))
					is, bad := s.Version(t.Context())
					if err != nil || bad != nil {
						t.Error(err, bad)
						return
					}
					if bid := bidIn(is); bid < id || bid < last {
						t.Errorf("after bid %d, and %d before, the version is %s", id, last, is)
					} else {
						last = bid
					}
				}
			})
		}
		wait.Go(func() {
			for range 15 {
				if _, err := other.KeepBid(t.Context(), aBid("")); err != nil {
					t.Error(err)
				}
			}
		})
		wait.Wait()
		time.Sleep(10 * time.Millisecond)
		for _, from := range []*store.Store{s, other} {
			if is, err := from.Version(t.Context()); err != nil || bidIn(is) != 7*15 {
				t.Errorf("in the end %s, %v", is, err)
			}
		}
	})
}
