package visits

import (
	"fmt"
	"strings"
	"testing"

	"pourback/analysis/cracks"
	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
	"pourback/ingest/record"
)

// Each sign at its limit and just past it.
func TestSignsByHand(t *testing.T) {
	for _, c := range []struct {
		name string
		want string // the sign, "" for none
		make func(p *record.Placement, l *record.Load)
	}{
		{"dried at 0.2435 and not cured", "dried fast without curing", func(p *record.Placement, _ *record.Load) {
			p.ConcreteTempF, p.AirTempF, p.HumidityPct, p.WindMPH, p.Curing = record.Some(87.0), record.Some(80.0), record.Some(50.0), record.Some(12.0), "none"
		}},
		{"the same, cured", "", func(p *record.Placement, _ *record.Load) {
			p.ConcreteTempF, p.AirTempF, p.HumidityPct, p.WindMPH, p.Curing = record.Some(87.0), record.Some(80.0), record.Some(50.0), record.Some(12.0), "water"
		}},
		{"dried at 0.1025 and not cured", "", func(p *record.Placement, _ *record.Load) {
			p.ConcreteTempF, p.AirTempF, p.HumidityPct, p.WindMPH, p.Curing = record.Some(70.0), record.Some(70.0), record.Some(50.0), record.Some(10.0), "none"
		}},
		{"sawn after 13 h at 85 °F", "sawn late", func(p *record.Placement, _ *record.Load) {
			p.JointCut, p.SawHours, p.AirTempF = "saw", record.Some(13.0), record.Some(85.0)
		}},
		{"after 12", "", func(p *record.Placement, _ *record.Load) {
			p.JointCut, p.SawHours, p.AirTempF = "saw", record.Some(12.0), record.Some(85.0)
		}},
		{"after 13 h at 60 °F", "", func(p *record.Placement, _ *record.Load) {
			p.JointCut, p.SawHours, p.AirTempF = "saw", record.Some(13.0), record.Some(60.0)
		}},
		{"early entry after 5 h", "sawn late", func(p *record.Placement, _ *record.Load) {
			p.JointCut, p.SawHours, p.AirTempF = "early-entry", record.Some(5.0), record.Some(60.0)
		}},
		{"tooled joints, with hours", "", func(p *record.Placement, _ *record.Load) {
			p.JointCut, p.SawHours, p.AirTempF = "tooled", record.Some(30.0), record.Some(85.0)
		}},
		{"joints of 10 ft at 4 in, 3/4 in rock", "", func(p *record.Placement, _ *record.Load) {
			p.JointSpacingFt, p.MaxAggregateIn = record.Some(10.0), record.Some(0.75)
		}},
		{"10.5 ft", "joints too wide", func(p *record.Placement, _ *record.Load) {
			p.JointSpacingFt, p.MaxAggregateIn = record.Some(10.5), record.Some(0.75)
		}},
		{"10.5 ft of an unknown mix", "", func(p *record.Placement, _ *record.Load) { p.JointSpacingFt = record.Some(10.5) }},
		{"10 gal to 10 yards", "water added", func(_ *record.Placement, l *record.Load) { l.WaterAddedGal = record.Some(10.0) }},
		{"9 gal to 10 yards", "", func(_ *record.Placement, l *record.Load) { l.WaterAddedGal = record.Some(9.0) }},
		{"91 minutes", "past the time limit", func(_ *record.Placement, l *record.Load) { l.PourEnd = l.BatchedAt + 91*60 }},
		{"90 minutes", "", func(_ *record.Placement, l *record.Load) { l.PourEnd = l.BatchedAt + 90*60 }},
		{"3 5/8 in for 4", "thin", func(p *record.Placement, _ *record.Load) { p.MeasuredThicknessIn = record.Some(3.625) }},
		{"3 3/4 in for 4", "", func(p *record.Placement, _ *record.Load) { p.MeasuredThicknessIn = record.Some(3.75) }},
	} {
		p := trial.Bare("J1", "2025-05-20")
		l := record.Load{JobNo: "J1", Placement: "A", TicketNo: "1", Yards: record.Some(10.0), BatchedAt: record.MomentOf(p.PlacedOn, 8*3600)}
		c.make(&p, &l)
		e := VisitsOf(t, record.Set{Placements: []record.Placement{p}, Loads: []record.Load{l}}, "2025-06-10", setting.Options{}).Early
		got := ""
		for _, s := range e.Signs {
			if s.Now > 0 {
				got += s.Sign
			}
		}
		if got != c.want || len(e.Listed) != int(cracks.Indicator(c.want != "")) {
			t.Errorf("%s: sign %q, want %q", c.name, got, c.want)
		}
	}
}

// Of new pours of which nothing is recorded none can be said to have gone right.
func TestSignsThatCannotBeTold(t *testing.T) {
	answerOf := func(p ...record.Placement) string {
		return VisitsOf(t, record.Set{Placements: p}, "2025-06-10", setting.Options{}).Early.Answer
	}
	untold, told := trial.Bare("K1", "2025-05-20"), trial.Bare("K2", "2025-05-21")
	told.JointSpacingFt = record.Some(8.0)
	for want, p := range map[string][]record.Placement{
		"Nothing is recorded of the 1 pour":         {untold},
		"none went wrong in a way the record shows": {told},
		"of 1 of them nothing is recorded":          {untold, told},
	} {
		if got := answerOf(p...); !strings.Contains(got, want) {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// Forty earlier pours with wide joints, 20 of them called back, against forty
// without, 2 of them: the sign is worse here. Four are too few to say.
func TestSignsHaveARecord(t *testing.T) {
	set := func(wide int) record.Set {
		var s record.Set
		for i := range 80 {
			p := trial.Bare(fmt.Sprintf("J%02d", i), "2024-03-01")
			p.JointSpacingFt = record.Some(8.0)
			if i < wide {
				p.JointSpacingFt = record.Some(16.0)
			}
			if i < wide/2 || i >= 78 {
				p.CallbackOn, p.CallbackKind = trial.Day("2024-08-01"), "crack"
			}
			s.Placements = append(s.Placements, p)
		}
		p := trial.Bare("K", "2025-05-20")
		p.JointSpacingFt = record.Some(16.0)
		s.Placements = append(s.Placements, p)
		return s
	}
	e := VisitsOf(t, set(40), "2025-06-10", setting.Options{}).Early
	sign := e.Signs[2]
	if sign.With.Placements != 40 || sign.With.Callbacks != 20 || sign.Without.Callbacks != 2 || !sign.Worse || !strings.Contains(e.Answer, "have gone with: joints too wide") {
		t.Errorf("%+v\n%s", sign, e.Answer)
	}
	if e.Listed[0].Did != "joints too wide: 20 of 40 called back" {
		t.Errorf("%q", e.Listed[0].Did)
	}
	e = VisitsOf(t, set(4), "2025-06-10", setting.Options{}).Early
	if sign = e.Signs[2]; sign.Worse || sign.With.Share.Known() || !strings.HasPrefix(sign.Says, "Too few to say") || e.Listed[0].Did != "joints too wide: too few to say" {
		t.Errorf("%+v %q", sign, e.Listed[0].Did)
	}
}
