package site

import (
	"errors"
	"sync"
	"testing"

	"pourback/ingest/store"
	"pourback/ingest/store/storetest"
)

// TestAFormIsDoneOnce: the same form sent again, by itself or at once many times,
// does nothing more and is answered alike; its key with other fields is refused.
func TestAFormIsDoneOnce(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		p := newPlace(t, dsn, 0, public)
		p.user("Ana", Owner)
		b := p.signedIn("Ana")
		key := b.get("/users").key(t)
		if got := b.post("/users/invite", keyField, key, "name", "Bo", "role", "crew"); got.status != 200 {
			t.Fatal(got)
		}
		again := b.post("/users/invite", keyField, key, "name", "Bo", "role", "crew")
		again.says(t, "Nothing was done twice")
		if again.status != 200 {
			t.Error("the same again: ", again)
		}
		if got := b.post("/users/invite", keyField, key, "name", "Bo", "role", "owner"); got.status != 409 {
			t.Error("the same key for something else: ", got)
		}
		if got := b.post("/users/invite", "name", "Bo", "role", "crew"); got.status != 400 {
			t.Error("without a key: ", got)
		}

		key = newKey()
		var wait sync.WaitGroup
		for range 8 {
			wait.Go(func() {
				one := p.surfer()
				one.cookies[public.cookie()] = b.cookies[public.cookie()]
				if got := one.post("/users/invite", keyField, key, "name", "Cy", "role", "crew"); got.status != 200 {
					t.Error(got)
				}
			})
		}
		wait.Wait()
		invited, err := p.store.Invitations(t.Context(), stamp(p.now()))
		if err != nil || len(invited) != 2 {
			t.Errorf("invited: %+v, %v", invited, err)
		}
		log, err := p.store.Log(t.Context(), 100)
		if err != nil || len(log) != 3 || log[0].Who != "Ana" || log[0].What != "POST /users/invite" || log[0].Did != "invitation of Cy" {
			t.Errorf("the log: %+v, %v", log, err)
		}
	})
}

// TestWhateverIsKeptIsKeptOnce: a deed holds for what the store keeps of bids and
// files too, in the same transaction.
func TestWhateverIsKeptIsKeptOnce(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		p := newPlace(t, dsn, 0, atHome)
		deed := func(body string) *store.Deed {
			return &store.Deed{Key: "0123456789abcdef", Who: "Ana", What: "POST /bids", Body: body, At: stamp(p.now())}
		}
		keep := func(d *store.Deed) error {
			_, err := p.store.KeepBid(store.WithDeed(t.Context(), d), store.Bid{MadeOn: testDay, Spec: "{}", Result: "{}", Factors: "{}"})
			return err
		}
		if err := keep(deed("a")); err != nil {
			t.Fatal(err)
		}
		done, ok := asDone(keep(deed("a")))
		if !ok || !done.Same || done.Did != "bid 1" {
			t.Errorf("again: %+v", done)
		}
		if done, ok := asDone(keep(deed("b"))); !ok || done.Same {
			t.Errorf("another: %+v", done)
		}
		if bids, err := p.store.Bids(t.Context()); err != nil || len(bids) != 1 {
			t.Errorf("%d bids, %v", len(bids), err)
		}
		d := &store.Deed{Key: "fedcba9876543210", Who: "Ana", What: "POST /upload", At: stamp(p.now())}
		tx, err := p.store.Begin(store.WithDeed(t.Context(), d), "f.csv", "", stamp(p.now()))
		if err != nil {
			t.Fatal(err)
		}
		tx.Rollback()
		if err := p.store.Done(t.Context(), d); err != nil {
			t.Error("what was given up is kept: ", err)
		}
	})
}

func asDone(err error) (*store.DoneError, bool) {
	var done *store.DoneError
	ok := errors.As(err, &done)
	return done, ok
}
