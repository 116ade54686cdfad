package money

import (
	"testing"

	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
	"pourback/ingest/invented"
	"pourback/ingest/record"
)

func costLine(job, item string, plannedQty float64, plannedRate record.Cents, qty float64, rate record.Cents) record.Cost {
	return record.Cost{JobNo: job, Item: item, PlannedQty: record.Some(plannedQty), PlannedRate: record.Some(plannedRate),
		ActualQty: record.Some(qty), ActualRate: record.Some(rate)}
}

func costed(t *testing.T, lines ...record.Cost) StandardCost {
	t.Helper()
	var bid record.Cents
	for i := range lines {
		lines[i].JobNo = "1"
		bid += lines[i].Planned().Or(0)
	}
	s := record.Set{Placements: []record.Placement{trial.Pour("1", "2025-05-01", "patio", "chute", 10, 11.5)},
		Jobs: []record.Job{{JobNo: "1", ContractPrice: trial.Cents(1), BidCost: record.Some(bid)}}, Costs: lines}
	m := answer(t, s, "2025-12-31", setting.Options{Topics: []string{"margin"}}).Margin
	costs := m.StandardCosts()
	if len(costs) != 1 {
		t.Fatalf("%d jobs, want 1", len(costs))
	}
	return costs[0]
}

// Textbook variance analysis; favorable is positive here, as an effect on margin.
//
//   - Material: 450 units at $6.50 where 430 at $6.90 were the standard: price
//     $180 favorable, quantity $138 unfavorable, total $42 favorable (exercise
//     23-5 in a worked solution to Warren, Reeve & Duchac, Accounting, seen on
//     a page that quotes it).
//   - Material: 14,000 yd at $4.90 where 15,000 at $5 were: $1,400 and $5,000
//     favorable (lecture notes to Horngren, Cost Accounting, ch. 7, seen).
//   - Labor: 18,400 hours at $10.30 where 18,000 at $10 were: rate $5,520 and
//     efficiency $4,000 unfavorable, total $9,520 (AccountingCoach, "labor
//     efficiency variance", seen).
func TestStandardCostsByTextbook(t *testing.T) {
	for _, c := range []struct {
		line  record.Cost
		price record.Cents
		usage record.Cents
	}{
		{costLine("1", "concrete", 430, 6_90, 450, 6_50), 180_00, -138_00},
		{costLine("1", "base", 15000, 5_00, 14000, 4_90), 1400_00, 5000_00},
		{costLine("1", "labor", 18000, 10_00, 18400, 10_30), -5520_00, -4000_00},
	} {
		v := costed(t, c.line)
		got := map[string]PriceUsage{"concrete": {v.Concrete.Price, v.Concrete.Use}, "base": v.Items, "labor": v.Labor}[c.line.Item]
		if got.Price != c.price || got.Usage != c.usage {
			t.Errorf("%s: price %s and usage %s, want %s and %s", c.line.Item, got.Price, got.Usage, c.price, c.usage)
		}
		if v.Left != 0 || v.Total != c.price+c.usage {
			t.Errorf("%s: total %s with %s left", c.line.Item, v.Total, v.Left)
		}
	}
}

// Concrete by hand: 11 yd³ at $160 in the bid, 12 delivered at $170, probed 5 %
// thicker over 10 yd³ neat, half a yard left over. Price −$10·12 = −$120; half a
// yard of thickness −$80; leftover −$80; use is the rest of −$160: (12 − .5 − 11
// − .5)·$160 = 0.
func TestConcreteIsSplitFurther(t *testing.T) {
	p := trial.Pour("1", "2025-05-01", "patio", "chute", 10, 11.5) // 12 delivered
	p.MeasuredThicknessIn = record.Some(4.2)
	s := record.Set{Placements: []record.Placement{p}, Jobs: []record.Job{{JobNo: "1", ContractPrice: trial.Cents(1), BidCost: trial.Cents(11 * 160_00)}},
		Costs: []record.Cost{costLine("1", "concrete", 11, 160_00, 12, 170_00)}}
	got := answer(t, s, "2025-12-31", setting.Options{}).Margin.StandardCosts()[0].Concrete
	if want := (ConcreteCost{Price: -120_00, Geometry: -80_00, Leftover: -80_00}); got != want {
		t.Errorf("%+v, want %+v", got, want)
	}
	s.Costs[0] = costLine("1", "concrete", 11, 160_00, 9.175, 170_00) // m³: not the yards of the placements
	s.Jobs[0].ActualCost = record.Money{}
	got = answer(t, s, "2025-12-31", setting.Options{}).Margin.StandardCosts()[0].Concrete
	if got.Geometry != 0 || got.Leftover != 0 || got.Use != 292_00 {
		t.Errorf("%+v: split by placements that speak of other units", got)
	}
}

// What has no quantities, callbacks and amounts that are not their product are
// kept apart, and all adds up.
func TestWhatIsLeftOfStandardCosts(t *testing.T) {
	subcontract := record.Cost{Item: "subcontract", PlannedAmount: trial.Cents(500_00), ActualAmount: trial.Cents(620_00)}
	callback := costLine("1", "callback", 0, 0, 1, 300_00)
	odd := costLine("1", "pump", 3, 150_00, 4, 150_00)
	odd.ActualAmount = trial.Cents(611_00) // not 4 × $150
	v := costed(t, subcontract, callback, odd)
	if v.Callback != -300_00 || v.Items.Usage != -150_00 || v.Left != -120_00-11_00 || v.Total != -120_00-300_00-161_00 {
		t.Errorf("%+v", v)
	}
}

func TestStandardCostsAddUp(t *testing.T) {
	for seed := range uint64(10) {
		set, _, err := invented.Generate(invented.Options{Seed: seed + 1, Until: trial.Day("2026-03-31")})
		if err != nil {
			t.Fatal(err)
		}
		h := record.NewHistory(trial.Day("2026-03-31"), set)
		variances := (&Margin{h: h}).standardCosts()
		if len(variances) != h.Jobs.Len() {
			t.Errorf("seed %d: %d jobs of %d", seed+1, len(variances), h.Jobs.Len())
		}
		for _, v := range variances {
			if v.explained()+v.Left != v.Total {
				t.Errorf("job %s: %+v", v.JobNo, v)
			}
			if v.Left < -5 || v.Left > 5 { // quantities are kept to the thousandth
				t.Errorf("job %s: %s left where every line has its quantities", v.JobNo, v.Left)
			}
		}
	}
}
