package site

import (
	"bytes"
	"fmt"
	"net/http"
	"sync"

	"pourback/ingest/record"
)

// shownKey is what a page that is shown hangs on, beside the records: its whole address,
// who asks, and the day and the zone of the clock on the wall there.
type shownKey struct {
	address string
	choice  Choice
	who     Roles
	local   bool
	crew    string
	day     record.Date
	east    int // of Greenwich, in seconds
}

// shownPage is a page as it was made last, with what it was made of.
type shownPage struct {
	of, etag string
	html     []byte // a blank where each form has its hidden key
}

// mostShown is how many bytes of such pages are kept; then all are made anew.
const mostShown = 4 << 20

// shownPages keeps pages that many ask for while nothing changes.
type shownPages struct {
	mu    sync.Mutex
	pages map[shownKey]shownPage
	bytes int
}

func (s *shownPages) get(k shownKey, of string) (shownPage, bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	p, ok := s.pages[k]
	return p, ok && p.of == of
}

func (s *shownPages) put(k shownKey, p shownPage) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.bytes += len(p.html) - len(s.pages[k].html)
	if s.pages == nil || s.bytes > mostShown {
		s.pages, s.bytes = map[shownKey]shownPage{}, len(p.html)
	}
	s.pages[k] = p
}

// showing is a page that is being made to be kept.
type showing struct {
	key shownKey
	of  string
}

// madeOf shows the page that was made of the same before, for all who may see the same, or
// else makes it: of names all that stands in it and is not in its address. A form's hidden
// key is a new one each time.
func (a *Ask) madeOf(of string, show func() error) error {
	_, east := a.Local().Zone()
	k := shownKey{a.URL.RequestURI(), a.Choice, a.Who.Role, a.Who.Local, a.Who.Crew, a.Today(), east}
	p, ok := a.Company.shown.get(k, of)
	if !ok {
		a.showing = &showing{k, of}
		return show()
	}
	if p.etag != "" {
		a.W.Header().Set("ETag", p.etag)
	}
	a.sendPage(http.StatusOK, p.html)
	return nil
}

// madeOfVersion is madeOf of the records and bids as they stand.
func (a *Ask) madeOfVersion(show func() error) error {
	version, err := a.Store().Version(a.Context())
	if err != nil {
		return err
	}
	return a.madeOf(version, show)
}

// madeOfAnswer is madeOf of an answer.
func (a *Ask) madeOfAnswer(is *answer, show func() error) error {
	return a.madeOf(fmt.Sprint("answer ", is.number), show)
}

// blank stands for a form's hidden key in a page that is kept; nobody can guess it.
var blank = newKey()

// key is a new hidden key for a form of the page that is shown.
func (a *Ask) key() string {
	if a.showing != nil {
		return blank
	}
	return newKey()
}

// sendPage sends a page, each form of it with a key of its own.
func (a *Ask) sendPage(status int, html []byte) {
	a.W.Header().Set("Content-Type", "text/html; charset=utf-8")
	a.W.Header().Set("Cache-Control", "no-store")
	a.W.WriteHeader(status)
	var page bytes.Buffer
	for text := range bytes.SplitSeq(html, []byte(blank)) {
		if page.Len() > 0 {
			page.WriteString(newKey())
		}
		page.Write(text)
	}
	a.W.Write(page.Bytes())
}
