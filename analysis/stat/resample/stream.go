package resample

import (
	"math/rand/v2"
	"runtime"
	"sync"
	"sync/atomic"
)

// stream points src at the start of the stream of one replicate or block.
func stream(src *rand.PCG, seed uint64, index int) {
	src.Seed(seed, splitmix(uint64(index)))
}

// splitmix scatters neighbouring numbers over 64 bits (the output function of
// SplitMix64; Steele, Lea & Flood 2014).
func splitmix(z uint64) uint64 {
	z += 0x9e3779b97f4a7c15
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

// Parallel does tasks 0 to n−1 on the given number of goroutines, 0 meaning
// one a core. Each goroutine calls start once for its own worker, so scratch
// space may live there; which worker does which task is left to chance.
func Parallel(n, workers int, start func() func(task int)) {
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	workers = min(workers, n)
	var next atomic.Int64
	var wg sync.WaitGroup
	for range workers {
		wg.Go(func() {
			work := start()
			for {
				task := int(next.Add(1)) - 1
				if task >= n {
					return
				}
				work(task)
			}
		})
	}
	wg.Wait()
}
