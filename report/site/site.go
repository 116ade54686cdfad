// Package site is the report as a local web site, with the forms and uploads
// that records and bids come in by. It stands to the right of everything: it
// reads and writes the store, has the analysis answer, and shows its answers on
// the report's own pages.
//
// [routes] is the table of all that can be asked for, and by whom. A handler is
// a function of an [Ask], which knows who asks, in which language, about which
// company and what choice of its records; what it returns as an error is shown
// as a page.
package site

import (
	"context"
	"errors"
	"log/slog"
	"net/http"
	"sync"
	"time"

	"golang.org/x/time/rate"

	"pourback/analysis/setting"
	"pourback/ingest"
	"pourback/ingest/record"
	"pourback/ingest/sheet"
	"pourback/ingest/store"
	"pourback/report/page"
)

// Config is what a site is made of.
type Config struct {
	Store    *store.Store
	Database string // as messages may show it
	Settings Settings
	Access   Access
	Now      func() time.Time
	Log      *slog.Logger
}

// Settings are what the owner has set about answers and how they are shown.
type Settings struct {
	Analysis   setting.Options
	Sheet      sheet.Options // how record files are read
	Company    string
	Letterhead page.Letterhead // the company on papers
	Currency   string
	Units      string
	Lang       string
	NoNames    bool
	AsOf       record.Date // the data date; today where 0

	Pictures ingest.PictureRules // what is kept of pictures, and how much of them

	ViewersRead []string // topics of the report, by the names in their addresses, that viewers read of; all where none is named
}

// Access is how the site is reached.
type Access struct {
	Port        int
	Loopback    bool     // from this computer alone
	Secure      bool     // browsers reach it by https
	BehindProxy bool     // a proxy says who asks
	Named       bool     // it has names beside those of the address, by which others may reach it
	Hosts       []string // the names by which browsers may ask for it, without ports
}

// Site is the web site of one database.
type Site struct {
	Config
	own     *company
	mux     *http.ServeMux
	origins *http.CrossOriginProtection
	limits  limits
	looked  lookCache // at files that wait to be kept
	guests  guests
	pens    pens
	lately  lately        // what came of entries
	try     time.Duration // of a phone that sends an entry, once
	hashing chan struct{} // full while as many passwords are hashed as memory allows

	mu       sync.Mutex
	invented *company // the invented one, while somebody looks round in it
}

// New is the site of an open store.
func New(c Config) (*Site, error) {
	if err := errors.Join(c.Access.check(), checkViewers(c.Settings.ViewersRead)); err != nil {
		return nil, err
	}
	s := &Site{Config: c, own: newCompany(c.Store, c.Settings), mux: http.NewServeMux(), origins: http.NewCrossOriginProtection(), try: queueTry, hashing: make(chan struct{}, 2)}
	s.limits.per = map[limitKey]*limited{}
	for _, h := range c.Access.Hosts {
		if c.Access.BehindProxy {
			if err := s.origins.AddTrustedOrigin("https://" + h); err != nil {
				return nil, err
			}
		}
	}
	for _, r := range Routes() {
		s.mux.Handle(r.Method+" "+r.Pattern, s.guarded(r))
	}
	return s, nil
}

// Close ends what the site has opened itself: the invented company.
func (s *Site) Close() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.forgetInvented()
}

// Tend does what is to be done now and then, until ctx ends.
func (s *Site) Tend(ctx context.Context) {
	tick := time.NewTicker(time.Minute)
	defer tick.Stop()
	for {
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
			s.limits.forget(s.Now())
			if err := s.sweepUploads(ctx, s.Now()); err != nil && ctx.Err() == nil {
				s.Log.Warn("files that nobody has kept were not dropped", "error", err.Error())
			}
			if err := s.Store.CutLog(ctx); err != nil && ctx.Err() == nil {
				s.Log.Warn("the database's log was not cut", "error", err.Error())
			}
		}
	}
}

// stamp is a moment as the database holds it.
func stamp(t time.Time) string { return t.UTC().Format("2006-01-02T15:04:05Z") }

// asOf is the data date.
func (s Settings) asOf(now time.Time) record.Date {
	if s.AsOf != 0 {
		return s.AsOf
	}
	return record.DayOf(now)
}

// limits are how often things may be asked for, by what and by whom.
type limits struct {
	mu  sync.Mutex
	per map[limitKey]*limited
}

type limitKey struct{ what, whose string }

type limited struct {
	*rate.Limiter
	last time.Time
}

// rule is how often something may be asked for: a burst, and then so many a second.
type rule struct {
	what   string
	every  rate.Limit
	burst  int
	within time.Duration // after which somebody silent is forgotten
}

var (
	signIns = rule{"sign in", rate.Every(12 * time.Second), 8, 10 * time.Minute}
	writes  = rule{"write", 5, 60, time.Minute}
	looks   = rule{"look", 20, 100, time.Minute} // of who has not signed in
)

// allow says whether somebody may do something now.
func (l *limits) allow(r rule, whose string, now time.Time) bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	k := limitKey{r.what, whose}
	is := l.per[k]
	if is == nil {
		is = &limited{Limiter: rate.NewLimiter(r.every, r.burst)}
		l.per[k] = is
	}
	is.last = now
	return is.AllowN(now, 1)
}

// forget forgets who has been silent for so long that nothing would be refused.
func (l *limits) forget(now time.Time) {
	l.mu.Lock()
	defer l.mu.Unlock()
	for k, is := range l.per {
		if now.Sub(is.last) > 10*time.Minute {
			delete(l.per, k)
		}
	}
}
