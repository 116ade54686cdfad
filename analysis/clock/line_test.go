package clock

import (
	"math"
	"testing"

	"pourback/analysis/trade"
)

func day(airF, humidity, wind float64) Plan {
	p := plan(9)
	p.Slabs = []Slab{{Name: "A", NeatYd: 8, Saw: true, Early: true}}
	p.Air = Weather{From: FromForecast, Hours: []Reading{{Min: 6 * 60, AirF: airF, HumidityPct: humidity, WindMph: wind}}}
	return p
}

func stage(d *Day, w Work) Span {
	for _, s := range d.Line {
		if s.Work == w {
			return s
		}
	}
	return Span{}
}

// By hand, at 70 °F: placed 7:00 to 7:27, struck off 15 minutes behind; floated
// from 9:30, finished from 10:30 to 11:57, cured from 11:30, initially set 11:30 to
// 11:57. Early-entry 1 to 4 hours after finishing (ACI 302.1R, from memory): where
// the first concrete lies 12:30 to 3:30. Conventional 6 to 18 hours after placing
// (CSA A23.1-94): 1:00 to 1:00 there, to 1:27 where the last lies.
func TestMildDayByHand(t *testing.T) {
	d := Make(day(70, 50, 5))
	for work, want := range map[Work][2]string{Placing: {"07:00", "07:27"}, Striking: {"07:00", "07:42"}, Bleeding: {"07:15", "09:57"}, Floating: {"09:30", "10:57"},
		Brooming: {"10:30", "11:57"}, Setting: {"11:30", "11:57"}, Curing: {"11:30", "11:57"}} {
		if s := stage(d, work); s.From.Clock != want[0] || s.To.Clock != want[1] {
			t.Errorf("%s %s to %s, want %v", work, s.From.Clock, s.To.Clock, want)
		}
	}
	early, saw := d.Saw[0], d.Saw[1]
	if !early.Early || early.From.Clock != "12:30" || early.FirstTo.Clock != "15:30" || early.LastFrom.Clock != "12:57" || early.To.Clock != "15:57" {
		t.Errorf("%+v", early)
	}
	if saw.Early || saw.From.Clock != "13:00" || saw.FirstTo.Clock != "01:00" || saw.LastFrom.Clock != "13:27" || saw.To.Clock != "01:27" || saw.To.Day != 1 {
		t.Errorf("%+v", saw)
	}
	if n := only(d, NextDay); n == nil || n.At != saw.To {
		t.Errorf("%+v", d.Notes)
	}
}

// By hand, at 105 °F: the mix is taken to come at 95 (ACI 305.1: no more unless
// agreed), the slab at their mean, 100 °F or 310.93 K: exp(5000 × (1/294.26 −
// 1/310.93)) = 2.486 times as fast (ASTM C1074). So 2.5 h are 60.3 minutes, 4.5 h
// 108.6, 6 h 144.8 and 18 h 434.4. A station's 12 mph are 5.81 on site:
// (95^2.5 − 0.1 × 105^2.5) × (1 + 0.4 × 5.81)/10⁶ = 0.2548 lb/ft²/h.
func TestHotDayByHand(t *testing.T) {
	d := Make(day(105, 10, 12))
	near := func(what string, got, want, room float64) {
		if math.Abs(got-want) > room {
			t.Errorf("%s: %v, want %v", what, got, want)
		}
	}
	near("concrete", d.Air.ConcreteF, 95, 0)
	near("pace", d.Air.Pace, 2.486, 0.001)
	near("evaporation", d.Air.MostRate, 0.2548, 0.0002)
	if s := stage(d, Floating); s.From.Clock != "08:00" {
		t.Errorf("floated from %s", s.From.Clock)
	}
	if s := stage(d, Curing); s.From.Clock != "08:49" {
		t.Errorf("cured from %s", s.From.Clock)
	}
	if saw := d.Saw[1]; saw.From.Clock != "09:25" || saw.FirstTo.Clock != "14:14" {
		t.Errorf("%+v", saw)
	}
	if n := only(d, DriesFast); n == nil || n.At.Clock != "07:00" || n.Rate != d.Air.MostRate {
		t.Errorf("%+v", d.Notes)
	}
}

// The warm window of UFC 3-250-04 §9-4.4, 4 to 12 hours, is that of CSA A23.1-94,
// 6 to 18, at 83 °F: two published windows agree by the pace of ASTM C1074.
func TestPublishedWindowsAgree(t *testing.T) {
	p := day(83, 40, 5)
	p.Air.ConcreteF = 83
	saw := Make(p).Saw[1]
	from, to := float64(saw.From.Min-7*60)/60, float64(saw.FirstTo.Min-7*60)/60
	if math.Abs(from-trade.SawWarm.From) > 0.05 || math.Abs(to-trade.SawWarm.To) > 0.1 {
		t.Errorf("%.2f to %.2f h, want %v", from, to, trade.SawWarm)
	}
}

// Evaporation against the example of ACI 305R's nomograph: concrete 87, air 80 °F,
// 50 %, 12 mph at the surface: 0.2435, printed 0.24 lb/ft²/h. Its limit is 0.2
// (ACI 305R; ACI 308R, from memory, has curing on early by the same figure), with
// care from 0.5 kg/m²/h = 0.10.
func TestEvaporationOfTheNomograph(t *testing.T) {
	p := day(80, 50, 12)
	p.Air.ConcreteF, p.Air.Hours[0].OnSite = 87, true
	d := Make(p)
	if math.Abs(d.Air.MostRate-0.2435) > 0.001 || only(d, DriesFast) == nil {
		t.Errorf("%+v", d.Air)
	}
	p.Air.Hours[0].WindMph = 4 // 0.2435 × 2.6/5.8 = 0.109
	if d = Make(p); only(d, DriesFast) != nil || only(d, DriesSome) == nil || math.Abs(d.Air.MostRate-0.1092) > 0.001 {
		t.Errorf("%+v", d.Notes)
	}
	p.Air.Hours[0].WindMph = -1
	if d = Make(p); d.Air.RateKnown || d.Air.Hours[0].Rate >= 0 || only(d, DriesSome) != nil {
		t.Errorf("without wind: %+v", d.Air)
	}
	p.Air.ConcreteF = 97
	if n := only(Make(p), HotConcrete); n == nil || n.F != 97 {
		t.Error("97 °F is over the limit of ACI 305.1")
	}
}

// By hand: from 78 °F at 6:00 to 102 at 12:00 it is 4 more each hour, 90 at 9:00; a
// retarder's hour at 70 °F (ASTM C494, from memory) makes floating of a 70 °F day an
// hour later.
func TestForecastBetweenHours(t *testing.T) {
	p := day(70, 50, 5)
	p.Air.Hours = []Reading{{Min: 360, AirF: 78, HumidityPct: 40, WindMph: 5}, {Min: 720, AirF: 102, HumidityPct: 16, WindMph: 11}}
	w := &working{Plan: p}
	if r := w.readingAt(540); r.AirF != 90 || r.HumidityPct != 28 || r.WindMph != 8 {
		t.Errorf("%+v", r)
	}
	if early, late := w.readingAt(0), w.readingAt(1400); early.AirF != 78 || late.AirF != 102 {
		t.Errorf("%v, %v", early, late)
	}
	if d := Make(p); math.Abs(d.Air.AirF-93.67) > 0.1 || d.Air.ConcreteF != 90 { // 82 at 7:00 to 102 at 12:00 for 5 hours, then 102 for one: (5 × 92 + 102)/6
		t.Errorf("%+v", d.Air)
	}
	p = day(70, 50, 5)
	p.Slabs[0].SlowerHour = 1
	if s := stage(Make(p), Floating); s.From.Clock != "10:30" {
		t.Errorf("with a retarder floated from %s", s.From.Clock)
	}
}
