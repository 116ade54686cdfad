package site

import (
	"runtime"
	"runtime/debug"
	"testing"
	"time"
)

// TestThriftFollowsWhatIsInUse: the limit on memory is that of a small company until more
// is in use, follows that, and is gone with the site.
func TestThriftFollowsWhatIsInUse(t *testing.T) {
	before := debug.SetMemoryLimit(-1)
	end := thrifty()
	limit := func() int64 { return debug.SetMemoryLimit(-1) }
	if limit() != leastMemory {
		t.Errorf("it begins with %d", limit())
	}
	follows := func(what string, is func() bool) {
		t.Helper()
		for until := time.Now().Add(10 * time.Second); !is(); time.Sleep(time.Millisecond) {
			if runtime.GC(); time.Now().After(until) {
				t.Fatalf("%s: %d bytes in use, the limit is %d", what, inUse(), limit())
			}
		}
	}
	large := make([]byte, 256<<20)
	follows("much is in use", func() bool { return limit() >= int64(len(large))*(100+thrift)/100 })
	runtime.KeepAlive(large)
	follows("little is again", func() bool { return limit() < 256<<20 })
	end()
	if limit() != before {
		t.Errorf("it leaves %d, and was %d", limit(), before)
	}
	for range 3 {
		runtime.GC()
		time.Sleep(time.Millisecond)
	}
	if limit() != before {
		t.Errorf("once ended, a collection sets %d", limit())
	}
}
