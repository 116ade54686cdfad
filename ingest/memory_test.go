package ingest_test

import (
	"slices"
	"testing"

	"pourback/ingest"
	"pourback/ingest/sheet"
	"pourback/ingest/store"
	"pourback/ingest/store/storetest"
)

// TestAnswersAreRemembered keeps one answer for each heading and table, the
// latest first, in the words in which they were given.
func TestAnswersAreRemembered(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		st := open(t, dsn)
		remember := func(at string, answers ...sheet.Answer) {
			t.Helper()
			if err := ingest.Remember(t.Context(), st, answers, at); err != nil {
				t.Fatal(err)
			}
		}
		check := func(st *store.Store, want ...sheet.Answer) {
			t.Helper()
			got, err := ingest.Remembered(t.Context(), st)
			if err != nil || !slices.Equal(got, want) {
				t.Errorf("remembered %+v (%v), want %+v", got, err, want)
			}
		}
		check(st)
		yds, spare, other := sheet.Answer{Heading: "Act Yds", Column: "delivered_yd"}, sheet.Answer{Heading: "Fäll = ½", Column: ""}, sheet.Answer{Heading: "ACT  yds", Column: "loads.yards"}
		remember("2026-01-31T07:00:00Z", yds)
		remember("2026-02-28T07:00:00Z", other, spare)
		check(st, spare, other, yds)
		planned := sheet.Answer{Heading: "act yds", Column: "planned_yd"}
		remember("2026-03-31T07:00:00Z", planned, yds) // of two in one call the first counts
		check(st, planned, spare, other)
		of2025 := sheet.Answer{Sheet: "2025", Heading: "act yds", Column: "leftover_yd"}
		remember("2026-04-30T07:00:00Z", of2025)
		check(st, of2025, planned, spare, other)
		if n, err := ingest.Forget(t.Context(), st, []string{"Act Yds", "Nobody said"}); n != 3 || err != nil {
			t.Errorf("forgot %d (%v), want 3", n, err)
		}
		check(open(t, dsn), spare)
	})
}
