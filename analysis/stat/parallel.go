package stat

import (
	"runtime"
	"sync"
	"sync/atomic"
	"time"
)

// InParallel calls do for 0 … n−1, each once, on the processors that nothing else
// of the analysis is using. Calls may be nested.
func InParallel(n int, do func(i int)) {
	Workers(n, 0, func() func(int) { return do })
}

// Workers does tasks 0 to n−1 on the given number of goroutines, or, where that is
// 0, on the caller's and on one more for each processor that is free, now or later.
// Each calls start once for its own worker, so scratch space may live there; which
// worker does which task is left to chance.
func Workers(n, goroutines int, start func() func(task int)) {
	if n <= 0 {
		return
	}
	var next atomic.Int64
	var others sync.WaitGroup
	var work func()
	work = func() {
		do, since := start(), time.Now()
		for task := int(next.Add(1)) - 1; task < n; task = int(next.Add(1)) - 1 {
			if goroutines == 0 && task+1 < n && processors.take() {
				others.Go(func() {
					defer processors.give()
					work()
				})
			}
			do(task)
			if processors.left.Load() > 0 && time.Since(since) > stretch {
				runtime.Gosched() // who reads a page goes first
				since = time.Now()
			}
		}
	}
	for range min(goroutines, n) - 1 {
		others.Go(work)
	}
	work()
	processors.give()
	others.Wait()
	processors.taken.Add(1)
}

// stretch is how long a worker goes on before it lets others go first, where processors are
// left to them: shorter and it hardly gets on among many, longer and they wait for it.
const stretch = 1 * time.Millisecond

// Leave leaves so many processors to others than the analysis: to those who read
// pages while an answer is worked out. It returns how many were left before.
func Leave(n int) (before int) { return int(processors.left.Swap(int64(n))) }

// processors are those that goroutines of the analysis use beside their callers. Who
// waits for others lends them its own.
var processors pool

type pool struct{ taken, left atomic.Int64 }

func (p *pool) take() bool {
	free := int64(runtime.GOMAXPROCS(0)) - 1 - p.left.Load()
	if p.taken.Add(1) <= free {
		return true
	}
	p.taken.Add(-1)
	return false
}

func (p *pool) give() { p.taken.Add(-1) }
