package bid

import (
	"encoding/json"
	"math"
	"strconv"
	"testing"
	"time"

	"pgregory.net/rapid"

	"pourback/analysis/clock"
	"pourback/analysis/concrete"
	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
	"pourback/ingest/record"
)

func slabOf(lengthFt float64, method string) Spec {
	return Spec{On: "2026-07-14", Draws: 200, Placements: []Placement{{Use: "driveway", LengthFt: lengthFt, WidthFt: 24, ThicknessIn: 5, Method: method, Base: "crushed base"}}}
}

// By hand, from common practice alone: on site at 7:00, on the road 10 + 25 minutes,
// so batched 6:25; a yard in 3 minutes, so 10 yd by 7:30 and the second truck then.
func TestAStrangersTrucksByHand(t *testing.T) {
	b := bidOf(t, stranger(), slabOf(45, "chute"), setting.Options{})
	c, loads := b.Days[0].Clock, b.Days[0].Order.Loads
	if len(c.Trucks) < 2 || c.Trucks[0].Yd != 10 || c.Date != "2026-07-14" {
		t.Fatalf("%+v of %v", c.Trucks, loads)
	}
	first, second := c.Trucks[0], c.Trucks[1]
	if first.Batched.Clock != "06:25" || first.Starts.Clock != "07:00" || first.Empty.Clock != "07:30" || first.SlackMin != 25 {
		t.Errorf("%+v", first)
	}
	if !second.Held && (second.Arrives.Clock != "07:30" || second.Batched.Clock != "06:55") {
		t.Errorf("%+v", second)
	}
	if c.Air.From != clock.FromSeason || c.Air.AirF != warmAirF {
		t.Errorf("%+v: want the season's", c.Air)
	}
}

// The crew's own pace: five loads of 8 yd in 16 minutes are 2 minutes a yard by
// pump; four are too few, and the setting stands. Where only the pour's beginning
// and end are on record, 16 yd in 48 minutes are 3.
func TestTheCrewsOwnPaceByHand(t *testing.T) {
	history := func(n int, whole bool) *record.History {
		var s record.Set
		on := trial.Day("2025-05-01")
		at := func(min int) record.Moment { return record.MomentOf(on, min*60) }
		for i := range n {
			no := strconv.Itoa(i)
			p := trial.Pour(no, on.String(), "patio", "pump", 7, 7.5)
			s.Jobs, s.Placements = append(s.Jobs, record.Job{JobNo: no}), append(s.Placements, p)
			if whole {
				s.Loads = append(s.Loads, record.Load{JobNo: no, Placement: p.Placement, TicketNo: no + "a", Yards: record.Some(8.0), PourStart: at(400)},
					record.Load{JobNo: no, Placement: p.Placement, TicketNo: no + "b", Yards: record.Some(8.0), PourEnd: at(448)})
				continue
			}
			s.Loads = append(s.Loads, record.Load{JobNo: no, Placement: p.Placement, TicketNo: no, Yards: record.Some(8.0), PourStart: at(400), PourEnd: at(416),
				BatchedAt: at(360), ArrivedAt: at(398)})
		}
		return record.NewHistory(trial.Day("2026-03-01"), s)
	}
	for _, c := range []struct {
		h    *record.History
		want float64
		from From
	}{{history(5, false), 2, FromRecords}, {history(4, false), 3, FromPractice}, {history(5, true), 3, FromRecords}} {
		b := bidOf(t, c.h, slabOf(30, "pump"), setting.Options{})
		s := b.Setting(SetPlaceMin)
		if s.Value != c.want || s.Basis.From != c.from || s.Of != "pump" || math.Abs(b.Days[0].Clock.Going.PlaceMinPerYd-c.want) > 1e-12 {
			t.Errorf("%+v, want %v from %s", s, c.want, c.from)
		}
	}
	// From batching to arrival 38 minutes, of which 10 to load.
	if g := bidOf(t, history(5, false), slabOf(30, "pump"), setting.Options{}).Days[0].Clock.Going; g.HaulMin != 28 || g.LoadMin != 10 || g.PrimeMin != 10 {
		t.Errorf("%+v", g)
	}
}

// Two steps that the clock does not allow are not offered: with a plant that sends a
// truck each two hours the last load comes to a cold edge, and all is ordered at once.
func TestTwoStepsOffTheClock(t *testing.T) {
	h := saltgrass(t, 120, 3)
	spec := slabOf(60, "pump")
	open := bidOf(t, h, spec, setting.Options{})
	if d := open.Days[0]; !d.TwoSteps() || d.Clock.Call == nil || !d.Clock.Call.InTime || d.Hold.WaitMin != float64(d.Clock.Call.IdleMin) || d.Clock.Call.DownYd != d.Hold.CallAtYd {
		t.Fatalf("%+v, %+v: want a load held back", d.Hold, d.Clock.Call)
	}
	spec.PlantSpacingMin = 120
	d := bidOf(t, h, spec, setting.Options{}).Days[0]
	if d.Hold.Worth || d.Hold.Not != concrete.OffTheClock || d.Clock.Call != nil || len(d.Clock.Trucks) != len(d.Order.Loads) || d.Hold.WouldSave <= 0 {
		t.Errorf("%+v, %+v", d.Hold, d.Clock.Call)
	}
}

// A forecast moves the day: hot and dry air brings finishing forward, shortens the
// edge, and is cautioned of; a retarder holds it back.
func TestAForecastMovesTheDay(t *testing.T) {
	v := func(x float64) *float64 { return &x }
	spec := slabOf(45, "chute")
	stage := func(b *Bid, w clock.Work) int {
		for _, s := range b.Days[0].Clock.Line {
			if s.Work == w {
				return s.From.Min
			}
		}
		t.Fatalf("no %s", w)
		return 0
	}
	spec.Forecast = []Hour{{At: "06:00", AirF: 58, HumidityPct: v(60), WindMph: v(3)}, {At: "12:00", AirF: 72, HumidityPct: v(45), WindMph: v(5)}}
	mild := bidOf(t, stranger(), spec, setting.Options{})
	spec.Forecast = []Hour{{At: "06:00", AirF: 84, HumidityPct: v(20), WindMph: v(10)}, {At: "12:00", AirF: 108, HumidityPct: v(8), WindMph: v(20)}}
	hot := bidOf(t, stranger(), spec, setting.Options{})
	spec.Placements[0].Retarder = "3 oz/cwt"
	held := bidOf(t, stranger(), spec, setting.Options{})
	if !(stage(hot, clock.Floating) < stage(held, clock.Floating) && stage(held, clock.Floating) < stage(mild, clock.Floating)) {
		t.Errorf("floated at minute %d hot, %d with a retarder, %d mild", stage(hot, clock.Floating), stage(held, clock.Floating), stage(mild, clock.Floating))
	}
	cautioned := func(b *Bid) bool {
		for _, n := range b.Days[0].Clock.Notes {
			if n.Kind == clock.DriesFast {
				return true
			}
		}
		return false
	}
	if !cautioned(hot) || cautioned(mild) {
		t.Errorf("%+v and %+v", hot.Days[0].Clock.Notes, mild.Days[0].Clock.Notes)
	}
	// What is kept reads back to the same.
	text, err := json.Marshal(hot)
	if err != nil {
		t.Fatal(err)
	}
	var back Bid
	if err := json.Unmarshal(text, &back); err != nil {
		t.Fatal(err)
	}
	again, _ := json.Marshal(&back)
	if string(again) != string(text) {
		t.Error("a day read back is another")
	}
}

// What the plant is asked for where the spec says nothing: 3/4 in rock down the chute,
// 3/8 in for a pump unless its hose passes more, 4 to 5 in of slump, air outdoors
// where it freezes (ACI 318, from memory); and what the spec says, as it stands.
func TestAskedOfThePlant(t *testing.T) {
	ask := func(p Placement, opt setting.Options) Mix {
		p.LengthFt, p.WidthFt, p.ThicknessIn = 20, 20, 4
		return bidOf(t, stranger(), Spec{Draws: 100, Placements: []Placement{p}}, opt).Days[0].Asked[0]
	}
	cold := setting.DefaultPourDay()
	cold.Freezes = true
	freezes := setting.Options{Pour: cold}
	for name, c := range map[string]struct {
		m                    Mix
		psi, rock, air, dose float64
	}{
		"chute":              {ask(Placement{Use: "patio"}, setting.Options{}), 3500, 0.75, 0, 0},
		"pump":               {ask(Placement{Use: "patio", Method: "pump"}, setting.Options{}), 3500, 0.375, 0, 0},
		"pump, 2½ in":        {ask(Placement{Use: "patio", Method: "pump", HoseIn: 2.5}, setting.Options{}), 3500, 0.375, 0, 0},
		"pump, 3 in":         {ask(Placement{Use: "patio", Method: "pump", HoseIn: 3}, setting.Options{}), 3500, 0.75, 0, 0},
		"freezing":           {ask(Placement{Use: "patio"}, freezes), 4000, 0.75, 6, 0},
		"freezing, pea rock": {ask(Placement{Use: "walkway", Method: "pump"}, freezes), 4000, 0.375, 7.5, 0},
		"indoors":            {ask(Placement{Use: "garage slab"}, freezes), 3500, 0.75, 0, 0},
		"as told":            {ask(Placement{Use: "patio", MixPSI: 4500, MaxAggregateIn: 1, AirPct: new(float64), Reinforcement: "fiber"}, freezes), 4500, 1, 0, 1.5},
		"fiber by its dose":  {ask(Placement{Use: "patio", Reinforcement: "mesh+fiber", FiberLbPerYd: 3}, setting.Options{}), 3500, 0.75, 0, 3},
	} {
		if m := c.m; m.PSI.Figure.Value != c.psi || m.AggregateIn.Figure.Value != c.rock || m.AirPct.Figure.Value != c.air || m.FiberLbYd.Figure.Value != c.dose || m.SlumpIn.Figure.Low != 4 || m.SlumpIn.Figure.High != 5 {
			t.Errorf("%s: %+v", name, m)
		}
	}
	m := ask(Placement{Use: "patio", SlumpIn: 6, Retarder: "yes", Admixtures: []string{"water reducer 5 oz/cwt"}}, setting.Options{})
	if m.SlumpIn.Basis.From != FromSpec || m.SlumpIn.Figure.Bounded || len(m.Admixtures) != 2 || m.Admixtures[0] != (Admixture{"retarder", ""}) || m.Admixtures[1] != (Admixture{"water reducer", "5 oz/cwt"}) {
		t.Errorf("%+v", m)
	}
	two := bidOf(t, stranger(), driveAndWalk(), setting.Options{}).Days[0].Asked
	if len(two) != 2 || two[0].Pumped == two[1].Pumped {
		t.Errorf("pump and chute ask for %+v", two)
	}
}

// The limit is shortened on a hot day where that is set, and is what is agreed where
// the spec says so; no truck is larger than told.
func TestLimitsAgreed(t *testing.T) {
	p := setting.DefaultPourDay()
	p.DischargeLimitHotMin = 60
	spec := slabOf(45, "chute")
	spec.Forecast = []Hour{{At: "06:00", AirF: 95}}
	if g := bidOf(t, stranger(), spec, setting.Options{Pour: p}).Days[0].Clock.Going; g.LimitMin != 60 {
		t.Errorf("on a day of 95 °F %d minutes", g.LimitMin)
	}
	spec.DischargeLimitMin, spec.TruckYd = 120, 8
	b := bidOf(t, stranger(), spec, setting.Options{Pour: p})
	if g := b.Days[0].Clock.Going; g.LimitMin != 120 || b.Days[0].Order.Loads[0] != 8 || b.Setting(SetTruck).Basis.From != FromSpec {
		t.Errorf("%+v, %v", g, b.Days[0].Order.Loads)
	}
}

// Every kind of day holds together: the loads on the clock are those of the order,
// and the zone's clock is shown.
func TestLawsOfThePourDay(t *testing.T) {
	h := saltgrass(t, 40, 9)
	place := time.FixedZone("", -7*3600)
	rapid.Check(t, func(t *rapid.T) {
		spec := slabOf(rapid.Float64Range(5, 120).Draw(t, "length"), rapid.SampledFrom([]string{"chute", "pump", "buggy"}).Draw(t, "method"))
		spec.Start = record.ClockTime(rapid.IntRange(0, 1439).Draw(t, "start")).String()
		spec.HaulMin = float64(rapid.IntRange(0, 100).Draw(t, "haul"))
		spec.PlantSpacingMin = float64(rapid.IntRange(0, 120).Draw(t, "spacing"))
		g, err := GroundOf(h, setting.Options{Zone: place})
		if err != nil {
			t.Fatal(err)
		}
		w, err := g.work(spec)
		if err != nil {
			t.Fatal(err)
		}
		if err := w.orders(); err != nil {
			t.Fatal(err)
		}
		d := w.b.Days[0]
		sum, want := 0.0, d.OrderedFirst()
		for _, truck := range d.Clock.Trucks {
			if !truck.Held {
				sum += truck.Yd
			}
		}
		if c := d.Clock.Call; c != nil {
			if !c.InTime || !d.TwoSteps() || c.By.Min > c.Latest.Min {
				t.Fatalf("%+v", c)
			}
		} else if d.TwoSteps() {
			t.Fatalf("%+v without a call", d.Hold)
		}
		if math.Abs(sum-want) > 1e-9 || d.Clock.Start.Clock != spec.Start {
			t.Fatalf("%v yd on the clock, %v ordered, from %s", sum, want, d.Clock.Start.Clock)
		}
	})
}

func TestTheDayOfASpecIsChecked(t *testing.T) {
	for want, breakIt := range map[What]func(*Spec){
		NoClock:    func(s *Spec) { s.Start = "dawn" },
		NoTruck:    func(s *Spec) { s.TruckYd = 0.5 },
		EarlyHour:  func(s *Spec) { s.Forecast = []Hour{{At: "12:00", AirF: 90}, {At: "06:00", AirF: 70}} },
		NoForecast: func(s *Spec) { s.Forecast = []Hour{{At: "12:00", AirF: 900}} },
		ForeignAir: func(s *Spec) {
			s.Forecast, s.Placements = []Hour{{At: "12:00", AirF: 90}}, append(s.Placements, Placement{Use: "patio", AreaSqft: 100, ThicknessIn: 4, Day: 2})
		},
		TooMuch: func(s *Spec) { s.Placements[0].SlumpIn = 20 },
	} {
		spec := slabOf(30, "chute")
		breakIt(&spec)
		ps := Check(spec)
		found := false
		for _, p := range ps {
			found = found || p.What == want
		}
		if !found {
			t.Errorf("%s: %+v", want, ps)
		}
	}
}

// By hand, from common practice alone: a haul of 50 minutes and 10 to load leave 30 of
// the 90 (ASTM C94, older editions), in which 10 yd go down at 3 minutes a yard; a haul
// of 60 leaves 20, for 6½ yd in quarters. Trucks then carry no more, and all of them are
// in time; the short-load fee goes by those loads. At 74 minutes 6 are left, for 2 yd:
// less than pays to send short, so the loads stay and the day says what would do.
func TestLoadsThatAreEmptyInTime(t *testing.T) {
	of := func(haul float64) *Day {
		s := slabOf(60, "chute")
		s.HaulMin = haul
		return &bidOf(t, stranger(), s, setting.Options{}).Days[0]
	}
	for _, c := range []struct {
		haul, most float64
		kind       clock.Caution
		late       bool
	}{{50, 10, "", false}, {60, 6.5, clock.SmallLoads, false}, {74, 10, clock.TooSlow, true}} {
		d := of(c.haul)
		if len(d.Order.Loads) < 2 || d.Order.Loads[0] != c.most {
			t.Errorf("%g minutes: loads %v, want of %g yd", c.haul, d.Order.Loads, c.most)
		}
		sum, late := 0.0, false
		for i, yd := range d.Order.Loads {
			sum, late = sum+yd, late || d.Clock.Trucks[i].SlackMin < 0
		}
		if math.Abs(sum-d.Order.Yd) > 1e-9 || late != c.late {
			t.Errorf("%g minutes: loads %v of %g yd, late %v", c.haul, d.Order.Loads, d.Order.Yd, late)
		}
		said := clock.Caution("")
		for _, n := range d.Clock.Notes {
			if n.Kind == clock.SmallLoads || n.Kind == clock.TooSlow {
				said = n.Kind
			}
		}
		if said != c.kind {
			t.Errorf("%g minutes: %q, want %q", c.haul, said, c.kind)
		}
	}
}

// TestConcreteThatComesTooLate: beyond the time a truck has the bid says so, by hand 10
// minutes of loading and 100 on the road against 90, and still has a price.
func TestConcreteThatComesTooLate(t *testing.T) {
	for haul, want := range map[float64][2]int{25: {0, 0}, 79: {0, 0}, 80: {90, 90}, 100: {110, 90}} {
		spec := slabOf(20, "chute")
		spec.HaulMin, spec.On = haul, "2026-04"
		b := bidOf(t, stranger(), spec, setting.Options{})
		if road, limit := b.TooFar(); haul != 79 && (road != want[0] || limit != want[1]) || b.Price.Asked <= 0 {
			t.Errorf("%v minutes: %d of %d, asked %v; want %v", haul, road, limit, b.Price.Asked, want)
		}
	}
}
