package analysis

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"pourback/ingest/record"
)

// flatHistory is a job log of n placements, three in four jobs with one.
func flatHistory(n int) *record.History {
	r := rand.New(rand.NewPCG(1, 2))
	s := record.Set{Placements: make([]record.Placement, n)}
	start, job, left := day("2018-01-01"), 0, 0
	for i := range s.Placements {
		if left == 0 {
			job++
			if left = 1; r.Float64() < 0.25 {
				left = 2 + r.IntN(2)
			}
		}
		left--
		p := &s.Placements[i]
		p.JobNo, p.Placement, p.PlacedOn = fmt.Sprintf("J%07d", job), string(rune('A'+left)), start+record.Date(i*2900/n)
		p.Use, p.Reinforcement, p.Crew, p.Method = "patio", "mesh", fmt.Sprintf("Crew %d", 1+r.IntN(12)), "chute"
		p.AreaSqft, p.ThicknessIn = record.Some(100+900*r.Float64()), record.Some(4.0)
		p.MeasuredThicknessIn = record.Some(4 + 0.2*r.NormFloat64())
		neat := p.Neat().V
		p.PlannedYd, p.DeliveredYd, p.LeftoverYd = record.Some(neat*1.08), record.Some(neat*(1.05+0.05*r.NormFloat64())), record.Some(0.25)
		p.CrewSize, p.DelayMin = record.Some[int64](4), record.Some(int64(r.IntN(30)))
		p.LaborHours = record.Some(p.AreaSqft.V / 15 * (0.8 + 0.4*r.Float64()))
		bid := 1000 + 10*p.AreaSqft.V
		p.Log.BidCost = record.Some(record.Cents(100 * bid))
		p.Log.ActualCost = record.Some(record.Cents(100 * bid * (0.9 + 0.25*r.Float64())))
		p.Log.ContractPrice = record.Some(record.Cents(135 * bid))
		if i > 10 && r.IntN(8) == 0 {
			p.Log.WonFrom = s.Placements[r.IntN(i)].JobNo
		}
	}
	return record.NewHistory(day("2025-12-31"), s)
}

func BenchmarkMargin(b *testing.B) {
	for _, n := range []int{100_000, 1_000_000} {
		h := flatHistory(n)
		model, err := FitHours(h, DefaultHoursPriors())
		if err != nil {
			b.Fatal(err)
		}
		opt, _ := Options{}.complete()
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				margin(h, opt, model)
			}
		})
	}
}

func BenchmarkFindings(b *testing.B) {
	for _, n := range []int{100_000, 1_000_000} {
		h := flatHistory(n)
		f, err := Run(h, Options{Topics: []string{"crews", "pump", "margin"}})
		if err != nil {
			b.Fatal(err)
		}
		opt, _ := Options{}.complete()
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				findings(h, f, opt)
			}
		})
	}
}
