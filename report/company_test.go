package report

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"pourback/analysis"
	"pourback/analysis/setting"
	"pourback/ingest/record"
)

// asOf is the data date of the tests.
var asOf = record.DateOf(2026, 10, 31)

// pours are n made-up placements in the flat form, with some of everything
// that pages show and of everything that may be missing.
func pours(n int) record.Set {
	dice := rand.New(rand.NewPCG(7, uint64(n)))
	pick := func(words ...string) string { return words[dice.IntN(len(words))] }
	var s record.Set
	for i := range n {
		p := record.Placement{JobNo: fmt.Sprintf("J-%05d", i/2), Placement: string(rune('A' + i%2)),
			PlacedOn: asOf - record.Date(dice.IntN(1200)), Use: pick("driveway", "driveway", "walkway", "patio", "shed slab"),
			AreaSqft: record.Some(100 + float64(dice.IntN(900))), ThicknessIn: record.Some(4.0), Method: pick("chute", "pump"),
			Reinforcement: pick("none", "mesh", "rebar"), JointSpacingFt: record.Some(float64(5 + dice.IntN(12))),
			Crew: pick("Heron", "Kestrel", "Wren"), CrewSize: record.Some(int64(4)), DelayMin: record.Some(int64(dice.IntN(30))),
			AirTempF: record.Some(40 + 60*dice.Float64()), ConcreteTempF: record.Some(70 + 20*dice.Float64()),
			HumidityPct: record.Some(10 + 60*dice.Float64()), WindMPH: record.Some(12 * dice.Float64())}
		neat := p.Neat().V
		p.LeftoverYd = record.Some(0.25)
		p.DeliveredYd = record.Some(neat*(1.02+0.08*dice.Float64()) + 0.3)
		p.LaborHours = record.Some(p.AreaSqft.V / (18 + 12*dice.Float64()))
		if p.Pumped() {
			p.PumpOutfit = pick("P1", "P2", "P3")
			p.Clogs = record.Some(int64(dice.IntN(20) / 18))
			p.ClogMin = record.Some(p.Clogs.V * int64(10+dice.IntN(20)))
			p.DelayMin.V += p.ClogMin.V
		}
		if dice.IntN(12) == 0 {
			p.CallbackOn, p.CallbackKind = min(asOf, p.PlacedOn+record.Date(30+dice.IntN(500))), "crack"
		}
		if i%9 == 8 {
			p.LeftoverYd, p.HumidityPct, p.JointSpacingFt, p.LaborHours = record.Number{}, record.Number{}, record.Number{}, record.Number{}
		}
		s.Placements = append(s.Placements, p)
		if i%2 == 0 {
			price := record.Cents(200000 + dice.IntN(900000))
			s.Jobs = append(s.Jobs, record.Job{JobNo: p.JobNo, ContractPrice: record.Some(price),
				BidCost: record.Some(price * 78 / 100), ActualCost: record.Some(price * record.Cents(70+dice.IntN(20)) / 100)})
		}
	}
	return s
}

// surveys are n slabs of which only visits are known: no volumes, no joint
// spacing, first looked at years after the pour.
func surveys(n int) record.Set {
	dice := rand.New(rand.NewPCG(9, 9))
	var s record.Set
	for i := range n {
		p := record.Placement{JobNo: fmt.Sprintf("S-%03d", i), Placement: "A", PlacedOn: record.DateOf(1975, 6, 1) + record.Date(dice.IntN(2000)),
			Use: "other", AreaSqft: record.Some(6000.0), ThicknessIn: record.Some(10.0), Reinforcement: []string{"none", "none", "rebar"}[i%3]}
		s.Placements = append(s.Placements, p)
		on, cracked := p.PlacedOn+record.Date(4000+dice.IntN(3000)), false
		for range 1 + dice.IntN(6) {
			v := record.Visit{JobNo: p.JobNo, Placement: "A", SeenOn: on, Why: "planned", Finding: "sound"}
			if cracked = cracked || dice.IntN(8) == 0; cracked {
				v.Finding = "crack"
			}
			s.Visits = append(s.Visits, v)
			on += record.Date(300 + dice.IntN(900))
		}
	}
	return s
}

// factorsOf answers every question of the records.
func factorsOf(t testing.TB, s record.Set, opt setting.Options) *analysis.Factors {
	t.Helper()
	f, err := analysis.Run(record.NewHistory(asOf, s), opt)
	if err != nil {
		t.Fatal(err)
	}
	return f
}
