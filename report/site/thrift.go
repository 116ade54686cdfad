package site

import (
	"os"
	"runtime"
	"runtime/debug"
	"runtime/metrics"
	"sync"
)

// A site runs all day beside other programs, so garbage is collected before there is much
// of it: never more than what is in use and, where that is more, than fits into leastMemory.
// Collecting costs as much as is in use, so that a small company affords it rarely.
const (
	leastMemory = 86 << 20 // bytes of a program that few records are read by
	beyondHeap  = 25 << 20
	thrift      = 40 // percent of what is in use, where that is more
)

// thrifty keeps the program so until end is called, unless whoever started it has said how
// much memory it may take.
func thrifty() (end func()) {
	if os.Getenv("GOGC") != "" || os.Getenv("GOMEMLIMIT") != "" {
		return func() {}
	}
	percent, limit := debug.SetGCPercent(100), debug.SetMemoryLimit(leastMemory)
	var mu sync.Mutex
	ended := false
	afterEach(func() (again bool) {
		mu.Lock()
		defer mu.Unlock()
		if !ended {
			debug.SetMemoryLimit(limitFor(inUse()))
		}
		return !ended
	})
	return func() {
		mu.Lock()
		defer mu.Unlock()
		ended = true
		debug.SetGCPercent(percent)
		debug.SetMemoryLimit(limit)
	}
}

// limitFor is how many bytes the program may take of which so many are in use.
func limitFor(inUse uint64) int64 {
	return max(leastMemory, int64(inUse)*(100+thrift)/100+beyondHeap)
}

// inUse are the bytes that the last collection has found in use.
func inUse() uint64 {
	is := []metrics.Sample{{Name: "/gc/heap/live:bytes"}}
	metrics.Read(is)
	return is[0].Value.Uint64()
}

// afterEach calls do after each collection, for as long as it says so.
func afterEach(do func() (again bool)) {
	type collected struct{ _ [32]byte } // not so small as to lie with others
	var is func(*collected)
	is = func(c *collected) {
		if do() {
			runtime.SetFinalizer(c, is)
		}
	}
	runtime.SetFinalizer(new(collected), is)
}
