package visits

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
	"pourback/ingest/record"
)

// anyVisits is a history in which everything that may be missing sometimes is,
// and in which visits contradict each other and the pours.
func anyVisits(seed uint64) record.Set {
	dice := rand.New(rand.NewPCG(seed, 17))
	pick := func(words ...string) string { return words[dice.IntN(len(words))] }
	maybe := func(v float64) record.Number {
		if dice.IntN(4) == 0 {
			return record.Number{}
		}
		return record.Some(v)
	}
	var s record.Set
	jobs := 1 + dice.IntN(40)
	for j := range jobs {
		job := record.Job{JobNo: fmt.Sprintf("J%02d", j)}
		if dice.IntN(3) > 0 {
			job.WarrantyMonths = record.Some(int64(dice.IntN(30)))
			job.ContractPrice, job.ActualCost = record.Some(record.Cents(dice.IntN(900000))), record.Some(record.Cents(dice.IntN(900000)))
		}
		s.Jobs = append(s.Jobs, job)
		for k := range 1 + dice.IntN(3) {
			p := record.Placement{JobNo: job.JobNo, Placement: string(rune('A' + k)), PlacedOn: trial.Day("2025-12-31") - record.Date(dice.IntN(900)), Use: pick("patio", "curb", ""),
				AreaSqft: maybe(400), ThicknessIn: maybe(4), MeasuredThicknessIn: maybe(3 + 2*dice.Float64()), JointSpacingFt: maybe(6 + 10*dice.Float64()),
				Reinforcement: pick("mesh", "rebar", "none", ""), JointCut: pick("saw", "tooled", "early-entry", "saw+tooled", ""), SawHours: maybe(30 * dice.Float64()),
				Curing: pick("none", "water", ""), AirTempF: maybe(30 + 70*dice.Float64()), ConcreteTempF: maybe(80), HumidityPct: maybe(30), WindMPH: maybe(10),
				Crew: pick("Heron", "Wren", ""), Mix: pick("North 3500", ""), Method: pick("pump", "chute")}
			if dice.IntN(8) == 0 {
				p.CallbackOn, p.CallbackKind = p.PlacedOn+record.Date(dice.IntN(500)), pick("crack", "scaling", "")
			}
			s.Placements = append(s.Placements, p)
			for range dice.IntN(6) {
				v := record.Visit{JobNo: p.JobNo, Placement: pick(p.Placement, p.Placement, ""), SeenOn: p.PlacedOn + record.Date(dice.IntN(500)-10), Why: pick("planned", "planned", "callback"),
					Finding: pick("sound", "sound", "crack", "scaling", "other"), WidthIn: maybe(0.02 * dice.Float64()), LengthFt: maybe(5), Note: "x"}
				if dice.IntN(2) == 0 {
					v.ResolvedOn = v.SeenOn + record.Date(dice.IntN(100))
				}
				if dice.IntN(2) == 0 {
					v.Cost = record.Some(record.Cents(dice.IntN(200000)))
				}
				s.Visits = append(s.Visits, v)
			}
			on := record.MomentOf(p.PlacedOn, 7*3600)
			s.Loads = append(s.Loads, record.Load{JobNo: p.JobNo, Placement: p.Placement, TicketNo: "1", Yards: record.Some(5.0), BatchedAt: on, PourEnd: on + record.Moment(60*dice.IntN(150)), WaterAddedGal: maybe(8 * dice.Float64())})
		}
	}
	return s
}

// Whatever the records hold, every figure is sound, and the lists hang together.
func TestAnyVisitsAreAnswered(t *testing.T) {
	for seed := range uint64(60) {
		const asOf = "2025-12-31"
		v := VisitsOf(t, anyVisits(seed), asOf, setting.Options{Seed: seed})
		trial.Sound(t, fmt.Sprintf("seed %d", seed), v)
		v.hangTogether(t, seed, trial.Day(asOf))
	}
}

func (v *Visits) hangTogether(t *testing.T, seed uint64, asOf record.Date) {
	t.Helper()
	stops, trips := map[string]bool{}, slices.Clone(v.Trips)
	for _, p := range v.PassBy {
		trips = append(trips, p.Jobs...)
		if p.Worth.Value >= v.DriveCost {
			t.Errorf("seed %d: %+v pays for a drive of %v", seed, p, v.DriveCost)
		}
	}
	for _, trip := range trips {
		for _, p := range trip.Placements {
			stops[trip.JobNo+"/"+p] = true
		}
	}
	for _, d := range v.Due {
		if d.PlannedOn.Date < asOf || d.PlannedOn.Date > v.DueBy.Date || !stops[d.JobNo+"/"+d.Placement] {
			t.Errorf("seed %d: due %+v", seed, d)
		}
	}
	late := map[string]bool{}
	for _, d := range v.Overdue {
		slab := d.JobNo + "/" + d.Placement
		if d.PlannedOn.Date >= asOf || late[slab] || !stops[slab] {
			t.Errorf("seed %d: overdue %+v", seed, d)
		}
		late[slab] = true
	}
	for i := 1; i < len(v.Overdue); i++ {
		if v.Overdue[i].Worth.Value > v.Overdue[i-1].Worth.Value {
			t.Errorf("seed %d: the worthiest do not come first", seed)
		}
	}
	if v.Kept.Made > v.Kept.Planned || len(v.Callbacks.Open) > v.Callbacks.Calls {
		t.Errorf("seed %d: %+v, %d open of %d", seed, v.Kept, len(v.Callbacks.Open), v.Callbacks.Calls)
	}
	slabs, calls := 0, 0
	for _, m := range v.Warranty.Months {
		slabs += m.Placements
	}
	for _, m := range v.Callbacks.Months {
		calls += m.Calls
	}
	if slabs != v.Warranty.Placements || calls != v.Callbacks.Calls || v.Warranty.Callbacks.Known() && v.Warranty.Callbacks.High > float64(slabs) {
		t.Errorf("seed %d: %d slabs by month of %d, %d calls of %d", seed, slabs, v.Warranty.Placements, calls, v.Callbacks.Calls)
	}
	for _, at := range v.Seen.Ages {
		if b := at.Between; b.Known() && !(at.AtLeast.Value <= b.Value && b.Value <= at.AtMost.Value) {
			t.Errorf("seed %d: %+v", seed, at)
		}
	}
}

// The order of rows does not matter.
func TestVisitsDoNotHangOnTheOrderOfRows(t *testing.T) {
	for seed := range uint64(5) {
		s := anyVisits(seed)
		for i := range s.Visits { // two visits of one day may contradict each other, and then the first counts
			s.Visits[i].SeenOn += record.Date(7 * i)
			s.Visits[i].ResolvedOn = 0
		}
		turned := trial.CopySet(s)
		dice := rand.New(rand.NewPCG(seed, 3))
		dice.Shuffle(len(turned.Visits), func(i, j int) { turned.Visits[i], turned.Visits[j] = turned.Visits[j], turned.Visits[i] })
		dice.Shuffle(len(turned.Placements), func(i, j int) {
			turned.Placements[i], turned.Placements[j] = turned.Placements[j], turned.Placements[i]
		})
		one, _ := json.Marshal(VisitsOf(t, s, "2026-12-31", setting.Options{}))
		other, _ := json.Marshal(VisitsOf(t, turned, "2026-12-31", setting.Options{}))
		if string(one) != string(other) {
			t.Errorf("seed %d:\n%s\n%s", seed, one, other)
		}
	}
}
