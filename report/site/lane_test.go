package site

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"sync/atomic"
	"testing"

	"pgregory.net/rapid"
)

// TestALaneKeepsItsOrder: never do more go on at once than may, those that somebody waits
// for go first, and else who came first; whoever is done or gives up makes room; nobody
// who may go on stands in the queue.
func TestALaneKeepsItsOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var l lane
		l.room.Store(rapid.Bool().Draw(t, "room"))
		type one struct {
			name  string
			is    *inLane
			waits atomic.Bool
		}
		var going, queue []*one
		begin := func() { // as it should be
			for len(queue) > 0 {
				first := slices.IndexFunc(queue, func(w *one) bool { return w.waits.Load() })
				free := len(going) == 0 || l.room.Load() && len(going) == 1 && first >= 0 && !going[0].waits.Load()
				if !free {
					return
				}
				going = append(going, queue[max(0, first)])
				queue = slices.Delete(queue, max(0, first), max(0, first)+1)
			}
		}
		for step := range rapid.IntRange(1, 40).Draw(t, "steps") {
			switch some := slices.Concat(going, queue); {
			case len(some) == 0 || rapid.IntRange(0, 2).Draw(t, "what") == 0:
				w := &one{name: fmt.Sprint("no. ", step)}
				w.waits.Store(rapid.Bool().Draw(t, "awaited"))
				w.is = &inLane{make(chan struct{}), &w.waits}
				queue = append(queue, w)
				l.mu.Lock()
				l.queue = append(l.queue, w.is)
				l.next()
				l.mu.Unlock()
			case rapid.Bool().Draw(t, "leaves"):
				w := rapid.SampledFrom(some).Draw(t, "who leaves")
				is := func(x *one) bool { return x == w }
				going, queue = slices.DeleteFunc(going, is), slices.DeleteFunc(queue, is)
				l.leave(w.is)
			default:
				rapid.SampledFrom(some).Draw(t, "for whom somebody waits now").waits.Store(true)
				l.look()
			}
			begin()
			for _, w := range slices.Concat(going, queue) {
				goes := false
				select {
				case <-w.is.goes:
					goes = true
				default:
				}
				if goes != slices.Contains(going, w) {
					t.Fatalf("%s goes: %v", w.name, goes)
				}
			}
			if len(going) > 2 || len(going) == 2 && !l.room.Load() {
				t.Fatalf("%d go at once", len(going))
			}
		}
	})
}

// TestWhoGivesUpLeavesTheQueue: a question that ends while it queues is told so and holds
// nobody up.
func TestWhoGivesUpLeavesTheQueue(t *testing.T) {
	var l lane
	leave := l.enter(nil)
	ctx, end := context.WithCancel(t.Context())
	end()
	if _, err := l.take(ctx, nil); !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
	leave()
	l.enter(nil)()
	if len(l.going)+len(l.queue) > 0 {
		t.Errorf("%d go, %d wait", len(l.going), len(l.queue))
	}
}
