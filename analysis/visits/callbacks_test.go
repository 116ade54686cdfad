package visits

import (
	"fmt"
	"reflect"
	"testing"

	"pourback/analysis/cracks"
	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
	"pourback/ingest/record"
)

func TestCallsAreClosed(t *testing.T) {
	set := record.Set{Placements: []record.Placement{trial.Bare("J1", "2025-01-01"), trial.Bare("J2", "2025-01-01"), trial.Bare("J3", "2025-01-01"), trial.Bare("J4", "2025-01-01"), trial.Bare("J5", "2025-01-01")},
		Visits: []record.Visit{
			trial.Called("J1", "2025-02-01", "crack", "", 0), trial.Called("J1", "2025-03-01", "crack", "2025-03-11", 500), // closed with the second
			trial.Called("J2", "2025-02-01", "crack", "", 0), trial.Look("J2", "2025-06-30", "sound"), // seen sound
			trial.Called("J3", "2025-02-01", "crack", "", 0), trial.Called("J3", "2025-03-01", "scaling", "2025-03-05", 300), // another kind closes nothing
			trial.Called("J4", "2025-02-01", "sound", "2025-02-02", 0)}} // nothing was found
	set.Placements[4].CallbackOn, set.Placements[4].CallbackKind, set.Placements[4].CallbackCost = trial.Day("2025-05-05"), "settlement", record.Some(record.Cents(12345)) // of a job log
	c := VisitsOf(t, set, "2025-08-01", setting.Options{}).Callbacks
	if len(c.Open) != 1 || c.Open[0].JobNo != "J3" || c.Open[0].Kind != "crack" || c.Open[0].AgeDays != 181 {
		t.Errorf("open: %+v", c.Open)
	}
	if c.Calls != 7 || c.Slabs != 5 || c.Undated != 1 {
		t.Errorf("%d calls about %d slabs, %d undated", c.Calls, c.Slabs, c.Undated)
	}
	trial.Near(t, "cost", c.Cost.Value, 923.45, 1e-9)
	kinds := map[string]int{}
	for _, r := range c.Groups[0].Rows {
		kinds[r.Name] = r.Calls
	}
	if fmt.Sprint(kinds) != "map[crack:4 other:1 scaling:1 settlement:1]" {
		t.Errorf("kinds %v", kinds)
	}
	// days to close: 1, 4, 10, 38, 149, and 181 so far: half by day 10, the next on day 38
	trial.Near(t, "median", c.DaysToClose.Value, 24, 1e-9)
	if c.Control.Why == nil || len(c.Returned) != 0 {
		t.Errorf("%+v", c.Control)
	}
}

// A callback that nobody closed on paper for half a year brings nobody there any
// more, so the planned visits of its slab come back.
func TestLongOpenCallbacksLeaveThePlan(t *testing.T) {
	s := record.Set{Placements: []record.Placement{trial.Bare("J1", "2025-01-01")}, Visits: []record.Visit{trial.Called("J1", "2025-02-01", "ponding", "", 0)}}
	stands := map[string]StandCode{"2025-06-30": StandOpen, "2025-12-30": StandUnclosed}
	for asOf, want := range map[string]int{"2025-06-30": 0, "2025-12-30": 1} { // day 180, and the end of the warranty
		v := VisitsOf(t, s, asOf, setting.Options{Visits: setting.VisitOptions{Slab: "J1/A"}})
		if len(v.Due) != want || len(v.Callbacks.Open) != 1 || v.Stories[0].Stands.On != trial.Day("2025-02-01") || v.Stories[0].Stands.Code != stands[asOf] {
			t.Errorf("%s: %d due, %+v", asOf, len(v.Due), v.Stories[0].Stands)
		}
	}
}

// A story alone is told as it is beside all else.
func TestAStoryAlone(t *testing.T) {
	s := record.Set{Visits: []record.Visit{trial.Called("J1", "2025-02-01", "ponding", "", 0), trial.Called("J3", "2025-03-01", "crack", "", 0), trial.Look("J2", "2025-02-10", "crack"), trial.Look("J4", "2025-02-10", "sound")}}
	for _, job := range []string{"J1", "J2", "J3", "J4"} {
		s.Placements = append(s.Placements, trial.Bare(job, "2025-01-01"))
	}
	for _, slab := range []string{"J1/A", "J2/A", "J3/A"} {
		ask := setting.VisitOptions{Slab: slab}
		beside := VisitsOf(t, s, "2025-06-01", setting.Options{Visits: ask})
		ask.StoryAlone = true
		alone := VisitsOf(t, s, "2025-06-01", setting.Options{Visits: ask})
		if len(alone.Stories) != 1 || !reflect.DeepEqual(alone.Stories, beside.Stories) || !reflect.DeepEqual(alone.Assumptions, beside.Assumptions) {
			t.Errorf("%s: %+v, and beside all else %+v", slab, alone.Stories, beside.Stories)
		}
		if beside.Seen.Looked == 0 || alone.Seen.Looked != 0 {
			t.Errorf("%s: %d slabs looked at beside, %d alone", slab, beside.Seen.Looked, alone.Seen.Looked)
		}
	}
}

// A job log does not say when a callback was closed: nobody knows whether one is
// open, and no share of visits is told where none was ever written down.
func TestJobLogLeavesOpenCallbacksUnknown(t *testing.T) {
	p := trial.Bare("J1", "2025-01-01")
	p.CallbackOn, p.CallbackKind = trial.Day("2025-05-05"), "crack"
	v := VisitsOf(t, record.Set{Placements: []record.Placement{p}}, "2025-06-01", setting.Options{Visits: setting.VisitOptions{Slab: "j1/a"}})
	if c := v.Callbacks; len(c.Open) != 0 || c.Undated != 1 {
		t.Errorf("%d open, %d undated", len(c.Open), c.Undated)
	}
	if stands := v.Stories[0].Stands; stands.Code != StandLogged || stands.Kind != "crack" {
		t.Errorf("%+v", stands)
	}
	if v.Kept.Share.Known() || v.Kept.Planned != 0 || v.Kept.Share.Why != (NoVisits{}) {
		t.Errorf("%+v", v.Kept)
	}
}

// What comes back after a repair: a call after the first was closed.
func TestCalledAgainByHand(t *testing.T) {
	var s record.Set
	for i := range 6 {
		job := fmt.Sprintf("J%d", i)
		s.Placements = append(s.Placements, trial.Bare(job, "2025-01-01"))
		s.Visits = append(s.Visits, trial.Called(job, "2025-02-01", "ponding", "2025-02-10", 100))
	}
	s.Visits = append(s.Visits, trial.Called("J3", "2025-04-01", "ponding", "2025-04-02", 150))
	c := VisitsOf(t, s, "2025-06-01", setting.Options{}).Callbacks
	if len(c.Returned) != 1 || c.Returned[0].JobNo != "J3" || c.Returned[0].Cost.Value != 250 || c.Again.Value != 1./6 || c.Again.N != 6 {
		t.Errorf("%+v, %+v", c.Returned, c.Again)
	}
}

// Thirty months with 20 slabs under warranty and a call each, then one with 9:
// so many have a chance of 7.3e-7 where 18/19 are usual (Poisson tail, R
// ppois(8, 18/19, lower.tail = FALSE)), and the month stands out.
func TestCallControlFindsABadMonth(t *testing.T) {
	var s record.Set
	for i := range 20 {
		p := trial.Bare(fmt.Sprintf("J%02d", i), "2022-01-01")
		s.Placements = append(s.Placements, p)
		s.Jobs = append(s.Jobs, record.Job{JobNo: p.JobNo, WarrantyMonths: record.Some(int64(60))})
	}
	for m := range 30 {
		on := record.DateOf(2022, 2, 10).Time().AddDate(0, m, 0)
		v := trial.Called(fmt.Sprintf("J%02d", m%20), "2022-01-01", "crack", "", 0)
		v.SeenOn = record.DayOf(on)
		v.ResolvedOn = v.SeenOn
		s.Visits = append(s.Visits, v)
	}
	for k := range 8 {
		s.Visits = append(s.Visits, trial.Called(fmt.Sprintf("J%02d", k), "2024-07-20", "crack", "2024-07-21", 0))
	}
	c := VisitsOf(t, s, "2024-08-15", setting.Options{}).Callbacks.Control
	last := c.Points[len(c.Points)-1]
	if last.Month != "2024-07" || last.Calls != 9 || !last.Signal || c.Signal == nil || c.Signal.Month != last.Month {
		t.Errorf("%+v: %+v", last, c.Signal)
	}
	trial.Near(t, "expected", last.Expected, 18./19, 0.05) // 18 calls in the 19 months of the base, January without one
	if !(last.SoMany > 1e-7 && last.SoMany < 2e-6) {
		t.Errorf("so many have a chance of %v", last.SoMany)
	}
	signals := 0
	for _, p := range c.Points {
		signals += int(cracks.Indicator(p.Signal))
	}
	if signals != 1 || c.Months != 31 || c.Base != 19 {
		t.Errorf("%d signals in %d months on %d", signals, c.Months, c.Base)
	}
}
