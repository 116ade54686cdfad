package store

import (
	"runtime/debug"
	"sync"
)

// collector counts those who want the garbage collector to wait.
var collector struct {
	sync.Mutex
	waiting int
	percent int // the setting to go back to
}

// holdCollector makes the garbage collector wait, unless memory is limited and
// short, until the function returned is called. Making one huge array sets the
// collector off, which then reads the array's empty pages just before they are
// written: each costs the machine a second page fault, and a load of a million
// rows twice the time.
func holdCollector() (release func()) {
	collector.Lock()
	defer collector.Unlock()
	if collector.waiting++; collector.waiting == 1 {
		collector.percent = debug.SetGCPercent(-1)
	}
	return func() {
		collector.Lock()
		defer collector.Unlock()
		if collector.waiting--; collector.waiting == 0 {
			debug.SetGCPercent(collector.percent)
		}
	}
}
