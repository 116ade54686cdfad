package site

import (
	"errors"
	"fmt"
	"net"
	"net/http"
	"net/netip"
	"runtime/debug"
	"strings"
	"time"

	"pourback/ingest/store"
	"pourback/report/say"
)

// How much is taken in at most, and how long a browser may be silent.
const (
	mostForm     = 1 << 20
	mostUpload   = 256 << 20
	silence      = 30 * time.Second
	mostHeaders  = 32 << 10
	sessionLasts = 30 * 24 * time.Hour
)

// security are the headers of every answer: nothing from elsewhere, no script or
// style within a page, in nobody's frame, and no address told to others. A
// referrer of none would have our own forms come from nowhere.
var security = map[string]string{
	"Content-Security-Policy":      "default-src 'self'; img-src 'self' data:; object-src 'none'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'",
	"X-Content-Type-Options":       "nosniff",
	"X-Frame-Options":              "DENY",
	"Referrer-Policy":              "same-origin",
	"Cross-Origin-Opener-Policy":   "same-origin",
	"Cross-Origin-Resource-Policy": "same-origin",
}

// ServeHTTP answers a browser, once it has come by one of the door's names, and
// from one of the site's own pages where it would change something.
func (d *door) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	s, out := d.site, &counted{ResponseWriter: w, to: http.NewResponseController(w), within: silence}
	began := s.Now()
	for name, value := range security {
		out.Header().Set(name, value)
	}
	if d.Lan { // browsers heed it by https alone, and else complain
		out.Header().Del("Cross-Origin-Opener-Policy")
	}
	pattern := d.serve(out, r)
	s.Log.Info("asked", "method", r.Method, "route", pattern, "status", out.status, "bytes", out.bytes, "ms", s.Now().Sub(began).Milliseconds(), "from", s.from(r))
}

// serve returns the pattern of the route for the log: an address may hold what
// is nobody else's, the token of an invitation.
func (d *door) serve(w http.ResponseWriter, r *http.Request) string {
	a := d.ask(w, r)
	if !d.knows(r.Host) {
		a.fail(d.wrongHost(r.Host))
		return "(other host)"
	}
	if err := d.origins.Check(r); err != nil {
		a.fail(elsewhere())
		return "(other origin)"
	}
	h, pattern := d.mux.Handler(r)
	if pattern == "" {
		rec := &statusOnly{header: http.Header{}}
		h.ServeHTTP(rec, r) // whether it is the method that is wrong
		switch {
		case rec.status >= 300 && rec.status < 400: // to the address as it is to be written
			h.ServeHTTP(w, r)
		case rec.status == http.StatusMethodNotAllowed:
			w.Header().Set("Allow", rec.header.Get("Allow"))
			a.fail(wrongMethod())
		default:
			a.fail(notFound())
		}
		return "(none)"
	}
	d.mux.ServeHTTP(w, r)
	return pattern
}

// ask is a question of which nothing is known but its language.
func (d *door) ask(w http.ResponseWriter, r *http.Request) *Ask {
	s := d.site
	a := &Ask{Request: r, W: w, Site: s, Door: d.Access, Company: s.own, Now: s.Now(), Who: Person{Role: Nobody}}
	a.Choice = s.Settings.choice(a.Now)
	if a.speak(); d.Lan {
		a.speakTheirs()
	}
	return a
}

// sayIn says all words in the language and units of a choice.
func (s *Site) sayIn(c Choice) say.Site {
	w := say.Site{Voice: say.New(c.Lang, c.Units, s.Settings.Currency)}
	w.OnSite, w.Zone = true, s.Now().Location()
	return w
}

// guarded is a route behind all that guards it.
func (d *door) guarded(route Route) http.HandlerFunc {
	s := d.site
	about := s.companyOf(route)
	return func(w http.ResponseWriter, r *http.Request) {
		a := d.ask(w, r)
		a.route = route
		welcome, err := a.enter(about)
		if welcome && err == nil {
			err = a.meanwhile(a.do())
		}
		if a.Deed != nil && a.Deed.Noted() {
			s.pens.note(a.Who.ID)
		}
		if err != nil {
			a.fail(err)
		}
	}
}

// do has the route answer. Where it breaks altogether the reader is told so, and
// the log where.
func (a *Ask) do() (err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("%v\n%s", p, debug.Stack())
		}
	}()
	return a.route.Do(a)
}

// enter finds out who asks, and about what, and whether they may. Who is not
// welcome without an error has been sent to sign in.
func (a *Ask) enter(about func() *company) (welcome bool, err error) {
	s := a.Site
	if err := a.recognize(); err != nil {
		return false, err
	}
	if a.Who.Role == Nobody && !a.Door.open() && !s.limits.allow(looks, s.from(a.Request), a.Now) {
		return false, tooOften()
	}
	if a.Who.Role&a.route.For == 0 || !a.reads(a.about()) {
		return false, a.unwelcome()
	}
	if a.Company = about(); a.Company == nil {
		a.Company = s.own
		return false, notFound()
	}
	if err := a.asWhom(); err != nil {
		return false, err
	}
	a.Choice.SeenBy = a.crew()
	return true, a.take()
}

// recognize finds out who asks.
func (a *Ask) recognize() error {
	s := a.Site
	if c, err := a.Cookie(a.Door.cookie()); err == nil {
		u, err := s.guest(a.Context(), tokenHash(c.Value), a.Stamp())
		if err == nil && (u.Phone || !a.Door.Lan) {
			a.token = c.Value
			a.Who = Person{ID: u.ID, Name: u.Name, Role: roleNamed(u.Role), Crew: u.Crew, Phone: u.Phone}
			a.heardOf(u)
			return nil
		}
		if err != nil && !errors.Is(err, store.ErrNoUser) {
			return err
		}
	}
	if !a.Door.open() || forwarded(a.Request) {
		return nil
	}
	has, err := s.hasUsers(a.Context())
	if err == nil && !has {
		a.Who = Person{Name: say.LocalOwner, Role: Owner, Local: true}
	}
	return err
}

// open says whether who can reach the site at all is at its owner's computer.
func (x Access) open() bool { return x.Loopback && !x.BehindProxy && !x.Named }

// forwarded says whether a question has come through a proxy, of which the owner
// may not have thought: then it may come from anywhere.
func forwarded(r *http.Request) bool {
	for _, name := range []string{"Forwarded", "X-Forwarded-For", "X-Forwarded-Host", "X-Real-Ip", "Via"} {
		if r.Header.Get(name) != "" {
			return true
		}
	}
	return false
}

// unwelcome sends who has not signed in to do so, and tells others that they may not.
func (a *Ask) unwelcome() error {
	if a.Who.Role != Nobody {
		return notAllowed()
	}
	if a.Door.Lan {
		return addThisPhone()
	}
	if a.route.Method == "GET" {
		a.setNext()
		http.Redirect(a.W, a.Request, "/login"+a.Choice.View().query(), http.StatusSeeOther)
		return nil
	}
	return signInFirst()
}

// take reads what was sent, as the route takes it.
func (a *Ask) take() error {
	switch a.route.Kind {
	case Shows:
		if err := a.readChoice(); err != nil {
			return err
		}
		return nil
	case Entry:
		return a.takeEntry()
	case Upload:
		a.Body = &patient{http.MaxBytesReader(a.W, a.Body, mostUpload), http.NewResponseController(a.W)}
		return a.often()
	}
	a.Body = http.MaxBytesReader(a.W, a.Body, mostForm)
	if err := a.ParseForm(); err != nil {
		return badForm(err)
	}
	if err := a.often(); err != nil || a.route.Kind == Keyless {
		return err
	}
	ctx, err := a.Once(a.PostFormValue(keyField), digest(a.PostForm))
	if err == nil {
		a.Request = a.Request.WithContext(ctx)
	}
	return err
}

// often refuses who writes too often.
func (a *Ask) often() error {
	whose := a.Who.Name
	if whose == "" {
		whose = a.Site.from(a.Request)
	}
	if !a.Site.limits.allow(writes, whose, a.Now) {
		return tooOften()
	}
	return nil
}

// from is the address that a browser asks from.
func (s *Site) from(r *http.Request) string {
	host, _, err := net.SplitHostPort(r.RemoteAddr)
	if err != nil {
		host = r.RemoteAddr
	}
	if s.Access.BehindProxy {
		all := strings.Split(r.Header.Get("X-Forwarded-For"), ",")
		if last := strings.TrimSpace(all[len(all)-1]); last != "" { // what the proxy itself has added
			if at, err := netip.ParseAddr(last); err == nil {
				return at.String()
			}
		}
	}
	return host
}

// counted is an answer whose status and size are known afterwards. It may take as
// long as it needs, so long as the browser is never silent for long: each part has a
// time of its own.
type counted struct {
	http.ResponseWriter
	to            *http.ResponseController
	within        time.Duration // how long a browser may take for a part
	status, bytes int
}

// mostAtOnce is a part of an answer: what a slow line takes well within the time.
const mostAtOnce = 64 << 10

func (c *counted) WriteHeader(status int) {
	if c.status == 0 {
		c.status = status
	}
	c.ResponseWriter.WriteHeader(status)
}

func (c *counted) Write(b []byte) (int, error) {
	if c.status == 0 {
		c.status = http.StatusOK
	}
	done := 0
	for {
		part := b[done:min(done+mostAtOnce, len(b))]
		c.to.SetWriteDeadline(time.Now().Add(c.within)) // where there is none to set, there is no silence either
		n, err := c.ResponseWriter.Write(part)
		done, c.bytes = done+n, c.bytes+n
		if err != nil || done == len(b) {
			return done, err
		}
	}
}

// Unwrap is for what wants more of an answer than to write it.
func (c *counted) Unwrap() http.ResponseWriter { return c.ResponseWriter }

// statusOnly takes an answer's status and headers.
type statusOnly struct {
	header http.Header
	status int
}

func (o *statusOnly) Header() http.Header         { return o.header }
func (o *statusOnly) Write(b []byte) (int, error) { return len(b), nil }
func (o *statusOnly) WriteHeader(status int)      { o.status = status }
