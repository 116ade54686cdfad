package concrete

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
	"pourback/ingest/record"
)

// flatSet is n placements of a job log, with so many uses and every base and
// method of the vocabulary.
func flatSet(n, uses int) record.Set {
	rng := rand.New(rand.NewPCG(7, 7))
	words := func(column string) []string { return record.Placements.Column(column).Words.Words }
	methods, bases := words("method"), words("base")
	s := record.Set{Placements: make([]record.Placement, n)}
	for i := range s.Placements {
		p := &s.Placements[i]
		*p = record.Placement{JobNo: fmt.Sprintf("J%08d", i), Placement: "A", PlacedOn: trial.Day("2024-01-01") + record.Date(i%700),
			Use: fmt.Sprintf("use %d", rng.IntN(uses)), Method: methods[rng.IntN(len(methods))], Base: bases[rng.IntN(len(bases))],
			Crew: fmt.Sprintf("crew %d", rng.IntN(12)), AreaSqft: record.Some(math.Round(150 + 700*rng.Float64())), ThicknessIn: record.Some(4.0)}
		neat := p.Neat().V
		used := neat * (1.06 + 0.2/neat + 0.045*rng.NormFloat64())
		p.PlannedYd = record.Some(math.Ceil(4*1.08*neat) / 4)
		p.LeftoverYd = record.Some(max(0, math.Round(10*(p.PlannedYd.V-used))/10))
		p.DeliveredYd = record.Some(max(p.PlannedYd.V, math.Ceil(4*used)/4))
	}
	return s
}

func BenchmarkOverage(b *testing.B) {
	for _, n := range []int{1_000, 100_000, 1_000_000} {
		benchOverage(b, n, 8)
	}
}

func BenchmarkOverageHostile(b *testing.B) {
	benchOverage(b, 100_000, 10_000)
	benchOverage(b, 1_000_000, 10_000)
}

func benchOverage(b *testing.B, n, uses int) {
	b.Run(fmt.Sprintf("n=%d/uses=%d", n, uses), func(b *testing.B) {
		h := record.NewHistory(trial.Day("2025-12-31"), flatSet(n, uses))
		b.ReportAllocs()
		for b.Loop() {
			Of(h, setting.Options{Level: 0.90})
		}
	})
}
