package steel

import (
	"math"
	"testing"

	"pourback/analysis/figure"
	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
	"pourback/ingest/record"
)

// Prices that may be off by a tenth widen what is known of the extra cost, and
// make the probability less sure. $80 of material and 0.5 h at $40 a 100 ft² for
// mesh against $160 and 1 h.
func TestPricesHaveRanges(t *testing.T) {
	costs := setting.DefaultSteelCosts() // 0.40 and 0.80 a ft², 0.5 and 1 h a 100 ft²
	known := costs
	known.PriceRange = 0
	// 0.80 + 0.40 − 0.40 − 0.20 = $0.60 a ft². Off by 0.04, 0.08, 0.02 (half an
	// hour of $40, a tenth), 0.04 and the wage by 0.02: √(16+64+4+16+4)/100 = 0.10198.
	extra, se := entered(costs, 40).extra()
	trial.Near(t, "extra", extra, 0.60, 1e-12)
	trial.Near(t, "off by", se*1.6448536, 0.10198, 1e-5)
	if _, se := entered(known, 40).extra(); se != 0 {
		t.Errorf("known prices are off by %v", se)
	}
	e, c := worked(0.5, 0.05, 0, 0.1, 240)
	c.costs = entered(known, 40)
	sure := c.decide(e)
	c.costs = entered(costs, 40)
	ranged := c.decide(e)
	trial.Near(t, "gain", ranged.RebarGain.Value, sure.RebarGain.Value, 1e-9)
	if !(math.Abs(ranged.MeshCheaper.Value-0.5) < math.Abs(sure.MeshCheaper.Value-0.5)) || ranged.RebarGain.High-ranged.RebarGain.Low <= sure.RebarGain.High-sure.RebarGain.Low {
		t.Errorf("known: %v, %+v; ranged: %v, %+v", sure.MeshCheaper.Value, sure.RebarGain, ranged.MeshCheaper.Value, ranged.RebarGain)
	}
}

func TestSteelCostsAreRefused(t *testing.T) {
	for _, spoil := range []func(*setting.SteelCosts){
		func(c *setting.SteelCosts) { c.Goodwill = -1 }, func(c *setting.SteelCosts) { c.Callback = 0 }, func(c *setting.SteelCosts) { c.PriorSD = math.NaN() },
		func(c *setting.SteelCosts) { c.Power = 1 }, func(c *setting.SteelCosts) { c.Years = 0 }, func(c *setting.SteelCosts) { c.RebarPerSqft = math.Inf(1) },
		func(c *setting.SteelCosts) { c.PriceRange = -0.1 }, func(c *setting.SteelCosts) { c.PriceRange = 1 }, func(c *setting.SteelCosts) { c.PriceRange = math.NaN() },
	} {
		c := setting.DefaultSteelCosts()
		spoil(&c)
		if _, err := c.Complete(); err == nil {
			t.Errorf("%+v was taken", c)
		}
	}
	if c, err := (setting.SteelCosts{}).Complete(); err != nil || c != setting.DefaultSteelCosts() {
		t.Errorf("the zero value gives %+v, %v", c, err)
	}
}

// Five jobs with mesh alone that paid $160 for 400 ft², one with both kinds that
// paid otherwise; reinforcing took an hour for 400 ft².
func TestPaidCostsByHand(t *testing.T) {
	var s record.Set
	for i := range 6 {
		p := trial.SlabAt(i, 500, 0, "mesh")
		s.Placements = append(s.Placements, p)
		paid := record.Some[record.Cents](160_00)
		if i == 5 {
			other := trial.SlabAt(i, 500, 0, "rebar")
			other.Placement = "B"
			s.Placements = append(s.Placements, other)
			paid = record.Some[record.Cents](900_00)
		}
		s.Costs = append(s.Costs, record.Cost{JobNo: p.JobNo, Item: "reinforcement", ActualAmount: paid})
		s.Labor = append(s.Labor, record.Labor{JobNo: p.JobNo, Placement: "A", WorkedOn: p.PlacedOn, Task: "reinforce",
			Hours: record.Some(1.0), Rate: record.Some[record.Cents](35_00)})
	}
	costs := entered(setting.DefaultSteelCosts(), 40).paid(record.NewHistory(trial.Day("2025-12-31"), s))
	trial.Near(t, "mesh", costs.mesh.material.Value, 0.40, 1e-12)
	trial.Near(t, "hours", costs.mesh.hours.Value, 0.25, 1e-12)
	trial.Near(t, "wage", costs.wage.Value, 35, 1e-12)
	trial.Near(t, "rebar", costs.rebar.material.Value, setting.DefaultSteelCosts().RebarPerSqft, 0)
	if costs.mesh.material.From != (figure.Source{Kind: figure.MeanOfJobs, N: 5}) || costs.rebar.material.From != figure.Setting() {
		t.Errorf("%+v, %+v", costs.mesh.material, costs.rebar.material)
	}
}

// Own costs have the mean and its error: 0.30, 0.35, 0.40, 0.45 and 0.50 have
// 0.40 ± t(.95; 4)·0.079057/√5 = 2.13185·0.035355 = 0.07537.
func TestOwnCostsHaveTheirError(t *testing.T) {
	mesh := entered(setting.DefaultSteelCosts(), 40).mesh.material.Or([]float64{0.30, 0.35, 0.40, 0.45, 0.50}, figure.MeanOfJobs)
	trial.Near(t, "mean", mesh.Value, 0.40, 1e-12)
	trial.Near(t, "off by", mesh.Off, 0.07537, 1e-5)
}
