package work

import (
	"fmt"
	"testing"

	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
	"pourback/ingest/invented"
	"pourback/ingest/record"
)

// TestClogRatesFindTheTruth asks the invented company for its outfits' true
// rates over seeds. The exact interval never holds less often than it says; the
// pooled one is nearer the truth on average, which is what it is for.
func TestClogRatesFindTheTruth(t *testing.T) {
	exact, pooled, asked := 0, 0, 0
	var rawError, pooledError float64
	for seed := range uint64(40) {
		set, truth, err := invented.Generate(invented.Options{Seed: seed + 1, Until: trial.Day("2026-03-31")})
		if err != nil {
			t.Fatal(err)
		}
		p := PumpOf(record.NewHistory(trial.Day("2026-03-31"), set), setting.Options{Level: 0.90})
		for _, o := range p.Outfits {
			want := truth.ClogRate(o.Outfit)
			asked++
			if o.ClogsPer100.Low <= want && want <= o.ClogsPer100.High {
				exact++
			}
			if o.Pooled.Low <= want && want <= o.Pooled.High {
				pooled++
			}
			rawError += (o.ClogsPer100.Value - want) * (o.ClogsPer100.Value - want)
			pooledError += (o.Pooled.Value - want) * (o.Pooled.Value - want)
		}
	}
	t.Logf("of %d: exact held %d, pooled %d; squared error %.2f raw, %.2f pooled", asked, exact, pooled, rawError/float64(asked), pooledError/float64(asked))
	if share := float64(exact) / float64(asked); share < 0.86 {
		t.Errorf("the exact 90 %% interval held %.2f of the time", share)
	}
	if share := float64(pooled) / float64(asked); share < 0.85 {
		t.Errorf("the pooled 90 %% interval held %.2f of the time", share)
	}
	if pooledError >= rawError {
		t.Errorf("pooling did not help: squared error %.3f against %.3f", pooledError, rawError)
	}
}

func TestPumpWithoutClogs(t *testing.T) {
	p := trial.Pour("1", "2025-01-02", "driveway", "pump", 48, 49.5)
	p.PumpOutfit, p.Clogs = "P1", record.Some[int64](0)
	f := answer(t, record.Set{Placements: []record.Placement{p}}, "2025-12-31", setting.Options{})
	o := f.Pump.Outfits[0]
	if !o.ClogsPer100.Known() || o.ClogsPer100.Value != 0 || o.ClogsPer100.High <= 0 {
		t.Errorf("no clogs in 50 yd are %+v: want 0 with an upper limit", o.ClogsPer100)
	}
	if o.Pooled.Known() || f.Pump.SameRate.Known() {
		t.Errorf("without a clog there is nothing to pool or compare: %+v %+v", o.Pooled, f.Pump.SameRate)
	}
}

// Causes are ordered by the minutes they cost, and their shares add up.
func TestDelaysByHand(t *testing.T) {
	delay := func(seq int64, cause, spot string, minutes int64) record.Delay {
		return record.Delay{JobNo: "1", Placement: "A", Seq: record.Some(seq), Cause: cause, Spot: spot, Minutes: record.Some(minutes)}
	}
	s := record.Set{Placements: []record.Placement{trial.Pour("1", "2025-01-02", "driveway", "pump", 48, 49.5)},
		Delays: []record.Delay{delay(1, "clog", "hose", 20), delay(2, "clog", "manifold", 40), delay(3, "truck late", "", 90), delay(4, "weather", "", 50)},
		Loads: []record.Load{{JobNo: "1", TicketNo: "1", Yards: record.Some(9.0), BatchedAt: record.MomentOf(1, 0), PourEnd: record.MomentOf(1, 121*60)},
			{JobNo: "1", TicketNo: "2", Yards: record.Some(9.0), BatchedAt: record.MomentOf(1, 0), PourEnd: record.MomentOf(1, 60*60)}, {JobNo: "1", TicketNo: "3", Yards: record.Some(9.0)}}}
	d := answer(t, s, "2025-12-31", setting.Options{}).Pump.Delays
	if len(d.Causes) != 3 || d.Causes[0].Name != "truck late" || d.Causes[1].Name != "clog" || d.Causes[1].Minutes != 60 || d.Causes[2].Running != 1 {
		t.Errorf("causes %+v", d.Causes)
	}
	trial.Near(t, "share of the first", d.Causes[0].Share, 0.45, 1e-12)
	if len(d.Spots) != 2 || d.Spots[0].Name != "manifold" {
		t.Errorf("spots %+v", d.Spots)
	}
	if d.Late.Known != 2 || d.Late.Late != 1 || d.Late.Unlikely != 1 {
		t.Errorf("late loads %+v, want 1 of 2", d.Late)
	}
}

// Delays cost minutes × people × rate: 90 minutes of a crew of 4 at $50 are
// $300, and a placement without its crew size counts the median crew. Worked by
// hand.
func TestDelaysCostTheCrewsTime(t *testing.T) {
	a, b, c := trial.Pour("1", "2025-01-02", "driveway", "pump", 8, 9), trial.Pour("2", "2025-01-03", "driveway", "pump", 8, 9), trial.Pour("3", "2025-01-04", "driveway", "pump", 8, 9)
	a.CrewSize, b.CrewSize = record.Some[int64](4), record.Some[int64](6)
	late := func(job, cause string, minutes int64) record.Delay {
		return record.Delay{JobNo: job, Placement: "A", Seq: record.Some[int64](1), Cause: cause, Minutes: record.Some(minutes)}
	}
	s := record.Set{Placements: []record.Placement{a, b, c}, Delays: []record.Delay{late("1", "truck late", 90), late("2", "clog", 30), late("3", "weather", 12)}}
	f := answer(t, s, "2025-12-31", setting.Options{Rates: setting.StandardRates{LaborPerHour: 50_00}})
	want := map[string]record.Cents{"truck late": 300_00, "clog": 150_00, "weather": 50_00}
	for _, cause := range f.Pump.Delays.Causes {
		if cause.Cost != want[cause.Name] {
			t.Errorf("%s cost %s, want %s", cause.Name, cause.Cost, want[cause.Name])
		}
	}
	if d := f.Pump.Delays; d.UsualCrew != 5 || d.Assumed != 1 {
		t.Errorf("usual crew %v for %d delays, want 5 for 1", d.UsualCrew, d.Assumed)
	}
	trial.Near(t, "cost of clogs", f.Pump.ClogCost.Value, 150, 1e-9)
	trial.Near(t, "cost of delay, all crews", f.Crews[0].CostLost.Value, 450, 1e-9)
}

// Pours with a late load had 4 callbacks in 10 years and the others 2 in 20:
// the ratio is 4, and its exact interval that of R's poisson.test(c(4, 2), c(10, 20), conf.level = .9).
func TestWhatFollowedLateLoads(t *testing.T) {
	var s record.Set
	for i := range 30 {
		p := trial.Pour(fmt.Sprintf("%02d", i), "2024-01-01", "patio", "chute", 8, 9)
		minutes := 80
		if i < 10 {
			minutes = 91
		}
		s.Placements = append(s.Placements, p)
		s.Loads = append(s.Loads, record.Load{JobNo: p.JobNo, Placement: "A", TicketNo: "1", Yards: record.Some(9.0), BatchedAt: record.MomentOf(p.PlacedOn, 0), PourEnd: record.MomentOf(p.PlacedOn, minutes*60)})
	}
	asOf := "2024-12-31" // each followed for 365 days but those called about, on the last
	for _, i := range []int{0, 1, 2, 3, 10, 11} {
		s.Placements[i].CallbackOn, s.Placements[i].CallbackKind = trial.Day(asOf), "crack"
	}
	l := answer(t, s, asOf, setting.Options{}).Pump.Delays.Late
	if l.With.Pours != 10 || l.With.Callbacks != 4 || l.Without.Pours != 20 || l.Without.Callbacks != 2 {
		t.Fatalf("%+v and %+v", l.With, l.Without)
	}
	trial.Near(t, "years", l.With.Years, 10*365/365.25, 1e-12)
	trial.Near(t, "ratio", l.Ratio.Value, 4, 1e-12)
	trial.Near(t, "low", l.Ratio.Low, 0.744758231494, 1e-6)
	trial.Near(t, "high", l.Ratio.High, 29.821852761190, 1e-6)
}

// TestWhenAnOutfitIsNamed: one outfit is called better only where chance makes
// so unlike counts less than 10 times in 100. Over as many yards each, 13 clogs
// split 3 and 10 by chance 2·(1+13+78+286)/2¹³ = 9.2 times in 100 (the sign
// test), 14 split 4 and 10 by 2·(1+14+91+364+1001)/2¹⁴ = 18, and 15 split 5 and
// 10 by 30.
func TestWhenAnOutfitIsNamed(t *testing.T) {
	for _, c := range []struct {
		clogs  [2]int64
		chance float64
		named  bool
	}{{[2]int64{2, 10}, 0.0386, true}, {[2]int64{3, 10}, 0.0923, true}, {[2]int64{4, 10}, 0.1796, false}, {[2]int64{5, 10}, 0.3018, false}, {[2]int64{6, 10}, 0.4545, false}} {
		var s record.Set
		for i, outfit := range []string{"P1", "P2"} {
			p := trial.Pour(fmt.Sprint(i), "2025-01-02", "driveway", "pump", 98, 99.5)
			p.PumpOutfit, p.Clogs = outfit, record.Some(c.clogs[i])
			s.Placements = append(s.Placements, p)
		}
		f := answer(t, s, "2025-12-31", setting.Options{Topics: []string{"pump"}}).Pump
		trial.Near(t, fmt.Sprintf("the chance of %d and %d clogs", c.clogs[0], c.clogs[1]), f.SameRate.Value, c.chance, 0.0001)
		if named := f.Verdict == (Verdict{OneBetter, "P1", "P2"}); named != c.named {
			t.Errorf("%d clogs against %d come by chance %.0f times in 100; the verdict is %v", c.clogs[0], c.clogs[1], 100*f.SameRate.Value, f.Verdict)
		}
	}
}
