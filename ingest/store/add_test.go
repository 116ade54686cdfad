package store_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/ingest/store/storetest"
)

func kinds(outcomes []store.Outcome) string {
	var words []string
	for _, o := range outcomes {
		word := o.Kind.String()
		if o.FirstRow != 0 {
			word += fmt.Sprintf("(%d)", o.FirstRow)
		}
		words = append(words, word)
	}
	return strings.Join(words, " ")
}

func cost(job, item, unit string) *record.Cost {
	return &record.Cost{JobNo: job, Item: item, Unit: unit}
}

// TestOutcomes goes through what can become of a row, solved by hand.
func TestOutcomes(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		s := open(t, dsn)
		for _, step := range []struct {
			what  string
			given []bool
			rows  []store.Row
			want  string
			kept  []string
		}{
			{"an empty table", nil, numbered(cost("J1", "pump", "h"), cost("J1", "base", "yd"), cost("J2", "pump", "")),
				"new new new", []string{"J1|base|||||yd|||", "J1|pump|||||h|||", "J2|pump||||||||"}},
			{"the same again", nil, numbered(cost("J1", "pump", "h"), cost("J1", "base", "yd"), cost("J2", "pump", "")),
				"unchanged unchanged unchanged", nil},
			{"twice in a file", nil, numbered(cost("J3", "pump", "h"), cost("J3", "pump", "h"), cost("J3", "pump", "day")),
				"new repeated(2) conflict(2)", []string{"J1|base|||||yd|||", "J1|pump|||||h|||", "J2|pump||||||||", "J3|pump|||||h|||"}},
			{"that file again", nil, numbered(cost("J3", "pump", "h"), cost("J3", "pump", "h"), cost("J3", "pump", "day")),
				"unchanged repeated(2) conflict(2)", nil},
			{"a value changed", nil, numbered(cost("J3", "pump", "day"), cost("J3", "pump", "h")),
				"changed conflict(2)", []string{"J1|base|||||yd|||", "J1|pump|||||h|||", "J2|pump||||||||", "J3|pump|||||day|||"}},
			{"a cell emptied", nil, numbered(cost("J3", "pump", "")),
				"changed", []string{"J1|base|||||yd|||", "J1|pump|||||h|||", "J2|pump||||||||", "J3|pump||||||||"}},
			{"a column not given", only(record.Costs, "job_no", "item"), numbered(cost("J1", "pump", ""), cost("J4", "pump", "")),
				"unchanged new", []string{"J1|base|||||yd|||", "J1|pump|||||h|||", "J2|pump||||||||", "J3|pump||||||||", "J4|pump||||||||"}},
		} {
			before := dump(t, s, record.Costs)
			_, outcomes := take(t, s, record.Costs, step.given, step.rows)
			if step.kept == nil {
				step.kept = before
			}
			equal(t, step.what, kinds(outcomes), step.want)
			equal(t, step.what, dump(t, s, record.Costs), step.kept)
		}
	})
}

// TestTwoSheetsOfOneTable adds to one table twice in a file, the second time
// with another choice of columns.
func TestTwoSheetsOfOneTable(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		s := open(t, dsn)
		take(t, s, record.Costs, nil, numbered(cost("J1", "base", "yd"), cost("J1", "pump", "h")))
		tx, err := s.Begin(t.Context(), "book.xlsx", "00", now)
		if err != nil {
			t.Fatal(err)
		}
		defer tx.Rollback()
		full := cost("J1", "pump", "h")
		full.ActualQty = record.Some(2.0)
		for _, sheet := range []struct {
			given []bool
			rows  []store.Row
			want  string
		}{
			{nil, numbered(cost("J1", "base", "yd"), full), "unchanged changed"},
			{only(record.Costs, "job_no", "item", "unit"), numbered(cost("J1", "pump", "h"), cost("J1", "pump", "day"), cost("J1", "pump", "h"),
				cost("J1", "base", "yd"), cost("J1", "base", "ft")), "repeated(3) conflict(3) repeated(3) repeated(2) conflict(2)"},
		} {
			outcomes, err := tx.Add(t.Context(), record.Costs, sheet.given, sheet.rows)
			if err != nil {
				t.Fatal(err)
			}
			equal(t, "outcomes", kinds(outcomes), sheet.want)
		}
	})
}

// TestNothingNewLeavesNoBatch also holds the counts against a file's rows.
func TestNothingNewLeavesNoBatch(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		s := open(t, dsn)
		rows := numbered(cost("J1", "pump", "h"), cost("J1", "base", "yd"))
		first, _ := take(t, s, record.Costs, nil, rows)
		equal(t, "first", first, store.Batch{ID: 1, File: "file.csv", SHA256: "00", Tables: []string{"costs"}, TakenAt: now, Read: 2, New: 2})
		again, _ := take(t, s, record.Costs, nil, rows)
		equal(t, "again", again, store.Batch{File: "file.csv", SHA256: "00", Tables: []string{"costs"}, TakenAt: now, Read: 2, Unchanged: 2})
		batches, err := s.Batches(t.Context())
		equal(t, "batches", batches, []store.Batch{first})
		equal(t, "error", err, nil)
	})
}

// TestManyRowsInAnyOrder takes in more rows than are looked up together, in
// order and shuffled, against a model in memory.
func TestManyRowsInAnyOrder(t *testing.T) {
	const n = 4500 // more than a chunk
	storetest.Each(t, func(t *testing.T, dsn string) {
		s := open(t, dsn)
		random := rand.New(rand.NewPCG(1, 2))
		file := func(jobs []int, minutes int64) []store.Row {
			var records []record.Record
			for _, j := range jobs {
				records = append(records, &record.Delay{JobNo: fmt.Sprintf("J%05d", j/3), Seq: record.Some(int64(j%3*7 + 1)), Cause: "clog", Minutes: record.Some(minutes)})
			}
			return numbered(records...)
		}
		evens, all := make([]int, n), make([]int, 2*n)
		for i := range n {
			evens[i], all[2*i], all[2*i+1] = 2*i, 2*i, 2*i+1
		}
		count := func(outcomes []store.Outcome) (c [5]int) {
			for _, o := range outcomes {
				c[o.Kind]++
			}
			return c
		}
		_, out := take(t, s, record.Delays, nil, file(evens, 5))
		equal(t, "half of them", count(out), [5]int{n})
		_, out = take(t, s, record.Delays, nil, file(all, 5))
		equal(t, "all of them", count(out), [5]int{n, 0, n})
		random.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
		_, out = take(t, s, record.Delays, nil, file(append(slices.Clone(all), all...), 5))
		equal(t, "shuffled, twice over", count(out), [5]int{0, 0, 2 * n, 2 * n})
		_, out = take(t, s, record.Delays, nil, file(all, 6))
		equal(t, "changed", count(out), [5]int{0, 2 * n})
		far := []int{0, 3 * n, 2*n - 1, 30 * n}
		_, out = take(t, s, record.Delays, nil, file(far, 6))
		equal(t, "few and far apart", kinds(out), "unchanged new unchanged new")
		equal(t, "rows", len(dump(t, s, record.Delays)), 2*n+2)
	})
}

// TestAnyRecordComesBack stores random records of every table and reads them
// back as they were.
func TestAnyRecordComesBack(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		s := open(t, dsn)
		rapid.Check(t, func(rt *rapid.T) {
			table := rapid.SampledFrom(record.Stored).Draw(rt, "table")
			r := anyRecord(rt, table)
			take(t, s, table, nil, numbered(r))
			found := false
			err := s.Records(t.Context(), table, func(back record.Record) error {
				if record.Key(back) == record.Key(r) {
					equal(t, table.Name, back, r)
					found = true
				}
				return nil
			})
			if err != nil || !found {
				rt.Errorf("found %v, %v", found, err)
			}
			_, out := take(t, s, table, nil, numbered(r))
			equal(t, "again", kinds(out), "unchanged")
		})
	})
}

// TestHardText stores what text may hold, and refuses what no reader lets through.
func TestHardText(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		s := open(t, dsn)
		for i, text := range []string{`it's "quoted"`, `back\slash \N \. \t`, "tab\tline\nreturn\r", "?, $1, :name, ::text", "½ ′ ″ ﬁ 𝄞 \u0085 \u200b",
			"\x01\x7f", " leading and trailing ", strings.Repeat("é", 1<<20), "=HYPERLINK(\"x\")", "NULL", "\ufffd\ufeff"} {
			job := &record.Job{JobNo: fmt.Sprintf("J%02d", i), Note: text, Site: text}
			take(t, s, record.Jobs, nil, numbered(job))
			_, out := take(t, s, record.Jobs, nil, numbered(&record.Job{JobNo: job.JobNo, Note: text, Site: text}))
			equal(t, "again", kinds(out), "unchanged")
			take(t, s, record.Jobs, nil, numbered(&record.Job{JobNo: job.JobNo, Note: text + "!", Site: text}))
			changes, err := s.Changes(t.Context(), int64(2*i+2))
			equal(t, "error", err, nil)
			if len(changes) != 1 || changes[0].Before["note"] != text || changes[0].After["note"] != text+"!" {
				t.Errorf("%q: the log has %d entries", text, len(changes))
			}
		}
		for _, text := range []string{"nul \x00", "latin \xe9"} {
			tx, err := s.Begin(t.Context(), "f", "00", now)
			if err != nil {
				t.Fatal(err)
			}
			_, err = tx.Add(t.Context(), record.Jobs, nil, numbered(&record.Job{JobNo: "J", Note: text}))
			if err == nil || !strings.Contains(err.Error(), "jobs, row 2, note") {
				t.Errorf("%q: %v", text, err)
			}
			if _, err := tx.Commit(t.Context(), store.Batch{}); err == nil {
				t.Error("committed after an error")
			}
			tx.Rollback()
		}
	})
}

// TestMinusZero is zero: SQLite would lose the sign, and PostgreSQL keep it.
func TestMinusZero(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		s := open(t, dsn)
		zero := &record.Cost{JobNo: "J1", Item: "pump", ActualQty: record.Some(0.0)}
		minus := &record.Cost{JobNo: "J1", Item: "pump", ActualQty: record.Some(math.Copysign(0, -1))}
		take(t, s, record.Costs, nil, numbered(minus))
		equal(t, "rows", dump(t, s, record.Costs), []string{"J1|pump|||0|||||"})
		for _, again := range []record.Record{zero, minus} {
			_, out := take(t, s, record.Costs, nil, numbered(again))
			equal(t, "again", kinds(out), "unchanged")
		}
	})
}

// TestGoingBack repeats rows long after a file that was there already has gone
// past them: the earlier row must be named, however it was remembered.
func TestGoingBack(t *testing.T) {
	const n = 4500 // more than a chunk
	storetest.Each(t, func(t *testing.T, dsn string) {
		s := open(t, dsn)
		row := func(i int, cause string) store.Row {
			return store.Row{Record: &record.Delay{JobNo: "J", Seq: record.Some(int64(10 * i)), Cause: cause}, Number: i + 2}
		}
		var rows []store.Row
		for i := range n {
			rows = append(rows, row(i, "clog"))
		}
		take(t, s, record.Delays, nil, rows)
		again := func(i, at int, cause string) store.Row {
			r := row(i, cause)
			r.Number = at
			return r
		}
		for _, file := range []struct {
			what string
			rows []store.Row
		}{
			{"without a gap", slices.Clone(rows)},
			{"with a row left out", slices.Concat(rows[:100], rows[101:])},
			{"with a row that is new", slices.Concat(rows[:7], []store.Row{{Record: &record.Delay{JobNo: "J", Seq: record.Some[int64](65)}, Number: 9999}}, rows[7:])},
		} {
			tx, err := s.Begin(t.Context(), "f", "00", now)
			if err != nil {
				t.Fatal(err)
			}
			rows := append(file.rows, again(4, 9001, "clog"), again(4400, 9002, "plant"), again(3, 9003, "plant"), again(100, 9004, "crew"))
			out, err := tx.Add(t.Context(), record.Delays, nil, rows)
			if err != nil {
				t.Fatal(err)
			}
			want := "repeated(6) conflict(4402) conflict(5) conflict(102)"
			if file.what == "with a row left out" {
				want = "repeated(6) conflict(4402) conflict(5) changed"
			}
			equal(t, file.what, kinds(out[len(out)-4:]), want)
			tx.Rollback()
		}
	})
}
