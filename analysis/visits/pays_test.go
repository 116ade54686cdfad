package visits

import (
	"fmt"
	"slices"
	"testing"

	"pourback/analysis/figure"
	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
	"pourback/ingest/record"
)

// A drive of 40 minutes at $48 an hour and 20 miles at 70 ¢ is $46. At one site
// two jobs of $30 and $20 pay for it together, at another one of $45 does not; an
// open callback is gone to whatever it takes. What does not pay waits, by site.
func TestTripsThatPay(t *testing.T) {
	plan := setting.DefaultVisitPlan()
	trial.Near(t, "drive", plan.DriveCost(4800), 46, 1e-9)
	site := func(job, at string) record.Job { return record.Job{JobNo: job, Site: at} }
	h := record.NewHistory(trial.Day("2025-06-01"), record.Set{
		Placements: []record.Placement{trial.Bare("J1", "2025-05-01"), trial.Bare("J2", "2025-05-01"), trial.Bare("J3", "2025-05-01"), trial.Bare("J4", "2025-05-01"), trial.Bare("J5", "2025-05-01"), trial.Bare("J6", "2025-05-01")},
		Jobs:       []record.Job{site("J1", "Red Gate Road"), site("J2", "RED GATE ROAD"), site("J3", "Mesquite Ln"), site("J4", "Mesquite Ln"), site("J5", ""), site("J6", "Fox Run")}})
	due := func(job, at string, worth float64) DueVisit {
		return DueVisit{JobNo: job, Site: at, Placement: "A", Worth: figure.Total(worth, 1, "")}
	}
	v := &Visits{Due: []DueVisit{due("J1", "Red Gate Road", 30), due("J3", "Mesquite Ln", 25), due("J5", "", 3)}, Overdue: []DueVisit{due("J2", "RED GATE ROAD", 20), due("J4", "Mesquite Ln", 20)},
		Callbacks: Callbacks{Open: []OpenCallback{{JobNo: "J6", Placement: "A", Site: "Fox Run", Kind: "crack", AgeDays: 9}}}}
	a := &after{h: h, cost: figure.Assumption{Value: 30}, drive: 46}
	a.plan(v)
	said := func() (said []string) {
		for _, trip := range v.Trips {
			said = append(said, trip.JobNo)
		}
		for _, p := range v.PassBy {
			said = append(said, fmt.Sprintf("%s: %v of $%v", p.Site, len(p.Jobs), p.Worth.Value))
		}
		return said
	}
	if got, want := said(), []string{"J1", "J6", "J2", "Mesquite Ln: 2 of $45", ": 1 of $3"}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
	a.drive = 0 // none to weigh
	if a.plan(v); len(v.Trips) != 6 || len(v.PassBy) != 0 {
		t.Errorf("without a drive %q", said())
	}
}

// A first import of old records, without a visit in them, has nothing overdue:
// the plan begins now. It opened with every slab overdue.
func TestFirstImportPlansFromNow(t *testing.T) {
	var s record.Set
	for i := range 40 {
		s.Placements = append(s.Placements, trial.Bare(fmt.Sprintf("J%02d", i), "2025-03-01"))
		s.Placements[i].PlacedOn -= record.Date(5 * i)
	}
	s.Placements = append(s.Placements, trial.Bare("J40", "2025-05-29"))
	v := VisitsOf(t, s, "2025-06-01", setting.Options{})
	if len(v.Overdue) != 0 || v.Kept.Planned != 0 || v.PlannedFrom.Date != trial.Day("2025-06-01") || len(v.Due) == 0 {
		t.Errorf("%d overdue, %d planned from %s, %d due", len(v.Overdue), v.Kept.Planned, v.PlannedFrom, len(v.Due))
	}
	s.Visits = append(s.Visits, trial.Look("J40", "2025-05-30", "sound"))
	if v := VisitsOf(t, s, "2025-06-05", setting.Options{}); v.PlannedFrom.Date != trial.Day("2025-05-30") || v.Kept.Planned == 0 {
		t.Errorf("%+v", v.Kept)
	}
}

// A new pour outside a guide is one to look at first only where there is a reason
// to worry: with the usual risk and $5 at stake it is not.
func TestLookFirstTakesAWorry(t *testing.T) {
	p := trial.Bare("K", "2025-05-20")
	p.JointSpacingFt = record.Some(16.0)
	e := VisitsOf(t, record.Set{Placements: []record.Placement{p}}, "2025-06-10", setting.Options{}).Early
	if len(e.Listed) != 1 || e.First != nil {
		t.Errorf("%+v", e.First)
	}
	for name, c := range map[string]struct {
		pour  EarlyPour
		drive float64
		want  bool
	}{
		"a sign that is worse here": {EarlyPour{worse: 1}, 46, true}, "twice the risk": {EarlyPour{risky: true}, 46, true}, "the drive at stake": {EarlyPour{Worth: figure.Total(50, 1, "")}, 46, true},
		"less than the drive": {EarlyPour{Worth: figure.Total(40, 1, "")}, 46, false}, "no drive": {EarlyPour{Worth: figure.Total(1, 1, "")}, 0, false},
	} {
		if got := c.pour.worry(c.drive); got != c.want {
			t.Errorf("%s: %v", name, got)
		}
	}
}
