package regress

import (
	"math"
	"testing"
)

// The series give the tails that they were made from, and those of mpmath.
func TestStudentTable(t *testing.T) {
	for nu, off := range map[float64]float64{3: 3e-13, 4: 3e-13, 11: 3e-13, 54: 3e-13, 605: 3e-13, math.Inf(1): 3e-13, 100004: 1e-11, 2e6: 1e-11} { // off is what the tail itself is good to
		plain, worst := NewStudent(nu), 0.0
		tabled := plain.Tabled()
		for x := -9.0; x < 9; x += 0.00713 {
			want := plain.Tail(x)
			worst = max(worst, math.Abs(tabled.Tail(x)-want)/want)
		}
		if worst > off {
			t.Errorf("tails of t_%v are off by up to %v of themselves, want %v", nu, worst, off)
		}
	}
	for _, c := range studentTails {
		s := NewStudent(c[0]).Tabled()
		if s.series == nil != (c[0] < leastTable) {
			t.Errorf("t_%v: a table where the series converge too slowly, or none where they do not", c[0])
		}
		if got := s.Tail(c[1]); math.Abs(got-c[2]) > 1e-11*c[2] {
			t.Errorf("tail of t_%v at %v: got %.17g, want %.17g", c[0], c[1], got, c[2])
		}
	}
}

func BenchmarkStudentTail(b *testing.B) {
	plain := NewStudent(605)
	for name, s := range map[string]Student{"worked out": plain, "tabled": plain.Tabled()} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				for x := 0.1; x < 6; x += 0.59 {
					s.Tail(x)
				}
			}
		})
	}
	b.Run("making the table", func(b *testing.B) {
		for b.Loop() {
			plain.Tabled()
		}
	})
}
