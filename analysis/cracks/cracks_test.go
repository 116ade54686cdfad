package cracks

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"strings"
	"testing"

	"pourback/analysis/figure"
	"pourback/analysis/internal/reftest"
	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
	"pourback/analysis/stat/survival"
	"pourback/ingest/record"
)

func cracksOf(t *testing.T, s record.Set, opt setting.Options) *Cracks {
	t.Helper()
	opt.Topics = []string{"cracks"}
	return answer(t, s, "2025-12-31", opt)
}

// The remission of leukaemia, in R's survival::aml (Miller 1981): log-rank
// χ² 3.396 with 1 degree of freedom. Weeks stand for days.
func TestLogRankByReference(t *testing.T) {
	r := reftest.Load(t, "logrank-aml")
	time, status, group := r.Floats(t, "inputs.time"), r.Floats(t, "inputs.status"), r.Strings(t, "inputs.group")
	var s record.Set
	for i := range time {
		steel := "mesh"
		if group[i] != group[0] {
			steel = "rebar"
		}
		p := trial.SlabAt(i, int(time[i]), int(time[i]*status[i]), steel)
		if status[i] == 1 {
			p.PlacedOn -= 10
			p.CallbackOn -= 10
		}
		s.Placements = append(s.Placements, p)
	}
	l := cracksOf(t, s, setting.Options{}).LogRank
	r.Check(t, "chisq", l.ChiSq)
	r.Check(t, "p", l.Value)
	if l.DF != 1 || l.Groups != 2 || l.N != len(time) {
		t.Errorf("%+v", l)
	}
	out, err := json.Marshal(l)
	if err != nil || !strings.Contains(string(out), `"chi_square":3.39`) || !strings.Contains(string(out), `"df":1,"groups":2,"across":"reinforcement"}`) {
		t.Errorf("%s %v", out, err)
	}
}

// 10 cracks in 500 placement-years are 2 a hundred; the exact 95 % limits of a
// count of 10 are 4.795 and 18.390 (Garwood 1936, Table 1).
func TestRatesByGarwoodsTable(t *testing.T) {
	var s record.Set
	for i := range 100 {
		after := 0
		if i < 10 {
			after = 1826 // 5 years, as long as the others have been watched
		}
		s.Placements = append(s.Placements, trial.SlabAt(i, 1826, after, "mesh"))
	}
	c := cracksOf(t, s, setting.Options{Level: 0.95})
	years := 182600 / 365.25 // 499.93
	trial.Near(t, "placement-years", c.All.PlacementYears, years, 1e-9)
	trial.Near(t, "rate", c.All.Rate.Value, 10/years*100, 1e-12)
	trial.Near(t, "low", c.All.Rate.Low, 4.795/years*100, 1e-3)
	trial.Near(t, "high", c.All.Rate.High, 18.390/years*100, 1e-3)
}

// What may be asked of so few cracks: under 5 nothing is compared, up to 20 a
// prior and at most three terms, above that Firth's penalty and a term for
// every five.
func TestLadder(t *testing.T) {
	for _, c := range []struct {
		cracked, terms int
		method         string
	}{{0, 0, ""}, {4, 0, ""}, {5, 3, "normal prior"}, {20, 3, "normal prior"}, {21, 4, "Firth"}, {26, 5, "Firth"}} {
		got := cracksOf(t, trial.Company(c.cracked), setting.Options{})
		if got.Events != c.cracked || len(got.Cox) != c.terms {
			t.Fatalf("%d cracks: %d events, terms %+v", c.cracked, got.Events, got.Cox)
		}
		if compared := got.LogRank.Known(); compared != (c.cracked >= 5) {
			t.Errorf("%d cracks: log-rank %+v", c.cracked, got.LogRank)
		}
		for _, term := range got.Cox {
			h := term.HazardRatio
			if !strings.Contains(h.Method, c.method) || !(h.Low < h.Value && h.Value < h.High) || term.P.Known() != (c.cracked > 20) {
				t.Errorf("%d cracks: %+v", c.cracked, term)
			}
		}
		if checked := got.PropHazards.P.Known(); checked != (c.cracked > 20) {
			t.Errorf("%d cracks: proportional hazards %+v", c.cracked, got.PropHazards)
		}
	}
}

// Hours to the saw that follow from the heat to the letter tell nothing more:
// the term is left off, and the rest is answered.
func TestTermsThatFollowAreLeftOff(t *testing.T) {
	s := trial.Company(26)
	for i := range s.Placements {
		p := &s.Placements[i]
		p.SawHours = record.Some(20 - p.AirTempF.V/10)
	}
	c := cracksOf(t, s, setting.Options{})
	if len(c.Cox) != 4 || c.Cox[3].Term.What != Cured {
		t.Errorf("%+v", c.Cox)
	}
}

// A slab called back for scaling on day 60 counts in comparisons up to then
// only, a crack after that not at all; plain counts follow it on.
func TestAnotherCallbackEndsTheWatchOfComparisons(t *testing.T) {
	p := trial.SlabAt(1, 700, 0, "mesh")
	p.CallbackOn, p.CallbackKind = p.PlacedOn+60, "scaling"
	crack := record.Visit{JobNo: p.JobNo, Placement: "A", SeenOn: p.PlacedOn + 300, Why: "callback", Finding: "crack"}
	scaling := record.Visit{JobNo: p.JobNo, Placement: "A", SeenOn: p.PlacedOn + 60, Why: "callback", Finding: "scaling"}
	h := record.NewHistory(trial.Day("2025-12-31"), record.Set{Placements: []record.Placement{p}, Visits: []record.Visit{scaling, crack}})
	f := watch(h, 0, setting.EventCallback)
	if f != (followUp{300, true}) {
		t.Errorf("watched %+v, want a crack on day 300", f)
	}
	if u := f.unmixed(h.Placements.At(0)); u != (followUp{60, false}) {
		t.Errorf("in comparisons %+v, want 60 days and no crack", u)
	}
}

func TestSmallLevelsArePooled(t *testing.T) {
	f := bands("heat", figure.Fahrenheit, nil, []float64{math.Inf(-1), 40, 60, 80, 90})
	for _, c := range []struct {
		count []int
		want  string
	}{
		{[]int{5, 5, 5, 5, 5}, "…40 40…60 60…80 80…90 90…"},
		{[]int{1, 2, 9, 3, 4}, "…80 80…"},
		{[]int{1, 1, 9, 1, 1}, "…"},
		{[]int{0, 0, 2, 0, 1}, "…"},
		{[]int{9, 0, 0, 0, 4}, "…"},
	} {
		if _, rows := f.pool(c.count); ends(rows) != c.want {
			t.Errorf("%v gives %q, want %q", c.count, ends(rows), c.want)
		}
	}
	w := &figure.Words{Names: []string{"none", "water", "sheet", "blanket"}}
	to, rows := named("curing", w).pool([]int{9, 2, 8, 1})
	var words [][]string
	for _, r := range rows {
		words = append(words, r.Words)
	}
	if fmt.Sprint(to, words) != "[0 2 1 2] [[none] [sheet] [water blanket]]" {
		t.Errorf("words pool to %v %q", to, words)
	}
}

// ends writes the ends of bands, nothing where they are open.
func ends(rows []Level) string {
	var out []string
	end := func(n figure.Number) string {
		if !n.OK {
			return ""
		}
		return fmt.Sprint(n.V)
	}
	for _, r := range rows {
		out = append(out, end(r.Low)+"…"+end(r.High))
	}
	return strings.Join(out, " ")
}

// A guide's upper limit belongs to the guide: 0.2 lb/ft²/h is not over 0.2.
func TestBandsHoldTheirUpperEnd(t *testing.T) {
	f := bands("evaporation", "", []float64{0, 0.1, 0.2, 0.21, math.NaN()}, []float64{math.Inf(-1), 0.1, 0.2})
	if fmt.Sprint(f.codes) != "[0 0 1 2 -1]" {
		t.Errorf("codes %v", f.codes)
	}
}

// Hot pours that crack and cool ones that do not are told apart, and what was
// not recorded is compared with nobody.
func TestTablesTellHeat(t *testing.T) {
	var s record.Set
	for i := range 80 {
		after, air := 0, 95.0
		if i%2 == 0 {
			air = 50
		} else if i < 30 {
			after = 50 + i
		}
		p := trial.SlabAt(i, 600, after, "mesh")
		p.AirTempF = record.Some(air)
		if i >= 70 {
			p.AirTempF = record.Number{}
		}
		s.Placements = append(s.Placements, p)
	}
	heat := cracksOf(t, s, setting.Options{}).OneWay[0]
	if heat.Factor != "air temperature" || len(heat.Rows) != 2 || heat.NotRecorded != 10 || !heat.Differ {
		t.Fatalf("%+v", heat)
	}
	if heat.Rows[0].Callbacks != 0 || heat.Rows[1].Callbacks != 15 || heat.Most != 1 || heat.Least != 0 || heat.Rows[1].Level.Low.V != 60 {
		t.Errorf("%+v", heat)
	}
	// All 15 cracks are among the 35 hot pours whose heat is known, 35 others being
	// cool: every one of them adds about a half to what is expected of the hot.
	if heat.LogRank.Value > 1e-4 {
		t.Errorf("p %v", heat.LogRank.Value)
	}
}

func TestFewPlacementsHaveNoRate(t *testing.T) {
	s := record.Set{Placements: []record.Placement{trial.SlabAt(1, 500, 20, "mesh"), trial.SlabAt(2, 500, 0, "mesh")}}
	c := cracksOf(t, s, setting.Options{})
	if row := c.OneWay[0].Rows[0]; row.Rate.Known() || row.Risk1Yr.Known() || row.Placements != 2 || row.Callbacks != 1 {
		t.Errorf("%+v", row)
	}
	if cell := c.Cells[0]; !cell.Risk1Yr.Known() {
		t.Errorf("the raw risk of a cell is shown whatever its size: %+v", cell)
	}
}

// Two slabs each of 100, 200, 300 and 400 days, beside two of 1000 that cracked on
// day 50 and two on day 350: by hand S(50) = 10/12, S(350) = 10/12·1/2 (at day 350
// those of 400 days and of 1000 are at risk). To 365 days a slab of 100 days
// has (S(100) − S(365))/S(100) = 1/2 left, and so have those of 200 and 300.
func TestWhatIsStillToComeByHand(t *testing.T) {
	s := record.Set{Placements: []record.Placement{trial.SlabAt(1, 100, 0, "mesh"), trial.SlabAt(2, 200, 0, "mesh"), trial.SlabAt(3, 300, 0, "mesh"),
		trial.SlabAt(4, 400, 0, "mesh"), trial.SlabAt(5, 1000, 50, "mesh"), trial.SlabAt(6, 1000, 350, "mesh")}}
	s.Placements[4].CallbackCost = record.Some[record.Cents](600_00)
	for i, p := range s.Placements {
		p.JobNo, p.CallbackCost = fmt.Sprintf("other %d", i), record.Money{}
		s.Placements = append(s.Placements, p)
	}
	c := cracksOf(t, s, setting.Options{})
	trial.Near(t, "one-year risk", c.All.Risk1Yr.Value, 1-5.0/12, 1e-12)
	trial.Near(t, "callbacks to come", c.Later.Callbacks.Value, 3, 1e-12)
	trial.Near(t, "their cost", c.Later.Cost.Value, 3*750, 1e-9) // one cost is too few: the setting stands
	trial.Near(t, "left at 90 days", c.Later.ByAge[2].Risk.Value, 0.5, 1e-12)
	if c.Later.Slabs != 6 || c.WarrantyDays != 365 {
		t.Errorf("%+v, warranty %d", c.Later, c.WarrantyDays)
	}
}

func TestWarrantyIsTheMostCommon(t *testing.T) {
	s := trial.Company(6)
	for i := range 60 {
		months := int64(24)
		if i < 20 {
			months = 12
		}
		s.Jobs = append(s.Jobs, record.Job{JobNo: fmt.Sprintf("J%04d", i), WarrantyMonths: record.Some(months)})
	}
	if c := cracksOf(t, s, setting.Options{}); c.WarrantyDays != 730 || c.Assumptions[0].Value != 24 {
		t.Errorf("warranty %d days, %+v", c.WarrantyDays, c.Assumptions[0])
	}
}

// The order of rows and the number of cores change nothing.
func TestCracksAreTheSameHoweverTheyCome(t *testing.T) {
	opt := setting.Options{Topics: []string{"cracks", "reinforcement"}}
	figures := func(s record.Set) string {
		out, err := json.Marshal(answer(t, s, "2025-12-31", opt))
		if err != nil {
			t.Fatal(err)
		}
		return string(out)
	}
	want := figures(trial.Company(12))
	mixed := trial.Company(12)
	rand.New(rand.NewPCG(3, 4)).Shuffle(60, func(i, j int) {
		mixed.Placements[i], mixed.Placements[j] = mixed.Placements[j], mixed.Placements[i]
	})
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	if got := figures(mixed); got != want {
		t.Errorf("rows in another order, on one core:\n%s\n%s", got, want)
	}
}

// A thinned frame stands for the whole: its weights add up to it, and the
// ratios are those of the whole within their error.
func TestThinnedFramesStandForTheWhole(t *testing.T) {
	h := trial.ManySlabs(60_000)
	s := SlabsOf(h, setting.Options{Event: setting.EventCallback, Bands: setting.DefaultBands})
	f := s.NewFrame([]Term{s.Heat(), s.Spacing()}, func(int) bool { return true })
	thin, kept := f.Thin(size{500, 3000})
	if len(thin.Row) > 5000 || kept > 0.5 {
		t.Fatalf("%d rows, %v kept", len(thin.Row), kept)
	}
	rows, events := 0.0, 0.0
	for i, w := range thin.Weight {
		rows += w
		events += w * Indicator(thin.Event[i])
	}
	trial.Near(t, "rows stood for", rows/float64(len(f.Row)), 1, 0.03)
	trial.Near(t, "events stood for", events/float64(f.Events), 1, 0.05)
	whole, err := f.Cox(f.Firth())
	if err != nil {
		t.Fatal(err)
	}
	part, err := thin.Cox(f.Firth())
	if err != nil {
		t.Fatal(err)
	}
	for j := range f.X {
		trial.Near(t, string(f.Terms[j].What), part.Coef[j], whole.Coef[j], 3*part.SE()[j])
	}
	if again, kept := f.Thin(size{1 << 30, 1 << 30}); again != f || kept != 1 {
		t.Errorf("a frame small enough is thinned")
	}
}

// What may be said is decided once, here.
func TestWhatIsConcluded(t *testing.T) {
	risk := func(v, high float64) figure.Figure {
		return figure.Figure{Value: v, High: high, Level: 0.9, Bounded: true, OK: true}
	}
	unknown := figure.Unknown(WatchedTooShort{Days: 365, Longest: 200})
	one := []CoxTerm{{}}
	for name, c := range map[string]struct {
		c        Cracks
		clearest *CoxTerm
		want     Conclusion
	}{
		"nothing":           {Cracks{}, nil, Conclusion{Outcome: NoSlabs}},
		"none yet":          {Cracks{All: Cell{Placements: 599, Risk1Yr: risk(0, 0.005)}}, nil, Conclusion{Outcome: NoneYet}},
		"none of a handful": {Cracks{All: Cell{Placements: 2, Risk1Yr: risk(0, 0.7)}}, nil, Conclusion{Outcome: NoneTooNew}},
		"none and young":    {Cracks{All: Cell{Placements: 9, Risk1Yr: unknown}}, nil, Conclusion{Outcome: NoneTooNew}},
		"young":             {Cracks{All: Cell{Placements: 9, Callbacks: 2, Risk1Yr: unknown}, SpacingUnknown: 9}, nil, Conclusion{Outcome: TooNew, Spacing: NeverTold}},
		"late":              {Cracks{All: Cell{Placements: 9, Callbacks: 2, Risk1Yr: risk(0, 0.2)}, SpacingUnknown: 5}, nil, Conclusion{Outcome: NoneEarly, Spacing: HardlyTold}},
		"few":               {Cracks{All: Cell{Placements: 90, Callbacks: 4, FirstYear: 3, Risk1Yr: risk(0.05, 0.1)}, Events: 4}, nil, Conclusion{Outcome: RiskKnown, Drivers: TooFewToTell}},
		"nothing recorded":  {Cracks{All: Cell{Placements: 90, Callbacks: 8, FirstYear: 3, Risk1Yr: risk(0.05, 0.1)}, Events: 8}, nil, Conclusion{Outcome: RiskKnown, Drivers: NotRecorded}},
		"nothing clear":     {Cracks{All: Cell{Placements: 90, Callbacks: 8, FirstYear: 3, Risk1Yr: risk(0.05, 0.1)}, Events: 8, Cox: one}, nil, Conclusion{Outcome: RiskKnown, Drivers: NothingClear}},
		"clear":             {Cracks{All: Cell{Placements: 90, Callbacks: 8, FirstYear: 3, Risk1Yr: risk(0.05, 0.1)}, Events: 8, Cox: one}, &one[0], Conclusion{Outcome: RiskKnown, Drivers: OneThingClear, Clearest: &one[0]}},
	} {
		if got := c.c.conclude(c.clearest); got != c.want {
			t.Errorf("%s: %+v, want %+v", name, got, c.want)
		}
	}
}

// One reinforcement at six spacings: the test is across spacing, where it was
// null. With two the test across spacing is that of survival within each.
func TestLogRankAcrossSpacing(t *testing.T) {
	var s record.Set
	for i := range 180 {
		after := 0
		if i%6 == 5 && i%12 == 5 || i%30 == 0 {
			after = 100
		}
		p := trial.SlabAt(i, 600, after, "mesh")
		p.JointSpacingFt = record.Some([]float64{5, 7, 9, 11, 13, 16}[i%6])
		s.Placements = append(s.Placements, p)
	}
	one := cracksOf(t, s, setting.Options{})
	if !one.LogRank.Known() || one.LogRank.Across != AcrossSpacing || one.LogRank.DF != 5 || one.BySteel.Known() {
		t.Fatalf("%+v", one.LogRank)
	}
	for i := range s.Placements {
		s.Placements[i].Reinforcement = []string{"mesh", "rebar"}[i/6%2]
	}
	two := cracksOf(t, s, setting.Options{})
	if two.LogRank.Across != AcrossReinforcement || !two.BySpacing.Known() || two.BySpacing.DF != 5 {
		t.Errorf("%+v", two.BySpacing)
	}
	var days []float64
	var cracked []bool
	var band, steel []int
	for i := range s.Placements {
		p := &s.Placements[i]
		days, cracked = append(days, 600), append(cracked, p.CallbackOn != 0)
		if cracked[i] {
			days[i] = 100
		}
		band, steel = append(band, i%6), append(steel, i/6%2)
	}
	want, err := survival.LogRankTest(days, cracked, band, steel)
	if err != nil {
		t.Fatal(err)
	}
	trial.Near(t, "χ²", two.BySpacing.ChiSq, want.ChiSq, 1e-9)
}
