package money

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
	"pourback/analysis/work"
	"pourback/ingest/invented"
	"pourback/ingest/record"
)

// bridgeKeys are the keys of the steps in JSON.
var bridgeKeys = []string{"price", "change_orders", "volume", "usage", "labor_rate", "labor_efficiency", "delay", "callback", "other"}

// A job by hand, at $165 a yd³ and $48 an hour. 10 yd³ drawn at 4 in and probed
// at 4.2: half a yard thicker, −$82.50. 11 planned, 12 delivered: one beyond, of
// which half is the thickness, so −$82.50 for usage. 30 minutes of four people
// are 2 hours, −$96. The callback cost $150. Bid $5,000 and spent $5,600 make
// −$600, so −$600 + 82.50 + 82.50 + 96 + 150 = −$189 is left.
func TestBridgeByHand(t *testing.T) {
	p := trial.Pour("1", "2025-05-01", "patio", "chute", 10, 11.5)
	p.MeasuredThicknessIn, p.PlannedYd = record.Some(4.2), record.Some(11.0)
	p.DelayMin, p.CrewSize = record.Some[int64](30), record.Some[int64](4)
	p.CallbackOn, p.CallbackKind, p.CallbackCost = trial.Day("2025-06-01"), "finish", trial.Cents(150_00)
	s := record.Set{Placements: []record.Placement{p}, Jobs: []record.Job{{JobNo: "1", ContractPrice: trial.Cents(8000_00), BidCost: trial.Cents(5000_00), ActualCost: trial.Cents(5600_00)}}}
	m := answer(t, s, "2025-12-31", setting.Options{}).Margin
	want := Effects{StepVolume: -82_50, StepUsage: -82_50, StepDelay: -96_00, StepCallback: -150_00, StepOther: -189_00}
	if m.Jobs[0].Effects != want {
		t.Errorf("effects %v, want %v", m.Jobs[0].Effects, want)
	}
	trial.Near(t, "against the bid", m.Months[0].AgainstBid.Value, -600, 0)
	if f := m.Months[0].Price; f.Value != 0 || !f.Known() || f.Why == nil {
		t.Errorf("price %+v: want exactly 0, and why", f)
	}
	if f := m.Months[0].LaborEfficiency; f.Value != 0 || !f.Known() || f.N != 0 || f.Why == nil {
		t.Errorf("hours of one placement are no standard: %+v", f)
	}
}

// Work added after signing, by hand: $8,200 signed and $450 added make a revenue
// of $8,650. The bid meant to keep 8,200 − 6,000 = $2,200 and the job kept
// 8,650 − 6,200 = $2,450: $450 by the change orders, and $200 lost to the cost.
func TestChangeOrdersByHand(t *testing.T) {
	s := record.Set{Placements: []record.Placement{trial.Pour("1", "2025-05-01", "patio", "chute", 10, 11.5), trial.Pour("2", "2025-06-01", "patio", "chute", 10, 11.5)},
		Jobs: []record.Job{{JobNo: "1", ContractPrice: trial.Cents(8200_00), ChangeOrders: trial.Cents(450_00), BidCost: trial.Cents(6000_00), ActualCost: trial.Cents(6200_00)},
			{JobNo: "2", ContractPrice: trial.Cents(1000_00), BidCost: trial.Cents(700_00), ActualCost: trial.Cents(700_00)}}}
	h := record.NewHistory(trial.Day("2025-12-31"), s)
	m := marginOf(t, h, setting.Options{}).Margin
	if want := (Effects{StepChangeOrders: 450_00, StepOther: -200_00}); m.Jobs[0].Effects != want {
		t.Errorf("effects %v, want %v", m.Jobs[0].Effects, want)
	}
	changed, without := &m.Months[0], &m.Months[1]
	if changed.Revenue != 8650_00 || changed.ChangeOrders.N != 1 || !changed.HasChangeOrders() {
		t.Errorf("revenue %v, change orders %+v", changed.Revenue, changed.ChangeOrders)
	}
	trial.Near(t, "against the bid", changed.AgainstBid.Value, 250, 0)
	trial.Near(t, "margin", changed.MarginPct.Value, 100*2450/8650.0, 1e-12)
	trial.Near(t, "bid margin", changed.BidMarginPct.Value, 100*2200/8200.0, 1e-12)
	if f := without.ChangeOrders; !f.Known() || f.Value != 0 || without.HasChangeOrders() {
		t.Errorf("without a change order: %+v, want exactly 0", f)
	}
	addsUp(t, h, m)
}

// Hours by hand: 10 expected, of which a tenth is the usual waiting, 12 worked
// of which 1 was waited: $48·(9 − 11) = −$96, and the hour of waiting −$48.
func TestLaborStepsByHand(t *testing.T) {
	d := deviation{standard: 10, worked: 12, waited: 1, delayed: 1, timed: true, delaysKnown: true}
	e, known := d.effects(setting.DefaultStandardRates(), 0.9, record.Money{}, -500_00)
	if want := (Effects{StepLaborEfficiency: -96_00, StepDelay: -48_00, StepOther: -356_00}); e != want {
		t.Errorf("effects %v, want %v", e, want)
	}
	if known[StepVolume] || known[StepUsage] || !known[StepLaborEfficiency] || !known[StepDelay] {
		t.Errorf("known %v", known)
	}
}

// The fast way to a standard hour and the whole posterior agree.
func TestStandardHoursAreThePosteriorMean(t *testing.T) {
	set, _, err := invented.Generate(invented.Options{Seed: 9, Jobs: 100, Until: trial.Day("2026-03-31")})
	if err != nil {
		t.Fatal(err)
	}
	m, err := work.FitHours(record.NewHistory(trial.Day("2026-03-31"), set), work.DefaultHoursPriors())
	if err != nil {
		t.Fatal(err)
	}
	for _, j := range []work.HoursJob{{AreaSqft: 400, ThicknessIn: 4}, {Use: "walkway", AreaSqft: 90, ThicknessIn: 6, Pumped: true, Reinforcement: "mesh+fiber", AirTempF: record.Some(97.0)}, {AreaSqft: 2000, ThicknessIn: 5, Reinforcement: "rebar"}} {
		law, err := m.Post.Average(m.Row(j, work.Learned))
		if err != nil {
			t.Fatal(err)
		}
		want := math.Exp(law.Mean() + m.Post.Variance(0)/2)
		trial.Near(t, "standard hours", m.StandardHours(j)/want, 1, 1e-12)
	}
}

// A callback after the data date is not known yet.
func TestBridgeKnowsOnlyWhatWasKnown(t *testing.T) {
	p := trial.Pour("1", "2025-05-01", "patio", "chute", 10, 11.5)
	p.CallbackOn, p.CallbackKind, p.CallbackCost = trial.Day("2025-06-01"), "finish", trial.Cents(150_00)
	s := func() record.Set {
		return record.Set{Placements: []record.Placement{p}, Jobs: []record.Job{{JobNo: "1", ContractPrice: trial.Cents(8000_00), BidCost: trial.Cents(5000_00), ActualCost: trial.Cents(5000_00)}}}
	}
	if got := answer(t, s(), "2025-05-31", setting.Options{}).Margin.Total.Callback.Value; got != 0 {
		t.Errorf("%v for a callback that has not come yet", got)
	}
	if got := answer(t, s(), "2025-06-01", setting.Options{}).Margin.Total.Callback.Value; got != -150 {
		t.Errorf("%v for a callback of $150", got)
	}
	p.CallbackOn = 0 // undated: it counts nowhere
	if got := answer(t, s(), "2025-06-01", setting.Options{}).Margin.Total.Callback; got.Value != 0 || got.N != 0 {
		t.Errorf("%+v for a callback without a date", got)
	}
}

// addsUp holds every bridge of m to the cent against revenue and cost, by sums
// of its own.
func addsUp(t interface{ Errorf(string, ...any) }, h *record.History, m *Margin) {
	type sums struct {
		gap       record.Cents
		jobs, bid int
	}
	byMonth, byYear, all := map[string]*sums{}, map[string]*sums{}, &sums{}
	last := map[string]record.Date{}
	for i := range h.Placements.Len() {
		p := h.Placements.At(i)
		last[p.JobNo()] = max(last[p.JobNo()], p.PlacedOn())
	}
	gaps := map[string]record.Cents{}
	for i := range h.Jobs.Len() {
		j := h.Jobs.At(i)
		if !j.ContractPrice().OK || !j.ActualCost().OK {
			continue
		}
		month := last[j.JobNo()].Month()
		for _, s := range []*sums{at(byMonth, month), at(byYear, month[:4]), all} {
			s.jobs++
			if j.BidCost().OK {
				s.bid++
				gaps[j.JobNo()] = (j.ContractPrice().V + j.ChangeOrders().V - j.ActualCost().V) - (j.ContractPrice().V - j.BidCost().V)
				s.gap += gaps[j.JobNo()]
			}
		}
	}
	for _, j := range m.Jobs {
		if j.BidCost.OK && j.Effects.Sum() != gaps[j.JobNo] {
			t.Errorf("job %s: steps add up to %s, not %s", j.JobNo, j.Effects.Sum(), gaps[j.JobNo])
		}
	}
	check := func(name string, e *Earned, s *sums, whole bool) {
		if s.bid == 0 || whole && s.bid < s.jobs {
			if e.Price.Known() || e.Price.Why == nil {
				t.Errorf("%s: a bridge without all bids: %+v", name, e.Price)
			}
			return
		}
		var sum record.Cents
		for _, f := range e.Bridge.steps() {
			c := math.Round(f.Value * 100)
			if !f.Known() || record.Cents(c).Dollars() != f.Value {
				t.Errorf("%s: %+v is no whole number of cents", name, f)
			}
			sum += record.Cents(c)
		}
		if sum != s.gap {
			t.Errorf("%s: steps add up to %s, not %s", name, sum, s.gap)
		}
	}
	for i := range m.Months {
		check(m.Months[i].Month, &m.Months[i].Earned, at(byMonth, m.Months[i].Month), true)
	}
	for i := range m.Years {
		check(m.Years[i].Year, &m.Years[i].Earned, at(byYear, m.Years[i].Year), false)
	}
	check("all", &m.Total.Earned, all, false)
	if len(m.Months) != len(byMonth) || len(m.Years) != len(byYear) {
		t.Errorf("%d months and %d years, want %d and %d", len(m.Months), len(m.Years), len(byMonth), len(byYear))
	}
}

func at[V any](m map[string]*V, k string) *V {
	if m[k] == nil {
		m[k] = new(V)
	}
	return m[k]
}

func TestBridgeAddsUpToTheCent(t *testing.T) {
	for seed := range uint64(30) {
		set, _, err := invented.Generate(invented.Options{Seed: seed + 1, Until: trial.Day("2026-03-31")})
		if err != nil {
			t.Fatal(err)
		}
		h := record.NewHistory(trial.Day("2026-03-31"), set)
		opt, _ := setting.Options{}.Complete()
		model, err := work.FitHours(h, work.DefaultHoursPriors())
		if err != nil {
			t.Fatal(err)
		}
		addsUp(t, h, Of(h, opt, model))
	}
}

// The same through JSON, as anybody outside would check it.
func TestBridgeAddsUpInJSON(t *testing.T) {
	set, _, err := invented.Generate(invented.Options{Seed: 7, Until: trial.Day("2026-03-31")})
	if err != nil {
		t.Fatal(err)
	}
	out, err := json.Marshal(answer(t, set, "2026-03-31", setting.Options{Topics: []string{"margin"}}))
	if err != nil {
		t.Fatal(err)
	}
	var read struct {
		Margin struct{ Months []map[string]any }
	}
	if err := json.Unmarshal(out, &read); err != nil || len(read.Margin.Months) < 30 {
		t.Fatalf("%d months %v", len(read.Margin.Months), err)
	}
	for _, m := range read.Margin.Months {
		value := func(key string) float64 { return m[key].(map[string]any)["value"].(float64) }
		sum := 0.0
		for _, key := range bridgeKeys {
			sum += value(key)
		}
		revenue := m["revenue"].(float64)
		meant := (revenue - value("change_orders")) * value("bid_margin_pct") / 100 // of the prices as signed
		if want := revenue - m["cost"].(float64) - meant; math.Abs(sum-want) > 0.005 {
			t.Errorf("%v: steps add up to %v, not %v", m["month"], sum, want)
		}
	}
}

// Jobs of every hostile make: pieces missing, prices of nothing, thicknesses of
// next to nothing, amounts beyond any slab.
func TestBridgeAddsUpForHostileJobs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		money := rapid.Custom(func(t *rapid.T) record.Money {
			c := rapid.SampledFrom([]int64{0, 1, 99, 123_45, 5000_00, 1_000_000_00, 1e13}).Draw(t, "cents")
			return record.Money{V: record.Cents(c), OK: rapid.IntRange(0, 4).Draw(t, "there") > 0}
		})
		number := func(label string, values ...float64) record.Number {
			return record.Number{V: rapid.SampledFrom(values).Draw(t, label), OK: rapid.IntRange(0, 3).Draw(t, "has "+label) > 0}
		}
		var s record.Set
		for j := range rapid.IntRange(0, 12).Draw(t, "jobs") {
			no := string(rune('a' + j))
			s.Jobs = append(s.Jobs, record.Job{JobNo: no, ContractPrice: money.Draw(t, "price"), ChangeOrders: money.Draw(t, "change orders"), BidCost: money.Draw(t, "bid"), ActualCost: money.Draw(t, "cost"),
				WonFrom: rapid.SampledFrom([]string{"", "a", "b", "z"}).Draw(t, "won from")})
			for k := range rapid.IntRange(1, 3).Draw(t, "placements") {
				p := record.Placement{JobNo: no, Placement: string(rune('A' + k)), Use: "patio", PlacedOn: trial.Day("2024-11-15") + record.Date(rapid.IntRange(0, 400).Draw(t, "day"))}
				p.AreaSqft, p.ThicknessIn = number("area", 1e-9, 1, 400, 1e6), number("thickness", 1e-300, 0.01, 4, 24)
				p.MeasuredThicknessIn, p.NeatYd = number("probed", 1e-9, 4.1, 24), number("neat", 0.5, 5, 20000)
				p.PlannedYd, p.DeliveredYd, p.LeftoverYd = number("planned", 0.5, 5.5, 20000), number("delivered", 0.25, 6, 20000), number("leftover", 0, 0.5)
				p.LaborHours = number("hours", 0, 0.25, 30, 100000)
				p.CrewSize = record.Count{V: rapid.SampledFrom([]int64{1, 4, 200}).Draw(t, "crew"), OK: rapid.Bool().Draw(t, "has crew")}
				p.DelayMin = record.Count{V: rapid.SampledFrom([]int64{0, 7, 20000}).Draw(t, "delay"), OK: rapid.Bool().Draw(t, "has delay")}
				if rapid.Bool().Draw(t, "callback") {
					p.CallbackOn, p.CallbackKind, p.CallbackCost = p.PlacedOn+30, "crack", money.Draw(t, "callback cost")
				}
				s.Placements = append(s.Placements, p)
			}
		}
		h := record.NewHistory(trial.Day("2025-12-31"), s)
		f := marginOf(t, h, setting.Options{})
		addsUp(t, h, f.Margin)
		if out, err := json.Marshal(f); err != nil {
			t.Errorf("%s %v", out, err)
		}
	})
}

// Dearer concrete moves volume and usage by as much, and other the other way;
// nothing else moves. Doubling is exact to the cent a job may round.
func TestBridgeScalesWithTheRates(t *testing.T) {
	set, _, err := invented.Generate(invented.Options{Seed: 3, Jobs: 60, Until: trial.Day("2026-03-31")})
	if err != nil {
		t.Fatal(err)
	}
	h := record.NewHistory(trial.Day("2026-03-31"), set)
	at := func(r setting.StandardRates) *Margin {
		return marginOf(t, h, setting.Options{Rates: r}).Margin
	}
	one, two := at(setting.StandardRates{}), at(setting.StandardRates{ConcretePerYd: 330_00, LaborPerHour: 96_00})
	for i, j := range one.Jobs {
		for _, s := range []Step{StepVolume, StepUsage, StepLaborEfficiency, StepDelay} {
			if d := two.Jobs[i].Effects[s] - 2*j.Effects[s]; d > 1 || d < -1 {
				t.Errorf("job %s: step %d goes from %s to %s at double the rates", j.JobNo, s, j.Effects[s], two.Jobs[i].Effects[s])
			}
		}
		if two.Jobs[i].Effects[StepCallback] != j.Effects[StepCallback] || two.Jobs[i].Effects.Sum() != j.Effects.Sum() {
			t.Errorf("job %s: the rates move what they should not", j.JobNo)
		}
	}
}

func TestMarginDoesNotHangOnTheOrderOfRows(t *testing.T) {
	generate := func() record.Set {
		set, _, err := invented.Generate(invented.Options{Seed: 5, Jobs: 80, Until: trial.Day("2026-03-31")})
		if err != nil {
			t.Fatal(err)
		}
		return set
	}
	a, b := generate(), generate()
	r := rand.New(rand.NewPCG(1, 1))
	r.Shuffle(len(b.Jobs), func(i, j int) { b.Jobs[i], b.Jobs[j] = b.Jobs[j], b.Jobs[i] })
	r.Shuffle(len(b.Placements), func(i, j int) { b.Placements[i], b.Placements[j] = b.Placements[j], b.Placements[i] })
	r.Shuffle(len(b.Costs), func(i, j int) { b.Costs[i], b.Costs[j] = b.Costs[j], b.Costs[i] })
	one, _ := json.Marshal(answer(t, a, "2026-03-31", setting.Options{Topics: []string{"margin"}}))
	two, _ := json.Marshal(answer(t, b, "2026-03-31", setting.Options{Topics: []string{"margin"}}))
	if !slices.Equal(one, two) {
		t.Error("shuffled rows give other figures")
	}
}
