package stat_test

import (
	"runtime"
	"sync/atomic"
	"testing"
	"time"

	"pgregory.net/rapid"

	"pourback/analysis/stat"
)

// TestInParallelDoesEachOnce does tasks within tasks, on any number of processors.
func TestInParallelDoesEachOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, m := rapid.IntRange(0, 40).Draw(t, "tasks"), rapid.IntRange(0, 40).Draw(t, "within each")
		goroutines := rapid.IntRange(0, 5).Draw(t, "goroutines")
		defer stat.Leave(stat.Leave(rapid.IntRange(0, 3).Draw(t, "left")))
		done := make([]atomic.Int64, n*m)
		stat.Workers(n, goroutines, func() func(int) {
			return func(i int) {
				stat.InParallel(m, func(k int) { done[i*m+k].Add(1) })
			}
		})
		for i := range done {
			if done[i].Load() != 1 {
				t.Fatalf("task %d was done %d times", i, done[i].Load())
			}
		}
	})
}

// TestLeave counts how many work at once: about as many as there are processors,
// less those that are left, however calls are nested. One who waits for others lends
// them its place, so that there may be one more for each of these for a moment.
func TestLeave(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(4))
	for left, most := range map[int]int64{0: 4, 1: 3, 3: 1, 9: 1} {
		before := stat.Leave(left)
		for range 2 {
			var now, peak atomic.Int64
			stat.InParallel(6, func(int) {
				stat.InParallel(6, func(int) {
					peak.Store(max(peak.Load(), now.Add(1)))
					time.Sleep(2 * time.Millisecond)
					now.Add(-1)
				})
			})
			if lent := most - 1; peak.Load() > most+lent || peak.Load() < min(most, 2) {
				t.Errorf("with %d left, %d worked at once; want %d", left, peak.Load(), most)
			}
		}
		if stat.Leave(before) != left {
			t.Error("how many are left is forgotten")
		}
	}
}
