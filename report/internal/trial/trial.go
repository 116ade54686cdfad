package trial

import (
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"pourback/analysis"
	"pourback/analysis/bid"
	"pourback/analysis/clock"
	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/analysis/shape"
	"pourback/analysis/steel"
	"pourback/ingest/invented"
	"pourback/ingest/record"
)

// AsOf is the data date of the tests.
var AsOf = record.DateOf(2026, 10, 31)

// Pours are n made-up placements in the flat form, with some of everything
// that pages show and of everything that may be missing.
func Pours(n int) record.Set {
	dice := rand.New(rand.NewPCG(7, uint64(n)))
	pick := func(words ...string) string { return words[dice.IntN(len(words))] }
	var s record.Set
	for i := range n {
		p := record.Placement{JobNo: fmt.Sprintf("J-%05d", i/2), Placement: string(rune('A' + i%2)),
			PlacedOn: AsOf - record.Date(dice.IntN(1200)), Use: pick("driveway", "driveway", "walkway", "patio", "shed slab"),
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
			p.CallbackOn, p.CallbackKind = min(AsOf, p.PlacedOn+record.Date(30+dice.IntN(500))), "crack"
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

// Surveys are n slabs of which only visits are known: no volumes, no joint
// spacing, first looked at years after the pour.
func Surveys(n int) record.Set {
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

// FactorsOf answers every question of the records.
func FactorsOf(t testing.TB, s record.Set, opt setting.Options) *analysis.Factors {
	t.Helper()
	f, err := analysis.Run(record.NewHistory(AsOf, s), opt)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// Fig is a figure with an interval, or without one where low is high.
func Fig(t testing.TB, value, low, high float64, n int) figure.Figure {
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

// MadeUpBid is a bid with something in every part of it. Its numbers are made
// up, and agree with one another only as far as a reader would look.
func MadeUpBid(t testing.TB) *bid.Bid {
	num := func(v, low, high float64, unit string, b bid.Basis) bid.Number {
		return bid.Number{Figure: Fig(t, v, low, high, b.N), Unit: unit, Basis: b}
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
	joints := bid.JointPlan{Drawn: true, Shape: []bid.PlanPoint{{X: 0, Y: 0}, {X: 40, Y: 0}, {X: 40, Y: 19.5}, {X: 0, Y: 19.5}},
		Isolation: []bid.PlanCut{{X1: 40, Y1: 19.5, X2: 0, Y2: 19.5}}, Bars: []bid.PlanCut{{X1: 1, Y1: 2, X2: 2, Y2: 1}}, Panels: panels, Cuts: cuts, CutFt: bare(98.5, "ft", fromOnPaper), LongestFt: 10, WorstRatio: 1.03, MaxFt: bare(10, "ft", fromSpec),
		DepthIn: num(1, 1, 1.3333, "in", fromGuide), EarlyIn: num(1, 1, 1.125, "in", fromGuide), Saw: bid.Sawing{When: bid.SawWarm, From: 4, To: 12},
		Guide: bid.Guidance{ThicknessIn: 4, FromFt: 8, ToFt: 12}, Own: num(0.021, 0.006, 0.07, "share", fromOwn),
		Slabs: &bid.OwnSlabs{N: 37, Reinforcement: "rebar", FromFt: 8, ToFt: 10, Years: 70, Callbacks: 2}}
	part := bid.Part{Name: "A", Use: "driveway", Day: 1, Method: "pump", AreaSqft: 780, ThicknessIn: 4, NeatYd: bare(9.63, "yd³", fromOnPaper),
		Pieces: []bid.Piece{{Piece: shape.Piece{Kind: shape.OfRectangle, Sizes: []float64{40, 19.5, 4}, Ft3: 260}, Kind: shape.OfRectangle, Yd: 9.63}},
		UsedYd: spread(10.2, 9.7, 10.1, 10.5, 10.8, "yd³", fromOwn), Hours: num(41, 33, 50, "h", fromOwn), Joints: joints,
		Settled: steel.NotSettled,
		Steel: []bid.SteelWay{
			{Way: "none", Unit: "", Material: bare(0, "$", fromOnPaper), Hours: bare(0, "h", fromOnPaper), Cost: bare(0, "$", fromOnPaper)},
			{Way: "mesh", Quantity: 18, Unit: "sheets", Rolls: 2, Chairs: 49, Risk: num(0.021, 0.006, 0.07, "chance", fromOwn), Takeoff: bid.Takeoff{SheetWidthFt: 5, SheetLengthFt: 10, WireSpacingIn: 6, Wire: 1.4, LapIn: 6, Waste: 0.05}, Material: bare(351, "$", fromPractice), Hours: bare(5.2, "h", fromPractice), Cost: bare(560, "$", fromPractice)},
			{Way: "rebar", Chosen: true, Quantity: 1560, Unit: "ft", Sticks: 82, Chairs: 49, Ties: 262, Risk: num(0.019, 0.005, 0.06, "chance", fromOwn), Takeoff: bid.Takeoff{Grid: bid.Grid{Bar: 3, SpacingIn: 18}, Lines: 41, Laps: 27, LapDiameters: 40, StockFt: 20, Waste: 0.05}, Material: bare(612, "$", fromPractice), Hours: bare(9.8, "h", fromPractice), Cost: bare(1002, "$", fromPractice)}}}
	order := bid.Order{Yd: 10.75, Allowance: 0.116, ChanceShort: bare(0.08, "chance", fromOwn), LeftoverYd: 0.55, Cost: 1920, Loads: []float64{10, 0.75}, ShortFee: 97}
	return &bid.Bid{Name: "Lot 14, Mesquite Lane", JobNo: "SF-1043", AsOf: "2026-03-31", On: "2026-07", Month: 7, Draws: 10000,
		Spec:     bid.Spec{Name: "Lot 14, Mesquite Lane", Placements: []bid.Placement{{Use: "driveway", Method: "pump", JointCut: "saw"}}},
		Cautions: []bid.Problem{{Placement: "A", Field: "bar", Value: "#3", What: bid.IdleBar}},
		NeatYd:   bare(9.63, "yd³", fromOnPaper), AreaSqft: bare(780, "ft²", fromOnPaper), Placements: []bid.Part{part},
		Days: []bid.Day{{Day: 1, Placements: []string{"A"}, NeatYd: 9.63, UsedYd: part.UsedYd, Order: order,
			Hold:         bid.Hold{Worth: true, FirstYd: 9, Loads: []float64{9}, HoldYd: 1.5, CallAtYd: 6, CallAt: 0.6, Short: 0.03, Saves: 91, WaitMin: 33},
			RunningShort: bid.RunningShort{Cost: 494, Fee: 100, Crew: 144, ColdJoint: 250, WaitMin: 45},
			Safer:        []bid.SaferOrder{{Yd: 11, ChanceShort: 0.04, LeftoverYd: 0.8, CostsMore: 22}, {Yd: 11.25, ChanceShort: 0.02, LeftoverYd: 1.04, CostsMore: 60}},
			Asked:        []bid.Mix{madeUpMix(bare, num)}, Clock: madeUpClock()}},
		Labor: bid.Labor{Hours: spread(41, 33, 40, 46, 50, "h", fromOwn), Mean: num(41, 33, 50, "h", fromOwn), Crew: "Heron", Size: bare(4, "people", fromOwn), Wage: bare(42, "$/h", fromSpec),
			Tasks: []bid.Task{{Task: "form", Share: 0.3, Hours: num(12.3, 9, 16, "h", fromOwn)}, {Task: "place", Share: 0.4, Hours: num(16.4, 12, 21, "h", fromOwn)}, {Task: "finish", Share: 0.3, Hours: bare(12.3, "h", fromPractice)}}},
		Delay:   bid.Delay{ClogChance: num(0.09, 0.05, 0.15, "chance", fromOwn), Clogs: 0.1, ClogMin: bare(2.4, "min", fromOwn), OtherMin: bare(14, "min", fromOwn), CrewCost: bare(46, "$", fromOwn)},
		Weather: bid.Weather{Month: 7, Pours: 51, Rate: spread(0.19, 0.1, 0.18, 0.25, 0.31, "lb/ft²/h", fromOwn), Share: num(0.41, 0.3, 0.54, "share", fromOwn), Limit: 0.2, Accy: 0.4},
		Reserve: bid.Reserve{Months: bare(24, "months", fromSpec), Callbacks: num(0.08, 0.03, 0.17, "callbacks", fromOwn), EachCost: bare(310, "$", fromOwn), Cost: bare(25, "$", fromOwn)},
		Cost: bid.Cost{Overhead: bare(648, "$", fromSpec), Contingency: bare(0, "$", fromPractice), Loaded: spread(7128, 6611, 7095, 7414, 7689, "$", fromOwn),
			NotIncluded: []bid.CostName{bid.CostExcavation, bid.CostPermits}, NoneNeeded: []bid.CostName{bid.CostBase}, Total: spread(6480, 6010, 6450, 6740, 6990, "$", fromOwn), Items: []bid.CostItem{
				{Item: "concrete", Cost: spread(1920, 1850, 1900, 1980, 2050, "$", fromOwn)}, {Item: "labor", Cost: spread(1722, 1386, 1700, 1930, 2100, "$", fromOwn)},
				{Item: "pump", Cost: spread(650, 650, 650, 650, 650, "$", fromSpec)}},
			Drivers: []bid.Driver{{Name: bid.UnsureHours, AtP10: 33, AtP90: 50, Unit: "h", Low: 6114, Mid: 6450, High: 6828, Basis: fromOwn}, {Name: bid.UnsureYards, AtP10: 9.7, AtP90: 10.8, Unit: "yd³", Low: 6390, Mid: 6450, High: 6610, Basis: fromOwn},
				{Name: bid.UnsureDelays, AtP10: 0, AtP90: 35, Unit: "min", Low: 6420, Mid: 6450, High: 6510, Basis: fromOwn}}},
		Price: bid.Price{Target: 0.25, Certainty: 0.8, Price: 8986.67, Asked: 9000, ExpectedMargin: 0.279, ChanceOfLoss: 0.002, ByCertainty: []bid.PricePair{{Certainty: 0.5, Price: 8600}, {Certainty: 0.8, Price: 8986.67}, {Certainty: 0.9, Price: 9320}}, PerSqft: 11.52, Basis: fromOwn},
		Winning: bid.Winning{Won: 16, Lost: 14, Chance: between(0.6, 0.4, 0.8), Tells: true, Best: 1, Prices: []bid.WinPrice{
			{Price: 8000, Markup: 0.23, Margin: 1520, Chance: between(0.8, 0.6, 0.9), Expected: 1216}, {Price: 8986.67, Markup: 0.39, Margin: 2507, Chance: between(0.6, 0.4, 0.8), Expected: 1504, Own: true}}},
		Settings: []bid.Setting{{Name: bid.SetConcrete, Value: 172.5, Unit: "$/yd", Basis: fromSpec}, {Name: bid.SetDisposal, Value: 50, Unit: "$/yd", Basis: fromPractice},
			{Name: bid.SetExtraFee, Value: 100, Unit: "$", Basis: fromPractice}, {Name: bid.SetCrew, Value: 4, Unit: "people", Basis: fromOwn},
			{Name: bid.SetTarget, Value: 0.25, Unit: "share of the price", Basis: fromSpec}, {Name: bid.SetCertainty, Value: 0.8, Unit: "chance", Basis: fromPractice}},
		Notes: []bid.Note{{Kind: bid.NoteUnpriced, Name: "equipment", N: 430, Each: 112}}, Records: bid.RecordsUsed{Placements: 611, Volumes: 590, Hours: 604, Pumped: 288, AllPumped: 300, Callbacks: 43}}
}

// madeUpMix asks for something of everything.
func madeUpMix(bare func(float64, string, bid.Basis) bid.Number, num func(v, low, high float64, unit string, b bid.Basis) bid.Number) bid.Mix {
	return bid.Mix{Placements: []string{"A"}, Yd: 9.63, Name: "40-P7", PSI: bare(4000, "psi", fromSpec), AggregateIn: bare(0.375, "in", fromPractice), SlumpIn: num(4.5, 4, 5, "in", fromPractice),
		AirPct: bare(6, "%", fromSpec), Pumped: true, FiberLbYd: bare(1.5, "lb/yd", fromPractice), Admixtures: []bid.Admixture{{Word: "retarder", Dose: "3 oz/cwt"}}, Freezes: true}
}

// madeUpClock is a hot day on which a load is held back.
func madeUpClock() *clock.Day {
	return clock.Make(clock.Plan{Day: AsOf.Time().AddDate(0, 3, 14), Place: time.UTC, StartMin: 6 * 60, Loads: []float64{9}, Held: &clock.Held{Yd: 1.5, CallAtYd: 6, LeadMin: 45}, EdgeMin: 60, PrimeYd: 0.25,
		Going: clock.Going{PlaceMinPerYd: 4, HaulMin: 25, LoadMin: 10, WashMin: 10, SpacingMin: 15, LimitMin: 90, PrimeMin: 10},
		Slabs: []clock.Slab{{Name: "A", NeatYd: 9.63, Saw: true, Early: true}}, Hours: clock.DefaultStageHours(),
		Air: clock.Weather{From: clock.FromForecast, Hours: []clock.Reading{{Min: 6 * 60, AirF: 84, HumidityPct: 40, WindMph: 8}, {Min: 12 * 60, AirF: 107, HumidityPct: 12, WindMph: 16}}}})
}

// OnePlacement is a company's first record.
func OnePlacement() record.Set {
	return record.Set{
		Jobs: []record.Job{{JobNo: "SF-1", ContractPrice: record.Some(record.Cents(2930_00)), BidCost: record.Some(record.Cents(2135_00)), ActualCost: record.Some(record.Cents(2480_00))}},
		Placements: []record.Placement{{JobNo: "SF-1", Placement: "A", PlacedOn: AsOf - 40, Use: "driveway", Method: "pump", PumpOutfit: "P1", Crew: "Heron",
			CrewSize: record.Some(int64(4)), AreaSqft: record.Some(400.0), ThicknessIn: record.Some(4.0), NeatYd: record.Some(4.94), PlannedYd: record.Some(5.5), DeliveredYd: record.Some(5.75), LeftoverYd: record.Some(0.25),
			LaborHours: record.Some(28.0), DelayMin: record.Some(int64(20)), Clogs: record.Some(int64(1)), ClogMin: record.Some(int64(20)), Reinforcement: "mesh", JointSpacingFt: record.Some(10.0),
			AirTempF: record.Some(88.0), ConcreteTempF: record.Some(84.0), HumidityPct: record.Some(30.0), WindMPH: record.Some(9.0)}}}
}

// HostileRecords bear hostile text in every column of text of a job log.
func HostileRecords() record.Set {
	s := Pours(400)
	for i := range s.Placements {
		p, text := &s.Placements[i], Hostile[i%len(Hostile)]
		p.Use, p.Crew, p.PumpOutfit, p.Mix, p.Reinforcement, p.Base, p.Finish = text, text, text, text, text, text, text
		p.Bar, p.Curing, p.JointCut = text, text, text
		if p.Placement == "B" {
			p.Placement = text
		}
		p.HumidityPct = record.Some(0.0) // something to check
	}
	for i := range s.Jobs {
		s.Jobs[i].Site, s.Jobs[i].Note = Hostile[i%len(Hostile)], Hostile[i%len(Hostile)]
	}
	return s
}

// HostileEverywhere bears hostile text in a third of the values of every column
// of text of all seven tables, so that the rest still makes every page.
func HostileEverywhere(t testing.TB) record.Set {
	t.Helper()
	s, _, err := invented.Generate(invented.Options{Jobs: 250, Seed: 2, Until: AsOf})
	if err != nil {
		t.Fatal(err)
	}
	texts := append([]string{"</script><script>window.pourbackRan = 1</script>", "<svg onload='window.pourbackRan=1'>", strings.Repeat("W", 10_000)}, Hostile...)
	keys, row := map[string]string{}, 0
	spoil := func(r record.Record) {
		row++
		fields := r.Fields()
		for k, c := range r.Table().Columns {
			text, ok := fields[k].(*string)
			switch {
			case !ok || *text == "":
			case c.Name == "job_no" || c.Name == "won_from":
				*text = spoiledKey(keys, texts, *text)
			case (row+k)%3 == 0:
				*text = texts[(7*row+k)%len(texts)]
			}
		}
	}
	each(s.Jobs, func(j *record.Job) { spoil(j) })
	each(s.Placements, func(p *record.Placement) { spoil(p) })
	each(s.Loads, func(l *record.Load) { spoil(l) })
	each(s.Delays, func(d *record.Delay) { spoil(d) })
	each(s.Labor, func(l *record.Labor) { spoil(l) })
	each(s.Costs, func(c *record.Cost) { spoil(c) })
	each(s.Visits, func(v *record.Visit) { spoil(v) })
	return s
}

func each[T any](rows []T, do func(*T)) {
	for i := range rows {
		do(&rows[i])
	}
}

// spoiledKey gives every third job a hostile number, the same wherever it
// stands.
func spoiledKey(keys map[string]string, texts []string, jobNo string) string {
	spoiled, ok := keys[jobNo]
	if !ok {
		spoiled = jobNo
		if n := len(keys); n%3 == 0 {
			spoiled = texts[n%len(texts)] + jobNo
		}
		keys[jobNo] = spoiled
	}
	return spoiled
}

// Company is the invented company's records to the data date of the tests.
func Company(t testing.TB) record.Set {
	t.Helper()
	s, _, err := invented.Generate(invented.Options{Seed: 1, Until: AsOf})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func CompanyFactors(t testing.TB) *analysis.Factors {
	t.Helper()
	f, err := Invention()
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// Histories are answers to histories of all sizes, worked out once for all
// tests: not to be changed.
func Histories(t testing.TB) map[string]*analysis.Factors {
	t.Helper()
	answered.Do(func() {
		answered.all = map[string]*analysis.Factors{
			"empty":   FactorsOf(t, record.Set{}, setting.Options{}),
			"one":     FactorsOf(t, Pours(1), setting.Options{}),
			"three":   FactorsOf(t, Pours(3), setting.Options{}),
			"pours":   FactorsOf(t, Pours(400), setting.Options{}),
			"surveys": FactorsOf(t, Surveys(60), setting.Options{Event: setting.EventSeen}),
			"company": FactorsOf(t, Company(t), setting.Options{Level: 0.95}),
		}
	})
	return maps.Clone(answered.all)
}

var NoNumber = regexp.MustCompile(`NaN|Inf\b|%!|<nil>|\b-0\b`)

// SomeBids are kept bids that stand everywhere, called by a name, on a job.
func SomeBids(name, job string) *bid.Record {
	line := func(what bid.Quantity, predicted, low, high float64, actual record.Number) bid.Line {
		return bid.Line{What: what, Predicted: predicted, Low: low, High: high, Actual: actual, Held: actual.OK && low <= actual.V && actual.V <= high}
	}
	return &bid.Record{
		Outcomes: []bid.Outcome{
			{ID: 1, MadeOn: AsOf - 90, Name: name, JobNo: job, Fate: bid.Won, FateOn: AsOf - 80, Stands: bid.StandsWon, Version: 1, Days: 90, Asked: 9000, Counted: true, Lines: []bid.Line{
				line("hours", 41, 33, 50, record.Some(44.0)), line("yards", 10.2, 9.7, 10.8, record.Some(11.5)),
				line("cost", 6480, 6010, 6990, record.Some(6400.0)), line("margin", 0.28, 0.22, 0.33, record.Number{})}},
			{ID: 2, MadeOn: AsOf - 9, Name: name, JobNo: job, Why: bid.NoRecords, Stands: bid.StandsOpen, Version: 2, Revises: 3, Days: 9, Asked: 4325},
			{ID: 3, MadeOn: AsOf - 20, Name: name, JobNo: job, Why: bid.Revised, Stands: bid.StandsReplaced, Version: 1, ReplacedBy: 2, Days: 20, Asked: 4100},
			{ID: 4, MadeOn: AsOf - 30, Name: name, Fate: bid.Void, Why: bid.Voided, Stands: bid.StandsVoid, Version: 1, Days: 30, Asked: 120}},
		Compared: 1, Begun: true,
		Held: []bid.Held{{What: "hours", Share: between(0.85, 0.6, 0.95), Verdict: bid.AsItShouldBe}, {What: "yards", Share: between(0.4, 0.2, 0.6), Verdict: bid.TooNarrow}, {What: "cost", Share: between(0.97, 0.9, 0.99), Verdict: bid.TooWide}}}
}

// Visited answers what happens after the pour.
func Visited(t testing.TB, s record.Set) *analysis.Factors {
	t.Helper()
	return FactorsOf(t, s, setting.Options{Topics: []string{setting.VisitsTopic}})
}

// Inf is an open end.
var Inf = math.Inf(1)

func Bounded(value, low, high float64) figure.Figure {
	return figure.Figure{Value: value, Low: low, High: high, Bounded: true}
}

// Hostile texts are what a record file may hold.
var Hostile = []string{
	`</script><script>alert(1)</script>`, `__f__alert(1)__f__`, `$fn:errorBar`, `=HYPERLINK("http://example.com")`, `"><img src=x onerror=alert(1)>`,
	"\u202Egnp.exe", "\u202aLR\u202c\u2066i\u2069", "حفارة", "עגורן 3", "\x1b[31mred\x1b[0m", "a\x00b\u0007", "two\nlines\ttab", "{{.Answer}}", "{a|rich} {b} {c0} $& $1",
	strings.Repeat("W", 500), strings.Repeat("👷🏽", 60), "&lt;b&gt; &amp;", "'; DROP TABLE jobs; --", "\xff\xfe broken", "\u2028\u2029",
}

var (
	fromOwn      = bid.Basis{From: bid.FromRecords, N: 37, Of: bid.OfPlacements}
	fromPractice = bid.Basis{From: bid.FromPractice, By: bid.ByUsualSetting}
	fromGuide    = bid.Basis{From: bid.FromPractice, By: bid.ByCutDepth}
	fromSpec     = bid.Basis{From: bid.FromSpec}
	fromOnPaper  = bid.Basis{From: bid.FromDrawing}
)

// Invention is what the invented company's records say, worked out once for all
// tests: not to be changed.
var Invention = sync.OnceValues(func() (*analysis.Factors, error) {
	s, _, err := invented.Generate(invented.Options{Seed: 1, Until: AsOf})
	if err != nil {
		return nil, err
	}
	return analysis.Run(record.NewHistory(AsOf, s), setting.Options{Visits: setting.VisitOptions{Asked: true, NoSites: true}})
})

// answered are the answers about several histories, worked out once.
var answered struct {
	sync.Once
	all map[string]*analysis.Factors
}

func between(v, low, high float64) figure.Figure {
	return figure.Figure{Value: v, Low: low, High: high, Bounded: true, OK: true}
}
