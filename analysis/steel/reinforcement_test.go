package steel

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/internal/reftest"
	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
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

// Cracks seen at visits are compared between looks, by their ratio and how easily
// luck makes it, and come to no money: most are never called about.
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
	if !strings.HasPrefix(m.HazardRatio.Method, "grouped proportional hazards") || !m.HazardRatio.Bounded || m.Luck.Value <= 0 || m.Luck.Value > 1 || m.AdjustedDifference.Why != figure.Reason(RatioBetweenLooks{}) {
		t.Errorf("ratio %+v, p %+v, difference %+v", m.HazardRatio, m.Luck, m.AdjustedDifference)
	}
	completed, err := setting.Options{Event: setting.EventSeen}.Complete()
	if err != nil {
		t.Fatal(err)
	}
	slabs := cracks.SlabsOf(record.NewHistory(trial.Day("2025-12-31"), s), completed)
	mesh, _ := slabs.OfLooks(func(i int) bool { return s.Placements[i].Reinforcement == "mesh" }, 0.9)
	rebar, _ := slabs.OfLooks(func(i int) bool { return s.Placements[i].Reinforcement == "rebar" }, 0.9)
	trial.Near(t, "raw difference", m.RawDifference.Value, mesh.Value-rebar.Value, 1e-12)
	if d := m.RawDifference; !d.Bounded || d.Low <= mesh.Low-rebar.High || d.High >= mesh.High-rebar.Low {
		t.Errorf("raw difference %+v of %+v and %+v: want limits within those of the worst case", d, mesh, rebar)
	}
	for _, c := range r.InShort {
		if c.Ratio.Known() && !strings.HasPrefix(c.Ratio.Method, "grouped proportional hazards") {
			t.Errorf("%s against %s: %+v", c.Of, c.Against, c.Ratio)
		}
	}
	if m.MeshCheaper.Known() || m.PlacementsNeeded.Known() || m.MeshCheaper.Why != figure.Reason(SeenIsNoMoney{}) || r.Event != setting.EventSeen {
		t.Errorf("%+v", m)
	}
}
