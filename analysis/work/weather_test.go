package work

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
	"pourback/ingest/record"
)

// Thirty pours of one kind, a third of them at concrete 95 °F, air 95 °F,
// humidity 20 % and wind 12 mph, which dry at well over 0.2 lb/ft²/h, and those
// take half as long again.
func TestHeatCostsHours(t *testing.T) {
	var s record.Set
	for i := range 30 {
		p := trial.Pour(fmt.Sprint("J-", 100+i), "2025-06-03", "patio", "chute", 5, 5.5)
		p.PlacedOn += record.Date(i)
		p.Crew, p.LaborHours = "Heron", record.Some(20+float64(i%3))
		p.ConcreteTempF, p.AirTempF, p.HumidityPct, p.WindMPH = record.Some(65.0), record.Some(35.0+float64(i)), record.Some(70.0), record.Some(5.0)
		if i%3 == 0 {
			p.ConcreteTempF, p.AirTempF, p.HumidityPct, p.WindMPH = record.Some(95.0), record.Some(95.0), record.Some(20.0), record.Some(12.0)
			p.LaborHours = record.Some(30.0)
		}
		s.Placements = append(s.Placements, p)
	}
	w := answer(t, s, "2025-12-31", setting.Options{}).Weather
	if w.HotCount != 10 || w.Known != 30 || w.ColdCount != 3 || w.HasAir != 30 {
		t.Errorf("%d hot of %d, %d cold of %d; want 10 of 30 and 3 of 30", w.HotCount, w.Known, w.ColdCount, w.HasAir)
	}
	// The others took 21 and 22 hours: 30 over their geometric mean 21.494.
	trial.Near(t, "hours on hot pours", w.HotHours.Value, 30/21.494, 1e-3)
	if w.HotHours.Low <= 1 || w.Hottest != time.June {
		t.Errorf("%+v, mostly in %v", w.HotHours, w.Hottest)
	}
	if june := w.Months[0]; len(w.Months) != 2 || june.Month != time.June || june.Pours != 28 || june.Hot != 10 || len(w.Lacking) > 0 {
		t.Errorf("%+v, lacking %+v", w.Months, w.Lacking)
	}
	if hot, known := w.InMonth("2025-06"); hot != 10 || known != 28 {
		t.Errorf("%d of %d hot in June 2025, want 10 of 28", hot, known)
	}
	// exp(5000·(1/293.15 − 1/308.15)), 95 °F being 35 °C, by ASTM C1074.
	trial.Near(t, "pace of set", w.SetPace.Value, 2.2939, 1e-3)
}

func TestTooFewHotPours(t *testing.T) {
	p := trial.Pour("1", "2025-07-02", "patio", "chute", 2, 2.2)
	p.ConcreteTempF, p.AirTempF, p.HumidityPct, p.WindMPH = record.Some(95.0), record.Some(95.0), record.Some(20.0), record.Some(12.0)
	w := answer(t, record.Set{Placements: []record.Placement{p}}, "2025-12-31", setting.Options{}).Weather
	if w.HotHours.Why != (NoTimedPours{}) || !w.SetPace.Known() || w.HotCount != 1 || w.Hottest != 0 {
		t.Errorf("%+v", w)
	}
	p.LaborHours, p.Crew = record.Some(20.0), "Heron"
	some := record.Set{Placements: []record.Placement{p}}
	for i := range 6 {
		cool := p
		cool.JobNo, cool.WindMPH, cool.ConcreteTempF = fmt.Sprint("2-", i), record.Some(0.0), record.Some(60.0)
		cool.LaborHours = record.Some(18 + float64(i))
		some.Placements = append(some.Placements, cool)
	}
	w = answer(t, some, "2025-12-31", setting.Options{}).Weather
	if w.HotHours.Why != (FewHotPours{Hot: 1, Others: 6}) {
		t.Errorf("%+v", w.HotHours)
	}
}

// What a pour lacks is told by the columns' names, the commonest first; what is
// there and out of range is told too.
func TestWhatTheRateLacks(t *testing.T) {
	full := trial.Pour("1", "2025-07-02", "patio", "chute", 2, 2.2)
	full.ConcreteTempF, full.AirTempF, full.HumidityPct, full.WindMPH = record.Some(80.0), record.Some(80.0), record.Some(50.0), record.Some(5.0)
	calm, bare, strange := full, trial.Pour("3", "2025-07-02", "patio", "chute", 2, 2.2), full
	calm.JobNo, calm.WindMPH = "2", record.Number{}
	strange.JobNo, strange.WindMPH = "4", record.Some(900.0)
	w := answer(t, record.Set{Placements: []record.Placement{full, calm, bare, strange}}, "2025-12-31", setting.Options{}).Weather
	if want := []Lacking{{"wind_mph", 2}, {"air_temp_f", 1}, {"concrete_temp_f", 1}, {"humidity_pct", 1}}; !slices.Equal(w.Lacking, want) {
		t.Errorf("%+v, want %+v", w.Lacking, want)
	}
	for i, want := range []string{"", "wind_mph", "concrete_temp_f air_temp_f humidity_pct wind_mph", ""} {
		if got := strings.Join(w.Placements[i].Lacks.Columns(), " "); got != want {
			t.Errorf("placement %d lacks %q, want %q", i, got, want)
		}
	}
	if e := w.Placements[0]; e.AirF != 80 || e.Cracked {
		t.Errorf("a pour in air of 80 °F that nobody called about: %+v", e)
	}
	full.CallbackOn, full.CallbackKind = full.PlacedOn+30, "crack"
	if e := answer(t, record.Set{Placements: []record.Placement{full}}, "2025-12-31", setting.Options{}).Weather.Placements[0]; !e.Cracked {
		t.Errorf("called about a crack: %+v", e)
	}
	if e := w.Placements[3]; e.Rate.OK || e.Lacks == 0 || e.Lacks >= MostLacks {
		t.Errorf("a wind of 900 mph: %+v", e)
	}
}
