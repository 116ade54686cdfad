package steel

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"

	"pgregory.net/rapid"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/internal/reftest"
	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
	"pourback/analysis/stat"
	"pourback/analysis/stat/decide"
	"pourback/analysis/stat/interval"
	"pourback/analysis/stat/survival"
	"pourback/ingest/invented"
	"pourback/ingest/record"
)

func steelOf(t *testing.T, s record.Set, opt setting.Options) *Reinforcement {
	t.Helper()
	opt.Topics = []string{"reinforcement"}
	return answer(t, s, "2025-12-31", opt).Reinforcement
}

// refused holds that every figure of the comparison is missing, since the two
// cannot be compared for these reasons.
func refused(t *testing.T, r *Reinforcement, reasons func(cracks.Incomparable) bool) {
	t.Helper()
	m := r.MeshVsRebar
	held := func(why figure.Reason) bool {
		w, incomparable := why.(cracks.Incomparable)
		return incomparable && w.Of == "mesh" && w.Against == "rebar" && w.N == [2]int{m.Mesh, m.Rebar} && reasons(w)
	}
	for name, f := range map[string]figure.Figure{"raw": m.RawDifference, "mesh": m.AdjustedMesh, "rebar": m.AdjustedRebar, "difference": m.AdjustedDifference,
		"ratio": m.HazardRatio, "probability": m.MeshCheaper, "placements": m.PlacementsNeeded} {
		if f.Known() || !held(f.Why) {
			t.Errorf("%s is %v, %+v: want it refused for other reasons", name, f.Value, f.Why)
		}
	}
	if m.Verdict != CannotTell || !held(r.Why) {
		t.Errorf("verdict %q, for %+v", m.Verdict, r.Why)
	}
	for _, f := range m.figures() {
		if f != &m.ExtraRebar && f.Known() {
			t.Errorf("money is shown: %+v", *f)
		}
	}
}

// notRecorded holds that the first obstacle is what so many slabs do not record.
func notRecorded(in cracks.Likeness, unknown int) func(cracks.Incomparable) bool {
	return func(w cracks.Incomparable) bool {
		return len(w.By) > 0 && w.By[0] == cracks.Obstacle{In: in, Unknown: unknown}
	}
}

// apart holds that the only obstacle is what the two were hardly ever alike in,
// mesh having so much more of it on average.
func apart(in cracks.Likeness, more float64) func(cracks.Incomparable) bool {
	return func(w cracks.Incomparable) bool {
		return len(w.By) == 1 && w.By[0].In == in && w.By[0].Unknown == 0 && math.Abs(w.By[0].Mean[0]-w.By[0].Mean[1]-more) < 1
	}
}

// Counts of the Federal Highway Administration's long-term pavement sections,
// latest visit (public domain): plain 166 of 329 cracked, reinforced 78 of 110.
// The naive reading is a risk ratio of 1.4054 against steel; those pavements had
// much longer joints, and spacing is unknown here, so the answer is a refusal.
func TestHighwaySectionsAreRefused(t *testing.T) {
	var s record.Set
	add := func(steel string, n, cracked int) {
		for i := range n {
			job := fmt.Sprintf("%s-%03d", steel, i)
			s.Placements = append(s.Placements, record.Placement{JobNo: job, Placement: "A", PlacedOn: trial.Day("1980-06-01"), Use: "other",
				AreaSqft: record.Some(6000.0), ThicknessIn: record.Some(9.0), Reinforcement: steel})
			finding := "sound"
			if i < cracked {
				finding = "crack"
			}
			s.Visits = append(s.Visits, record.Visit{JobNo: job, Placement: "A", SeenOn: trial.Day("1995-06-01"), Why: "planned", Finding: finding})
		}
	}
	add("none", 329, 166)
	add("rebar", 110, 78)
	f := answer(t, s, "2025-12-31", setting.Options{Event: setting.EventSeen})
	plain, steel := f.Cracks.Reinforcements[0], f.Cracks.Reinforcements[1]
	ratio, err := interval.RiskRatio(interval.TwoProportions{X1: steel.Callbacks, N1: steel.Placements, X2: plain.Callbacks, N2: plain.Placements}, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	trial.Near(t, "naive risk ratio", ratio.Value, 1.4054, 5e-5)
	r := f.Reinforcement
	refused(t, r, func(w cracks.Incomparable) bool {
		return w.N == [2]int{0, 110} && notRecorded(cracks.InSpacing, 110)(w)
	})
	if len(r.InShort) != 1 || r.InShort[0].Of != "rebar" || r.InShort[0].Against != "none" {
		t.Fatalf("in short %+v", r.InShort)
	}
	for _, figure := range []figure.Figure{r.InShort[0].RawDifference, r.InShort[0].Ratio} {
		if why, ok := figure.Why.(cracks.Incomparable); !ok || why.N != [2]int{110, 329} || why.By[0] != (cracks.Obstacle{In: cracks.InSpacing, Unknown: 439}) {
			t.Errorf("%+v", figure)
		}
	}
	for _, c := range f.Cracks.Cox {
		if c.Term.What == cracks.Made {
			t.Errorf("the hazard model blames the steel: %+v", c)
		}
	}
}

// The records of testdata/ltpp, by the cracks seen at visits, lead there too.
func TestHighwayRecordsAreRefused(t *testing.T) {
	var s record.Set
	for _, row := range table(t, "placements.csv") {
		s.Placements = append(s.Placements, record.Placement{JobNo: row["job_no"], Placement: row["placement"], PlacedOn: trial.Day(row["placed_on"]),
			Use: row["use"], AreaSqft: record.Some(6000.0), ThicknessIn: record.Some(10.0), Reinforcement: row["reinforcement"]})
	}
	for _, row := range table(t, "visits.csv") {
		s.Visits = append(s.Visits, record.Visit{JobNo: row["job_no"], Placement: row["placement"], SeenOn: trial.Day(row["seen_on"]), Why: row["why"], Finding: row["finding"]})
	}
	f := answer(t, s, "2025-12-31", setting.Options{Event: setting.EventSeen})
	if f.Cracks.All.Placements != 160 || f.Cracks.All.Callbacks == 0 {
		t.Fatalf("%+v", f.Cracks.All)
	}
	m := f.Reinforcement.MeshVsRebar
	refused(t, f.Reinforcement, notRecorded(cracks.InSpacing, m.Mesh+m.Rebar))
	if why, ok := f.Reinforcement.InShort[0].RawDifference.Why.(cracks.Incomparable); !ok || why.By[0].In != cracks.InSpacing {
		t.Errorf("rebar against none: %+v", f.Reinforcement.InShort[0].RawDifference.Why)
	}
}

func table(t *testing.T, name string) (rows []map[string]string) {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "ltpp", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	lines, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range lines[1:] {
		row := map[string]string{}
		for i, column := range lines[0] {
			row[column] = line[i]
		}
		rows = append(rows, row)
	}
	return rows
}

// What the two never had in common cannot be told from the steel.
func TestGroupsThatNeverMeetAreRefused(t *testing.T) {
	change := func(each func(i int, p *record.Placement)) record.Set {
		s := trial.Company(24)
		for i := range s.Placements {
			each(i, &s.Placements[i])
		}
		return s
	}
	mesh := func(p *record.Placement) bool { return p.Reinforcement == "mesh" }
	for name, c := range map[string]struct {
		set     record.Set
		reasons func(cracks.Incomparable) bool
	}{
		"mesh in heat": {change(func(i int, p *record.Placement) {
			p.AirTempF = record.Some(40.0 + float64(i%9))
			if mesh(p) {
				p.AirTempF = record.Some(90.0 + float64(i%9))
			}
		}), apart(cracks.InAir, 50)},
		"mesh in summer": {change(func(i int, p *record.Placement) {
			p.PlacedOn = record.DateOf(2020+i%4, 1, 10+i%40)
			if mesh(p) {
				p.PlacedOn = record.DateOf(2020+i%4, 7, 10+i%40)
			}
			if p.CallbackOn != 0 {
				p.CallbackOn = p.PlacedOn + 50
			}
		}), apart(cracks.InSeason, 0)},
		"mesh at wide joints": {change(func(i int, p *record.Placement) {
			p.JointSpacingFt = record.Some(7.0)
			if mesh(p) {
				p.JointSpacingFt = record.Some(14.0)
			}
		}), apart(cracks.InSpacing, 21)},
		"spacing mostly unknown": {change(func(i int, p *record.Placement) {
			if i%3 == 0 {
				p.JointSpacingFt = record.Number{}
			}
		}), notRecorded(cracks.InSpacing, 20)},
		"heat mostly unknown": {change(func(i int, p *record.Placement) {
			if i%2 == 0 {
				p.AirTempF = record.Number{}
			}
		}), notRecorded(cracks.InAir, 30)},
		"no rebar": {change(func(i int, p *record.Placement) { p.Reinforcement = "mesh" }), func(w cracks.Incomparable) bool { return w.N == [2]int{60, 0} }},
		"nothing":  {record.Set{}, func(w cracks.Incomparable) bool { return w.N == [2]int{0, 0} }},
	} {
		t.Run(name, func(t *testing.T) { refused(t, steelOf(t, c.set, setting.Options{}), c.reasons) })
	}
}

// Kinds poured alike overlap fully, kinds that never meet not at all; half of
// one beside a quarter of the other overlap by a quarter.
func TestOverlapByHand(t *testing.T) {
	p := cracks.Pair{Kind: []int8{0, 0, 0, 0, 1, 1, 1, 1, -1}, N: [2]int{4, 4}}
	for _, c := range []struct {
		values []float64
		want   float64
	}{
		{[]float64{41, 52, 63, 74, 42, 53, 64, 75, 0}, 1},
		{[]float64{41, 42, 43, 44, 81, 82, 83, 84, 0}, 0},
		{[]float64{41, 42, 83, 84, 43, 61, 62, 63, 0}, 0.25},
	} {
		got, known := p.Overlap(c.values, 10)
		trial.Near(t, "overlap", got, c.want, 1e-12)
		if known != 8 {
			t.Errorf("%d known", known)
		}
	}
}

// Under five cracks nothing is compared, but what it would take is said.
func TestFewCracksAreNotCompared(t *testing.T) {
	r := steelOf(t, trial.Company(4), setting.Options{})
	m := r.MeshVsRebar
	if m.Verdict != NotSettled || m.AdjustedDifference.Known() || m.RawDifference.Known() || m.MeshCheaper.Known() {
		t.Errorf("%+v", m)
	}
	if !m.PlacementsInTurns.Known() || m.PlacementsNeeded.Value < m.PlacementsInTurns.Value || m.Advice != "mesh" || r.Why != figure.Reason(cracks.TooFewCracks{N: 4, Within: cracks.ToCompareKind}) {
		t.Errorf("needed %+v, %+v", m.PlacementsNeeded, r.Why)
	}
}

// worked is an effect and a choice with a difference to place of so much for a
// placement, an area of 400 ft² and callbacks of $1,000 with goodwill, all
// known exactly.
func worked(b, variance, bias, risk, extra float64) (effect, choice) {
	costs := setting.DefaultSteelCosts()
	costs.MeshPerSqft, costs.RebarPerSqft, costs.MeshHours, costs.RebarHours = 1, 1+extra/400, 0, 0
	costs.PriceRange, costs.Goodwill, costs.Callback = 0, 0, 1000
	c := choice{costs: entered(costs, 40), area: 400, pace: 100, share: 0.5, risk: risk, level: 0.9, n: 500, events: 40}
	z, se := 1.6448536, math.Sqrt(variance)
	e := effect{b: b, variance: variance, bias: bias, riskLow: risk * 0.8, riskHigh: risk * 1.25,
		ratio: figure.Estimated(stat.Estimate{Value: math.Exp(b), Low: math.Exp(b - z*se), High: math.Exp(b + z*se), Level: 0.9}, nil),
		risk:  figure.Estimated(stat.Estimate{Value: risk, Low: risk * 0.7, High: risk * 1.4, Level: 0.9}, nil)}
	return e, c
}

// The money of a choice is that of the decision, which has references of its own.
func TestMoneyIsTheDecision(t *testing.T) {
	e, c := worked(0.6, 0.2, 0.4, 0.05, 20)
	m := c.decide(e)
	s := decide.Steel{LogRatio: 0.6, Variance: 0.2, BiasSD: 0.4, PriorSD: 0.5, Risk: 0.05, CallbackCost: 1000, ExtraCost: 20, AtStake: 300}
	a, err := s.Decide()
	if err != nil {
		t.Fatal(err)
	}
	year, _ := s.EVSI(decide.Sample{Events: 5, Share: 0.5})
	turns, _ := s.EVSI(decide.Sample{Events: 5, Share: 0.5, Alternated: true})
	for name, pair := range map[string][2]float64{"probability": {m.MeshCheaper.Value, a.MeshCheaper}, "gain": {m.RebarGain.Value, a.Gain}, "break-even": {m.BreakEven.Value, a.BreakEven},
		"wrong mesh": {m.WrongMesh.Value, a.WrongMesh}, "wrong rebar": {m.WrongRebar.Value, a.WrongRebar}, "knowing": {m.ValueOfKnowing.Value, a.EVPI},
		"a year": {m.ValueOfAYear.Value, year}, "a year in turns": {m.ValueOfTurns.Value, turns}, "bias": {m.BiasSD.Value, 0.4}, "extra": {c.extraFigure().Value, 20}} {
		trial.Near(t, name, pair[0], pair[1], 1e-9)
	}
	// The costs of a ft² differ by the gain.
	trial.Near(t, "costs", 400*(m.CostMesh.Value-m.CostRebar.Value), m.RebarGain.Value, 1e-9)
	if turns <= year {
		t.Errorf("a year in turns is worth %v, one more of the same %v", turns, year)
	}
}

// Mesh is called about 3.1 times as often (1.6 to 6.8), rebar pays from 1.3:
// what is expected to cost less is advised, though it is not settled; being
// wrong costs something either way; and no number of slabs is asked for, since
// the range already leaves break-even out.
func TestTheExpectedGainIsAdvised(t *testing.T) {
	e, c := worked(math.Log(3.1), math.Pow(math.Log(6.8/1.6)/(2*1.6448536), 2), 0.4, 0.1, 26.3)
	m := c.decide(e)
	trial.Near(t, "break-even", m.BreakEven.Value, 1.3, 0.005)
	if v := verdict(m, nil); v != NotSettled || m.Advice != "rebar" {
		t.Errorf("%s, advice %q", v, m.Advice)
	}
	if !(m.RebarGain.Value > 0 && m.RebarGain.Low < 0 && m.WrongMesh.Value > 0 && m.WrongRebar.Value > 0) {
		t.Errorf("gain %+v, wrong %v and %v", m.RebarGain, m.WrongMesh.Value, m.WrongRebar.Value)
	}
	if m.PlacementsNeeded.Known() || m.PlacementsNeeded.Why != figure.Reason(RangeAnswers{}) || m.YearsNeeded.Known() {
		t.Errorf("needed %+v", m.PlacementsNeeded)
	}
	if !m.PlacementsInTurns.Known() {
		t.Errorf("in turns %+v", m.PlacementsInTurns)
	}
}

// No advice loses money by the tool's own figures, and no verdict goes against
// the advice, whatever the records say.
func TestNoAdviceLosesByItsOwnFigures(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e, c := worked(rapid.Float64Range(-2, 2).Draw(t, "log ratio"), rapid.Float64Range(0.02, 2).Draw(t, "variance"), rapid.SampledFrom([]float64{0, 0.4, 1}).Draw(t, "bias"),
			rapid.Float64Range(0.01, 0.3).Draw(t, "risk"), rapid.Float64Range(-100, 300).Draw(t, "extra"))
		m := c.decide(e)
		if (m.Advice == "rebar") != (m.RebarGain.Value > 0) || (m.Advice == "rebar") != (m.CostRebar.Value < m.CostMesh.Value) && math.Abs(m.RebarGain.Value) > 1e-6 {
			t.Fatalf("%s at a gain of %v, costs %v and %v", m.Advice, m.RebarGain.Value, m.CostMesh.Value, m.CostRebar.Value)
		}
		if v := verdict(m, nil); v != NotSettled && string(v) != m.Advice {
			t.Fatalf("settled for %s, advice %s", v, m.Advice)
		}
	})
}

// The bias moves the probability: what was all but sure is not, and where the
// two took turns it is.
func TestBiasMovesTheVerdict(t *testing.T) {
	for _, c := range []struct {
		bias float64
		want Verdict
	}{{0.4, NotSettled}, {0, ForRebar}} {
		e, money := worked(math.Log(2.5), 0.1, c.bias, 0.1, 20)
		if m := money.decide(e); verdict(m, nil) != c.want || m.Advice != "rebar" {
			t.Errorf("with a bias of %v: %q at %v", c.bias, verdict(m, nil), m.MeshCheaper.Value)
		}
	}
}

// The bias is 0.4, or what making slabs alike moved the ratio by where that is
// more, and none where the owner says that the two took turns.
func TestBiasOfARecord(t *testing.T) {
	r := steelOf(t, trial.Company(24), setting.Options{}).MeshVsRebar
	if r.BiasSD.Value < leastBias {
		t.Errorf("%+v", r.BiasSD)
	}
	costs := setting.DefaultSteelCosts()
	costs.Alternated = true
	turns := steelOf(t, trial.Company(24), setting.Options{Steel: costs}).MeshVsRebar
	if turns.BiasSD.Value != 0 || !turns.BiasSD.Known() || turns.PlacementsInTurns.Known() {
		t.Errorf("%+v", turns.BiasSD)
	}
	if turns.HazardRatio.Value != r.HazardRatio.Value || turns.MeshCheaper.Value == r.MeshCheaper.Value {
		t.Errorf("in turns %v and %v, else %v and %v", turns.HazardRatio.Value, turns.MeshCheaper.Value, r.HazardRatio.Value, r.MeshCheaper.Value)
	}
}

// Heat is made alike within bands of temperature, however few the cracks: two
// bands of five, five of twenty and more.
func TestHeatByStrata(t *testing.T) {
	for cracked, bands := range map[int]int{6: 2, 12: 3, 20: 5, 24: 5} {
		m := steelOf(t, trial.Company(cracked), setting.Options{}).MeshVsRebar
		if m.MadeAlike.Bands != bands || m.MadeAlike.Leaning != (cracked <= cracks.EventsForFirth) {
			t.Errorf("%d cracks: %+v, want %d bands", cracked, m.MadeAlike, bands)
		}
	}
}

// Callbacks at a risk of 5 % and $1,000, rebar √½ of 2·$50 dearer: break-even is
// 2 (asinh(√⅛) = log √2), and without a bias (1.6449 + 0.8416)²/(¼·log²2) = 51.47
// events, 1,030 placements, show it. With one of 0.4 no number does.
func TestPlacementsNeededByHand(t *testing.T) {
	e, c := worked(0, 0.5, 0, 0.05, 50*math.Sqrt(0.5))
	m := c.decide(e)
	trial.Near(t, "break-even", m.BreakEven.Value, 2, 1e-9)
	trial.Near(t, "placements", m.PlacementsNeeded.Value, 1030, 0)
	trial.Near(t, "years", m.YearsNeeded.Value, 10.29, 0.01)
	e.bias = 0.4
	m = c.decide(e)
	if m.PlacementsNeeded.Why != figure.Reason(OnlyTurnsTell{}) {
		t.Errorf("needed %+v", m.PlacementsNeeded)
	}
	trial.Near(t, "placements in turns", m.PlacementsInTurns.Value, 1030, 0)
	events, _ := decide.SchoenfeldEvents(2, 0.5, decide.Test{Alpha: 0.1, Power: 0.8})
	trial.Near(t, "events", events, 51.47, 0.01)
}

// A cost of a callback at which the choice turns is told only with a range that
// means something: not where the ratio may as well be none.
func TestNoTurningCostWithoutARange(t *testing.T) {
	e, c := worked(0.05, 0.1, 0.4, 0.05, 100) // a ratio of 1.05: a division by noise
	if m := c.decide(e); m.TurningCost.Known() || m.TurningCost.Why != figure.Reason(TurnsAnywhere{}) {
		t.Errorf("%+v", m.TurningCost)
	}
	e, c = worked(1.5, 0.02, 0, 0.05, 100)
	m := c.decide(e)
	if f := m.TurningCost; !f.Bounded || !(f.Low < f.Value && f.Value < f.High) || f.High > mostSpread*f.Low {
		t.Errorf("%+v", f)
	}
	// At the turning cost of a callback rebar neither gains nor loses.
	c.costs.callback.Value = m.TurningCost.Value
	trial.Near(t, "gain at the turning cost", c.decide(e).RebarGain.Value, 0, 1e-9)
	e, c = worked(-1.5, 0.02, 0, 0.05, 100)
	if m := c.decide(e); m.TurningCost.Why != figure.Reason(NothingTurns{}) {
		t.Errorf("%+v", m.TurningCost)
	}
}

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

// Where callbacks alone would not settle it so, the price decides.
func TestThePriceDecides(t *testing.T) {
	e, c := worked(0, 0.1, 0.4, 0.05, 250)
	if m := c.decide(e); verdict(m, nil) != ForMesh || !m.ByPrice {
		t.Errorf("%q, by price %v", verdict(m, nil), m.ByPrice)
	}
	e, c = worked(-1.5, 0.05, 0, 0.1, 5)
	if m := c.decide(e); verdict(m, nil) != ForMesh || m.ByPrice {
		t.Errorf("%q, by price %v", verdict(m, nil), m.ByPrice)
	}
}

// The two inputs that turn the choice most easily, with their ranges and what
// rebar gains at the ends.
func TestWhatTurnsTheChoice(t *testing.T) {
	e, c := worked(0.8, 0.05, 0, 0.1, 30)
	c.costs = entered(setting.SteelCosts{MeshPerSqft: 1, RebarPerSqft: 1.15, Callback: 1000, PriorSD: 0.5, Power: 0.8, Years: 3, PriceRange: 0.1}, 40)
	m := c.decide(e)
	if len(m.TurnedBy) != 2 {
		t.Fatalf("%+v", m.TurnedBy)
	}
	for _, l := range m.TurnedBy {
		if !(l.Low < l.Value && l.Value < l.High) || l.AtLow == l.AtHigh {
			t.Errorf("%+v", l)
		}
	}
	// Turned to where it turns, the choice is worth nothing.
	rebar := c.costs.rebar.material
	rebar.Off *= 3
	c.costs.rebar.material = rebar
	m = c.decide(e)
	if l := m.TurnedBy[0]; l.Input != RebarMaterial || !l.Turns.OK {
		t.Fatalf("%+v", l)
	}
	c.costs.rebar.material.Value = m.TurnedBy[0].Turns.V
	trial.Near(t, "gain where it turns", c.decide(e).RebarGain.Value, 0, 1e-9)
}

// By use the ratio is shared, and the area and the callbacks are its own: of
// two uses with as many callbacks the larger slabs pay more for rebar.
func TestByUse(t *testing.T) {
	s := trial.Company(24)
	for i := range s.Placements {
		p := &s.Placements[i]
		p.Use, p.AreaSqft = "driveway", record.Some(600.0)
		if i/4%2 == 1 {
			p.Use, p.AreaSqft = "patio", record.Some(100.0)
		}
	}
	uses := steelOf(t, s, setting.Options{}).MeshVsRebar.ByUse
	if len(uses) != 2 || uses[0].Use != "driveway" || uses[1].Use != "patio" || uses[0].Mesh+uses[0].Rebar+uses[1].Mesh+uses[1].Rebar != 60 {
		t.Fatalf("%+v", uses)
	}
	for _, u := range uses {
		if !u.Risk1Yr.Bounded || !u.RebarGain.Bounded || (u.Advice == "rebar") != (u.RebarGain.Value > 0) {
			t.Errorf("%+v", u)
		}
	}
	if uses[0].RebarGain.Value >= uses[1].RebarGain.Value {
		t.Errorf("driveways gain %v, patios %v", uses[0].RebarGain.Value, uses[1].RebarGain.Value)
	}
}

// Standardised risks of the frame against R's survival on the lung data, sex as
// the steel (gcomp-lung365-efron).
func TestStandardisedRisksByReference(t *testing.T) {
	r := reftest.Load(t, "gcomp-lung365-efron")
	num, _ := reftest.Table(t, "lung.csv")
	f := &cracks.Frame{Terms: make([]cracks.Term, 3), X: make([][]float64, 3)}
	for i := range num["time"] {
		row := []float64{num["sex"][i], num["age"][i], num["ph.ecog"][i]}
		if math.IsNaN(row[0] + row[1] + row[2]) {
			continue
		}
		f.Row, f.Time, f.Event, f.Job = append(f.Row, i), append(f.Time, num["time"][i]), append(f.Event, num["status"][i] == 1), append(f.Job, i)
		row[0] = 2 - row[0] // the first sex is mesh
		for j, v := range row {
			f.X[j] = append(f.X[j], v)
		}
	}
	fit, err := f.Cox(survival.CoxOptions{})
	if err != nil {
		t.Fatal(err)
	}
	risk, _, err := bothRisks(fit)
	if err != nil {
		t.Fatal(err)
	}
	r.Check(t, "risk.1", risk[0])
	r.Check(t, "risk.2", risk[1])
	trial.Near(t, "difference", -risk[2], r.Float(t, "expected.risk_difference"), 1e-9)
}

// Person-time in strata against R's metafor::dat.hart1999 (mhpt-hart): slabs
// with a crack each share the years of their arm and stratum.
func TestRateRatioByReference(t *testing.T) {
	r := reftest.Load(t, "mhpt-hart")
	var p cracks.Pair
	var days []float64
	var stratum []int
	for k, arm := range [][2]string{{"a1", "T1"}, {"a0", "T0"}} {
		events, years := r.Ints(t, "inputs."+arm[0]), r.Floats(t, "inputs."+arm[1])
		for s, n := range events {
			for range n {
				p.Kind, stratum = append(p.Kind, int8(k)), append(stratum, s)
				days = append(days, years[s]/float64(n)*cracks.DaysPerYear)
			}
		}
	}
	p.Kind, stratum, days = append(p.Kind, 0, -1), append(stratum, -1, 0), append(days, 5000, 5000) // of no stratum, of neither kind
	cracked := make([]bool, len(days))
	for i := range cracked {
		cracked[i] = true
	}
	rates := p.Rates(days, cracked, 6, func(i int) int { return stratum[i] })
	ratio, err := survival.MantelHaenszelRateRatio(rates, 0.9)
	if err != nil {
		t.Fatal(err)
	}
	r.Check(t, "irr", ratio.Value)
	r.Check(t, "se_log", ratio.SE)
}

// Tails of the expanded percentile interval: with 10 events at 95 % each is
// Φ(−√(10/9)·t(.975; 9)) = Φ(−1.05409·2.26216) = Φ(−2.38452) = 0.00855.
func TestWidenedByHand(t *testing.T) {
	trial.Near(t, "level", widened(0.95, 10), 1-2*0.00855, 1e-5)
	trial.Near(t, "level of many", widened(0.9, 1e6), 0.9, 1e-5)
}

// A choice is settled only where no way of looking at it turns it round.
func TestVerdict(t *testing.T) {
	at := func(p float64) Money {
		m := Money{MeshCheaper: figure.Total(p, 1, ""), Advice: "mesh"}
		if p < 0.5 {
			m.Advice = "rebar"
		}
		return m
	}
	check := func(p float64, heeded bool) Check {
		return Check{MeshCheaper: figure.Total(p, 1, ""), Heeded: heeded}
	}
	for _, c := range []struct {
		p      float64
		checks []Check
		want   Verdict
	}{
		{0.95, []Check{check(0.8, true)}, ForMesh},
		{0.95, []Check{check(0.4, true)}, NotSettled},
		{0.95, []Check{check(0.4, false)}, ForMesh},
		{0.05, []Check{check(0.3, true)}, ForRebar},
		{0.7, []Check{check(0.8, true)}, NotSettled},
	} {
		if got := verdict(at(c.p), c.checks); got != c.want {
			t.Errorf("%v with %+v: %q, want %q", c.p, c.checks, got, c.want)
		}
	}
	if got := verdict(Money{}, nil); got != NotSettled {
		t.Errorf("nothing known: %q", got)
	}
}

// Money in another currency changes costs and nothing else.
func TestChoiceKeepsItsScale(t *testing.T) {
	costs := setting.DefaultSteelCosts()
	dollars := steelOf(t, trial.Company(24), setting.Options{Steel: costs}).MeshVsRebar
	costs.MeshPerSqft, costs.RebarPerSqft, costs.Callback, costs.Goodwill = 4, 8, 7500, 2500
	rates := setting.DefaultStandardRates()
	rates.LaborPerHour *= 10
	tenths := steelOf(t, trial.Company(24), setting.Options{Steel: costs, Rates: rates}).MeshVsRebar
	if !dollars.MeshCheaper.Known() || !dollars.AdjustedDifference.Bounded {
		t.Fatalf("%+v", dollars)
	}
	trial.Near(t, "probability", tenths.MeshCheaper.Value, dollars.MeshCheaper.Value, 1e-12)
	trial.Near(t, "placements", tenths.PlacementsInTurns.Value, dollars.PlacementsInTurns.Value, 0)
	trial.Near(t, "cost", tenths.CostRebar.Value, 10*dollars.CostRebar.Value, 1e-9)
	trial.Near(t, "wrong", tenths.WrongMesh.Value, 10*dollars.WrongMesh.Value, 1e-6)
	if tenths.AdjustedDifference != dollars.AdjustedDifference {
		t.Errorf("%+v, %+v", tenths.AdjustedDifference, dollars.AdjustedDifference)
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

// On the invented company mesh goes into the hot months. The adjusted difference
// holds the truth within its limits; the raw one, with as many records, lies all
// on one side of it.
func TestInventedTruthIsFound(t *testing.T) {
	set, truth, err := invented.Generate(invented.Options{Seed: 1, Jobs: 6000, Until: trial.Day("2026-03-31")})
	if err != nil {
		t.Fatal(err)
	}
	var steel []invented.Slab
	for _, slab := range truth.Slabs {
		if slab.Reinforcement == "mesh" || slab.Reinforcement == "rebar" {
			steel = append(steel, slab)
		}
	}
	want := truth.MeshLessRebar(steel)
	m := answer(t, set, "2026-03-31", setting.Options{Topics: []string{"reinforcement"}}).Reinforcement.MeshVsRebar
	if d := m.AdjustedDifference; !(d.Low <= want && want <= d.High) || d.High-d.Low > 0.03 {
		t.Errorf("adjusted %.4f to %.4f, truth %.4f", d.Low, d.High, want)
	}
	if d := m.RawDifference; d.Low <= want {
		t.Errorf("raw %.4f to %.4f holds the truth %.4f in spite of the heat", d.Low, d.High, want)
	}
	for _, arm := range []struct {
		steel string
		risk  figure.Figure
	}{{"mesh", m.AdjustedMesh}, {"rebar", m.AdjustedRebar}} {
		trial.Near(t, "risk with "+arm.steel, arm.risk.Value, truth.MeanRisk1Yr(steel, arm.steel), arm.risk.High-arm.risk.Low)
	}
}

// Five cracks at 95 % ask for tails that 999 draws just do not hold: the limits
// are then the outermost but one, and not a refusal.
func TestFewCracksAtAHighLevel(t *testing.T) {
	for _, level := range []float64{0.95, 0.99} {
		if d := steelOf(t, trial.Company(5), setting.Options{Level: level}).MeshVsRebar.AdjustedDifference; !d.Bounded || d.Level != level {
			t.Errorf("at %v: %+v", level, d)
		}
	}
}

// Cracks seen at visits have risks and no money: most are never called about.
func TestCracksSeenAreNoMoney(t *testing.T) {
	s := trial.Company(24)
	for i := range s.Placements {
		p := &s.Placements[i]
		seen := record.Visit{JobNo: p.JobNo, Placement: "A", SeenOn: p.PlacedOn + 390, Why: "planned", Finding: "sound"}
		if p.CallbackOn != 0 {
			seen.SeenOn, seen.Finding = p.CallbackOn, "crack"
			p.CallbackOn, p.CallbackKind = 0, ""
		}
		s.Visits = append(s.Visits, seen)
	}
	r := steelOf(t, s, setting.Options{Event: setting.EventSeen})
	m := r.MeshVsRebar
	if !m.AdjustedDifference.Bounded || m.MeshCheaper.Known() || m.PlacementsNeeded.Known() || m.MeshCheaper.Why != figure.Reason(SeenIsNoMoney{}) || r.Event != setting.EventSeen {
		t.Errorf("%+v", m)
	}
}

// Six cracks among 151 slabs show no ratio under 7.8, though 141 slabs watched
// for a year each would show 5.3: slabs enough are not cracks enough (Schoenfeld
// 1983 counts events).
func TestSlabsEnoughAreNotCracksEnough(t *testing.T) {
	known := func(v float64) figure.Figure { return figure.Total(v, 6, "by hand") }
	m := MeshVsRebar{Mesh: 80, Rebar: 71, Events: 6, Detectable: known(7.8)}
	m.BreakEven, m.PlacementsNeeded, m.YearsNeeded = known(5.3), known(141), known(1.4)
	for _, c := range []struct {
		detectable, needed, more, years float64
		enough                          bool
	}{
		{7.8, 141, 0, 0, false},
		{5.3, 141, 0, 0, true},
		{7.8, 302, 151, 1, false},
	} {
		m.Detectable, m.PlacementsNeeded, m.YearsNeeded = known(c.detectable), known(c.needed), known(c.needed/151)
		more, years, enough := m.Missing()
		trial.Near(t, "more placements", more, c.more, 1e-9)
		trial.Near(t, "years", years, c.years, 1e-9)
		if enough != c.enough {
			t.Errorf("%v: enough %v", c.detectable, enough)
		}
	}
}
