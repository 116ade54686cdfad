package store_test

import (
	"errors"
	"testing"

	"pourback/ingest/store"
	"pourback/ingest/store/storetest"
)

// TestOneFeedAtATime: a new address takes the place of the old one, which then leads
// nowhere.
func TestOneFeedAtATime(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		s := open(t, dsn)
		none := func(hash string) {
			t.Helper()
			if err := s.IsFeed(t.Context(), hash); !errors.Is(err, store.ErrNoFeed) {
				t.Errorf("%q leads somewhere: %v", hash, err)
			}
		}
		none("")
		none("a")
		if _, err := s.Feed(t.Context()); !errors.Is(err, store.ErrNoFeed) {
			t.Error(err)
		}
		for _, hash := range []string{"a", "b"} {
			if err := s.SetFeed(t.Context(), store.Feed{Hash: hash, MadeAt: "2026-03-31T12:00:00Z", MadeBy: "Ana"}); err != nil {
				t.Fatal(err)
			}
		}
		none("a")
		if err := s.IsFeed(t.Context(), "b"); err != nil {
			t.Error(err)
		}
		if f, err := s.Feed(t.Context()); err != nil || f.Hash != "b" || f.MadeBy != "Ana" {
			t.Errorf("%+v, %v", f, err)
		}
		if err := s.EndFeed(t.Context()); err != nil {
			t.Fatal(err)
		}
		none("b")
	})
}
