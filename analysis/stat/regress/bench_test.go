package regress

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// callbacks draws n placements with five columns and a callback on a few of them.
func callbacks(n int) (x Design, y []float64) {
	rng := rand.New(rand.NewPCG(3, 4))
	x = Design{Ones(n)}
	eta := make([]float64, n)
	for j := range 5 {
		column := make([]float64, n)
		for i := range column {
			column[i] = rng.NormFloat64()
			eta[i] += 0.2 * float64(j) * column[i]
		}
		x = append(x, column)
	}
	for i := range n {
		v := 0.0
		if rng.Float64() < expit(eta[i]-3) {
			v = 1
		}
		y = append(y, v)
	}
	return x, y
}

func BenchmarkLogistic(b *testing.B) {
	for _, n := range []int{1_000, 100_000} {
		x, y := callbacks(n)
		b.Run(fmt.Sprintf("n=%d", n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Logistic(x, y, nil); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkLeastSquares(b *testing.B) {
	for _, n := range []int{1_000, 100_000} {
		x, y := callbacks(n)
		b.Run(fmt.Sprintf("n=%d", n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := OLS(x, y); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkFirthProfile(b *testing.B) {
	x, y := callbacks(500)
	fit, err := Firth(x, y, nil)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := fit.Profile(1, 0.95); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkStudentT(b *testing.B) {
	x, _ := callbacks(500)
	y := make([]float64, 500)
	for i := range y {
		y[i] = x[1][i] + math.Cbrt(x[2][i])
	}
	for b.Loop() {
		if _, err := StudentT(x, y, 4); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkStudentQuantile(b *testing.B) {
	s := NewStudent(504)
	for b.Loop() {
		s.Quantile(0.9)
	}
}
