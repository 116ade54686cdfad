package analysis

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"pourback/analysis/cracks"
	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
	"pourback/ingest/record"
)

func answer(t *testing.T, s record.Set, asOf string, opt setting.Options) *Factors {
	t.Helper()
	f, err := Run(record.NewHistory(trial.Day(asOf), s), opt)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// Overages of 10, 20, 30 and 60 %: mean 30 %, s = √(1400/3)... worked by hand:
// deviations −20, −10, 0, 30, squares 400+100+0+900 = 1400, s = √(1400/3) = 21.602,
// se = 10.801, t(0.95; 3) = 2.3534 (Student's table), so 30 ± 25.42.
// Type-7 median between the 2nd and the 3rd: 25 %; P10 at 0.3 of the way from
// 10 to 20: 13 %; P90 at 2.7: 30 + 0.7·30 = 51 %.
func TestOverageByHand(t *testing.T) {
	f := answer(t, record.Set{Placements: []record.Placement{
		trial.Pour("1", "2025-01-02", "patio", "chute", 2, 2.2), trial.Pour("2", "2025-01-03", "patio", "chute", 4, 4.8),
		trial.Pour("3", "2025-01-04", "patio", "chute", 1, 1.3), trial.Pour("4", "2025-01-05", "patio", "chute", 1, 1.6),
		{JobNo: "5", Placement: "A", PlacedOn: trial.Day("2025-01-06"), Use: "patio", Method: "chute"}, // lacks volumes
		trial.Pour("6", "2025-01-07", "driveway", "pump", 10, 10.5),
	}}, "2025-12-31", setting.Options{})
	if len(f.Overage.Groups) != 2 || f.Overage.Groups[1].Use != "patio" || f.Overage.Groups[1].N != 4 {
		t.Fatalf("groups %+v", f.Overage.Groups)
	}
	g := f.Overage.Groups[1]
	trial.Near(t, "mean", g.RawMean.Value, 0.30, 1e-12)
	trial.Near(t, "low", g.RawMean.Low, 0.30-0.2542, 1e-4)
	trial.Near(t, "high", g.RawMean.High, 0.30+0.2542, 1e-4)
	trial.Near(t, "median", g.Past.P50.Value, 0.25, 1e-12)
	trial.Near(t, "P10", g.Past.P10.Value, 0.13, 1e-12)
	trial.Near(t, "P90", g.Past.P90.Value, 0.51, 1e-12)
	trial.Near(t, "ratio of totals", g.RatioOfTotals.Value, 9.9/8-1, 1e-12)
	if one := f.Overage.Groups[0].RawMean; !one.Known() || one.Bounded || one.Why == nil {
		t.Errorf("the mean of one placement is %+v: want a value without an interval, and why", one)
	}
}

// Volumes of CHECKS: 20 × 40 ft at 4 in is 9.877 yd³, by arithmetic.
func TestNeatVolumeByArithmetic(t *testing.T) {
	for _, c := range []struct{ area, thickness, want float64 }{{800, 4, 9.877}, {100, 3.5, 1.080}, {1500, 6, 27.778}, {864, 5, 13.333}} {
		p := record.Placement{AreaSqft: record.Some(c.area), ThicknessIn: record.Some(c.thickness)}
		trial.Near(t, "neat volume", p.Neat().V, c.want, 5e-4)
	}
}

// 400 ft² in 10 h and 200 ft² in 10 h: 600/20 = 30 ft² an hour, not the mean of
// 40 and 20; 30 min of delay with 4 people are 2 person-hours.
func TestCrewsByHand(t *testing.T) {
	a, b := trial.Pour("1", "2025-01-02", "patio", "chute", 2, 2.2), trial.Pour("2", "2025-01-03", "patio", "chute", 4, 4.8)
	for p, v := range map[*record.Placement][2]float64{&a: {400, 10}, &b: {200, 10}} {
		p.Crew, p.AreaSqft, p.LaborHours = "Heron", record.Some(v[0]), record.Some(v[1])
	}
	a.DelayMin, a.CrewSize = record.Some[int64](30), record.Some[int64](4)
	f := answer(t, record.Set{Placements: []record.Placement{a, b}}, "2025-12-31", setting.Options{})
	if len(f.Crews) != 1 || f.Crews[0].Crew != "Heron" || f.Crews[0].N != 2 {
		t.Fatalf("crews %+v", f.Crews)
	}
	trial.Near(t, "ft² per hour", f.Crews[0].SqftPerHour.Value, 30, 1e-12)
	trial.Near(t, "hours lost", f.Crews[0].HoursLost.Value, 2, 1e-12)
}

// 10 clogs in 500 yd: 2 per 100 yd. The exact 95 % limits of a count of 10 are
// 4.795 and 18.390 (Garwood 1936, Table 1), over 5 hundreds of yards.
func TestClogsByGarwoodsTable(t *testing.T) {
	p := trial.Pour("1", "2025-01-02", "driveway", "pump", 480, 499.5)
	p.PumpOutfit, p.Clogs, p.ClogMin = "P1", record.Some[int64](10), record.Some[int64](250)
	chute := trial.Pour("2", "2025-01-02", "driveway", "chute", 100, 110)
	chute.Clogs = record.Some[int64](3) // not pumped: counts nowhere
	f := answer(t, record.Set{Placements: []record.Placement{p, chute}}, "2025-12-31", setting.Options{Level: 0.95})
	o := f.Pump.Outfits[0]
	if len(f.Pump.Outfits) != 1 || o.Clogs != 10 || o.PumpedYd != 500 {
		t.Fatalf("outfits %+v", f.Pump.Outfits)
	}
	trial.Near(t, "clogs per 100 yd", o.ClogsPer100.Value, 2, 1e-12)
	trial.Near(t, "low", o.ClogsPer100.Low, 4.795/5, 1e-3)
	trial.Near(t, "high", o.ClogsPer100.High, 18.390/5, 1e-3)
	trial.Near(t, "minutes lost", f.Pump.MinutesLost.Value, 250, 0)
}

// The nomograph's example of ACI 305R: concrete 87 °F, air 80 °F, humidity 50 %,
// wind 12 mph: 0.24 lb/ft²/h (result seen in print, inputs from memory).
func TestEvaporationOfAPour(t *testing.T) {
	p := trial.Pour("1", "2025-07-02", "patio", "chute", 2, 2.2)
	p.ConcreteTempF, p.AirTempF, p.HumidityPct, p.WindMPH = record.Some(87.0), record.Some(80.0), record.Some(50.0), record.Some(12.0)
	lacking := trial.Pour("2", "2025-07-02", "patio", "chute", 2, 2.2)
	f := answer(t, record.Set{Placements: []record.Placement{p, lacking}}, "2025-12-31", setting.Options{})
	trial.Near(t, "evaporation", f.Weather.Placements[0].Rate.V, 0.2435, 1e-3)
	if f.Weather.HotCount != 1 || f.Weather.Known != 1 {
		t.Errorf("%d hot of %d known pours, want 1 of 1", f.Weather.HotCount, f.Weather.Known)
	}
	out, err := json.Marshal(f.Weather)
	if err != nil || !strings.Contains(string(out), `"evaporation_lb_ft2_h":null,"why":"lacks concrete_temp_f, air_temp_f`) {
		t.Errorf("%s %v", out, err)
	}
}

// Four slabs by hand: cracked on day 100; cracked on day 200; watched 150 days;
// watched 400 days. At day 100 four are at risk: S = 3/4; at day 200 two are:
// S = 3/8; so the one-year risk is 0.625. Time watched is 100+200+150+400 days.
func TestCracksByHand(t *testing.T) {
	slab := func(job string, ago, crackAfter int) record.Placement {
		p := trial.Pour(job, "2025-01-01", "patio", "chute", 2, 2.2)
		p.PlacedOn = trial.Day("2025-12-31") - record.Date(ago)
		p.Reinforcement, p.JointSpacingFt = "mesh", record.Some(8.0)
		if crackAfter > 0 {
			p.CallbackOn, p.CallbackKind = p.PlacedOn+record.Date(crackAfter), "crack"
		}
		return p
	}
	f := answer(t, record.Set{Placements: []record.Placement{slab("1", 390, 100), slab("2", 390, 200), slab("3", 150, 0), slab("4", 400, 0)}}, "2025-12-31", setting.Options{})
	if len(f.Cracks.Cells) != 1 {
		t.Fatalf("cells %+v", f.Cracks.Cells)
	}
	c := f.Cracks.Cells[0]
	if c.From.V != 8 || c.To.V != 10 || c.Placements != 4 || c.Callbacks != 2 {
		t.Errorf("cell %+v: want 8 to 10 ft, 4 slabs, 2 callbacks", c)
	}
	trial.Near(t, "one-year risk", c.Risk1Yr.Value, 0.625, 1e-12)
	trial.Near(t, "placement-years", c.PlacementYears, 850/365.25, 1e-12)
	if c.FullYear.N != 3 {
		t.Errorf("%d slabs are a year old, want 3", c.FullYear.N)
	}
	trial.Near(t, "share of the year-old", c.FullYear.Value, 2.0/3, 1e-12)
}

func TestAYoungSlabProvesNothing(t *testing.T) {
	p := trial.Pour("1", "2025-12-24", "patio", "chute", 2, 2.2)
	p.Reinforcement = "rebar"
	f := answer(t, record.Set{Placements: []record.Placement{p}}, "2025-12-31", setting.Options{})
	if risk := f.Cracks.Cells[0].Risk1Yr; risk.Known() || risk.Why == nil {
		t.Errorf("a slab poured last week has a one-year risk of %+v", risk)
	}
}

func TestOtherCallbacksAreNoCracks(t *testing.T) {
	p := trial.Pour("1", "2024-01-01", "patio", "chute", 2, 2.2)
	p.CallbackOn, p.CallbackKind = trial.Day("2024-03-01"), "scaling"
	f := answer(t, record.Set{Placements: []record.Placement{p}}, "2025-12-31", setting.Options{})
	if c := f.Cracks.All; c.Callbacks != 0 || math.Abs(c.PlacementYears-730/365.25) > 1e-12 {
		t.Errorf("%+v: want no crack in 730 days", c)
	}
}

func TestSpacingBands(t *testing.T) {
	for spacing, want := range map[float64]int{0.5: 0, 5.999: 0, 6: 1, 7.5: 1, 8: 2, 14.9: 4, 15: 5, 40: 5} {
		if got := cracks.Band(record.Some(spacing), setting.DefaultBands); got != want {
			t.Errorf("%v ft falls into band %d, want %d", spacing, got, want)
		}
	}
	if got := cracks.Band(record.Number{}, setting.DefaultBands); got != -1 {
		t.Errorf("an unknown spacing falls into band %d", got)
	}
}

func TestMarginByHand(t *testing.T) {
	a, b := trial.Pour("1", "2025-05-31", "patio", "chute", 2, 2.2), trial.Pour("1", "2025-06-02", "patio", "chute", 2, 2.2)
	b.Placement = "B" // the job's last placement puts it into June
	c, d := trial.Pour("2", "2025-06-10", "patio", "chute", 2, 2.2), trial.Pour("3", "2025-06-11", "patio", "chute", 2, 2.2)
	money := record.Some[record.Cents]
	f := answer(t, record.Set{Placements: []record.Placement{a, b, c, d}, Jobs: []record.Job{
		{JobNo: "1", ContractPrice: money(100000), BidCost: money(70000), ActualCost: money(75050)},
		{JobNo: "2", ContractPrice: money(50000), BidCost: money(40000), ActualCost: money(60000)},
		{JobNo: "3", ContractPrice: money(1)}, // no cost: left out
	}}, "2025-12-31", setting.Options{})
	if len(f.Margin.Months) != 1 || f.Margin.Unpriced != 1 {
		t.Fatalf("margin %+v", f.Margin)
	}
	m := f.Margin.Months[0]
	if m.Month != "2025-06" || m.Jobs != 2 || m.Revenue != 150000 || m.Cost != 135050 {
		t.Errorf("month %+v", m)
	}
	trial.Near(t, "margin", m.MarginPct.Value, 100*(1500-1350.50)/1500, 1e-12)
	trial.Near(t, "bid margin", m.BidMarginPct.Value, 100*(1500-1100)/1500.0, 1e-12)
	out, err := json.Marshal(m)
	if err != nil || !strings.HasPrefix(string(out), `{"revenue":1500.00,"cost":1350.50,"month":"2025-06"`) {
		t.Errorf("%s %v", out, err)
	}
}

func TestAnEmptyHistoryAnswers(t *testing.T) {
	f := answer(t, record.Set{}, "2025-12-31", setting.Options{})
	out, err := json.Marshal(f)
	if err != nil || strings.Contains(string(out), "NaN") || strings.Contains(string(out), `"groups":null`) {
		t.Errorf("%s %v", out, err)
	}
}

func TestOptionsAreRefused(t *testing.T) {
	h := record.NewHistory(trial.Day("2025-12-31"), record.Set{})
	for _, opt := range []setting.Options{{Level: 1}, {Level: -0.5}, {Level: math.NaN()}, {Event: "heard"}, {Bands: []float64{6, 8}}, {Bands: []float64{0, 8, 8}}, {Bands: []float64{}}, {Topics: []string{"weathr"}}} {
		if _, err := Run(h, opt); err == nil {
			t.Errorf("%+v was taken", opt)
		}
	}
}
