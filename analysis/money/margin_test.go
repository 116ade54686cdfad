package money

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"pourback/analysis/figure"
	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
	"pourback/analysis/work"
	"pourback/ingest/invented"
	"pourback/ingest/record"
)

// monthsOf are months of one job of $1,000 each, with these margins in %.
func monthsOf(margins ...float64) []Month {
	var out []Month
	on := trial.Day("2020-01-15")
	for _, pct := range margins {
		t := tally{}
		t.add(&Job{Last: on, Revenue: 1000_00, Cost: 1000_00 - record.Cents(pct*1000), BidCost: trial.Cents(800_00)})
		out = append(out, Month{Month: on.Month(), Earned: t.earned(setting.DefaultStandardRates(), true)})
		on = record.DateOf(on.Time().Year(), on.Time().Month()+1, 15)
	}
	return out
}

func charted(margins ...float64) Control {
	return controlChart(OfMargin, monthsOf(margins...), 0.90, func(e *Earned) figure.Figure { return e.MarginPct })
}

// Of years in which nothing changed, judged by limits from the twelve months
// before, some 16 % give a false signal by the 2.66 limits and some 1.5 % by
// the strict ones, as worked out beside them in R. 4,000 years: standard errors of 0.6 and
// 0.2 points.
func TestControlFalseAlarms(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	const years = 4000
	looks, changes := 0, 0
	for range years {
		margins := make([]float64, 24)
		for i := range margins {
			margins[i] = 20 + 5*r.NormFloat64()
		}
		c := charted(margins...)
		if c.Base != 12 || len(c.Points) != 24 {
			t.Fatalf("base %d of %d months", c.Base, len(c.Points))
		}
		look, change := false, false
		for _, s := range c.Signals {
			if s.Month >= "2021-01" {
				look, change = true, change || s.Verdict == RealChange
			}
		}
		if look {
			looks++
		}
		if change {
			changes++
		}
	}
	trial.Near(t, "share of quiet years with a month worth a look", float64(looks)/years, 0.16, 0.02)
	trial.Near(t, "share of quiet years with a real change", float64(changes)/years, 0.015, 0.007)
}

func TestControlFindsARealChange(t *testing.T) {
	margins := []float64{20, 22, 19, 21, 20, 23, 18, 21, 20, 22, 19, 21, 20, 22, 19, 21, 20, 23, 18, 21, -15, 22, 19, 21}
	c := charted(margins...)
	if len(c.Signals) != 1 || c.Signals[0].Month != "2021-09" || c.Signals[0].Verdict != RealChange || c.Signals[0].Rule != BeyondChance || c.Signals[0].High {
		t.Errorf("signals %+v, want September 2021 as a real change", c.Signals)
	}
}

// By hand: 20 and 22 in turn over twelve months. Center 21, mean moving range 2:
// 21 ± 2.66·2 = 15.68 to 26.32.
func TestControlLimitsByHand(t *testing.T) {
	var margins []float64
	for i := range 12 {
		margins = append(margins, 20+2*float64(i%2))
	}
	c := charted(margins...)
	trial.Near(t, "center", c.Center.Value, 21, 1e-12)
	trial.Near(t, "low", c.Limits.Low, 15.68, 1e-9)
	trial.Near(t, "high", c.Limits.High, 26.32, 1e-9)
	if c.Base != 12 || len(c.Signals) != 0 {
		t.Errorf("%+v", c)
	}
}

func TestNoControlUnderEightMonths(t *testing.T) {
	c := charted(20, 22, 19, 21, 20, 23, 18)
	if c.Limits != nil || c.Strict != nil || c.Center.Known() || c.Why != (FewMonths{Months: 7, Least: 8}) || c.Center.Why != c.Why {
		t.Errorf("a chart of 7 months: %+v", c)
	}
	if c = charted(20, 22, 19, 21, 20, 23, 18, 21); c.Limits == nil || c.Why != nil {
		t.Errorf("no chart of 8 months: %+v", c)
	}
	if c = charted(20, 20, 20, 20, 20, 20, 20, 20); c.Limits != nil || c.Why != figure.Reason(figure.NoVariation{}) {
		t.Errorf("a chart of months all alike: %+v", c)
	}
}

// $1,000 at 20 % in the one month, $2,000 at 30 % in the other: profit rises
// from $200 to $600. Bennet: work (2000−1000)·(.2+.3)/2 = $250; rate
// (.3−.2)·(1000+2000)/2 = $150.
func TestChangeByHand(t *testing.T) {
	months := monthsOf(20, 30)
	months[1].Revenue, months[1].Cost = 2000_00, 1400_00
	c := marginChange(months)
	trial.Near(t, "profit", c.Profit.Value, 400, 0)
	trial.Near(t, "work", c.Work.Value, 250, 0)
	trial.Near(t, "rate", c.Rate.Value, 150, 0)
	if c = marginChange(months[:1]); c.Profit.Known() || c.Profit.Why == nil {
		t.Errorf("a change from one month: %+v", c)
	}
}

// Six jobs; 2 and 3 were won from 1, 4 from itself, 5 from one not on record.
// Follow-on revenue $300 + $500 of $2,300; 1 and 2 are a year old, 1 brought
// $800.
func TestFollowOnByHand(t *testing.T) {
	var s record.Set
	for i, j := range []struct {
		from  string
		price int64
	}{{"", 600_00}, {"1", 300_00}, {"1", 500_00}, {"4", 400_00}, {"9", 500_00}, {"1", 0}} {
		no := fmt.Sprint(i + 1)
		s.Placements = append(s.Placements, trial.Pour(no, fmt.Sprintf("202%d-06-01", 3+min(1, i/2)), "patio", "chute", 2, 2.2))
		job := record.Job{JobNo: no, WonFrom: j.from, ContractPrice: trial.Cents(j.price)}
		if j.price == 0 {
			job.ContractPrice, job.WonFrom = record.Money{}, ""
		}
		s.Jobs = append(s.Jobs, job)
	}
	f := answer(t, s, "2025-01-31", setting.Options{}).Margin.FollowOn
	if f.Jobs != 2 || f.FromJobs != 1 || f.NotOnRecord != 1 || f.Revenue != 800_00 {
		t.Errorf("%+v", f)
	}
	trial.Near(t, "share of jobs", f.ShareOfJobs.Value, 2.0/6, 1e-12)
	trial.Near(t, "share of revenue", f.ShareOfRevenue.Value, 800.0/2300, 1e-12)
	if f.PerJob.Known() {
		t.Errorf("%+v from two jobs a year old", f.PerJob)
	}
}

// Of six jobs a year old one brought $900 since: $150 a job. Two younger ones
// do not count yet, whatever they brought.
func TestFollowOnPerJobByHand(t *testing.T) {
	var s record.Set
	for i := range 8 {
		on, from := "2024-01-31", ""
		if i > 5 {
			on = "2024-02-01"
		}
		if i == 7 {
			from = "0"
		}
		s.Placements = append(s.Placements, trial.Pour(fmt.Sprint(i), on, "patio", "chute", 2, 2.2))
		s.Jobs = append(s.Jobs, record.Job{JobNo: fmt.Sprint(i), WonFrom: from, ContractPrice: trial.Cents(900_00)})
	}
	f := answer(t, s, "2025-01-30", setting.Options{}).Margin.FollowOn
	if f.PerJob.N != 6 || f.PerJob.Value != 150 {
		t.Errorf("%+v", f.PerJob)
	}
}

// The last month is spoken of only when it is over.
func TestTheLastFullMonthIsToldOf(t *testing.T) {
	set, _, err := invented.Generate(invented.Options{Seed: 2, Until: trial.Day("2026-03-31")})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ asOf, month, open string }{{"2025-10-15", "2025-09", "2025-10"}, {"2025-10-31", "2025-10", ""}, {"2025-11-01", "2025-10", ""}} {
		m := answer(t, trial.CopySet(set), c.asOf, setting.Options{Topics: []string{"margin"}}).Margin
		if at := m.At(""); at < 0 || m.Months[at].Month != c.month || m.Open != c.open {
			t.Errorf("as of %s: month %d, open %q", c.asOf, at, m.Open)
		}
		if at := m.At("2024-05"); m.Months[at].Month != "2024-05" || m.At("1999-01") != -1 {
			t.Errorf("asked for May 2024: month %d", at)
		}
	}
}

// A month that is not over is told of where it is the only one.
func TestWithoutAFullMonth(t *testing.T) {
	if m := answer(t, record.Set{}, "2025-12-30", setting.Options{}).Margin; m.At("") != -1 {
		t.Errorf("month %d of none", m.At(""))
	}
	s := record.Set{Placements: []record.Placement{trial.Pour("1", "2025-12-02", "patio", "chute", 2, 2.2)},
		Jobs: []record.Job{{JobNo: "1", ContractPrice: trial.Cents(0), ActualCost: trial.Cents(50)}}}
	m := answer(t, s, "2025-12-30", setting.Options{}).Margin
	if m.At("") != 0 || m.Open != "2025-12" || len(m.fullMonths()) != 0 {
		t.Errorf("month %d, open %q", m.At(""), m.Open)
	}
	if why := m.Months[0].MarginPct.Why; why != figure.Reason(NoRevenue{}) {
		t.Errorf("%#v", why)
	}
}

// The largest steps on the side of the gap, two at most, and none of next to
// nothing: a half percent of $10,000 is $50.
func TestMostlyByHand(t *testing.T) {
	earned := func(pct, bid float64, steps map[Step]float64) *Earned {
		e := &Earned{Jobs: 1, Revenue: 10_000_00, MarginPct: figure.Total(pct, 1, "m"), BidMarginPct: figure.Total(bid, 1, "m")}
		for i, f := range e.Bridge.steps() {
			*f = figure.Total(steps[Step(i)], 1, "m")
		}
		return e
	}
	for _, c := range []struct {
		e    *Earned
		gap  int
		want []Step
	}{
		{earned(23.4, 27.2, map[Step]float64{StepDelay: -658, StepLaborEfficiency: -1034, StepOther: -354, StepUsage: 900}), -4, []Step{StepLaborEfficiency, StepDelay}},
		{earned(31, 30, map[Step]float64{StepLaborEfficiency: 80, StepCallback: -900, StepOther: 49}), 1, []Step{StepLaborEfficiency}},
		{earned(30.2, 29.8, map[Step]float64{StepDelay: -500}), 0, nil},
	} {
		gap, known := c.e.Gap()
		if got := c.e.Mostly(); !known || gap != c.gap || !slices.Equal(got, c.want) {
			t.Errorf("%d %v, want %d %v", gap, got, c.gap, c.want)
		}
	}
}

// A job's main step goes where the job went.
func TestMainStep(t *testing.T) {
	for _, c := range []struct {
		effects       Effects
		bid           bool
		main          Step
		better, known bool
	}{
		{Effects{StepVolume: -100, StepUsage: -50, StepLaborEfficiency: 900, StepDelay: -2000}, true, StepDelay, false, true},
		{Effects{StepVolume: -100, StepUsage: -50, StepLaborEfficiency: 900, StepDelay: -200}, true, StepLaborEfficiency, true, true},
		{Effects{}, true, 0, true, false},
		{Effects{StepVolume: -100}, false, StepVolume, false, false},
	} {
		j := Job{Effects: c.effects}
		if c.bid {
			j.BidCost = record.Some(record.Cents(1))
		}
		if main, better, known := j.MainStep(); main != c.main || better != c.better || known != c.known {
			t.Errorf("%v: %v %v %v", c.effects, main, better, known)
		}
	}
}

// A year with a job without a bid compares the others, and says so; a month
// refuses.
func TestJobsWithoutABid(t *testing.T) {
	s := record.Set{Placements: []record.Placement{trial.Pour("1", "2025-05-02", "patio", "chute", 2, 2.2), trial.Pour("2", "2025-05-03", "patio", "chute", 2, 2.2)},
		Jobs: []record.Job{{JobNo: "1", ContractPrice: trial.Cents(1000_00), BidCost: trial.Cents(700_00), ActualCost: trial.Cents(800_00)}, {JobNo: "2", ContractPrice: trial.Cents(1000_00), ActualCost: trial.Cents(100_00)}}}
	m := answer(t, s, "2025-12-30", setting.Options{}).Margin
	if m.Months[0].Other.Known() || m.Months[0].BidMarginPct.Why != figure.Reason(BidsLacking{Lacking: 1, Jobs: 2}) {
		t.Errorf("%+v", m.Months[0].BidMarginPct)
	}
	if y := m.Years[0]; y.AgainstBid.Value != -100 || y.AgainstBid.N != 1 || y.AgainstBid.Why != figure.Reason(BidsLacking{Lacking: 1, Jobs: 2, Compared: true}) || y.BidMarginPct.Value != 30 || y.MarginPct.Value != 55 {
		t.Errorf("%+v %+v", y.AgainstBid, y.BidMarginPct)
	}
}

// The standard is the company's own: over all jobs, hours expected of an
// average crew and hours worked agree within a twentieth, and a standard hour
// holds its share of waiting but the bridge does not count it twice.
func TestStandardHoursAreTheCompanysOwn(t *testing.T) {
	for seed := range uint64(10) {
		set, truth, err := invented.Generate(invented.Options{Seed: seed + 1, Until: trial.Day("2026-03-31")})
		if err != nil {
			t.Fatal(err)
		}
		h := record.NewHistory(trial.Day("2026-03-31"), set)
		model, err := work.FitHours(h, work.DefaultHoursPriors())
		if err != nil {
			t.Fatal(err)
		}
		of, working := deviations(h, model)
		var standard, worked, waited, settled float64
		for _, d := range of {
			standard, worked, waited = standard+d.standard, worked+d.worked, waited+d.waited
		}
		for i := range h.Placements.Len( // what an average, settled crew takes, by the truth
		) {
			p := h.Placements.At(i)
			mean := 0.0
			for _, c := range truth.Labor.Crews {
				mean += truth.Hours(p.AreaSqft().V, p.ThicknessIn().V, p.Method(), p.Reinforcement(), c.Name, work.Learned) / float64(len(truth.Labor.Crews))
			}
			settled += mean
		}
		settled += truth.Labor.WaitShare * waited
		if r := standard / settled; r < 0.93 || r > 1.07 {
			t.Errorf("seed %d: standard hours are %.3f of the true ones", seed+1, r)
		}
		trial.Near(t, "share of hours that is work", working, 1-waited/worked, 1e-12)
		if waited/worked < 0.01 || waited/worked > 0.2 {
			t.Errorf("seed %d: %v of hours waited", seed+1, waited/worked)
		}
	}
}
