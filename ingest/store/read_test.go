package store_test

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/ingest/store/storetest"
)

// someSet is records of every table with keys that are their own.
func someSet(t *rapid.T) (set record.Set, all []record.Record) {
	had := map[string]bool{}
	for _, table := range record.Stored {
		for range rapid.IntRange(0, 6).Draw(t, table.Name) {
			r := anyRecord(t, table)
			if key := table.Name + record.Key(r); had[key] {
				continue
			} else {
				had[key] = true
			}
			all = append(all, r)
			switch r := r.(type) {
			case *record.Job:
				set.Jobs = append(set.Jobs, *r)
			case *record.Placement:
				set.Placements = append(set.Placements, *r)
			case *record.Load:
				set.Loads = append(set.Loads, *r)
			case *record.Delay:
				set.Delays = append(set.Delays, *r)
			case *record.Labor:
				set.Labor = append(set.Labor, *r)
			case *record.Cost:
				set.Costs = append(set.Costs, *r)
			case *record.Visit:
				set.Visits = append(set.Visits, *r)
			}
		}
	}
	return set, all
}

// TestHistory demands of both engines the history that the same records make
// without a database.
func TestHistory(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		s := open(t, dsn)
		rapid.Check(t, func(rt *rapid.T) {
			set, all := someSet(rt)
			asOf := record.Date(rapid.Int32Range(1, 3652059).Draw(rt, "as of"))
			batch := takeAll(t, s, all)
			got, err := s.History(t.Context(), asOf)
			equal(t, "error", err, nil)
			equal(t, "history", told(got), told(sorted(asOf, set)))
			plain, err := s.PlainHistory(t.Context(), asOf)
			equal(t, "error", err, nil)
			equal(t, "the plain way", told(plain), told(got))
			if batch.ID != 0 {
				if _, err := s.Undo(t.Context(), batch.ID, now); err != nil {
					rt.Fatal(err)
				}
			}
		})
	})
}

// tale is all that a history tells. Two histories that tell the same may keep it
// differently: which code a value has depends on the order in which it was met.
type tale struct {
	asOf       record.Date
	jobs       []record.Job
	costs      [][]record.Cost
	placements []record.Placement
	jobOf      []int
	loads      [][]record.Load
	delays     [][]record.Delay
	labor      [][]record.Labor
	visits     [][]record.Visit
	all        record.Set // of events
	checks     []record.Problem
}

func told(h *record.History) tale {
	t := tale{asOf: h.AsOf, checks: h.Checks, all: record.Set{Loads: h.Loads, Delays: h.Delays, Labor: h.Labor, Costs: h.Costs, Visits: h.Visits}}
	for j := range h.Jobs.Len() {
		t.jobs, t.costs = append(t.jobs, h.Jobs.Row(j)), append(t.costs, h.CostsOf(j))
	}
	for i := range h.Placements.Len() {
		t.placements, t.jobOf = append(t.placements, h.Placements.Row(i)), append(t.jobOf, h.JobIndex(i))
		t.loads, t.delays = append(t.loads, h.LoadsOf(i)), append(t.delays, h.DelaysOf(i))
		t.labor, t.visits = append(t.labor, h.LaborOf(i)), append(t.visits, h.VisitsOf(i))
	}
	return t
}

// takeAll takes in records of several tables as one file.
func takeAll(t *testing.T, s *store.Store, all []record.Record) store.Batch {
	t.Helper()
	tx, err := s.Begin(t.Context(), "book.xlsx", "00", now)
	if err != nil {
		t.Fatal(err)
	}
	defer tx.Rollback()
	for i, row := range numbered(all...) {
		if _, err := tx.Add(t.Context(), all[i].Table(), nil, []store.Row{row}); err != nil {
			t.Fatal(err)
		}
	}
	b, err := tx.Commit(t.Context(), store.Batch{})
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// sorted is the history of a set whose events come in the order of their keys,
// as a store hands them over.
func sorted(asOf record.Date, set record.Set) *record.History {
	byKey(set.Loads, func(l *record.Load) string { return l.JobNo + "\x00" + l.Placement + "\x00" + l.TicketNo })
	byKey(set.Delays, func(d *record.Delay) string {
		return fmt.Sprintf("%s\x00%s\x00%06d", d.JobNo, d.Placement, d.Seq.V+1000)
	})
	byKey(set.Labor, func(l *record.Labor) string {
		return l.JobNo + "\x00" + l.Placement + "\x00" + l.WorkedOn.String() + l.Task
	})
	byKey(set.Visits, func(v *record.Visit) string { return v.JobNo + "\x00" + v.Placement + "\x00" + v.SeenOn.String() })
	return record.NewHistory(asOf, set)
}

// byKey sorts by insertion: the slices are short.
func byKey[T any](rows []T, key func(*T) string) {
	for i := range rows {
		for j := i; j > 0 && cmp.Less(key(&rows[j]), key(&rows[j-1])); j-- {
			rows[j], rows[j-1] = rows[j-1], rows[j]
		}
	}
}

// TestHistoryOnTwoConnections reads enough rows to be read from both ends, taken
// in out of order, with gaps.
func TestHistoryOnTwoConnections(t *testing.T) {
	storetest.Each(t, testOnTwoConnections)
}

func testOnTwoConnections(t *testing.T, dsn string) {
	const n = 30_000
	s := open(t, dsn)
	order := rand.New(rand.NewPCG(3, 4)).Perm(n)
	for part := range 3 {
		var records, delays []record.Record
		for _, i := range order[part*n/3 : (part+1)*n/3] {
			no := fmt.Sprintf("J%06d", i)
			records = append(records, &record.Placement{JobNo: no, Placement: "A", PlacedOn: record.Date(700_000 + i%5000),
				Use: fmt.Sprint("use ", i%100), AreaSqft: record.Some(float64(i) / 2), Log: record.Job{ContractPrice: record.Some(record.Cents(i))}})
			delays = append(delays, &record.Delay{JobNo: no, Placement: "A", Seq: record.Some(int64(i)), Minutes: record.Some(int64(i % 50)), Note: strings.Repeat("long ", i%7*i%11)})
		}
		take(t, s, record.Placements, nil, numbered(records...))
		take(t, s, record.Delays, nil, numbered(delays...))
	}
	for _, batch := range []int64{4, 3} {
		if _, err := s.Undo(t.Context(), batch, now); err != nil {
			t.Fatal(err)
		}
	}
	got, err := s.History(t.Context(), 800_000)
	equal(t, "error", err, nil)
	plain, err := s.PlainHistory(t.Context(), 800_000)
	equal(t, "error", err, nil)
	equal(t, "placements", got.Placements.Len(), n*2/3)
	equal(t, "the plain way", told(plain), told(got))
	ctx, stop := context.WithCancel(t.Context())
	stop()
	if _, err := s.History(ctx, 800_000); !errors.Is(err, context.Canceled) {
		t.Errorf("history after the end of its context: %v", err)
	}
}

// TestRecordsInKeyOrder demands byte order of both engines, and that the reader
// can stop.
func TestRecordsInKeyOrder(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		s := open(t, dsn)
		var records []record.Record
		for _, no := range []string{"b", "É", "a", "B", "a-1", "a 1", "A", "10", "9", "", "ä", "aa", "😀", "～"} {
			for _, seq := range []int64{10, 9, -1} {
				records = append(records, &record.Delay{JobNo: no, Seq: record.Some(seq)})
			}
		}
		take(t, s, record.Delays, nil, numbered(records...))
		var got []string
		err := s.Records(t.Context(), record.Delays, func(r record.Record) error {
			d := r.(*record.Delay)
			got = append(got, fmt.Sprint(d.JobNo, "/", d.Seq.V))
			return nil
		})
		equal(t, "error", err, nil)
		var want []string
		for _, no := range []string{"", "10", "9", "A", "B", "a", "a 1", "a-1", "aa", "b", "É", "ä", "～", "😀"} {
			want = append(want, no+"/-1", no+"/9", no+"/10")
		}
		equal(t, "order", got, want)
		enough := errors.New("enough")
		err = s.Records(t.Context(), record.Delays, func(record.Record) error { return enough })
		if !errors.Is(err, enough) {
			t.Errorf("stopping: %v", err)
		}
	})
}

// TestPlacedOn sees what is stored and what this transaction has added.
func TestPlacedOn(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		s := open(t, dsn)
		on := record.DateOf(2025, 6, 3)
		take(t, s, record.Placements, nil, numbered(&record.Placement{JobNo: "J1", Placement: "A", PlacedOn: on}))
		tx, err := s.Begin(t.Context(), "f", "00", now)
		if err != nil {
			t.Fatal(err)
		}
		defer tx.Rollback()
		if _, err := tx.Add(t.Context(), record.Placements, nil, numbered(&record.Placement{JobNo: "J2", Placement: "B", PlacedOn: on + 1})); err != nil {
			t.Fatal(err)
		}
		jobs := []string{"J1", "J2"}
		for i := range 500 {
			jobs = append(jobs, fmt.Sprint("none ", i))
		}
		placed, err := tx.PlacedOn(t.Context(), jobs)
		equal(t, "error", err, nil)
		equal(t, "placed", placed, map[[2]string]record.Date{{"J1", "A"}: on, {"J2", "B"}: on + 1})
	})
}
