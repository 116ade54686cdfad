package report

import (
	"fmt"
	"testing"

	"pourback/analysis/bid"
	"pourback/analysis/figure"
)

// fig is a figure with an interval, or without one where low is high.
func fig(t testing.TB, value, low, high float64, n int) figure.Figure {
	t.Helper()
	var f figure.Figure
	text := fmt.Sprintf(`{"value":%v,"low":%v,"high":%v,"level":0.8,"n":%d,"method":"made up"}`, value, low, high, n)
	if low == high {
		text = fmt.Sprintf(`{"value":%v,"low":null,"high":null,"level":null,"n":%d,"method":"made up"}`, value, n)
	}
	if err := f.UnmarshalJSON([]byte(text)); err != nil {
		t.Fatal(err)
	}
	return f
}

var (
	own      = bid.Basis{From: bid.FromRecords, N: 37, Says: "37 driveways on record"}
	practice = bid.Basis{From: bid.FromPractice, Says: "common practice, no published source"}
	guide    = bid.Basis{From: bid.FromPractice, Says: "24 to 36 times the thickness (CSA A23.1-94 §20.2.1)"}
	spec     = bid.Basis{From: bid.FromSpec}
	onPaper  = bid.Basis{From: bid.FromDrawing}
)

// madeUpBid is a bid with something in every part of it. Its numbers are made
// up, and agree with one another only as far as a reader would look.
func madeUpBid(t testing.TB) *bid.Bid {
	num := func(v, low, high float64, unit string, b bid.Basis) bid.Number {
		return bid.Number{Figure: fig(t, v, low, high, b.N), Unit: unit, Basis: b}
	}
	bare := func(v float64, unit string, b bid.Basis) bid.Number { return num(v, 0, 0, unit, b) }
	spread := func(mean, p10, p50, p80, p90 float64, unit string, b bid.Basis) bid.Spread {
		return bid.Spread{Mean: mean, P10: p10, P50: p50, P80: p80, P90: p90, Unit: unit, Basis: b}
	}
	var panels []bid.PlanRect
	var cuts []bid.PlanCut
	for i := range 4 {
		for k := range 2 {
			panels = append(panels, bid.PlanRect{X: 10 * float64(i), Y: 9.75 * float64(k), W: 10, H: 9.75})
		}
		if i > 0 {
			cuts = append(cuts, bid.PlanCut{X1: 10 * float64(i), Y1: 0, X2: 10 * float64(i), Y2: 19.5})
		}
	}
	cuts = append(cuts, bid.PlanCut{X1: 0, Y1: 9.75, X2: 40, Y2: 9.75})
	joints := bid.JointPlan{Drawn: true, Panels: panels, Cuts: cuts, CutFt: bare(98.5, "ft", onPaper), LongestFt: 10, WorstRatio: 1.03, MaxFt: bare(10, "ft", spec),
		DepthIn: num(1, 1, 1.3333, "in", guide), EarlyIn: num(1, 1, 1.125, "in", guide), Saw: "4 to 12 hours after placing in warm weather (UFC 3-250-04 §9-4.4).",
		Guide: "Joints 8 to 12 ft apart in a 4 in slab (24 to 36 times the thickness, CSA A23.1-94).", Own: num(0.021, 0.006, 0.07, "share", own), OwnSays: "2 of 37 such slabs cracked within the warranty."}
	part := bid.Part{Name: "A", Use: "driveway", Day: 1, Method: "pump", AreaSqft: 780, ThicknessIn: 4, NeatYd: bare(9.63, "yd³", onPaper),
		UsedYd: spread(10.2, 9.7, 10.1, 10.5, 10.8, "yd³", own), Hours: num(41, 33, 50, "h", own), Joints: joints,
		Steel: []bid.SteelWay{
			{Way: "none", Unit: "", Detail: "nothing to place", Material: bare(0, "$", onPaper), Hours: bare(0, "h", onPaper), Cost: bare(0, "$", onPaper)},
			{Way: "mesh", Quantity: 18, Unit: "sheets", Detail: "18 sheets of 5 by 10 ft with laps", Material: bare(351, "$", practice), Hours: bare(5.2, "h", practice), Cost: bare(560, "$", practice)},
			{Way: "rebar", Chosen: true, Quantity: 1560, Unit: "ft", Detail: "#3 at 18 in: 27 bars of 20 ft along, 14 across, laps counted", Material: bare(612, "$", practice), Hours: bare(9.8, "h", practice), Cost: bare(1002, "$", practice)}}}
	order := bid.Order{Yd: 10.75, Allowance: 0.116, ChanceShort: bare(0.08, "chance", own), LeftoverYd: 0.55, Cost: 1920, Loads: []float64{10, 0.75}, ShortFee: 97}
	return &bid.Bid{Answer: "x", Name: "Lot 14, Mesquite Lane", JobNo: "SF-1043", AsOf: "2026-03-31", On: "2026-07", Month: 7, Draws: 10000,
		Spec:     bid.Spec{Name: "Lot 14, Mesquite Lane", Placements: []bid.Placement{{Use: "driveway", Method: "pump", JointCut: "saw"}}},
		Cautions: []bid.Problem{{Placement: "A", Field: "bar", Value: "#3", Wrong: "thin for a driveway that trucks cross", Right: "ask a licensed engineer", Source: "common practice, no published source"}},
		NeatYd:   bare(9.63, "yd³", onPaper), AreaSqft: bare(780, "ft²", onPaper), Placements: []bid.Part{part},
		Days: []bid.Day{{Day: 1, Placements: []string{"A"}, NeatYd: 9.63, UsedYd: part.UsedYd, Order: order,
			Hold:  bid.Hold{Worth: true, FirstYd: 9, Loads: []float64{9}, HoldYd: 1.5, CallAtYd: 6, CallAt: 0.6, Short: 0.03, Saves: 31},
			Safer: []bid.SaferOrder{{Yd: 11, ChanceShort: 0.04, LeftoverYd: 0.8, CostsMore: 22}, {Yd: 11.25, ChanceShort: 0.02, LeftoverYd: 1.04, CostsMore: 60}}}},
		Labor: bid.Labor{Hours: spread(41, 33, 40, 46, 50, "h", own), Mean: num(41, 33, 50, "h", own), Crew: "Heron", Size: bare(4, "people", own), Wage: bare(42, "$/h", spec),
			Tasks: []bid.Task{{Task: "form", Share: 0.3, Hours: num(12.3, 9, 16, "h", own)}, {Task: "place", Share: 0.4, Hours: num(16.4, 12, 21, "h", own)}, {Task: "finish", Share: 0.3, Hours: bare(12.3, "h", practice)}}},
		Delay: bid.Delay{ClogChance: num(0.09, 0.05, 0.15, "chance", own), Clogs: 0.1, ClogMin: bare(2.4, "min", own), OtherMin: bare(14, "min", own), CrewCost: bare(46, "$", own)},
		Weather: bid.Weather{Month: 7, Pours: 51, Rate: spread(0.19, 0.1, 0.18, 0.25, 0.31, "lb/ft²/h", own), Share: num(0.41, 0.3, 0.54, "share", own), Limit: 0.2, Accy: 0.4,
			Caution: "At or over 0.2 lb/ft²/h take precautions against plastic cracking (ACI 305R); the estimate is good to about 40 % either way."},
		Reserve: bid.Reserve{Months: bare(24, "months", spec), Callbacks: num(0.08, 0.03, 0.17, "callbacks", own), EachCost: bare(310, "$", own), Cost: bare(25, "$", own)},
		Cost: bid.Cost{Total: spread(6480, 6010, 6450, 6740, 6990, "$", own), Items: []bid.CostItem{
			{Item: "concrete", Cost: spread(1920, 1850, 1900, 1980, 2050, "$", own)}, {Item: "labor", Cost: spread(1722, 1386, 1700, 1930, 2100, "$", own)},
			{Item: "pump", Cost: spread(650, 650, 650, 650, 650, "$", spec)}},
			Drivers: []bid.Driver{{Name: "labor-hours", AtP10: 33, AtP90: 50, Unit: "h", Low: 6114, Mid: 6450, High: 6828, Basis: own}, {Name: "yards used", AtP10: 9.7, AtP90: 10.8, Unit: "yd³", Low: 6390, Mid: 6450, High: 6610, Basis: own},
				{Name: "minutes of waiting", AtP10: 0, AtP90: 35, Unit: "min", Low: 6420, Mid: 6450, High: 6510, Basis: own}}},
		Price: bid.Price{Target: 0.25, Certainty: 0.8, Price: 8986.67, ExpectedMargin: 0.279, ChanceOfLoss: 0.002, ByCertainty: []bid.PricePair{{Certainty: 0.5, Price: 8600}, {Certainty: 0.8, Price: 8986.67}, {Certainty: 0.9, Price: 9320}}, PerSqft: 11.52, Basis: own},
		Settings: []bid.Setting{{Name: "concrete", Value: 172.5, Unit: "$/yd", Basis: spec}, {Name: "disposal of concrete left over", Value: 50, Unit: "$/yd", Basis: practice},
			{Name: "balance load called in unplanned", Value: 330, Unit: "$", Basis: practice}, {Name: "people in the crew", Value: 4, Unit: "people", Basis: own},
			{Name: "target margin", Value: 0.25, Unit: "share of the price", Basis: spec}, {Name: "certainty", Value: 0.8, Unit: "chance", Basis: practice}},
		Notes: []string{"The pump's price is the spec's own."}, Records: bid.RecordsUsed{Placements: 611, Volumes: 590, Hours: 604, Pumped: 288, Callbacks: 43}}
}
