package site

import (
	"context"
	"slices"
	"sync"
	"sync/atomic"
)

// lane has one go on at a time: for its memory, and as nothing is ready sooner where
// several share the processors. Who came first goes first, but for those whom somebody
// is waiting for, who go before the others.
type lane struct {
	mu    sync.Mutex
	taken bool
	queue []*inLane
}

type inLane struct {
	goes    chan struct{} // closed when it has the turn
	awaited *atomic.Bool  // nil: as if nobody waited
}

// take waits for the turn, unless ctx ends before.
func (l *lane) take(ctx context.Context, awaited *atomic.Bool) error {
	l.mu.Lock()
	if !l.taken {
		l.taken = true
		l.mu.Unlock()
		return nil
	}
	me := &inLane{make(chan struct{}), awaited}
	l.queue = append(l.queue, me)
	l.mu.Unlock()
	select {
	case <-me.goes:
		return nil
	case <-ctx.Done():
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	if at := slices.Index(l.queue, me); at >= 0 {
		l.queue = slices.Delete(l.queue, at, at+1)
	} else { // it came just now
		l.pass()
	}
	return ctx.Err()
}

// give lets the next go on.
func (l *lane) give() {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.pass()
}

func (l *lane) pass() {
	if l.taken = len(l.queue) > 0; !l.taken {
		return
	}
	at := max(0, slices.IndexFunc(l.queue, func(w *inLane) bool { return w.awaited != nil && w.awaited.Load() }))
	next := l.queue[at]
	l.queue = slices.Delete(l.queue, at, at+1)
	close(next.goes)
}
