package findings

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"pourback/analysis/figure"
	"pourback/analysis/internal/trial"
	"pourback/analysis/money"
	"pourback/analysis/setting"
	"pourback/ingest/invented"
	"pourback/ingest/record"
)

// yearOf are the findings' inputs from a set, with the answers they draw on.
func yearOf(t testing.TB, s record.Set, asOf string, topics ...string) *lastYear {
	t.Helper()
	h := record.NewHistory(trial.Day(asOf), s)
	opt, _ := setting.Options{}.Complete()
	return newLastYear(h, answersTo(t, h, opt, topics...), opt)
}

// Six placements of a year leave 1, 0, 2, 1, 0 and 4 yd³: 8 in all, at $165 a
// yd³ $1,320; the spread is 1.645·√(1+4+1+16) = 7.715 yd³, so ± $1,273.
func TestSumOfAYearByHand(t *testing.T) {
	var s record.Set
	for i, left := range []float64{1, 0, 2, 1, 0, 4} {
		p := trial.Pour(fmt.Sprint(i), "2025-01-01", "patio", "chute", 10, 11)
		p.PlacedOn += record.Date(60 * i)
		p.LeftoverYd = record.Some(left)
		s.Placements = append(s.Placements, p)
	}
	early := trial.Pour("early", "2024-11-01", "patio", "chute", 10, 11)
	early.LeftoverYd = record.Some(9.0)
	s.Placements = append(s.Placements, early)
	y := yearOf(t, s, "2025-12-31")
	if len(y.rows) != 6 || y.scale != 1 {
		t.Fatalf("%d rows, scale %v", len(y.rows), y.scale)
	}
	c := concreteFindings(y)
	if len(c) != 1 {
		t.Fatalf("%+v", c)
	}
	trial.Near(t, "dollars", c[0].worth.Value, 1320, 1e-9)
	trial.Near(t, "low", c[0].worth.Low, 1320-1273, 0.5)
	trial.Near(t, "high", c[0].worth.High, 1320+1273, 0.5)
}

func TestTwoAmountsSayNothing(t *testing.T) {
	s := yearly{year: &lastYear{level: .9, scale: 1}}
	for _, v := range []float64{0, 0, 0, 500, 800} {
		s.add(v)
	}
	if f := s.dollars(1); f.Known() {
		t.Errorf("two amounts make %+v", f)
	}
	s.add(700)
	trial.Near(t, "three amounts", s.dollars(1).Value, 2000, 1e-9)
}

// Six jobs of the year, each built $100 of concrete thicker than drawn and $50
// of others' doing better than bid; one of the year before; three of the year
// without a price.
func TestMarginFindingsByHand(t *testing.T) {
	f := &Answers{Margin: &money.Margin{}}
	y := &lastYear{f: f, level: .9, scale: 1, from: trial.Day("2024-12-31")}
	for i := range 6 {
		j := money.Job{Last: trial.Day("2025-02-01"), Price: 1000_00, Revenue: 1000_00, Cost: 750_00, BidCost: trial.Cents(700_00), FollowOn: i < 3}
		j.Effects[money.StepVolume], j.Known[money.StepVolume] = -100_00, true
		j.Effects[money.StepOther], j.Known[money.StepOther] = 50_00, true
		f.Margin.Jobs = append(f.Margin.Jobs, j)
		y.jobs = append(y.jobs, &f.Margin.Jobs[len(f.Margin.Jobs)-1])
	}
	f.Margin.UnpricedOn = []record.Date{trial.Day("2024-12-31"), trial.Day("2025-03-01"), trial.Day("2025-03-02"), trial.Day("2025-12-01")}
	f.Margin.Total.MarginPct = figure.Total(25, 6, "m")
	got := bridgeFindings(y)
	if len(got) != 2 || got[0].worth.Value != 600 || got[1].worth.Value != -300 || got[0].purse != "thickness" {
		t.Errorf("%+v", got)
	}
	if got = followOnFindings(y); len(got) != 1 || got[0].worth.Value != 750 || got[0].told != (FollowOn{Jobs: 3}) {
		t.Errorf("%+v", got)
	}
	if got = unpricedFindings(y); len(got) != 1 || got[0].worth.Value != 150 || got[0].told != (Unpriced{Unpriced: 3, Jobs: 9, Each: 50}) {
		t.Errorf("%+v", got)
	}
}

// A month that lost 15 cents where months swing about 20 cost 35 cents of each
// of its $1,000; one that earned more costs nothing.
func TestMonthFindings(t *testing.T) {
	var s record.Set
	for k, pct := range []float64{20, 22, 19, 21, 20, 23, 18, 21, 20, 22, 19, 21, 20, 22, 19, 21, 60, 23, 18, 21, -15, 22, 19, 21} {
		no := fmt.Sprint(k)
		s.Jobs = append(s.Jobs, record.Job{JobNo: no, ContractPrice: trial.Cents(1000_00), ActualCost: trial.Cents(1000_00 - int64(pct*1000)), BidCost: trial.Cents(800_00)})
		s.Placements = append(s.Placements, record.Placement{JobNo: no, Placement: "A", PlacedOn: record.DateOf(2020, time.Month(1+k), 15)})
	}
	opt, _ := setting.Options{}.Complete()
	m := money.Of(record.NewHistory(trial.Day("2021-12-31"), s), opt, nil)
	got := monthFindings(&lastYear{f: &Answers{Margin: m}, level: .9, scale: 1, from: trial.Day("2020-12-31")})
	if len(got) != 1 || got[0].told != (LowMonth{Month: "2021-09", Pct: -15, Usual: m.Control.Center.Value, Dollars: got[0].worth.Value}) {
		t.Fatalf("%+v", got)
	}
	trial.Near(t, "dollars", got[0].worth.Value, (m.Control.Center.Value+15)*10, 1e-9)
}

// An outfit that clogs ten times as often as the others is told of, and no
// other; the dollars are those of its waiting.
func TestPumpFindingsFindABadOutfit(t *testing.T) {
	set, _, err := invented.Generate(invented.Options{Seed: 1, Until: trial.Day("2026-03-31"), Adjust: func(truth *invented.Truth) {
		truth.Pump.Outfits[2].ClogsPer100Yd = 30
	}})
	if err != nil {
		t.Fatal(err)
	}
	kept := screen(pumpFindings(yearOf(t, set, "2026-03-31", "pump")))
	if len(kept) != 1 || kept[0].told.Kind() != KindOutfit || kept[0].told.Subject() != "P3" {
		t.Errorf("%+v", kept)
	}
}

// Of p-values .001, .02, .04, .9 the adjusted are .004, .04, .0533, .9: three
// are told at 10 %. Worth too little, or not sure, is not told whatever its p.
func TestScreenByHand(t *testing.T) {
	worth := func(v float64) figure.Figure { return figure.Total(v, 10, "m") }
	at := func(v, sure, p float64) candidate {
		return compared(gain("t", fmt.Sprint(p), worth(v), FollowOn{}), sure, p)
	}
	kept := screen([]candidate{at(1000, .99, .001), at(1000, .99, .02), at(1000, .99, .04), at(1000, .99, .9), gain("t", "a", worth(100), FollowOn{}), {worth: worth(1000), sure: .5}})
	if len(kept) != 3 {
		t.Errorf("%d kept, want 3", len(kept))
	}
	if kept = screen([]candidate{at(1000, .99, .06), at(-5, .1, .5), at(-5, .1, .6)}); len(kept) != 0 {
		t.Errorf("one of three at p .06 was kept: adjusted it is .18")
	}
}

func TestRankByHand(t *testing.T) {
	at := func(purse string, v, sure float64) candidate {
		c := gain("t", purse, figure.Total(v, 10, "m"), SlowCrew{Crew: purse})
		c.sure = sure
		return c
	}
	whole := sum("t", "whole", figure.Total(3000, 10, "m"), SlowCrew{Crew: "whole"}) // counts as 750
	got := rankFindings([]candidate{at("a", 1000, .9), whole, at("b", 950, 1), at("b", 940, 1), at("c", 800, 1), at("d", 700, 1), at("e", 600, 1)})
	var order []string
	for i, f := range got {
		if f.Rank != i+1 {
			t.Errorf("rank %d at place %d", f.Rank, i+1)
		}
		order = append(order, f.Told.Subject())
	}
	if strings.Join(order, " ") != "b a c whole d" {
		t.Errorf("order %v", order)
	}
}

// A bid cell by hand. Cell: gaps −10, −30 of revenues 100, 100: r = −.2, se =
// √[Σ(gap − r·rev)²/((n−1)n)]/100 = √(200/2)/100 = .1. Rest: gaps 5, −5, 0 of
// 100 each: r = 0, se = √(50/6)/100 = .028868. t = .2/√(.01 + .00083333) =
// 1.92154 at one degree of freedom: p = 1 − 2·atan(1.92154)/π = .30550.
func TestBidCellByHand(t *testing.T) {
	job := func(gap int64) *money.Job {
		return &money.Job{Price: 100_00, Revenue: 100_00, BidCost: trial.Cents(gap * 100), Cost: 0}
	}
	var c, all bidCell
	for _, gap := range []int64{-10, -30} {
		c.add(job(gap), 0)
		all.add(job(gap), 0)
	}
	for _, gap := range []int64{5, -5, 0} {
		all.add(job(gap), 0)
	}
	if !c.compare(&all) {
		t.Fatal("no comparison")
	}
	trial.Near(t, "ratio", c.ratio, -.2, 1e-12)
	trial.Near(t, "se", c.se, .1, 1e-12)
	trial.Near(t, "rest", c.restRatio, 0, 1e-12)
	trial.Near(t, "se of the rest", c.restSE, .028868, 1e-6)
	trial.Near(t, "p", c.p, 1-2*math.Atan(1.92154)/math.Pi, 1e-5)
}

// Where crews, outfits and uses are all alike, what is told of one of them is a
// chance find. Screened together at 10 %, a company should read of one in about
// one year of ten; under 40 seeds no more than 9 (mean 4, three standard errors
// of 1.9). Unscreened at p < .10 each, with a dozen comparisons, most would.
func TestChanceFindsAreRare(t *testing.T) {
	found, naive := 0, 0
	const seeds = 40
	for seed := range uint64(seeds) {
		set, _, err := invented.Generate(invented.Options{Seed: seed + 1, Until: trial.Day("2026-03-31"), Adjust: func(truth *invented.Truth) {
			for i := range truth.Labor.Crews {
				truth.Labor.Crews[i].Effect, truth.Labor.Crews[i].Started = 0, 0
			}
			for i := range truth.Pump.Outfits {
				truth.Pump.Outfits[i].ClogsPer100Yd = 3
			}
		}})
		if err != nil {
			t.Fatal(err)
		}
		y := yearOf(t, set, "2026-03-31", "crews", "pump")
		looked := append(crewFindings(y), pumpFindings(y)...)
		if len(screen(looked)) > 0 {
			found++
		}
		for _, c := range looked {
			if c.p < falseShare && c.worth.Value > 0 {
				naive++
				break
			}
		}
	}
	t.Logf("chance finds in %d of %d companies, %d without screening", found, seeds, naive)
	if found > 9 {
		t.Errorf("chance finds in %d of %d companies", found, seeds)
	}
}

// Of facts worth the same the earlier kind comes first, of one kind the earlier
// subject, in whatever order they were found.
func TestTiesFollowKindAndSubject(t *testing.T) {
	at := func(told Fact) candidate {
		return gain("t", string(told.Kind())+told.Subject(), figure.Total(1000, 10, "m"), told)
	}
	tied := []candidate{at(Waiting{}), at(SlowCrew{Crew: "Wren"}), at(KindOfBid{Use: "patio"}), at(SlowCrew{Crew: "Heron"})}
	for range 2 {
		var order []string
		for _, f := range rankFindings(slices.Clone(tied)) {
			order = append(order, string(f.Told.Kind())+" "+f.Told.Subject())
		}
		if got, want := strings.Join(order, ", "), "bids patio 0 0, crew Heron, crew Wren, waiting "; got != want {
			t.Errorf("%q, want %q", got, want)
		}
		slices.Reverse(tied)
	}
}

// What was booked has no range, what is estimated has; and findings stand in the
// order of what is within reach times how sure, which each of them tells.
func TestRangesAreOfEstimates(t *testing.T) {
	y := yearOf(t, inventedSet(t, 4, nil), "2026-03-31")
	told, _ := Of(y.h, y.f, setting.Options{Level: y.level, Order: y.order, Rates: setting.DefaultStandardRates()})
	if len(told) < 3 {
		t.Fatalf("%d findings", len(told))
	}
	booked := 0
	for i, f := range told {
		sum := false
		switch f.Told.(type) {
		case Leftover, StepLost, FollowOn, Waiting, Callbacks:
			sum, booked = true, booked+1
		}
		if f.Dollars.Bounded == sum {
			t.Errorf("%T of %+v", f.Told, f.Dollars)
		}
		if i > 0 && f.Within()*f.Sure > told[i-1].Within()*told[i-1].Sure {
			t.Errorf("%d stands behind %d: %v × %v, %v × %v", i, i-1, told[i-1].Within(), told[i-1].Sure, f.Within(), f.Sure)
		}
	}
	if booked == 0 {
		t.Error("nothing booked among them")
	}
	// A part of a year taken to a whole one is an estimate.
	y.scale = 1.5
	if c := y.asBooked(candidate{worth: figure.Figure{Value: 3, Low: 1, High: 5, Bounded: true, OK: true}}); !c.shown().Bounded {
		t.Error("a part of a year was booked as a whole one")
	}
}
