package ingest_test

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strings"
	"sync"
	"testing"

	"pgregory.net/rapid"

	"pourback/ingest"
	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/ingest/store/storetest"
)

// bearing is a context that bears the key of a form.
func bearing(ctx context.Context, key string) context.Context {
	return store.WithDeed(ctx, &store.Deed{Key: key, Who: "Ana", What: "POST /pour/J-1/truck", Body: key, At: entryAt})
}

// rows are all rows of a job with their versions, which tell by whom and how each
// was written, to the digest.
func rows(t *testing.T, st *store.Store, job string) map[string]string {
	t.Helper()
	traces, _, err := st.TracesOf(t.Context(), job)
	if err != nil {
		t.Fatal(err)
	}
	all := map[string]string{}
	for _, tr := range traces {
		all[tr.Record.Table().Name+" "+record.Key(tr.Record)] = tr.Version + " " + textOf(tr.Record)
	}
	return all
}

func textOf(r record.Record) string {
	var texts []string
	for _, f := range r.Fields()[1:] { // but its job
		texts = append(texts, record.FieldText(f))
	}
	return strings.Join(texts, "|")
}

// TestOneKeyManyTimes: fifty phones send one form at the same time, and a delay,
// whose number is counted, is on record once.
func TestOneKeyManyTimes(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		st, _ := poured(t, dsn)
		clog := entering("delays", []string{"job_no", "J-1", "cause", "plugged", "minutes", "12", "spot", "reducer"})
		kept, again := 0, 0
		var mu sync.Mutex
		var wait sync.WaitGroup
		for range 50 {
			wait.Go(func() {
				done, err := ingest.Enter(bearing(t.Context(), "one-key-of-one-form"), st, clog)
				var before *store.DoneError
				mu.Lock()
				defer mu.Unlock()
				switch {
				case err == nil && done.Batch == 2:
					kept++
				case errors.As(err, &before) && before.Same && before.Did == "batch 2":
					again++
				default:
					t.Error(done, err)
				}
			})
		}
		wait.Wait()
		if kept != 1 || again != 49 {
			t.Errorf("kept %d times, known %d times", kept, again)
		}
		if all := rows(t, st, "J-1"); len(all) != 2 {
			t.Errorf("%v", all)
		}
		sound(t, st)
	})
}

// TestManyKeysAtOnce: each of many delays gets a number of its own, also where
// writers queue by no lock.
func TestManyKeysAtOnce(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		for _, lock := range []string{"advisory", "none"} {
			t.Run(lock, func(t *testing.T) {
				if strings.HasSuffix(t.Name(), "none") {
					dsn = another(t, dsn)
				}
				st, err := store.Open(t.Context(), dsn, store.Options{Lock: lock})
				if err != nil {
					t.Fatal(err)
				}
				defer st.Close()
				takeIn(t, st, write(t, "placements.csv", pourLog), 0)
				var wait sync.WaitGroup
				for i := range 20 {
					wait.Go(func() {
						e := entering("delays", []string{"job_no", "J-1", "cause", "weather", "minutes", fmt.Sprint(i)})
						if _, err := ingest.Enter(bearing(t.Context(), fmt.Sprint("key-", lock, i)), st, e); err != nil {
							t.Error(err)
						}
					})
				}
				wait.Wait()
				var seqs, minutes []int64
				err = st.Records(t.Context(), record.Delays, func(r record.Record) error {
					d := r.(*record.Delay)
					seqs, minutes = append(seqs, d.Seq.V), append(minutes, d.Minutes.V)
					return nil
				})
				slices.Sort(seqs)
				slices.Sort(minutes)
				for i := range 20 {
					if err != nil || len(seqs) != 20 || seqs[i] != int64(i+1) || minutes[i] != int64(i) {
						t.Fatal(seqs, minutes, err)
					}
				}
				sound(t, st)
			})
		}
	})
}

// another is one more empty database of a kind.
func another(t *testing.T, dsn string) string {
	t.Helper()
	if _, file := store.File(dsn); file {
		return storetest.SQLite(t)
	}
	return storetest.Postgres(t)
}

// TestKeyIsKeptInEveryCase: also with a form that brought nothing new, or only
// clashed; and with none of which anything cannot be.
func TestKeyIsKeptInEveryCase(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		st, _ := poured(t, dsn)
		weather := func(wind, was string) ingest.Entry {
			e := entering("placements", []string{"job_no", "J-1", "wind_mph", wind})
			e.Rows[0].Was = map[string]string{"wind_mph": was}
			return e
		}
		begin := entering("placements", []string{"job_no", "J-1", "placement", "A", "placed_on", "2025-06-04", "use", "apron", "area_sqft", "9", "thickness_in", "6"})
		begin.Rows[0].IfNew = true
		for i, c := range []struct {
			entry ingest.Entry
			want  string // "" where it is refused
		}{{weather("12", ""), "changed"}, {weather("12", ""), "unchanged"}, {weather("14", "9"), "clash"}, {begin, "unchanged"}, {weather("900", "12"), ""}} {
			key := fmt.Sprintf("key-of-form-%d", i)
			done, err := ingest.Enter(bearing(t.Context(), key), st, c.entry)
			var wrong *ingest.EntryError
			if c.want == "" && !errors.As(err, &wrong) || c.want != "" && (err != nil || done.Rows[0].Became != c.want) {
				t.Fatalf("%d: %+v, %v", i, done, err)
			}
			var before *store.DoneError
			if known := errors.As(st.Done(t.Context(), &store.Deed{Key: key}), &before); known != (c.want != "") || known && before.Did != fmt.Sprintf("batch %d", done.Batch) {
				t.Errorf("%d: %v %+v", i, known, before)
			}
		}
		if got := onRecord(t, st, slab, "wind_mph") + onRecord(t, st, slab, "use"); got != "12patio" {
			t.Error(got)
		}
		batches, err := st.Batches(t.Context())
		if err != nil || len(batches) != 5 {
			t.Fatal(len(batches), err)
		}
		for _, b := range slices.Backward(batches) { // each can be taken back, and the first comes last
			if _, err := st.Undo(t.Context(), b.ID, entryAt); err != nil {
				t.Error(err)
			}
		}
		sound(t, st)
	})
}

// said is what a form says of a placement: values of some columns, and what they
// showed.
func said(columns map[string][]string) *rapid.Generator[ingest.EntryRow] {
	return rapid.Custom(func(t *rapid.T) ingest.EntryRow {
		row := ingest.EntryRow{Table: "placements", Was: map[string]string{}}
		for _, column := range slices.Sorted(maps.Keys(columns)) {
			if rapid.Bool().Draw(t, "has "+column) {
				row.Values = append(row.Values, [2]string{column, rapid.SampledFrom(columns[column]).Draw(t, column)})
				row.Was[column] = rapid.SampledFrom(columns[column]).Draw(t, column+" was")
			}
		}
		return row
	})
}

// TestEntryLaws: two entries of different columns commute; one that is sent twice is
// there once; one that is taken back leaves all as it was, to the digest.
func TestEntryLaws(t *testing.T) {
	first := map[string][]string{"air_temp_f": {"", "60", "71.5", "20 C"}, "wind_mph": {"", "3", "12"}, "crew_size": {"", "3", "4"}, "curing": {"", "water", "sheet"}}
	second := map[string][]string{"humidity_pct": {"", "30", "55"}, "measured_thickness_in": {"", "4", "4 1/4"}, "retarder": {"", "yes"}, "saw_hours": {"", "6"}}
	both := map[string][]string{"air_temp_f": first["air_temp_f"], "humidity_pct": second["humidity_pct"], "curing": first["curing"]}
	storetest.Each(t, func(t *testing.T, dsn string) {
		st := open(t, dsn)
		became := map[string]int{}
		enter := func(job, key string, rows ...ingest.EntryRow) (ingest.Entered, error) {
			e := entering("placements")
			for _, row := range rows {
				row.Values = append([][2]string{{"job_no", job}}, row.Values...)
				e.Rows = append(e.Rows, row)
			}
			return ingest.Enter(bearing(t.Context(), job+key), st, e)
		}
		must := func(job, key string, rows ...ingest.EntryRow) ingest.Entered {
			t.Helper()
			done, err := enter(job, key, rows...)
			if err != nil {
				t.Fatal(err)
			}
			became[done.Rows[0].Became]++
			return done
		}
		for seed := range 25 {
			begin, a, b, more := said(both).Example(seed), said(first).Example(seed+1000), said(second).Example(seed+2000), said(first).Example(seed+3000)
			begin.Values = append(begin.Values, [2]string{"placed_on", "2025-06-03"}, [2]string{"use", "patio"}, [2]string{"area_sqft", "320"}, [2]string{"thickness_in", "4"})
			x, y := fmt.Sprintf("X-%d", seed), fmt.Sprintf("Y-%d", seed)
			must(x, "begin", begin)
			must(x, "a", a)
			must(x, "b", b)
			must(y, "begin", begin)
			must(y, "b", b)
			must(y, "a", a)
			one, other := rows(t, st, x), rows(t, st, y)
			for key, got := range one {
				_, texts, _ := strings.Cut(got, " ")
				if want := other[strings.Replace(key, "X-", "Y-", 1)]; !strings.HasSuffix(want, " "+texts) {
					t.Errorf("in the other order: %s, and %s", got, want)
				}
			}
			if _, err := enter(x, "b", b); !errors.As(err, new(*store.DoneError)) || !reflect.DeepEqual(rows(t, st, x), one) {
				t.Errorf("sent twice: %v", err)
			}
			load := ingest.EntryRow{Table: "loads", Values: [][2]string{{"ticket_no", "4711"}, {"yards", "9"}}}
			done := must(x, "more", more, load)
			if _, err := st.Undo(t.Context(), done.Batch, entryAt); err != nil || !reflect.DeepEqual(rows(t, st, x), one) {
				t.Errorf("taken back, it is\n%v\nand was\n%v (%v)", rows(t, st, x), one, err)
			}
		}
		if len(became) != 4 {
			t.Errorf("not all came about: %v", became)
		}
		sound(t, st)
	})
}

// TestEntryOutrun: what the server gives up is done again, whole, with its key.
func TestEntryOutrun(t *testing.T) {
	for name, when := range map[string]string{
		"while it adds":  "CREATE TRIGGER struck AFTER INSERT ON delays FOR EACH STATEMENT",
		"while it notes": "CREATE TRIGGER struck AFTER INSERT ON form_keys FOR EACH STATEMENT",
		"while it ends":  "CREATE CONSTRAINT TRIGGER struck AFTER UPDATE ON batches DEFERRABLE INITIALLY DEFERRED FOR EACH ROW",
	} {
		t.Run(name, func(t *testing.T) {
			dsn := storetest.Postgres(t)
			st, _ := poured(t, dsn)
			outrunFirst(t, dsn, 2, when)
			e := entering("delays", []string{"job_no", "J-1", "cause", "plant", "minutes", "5"})
			e.Pictures = &ingest.Adding{Target: "J-1", Rules: ingest.DefaultPictureRules(), Files: adding("", scene(t, "gray.jpg")).Files}
			done, err := ingest.Enter(bearing(t.Context(), "key-of-an-outrun-form"), st, e)
			if err != nil || done.Rows[0].Record != "J-1 A 1" || len(done.Pictures) != 1 {
				t.Fatalf("%+v, %v", done, err)
			}
			if log, err := st.Log(t.Context(), 10); err != nil || len(log) != 1 || log[0].Did != fmt.Sprintf("batch %d", done.Batch) {
				t.Errorf("%+v, %v", log, err)
			}
			sound(t, st)
		})
	}
}
