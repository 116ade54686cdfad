package site

import (
	"encoding/json"
	"fmt"
	"net/http"
	"slices"
	"strings"
	"testing"
	"time"

	"pourback/ingest/record"
	"pourback/ingest/store/storetest"
)

// aPour are the fields of a bid on a job, a pumped driveway with a walk off the chute,
// poured on the tests' day.
func aPour(job string) []string {
	fields := append(slices.Clone(aDrive), "job_no", job, "p0.mix", "C30", "p0.mix_psi", "4000")
	fields[slices.Index(fields, "on")+1] = testDay.String()
	return fields
}

// enters posts a form of a pour as a browser without script does, and returns the page
// that it is led to.
func (b *surfer) enters(t testing.TB, path string, fields ...string) answered {
	t.Helper()
	got := b.post(path, append([]string{keyField, newKey()}, fields...)...)
	if got.status != http.StatusSeeOther {
		t.Fatalf("%s %v: %v\n%s", path, fields, got, mainOf(got.body))
	}
	got = b.get(got.header.Get("Location"))
	got.body = "<body>" + mainOf(got.body)
	return got
}

// queued is the answer to an entry that the queue of a phone has sent.
type queued struct {
	Key, Kept, Became, Says, Refused string
	status                           int
}

func (b *surfer) queues(t testing.TB, path, key string, fields ...string) (q queued) {
	t.Helper()
	b.headers[entryHeader] = "1"
	defer delete(b.headers, entryHeader)
	got := b.post(path, append([]string{keyField, key}, fields...)...)
	q.status = got.status
	if err := json.Unmarshal([]byte(got.body), &q); err != nil {
		t.Fatalf("%s %v: %v is no JSON: %v\n%s", path, fields, got, err, mainOf(got.body))
	}
	if q.Key != key {
		t.Errorf("%s: the answer is about %q, and not about %q", path, q.Key, key)
	}
	return q
}

func mainOf(body string) string {
	_, main, _ := strings.Cut(body, `<main id="answer">`)
	main, _, _ = strings.Cut(main, "<footer")
	return main
}

// onRecord are the values of the rows of a job in a table, without its number, each row
// in a text: "A 4711: yards 9, arrived_at 2026-03-31T08:15".
func (p *place) onRecord(table *record.Table, job string) (rows []string) {
	p.t.Helper()
	records, err := p.store.RecordsOf(p.t.Context(), job, table)
	if err != nil {
		p.t.Fatal(err)
	}
	for _, r := range records {
		var key, values []string
		for i, c := range table.Columns {
			switch text := record.FieldText(r.Fields()[i]); {
			case text == "" || c.Name == "job_no":
			case c.Key:
				key = append(key, text)
			default:
				values = append(values, c.Name+" "+text)
			}
		}
		rows = append(rows, strings.Join(key, " ")+": "+strings.Join(values, ", "))
	}
	return rows
}

func (p *place) holds(table *record.Table, job string, want ...string) {
	p.t.Helper()
	if got := p.onRecord(table, job); !slices.Equal(got, want) {
		p.t.Errorf("%s of %s:\n\t%s\nwant\n\t%s", table.Name, job, strings.Join(got, "\n\t"), strings.Join(want, "\n\t"))
	}
}

// TestAPourDayIsWrittenDown: a day at a driveway, form by form without script, ends in the
// rows and columns in which an office would have written it.
func TestAPourDayIsWrittenDown(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		p := newPlace(t, dsn, 0, atHome)
		p.user("Ana", Owner)
		p.user("Bo", Crew)
		p.signedIn("Ana").keepsBid(aPour("LM-900")...)
		b := p.signedIn("Bo")
		b.get("/pour/LM-900").says(t, "LM-900: driveway", "No truck is on record yet. Planned: 14.8 yd.")
		for _, step := range []struct {
			what   string
			fields []string
			says   []string
		}{
			{"weather", []string{"air_temp_f", "92", "concrete_temp_f", "88", "humidity_pct", "20", "wind_mph", "10"}, []string{"On record: Air 92 °F, concrete 88 °F, humidity 20%, wind 10 mph.", "and from 0.2 lb/ft²/h on precautions are due", "wears people down"}},
			{"truck", []string{"ticket_no", "4711", "yards", "9", "batched_at", "07:40", "arrived_at", "08:15"}, []string{"On record: Truck 4711, 9 yd, on site 8:15.", "9 of 14.8 yd delivered, 1 truck.", "Truck 4711 starts pouring"}},
			{"truck", []string{"ticket_no", "4711", "was.yards", "9", "yards", "9", "was.batched_at", "2026-03-31T07:40", "batched_at", "07:40", "was.arrived_at", "2026-03-31T08:15", "arrived_at", "08:15", "pour_start", "8:20", "pour_end", "8:52", "slump_in", "4 1/2", "concrete_temp_f", "88", "water_added_gal", "5"},
				[]string{"Truck 4711, 9 yd, on site 8:15, poured 8:20 to 8:52, slump 4½ in, water 5 gal."}},
			{"clog", []string{"started_at", "08:30", "stopped_at", "08:42", "spot", "reducer", "note", "rock in the reducer"}, []string{"On record: Clog in the reducer, 8:30, 12 minutes."}},
			{"truck", []string{"ticket_no", "4712", "yards", "5.5", "arrived_at", "09:05"}, []string{"14½ of 14.8 yd delivered, 2 trucks, 1 clog."}},
			{"truck", []string{"ticket_no", "4712", "stamp", "pour_start"}, []string{"pouring since 12:00 pm", "Truck 4712 is empty"}},
			{"delay", []string{"cause", "truck late", "minutes", "25"}, []string{"On record: Truck late, 25 minutes."}},
			{"delay", []string{"cause", "weather", "started_at", "10:00", "stopped_at", "10:15"}, []string{"On record: Weather, 10:00, 15 minutes."}},
			{"leftover", []string{"leftover_yd", "0.5", "where", "pad at the shop"}, []string{"On record: Left over: ½ yd.", "14 of 14.8 yd placed"}},
			{"probes", []string{"probe", "4.25", "probe", "4", "probe", "3.75", "probe", ""}, []string{"On record: Measured 4 in thick for 4 in planned."}},
			{"hours", []string{"worked_on", "2026-03-31", "task", "place", "people", "4", "each", "6.5"}, []string{"On record: Place, March 31, 2026: 26 person-hours.", "wears people down"}},
			{"hours", []string{"worked_on", "2026-03-31", "task", "finish", "hours", "9 + 8.5"}, []string{"Finish, March 31, 2026: 17.5 person-hours."}},
			{"curing", []string{"curing", "compound"}, []string{"On record: Curing: compound."}},
			{"note", []string{"note", "gate code 1234"}, []string{"The note is on record."}},
		} {
			p.later(2 * time.Second)
			b.enters(t, "/pour/LM-900/"+step.what, append([]string{"part", "drive"}, step.fields...)...).says(t, step.says...)
		}
		p.later(21 * time.Hour) // the next morning
		got := b.get("/pour/LM-900?part=drive")
		if saw, truck := strings.Index(got.body, `id="saw"`), strings.Index(got.body, `id="truck"`); saw < 0 || saw > truck {
			t.Error("the morning after, the saw cut does not stand first")
		}
		b.enters(t, "/pour/LM-900/saw", "part", "drive", "joint_cut", "saw", "joint_depth_in", "1.25", "saw_on", "2026-03-31", "saw_at", "18:30", "finished_at", "12:30").says(t,
			"On record: Joints, saw, 1¼ in deep, first cut after 6 h. Counted from the end of finishing.")

		p.holds(record.Placements, "LM-900", "drive: placed_on 2026-03-31, use driveway, area_sqft 1056, thickness_in 4, measured_thickness_in 4, neat_yd 13.04, planned_yd 14.82, leftover_yd 0.5, method pump, "+
			"mix C30, mix_psi 4000, reinforcement rebar, joint_spacing_ft 8, joint_cut saw, joint_depth_in 1.25, saw_hours 6, curing compound, air_temp_f 92, concrete_temp_f 88, humidity_pct 20, wind_mph 10, crew Heron, note Leftover: pad at the shop; gate code 1234")
		p.holds(record.Loads, "LM-900", "drive 4711: yards 9, batched_at 2026-03-31T07:40, arrived_at 2026-03-31T08:15, pour_start 2026-03-31T08:20, pour_end 2026-03-31T08:52, slump_in 4.5, concrete_temp_f 88, water_added_gal 5",
			"drive 4712: yards 5.5, arrived_at 2026-03-31T09:05, pour_start 2026-03-31T12:00")
		p.holds(record.Delays, "LM-900", "drive 1: cause clog, started_at 2026-03-31T08:30, spot reducer, minutes 12, note rock in the reducer", "drive 2: cause truck late, minutes 25", "drive 3: cause weather, started_at 2026-03-31T10:00, minutes 15")
		p.holds(record.Labors, "LM-900", "drive 2026-03-31 finish: crew Heron, hours 17.5", "drive 2026-03-31 place: crew Heron, hours 26")
		batches, err := p.store.Batches(t.Context())
		if err != nil || len(batches) != 15 || batches[1].File != "form truck 4711 of LM-900 drive" || batches[1].Who != "Bo" {
			t.Errorf("%d batches: %+v, %v", len(batches), batches, err)
		}
	})
}

// TestAnEntryIsKeptOnce: the same entry again, from the queue or from a browser, comes to
// what it came to before; its key with another body is refused.
func TestAnEntryIsKeptOnce(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		p := newPlace(t, dsn, 0, atHome)
		b := p.surfer()
		b.keepsBid(aPour("LM-900")...)
		key, truck := newKey(), []string{"part", "drive", "ticket_no", "4711", "yards", "9"}
		first := b.queues(t, "/pour/LM-900/truck", key, truck...)
		if first.status != 200 || first.Became != "new" || first.Kept != "batch 1" || !strings.Contains(first.Says, "Truck 4711, 9 yd") {
			t.Errorf("%+v", first)
		}
		if again := b.queues(t, "/pour/LM-900/truck", key, truck...); again != first {
			t.Errorf("again %+v", again)
		}
		b.enters(t, "/pour/LM-900/note", "part", "drive", "note", "x")
		got := b.post("/pour/LM-900/truck", append([]string{keyField, key}, truck...)...)
		if at := got.header.Get("Location"); got.status != 303 || !strings.HasPrefix(at, "/pour/LM-900?kept=") {
			t.Error("the same from a browser: ", got)
		}
		b.get(got.header.Get("Location")).says(t, "Truck 4711, 9 yd")
		p.reopen(atHome) // the program was started anew, and remembers nothing
		b = p.surfer()
		if again := b.queues(t, "/pour/LM-900/truck", key, truck...); again.status != 200 || again.Kept != "batch 1" || again.Became != "new" || again.Says != "This came in before. It is on record." {
			t.Errorf("after a new start %+v", again)
		}
		b.get("/pour/LM-900?kept="+key).says(t, "This came in before. It is on record.")
		other := b.queues(t, "/pour/LM-900/truck", key, "part", "drive", "ticket_no", "4711", "yards", "8")
		if other.status != http.StatusConflict || other.Refused == "" || other.Kept != "" {
			t.Errorf("another body %+v", other)
		}
		p.holds(record.Loads, "LM-900", "drive 4711: yards 9")
		if got := b.post("/pour/LM-900/truck", truck...); got.status != http.StatusBadRequest {
			t.Error("without a key: ", got)
		}
	})
}

// TestTwoPhonesAtOnePour: what two people fill in apart comes together; where both give one
// value, the first stands, both are kept, and the second is told.
func TestTwoPhonesAtOnePour(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		p := newPlace(t, dsn, 0, atHome)
		b := p.surfer()
		b.keepsBid(aPour("LM-900")...)
		b.enters(t, "/pour/LM-900/truck", "part", "drive", "ticket_no", "1", "yards", "9")
		b.enters(t, "/pour/LM-900/truck", "part", "drive", "ticket_no", "1", "was.yards", "9", "yards", "9", "slump_in", "4")
		apart := b.queues(t, "/pour/LM-900/truck", newKey(), "part", "drive", "ticket_no", "1", "was.yards", "9", "yards", "9", "water_added_gal", "3")
		if apart.Became != "changed" {
			t.Errorf("apart %+v", apart)
		}
		both := b.queues(t, "/pour/LM-900/truck", newKey(), "part", "drive", "ticket_no", "1", "was.yards", "9", "yards", "8.5", "slump_in", "5")
		if both.Became != "clash" || !strings.Contains(both.Says, "Slump: on record is 4, you entered 5.") || !strings.Contains(both.Says, "the office settles it") {
			t.Errorf("both %+v", both)
		}
		p.holds(record.Loads, "LM-900", "drive 1: yards 8.5, slump_in 4, water_added_gal 3")
		b.enters(t, "/pour/LM-900/leftover", "part", "drive", "leftover_yd", "0.5")
		b.enters(t, "/pour/LM-900/leftover", "part", "drive", "leftover_yd", "1").says(t, "Left over: on record is 0.5, you entered 1.", "Both are kept, and the office settles it.", `class="entry-told clashes"`)
		batches, err := p.store.Batches(t.Context())
		if last := batches[len(batches)-1]; err != nil || last.SetAside != 1 {
			t.Errorf("nothing was set aside: %+v, %v", last, err)
		}
		b.get(fmt.Sprintf("/batches/%d", batches[len(batches)-1].ID)).says(t, "Values to settle")
	})
}
