package survival

import (
	"math"
	"math/rand/v2"
	"testing"
)

// callbacks makes n rows as the crew's records would: whole days, a data date
// that censors, and about the given share of events.
func callbacks(n int, share float64) (times []float64, event []bool) {
	rng := rand.New(rand.NewPCG(1, 2))
	times, event = make([]float64, n), make([]bool, n)
	for i := range times {
		follow := math.Ceil(2922 * float64(n-i) / float64(n))
		t := math.Ceil(rng.ExpFloat64() * 1461 / share)
		times[i], event[i] = min(t, follow), t <= follow
	}
	return times, event
}

var sizes = []struct {
	name string
	n    int
}{{"1k", 1_000}, {"100k", 100_000}, {"1M", 1_000_000}}

func BenchmarkKaplanMeier(b *testing.B) {
	for _, size := range sizes {
		times, event := callbacks(size.n, .04)
		b.Run(size.name, func(b *testing.B) {
			for b.Loop() {
				if _, err := KaplanMeier(times, event); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// Hostile shapes: every row on one day, half of all rows called back, times
// that are no whole days.
func BenchmarkKaplanMeierHostile(b *testing.B) {
	const n = 1_000_000
	oneDay, all := make([]float64, n), make([]bool, n)
	half, halfEvent := callbacks(n, .5)
	hours := make([]float64, n)
	rng := rand.New(rand.NewPCG(3, 4))
	for i := range oneDay {
		oneDay[i], all[i] = 30, true
		hours[i] = half[i] + rng.Float64()
	}
	for _, shape := range []struct {
		name  string
		times []float64
		event []bool
	}{{"one day", oneDay, all}, {"half called back", half, halfEvent}, {"hours", hours, halfEvent}} {
		b.Run(shape.name, func(b *testing.B) {
			for b.Loop() {
				if _, err := KaplanMeier(shape.times, shape.event); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkKaplanMeierBy(b *testing.B) {
	for _, size := range sizes {
		times, event := callbacks(size.n, .04)
		group := make([]int, size.n)
		for i := range group {
			group[i] = i * 7 % 4
		}
		b.Run(size.name, func(b *testing.B) {
			for b.Loop() {
				if _, _, err := KaplanMeierBy(times, event, group); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// Ten thousand groups of a hundred rows.
func BenchmarkKaplanMeierManyGroups(b *testing.B) {
	const n = 1_000_000
	times, event := callbacks(n, .04)
	group := make([]int, n)
	for i := range group {
		group[i] = i % 10_000
	}
	for b.Loop() {
		if _, _, err := KaplanMeierBy(times, event, group); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkLogRank(b *testing.B) {
	for _, size := range sizes {
		times, event := callbacks(size.n, .04)
		group := make([]int, size.n)
		for i := range group {
			group[i] = i * 7 % 4
		}
		b.Run(size.name, func(b *testing.B) {
			for b.Loop() {
				if _, err := LogRankTest(times, event, group, nil); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
