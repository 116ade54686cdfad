package site

import (
	"context"
	"sync"
	"time"

	"pourback/ingest/store"
)

// guests remembers who is signed in for as long as nobody has written anything to
// the database; a server is asked each time.
type guests struct {
	mu    sync.Mutex
	stamp int64
	known map[string]store.Guest // by the hash of a token
	users *bool                  // whether there are any, once that was asked
}

// mostGuests are as many as are remembered.
const mostGuests = 1000

// at is what is remembered of a state of the database, which was asked for before
// anything that will be.
func (g *guests) at(stamp int64) {
	if g.stamp != stamp || g.known == nil || len(g.known) > mostGuests {
		g.stamp, g.known, g.users = stamp, map[string]store.Guest{}, nil
	}
}

// pens remembers when each user has written something last.
type pens struct {
	mu   sync.Mutex
	last map[int64]time.Time // by the number of the user; 0 is the owner without users
}

// note notes that a form was done.
func (p *pens) note(user int64) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.last == nil {
		p.last = map[int64]time.Time{}
	}
	p.last[user] = time.Now()
}

// wrote is when who asks has written something last.
func (a *Ask) wrote() time.Time {
	p := &a.Site.pens
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.last[a.Who.ID]
}

// guest is who holds a token, or [store.ErrNoUser].
func (s *Site) guest(ctx context.Context, hash, at string) (store.Guest, error) {
	stamp, ok, err := s.Store.Stamp(ctx)
	if err != nil {
		return store.Guest{}, err
	}
	if !ok {
		return s.Store.SessionOf(ctx, hash, at)
	}
	s.guests.mu.Lock()
	s.guests.at(stamp)
	is, known := s.guests.known[hash]
	s.guests.mu.Unlock()
	if known && is.Until > at {
		return is, nil
	}
	is, err = s.Store.SessionOf(ctx, hash, at)
	if err == nil {
		s.guests.mu.Lock()
		defer s.guests.mu.Unlock()
		if s.guests.stamp == stamp {
			s.guests.known[hash] = is
		}
	}
	return is, err
}

// hasUsers says whether there are users.
func (s *Site) hasUsers(ctx context.Context) (bool, error) {
	stamp, ok, err := s.Store.Stamp(ctx)
	if err != nil {
		return false, err
	}
	if ok {
		s.guests.mu.Lock()
		s.guests.at(stamp)
		known := s.guests.users
		s.guests.mu.Unlock()
		if known != nil {
			return *known, nil
		}
	}
	has, err := s.Store.HasUsers(ctx)
	if err == nil && ok {
		s.guests.mu.Lock()
		defer s.guests.mu.Unlock()
		if s.guests.stamp == stamp {
			s.guests.users = &has
		}
	}
	return has, err
}
