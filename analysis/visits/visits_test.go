package visits

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/internal/reftest"
	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
	"pourback/analysis/stat/survival"
	"pourback/ingest/record"
)

func VisitsOf(t *testing.T, s record.Set, asOf string, opt setting.Options) *Visits {
	t.Helper()
	opt.Topics = []string{setting.VisitsTopic}
	return answer(t, s, asOf, opt)
}

// afterOf is what stands behind the answers.
func afterOf(t *testing.T, s record.Set, asOf string) *after {
	t.Helper()
	opt, err := setting.Options{}.Complete()
	if err != nil {
		t.Fatal(err)
	}
	h := record.NewHistory(trial.Day(asOf), s)
	return newAfter(h, cracks.SlabsOf(h, opt), opt)
}

// named is a place in the plan as the tests write it.
func (p PlanPoint) named() string {
	if p.End {
		return "end of warranty"
	}
	return fmt.Sprint("day ", p.Days)
}

func planNames(plan []plannedVisit) string {
	var names []string
	for _, p := range plan {
		names = append(names, p.point().named())
	}
	return strings.Join(names, ", ")
}

// A year's warranty takes the place of day 365; a hot pour is looked at more
// often; 14 months end on day 426 (14 × 365/12).
func TestPlanByHand(t *testing.T) {
	plain, hot, long := trial.Bare("J1", "2025-01-01"), trial.Bare("J2", "2025-01-01"), trial.Bare("J3", "2025-01-01")
	hot.AirTempF = record.Some(96.0)
	a := afterOf(t, record.Set{Placements: []record.Placement{plain, hot, long},
		Jobs: []record.Job{{JobNo: "J1", WarrantyMonths: record.Some(int64(12))}, {JobNo: "J2", WarrantyMonths: record.Some(int64(12))}, {JobNo: "J3", WarrantyMonths: record.Some(int64(14))}}}, "2025-02-01")
	for i, want := range []string{
		"day 1, day 7, day 28, day 180, end of warranty",
		"day 1, day 3, day 7, day 14, day 28, day 90, day 180, end of warranty",
		"day 1, day 7, day 28, day 180, day 365, end of warranty",
	} {
		if got := planNames(a.planOf(i, nil)); got != want {
			t.Errorf("slab %d: %s, want %s", i, got, want)
		}
	}
	if end := a.slab[2].warrantyEnd; end != trial.Day("2025-01-01")+426 {
		t.Errorf("14 months end on %s", end)
	}
}

// Poured on March 1 and asked about on April 1, day 31: day 1 was made, day 7
// made a day early, day 28 (March 29) is overdue. Poured on March 4, day 28 is
// April 1, due today. Poured on March 7, it is due on the 4th; on the 31st, day
// 1 is due today, and day 7 on April 7. A look on March 27 is day 28 of the
// first slab, for it may be three days early.
func TestDueAndOverdueByHand(t *testing.T) {
	set := func() record.Set {
		return record.Set{Placements: []record.Placement{trial.Bare("J1", "2025-03-01"), trial.Bare("J2", "2025-03-04"), trial.Bare("J3", "2025-03-07"), trial.Bare("J4", "2025-03-31")},
			Visits: []record.Visit{trial.Look("J1", "2025-03-02", "sound"), trial.Look("J1", "2025-03-07", "sound"),
				trial.Look("J2", "2025-03-05", "sound"), trial.Look("J2", "2025-03-12", "sound"), trial.Look("J3", "2025-03-14", "sound")}}
	}
	v := VisitsOf(t, set(), "2025-04-01", setting.Options{Visits: setting.VisitOptions{DueBy: trial.Day("2025-04-07")}})
	var got []string
	for _, d := range v.Overdue {
		got = append(got, "late "+d.JobNo+" "+d.Visit.named())
	}
	for _, d := range v.Due {
		got = append(got, d.JobNo+" "+d.Visit.named()+" "+d.PlannedOn.String())
	}
	slices.Sort(got)
	want := []string{"J2 day 28 2025-04-01", "J3 day 28 2025-04-04", "J4 day 1 2025-04-01", "J4 day 7 2025-04-07", "late J1 day 28"}
	if !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	// day 1 and 7 of three slabs and day 28 of one lie before April 1; of them
	// J3's day 1 and J1's day 28 were not made.
	if v.Kept.Planned != 7 || v.Kept.Made != 5 {
		t.Errorf("%d of %d kept", v.Kept.Made, v.Kept.Planned)
	}
	seen := set()
	seen.Visits = append(seen.Visits, trial.Look("J1", "2025-03-26", "sound"))
	if v := VisitsOf(t, seen, "2025-04-01", setting.Options{}); len(v.Overdue) != 0 {
		t.Errorf("%+v is overdue although somebody looked", v.Overdue)
	}
	if v := VisitsOf(t, set(), "2025-06-01", setting.Options{}); len(v.Overdue) != 4 || slices.ContainsFunc(v.Overdue, func(d DueVisit) bool { return d.Visit != PlanPoint{Days: 28} }) {
		t.Errorf("of each slab only the last planned visit is overdue, not %+v", v.Overdue)
	}
	if v := VisitsOf(t, set(), "2026-06-01", setting.Options{}); len(v.Overdue)+len(v.Due)+len(v.Trips) != 0 || !v.ThisWeek {
		t.Errorf("two months after the warranty %+v", v.Trips)
	}
}

// The calendar of the same slabs on March 20 holds the four pours but for the one
// of the 31st, which is not on record yet; what was planned before the 20th and not
// made (day 1 of the slab of the 7th is over since day 7 was due, and was made);
// and each visit planned to the end of April: day 28 of all three. Day 180 lies
// beyond it. A list that ends sooner leaves it as it is.
func TestCalendarByHand(t *testing.T) {
	set := record.Set{Placements: []record.Placement{trial.Bare("J1", "2025-03-01"), trial.Bare("J2", "2025-03-04"), trial.Bare("J3", "2025-03-07")},
		Visits: []record.Visit{trial.Look("J1", "2025-03-02", "sound"), trial.Look("J1", "2025-03-07", "sound"), trial.Look("J3", "2025-03-14", "sound")}}
	c := VisitsOf(t, set, "2025-03-20", setting.Options{Visits: setting.VisitOptions{DueBy: trial.Day("2025-03-21")}}).Calendar
	if c.From != trial.Day("2025-03-01") || c.Now != trial.Day("2025-03-20") || c.End != trial.Day("2025-04-30") || len(c.Days) != 61 {
		t.Fatalf("%s to %s, %d days", c.From, c.End, len(c.Days))
	}
	var got []string
	for _, d := range c.Days {
		for kind, slabs := range d.Some {
			if d.Has[kind] != len(slabs) {
				t.Errorf("%s: %d of %d", d.On, len(slabs), d.Has[kind])
			}
			for _, s := range slabs {
				got = append(got, d.On.String()[5:]+[]string{" pour ", " due ", " overdue "}[kind]+s.JobNo)
			}
		}
	}
	want := []string{"03-01 pour J1", "03-04 pour J2", "03-07 pour J3", "03-11 overdue J2", "03-29 due J1", "04-01 due J2", "04-04 due J3"}
	if !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}

// Ten slabs watched for 20 days each, two of them called about on the last. The
// usual 3 callbacks a year of 100 slabs are one in 12,175 days, so the rate of
// all is (2+1)/(200+12,175) = 1/4,125 a day; up to day 28 it is Gamma(3, 4325),
// and beyond, where nobody was watched, Gamma(1, 4125). Ten days on lie 8 of
// them in the first and 2 in the second.
func TestChanceByHand(t *testing.T) {
	var s record.Set
	for i := range 10 {
		p := trial.Bare(fmt.Sprintf("J%d", i), "2025-06-01")
		if i < 2 {
			p.CallbackOn, p.CallbackKind = trial.Day("2025-06-21"), "crack"
		}
		s.Placements = append(s.Placements, p)
	}
	a := afterOf(t, s, "2025-06-21")
	f := a.risk.chance(5, quiet, 20, 30, 0.9)
	trial.Near(t, "chance", f.Value, -math.Expm1(-24./4325-2./4125), 1e-12)
	if f.N != 2 || !(f.Low < f.Value && f.Value < f.High) {
		t.Errorf("%+v", f)
	}
	mean, variance := a.risk.expected(5, quiet, 20, 30)
	trial.Near(t, "mean", mean, 24./4325+2./4125, 1e-12)
	trial.Near(t, "variance", variance, 64*3./(4325*4325)+4./(4125*4125), 1e-12)
	if f := a.risk.chance(5, quiet, 30, 30, 0.9); !f.Known() || f.Value != 0 {
		t.Errorf("without time the chance is %+v", f)
	}
}

// Of a first slab nothing is known but what is usual: 3 callbacks a year of 100
// slabs, which is Gamma(1, 12175 + the days it was watched).
func TestChanceOfTheFirstSlab(t *testing.T) {
	for days, asOf := range map[float64]string{0: "2025-06-21", 1: "2025-06-22"} {
		a := afterOf(t, record.Set{Placements: []record.Placement{trial.Bare("J", "2025-06-21")}}, asOf)
		all := 1 / (12175 + days)
		trial.Near(t, "chance", a.risk.chance(0, quiet, days, 28, 0.9).Value, -math.Expm1(-(28-days)/(days+1/all)), 1e-12)
		if m := a.risk.model(0.9); m.Stands != RiskUsual || m.Usual != 0.03 || m.Quiet.Value > 3 {
			t.Errorf("%+v", m)
		}
	}
}

// A look finds the crack between the last planned look without it and the next
// planned one: (7, 28]; a call on day 60 says that it arose by the planned look
// after it, on day 180; without one, by the day of the plan.
func TestBetweenByHand(t *testing.T) {
	s := record.Set{Placements: []record.Placement{trial.Bare("J1", "2025-01-01"), trial.Bare("J2", "2025-01-01"), trial.Bare("J3", "2025-01-01"), trial.Bare("J4", "2025-01-01"), trial.Bare("J5", "2025-01-01")},
		Visits: []record.Visit{
			trial.Look("J1", "2025-01-08", "sound"), trial.Look("J1", "2025-01-29", "crack"), trial.Look("J1", "2025-06-30", "crack"),
			trial.Look("J2", "2025-01-29", "sound"), trial.Called("J2", "2025-03-02", "crack", "2025-03-05", 400), trial.Look("J2", "2025-06-30", "sound"),
			trial.Look("J3", "2025-01-29", "sound"), trial.Called("J3", "2025-03-02", "crack", "", 0),
			trial.Look("J4", "2025-01-29", "scaling"),
			trial.Called("J5", "2025-03-02", "crack", "", 0)}}
	a := afterOf(t, s, "2025-08-01")
	for i, want := range []survival.Interval{{Left: 7, Right: 28}, {Left: 28, Right: 180}, {Left: 28, Right: 180}, {Left: 28, Right: math.Inf(1)}} {
		if l, looked := cracks.LookAt(a.h, i, a.slab[i].crackOn, a.visits.Days); l.Interval != want || !looked {
			t.Errorf("slab %d: %v, want %v", i, l, want)
		}
	}
	seen := VisitsOf(t, s, "2025-08-01", setting.Options{}).Seen
	if seen.Looked != 4 || seen.SeenSlabs != 3 || seen.CalledSlabs != 3 || seen.SeenFirst != 1 || seen.SoundAgain != 0 {
		t.Errorf("%+v", seen)
	}
}

// The remaining risks and the reserve of R survival's ovarian data: five slabs
// of these ages under one warranty.
func TestWhatIsToComeByReference(t *testing.T) {
	r := reftest.Load(t, "ibnr-ovarian")
	table, _ := reftest.Table(t, "ovarian.csv")
	var died []bool
	for _, status := range table["fustat"] {
		died = append(died, status == 1)
	}
	km, err := survival.KaplanMeier(table["futime"], died)
	if err != nil {
		t.Fatal(err)
	}
	ages, days := r.Floats(t, "inputs.ages"), r.Float(t, "inputs.horizon")
	a := &after{level: 0.9}
	whole := a.toCome(km, []horizon{{days: days, ages: ages}})
	r.Check(t, "reserve", costly(whole, figure.Total(r.Float(t, "inputs.mean_cost"), 5, "mean")).Value)
	parts := a.toCome(km, []horizon{{days: days, ages: ages[:2]}, {days: days, ages: ages[2:]}})
	trial.Near(t, "in two parts", parts.Value, whole.Value, 1e-12)
	if parts.High < whole.High-1e-12 {
		t.Errorf("errors of one curve go together: %v against %v", parts, whole)
	}
}

// Two of ten slabs were called about after 100 days and the others were watched
// for 400: at 30 days each of 3 young ones has (1 − 8/10)... S(30) = 1 over 13
// at risk up to day 50, 10 at risk at day 100: S = 8/10, so each is expected to
// bring 0.2 calls, 0.6 in all at a mean of $700.
func TestWarrantyByHand(t *testing.T) {
	var s record.Set
	for i := range 10 {
		job := fmt.Sprintf("J%02d", i)
		p := trial.Bare(job, "2024-01-01")
		s.Placements = append(s.Placements, p)
		s.Jobs = append(s.Jobs, record.Job{JobNo: job, WarrantyMonths: record.Some(int64(12)), ContractPrice: record.Some(record.Cents(500000)), ActualCost: record.Some(record.Cents(400000))})
		if i < 2 {
			s.Visits = append(s.Visits, trial.Called(job, "2024-04-10", []string{"crack", "scaling"}[i], "2024-04-20", 700))
		}
	}
	asOf := trial.Day("2024-01-01") + 400
	for i := range 3 {
		job := fmt.Sprintf("K%02d", i)
		p := trial.Bare(job, "2024-01-01")
		p.PlacedOn = asOf - 30
		s.Placements = append(s.Placements, p)
		s.Jobs = append(s.Jobs, record.Job{JobNo: job, WarrantyMonths: record.Some(int64(12)), ContractPrice: record.Some(record.Cents(500000)), ActualCost: record.Some(record.Cents(400000 + 10000*int64(i)))})
	}
	w := VisitsOf(t, s, asOf.String(), setting.Options{}).Warranty
	trial.Near(t, "callbacks", w.Callbacks.Value, 0.6, 1e-12)
	trial.Near(t, "of cracks", w.Cracks.Value, 0.3, 1e-12) // S = 9/10
	if w.CostEach.N != 2 || w.CostEach.Value != 750 {      // under five: the setting
		t.Errorf("cost of each %+v", w.CostEach)
	}
	trial.Near(t, "cost", w.Cost.Value, 450, 1e-9)
	if w.Placements != 3 || w.Called != 0 || len(w.Months) != 1 || w.Months[0].Placements != 3 || w.Months[0].Month != (asOf+335).Month() {
		t.Errorf("%+v", w)
	}
	trial.Near(t, "margin", w.Booked.Margin.Value, 2700, 1e-9) // 1000 + 900 + 800
	trial.Near(t, "in percent of it", w.Booked.Share.Value, 100*450./2700, 1e-9)
}

// A crack of 0.010 in on day 28 that is 0.013 in on day 180 opened by 0.003 in
// over 152 days; a repair between begins the measuring anew.
func TestGrowthByHand(t *testing.T) {
	wide := func(v record.Visit, in float64) record.Visit {
		v.WidthIn, v.CrackKind, v.AtJoint = record.Some(in), "drying", record.No
		return v
	}
	s := record.Set{Placements: []record.Placement{trial.Bare("J1", "2025-01-01"), trial.Bare("J2", "2025-01-01")},
		Visits: []record.Visit{wide(trial.Look("J1", "2025-01-29", "crack"), 0.010), wide(trial.Look("J1", "2025-06-30", "crack"), 0.013),
			wide(trial.Called("J2", "2025-01-29", "crack", "2025-02-10", 300), 0.020), wide(trial.Look("J2", "2025-06-30", "crack"), 0.004)}}
	f := VisitsOf(t, s, "2025-08-01", setting.Options{}).Findings
	if len(f.Growing) != 1 || f.Growing[0].JobNo != "J1" || !f.Growing[0].OverGuide {
		t.Fatalf("%+v", f.Growing)
	}
	trial.Near(t, "opening", f.Growing[0].PerYear, 0.003/152*cracks.DaysPerYear, 1e-12)
	if f.Visits != 4 || f.Cracked != 2 || f.OverGuide.Value != 0.5 || f.AtJoint.Value != 0 {
		t.Errorf("%+v", f)
	}
}

func TestTripsByHand(t *testing.T) {
	a := &after{cost: figure.Assumption{Value: 800}}
	v := &Visits{
		Due:       []DueVisit{{JobNo: "J1", Placement: "A", Visit: PlanPoint{Days: 28}, Worth: figure.Total(30, 1, "")}, {JobNo: "J1", Placement: "B", Visit: PlanPoint{Days: 28}, Worth: figure.Total(20, 1, "")}},
		Overdue:   []DueVisit{{JobNo: "J1", Placement: "A", Visit: PlanPoint{Days: 14}, Worth: figure.Total(30, 1, "")}, {JobNo: "J2", Placement: "A", Visit: PlanPoint{Days: 7}, Worth: figure.Total(45, 1, "")}},
		Callbacks: Callbacks{Open: []OpenCallback{{JobNo: "J3", Placement: "A", Kind: "crack", AgeDays: 9}, {JobNo: "J4", Placement: "A", AgeDays: 900}}},
	}
	var got []string
	for _, trip := range a.trips(v) {
		stop := fmt.Sprintf("%s overdue %v", trip.Stop.Visit.named(), trip.Stop.Overdue)
		if c := trip.Stop.Call; c != nil {
			stop = fmt.Sprintf("%s call, %d days", c.Kind, c.AgeDays)
		}
		got = append(got, fmt.Sprint(trip.JobNo, trip.Placements, " ", stop, " ", trip.Worth.Value))
	}
	want := []string{"J3[A] crack call, 9 days 800", "J1[A B] day 14 overdue true 50", "J2[A] day 7 overdue true 45"}
	if !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

// Heat raises the first slab's risk by a log of 0.7 that is known to 0.5; close
// joints that of the second by 0.9, known to 1.0 alone; the third is usual.
func TestReasonsThatMayBeTheWrongWayRoundAreNotNamed(t *testing.T) {
	wide := []float64{12, 8, 10}
	hot := []float64{100, 70, 80}
	value := func(x []float64) func(int) float64 { return func(i int) float64 { return x[i] } }
	r := &callRisk{terms: []cracks.Term{{Covariate: cracks.Covariate{What: cracks.AirTemperature}, Value: value(hot)}, {Covariate: cracks.Covariate{What: cracks.JointSpacing}, Value: value(wide)}},
		coef: []float64{0.7 / 20, -0.9 / 2}, mean: []float64{80, 10}, ends: [][2]float64{{70, 100}, {8, 12}},
		cov: mat.NewSymDense(2, []float64{0.25 / 400, 0, 0, 1. / 4})}
	for i, want := range []Cause{{Kind: CauseHeat, Above: true}, {}, {}} {
		if got := r.mostFor(i); got == nil && want != (Cause{}) || got != nil && *got != want {
			t.Errorf("slab %d: %v, want %v", i, got, want)
		}
	}
}

// A slab with several visits to make is at stake once: 30 + 20 + 45.
func TestAtStakeCountsEachSlabOnce(t *testing.T) {
	due := func(job, placement string, worth float64) DueVisit {
		return DueVisit{JobNo: job, Placement: placement, Worth: figure.Total(worth, 1, "")}
	}
	trial.Near(t, "at stake", atStake([]DueVisit{due("J1", "A", 30), due("J1", "B", 20), due("J1", "A", 30)}, []DueVisit{due("J2", "A", 45), due("J1", "A", 30)}), 95, 0)
}

// A slab is found by its whole name, whatever slashes stand in it.
func TestSlabIsFoundByItsName(t *testing.T) {
	var s record.Set
	for _, name := range [][2]string{{"J/4", "A/1"}, {"J/4", "B"}, {"J", "4"}} {
		p := trial.Bare(name[0], "2025-01-01")
		p.Placement = name[1]
		s.Placements = append(s.Placements, p)
	}
	a := afterOf(t, s, "2025-02-01")
	for _, asked := range []string{"J/4", "J/4/A/1", "j/4/b"} {
		if got := a.find(asked); got < 0 || !strings.EqualFold(slabName(a.h.Placements.At(got)), asked) {
			t.Errorf("%s: slab %d", asked, got)
		}
	}
	if a.find("J/4/A") >= 0 {
		t.Error("half a name is a name")
	}
}

func TestVisitOptionsAreRefused(t *testing.T) {
	for name, o := range map[string]setting.VisitOptions{
		"a day before the pour": {Plan: setting.VisitPlan{Days: []int{-1}, HotAirF: 90, HighRisk: 2, AheadDays: 90}},
		"a day in 30 years":     {Plan: setting.VisitPlan{ExtraDays: []int{11000}, HotAirF: 90, HighRisk: 2, AheadDays: 90}},
		"no high risk":          {Plan: setting.VisitPlan{Days: []int{1}, HotAirF: 90, HighRisk: 1, AheadDays: 90}},
		"no days ahead":         {Plan: setting.VisitPlan{Days: []int{1}, HotAirF: 90, HighRisk: 2}},
		"not a number":          {Plan: setting.VisitPlan{Days: []int{1}, HotAirF: math.NaN(), HighRisk: 2, AheadDays: 90}},
		"a slab without a job":  {Slab: "A"},
		"a drive back in time":  {Plan: setting.VisitPlan{Days: []int{1}, HotAirF: 90, HighRisk: 2, AheadDays: 90, DriveMinutes: -1}},
	} {
		if _, err := o.Complete(); err == nil {
			t.Errorf("%s is taken", name)
		}
	}
	if o, err := (setting.VisitOptions{}).Complete(); err != nil || len(o.Plan.Days) != 5 {
		t.Errorf("%+v %v", o, err)
	}
}
