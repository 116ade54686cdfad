package site

import (
	"context"
	"slices"
	"sync"
	"sync/atomic"
)

// lane has one go on at a time: for its memory, and as nothing is ready sooner where
// several share the processors. Who came first goes first, but for those whom somebody
// is waiting for: they go before the others and, where there is room, one of them beside
// one of the others.
type lane struct {
	room atomic.Bool // for two

	mu    sync.Mutex
	going []*inLane
	queue []*inLane
}

type inLane struct {
	goes    chan struct{} // closed when it may go on
	awaited *atomic.Bool  // nil: as if nobody waited
}

func (w *inLane) isAwaited() bool { return w.awaited != nil && w.awaited.Load() }

// enter waits until one may go on, and returns what is called when it is done.
func (l *lane) enter(awaited *atomic.Bool) (leave func()) {
	leave, _ = l.take(context.Background(), awaited) // which does not end
	return leave
}

// take is enter unless ctx ends before.
func (l *lane) take(ctx context.Context, awaited *atomic.Bool) (leave func(), err error) {
	me := &inLane{make(chan struct{}), awaited}
	leave = func() { l.leave(me) }
	l.mu.Lock()
	l.queue = append(l.queue, me)
	l.next()
	l.mu.Unlock()
	select {
	case <-me.goes:
		return leave, nil
	case <-ctx.Done():
		leave()
		return nil, ctx.Err()
	}
}

// leave takes one out of the lane, or out of the queue before it.
func (l *lane) leave(me *inLane) {
	l.mu.Lock()
	defer l.mu.Unlock()
	is := func(w *inLane) bool { return w == me }
	l.going, l.queue = slices.DeleteFunc(l.going, is), slices.DeleteFunc(l.queue, is)
	l.next()
}

// look has those go on who may by now, as one has come to be awaited.
func (l *lane) look() {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.next()
}

func (l *lane) next() {
	for len(l.queue) > 0 {
		first := slices.IndexFunc(l.queue, (*inLane).isAwaited)
		beside := first >= 0 && len(l.going) == 1 && l.room.Load() && !l.going[0].isAwaited()
		if len(l.going) > 0 && !beside {
			return
		}
		w := l.queue[max(0, first)]
		l.queue = slices.Delete(l.queue, max(0, first), max(0, first)+1)
		l.going = append(l.going, w)
		close(w.goes)
	}
}
