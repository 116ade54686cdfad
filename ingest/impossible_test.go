package ingest_test

import (
	"slices"
	"strings"
	"testing"

	"pourback/ingest"
	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/ingest/store/storetest"
)

// TestImpossibleValueStaysOnRecord takes in a decimal slip: it is said, kept,
// exported, and in no history until it is said to be right; what was said
// survives export, lapses with another value, and is taken back by undo.
func TestImpossibleValueStaysOnRecord(t *testing.T) {
	const head = "job_no,placed_on,use,area_sqft,thickness_in,delivered_yd,leftover_yd"
	storetest.Each(t, func(t *testing.T, dsn string) {
		st := open(t, dsn)
		_, problems := take(t, st, ingest.Options{}, write(t, "log.csv", head+"\nSF-1090,2025-06-03,walkway,138,4,1100,0\n"))
		said := 0
		for _, p := range problems {
			if p.Code == record.LeftOut && p.Column == "delivered_yd" {
				said++
			}
		}
		if said != 1 {
			t.Errorf("said %d times: %v", said, problems)
		}
		if !strings.Contains(exported(t, st)["placements.csv"], ",1100,") {
			t.Error("the value is not on record")
		}
		delivered := func(st *store.Store) record.Number {
			t.Helper()
			h, err := st.History(t.Context(), day(today))
			if err != nil {
				t.Fatal(err)
			}
			return h.Placements.At(0).DeliveredYd()
		}
		if got := delivered(st); got.OK {
			t.Errorf("it counts as %v", got.V)
		}
		right, _ := take(t, st, ingest.Options{}, write(t, "fix.csv", head+",said_right\nSF-1090,2025-06-03,walkway,138,4,1100,0,delivered_yd=1100\n"))
		if got := delivered(st); got.V != 1100 {
			t.Errorf("said to be right, it counts as %v", got)
		}
		other := open(t, storetest.SQLite(t))
		take(t, other, ingest.Options{}, write(t, "placements.csv", exported(t, st)["placements.csv"]))
		if got := delivered(other); got.V != 1100 {
			t.Errorf("after an export it counts as %v", got)
		}
		take(t, other, ingest.Options{}, write(t, "log.csv", head+"\nSF-1090,2025-06-03,walkway,138,4,1200,0\n"))
		if got := delivered(other); got.OK {
			t.Errorf("another value counts as %v", got.V)
		}
		if _, err := st.Undo(t.Context(), right[0].Batch, today+"T13:00:00Z"); err != nil {
			t.Fatal(err)
		}
		if got := delivered(st); got.OK {
			t.Errorf("taken back, it counts as %v", got.V)
		}
	})
}

// TestFixSaysRight confirms an impossible value as it stands, by the store's own
// form and by another, and takes that back.
func TestFixSaysRight(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		st := open(t, dsn)
		_, problems := take(t, st, ingest.Options{}, write(t, "log.csv", "job_no,placed_on,use,area_sqft,thickness_in,delivered_yd,leftover_yd\nSF-1090,2025-06-03,walkway,138,4,1100,0\n"))
		if !slices.ContainsFunc(problems, func(p record.Problem) bool {
			return p.Code == record.LeftOut && p.Column == "delivered_yd" && p.Row == 2
		}) {
			t.Errorf("it is not named: %v", problems)
		}
		counts := func(want record.Number) {
			t.Helper()
			h, err := st.History(t.Context(), day(today))
			if err != nil {
				t.Fatal(err)
			}
			if got := h.Placements.At(0).DeliveredYd(); got != want {
				t.Errorf("it counts as %v, want %v", got, want)
			}
			if _, err := st.Check(t.Context(), func(f store.Fault) { t.Errorf("%+v", f) }); err != nil {
				t.Fatal(err)
			}
		}
		fix := func(value string) ingest.Fixed {
			t.Helper()
			done, err := ingest.Fix(t.Context(), st, ingest.Fixing{Target: "SF-1090/A", Values: [][2]string{{"delivered_yd", value}}, TakenAt: today + "T12:30:00Z"})
			if err != nil || !done.Columns[0].Confirmed {
				t.Fatalf("%+v, %v", done, err)
			}
			return done
		}
		counts(record.Number{})
		first := fix("1100")
		counts(record.Some(1100.0))
		again := fix("1,100 yd")
		counts(record.Some(1100.0))
		for _, step := range []struct {
			batch int64
			left  record.Number
		}{{again.Batch, record.Some(1100.0)}, {first.Batch, record.Number{}}} {
			if _, err := st.Undo(t.Context(), step.batch, today+"T13:00:00Z"); err != nil {
				t.Fatal(err)
			}
			counts(step.left)
		}
	})
}
