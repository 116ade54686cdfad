package site

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"mime/multipart"
	"net/http"
	"net/url"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"pourback/ingest/store"
)

// crowd are many browsers at a site that is reached by HTTP.
type crowd struct {
	t      testing.TB
	client *http.Client
	at     atomic.Pointer[string] // the address
	again  bool                   // what got no answer, or a broken one, is sent again as it was

	mu   sync.Mutex
	took map[string][]time.Duration // by the kind of what was asked
}

// crowdAt are browsers at an address; each keeps its connection.
func crowdAt(t testing.TB, url string) *crowd {
	transport := &http.Transport{MaxIdleConnsPerHost: 200}
	t.Cleanup(transport.CloseIdleConnections)
	c := &crowd{t: t, took: map[string][]time.Duration{},
		client: &http.Client{Transport: transport, Timeout: time.Minute, CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}}
	c.at.Store(&url)
	return c
}

// member is one of them, who has signed in as several users: what one user may write
// each second is limited, and a crowd is to write more.
type member struct {
	*crowd
	role   Roles
	ids    []int64 // of those users
	tokens []string
	asked  int
}

// readers are so many who look, of all roles.
func (c *crowd) readers(st *store.Store, n int) (all []*member) {
	for k := range n {
		all = append(all, c.member(st, fmt.Sprintf("Reader %d", k), []Roles{Owner, Viewer, Crew}[k%3], 1))
	}
	return all
}

// member signs somebody in: as so many users of a role, by the store, as hashing
// passwords would take longer than all that is tried.
func (c *crowd) member(st *store.Store, name string, role Roles, users int) *member {
	c.t.Helper()
	m := &member{crowd: c, role: role}
	for n := range users {
		ctx := context.Background()
		id, err := st.AddUser(ctx, store.User{Name: fmt.Sprintf("%s %d", name, n), Role: role.String(), Password: "none", MadeAt: "2026-03-31T12:00:00Z"})
		if err != nil {
			c.t.Fatal(err)
		}
		token, hash := NewToken()
		if err := st.BeginSession(ctx, store.Session{Hash: hash, UserID: id, MadeAt: "2026-03-31T12:00:00Z", ExpiresAt: "2046-03-31T12:00:00Z"}, ""); err != nil {
			c.t.Fatal(err)
		}
		m.ids, m.tokens = append(m.ids, id), append(m.tokens, token)
	}
	return m
}

// turn is one question by one of a member's users: what is sent again is sent by the
// same one.
type turn struct {
	*crowd
	token   string
	headers map[string]string
	tears   func(*http.Request) *http.Request // has the connection break, nil where it holds
}

func (m *member) turn() turn {
	m.asked++
	return turn{crowd: m.crowd, token: m.tokens[m.asked%len(m.tokens)]}
}

// get and post ask, and note how long the answer took under a kind.
func (u turn) get(kind, path string) answered { return u.ask(kind, "GET", path, "", nil) }

func (u turn) post(kind, path string, fields ...string) answered {
	form := url.Values{}
	for i := 0; i+1 < len(fields); i += 2 {
		form.Add(fields[i], fields[i+1])
	}
	return u.ask(kind, "POST", path, "application/x-www-form-urlencoded", []byte(form.Encode()))
}

// drop hands a file in.
func (u turn) drop(kind, key, name string, content []byte) answered {
	var body bytes.Buffer
	w := multipart.NewWriter(&body)
	w.WriteField(keyField, key)
	if part, err := w.CreateFormFile("file", name); err == nil {
		part.Write(content)
	}
	w.Close()
	return u.ask(kind, "POST", "/upload", w.FormDataContentType(), body.Bytes())
}

// ask asks, and again where it may: for a minute, as a browser's owner would.
func (u turn) ask(kind, method, path, content string, body []byte) answered {
	for end := time.Now().Add(time.Minute); ; time.Sleep(50 * time.Millisecond) {
		got, err := u.once(kind, method, path, content, body)
		if err == nil {
			return got
		}
		if !u.again || time.Now().After(end) {
			u.t.Errorf("%s %s: %v\n%.600s", method, path, err, got.body)
			return got
		}
	}
}

func (u turn) once(kind, method, path, content string, body []byte) (answered, error) {
	r, err := http.NewRequest(method, *u.at.Load()+path, bytes.NewReader(body))
	if err != nil {
		return answered{}, err
	}
	if content != "" {
		r.Header.Set("Content-Type", content)
	}
	if strings.HasSuffix(kind, "typing") {
		r.Header.Set("Pourback-Follow", "now")
	}
	for name, value := range u.headers {
		r.Header.Set(name, value)
	}
	r.AddCookie(&http.Cookie{Name: atHome.cookie(), Value: u.token})
	if u.tears != nil {
		r = u.tears(r)
	}
	began := time.Now()
	resp, err := u.client.Do(r)
	if err != nil {
		return answered{}, err
	}
	defer resp.Body.Close()
	text, err := io.ReadAll(resp.Body)
	took := time.Since(began)
	got := answered{resp.StatusCode, resp.Header, string(text)}
	if err == nil && (resp.StatusCode >= 500 || resp.StatusCode == http.StatusTooManyRequests) {
		err = errors.New(resp.Status)
	}
	u.mu.Lock()
	defer u.mu.Unlock()
	u.took[kind] = append(u.took[kind], took)
	return got, err
}

// twice sends the same twice at once, and gives both answers.
func twice(send func() answered) (both [2]answered) {
	var wait sync.WaitGroup
	for i := range both {
		wait.Go(func() { both[i] = send() })
	}
	wait.Wait()
	return both
}

// seenBefore are pages that somebody or other looks at all the time: of several
// choices, in both languages and units, by whom they are for.
var seenBefore = map[Roles][]string{
	Owner: {"/", "/report/waste", "/report/crews?lang=es", "/report/month?units=si", "/upload", "/batches", "/jobs", "/report/waste?use=driveway"},
	Viewer: {"/", "/report/waste?lang=es&units=si", "/report/cracks", "/report/pump?use=driveway&lang=es", "/report/crews?crew=Heron", "/bids", "/visits",
		"/report/waste?from=2025-01&to=2025-12"},
	Crew: {"/visits", "/visits?lang=es", "/crew"},
}

// warm has all pages looked at once, by the first three members, of a role each.
func (c *crowd) warm(members []*member) {
	for _, m := range members[:3] {
		for _, path := range seenBefore[m.role] {
			m.turn().get("before", path)
		}
	}
}

// reads has a member look at pages until the time is up.
func (m *member) reads(from int, pause time.Duration, until time.Time) {
	paths := seenBefore[m.role]
	for n := from; time.Now().Before(until); n++ {
		path := paths[n%len(paths)]
		if got := m.turn().get("page "+path, path); got.status != http.StatusOK {
			m.t.Errorf("%s: %v", path, got)
		}
		time.Sleep(pause)
	}
}
