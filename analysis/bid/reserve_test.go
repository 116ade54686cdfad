package bid

import (
	"fmt"
	"testing"

	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
	"pourback/ingest/record"
)

// aLog is a log of so many placements in the days up to March 2026, every nth of them
// called about at a cost.
func aLog(placements, days, nth int, cost record.Cents) *record.History {
	var s record.Set
	for i := range placements {
		on := trial.Day("2026-03-01") - record.Date(5+days*i/placements)
		p := trial.Pour(fmt.Sprintf("J%03d", i), on.String(), []string{"patio", "driveway", "walkway"}[i%3], "chute", 5, 5.3)
		if nth > 0 && i%nth == nth/2 {
			p.CallbackOn, p.CallbackKind, p.CallbackCost = on+4, "crack", record.Some(cost)
		}
		s.Placements = append(s.Placements, p)
	}
	return record.NewHistory(trial.Day("2026-03-01"), s)
}

// A 12 × 14 ft patio's reserve is that of common practice without records, moves
// little by two callbacks of 40 jobs, and follows the records once they carry it:
// 40 in 400 placements, poured evenly over a year, are 40 in about 200 years.
func TestTheReserveIsShrunkToTheUsual(t *testing.T) {
	spec := Spec{Draws: 2000, Placements: []Placement{{Use: "patio", LengthFt: 14, WidthFt: 12, ThicknessIn: 4}}}
	reserve := func(h *record.History) Reserve { return bidOf(t, h, spec, setting.Options{}).Reserve }
	usual, few, many := reserve(stranger()), reserve(aLog(40, 60, 20, 900_00)), reserve(aLog(400, 350, 10, 900_00))
	trial.Near(t, "no records: 0.03 a year at $1,000", usual.Cost.Figure.Value, 30, 0.1)
	if c := few.Cost.Figure.Value; c < usual.Cost.Figure.Value || c > 3*usual.Cost.Figure.Value {
		t.Errorf("two callbacks of 40 jobs make a reserve of %v, none of %v", c, usual.Cost.Figure.Value)
	}
	if n := few.Callbacks.Figure; n.High > 0.3 || n.Low < 0 {
		t.Errorf("%v to %v callbacks on one patio", n.Low, n.High)
	}
	if c := many.Callbacks.Figure.Value; c < 0.15 || c > 0.22 {
		t.Errorf("%v callbacks a patio: want about 0.2", c)
	}
	trial.Near(t, "cost of each of 40", many.EachCost.Figure.Value, (40*900+5*750)/45.+250, 0.01)
	trial.Near(t, "cost of each of 2", few.EachCost.Figure.Value, (2*900+5*750)/7.+250, 0.01)
	if few.Callbacks.Basis.By != ByFewEvents || many.Callbacks.Basis.By != "" {
		t.Errorf("stand on %+v and %+v", few.Callbacks.Basis, many.Callbacks.Basis)
	}
	back := reserve(aLog(40, 60, 20, -3000_00))
	if back.EachCost.Figure.Value < 250 || back.Cost.Figure.Value <= 0 || back.Cost.Figure.Low < 0 {
		t.Errorf("money that came back makes a reserve of %+v", back)
	}
}
