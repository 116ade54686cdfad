package site

import (
	"context"
	"sync"
	"time"

	"pourback/ingest/store"
)

// guests remembers who is signed in while this program writes nothing of users and
// sessions, and for a second at most: another may.
type guests struct {
	mu     sync.Mutex
	people int64
	known  map[string]guest // by the hash of a token
	users  *bool            // whether there are any, once that was asked
	asked  time.Time        // when
}

type guest struct {
	store.Guest
	asked time.Time
}

// mostGuests are as many as are remembered, and stillThere is for how long.
const (
	mostGuests = 1000
	stillThere = time.Second
)

// at is what is remembered of a state of users and sessions, which was asked for before
// anything that will be.
func (g *guests) at(people int64) {
	if g.people != people || g.known == nil || len(g.known) > mostGuests {
		g.people, g.known, g.users = people, map[string]guest{}, nil
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
	g := &s.guests
	people, now := s.Store.People(), time.Now()
	g.mu.Lock()
	g.at(people)
	is, known := g.known[hash]
	g.mu.Unlock()
	if known && is.Until > at && now.Sub(is.asked) < stillThere {
		return is.Guest, nil
	}
	found, err := s.Store.SessionOf(ctx, hash, at)
	if err == nil {
		g.mu.Lock()
		defer g.mu.Unlock()
		if g.people == people {
			g.known[hash] = guest{found, now}
		}
	}
	return found, err
}

// hasUsers says whether there are users.
func (s *Site) hasUsers(ctx context.Context) (bool, error) {
	g := &s.guests
	people, now := s.Store.People(), time.Now()
	g.mu.Lock()
	g.at(people)
	known, asked := g.users, g.asked
	g.mu.Unlock()
	if known != nil && now.Sub(asked) < stillThere {
		return *known, nil
	}
	has, err := s.Store.HasUsers(ctx)
	if err == nil {
		g.mu.Lock()
		defer g.mu.Unlock()
		if g.people == people {
			g.users, g.asked = &has, now
		}
	}
	return has, err
}
