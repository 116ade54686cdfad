package site

import (
	"bytes"
	"fmt"
	"html/template"
	"net/http"
	"strconv"
	"sync"
	"time"

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
	whose    bool   // it says whose it is
	html     []byte // with blanks
	asked    time.Time
}

// mostShown is how many bytes of such pages are kept.
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
	if ok = ok && p.of == of; ok {
		p.asked = time.Now()
		s.pages[k] = p
	}
	return p, ok
}

func (s *shownPages) put(k shownKey, p shownPage) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.pages == nil {
		s.pages = map[shownKey]shownPage{}
	}
	s.bytes += len(p.html) - len(s.pages[k].html)
	p.asked = time.Now()
	for s.pages[k] = p; s.bytes > mostShown && len(s.pages) > 1; {
		s.dropOldest()
	}
}

// dropOldest drops the page that nobody has asked for the longest.
func (s *shownPages) dropOldest() {
	var oldest shownKey
	var since time.Time
	for k, p := range s.pages {
		if since.IsZero() || p.asked.Before(since) {
			oldest, since = k, p.asked
		}
	}
	s.bytes -= len(s.pages[oldest].html)
	delete(s.pages, oldest)
}

// showing is a page that is being made to be kept.
type showing struct {
	key shownKey
	of  string
}

// madeOf shows the page that was made of the same before, for all who may see the same, or
// else makes it: of names all that stands in it and is not in its address. What is of one
// reader alone is filled in each time: who it is, and the hidden keys of forms.
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
	if p.whose {
		a.sayWhose()
	}
	a.sendPage(http.StatusOK, a.filled(p.html))
	return nil
}

// keepShown keeps a page that was made to be shown again.
func (a *Ask) keepShown(html []byte) {
	h := a.W.Header()
	a.Company.shown.put(a.showing.key, shownPage{of: a.showing.of, etag: h.Get("ETag"), whose: h.Get(userHeader) != "", html: html})
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

// Blanks stand in a page that is kept for what is of one reader alone: the hidden keys of
// its forms, and who that is. Nobody can guess them.
var blankKey, blankUser, blankName = newKey(), newKey(), newKey()

// key is a new hidden key for a form of the page that is shown.
func (a *Ask) key() string {
	if a.showing != nil {
		return blankKey
	}
	return newKey()
}

// reader is who asks, by number and name, as the page that is shown says it.
func (a *Ask) reader() (user, name string) {
	if a.showing != nil {
		return blankUser, blankName
	}
	return strconv.FormatInt(a.Who.ID, 10), a.Who.Name
}

// filled is a page that is kept, its blanks filled in.
func (a *Ask) filled(html []byte) []byte {
	var page bytes.Buffer
	for i, text := range bytes.Split(html, []byte(blankKey)) {
		if i > 0 {
			page.WriteString(newKey())
		}
		text = bytes.ReplaceAll(text, []byte(blankUser), strconv.AppendInt(nil, a.Who.ID, 10))
		page.Write(bytes.ReplaceAll(text, []byte(blankName), []byte(template.HTMLEscapeString(a.Who.Name))))
	}
	return page.Bytes()
}

func (a *Ask) sendPage(status int, html []byte) {
	a.W.Header().Set("Content-Type", "text/html; charset=utf-8")
	a.W.Header().Set("Cache-Control", "no-store")
	a.W.WriteHeader(status)
	a.W.Write(html)
}
