package desk

import (
	"reflect"
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
		if want, bad := st.Bids(t.Context()); bad != nil || err != nil || !reflect.DeepEqual(all, want) || !reflect.DeepEqual(same, want) {
			t.Fatalf("%+v and %+v, want %+v, %v, %v", all, same, want, err, bad)
		}
		for _, nameless := range []bool{true, false, true} {
			got, err := s.KeptBy(today, all, nameless)
			want, bad := KeptBy(today, all, nameless)
			if err != nil || bad != nil || !reflect.DeepEqual(got, want) || (got[0].Bid.Name == "") != nameless {
				t.Errorf("without names %v: %+v, want %+v, %v, %v", nameless, got, want, err, bad)
			}
		}
	}
	if n := len(s.reads); n != 3 {
		t.Errorf("%d bids were read", n)
	}
}
