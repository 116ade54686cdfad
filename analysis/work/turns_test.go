package work

import (
	"testing"

	"pourback/analysis/figure"
	"pourback/analysis/internal/trial"
	"pourback/ingest/record"
)

func estimated(v, low, high float64) figure.Figure {
	return figure.Figure{Value: v, Low: low, High: high, Level: 0.9, N: 50, Bounded: true, OK: true}
}

// By hand: 4 clogs in 100 yd against 2, at $600 for 20 clogs, $30 each: $60 saved
// on 100 yd. It turns where both clog alike; the cost of a clog never turns it.
func TestWhatTurnsTheOutfitByHand(t *testing.T) {
	p := Pump{All: PumpOutfit{Clogs: 20}, PerClog: estimated(25, 20, 30), ClogCost: figure.Total(600, 60, "sum"),
		Outfits: []PumpOutfit{{Outfit: "P1", Pooled: estimated(2, 1, 3.5)}, {Outfit: "P2", Pooled: estimated(4, 1.8, 7)}, {Outfit: "unknown", Pooled: estimated(9, 8, 10)}}}
	levers, who := p.turnedBy()
	if who != (Rivals{"P1", "P2", 60}) || len(levers) != 2 {
		t.Fatalf("%+v %+v", who, levers)
	}
	most, least := levers[0], levers[1]
	if most.Input != ClogsOfMost || least.Input != ClogsOfLeast || !most.Within || least.Within {
		t.Errorf("%+v", levers)
	}
	trial.Near(t, "fewest of the most", most.AtLow, -6, 1e-9)
	trial.Near(t, "most of the most", most.AtHigh, 150, 1e-9)
	trial.Near(t, "turns", most.Turns.V, 2, 1e-9)
	trial.Near(t, "turns", least.Turns.V, 4, 1e-9)
	p.Outfits[1].Pooled = p.Outfits[0].Pooled
	if levers, who := p.turnedBy(); levers == nil || len(levers) != 0 || who != (Rivals{}) {
		t.Errorf("two that clog alike: %+v %+v", who, levers)
	}
	p.Outfits = p.Outfits[:1]
	if levers, _ := p.turnedBy(); levers == nil || len(levers) != 0 {
		t.Errorf("one outfit: %+v", levers)
	}
}

// By hand: 26 hours, one crew at 0.9 and one at 1.1 of the average, at $40: $208.
// It turns where both need as many, which is in neither range.
func TestWhatTurnsTheCrewByHand(t *testing.T) {
	l := Labor{Reference: estimated(26, 17, 38)}
	levers, who := l.turnedBy([]Crew{{Crew: "Heron", HoursVsAverage: estimated(0.9, 0.87, 0.93)}, {Crew: "Wren", HoursVsAverage: estimated(1.1, 1.05, 1.16)}, {Crew: "new", HoursVsAverage: figure.Unknown(figure.FewPlacements{N: 1})}}, 40)
	if len(levers) != 2 || who.Better != "Heron" || who.Worse != "Wren" {
		t.Fatalf("%+v %+v", who, levers)
	}
	trial.Near(t, "saved", who.Saves, 208, 1e-9)
	for _, l := range levers {
		if l.Within || l.AtLow <= 0 || l.AtHigh <= 0 {
			t.Errorf("%+v", l)
		}
	}
	alike := []Crew{{Crew: "Heron", HoursVsAverage: estimated(1, 0.9, 1.1)}, {Crew: "Wren", HoursVsAverage: estimated(1, 0.8, 1.2)}}
	if levers, who := l.turnedBy(alike, 40); levers == nil || len(levers) != 0 || who != (Rivals{}) {
		t.Errorf("two that need as many hours: %+v %+v", who, levers)
	}
	if levers, _ := (&Labor{}).turnedBy(nil, 40); levers == nil || len(levers) != 0 {
		t.Errorf("no crew: %+v", levers)
	}
}

// Nobody pumped: nothing turns, and the list is empty, not missing.
func TestNothingTurnsWithoutRecords(t *testing.T) {
	p, _ := (&Pump{}).turnedBy()
	if p == nil || len(p) != 0 || countedRows(record.NewHistory(0, record.Set{})) != nil {
		t.Errorf("%+v", p)
	}
}
