package desk

import (
	"reflect"
	"slices"
	"testing"

	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/ingest/store/storetest"
)

// TestAShelfIsTheStore: what a shelf gives is what the store has, and is read once; a list
// without names leaves them to others.
func TestAShelfIsTheStore(t *testing.T) {
	st, err := store.Open(t.Context(), storetest.SQLite(t), store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer st.Close()
	today := record.DateOf(2025, 6, 9)
	keep := func(name string) {
		t.Helper()
		text := `{"name": "` + name + `", "spec": {"name": "` + name + `", "placements": []}}`
		if _, err := st.KeepBid(t.Context(), store.Bid{MadeOn: today, Spec: "{}", Result: text, Factors: "{}"}); err != nil {
			t.Fatal(err)
		}
	}
	var s Shelf
	for _, name := range []string{"Lot 4", "Lot 5", "Lot 6"} {
		keep(name)
		all, err := s.Bids(t.Context(), st)
		if err != nil {
			t.Fatal(err)
		}
		_, same, err := s.HistoryAndBids(t.Context(), st, today)
		want, bad := st.Bids(t.Context())
		silent := slices.Clone(want)
		for i := range silent {
			silent[i].Spec, silent[i].Result = "", ""
		}
		if bad != nil || err != nil || !reflect.DeepEqual(all, silent) || !reflect.DeepEqual(same, silent) {
			t.Fatalf("%+v and %+v, want %+v, %v, %v", all, same, silent, err, bad)
		}
		for _, nameless := range []bool{true, false, true} {
			got, err := s.KeptBy(today, all, nameless)
			want, bad := KeptBy(today, want, nameless)
			if err != nil || bad != nil || !reflect.DeepEqual(got, want) || (got[0].Bid.Name == "") != nameless {
				t.Errorf("without names %v: %+v, want %+v, %v, %v", nameless, got, want, err, bad)
			}
		}
	}
	if _, err := st.KeepBid(t.Context(), store.Bid{MadeOn: today + 1, Spec: "{}", Result: `{"name": 7}`, Factors: "{}"}); err != nil {
		t.Fatal(err)
	}
	all, err := s.Bids(t.Context(), st)
	if _, bad := s.KeptBy(today, all, false); err != nil || bad != nil {
		t.Errorf("a bid of tomorrow that cannot be read: %v, %v", err, bad)
	}
	if kept, err := s.KeptBy(today+1, all, false); err == nil {
		t.Errorf("it is read as %+v", kept)
	}
}
