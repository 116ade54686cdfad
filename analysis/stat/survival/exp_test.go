package survival

import (
	"math"
	"testing"
)

// Against the library's function over the whole range it is used in.
func TestExpOf(t *testing.T) {
	for x := -300.; x <= 300; x += .0137 {
		if got, want := expOf(x), math.Exp(x); math.Abs(got-want) > 4.5e-16*want {
			t.Fatalf("e^%v: got %v, want %v", x, got, want)
		}
	}
	if expOf(0) != 1 {
		t.Errorf("e^0 is %v", expOf(0))
	}
}

func BenchmarkExp(b *testing.B) {
	var xs, out [256]float64
	for i := range xs {
		xs[i] = float64(i)/64 - 2
	}
	b.Run("ours", func(b *testing.B) {
		for b.Loop() {
			for i, x := range xs {
				out[i] = expOf(x)
			}
		}
	})
	b.Run("math", func(b *testing.B) {
		for b.Loop() {
			for i, x := range xs {
				out[i] = math.Exp(x)
			}
		}
	})
}
