package findings

import (
	"reflect"
	"testing"

	"pourback/analysis/backtest"
	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
	"pourback/analysis/steel"
	"pourback/ingest/invented"
	"pourback/ingest/record"
)

func inventedSet(t *testing.T, seed uint64, adjust func(*invented.Truth)) record.Set {
	t.Helper()
	set, _, err := invented.Generate(invented.Options{Seed: seed, Until: trial.Day("2026-03-31"), Adjust: adjust})
	if err != nil {
		t.Fatal(err)
	}
	return set
}

// Who orders by the rule already would save next to nothing; who orders what is
// drawn, so that nearly every pour runs short, would save at least a third of the
// extra loads. What is claimed is what the backtest says, to the digit.
func TestOrderFindingFollowsThePlans(t *testing.T) {
	opt, _ := setting.Options{}.Complete()
	plan := func(yards func(y *lastYear, p record.PlacementRow) float64) (candidate, *lastYear) {
		y := yearOf(t, inventedSet(t, 4, nil), "2026-03-31", "overage")
		for i := range y.h.Placements.Len() {
			if p := y.h.Placements.At(i); p.Neat().OK {
				y.h.Placements.PlannedYd.Set(i, record.Some(yards(y, p)))
			}
		}
		whole, err := backtest.New(y.h, opt)
		if err != nil {
			t.Fatal(err)
		}
		r, known := backtest.Ordered(y.h, opt)
		if !known || !reflect.DeepEqual(&r, whole.Find(backtest.AsOrdered)) {
			t.Fatalf("%+v, the backtest says %+v", r, whole.Find(backtest.AsOrdered))
		}
		y.f.AsOrdered = &r
		c := orderFindings(y)
		if len(c) != 1 || c[0].worth != r.YearlySaving {
			t.Fatalf("%+v, want %+v", c, r.YearlySaving)
		}
		return c[0], y
	}
	asDrawn, y := plan(func(_ *lastYear, p record.PlacementRow) float64 { return p.Neat().V })
	if least := y.order.ExtraLoad / 3 * float64(len(y.rows)); asDrawn.worth.Value < least || asDrawn.sure < 0.99 {
		t.Errorf("ordering as drawn costs %v more a year, want at least %v", asDrawn.worth, least)
	}
	byRule, _ := plan(func(y *lastYear, p record.PlacementRow) float64 { return y.best(p).Yd })
	if byRule.worth.Value > 1000 || len(screen([]candidate{byRule})) != 0 {
		t.Errorf("ordering by the rule already would still save %v", byRule.worth)
	}
	y.f.AsOrdered = nil
	if c := orderFindings(y); c != nil {
		t.Errorf("nothing was walked, and %+v is claimed", c)
	}
}

// No single order is made for a dam.
func TestADamIsNotOrderedAnew(t *testing.T) {
	y := yearOf(t, inventedSet(t, 4, nil), "2026-03-31", "overage")
	for neat, want := range map[float64]bool{8: true, 20000: false} {
		y.h.Placements.NeatYd.Set(y.rows[0], record.Some(neat))
		if got := y.best(y.h.Placements.At(y.rows[0])); (got.Yd > 0) != want {
			t.Errorf("%v yd³: %+v", neat, got)
		}
	}
}

// Where cracks depend on nothing that was recorded, a level said to crack more
// is a chance find. Screened at 10 %, some one company in ten reads of one:
// of 30, mean 3, no more than 8.
func TestChanceFindsAmongCracksAreRare(t *testing.T) {
	found := 0
	for seed := range uint64(30) {
		y := yearOf(t, inventedSet(t, seed+1, func(truth *invented.Truth) {
			c := &truth.Crack
			c.PerSpacing, c.Per10F, c.Drying, c.PerSawHour, c.Cured = 0, 0, 0, 0, 0
			for k := range c.ByReinforcement {
				c.ByReinforcement[k] = 0
			}
		}), "2026-03-31", "cracks")
		found += min(1, len(screen(crackFindings(y))))
	}
	t.Logf("chance finds in %d of 30 companies", found)
	if found > 8 {
		t.Errorf("chance finds among cracks in %d of 30 companies", found)
	}
}

// Heat that makes slabs crack four times as often for each 10 °F is found.
func TestHotSlabsAreFound(t *testing.T) {
	found := 0
	for seed := range uint64(6) {
		y := yearOf(t, inventedSet(t, seed+1, func(truth *invented.Truth) { truth.Crack.Per10F = 1.4 }), "2026-03-31", "cracks")
		for _, c := range screen(crackFindings(y)) {
			if tellsOf(c.told, cracks.ByAir, cracks.Level{Low: figure.Known(90)}) {
				found++
			}
		}
	}
	if found < 4 {
		t.Errorf("found in %d of 6 companies", found)
	}
}

// tellsOf says whether a fact is about a level of something that slabs differ in.
func tellsOf(f Fact, factor cracks.Factor, level cracks.Level) bool {
	c, ok := f.(CrackLevel)
	return ok && c.Table.Factor == factor && reflect.DeepEqual(c.Table.Rows[c.Row].Level, level)
}

// Ten slabs of a year with rebar at $20 more each: $200 a year, as sure as the
// verdict; nothing where there is none.
func TestSteelFindingFollowsTheVerdict(t *testing.T) {
	y := &lastYear{h: &record.History{}, f: &Answers{Reinforcement: &steel.Reinforcement{}}, scale: 1, level: .9}
	for i := range 10 {
		y.h.Placements.Columns().Add(&record.Placement{Reinforcement: "rebar"})
		y.rows = append(y.rows, i)
	}
	m := &y.f.Reinforcement.MeshVsRebar
	m.MeshCheaper, m.RebarGain = figure.Total(.95, 10, "m"), figure.Total(-20, 10, "m")
	m.Verdict = steel.NotSettled
	if c := steelFindings(y); len(c) != 0 {
		t.Errorf("a finding from what is not settled: %+v", c)
	}
	m.Verdict = steel.ForMesh
	c := steelFindings(y)
	if len(c) != 1 || c[0].worth.Value != 200 || c[0].sure != .95 || c[0].told != (Steel{Mesh: true, Placements: 10}) {
		t.Errorf("%+v", c)
	}
	m.ByPrice = true
	y.f.Reinforcement.Assumptions = []figure.Assumption{{What: steel.RebarMaterial, From: figure.Setting()}}
	if c := steelFindings(y); len(c) != 1 || c[0].told != (Steel{Mesh: true, Placements: 10, ByPrices: true}) {
		t.Errorf("by price: %+v", c)
	}
}
