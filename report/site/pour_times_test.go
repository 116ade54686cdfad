package site

import (
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"

	"pourback/analysis/trade"
	"pourback/ingest/record"
	"pourback/ingest/store/storetest"
)

// TestAPhoneWhoseClockIsOff: times that a tap filled in are corrected by how far it is off,
// typed ones stay, and so do all where it is off by a minute.
func TestAPhoneWhoseClockIsOff(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		p := newPlace(t, dsn, 0, atHome) // it is 12:00 UTC, 5:00 in the phone's zone
		b := p.surfer()
		b.keepsBid(aPour("LM-900")...)
		b.headers[clockHeader] = "2026-03-31T03:00:00-07:00"
		b.queues(t, "/pour/LM-900/truck", newKey(), "part", "drive", "ticket_no", "1", "yards", "9", "batched_at", "04:20", "arrived_at", "03:00", "tapped", "arrived_at")
		b.queues(t, "/pour/LM-900/clog", newKey(), "part", "drive", "started_at", "02:30", "stopped_at", "02:45", "tapped", "started_at,stopped_at")
		b.headers[clockHeader] = "2026-03-31T04:58:40-07:00"
		b.queues(t, "/pour/LM-900/truck", newKey(), "part", "drive", "ticket_no", "2", "yards", "9", "arrived_at", "04:58", "tapped", "arrived_at")
		delete(b.headers, clockHeader)
		b.queues(t, "/pour/LM-900/truck", newKey(), "part", "drive", "ticket_no", "3", "yards", "9", "arrived_at", "04:58", "tapped", "arrived_at")
		p.holds(record.Loads, "LM-900", "drive 1: yards 9, batched_at 2026-03-31T04:20, arrived_at 2026-03-31T05:00", "drive 2: yards 9, arrived_at 2026-03-31T04:58", "drive 3: yards 9, arrived_at 2026-03-31T04:58")
		p.holds(record.Delays, "LM-900", "drive 1: cause clog, started_at 2026-03-31T04:30, minutes 15")
	})
}

// TestAnEntryThatWaited: one that was made the evening before and sent in the morning is of
// the evening, by the phone's own clock, corrected where that is off.
func TestAnEntryThatWaited(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 0, atHome)
	b := p.surfer()
	b.keepsBid(aPour("LM-900")...)
	p.later(20 * time.Hour)                              // April 1, 8:00 UTC, 1:00 in the phone's zone
	b.headers[clockHeader] = "2026-03-31T23:00:00-07:00" // two hours slow
	b.queues(t, "/pour/LM-900/truck", newKey(), "part", "drive", "ticket_no", "1", "yards", "9", "arrived_at", "15:00", "at", "2026-03-31T14:02:11")
	b.queues(t, "/pour/LM-900/truck", newKey(), "part", "drive", "ticket_no", "1", "stamp", "pour_start", "at", "2026-03-31T13:20:45")
	p.holds(record.Loads, "LM-900", "drive 1: yards 9, arrived_at 2026-03-31T15:00, pour_start 2026-03-31T15:20")
	if placed := p.onRecord(record.Placements, "LM-900"); len(placed) != 1 || !strings.Contains(placed[0], "placed_on 2026-03-31,") {
		t.Error(placed)
	}
	for _, at := range []string{"2027-01-01T08:00:00", "2020-01-01T08:00:00", "soon", ""} { // no clock says so
		b.queues(t, "/pour/LM-901/begin", newKey(), "use", "patio", "area_sqft", "240", "thickness_in", "4", "at", at)
	}
	if placed := p.onRecord(record.Placements, "LM-901"); len(placed) != 1 || !strings.Contains(placed[0], "placed_on 2026-04-01") {
		t.Error("with no believable time: ", placed)
	}
}

// TestAPourPastMidnight: times after midnight are of the next day, whoever writes them down
// when, and one that was forgotten is of the evening.
func TestAPourPastMidnight(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		p := newPlace(t, dsn, 0, atHome)
		p.later(11 * time.Hour) // 23:00
		b := p.surfer()
		b.keepsBid(aPour("LM-900")...)
		b.enters(t, "/pour/LM-900/truck", "part", "drive", "ticket_no", "1", "yards", "9", "batched_at", "22:20", "arrived_at", "22:50", "pour_start", "22:55", "pour_end", "23:20")
		p.later(2 * time.Hour)
		b.get("/crew").says(t, "Poured yesterday", "LM-900: driveway")
		b.enters(t, "/pour/LM-900/truck", "part", "drive", "ticket_no", "2", "yards", "5", "batched_at", "23:40", "arrived_at", "00:10", "pour_start", "12:15 am")
		b.enters(t, "/pour/LM-900/truck", "part", "drive", "ticket_no", "2", "was.pour_start", "2026-04-01T00:15", "pour_start", "00:15", "pour_end", "00:40")
		b.enters(t, "/pour/LM-900/clog", "part", "drive", "started_at", "23:50", "stopped_at", "00:05")
		b.enters(t, "/pour/LM-900/delay", "part", "drive", "cause", "plant", "started_at", "00:20", "minutes", "5")
		b.enters(t, "/pour/LM-900/truck", "part", "drive", "ticket_no", "0", "yards", "1", "arrived_at", "21:30")
		b.enters(t, "/pour/LM-900/saw", "part", "drive", "joint_cut", "early-entry", "saw_on", "2026-04-01", "saw_at", "04:10", "finished_at", "01:10").says(t, "first cut after 3 h")
		p.holds(record.Loads, "LM-900", "drive 0: yards 1, arrived_at 2026-03-31T21:30",
			"drive 1: yards 9, batched_at 2026-03-31T22:20, arrived_at 2026-03-31T22:50, pour_start 2026-03-31T22:55, pour_end 2026-03-31T23:20",
			"drive 2: yards 5, batched_at 2026-03-31T23:40, arrived_at 2026-04-01T00:10, pour_start 2026-04-01T00:15, pour_end 2026-04-01T00:40")
		p.holds(record.Delays, "LM-900", "drive 1: cause clog, started_at 2026-03-31T23:50, minutes 15", "drive 2: cause plant, started_at 2026-04-01T00:20, minutes 5")
		// One that begins after midnight with a truck that was loaded before it.
		b.enters(t, "/pour/LM-901/begin", "use", "patio", "area_sqft", "240", "thickness_in", "4")
		b.enters(t, "/pour/LM-901/truck", "ticket_no", "1", "yards", "3", "batched_at", "23:50", "arrived_at", "00:30")
		p.holds(record.Loads, "LM-901", "A 1: yards 3, batched_at 2026-03-31T23:50, arrived_at 2026-04-01T00:30")
	})
}

// TestWhatCannotBe: nothing of such an entry is kept, the page says why and has what was
// typed, and the queue is told in a sentence.
func TestWhatCannotBe(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		p := newPlace(t, dsn, 0, atHome)
		b := p.surfer()
		b.keepsBid(aPour("LM-900")...)
		for _, c := range []struct {
			what   string
			fields []string
			shows  []string // beside the fields, and what was typed
			says   string   // to the queue
		}{
			{"truck", []string{"ticket_no", "4711", "yards", "many", "slump_in", "4"}, []string{`name="yards" value="many"`, `name="slump_in" value="4"`, `value="4711"`, "On the ticket: “many” is no number here; write it like 4.5."}, "is no number here"},
			{"truck", []string{"ticket_no", "4711"}, []string{"Nothing is filled in; fill in at least one value."}, "Nothing is filled in;"},
			{"truck", []string{"ticket_no", "4711", "slump_in", "4"}, []string{"On the ticket: fill it in."}, "fill it in"},
			{"truck", []string{"yards", "9"}, []string{"Ticket number: fill it in.", `name="yards" value="9"`}, "Ticket number"},
			{"truck", []string{"ticket_no", "4711", "yards", "9", "arrived_at", "08:30", "pour_start", "08:10"}, []string{"Pour starts: before an earlier time of this truck; check both.", `name="arrived_at" value="08:30"`}, "before"},
			{"truck", []string{"ticket_no", "4711", "yards", "9", "arrived_at", "29:10"}, []string{"Arrived: “29:10” is no time of day; write 6:30, 6:30am or 18:30.", `name="arrived_at" value="29:10"`}, "Arrived"},
			{"clog", []string{"started_at", "09:00"}, []string{"Ended: How long it took is missing; tap “Now” when it ends, or write the minutes.", `name="started_at" value="09:00"`}, "How long it took is missing"},
			{"clog", []string{"started_at", "09:00", "stopped_at", "08:50"}, []string{"Ended: it ends before it began; check both times."}, "it ends before it began"},
			{"delay", []string{"minutes", "10"}, []string{"Cause: fill it in."}, "Cause"},
			{"probes", []string{"probe", "4", "probe", "45"}, []string{"Each probe: thicker than 24 in", `value="45"`}, "thicker than 24 in"},
			{"hours", []string{"worked_on", "2026-03-31", "task", "place", "people", "4"}, []string{"Hours each: People and hours belong together"}, "belong together"},
			{"hours", []string{"worked_on", "2026-03-31", "people", "4", "each", "8"}, []string{"Task: fill it in.", `name="people" value="4"`}, "Task"},
			{"hours", []string{"worked_on", "2026-04-09", "task", "place", "hours", "8"}, []string{"Day of the work: that lies in the future."}, "in the future"},
			{"saw", []string{"saw_on", "2026-03-31", "saw_at", "10:00"}, []string{"Finishing was done at: no time to count from"}, "no time to count from"},
			{"saw", []string{"saw_on", "2026-03-31", "saw_at", "10:00", "finished_at", "11:00"}, []string{"First cut at: the cut comes before that"}, "the cut comes before that"},
			{"saw", []string{"joint_depth_in", "5"}, []string{"Depth of the cut: deeper than the slab is thick"}, "deeper than the slab is thick"},
			{"weather", nil, []string{"Nothing is filled in;"}, "Nothing is filled in;"},
			{"weather", []string{"humidity_pct", "140"}, []string{"Humidity: "}, "Humidity"},
			{"begin", []string{"use", "patio", "thickness_in", "4"}, []string{"Area: the size is missing; write the area, or length and width."}, "the size is missing"},
			{"begin", []string{"area_sqft", "100", "thickness_in", "4"}, []string{"What it is: fill it in.", `name="area_sqft" value="100"`}, "What it is"},
		} {
			p.later(2 * time.Second)
			fields := append([]string{"part", "drive"}, c.fields...)
			got := b.post("/pour/LM-900/"+c.what, append([]string{keyField, newKey()}, fields...)...)
			if got.status != http.StatusUnprocessableEntity || !strings.Contains(got.body, `<details id="`+c.what+`" open>`) {
				t.Errorf("%s %v: %v", c.what, c.fields, got)
			}
			got.body = mainOf(got.body)
			got.says(t, c.shows...)
			if q := b.queues(t, "/pour/LM-900/"+c.what, newKey(), fields...); q.status != http.StatusUnprocessableEntity || !strings.Contains(q.Refused, c.says) || q.Kept != "" {
				t.Errorf("%s %v: the queue is told %+v", c.what, c.fields, q)
			}
		}
		got := b.post("/crew", keyField, newKey(), "job_no", "", "use", "patio", "length", "20", "width", "x", "thickness_in", "4")
		got.says(t, "Job number: fill it in.", `name="length" value="20"`, `value="patio" checked`)
		if got.status != http.StatusUnprocessableEntity {
			t.Error("without a job number: ", got)
		}
		if q := b.queues(t, "/pour/LM-555/truck", newKey(), "ticket_no", "1", "yards", "9"); q.status != http.StatusUnprocessableEntity || !strings.Contains(q.Refused, "Start it first") {
			t.Errorf("a pour of which nothing is known: %+v", q)
		}
		for _, table := range []*record.Table{record.Placements, record.Loads, record.Delays, record.Labors} {
			p.holds(table, "LM-900")
		}
		if batches, err := p.store.Batches(t.Context()); err != nil || len(batches) != 0 {
			t.Errorf("%d batches, %v", len(batches), err)
		}
	})
}

// TestAPourInSpanishAndInMetric: decimals as people write them, words in either language,
// and bare numbers in the unit that the field names.
func TestAPourInSpanishAndInMetric(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		p := newPlace(t, dsn, 0, atHome)
		b := p.surfer()
		b.keepsBid(aPour("LM-900")...)
		b.get("/pour/LM-900?lang=es").says(t, "En la boleta, yd³", "Camión", "Tapón")
		b.enters(t, "/pour/LM-900/truck?lang=es", "part", "drive", "ticket_no", "4711", "yards", "7,5", "slump_in", "4 1/2").says(t, "Registrado: Camión 4711, 7½ yd³, revenimiento de 4½ pulg.")
		b.enters(t, "/pour/LM-900/clog?lang=es", "part", "drive", "spot", "manguera", "minutes", "12").says(t, "Tapón en manguera, 12 minutos")
		got := b.post("/pour/LM-900/truck?lang=es", keyField, newKey(), "part", "drive", "ticket_no", "1", "yards", "muchas")
		got.says(t, "En la boleta: “muchas” no es un número; escribirlo como 4.5.", `value="muchas"`)
		at := "/pour/LM-900/truck?units=si"
		b.enters(t, at, "part", "drive", "ticket_no", "4712", "yards", "7.5", "slump_in", "110", "concrete_temp_f", "30", "water_added_gal", "20 L")
		b.get("/pour/LM-900?units=si&truck=4712").says(t, `name="yards" value="7.5"`, `name="concrete_temp_f" value="30"`, "On the ticket, m³", `name="slump_in" value="110"`)
		// What is shown to the hundredth and not touched stays as it is on record.
		before := p.onRecord(record.Loads, "LM-900")[1]
		b.enters(t, at, "part", "drive", "ticket_no", "4712", "was.yards", valueIn(before, "yards"), "yards", "7.5", "pour_end", "9:00")
		want := before[:strings.Index(before, ", slump")] + ", pour_end 2026-03-31T09:00" + before[strings.Index(before, ", slump"):]
		p.holds(record.Loads, "LM-900", "drive 4711: yards 7.5, slump_in 4.5", want)
		if yd := valueIn(before, "yards"); !strings.HasPrefix(yd, "9.8096") { // 7.5 m³ / 0.764554857984 m³ a yd³
			t.Error("7.5 m³ are ", yd)
		}
		b.enters(t, "/pour/LM-900/probes?units=si", "part", "drive", "probe", "100", "probe", "104").says(t, "Measured 102 mm thick for 102 mm planned.")
		if got := valueIn(p.onRecord(record.Placements, "LM-900")[0], "measured_thickness_in"); got != "4.02" { // (100 + 104) / 2 / 25.4
			t.Error("100 and 104 mm are ", got)
		}
	})
}

// TestAPourWithDecimalCommas: where a comma is the mark, what a bid knows is the same.
func TestAPourWithDecimalCommas(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 0, atHome)
	p.site.Settings.Sheet.DecimalComma = "yes"
	b := p.surfer()
	b.keepsBid(append(aPour("LM-900"), "p0.max_aggregate_in", "0,375")...)
	b.enters(t, "/pour/LM-900/weather", "part", "drive", "air_temp_f", "92,5")
	b.get("/pour/LM-900").says(t, `name="air_temp_f" value="92,5"`)
	b.enters(t, "/pour/LM-900/probes", "part", "drive", "probe", "4,25", "probe", "4", "probe", "4,2")
	p.holds(record.Placements, "LM-900", "drive: placed_on 2026-03-31, use driveway, area_sqft 1056, thickness_in 4, measured_thickness_in 4.15, neat_yd 13.04, planned_yd 14.82, method pump, "+
		"mix C30, mix_psi 4000, max_aggregate_in 0.375, reinforcement rebar, joint_spacing_ft 8, air_temp_f 92.5, crew Heron")
}

// TestABidOfAnotherVersion: a form that was opened before the bid was revised, for a
// placement that there is not any more, goes to no other.
func TestABidOfAnotherVersion(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 0, atHome)
	b := p.surfer()
	b.keepsBid(aPour("LM-900")...)
	if q := b.queues(t, "/pour/LM-900/truck", newKey(), "part", "ramp", "ticket_no", "1", "yards", "9"); q.status != http.StatusUnprocessableEntity || !strings.Contains(q.Refused, "Start it first") {
		t.Errorf("%+v", q)
	}
	if q := b.queues(t, "/pour/LM-900/truck", newKey(), "ticket_no", "1", "yards", "9"); q.status != 200 {
		t.Errorf("without a placement it is the first one's: %+v", q)
	}
	p.holds(record.Loads, "LM-900", "drive 1: yards 9")
}

// valueIn is the value of a column in a row as [place.onRecord] writes it.
func valueIn(row, column string) string {
	_, rest, _ := strings.Cut(row, column+" ")
	value, _, _ := strings.Cut(rest, ",")
	return value
}

// TestToday: what is poured today, what was yesterday, and what comes next, by day; and a
// pour that nobody has planned.
func TestToday(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		p := newPlace(t, dsn, 0, atHome)
		b := p.surfer()
		b.get("/crew").says(t, "No pour is planned: no bid is open or won.")
		b.keepsBid(aPour("LM-900")...)
		b.keepsBid(append(aSlab, "job_no", "LM-902", "on", "2026-04-09")...)
		b.keepsBid(append(aSlab, "job_no", "LM-903")...)
		b.keepsBid(append(aSlab, "job_no", "LM-901", "on", "2026-04-02")...)
		b.keepsBid(append(aSlab, "job_no", "LM-904", "on", testDay.String())...)
		b.post("/bids/5/mark", keyField, newKey(), "fate", "lost")
		got := b.get("/crew")
		got.body = mainOf(got.body)
		got.says(t, "March 31, 2026: 1 pour.")
		inOrder(t, got.body, "Today&#39;s pours", "LM-900: Lot 14, Mesquite Lane", "Next pours", "LM-901:", "LM-902:", "LM-903:", "A pour that is not listed")
		if strings.Contains(got.body, "LM-904") {
			t.Error("a lost bid is to be poured")
		}
		kept := b.enters(t, "/crew", "job_no", "J 7/2", "use", "patio", "length", "20.5", "width", "12", "thickness_in", "4")
		kept.says(t, "On record: placement A, patio, 246 sq ft · 4 in thick.", "J 7/2: patio", `action="/pour/`+url.PathEscape("J 7/2")+`/truck"`)
		b.enters(t, "/crew", "job_no", "J 7/2", "use", "patio", "area_sqft", "246", "thickness_in", "4").says(t, "This placement was started before")
		b.enters(t, "/crew", "job_no", "J 7/2", "use", "walkway", "area_sqft", "80", "thickness_in", "4").says(t, "On record: placement B, walkway")
		p.holds(record.Placements, "J 7/2", "A: placed_on 2026-03-31, use patio, area_sqft 246, thickness_in 4", "B: placed_on 2026-03-31, use walkway, area_sqft 80, thickness_in 4")
		b.enters(t, "/pour/LM-900/truck", "part", "drive", "ticket_no", "1", "yards", "9", "pour_end", "9:00")
		inOrder(t, mainOf(b.get("/crew").body), "March 31, 2026: 3 pours.", "J 7/2: patio", "J 7/2: walkway", "LM-900: driveway", "9 of 14.8 yd placed, 1 truck.", "Next pours")
		p.later(24 * time.Hour)
		inOrder(t, mainOf(b.get("/crew").body), "April 1, 2026: no pour is planned for today. 3 pours of yesterday have no saw cut on record.", "Poured yesterday", "The saw cut is not on record yet.", "Next pours")
		b.enters(t, "/pour/LM-900/saw", "part", "drive", "joint_cut", "tooled")
		inOrder(t, mainOf(b.get("/crew").body), "2 pours of yesterday have no saw cut on record.")
	})
}

func inOrder(t testing.TB, body string, texts ...string) {
	t.Helper()
	at := 0
	for _, text := range texts {
		found := strings.Index(body[at:], text)
		if found < 0 {
			t.Errorf("%q does not stand in its place:\n%.3000s", text, body)
			return
		}
		at += found
	}
}

// TestTheLastLoadOfAPour: what is on record as placed is filled in, and the table to read
// it off stands on the page.
func TestTheLastLoadOfAPour(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 40, atHome)
	b := p.surfer()
	b.keepsBid(aPour("LM-900")...)
	b.enters(t, "/pour/LM-900/truck", "part", "drive", "ticket_no", "1", "yards", "6")
	b.enters(t, "/pour/LM-900/truck", "part", "walk", "ticket_no", "2", "yards", "1.5")
	got := b.get("/pour/LM-900/last-load")
	got.body = mainOf(got.body)
	got.says(t, `name="placed" value="7.5"`, `action="/pour/LM-900/last-load"`, `href="/pour/LM-900"`)
	if of := mainOf(b.get("/bids/1/balance").body); strings.Contains(b.get("/bids/1/pour-day").body, "placed → still needed") != strings.Contains(got.body, "placed → still needed") || strings.Contains(of, "still needed") {
		t.Error("the table stands on one of the pages only")
	}
	want := answerIn(t, b.get("/bids/1/balance?placed=7.5&covered=50").body)
	if got := answerIn(t, b.get("/pour/LM-900/last-load?placed=7.5&covered=50").body); got != want {
		t.Errorf("%q, and by the bid %q", got, want)
	}
}

func answerIn(t testing.TB, body string) string {
	t.Helper()
	_, answer, ok := strings.Cut(body, `data-part="answer">`)
	if !ok {
		t.Fatal("no answer")
	}
	answer, _, _ = strings.Cut(answer, "<")
	return answer
}

// TestTheDryingRate is the published formula's.
func TestTheDryingRate(t *testing.T) {
	p := &record.Placement{AirTempF: record.Some(92.0), ConcreteTempF: record.Some(88.0), HumidityPct: record.Some(20.0), WindMPH: record.Some(10.0)}
	want, err := trade.Evaporation(88, 92, 20, 10)
	if rate, ok := drying(p); !ok || err != nil || rate != want {
		t.Errorf("%v, want %v (%v)", rate, want, err)
	}
	p.WindMPH = record.Number{}
	if _, ok := drying(p); ok {
		t.Error("a rate without wind")
	}
}
