package site

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"sync"
	"sync/atomic"
	"time"

	"pourback/analysis"
	"pourback/analysis/bid"
	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/report/desk"
	"pourback/report/page"
	"pourback/report/say"
)

// company is a company's records with what has been answered of them.
type company struct {
	store    *store.Store
	settings Settings

	reads readings
	works lane // an answer is worked out, of few records two
	tells lane // the story of a slab is, for which no answer waits

	mu      sync.Mutex
	answers map[Choice]*answer // the latest of each choice of records
	flights map[Choice]*flight // those being worked out
	pages   pageCache
	shelf   desk.Shelf
	bids    bidding
	made    pageSets
	shown   shownPages
	draw    func(*answer, pageKey) // a page, into pages
	pours   pourBids

	remove func() error // takes away what was made for it; nil for the owner's own
}

func (s *Site) newCompany(st *store.Store, set Settings) *company {
	c := &company{store: st, settings: set, answers: map[Choice]*answer{}, flights: map[Choice]*flight{}}
	c.draw = func(is *answer, k pageKey) { s.draw(c, is, k) }
	return c
}

// answer is all that the records of a choice say.
type answer struct {
	number  uint64 // no other has
	version string
	choice  Choice
	factors *analysis.Factors
	bids    *bid.Record
	places  map[string]page.Place
	of      facts
	begun   time.Time // what was written before that is in it
	made    time.Time
	used    time.Time
	fresh   time.Time // when it was last known to be up to date
	old     time.Time // when it was first seen not to be; zero while it is
	soon    int       // how many of the same choice in a row before it were soon out of date
	behind  bool      // somebody writes all the time: it was out of date when it was done, or soon is many

	writing sync.Mutex // its pages are drawn while they are written, one at a time
	making  sync.Mutex // and made
}

// answers counts the answers there have been.
var answers atomic.Uint64

// facts are what a page says of its choice.
type facts struct {
	Placements, All     int // chosen, and all
	Cut                 int // jobs whose money is left out, as only part of them is chosen
	Uses, Crews, Method []string
	First, Last         string // months of all pours, "" where there are none
}

// flight is an answer that is being worked out, and whom others wait for.
type flight struct {
	version string      // of the records, once it is done
	asked   time.Time   // for the first time
	awaited atomic.Bool // by somebody who is shown nothing meanwhile
	readers int         // who wait only to see it, and could be shown what there is
	done    chan struct{}
	is      *answer
	err     error
}

// How old an answer may be that is shown while a newer one is worked out, how
// old it is to be before that begins where somebody writes all the time, how long who
// has written waits for the newer one and for how long from its beginning who only reads
// does, whose page moves on by itself, and how many answers are kept.
const (
	mostAge     = 10 * time.Second
	restful     = 4500 * time.Millisecond
	patience    = 1500 * time.Millisecond
	onlyReads   = 500 * time.Millisecond
	mostAnswers = 10
	mostFlights = 64
	mostKept    = 400_000 // placements that all answers kept may be of
	mostReaders = 3       // of whom each could be shown what there is
	fewRecords  = 50_000  // placements of which two answers may be worked out at once
)

var errQueue = errors.New("too many choices are being worked out")

// answer is the latest answer of a choice, worked out once however many ask. It
// is out of date only while somebody writes, and by no more than ten seconds; what
// was written by who asks, at wrote for the last time, is in it unless that takes
// longer than who asks is patient.
//
// old says that it is out of date.
func (c *company) answer(ctx context.Context, choice Choice, wrote time.Time) (is *answer, old bool, err error) {
	choice = choice.records()
	asked := time.Now()
	for {
		now := time.Now()
		version, err := c.store.Version(ctx)
		if err != nil {
			return nil, false, err
		}
		is, f, since := c.find(choice, version, now, wrote)
		if f == nil {
			return is, is.version != version, nil
		}
		var enough <-chan time.Time // of waiting, where there is something to show meanwhile
		if is != nil && time.Since(since) < mostAge {
			until := asked.Add(patience)
			if is.begun.After(wrote) {
				until = f.asked.Add(onlyReads)
			}
			enough = time.After(time.Until(until))
		}
		select {
		case <-f.done:
			if f.err != nil {
				return nil, false, f.err
			}
			if f.version == version || time.Since(asked) > patience {
				return f.is, f.version != version, nil
			}
		case <-enough:
			return is, true, nil
		case <-ctx.Done():
			return nil, false, ctx.Err()
		}
	}
}

// find is the answer that is at hand, if there is one, and the flight that will
// bring a newer one, if that is to be waited for.
func (c *company) find(choice Choice, version string, now, wrote time.Time) (is *answer, f *flight, since time.Time) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if is = c.answers[choice]; is != nil {
		is.used = now
		if is.version == version {
			is.fresh = now
			return is, nil, now
		}
		if is.old.IsZero() {
			is.old = now
		}
		since = is.fresh
	}
	shown := is != nil && mayShow(is.behind || c.isBusy(choice), is.begun, since, wrote)
	if shown && now.Sub(since) < restful {
		return is, nil, since
	}
	if f = c.flight(choice, now); shown {
		return is, nil, since
	}
	if is != nil && mayShow(true, is.begun, since, wrote) {
		f.readers++
	}
	if !f.awaited.Swap(true) {
		c.works.look()
	}
	return is, f, since
}

// isBusy says whether other choices are being worked out, for which a newer answer of this
// one would have to wait, or enough readers wait for this one.
func (c *company) isBusy(choice Choice) bool {
	f := c.flights[choice]
	return f == nil && len(c.flights) > 0 || len(c.flights) > 1 || f != nil && f.readers >= mostReaders
}

// manySoon answers in a row are soon out of date where somebody writes all the time.
const manySoon = 3

// soonOld is how many in a row were soon out of date, the last of which an answer is, if
// there was any.
func (is *answer) soonOld() int {
	if is == nil || is.old.IsZero() || is.old.Sub(is.made) > restful {
		return 0
	}
	return is.soon + 1
}

// mayShow says whether what is out of date is shown at once: nobody waits where it is busy,
// as where somebody writes all the time and what comes is out of date again; save for what
// they have written themselves.
func mayShow(busy bool, begun, since, wrote time.Time) bool {
	return busy && begun.After(wrote) && time.Since(since) < mostAge
}

// flight is the one that works a choice out, begun now unless it has been.
func (c *company) flight(choice Choice, now time.Time) *flight {
	if f := c.flights[choice]; f != nil {
		return f
	}
	f := &flight{asked: now, done: make(chan struct{})}
	if len(c.flights) >= mostFlights {
		f.err = busy(errQueue)
		close(f.done)
		return f
	}
	c.flights[choice] = f
	go c.fly(choice, f)
	return f
}

// fly works an answer out. It goes on when who asked for it has gone: others
// may be waiting, and whoever asks next will want it.
func (c *company) fly(choice Choice, f *flight) {
	defer close(f.done)
	defer c.works.enter(&f.awaited)()
	ctx, stop := context.WithTimeout(context.Background(), 10*time.Minute)
	defer stop()
	begun := time.Now()
	if f.is, f.err = c.tryWork(ctx, choice, begun); f.err == nil {
		f.version = f.is.version
		c.drawAgain(ctx, choice, f.is)
	}
	now, err := c.store.Version(ctx)
	c.mu.Lock()
	defer c.mu.Unlock()
	delete(c.flights, choice)
	if f.err == nil {
		f.is.begun, f.is.fresh = begun, begun
		if err == nil && now != f.version {
			f.is.old = begun
		}
		f.is.soon = c.answers[choice].soonOld()
		f.is.behind = !f.is.old.IsZero() || f.is.soon >= manySoon
		c.answers[choice] = f.is
		c.forgetOld()
	}
}

// How long ago pages were asked for that are drawn of a new answer before it is
// shown, and how many at most.
const (
	soonAgain = time.Minute
	mostSoon  = 48
)

// drawAgain draws the pages of an answer that were looked at lately of the one
// before: who looks at them again need not wait for it, nor do all who do at once. They
// say that they are out of date if by now they are.
func (c *company) drawAgain(ctx context.Context, choice Choice, is *answer) {
	c.mu.Lock()
	was := c.answers[choice]
	c.mu.Unlock()
	if was == nil {
		return
	}
	now, err := c.store.Version(ctx)
	old := err == nil && now != is.version
	drawn := map[pageKey]bool{}
	for _, k := range c.pages.lately(was.number, time.Now().Add(-soonAgain)) {
		k.answer, k.old = is.number, old
		if !drawn[k] && len(drawn) < mostSoon {
			drawn[k] = true
			c.draw(is, k)
		}
	}
}

// forgetOld forgets the answers that nobody has asked for the longest.
func (c *company) forgetOld() {
	for {
		placements, oldest := 0, Choice{}
		var last *answer
		for k, a := range c.answers {
			placements += a.factors.Placements
			if last == nil || a.used.Before(last.used) {
				oldest, last = k, a
			}
		}
		if len(c.answers) <= 1 || len(c.answers) <= mostAnswers && placements <= mostKept {
			return
		}
		delete(c.answers, oldest)
	}
}

// tryWork is work, which takes nothing else down where it fails.
func (c *company) tryWork(ctx context.Context, choice Choice, begun time.Time) (is *answer, err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("working out an answer: %v", p)
		}
	}()
	return c.work(ctx, choice, begun)
}

// work reads the records, as they are since a moment at least, and answers. Of the same
// records as before only what hangs on the bids is worked out anew.
func (c *company) work(ctx context.Context, choice Choice, begun time.Time) (*answer, error) {
	r, err := c.readSince(ctx, choice.AsOf, begun)
	if err != nil {
		return nil, err
	}
	c.works.room.Store(r.h.Placements.Len() < fewRecords)
	h := r.seenBy(choice.SeenBy)
	if c := choice.Crew; c != "" && !slices.Contains(wordsOf(&h.Placements.Crew), c) {
		return nil, wrongValue("crew", c, say.Site.ChooseFromList)
	}
	is := &answer{version: r.version, choice: choice, made: time.Now(), used: time.Now()}
	c.mu.Lock()
	was := c.answers[choice]
	c.mu.Unlock()
	if is.number = answers.Add(1); was != nil && store.SameRecords(was.version, r.version) {
		is.factors, is.of, is.places = was.factors, was.of, was.places
	} else if err := is.workOut(h, c.settings); err != nil {
		return nil, err
	}
	if !choice.Part() && choice.SeenBy == "" { // a bid is held against its whole job
		kept, err := c.shelf.KeptBy(r.h.AsOf, r.bids, c.settings.NoNames)
		if err != nil {
			return nil, err
		}
		is.bids = bid.Outcomes(r.h, kept)
	}
	return is, nil
}

// workOut works out what an answer says of the records.
func (is *answer) workOut(all *record.History, s Settings) (err error) {
	h, cut := is.choice.of(all)
	opt := s.Analysis
	opt.Visits.Asked, opt.Visits.NoSites = true, s.NoNames
	if is.factors, err = analysis.Run(h, opt); err != nil {
		return err
	}
	is.of = factsOf(all, h.Placements.Len(), cut)
	if !s.NoNames {
		is.places = page.PlacesOf(&h.Jobs)
	}
	return nil
}

// empty says whether nothing has ever been taken in.
func (c *company) empty(ctx context.Context) (bool, error) {
	batches, err := c.store.Batches(ctx)
	for _, b := range batches {
		if b.UndoneAt == "" {
			return false, err
		}
	}
	return true, err
}
