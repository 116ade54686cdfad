package main

import (
	"context"
	"errors"
	"time"
)

// errUnanswered ends a call that was stopped while something outside did not
// answer: a pipe that nobody writes to, a server that has gone silent.
var errUnanswered = errors.New("stopped while something did not answer; nothing of the unfinished step was kept, " +
	"unless the answer that failed to come was to the keeping itself: `pourback batches` lists what is kept")

// lastMoment is how long what is stopped may take to end of itself, and to
// tidy up behind it.
const lastMoment = 3 * time.Second

// untilStopped runs work until it is done, or a moment longer than ctx: there
// are waits that no context ends.
func untilStopped(ctx context.Context, work func(context.Context) error) error {
	done := make(chan error, 1)
	go func() { done <- work(ctx) }()
	select {
	case err := <-done:
		return err
	case <-ctx.Done():
	}
	select {
	case err := <-done:
		return err
	case <-time.After(lastMoment):
		return errUnanswered
	}
}
