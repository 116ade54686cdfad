package control_test

import (
	"math/rand/v2"
	"testing"

	"pourback/analysis/stat/control"
)

func BenchmarkXmR(b *testing.B) {
	r := rand.New(rand.NewPCG(1, 1))
	xs := make([]float64, 120)
	for i := range xs {
		xs[i] = r.NormFloat64()
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := control.XmR(xs, 24); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkU(b *testing.B) {
	r := rand.New(rand.NewPCG(1, 2))
	x, n := make([]int, 120), make([]float64, 120)
	for i := range x {
		x[i], n[i] = r.IntN(9), 5+r.Float64()
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := control.U(x, n, 24); err != nil {
			b.Fatal(err)
		}
	}
}
