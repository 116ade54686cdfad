package store_test

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/ingest/store/storetest"
)

// file is a file of one table that was handed in.
type file struct {
	batch  int64 // 0 where it left none
	table  *record.Table
	given  []bool
	unused []string // headings of no use that it has
	rows   []store.Row
	undone bool
}

// state is what a store ought to hold: by table and key, the canonical texts
// and who wrote them.
type state struct {
	rows  map[string]cell
	leans map[int64]map[int64]bool // for each batch, those whose rows it found
}

type cell struct {
	texts  string
	values []string
	unused map[string]string
	batch  int64
	row    int
}

// replay works out, by the plainest means, what taking in the standing files
// one after the other leaves.
func replay(files []file) state {
	st := state{rows: map[string]cell{}, leans: map[int64]map[int64]bool{}}
	for _, f := range files {
		if f.batch == 0 || f.undone {
			continue
		}
		had := map[string]bool{}
		st.leans[f.batch] = map[int64]bool{}
		for _, r := range f.rows {
			key := f.table.Name + record.Key(r.Record)
			old, there := st.rows[key]
			if had[key] {
				continue
			}
			had[key] = true
			next := cell{values: make([]string, len(f.table.Columns)), batch: f.batch, row: r.Number}
			copy(next.values, old.values)
			for i, field := range r.Record.Fields() {
				if f.given == nil || f.given[i] || f.table.Columns[i].Key {
					next.values[i] = record.FieldText(field)
				}
			}
			next.unused = maps.Clone(old.unused)
			for _, heading := range f.unused {
				delete(next.unused, heading)
			}
			for heading, text := range r.Unused {
				if next.unused == nil {
					next.unused = map[string]string{}
				}
				next.unused[heading] = text
			}
			if next.texts = fmt.Sprint(next.values, len(next.unused), next.unused); there {
				st.leans[f.batch][old.batch] = true
			}
			if !there || next.texts != old.texts {
				st.rows[key] = next
			}
		}
	}
	return st
}

// blockers are the standing batches that stand on one, latest first.
func (st state) blockers(id int64) []int64 {
	above := map[int64]bool{id: true}
	for grown := true; grown; {
		grown = false
		for b, on := range st.leans {
			for a := range above {
				if on[a] && !above[b] {
					above[b], grown = true, true
				}
			}
		}
	}
	var ids []int64
	for b := range above {
		if b != id {
			ids = append(ids, b)
		}
	}
	slices.Sort(ids)
	slices.Reverse(ids)
	return ids
}

// TestReplay takes in random files and takes them back at random: the store
// must always hold what replaying the standing files leaves.
func TestReplay(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		s := open(t, dsn)
		rapid.Check(t, func(rt *rapid.T) {
			var files []file
			for range rapid.IntRange(1, 7).Draw(rt, "steps") {
				if len(files) > 0 && rapid.IntRange(0, 2).Draw(rt, "undo") == 0 {
					takeBack(rt, s, files, rapid.IntRange(0, len(files)-1).Draw(rt, "which"))
				} else {
					files = append(files, handIn(rt, s))
				}
				compare(rt, s, replay(files))
			}
			for i := range slices.Backward(files) {
				takeBack(rt, s, files, i)
			}
			compare(rt, s, replay(nil))
		})
		equal(t, "digests", s.CheckDigests(t.Context()), nil)
	})
}

// handIn takes in a random file over few keys and few values.
func handIn(t *rapid.T, s *store.Store) file {
	f := file{table: rapid.SampledFrom([]*record.Table{record.Costs, record.Delays, record.Visits}).Draw(t, "table")}
	if rapid.IntRange(0, 2).Draw(t, "some columns") == 0 {
		f.given = make([]bool, len(f.table.Columns))
		for i, c := range f.table.Columns {
			f.given[i] = c.Key || rapid.Bool().Draw(t, c.Name+" given")
		}
	}
	for _, heading := range []string{"Weather", "PO #", "note"} {
		if rapid.IntRange(0, 3).Draw(t, heading) == 0 {
			f.unused = append(f.unused, heading)
		}
	}
	for n := range rapid.IntRange(1, 6).Draw(t, "rows") {
		r := f.table.New()
		variant := rapid.IntRange(0, 3).Draw(t, "variant") // 3 is a row like no other
		for i, field := range r.Fields() {
			c := &f.table.Columns[i]
			if f.given == nil || f.given[i] {
				texts := words(c)
				text := texts[variant%len(texts)]
				if c.Key || variant == 3 {
					text = rapid.SampledFrom(texts).Draw(t, c.Name)
				}
				if record.SetField(field, text) != nil {
					t.Fatalf("%s: %q", c.Name, text)
				}
			}
		}
		unused := map[string]string{}
		for _, heading := range f.unused {
			if text := rapid.SampledFrom([]string{"", "hot", "=1+1\"é"}).Draw(t, heading); text != "" {
				unused[heading] = text
			}
		}
		f.rows = append(f.rows, store.Row{Record: r, Number: n + 2, Unused: unused})
	}
	tx, err := s.Begin(t.Context(), "f.csv", "00", now)
	if err != nil {
		t.Fatal(err)
	}
	defer tx.Rollback()
	tx.Headings(f.table, f.unused)
	cut := rapid.IntRange(0, len(f.rows)).Draw(t, "cut")
	for _, rows := range [][]store.Row{f.rows[:cut], f.rows[cut:]} {
		if _, err := tx.Add(t.Context(), f.table, f.given, rows); err != nil {
			t.Fatal(err)
		}
	}
	b, err := tx.Commit(t.Context(), store.Batch{})
	if err != nil {
		t.Fatal(err)
	}
	f.batch = b.ID
	return f
}

// words are a few canonical texts of a column.
func words(c *record.Column) []string {
	var texts []string
	switch c.Kind {
	case record.KindText, record.KindWord:
		texts = []string{"a", "B"}
	case record.KindNumber:
		texts = []string{"0", "0.1"}
	case record.KindCount:
		texts = []string{"2", "10"}
	case record.KindMoney:
		texts = []string{"0.00", "-12.34"}
	case record.KindDate:
		texts = []string{"2025-06-03", "1999-12-31"}
	case record.KindMoment:
		texts = []string{"2025-06-03T07:15", "2025-06-03T07:15:01"}
	case record.KindFlag:
		texts = []string{"yes", "no"}
	}
	if !c.Key {
		texts = append(texts, "")
	}
	return texts
}

// takeBack takes a file's batch back, where that is possible.
func takeBack(t *rapid.T, s *store.Store, files []file, i int) {
	f := &files[i]
	if f.batch == 0 || f.undone {
		return
	}
	blocked := replay(files).blockers(f.batch)
	_, err := s.Undo(t.Context(), f.batch, now)
	var stands *store.StandsOnError
	switch {
	case err == nil && len(blocked) == 0:
		f.undone = true
	case errors.As(err, &stands):
		if !slices.Equal(stands.First, blocked) {
			t.Fatalf("undo of %d: %v, want %v first", f.batch, err, blocked)
		}
	default:
		t.Fatalf("undo of %d: %v, want %v first", f.batch, err, blocked)
	}
}

// compare holds the store's rows and their sources against a state.
func compare(t *rapid.T, s *store.Store, want state) {
	got := map[string]cell{}
	for _, table := range record.Stored {
		var records []record.Record
		var kept []map[string]string
		err := s.Snapshot(t.Context(), func(now *store.Snapshot) error {
			return now.RecordsWithUnused(t.Context(), table, func(r record.Record, unused map[string]string) error {
				records, kept = append(records, r), append(kept, unused)
				return nil
			})
		})
		if err != nil {
			t.Fatal(err)
		}
		sources, err := s.Sources(t.Context(), records)
		if err != nil {
			t.Fatal(err)
		}
		for i, r := range records {
			c := cell{batch: sources[i].Batch, row: sources[i].Row}
			for _, f := range r.Fields() {
				c.values = append(c.values, record.FieldText(f))
			}
			c.texts = fmt.Sprint(c.values, len(kept[i]), kept[i])
			got[table.Name+record.Key(r)] = c
		}
	}
	for key, c := range want.rows {
		if g := got[key]; g.texts != c.texts || g.batch != c.batch || g.row != c.row {
			t.Fatalf("%q:\n got %v\nwant %v", key, g, c)
		}
	}
	if len(got) != len(want.rows) {
		t.Fatalf("%d rows, want %d", len(got), len(want.rows))
	}
}
