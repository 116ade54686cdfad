package work

import (
	"fmt"
	"strings"
	"testing"

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
	if w.HotHours.Low <= 1 || !strings.Contains(w.Answer, "40 % more hours") {
		t.Errorf("%+v %q", w.HotHours, w.Answer)
	}
	// exp(5000·(1/293.15 − 1/308.15)), 95 °F being 35 °C, by ASTM C1074.
	trial.Near(t, "pace of set", w.SetPace.Value, 2.2939, 1e-3)
}

func TestTooFewHotPours(t *testing.T) {
	p := trial.Pour("1", "2025-07-02", "patio", "chute", 2, 2.2)
	p.ConcreteTempF, p.AirTempF, p.HumidityPct, p.WindMPH = record.Some(95.0), record.Some(95.0), record.Some(20.0), record.Some(12.0)
	w := answer(t, record.Set{Placements: []record.Placement{p}}, "2025-12-31", setting.Options{}).Weather
	if w.HotHours.Known() || !w.SetPace.Known() || w.HotCount != 1 {
		t.Errorf("%+v", w)
	}
}
