package survival

import (
	"math"
	"math/rand/v2"
	"testing"
)

// weatherRows makes n placements whose callbacks depend on five covariates, as
// records of many years would show them.
func weatherRows(n int, share float64, day bool) CoxData {
	rng := rand.New(rand.NewPCG(5, 6))
	d := CoxData{Time: make([]float64, n), Event: make([]bool, n)}
	beta := []float64{.25, .1, -.15, .08, -.45}
	for range beta {
		d.X = append(d.X, make([]float64, n))
	}
	for i := range n {
		lp := 0.
		for j, b := range beta {
			d.X[j][i] = rng.NormFloat64()
			if j == 4 {
				d.X[j][i] = float64(rng.IntN(2))
			}
			lp += b * d.X[j][i]
		}
		follow := math.Ceil(2922 * float64(n-i) / float64(n))
		t := 1461 / share * math.Pow(rng.ExpFloat64()*math.Exp(-lp), 1/1.3)
		if day {
			t = math.Ceil(t)
		}
		d.Time[i], d.Event[i] = min(t, follow), t <= follow
	}
	return d
}

func BenchmarkCox(b *testing.B) {
	for _, size := range sizes {
		d := weatherRows(size.n, .1, true)
		b.Run(size.name, func(b *testing.B) {
			for b.Loop() {
				if _, err := FitCox(d, CoxOptions{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// Hostile shapes: half of all rows called back, on whole days and at times all
// their own; every callback on one day; ten thousand strata.
func BenchmarkCoxHostile(b *testing.B) {
	const n = 1_000_000
	oneDay := weatherRows(n, 1, true)
	for i, e := range oneDay.Event {
		if e {
			oneDay.Time[i] = 30
		}
	}
	strata := weatherRows(n, .1, true)
	strata.Stratum = make([]int, n)
	for i := range strata.Stratum {
		strata.Stratum[i] = i % 10_000
	}
	for _, shape := range []struct {
		name string
		data CoxData
	}{{"half called back", weatherRows(n, 1.5, true)}, {"no ties", weatherRows(n, 1.5, false)}, {"one day", oneDay}, {"strata", strata}} {
		b.Run(shape.name, func(b *testing.B) {
			for b.Loop() {
				if _, err := FitCox(shape.data, CoxOptions{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// A bootstrap of the standardised risk: 600 placements, Firth's penalty, one
// draw a round.
func BenchmarkCoxRefit(b *testing.B) {
	d := weatherRows(600, 1, true)
	c, err := FitCox(d, CoxOptions{Ties: Breslow, Firth: true})
	if err != nil {
		b.Fatal(err)
	}
	rng := rand.New(rand.NewPCG(9, 10))
	weight, refits := make([]float64, 600), c.Refits()
	for b.Loop() {
		clear(weight)
		for range weight {
			weight[rng.IntN(len(weight))]++
		}
		again, err := refits.Refit(weight)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := again.StandardisedRisk(365, Arm{4: 0}, Arm{4: 1}); err != nil {
			b.Fatal(err)
		}
	}
}
