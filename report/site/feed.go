package site

import (
	"bytes"
	"errors"
	"net/http"
	"time"

	"golang.org/x/time/rate"

	"pourback/ingest/store"
	"pourback/report/out"
)

// feedView is the calendar's address, shown once, or when it was made.
type feedView struct {
	Says string
	Link string // "" where it was shown before
	Has  bool
}

// feedPage says whether the calendar has an address, and makes one.
func feedPage(a *Ask) error {
	f, err := a.Site.Store.Feed(a.Context())
	switch {
	case errors.Is(err, store.ErrNoFeed):
		return a.Show("feed", a.Say.FeedTitle(), feedView{Says: a.Say.NoFeed()})
	case err != nil:
		return err
	}
	return a.Show("feed", a.Say.FeedTitle(), feedView{Says: a.Say.HasFeed(f.MadeAt[:10], f.MadeBy), Has: true})
}

// renewFeed makes a new address, which is shown this once; the one before leads nowhere
// from then on.
func renewFeed(a *Ask) error {
	_, err := a.Site.Store.Feed(a.Context())
	first := errors.Is(err, store.ErrNoFeed)
	if err != nil && !first {
		return err
	}
	token, hash := NewToken()
	if err := a.Site.Store.SetFeed(a.Context(), store.Feed{Hash: hash, MadeAt: a.Stamp(), MadeBy: a.Who.Name}); err != nil {
		return err
	}
	return a.Show("feed", a.Say.FeedTitle(), feedView{Says: a.Say.NewFeed(first), Link: a.Door.origin(a.Host) + feedPath(token), Has: true})
}

// endFeed takes the address away.
func endFeed(a *Ask) error {
	if err := a.Site.Store.EndFeed(a.Context()); err != nil {
		return err
	}
	return a.Go("/calendar")
}

// feedPath is the address of the calendar that a token opens.
func feedPath(token string) string { return "/calendar/" + token + "/visits.ics" }

// Calendar programs ask some times an hour; who guesses asks more often.
var feedLooks = rule{"calendar", rate.Every(5 * time.Second), 20, time.Minute}

// feed is the calendar of the visits that are due, for whoever has its address. It
// names slabs and their sites and no money, and what its days stand on is what the
// command line writes.
func feed(a *Ask) error {
	if !a.Site.limits.allow(feedLooks, a.Site.from(a.Request), a.Now) {
		return tooOften()
	}
	if err := a.Site.Store.IsFeed(a.Context(), tokenHash(a.PathValue("token"))); errors.Is(err, store.ErrNoFeed) {
		return notFound()
	} else if err != nil {
		return err
	}
	choice := a.Choice.View()
	is, _, err := a.Company.answer(a.Context(), choice, time.Time{})
	if err != nil {
		return err
	}
	var text bytes.Buffer
	if err := out.Calendar(&text, is.factors, out.CalendarOptions{Lang: choice.Lang, Units: choice.Units, Sites: !a.Company.settings.NoNames}); err != nil {
		return err
	}
	h := a.W.Header()
	h.Set("Content-Disposition", `inline; filename="visits.ics"`)
	h.Set("Cache-Control", "private, no-cache")
	h.Set("Referrer-Policy", "no-referrer")
	etag := etagOf(text.Bytes())
	h.Set("ETag", etag)
	if matches(a.Header.Get("If-None-Match"), etag) {
		a.W.WriteHeader(http.StatusNotModified)
		return nil
	}
	a.send(http.StatusOK, "text/calendar; charset=utf-8", text.Bytes())
	return nil
}
