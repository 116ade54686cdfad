package visits

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"pourback/analysis/cracks"
	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
	"pourback/ingest/record"
)

// visitedHistory is n slabs of eight years with the visits of the plan, most of
// them made, and a few callbacks.
func visitedHistory(n int) *record.History {
	r := rand.New(rand.NewPCG(1, 2))
	var s record.Set
	start, end := trial.Day("2018-01-01"), trial.Day("2025-12-31")
	s.Placements = make([]record.Placement, n)
	for i := range s.Placements {
		p := &s.Placements[i]
		p.JobNo, p.Placement, p.PlacedOn, p.Use = fmt.Sprintf("J%07d", i/2), string(rune('A'+i%2)), start+record.Date(i*2900/n), "patio"
		p.AreaSqft, p.ThicknessIn, p.JointSpacingFt, p.Crew = record.Some(400.0), record.Some(4.0), record.Some(float64(6+r.IntN(8))), fmt.Sprintf("Crew %d", r.IntN(12))
		p.Reinforcement, p.Curing, p.AirTempF = []string{"mesh", "rebar"}[r.IntN(2)], []string{"none", "water"}[r.IntN(2)], record.Some(40+60*r.Float64())
		for _, d := range []int{1, 7, 28, 180, 365} {
			on := p.PlacedOn + record.Date(d+r.IntN(1+d/15))
			if on > end || r.IntN(12) == 0 {
				continue
			}
			v := record.Visit{JobNo: p.JobNo, Placement: p.Placement, SeenOn: on, Why: "planned", Finding: "sound"}
			if r.IntN(40) == 0 {
				v.Finding, v.WidthIn = "crack", record.Some(0.01)
			}
			if r.IntN(120) == 0 {
				v.Why, v.Finding, v.ResolvedOn, v.Cost = "callback", "crack", on+record.Date(r.IntN(40)), record.Some(record.Cents(70000))
			}
			s.Visits = append(s.Visits, v)
		}
	}
	return record.NewHistory(end, s)
}

func BenchmarkVisits(b *testing.B) {
	for _, n := range []int{10_000, 100_000, 1_000_000} {
		h := visitedHistory(n)
		opt, _ := setting.Options{Topics: []string{setting.VisitsTopic}}.Complete()
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				Of(h, cracks.SlabsOf(h, opt), opt)
			}
		})
	}
}
