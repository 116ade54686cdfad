package site

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"pourback/ingest"
	"pourback/ingest/invented"
	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/ingest/store/storetest"
)

func TestMain(m *testing.M) {
	if dsn := os.Getenv(servesHere); dsn != "" {
		if err := serveAlone(dsn); err != nil {
			fmt.Fprintln(os.Stderr, err)
		}
		os.Exit(1)
	}
	code := storetest.Main(m)
	closeBrowsers()
	os.Exit(code)
}

// place is a site for a test, with the database behind it and its clock.
type place struct {
	t     testing.TB
	site  *Site
	store *store.Store
	set   record.Set // what was taken in
	lan   *Access    // the way for phones on the network, where there is one

	mu    sync.Mutex
	clock time.Time
	log   bytes.Buffer
}

// testDay is the day of all tests.
var testDay = record.DateOf(2026, 3, 31)

// home is a site at this computer, as it is reached by default.
var atHome = Access{Port: 8377, Loopback: true, Hosts: []string{"localhost", "127.0.0.1", "::1"}}

// public is a site that others reach through a proxy.
var public = Access{Port: 8377, Loopback: true, Secure: true, BehindProxy: true, Named: true, Hosts: []string{"jobs.example.com"}}

// newPlace opens a site of so many invented jobs, none for 0.
func newPlace(t testing.TB, dsn string, jobs int, access Access) *place {
	t.Helper()
	p := &place{t: t, clock: time.Date(2026, 3, 31, 12, 0, 0, 0, time.UTC)}
	st, err := store.Open(t.Context(), dsn, store.Options{Readers: 4})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { st.Close() })
	p.store = st
	if jobs > 0 {
		p.set = invent(t, jobs)
		p.takeIn(p.set)
	}
	p.reopen(access)
	return p
}

// reopen makes the site anew, as a second start would.
func (p *place) reopen(access Access) {
	p.t.Helper()
	s, err := New(Config{Store: p.store, Database: "test.db", Access: access, Lan: p.lan, Now: p.now,
		Log: slog.New(slog.NewTextHandler(lockedWriter{&p.mu, &p.log}, nil)), Settings: Settings{Company: "Low Mesa Test Crew", AsOf: testDay, Pictures: ingest.DefaultPictureRules()}})
	if err != nil {
		p.t.Fatal(err)
	}
	p.t.Cleanup(func() { s.Close() })
	p.site = s
}

type lockedWriter struct {
	mu *sync.Mutex
	w  io.Writer
}

func (l lockedWriter) Write(b []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.w.Write(b)
}

func (p *place) now() time.Time {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.clock
}

// later lets time pass.
func (p *place) later(d time.Duration) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.clock = p.clock.Add(d)
}

func (p *place) logged() string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.log.String()
}

func invent(t testing.TB, jobs int) record.Set {
	t.Helper()
	set, _, err := invented.Generate(invented.Options{Jobs: jobs, Seed: 1, Until: testDay})
	if err != nil {
		t.Fatal(err)
	}
	return set
}

// takeIn takes records in as files.
func (p *place) takeIn(set record.Set) {
	p.t.Helper()
	files, err := ingest.WriteSet(p.t.TempDir(), set)
	if err != nil {
		p.t.Fatal(err)
	}
	p.takeFiles(files...)
}

func (p *place) takeFiles(files ...string) {
	p.t.Helper()
	opt := ingest.Options{TakenAt: "2026-03-31T12:00:00Z"}
	opt.Sheet.Today = testDay
	results, err := ingest.Files(context.Background(), p.store, files, opt)
	if err != nil {
		p.t.Fatal(err)
	}
	for _, r := range results {
		if r.Refused != "" || r.SetAside > 0 {
			p.t.Fatalf("%s: %s, %d set aside", r.File, r.Refused, r.SetAside)
		}
	}
}

// onePour takes in a file of one more placement.
func (p *place) onePour(job string) {
	p.t.Helper()
	file := filepath.Join(p.t.TempDir(), job+".csv")
	text := "job_no,placement,placed_on,use,area_sqft,thickness_in,delivered_yd,leftover_yd,method\n" + job + ",A,2026-03-02,driveway,400,4,5.5,0.2,chute\n"
	if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
		p.t.Fatal(err)
	}
	p.takeFiles(file)
}

// user adds a user; all have the same password.
const everybodys = "nine lives of a cat"

var everybodysHash = sync.OnceValue(func() string { return HashPassword(everybodys) })

func (p *place) user(name string, role Roles) int64 {
	p.t.Helper()
	id, err := p.store.AddUser(p.t.Context(), store.User{Name: name, Role: role.String(), Password: everybodysHash(), MadeAt: stamp(p.now())})
	if err != nil {
		p.t.Fatal(err)
	}
	return id
}

// surfer is a browser: it keeps cookies, and says where its forms are from.
type surfer struct {
	*place
	host, origin string
	lan          bool // it comes by the network's own address
	cookies      map[string]string
	headers      map[string]string
}

func (p *place) surfer() *surfer {
	host := p.site.Access.Hosts[0]
	origin := "http://" + host
	if p.site.Access.Secure {
		origin = "https://" + host
	}
	return &surfer{place: p, host: host, origin: origin, cookies: map[string]string{}, headers: map[string]string{}}
}

// answered is what a browser got.
type answered struct {
	status int
	header http.Header
	body   string
}

func (a answered) String() string {
	return fmt.Sprintf("%d %s", a.status, a.header.Get("Location"))
}

// get and post ask; a post is from a page of the site's own.
func (b *surfer) get(path string) answered { return b.ask("GET", path, "", "") }

func (b *surfer) post(path string, fields ...string) answered {
	form := url.Values{}
	for i := 0; i+1 < len(fields); i += 2 {
		form.Add(fields[i], fields[i+1])
	}
	return b.ask("POST", path, "application/x-www-form-urlencoded", form.Encode())
}

func (b *surfer) ask(method, path, kind, body string) answered {
	r := httptest.NewRequest(method, path, strings.NewReader(body))
	r.Host = b.host
	if kind != "" {
		r.Header.Set("Content-Type", kind)
	}
	if method != "GET" && b.origin != "" {
		r.Header.Set("Origin", b.origin)
	}
	for name, value := range b.headers {
		r.Header.Set(name, value)
	}
	for name, value := range b.cookies {
		r.AddCookie(&http.Cookie{Name: name, Value: value})
	}
	w := httptest.NewRecorder()
	if b.lan {
		b.site.lan.ServeHTTP(w, r)
	} else {
		b.site.ServeHTTP(w, r)
	}
	for _, c := range w.Result().Cookies() {
		if c.MaxAge < 0 {
			delete(b.cookies, c.Name)
		} else {
			b.cookies[c.Name] = c.Value
		}
	}
	return answered{w.Code, w.Header(), w.Body.String()}
}

// signedIn is a browser in which a user has signed in.
func (p *place) signedIn(name string) *surfer {
	p.t.Helper()
	b := p.surfer()
	if got := b.post("/login", "name", name, "password", everybodys); got.status != http.StatusSeeOther {
		p.t.Fatalf("%s did not get in: %v", name, got)
	}
	return b
}

var hiddenKey = regexp.MustCompile(`name="form_key" value="([A-Z0-9]+)"`)

// key is a hidden key of a page.
func (a answered) key(t testing.TB) string {
	t.Helper()
	found := hiddenKey.FindStringSubmatch(a.body)
	if found == nil {
		t.Fatalf("no form with a key: %v\n%.600s", a, a.body)
	}
	return found[1]
}

func (a answered) says(t testing.TB, texts ...string) {
	t.Helper()
	for _, text := range texts {
		if !strings.Contains(a.body, text) {
			t.Errorf("%v does not say %q:\n%.1500s", a, text, a.body)
		}
	}
}
