package clock

import (
	"testing"
	"time"
)

// usual is a plant 25 minutes away that takes 10 to load a truck and sends one
// each 15, a crew that places a yard in 3 minutes, 10 to wash out, 90 in all.
var usual = Going{PlaceMinPerYd: 3, HaulMin: 25, LoadMin: 10, WashMin: 10, SpacingMin: 15, LimitMin: 90}

func plan(loads ...float64) Plan {
	return Plan{StartMin: 7 * 60, Loads: loads, Going: usual, EdgeMin: 60, Hours: DefaultStageHours()}
}

// row is a truck as a person writes it down.
type row struct {
	batched, leaves, arrives, starts, empty, gone, limit string
	slack, waits, crew                                   int
	down                                                 float64
}

func rows(d *Day) (all []row) {
	for _, t := range d.Trucks {
		all = append(all, row{t.Batched.Clock, t.Leaves.Clock, t.Arrives.Clock, t.Starts.Clock, t.Empty.Clock, t.Gone.Clock, t.LimitEnds.Clock, t.SlackMin, t.WaitsMin, t.CrewWaits, t.DownYd})
	}
	return all
}

// Days worked by hand. On the road 10 + 25 = 35 minutes; 90 from batching (ASTM
// C94, older editions).
func TestTrucksByHand(t *testing.T) {
	pump := plan(10, 6)
	pump.Going.PrimeMin, pump.PrimeYd = 10, 0.25
	onSpot := plan(10, 6)
	onSpot.Going.WashesOnSpot = true
	slow := plan(10, 10, 6)
	slow.Going.SpacingMin = 40
	clogged := Plan{StartMin: 7*60 + 59, NowMin: 7*60 + 39, Loads: []float64{7, 6, 8}, Out: []int{6*60 + 55, 7*60 + 25}, DownYd: 13, Going: usual, Hours: DefaultStageHours()}
	held := plan(10, 10)
	held.Held = &Held{Yd: 3, CallAtYd: 11, LeadMin: 45}
	night := plan(9)
	night.StartMin = 23*60 + 45
	for name, c := range map[string]struct {
		plan Plan
		want []row
		idle int
	}{
		// 7:00 − 0:35 = 6:25; 9 × 3 = 27 minutes; 6:25 + 1:30 = 7:55, 28 after 7:27.
		"one truck": {plan(9), []row{{"06:25", "06:35", "07:00", "07:00", "07:27", "07:37", "07:55", 28, 0, 0, 9}}, 0},
		// Each comes as the one ahead is empty: 7:30 and 8:00, so batched 6:55 and 7:25.
		"three trucks": {plan(10, 10, 6), []row{
			{"06:25", "06:35", "07:00", "07:00", "07:30", "07:40", "07:55", 25, 0, 0, 10},
			{"06:55", "07:05", "07:30", "07:30", "08:00", "08:10", "08:25", 25, 0, 0, 20},
			{"07:25", "07:35", "08:00", "08:00", "08:18", "08:28", "08:55", 37, 0, 0, 26}}, 0},
		// 10 minutes to prime, then 9.75 × 3 = 29.25, so 30.
		"pump": {pump, []row{
			{"06:25", "06:35", "07:00", "07:00", "07:40", "07:50", "07:55", 15, 0, 0, 10},
			{"07:05", "07:15", "07:40", "07:40", "07:58", "08:08", "08:35", 37, 0, 0, 16}}, 0},
		// The second may not stand there before 7:40.
		"washes out on the spot": {onSpot, []row{
			{"06:25", "06:35", "07:00", "07:00", "07:30", "07:40", "07:55", 25, 0, 0, 10},
			{"07:05", "07:15", "07:40", "07:40", "07:58", "08:08", "08:35", 37, 0, 10, 16}}, 10},
		// A truck each 40 minutes only: 6:25, 7:05, 7:45; the crew waits 10 for each.
		"slow plant": {slow, []row{
			{"06:25", "06:35", "07:00", "07:00", "07:30", "07:40", "07:55", 25, 0, 0, 10},
			{"07:05", "07:15", "07:40", "07:40", "08:10", "08:20", "08:35", 25, 0, 10, 20},
			{"07:45", "07:55", "08:20", "08:20", "08:38", "08:48", "09:15", 37, 0, 10, 26}}, 20},
		// The second of three trucks clogs at 7:39 with 3 of its 10 yd out, for 20
		// minutes. 7 yd are left in it: 7:59 + 0:21 = 8:20, 5 minutes to spare. The
		// third stands since 8:00 and waits 20. A fourth is batched 8:38 − 0:35 = 8:03.
		"a clog of 20 minutes": {clogged, []row{
			{"06:55", "07:05", "07:30", "07:59", "08:20", "08:30", "08:25", 5, 29, 0, 20},
			{"07:25", "07:35", "08:00", "08:20", "08:38", "08:48", "08:55", 17, 20, 0, 26},
			{"08:03", "08:13", "08:38", "08:38", "09:02", "09:12", "09:33", 31, 0, 0, 34}}, 0},
		// 11 yd are down at 7:30 + 0:03. 45 minutes later, 8:18, the crew has stood
		// since 8:00.
		"a load held back": {held, []row{
			{"06:25", "06:35", "07:00", "07:00", "07:30", "07:40", "07:55", 25, 0, 0, 10},
			{"06:55", "07:05", "07:30", "07:30", "08:00", "08:10", "08:25", 25, 0, 0, 20},
			{"07:43", "07:53", "08:18", "08:18", "08:27", "08:37", "09:13", 46, 0, 18, 23}}, 18},
		// Past midnight.
		"at night": {night, []row{{"23:10", "23:20", "23:45", "23:45", "00:12", "00:22", "00:40", 28, 0, 0, 9}}, 0},
	} {
		d := Make(c.plan)
		got := rows(d)
		if len(got) != len(c.want) || d.IdleMin != c.idle {
			t.Errorf("%s: %d trucks and %d idle minutes", name, len(got), d.IdleMin)
			continue
		}
		for i := range got {
			if got[i] != c.want[i] {
				t.Errorf("%s, truck %d:\n got %v\nwant %v", name, i+1, got[i], c.want[i])
			}
		}
	}
	if d := Make(night); d.Trucks[0].Empty.Day != 1 || d.Trucks[0].Starts.Day != 0 {
		t.Errorf("the night runs into day %d", d.Trucks[0].Empty.Day)
	}
}

// By hand: the call for the held load of the day above is at 7:33; one after 8:00
// + 0:60 − 0:45 = 8:15 would come to an edge that has set. With an edge that waits
// 15 minutes it comes too late, 3 minutes.
func TestCallByHand(t *testing.T) {
	p := plan(10, 10)
	p.Held = &Held{Yd: 3, CallAtYd: 11, LeadMin: 45}
	c := Make(p).Call
	if c.By.Clock != "07:33" || c.Latest.Clock != "08:15" || c.Arrives.Clock != "08:18" || c.IdleMin != 18 || !c.InTime || c.DownYd != 11 {
		t.Errorf("%+v", c)
	}
	p.EdgeMin = 15
	d := Make(p)
	if n := only(d, ColdCall); d.Call.InTime || n == nil || n.Min != 18 || n.Limit != 15 {
		t.Errorf("%+v, %+v", d.Call, d.Notes)
	}
	// Called at 5 yd, 7:15, it would stand there at 8:00 as the second is empty, and
	// is batched for that: 8:00 − 0:35.
	p.Held.CallAtYd = 5
	if d := Make(p); d.Call.By.Clock != "07:15" || d.Call.IdleMin != 0 || d.Trucks[2].Batched.Clock != "07:25" {
		t.Errorf("%+v", d.Call)
	}
}

func only(d *Day, kind Caution) *Note {
	for i := range d.Notes {
		if d.Notes[i].Kind == kind {
			return &d.Notes[i]
		}
	}
	return nil
}

// By hand: at 6 minutes a yard 10 yd take 60, and with 35 on the road that is 95 of
// 90. In 55 minutes 9 yd are out. A haul of 80 leaves nothing.
func TestWhatTheLimitDoesNotAllow(t *testing.T) {
	p := plan(10, 10)
	p.Going.PlaceMinPerYd = 6
	if n := only(Make(p), TooSlow); n == nil || n.Min != 5 || n.Yd != 9 || n.Truck != 1 || n.Limit != 90 {
		t.Errorf("%+v", n)
	}
	p.Loads = []float64{9, 9, 2}
	if n := only(Make(p), TooSlow); n != nil {
		t.Errorf("loads of 9 yd: %+v", n)
	}
	p.Going.HaulMin = 80
	d := Make(p)
	if n := only(d, TooFar); n == nil || n.Min != 90 || only(d, TooSlow) != nil {
		t.Errorf("%+v", d.Notes)
	}
	p.Loads, p.Going.HaulMin = []float64{10}, 72 // 8 minutes are left: 1¼ yd, which no plant is asked for
	if n := only(Make(p), TooFar); n == nil || n.Min != 82 || only(Make(p), TooSlow) != nil {
		t.Errorf("%+v", Make(p).Notes)
	}
	p = plan(10, 10)
	p.Going.SpacingMin, p.EdgeMin = 95, 60
	d = Make(p) // the second comes at 7:00 + 1:35, an hour and five after 7:30
	if n := only(d, BetweenTrucks); n == nil || n.Min != 65 || n.Truck != 2 {
		t.Errorf("%+v", d.Notes)
	}
	if n := only(d, SlowPlant); n == nil || n.Min != 65 || n.Limit != 95 {
		t.Errorf("%+v", d.Notes)
	}
}

// In the Eastern zone clocks went forward at 2:00 on 2026-03-08 and go back at 2:00
// on 2026-11-01 (the Energy Policy Act of 2005: second Sunday of March, first of
// November).
func TestClocksChange(t *testing.T) {
	place, err := time.LoadLocation("America/New_York")
	if err != nil {
		t.Fatal(err)
	}
	p := plan(9)
	p.Place, p.Day, p.StartMin = place, time.Date(2026, 3, 8, 0, 0, 0, 0, time.UTC), 60+45
	d := Make(p)
	// Batched 1:10; 27 minutes from 1:45 are 3:12 on the clock.
	if got := d.Trucks[0]; got.Batched.Clock != "01:10" || got.Empty.Clock != "03:12" || got.Empty.Min-got.Starts.Min != 27 || got.LimitEnds.Clock != "03:40" {
		t.Errorf("%+v", got)
	}
	if n := only(d, ClockChange); n == nil || n.Min != 60 || n.At.Clock != "03:00" {
		t.Errorf("%+v", d.Notes)
	}
	p.Day, p.StartMin = time.Date(2026, 11, 1, 0, 0, 0, 0, time.UTC), 6*60 // after they have gone back
	d = Make(p)
	if got := d.Trucks[0]; got.Starts.Clock != "06:00" || got.Starts.Min != 7*60 || got.Empty.Clock != "06:27" || only(d, ClockChange) != nil {
		t.Errorf("%+v", got)
	}
	if d.Date != "2026-11-01" || d.Zone != "America/New_York" {
		t.Errorf("%q, %q", d.Date, d.Zone)
	}
}

// The clog of 20 minutes from the kept plan of the day: of 10, 10, 6 and 8 yd, 13
// are out at 7:39, and work goes on at 7:59. The third, batched 7:25, is on its way;
// the fourth, planned for 8:18 − 0:35 = 7:43, is put off to 8:38 − 0:35 = 8:03. They
// keep their numbers.
func TestAKeptDayPlannedAgain(t *testing.T) {
	place := time.FixedZone("", -7*3600)
	p := plan(10, 10, 6, 8)
	p.Day, p.Place = time.Date(2026, 7, 14, 0, 0, 0, 0, time.UTC), place
	for name, kept := range map[string]*Day{"dated": Make(p), "undated": Make(plan(10, 10, 6, 8))} {
		if was := kept.Trucks[3]; was.Batched.Clock != "07:43" {
			t.Errorf("%s: %+v", name, was)
		}
		d := kept.Again(7*60+39, 20, 13, 3)
		want := []row{
			{"06:55", "07:05", "07:30", "07:59", "08:20", "08:30", "08:25", 5, 29, 0, 20},
			{"07:25", "07:35", "08:00", "08:20", "08:38", "08:48", "08:55", 17, 20, 0, 26},
			{"08:03", "08:13", "08:38", "08:38", "09:02", "09:12", "09:33", 31, 0, 0, 34}}
		got := rows(d)
		if len(got) != 3 || got[0] != want[0] || got[1] != want[1] || got[2] != want[2] || d.Trucks[0].N != 2 || d.Trucks[2].N != 4 {
			t.Errorf("%s:\n got %v\nwant %v", name, got, want)
		}
		// An hour's clog makes the second truck late: 8:39 + 0:21 = 9:00, 35 past 8:25.
		if n := only(kept.Again(7*60+39, 60, 13, 3), Late); n == nil || n.Truck != 2 || n.Min != 35 {
			t.Errorf("%s: %+v", name, n)
		}
	}
	// A load held back is called at once where enough is down, and no earlier.
	p = plan(10, 10)
	p.Held = &Held{Yd: 3, CallAtYd: 11, LeadMin: 45}
	kept := Make(p)
	if c := kept.Again(7*60+39, 20, 13, 3).Call; c == nil || c.By.Clock != "07:39" || c.Arrives.Clock != "08:24" || c.IdleMin != 4 {
		t.Errorf("%+v", c) // the second is empty at 7:59 + 0:21 = 8:20
	}
	if c := kept.Again(7*60+20, 0, 6, 3).Call; c == nil || c.By.Clock != "07:35" {
		t.Errorf("%+v", c) // 4 yd to 7:32, and the second at 7:32 + 0:03
	}
	if d := kept.Again(7*60+20, 0, 6, 0); d.Call != nil || len(d.Trucks) != 2 {
		t.Errorf("%+v: nothing is to be called in", d.Call)
	}
}
