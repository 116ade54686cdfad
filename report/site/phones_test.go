package site

import (
	"fmt"
	"net/http"
	"net/url"
	"strings"
	"sync"
	"testing"
	"time"

	"pourback/ingest/store"
	"pourback/ingest/store/storetest"
)

// onNetwork is a network's own address, for phones.
var onNetwork = Access{Port: 8377, Hosts: []string{"192.168.7.20"}, Lan: true}

// openLan opens the site anew, for phones on the network too.
func (p *place) openLan(access Access) {
	lan := onNetwork
	p.lan = &lan
	p.reopen(access)
}

// byLan has a browser come by the network's own address.
func (b *surfer) byLan() *surfer {
	b.lan, b.host = true, "192.168.7.20:8377"
	b.origin = "http://" + b.host
	return b
}

// phone adds a crew's phone that is let in, as the page of users and a code would.
func (p *place) phone(name, crew string) *surfer {
	p.t.Helper()
	id, err := p.store.AddUser(p.t.Context(), store.User{Name: name, Role: Crew.String(), MadeAt: stamp(p.now()), Crew: crew, Phone: true})
	if err != nil {
		p.t.Fatal(err)
	}
	b := p.surfer()
	b.cookies[p.site.Access.cookie()] = p.letIn(id)
	return b
}

// letIn opens a session of a phone, and gives its token.
func (p *place) letIn(id int64) string {
	p.t.Helper()
	token, hash := NewToken()
	if err := p.store.BeginSession(p.t.Context(), store.Session{Hash: hash, UserID: id, MadeAt: stamp(p.now()), ExpiresAt: stamp(p.now().Add(phoneLasts)), SeenAt: stamp(p.now())}, ""); err != nil {
		p.t.Fatal(err)
	}
	return token
}

// code has the owner make a code, and gives the path of its link.
func (b *surfer) code(fields ...string) string {
	b.t.Helper()
	at := "/users/phone"
	if len(fields) == 1 {
		at, fields = fields[0], nil
	}
	got := b.post(at, append([]string{keyField, newKey()}, fields...)...)
	shown := linkShown.FindStringSubmatch(got.body)
	if shown == nil {
		b.t.Fatalf("no code: %v %.900s", got, got.body)
	}
	if !strings.HasPrefix(shown[1], "http://192.168.7.20:8377/join?t=") {
		b.t.Fatalf("the code leads to %s", shown[1])
	}
	u, err := url.Parse(shown[1])
	if err != nil {
		b.t.Fatal(err)
	}
	return u.RequestURI()
}

// joins presses the button of a join page.
func (b *surfer) joins(link string) answered {
	return b.post("/join", "token", strings.TrimPrefix(link, "/join?t="))
}

// TestAPhoneIsAdded: by a code that is looked at as often as one likes and lets in
// once, by a form alone; the owner at the computer goes on without signing in; taken
// off, the phone's next question is nobody's.
func TestAPhoneIsAdded(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		p := newPlace(t, dsn, 3, atHome)
		p.openLan(atHome)
		owner, heron := p.surfer(), p.set.Placements[0].Crew
		owner.get("/users").says(t, "Add a crew phone", "No phone is added yet.", `value="`+heron+`"`)
		link := owner.code("name", "Luis", "crew", heron)
		token := strings.TrimPrefix(link, "/join?t=")
		luis := p.surfer().byLan()
		for range 3 { // what looks at links before people do
			luis.get(link).says(t, "Welcome, Luis", "crew "+heron, "Use this phone")
		}
		if has, err := p.store.HasUsers(t.Context()); err != nil || has {
			t.Error("looking at a code makes a user: ", has, err)
		}
		luis.cookies[onNetwork.cookie()] = "planted" // session fixation (OWASP)
		got := luis.joins(link)
		if !fits(got, "303 /") {
			t.Fatal(got)
		}
		cookie := strings.Join(got.header.Values("Set-Cookie"), "\n")
		for _, want := range []string{"pourback-8377=", "HttpOnly", "SameSite=Lax", "Path=/", fmt.Sprintf("Max-Age=%d", int(phoneLasts.Seconds()))} {
			if !strings.Contains(cookie, want) {
				t.Errorf("the cookie is %q, without %s", cookie, want)
			}
		}
		if strings.Contains(cookie, "Secure") {
			t.Error("no browser keeps this cookie, as there is no https: ", cookie)
		}
		held := luis.cookies[onNetwork.cookie()]
		open, err := p.store.Sessions(t.Context(), stamp(p.now()))
		if err != nil || len(open) != 1 || held == "planted" || open[0].Hash != tokenHash(held) || open[0].ExpiresAt != stamp(p.now().Add(phoneLasts)) {
			t.Errorf("the session: %+v, %v", open, err)
		}
		luis.get("/you").says(t, "This is the phone of Luis, for crew "+heron+".")
		luis.get("/crew").says(t, "No pour is planned")
		if got := p.surfer().byLan().joins(link); got.status != http.StatusGone {
			t.Error("a second time: ", got)
		}
		if strings.Contains(p.logged(), token) || strings.Contains(p.logged(), held) {
			t.Error("the log holds a secret")
		}
		got = p.surfer().get("/users")
		if got.says(t, "Luis", "Last seen within the hour.", "only this computer can open these pages"); got.status != 200 {
			t.Error("the owner is shut out by a phone: ", got)
		}

		u, err := p.store.UserNamed(t.Context(), "luis")
		if err != nil || !u.Phone || u.Crew != heron || u.Role != "crew" || u.Password != "" {
			t.Errorf("%+v, %v", u, err)
		}
		if got := owner.post(fmt.Sprintf("/users/%d/remove", u.ID), keyField, newKey()); !fits(got, "303 /users") {
			t.Fatal(got)
		}
		if got := luis.get("/pours"); got.status != http.StatusUnauthorized {
			t.Error("taken off, and let in: ", got)
		} else {
			got.says(t, "This phone is not signed in.")
		}
		log, err := p.store.Log(t.Context(), 10)
		if err != nil || len(log) != 3 || log[0].Did != "phone Luis, crew "+heron+", removed" || log[0].Who != "owner" || log[1].Did != "phone Luis, crew "+heron || log[1].Who != "Luis" || log[2].Did != "code for phone Luis, crew "+heron {
			t.Errorf("the log: %+v, %v", log, err)
		}
	})
}

// TestManyPhonesOneCode: of phones that read a code at the same moment one is let in.
func TestManyPhonesOneCode(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		p := newPlace(t, dsn, 0, atHome)
		p.openLan(atHome)
		owner := p.surfer()
		for round := range 4 {
			name := fmt.Sprint("Luis ", round)
			link := owner.code("name", name)
			p.site.limits.forget(p.now().Add(time.Hour)) // as many tries as there are phones
			var in, gone int
			var mu sync.Mutex
			var wait sync.WaitGroup
			for range 6 {
				wait.Go(func() {
					got := p.surfer().byLan().joins(link)
					mu.Lock()
					defer mu.Unlock()
					switch got.status {
					case http.StatusSeeOther:
						in++
					case http.StatusGone:
						gone++
					default:
						t.Error(got)
					}
				})
			}
			if wait.Wait(); in != 1 || gone != 5 {
				t.Errorf("%d were let in, %d not", in, gone)
			}
		}
		open, err := p.store.Sessions(t.Context(), stamp(p.now()))
		if err != nil || len(open) != 4 {
			t.Errorf("%d sessions, %v", len(open), err)
		}
	})
}

// TestCodesEnd: a code is too old after a quarter of an hour, taken back, or replaced
// by the next for the same phone; a new one ends what the phone was let in by before,
// once it is used.
func TestCodesEnd(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		p := newPlace(t, dsn, 0, atHome)
		p.openLan(atHome)
		owner := p.surfer()
		ends := func(why, link string) {
			t.Helper()
			for _, got := range []answered{p.surfer().byLan().get(link), p.surfer().byLan().joins(link)} {
				if got.status != http.StatusGone {
					t.Errorf("%s: %v", why, got)
				}
			}
		}
		old := owner.code("name", "Luis")
		p.later(codeLasts + time.Second)
		ends("too old", old)
		back := owner.code("name", "Luis")
		owner.get("/users").says(t, "Links not used yet", "crew phone", tokenHash(strings.TrimPrefix(back, "/join?t=")))
		owner.post("/users/withdraw", keyField, newKey(), "hash", tokenHash(strings.TrimPrefix(back, "/join?t=")))
		ends("taken back", back)
		lost := owner.code("name", "Luis")
		link := owner.code("name", "Luis")
		ends("replaced", lost)
		first := p.surfer().byLan()
		if got := first.joins(link); !fits(got, "303 /") {
			t.Fatal(got)
		}
		u, err := p.store.UserNamed(t.Context(), "Luis")
		if err != nil {
			t.Fatal(err)
		}
		again := owner.code(fmt.Sprintf("/users/%d/code", u.ID))
		if got := first.get("/you"); got.status != 200 {
			t.Error("a code that nobody has used ends a phone: ", got)
		}
		second := p.surfer().byLan()
		if got := second.joins(again); !fits(got, "303 /") {
			t.Fatal(got)
		}
		if got := second.get("/you"); got.status != 200 {
			t.Error("let in again: ", got)
		}
		if got := first.get("/you"); got.status != http.StatusUnauthorized {
			t.Error("the phone before it is let in still: ", got)
		}
		owner.post(fmt.Sprintf("/users/%d/remove", u.ID), keyField, newKey())
		unused := owner.code("name", "Luis")
		p.later(time.Minute)
		p.phone("luis", "")
		if got := p.surfer().byLan().joins(unused); got.status != http.StatusConflict {
			t.Error("a name that is taken meanwhile: ", got)
		}
	})
}

// TestAPhoneStays: for as long as it is used, and half a year from then.
func TestAPhoneStays(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		p := newPlace(t, dsn, 0, atHome)
		p.openLan(atHome)
		b := p.phone("Luis", "").byLan()
		for range 4 {
			p.later(phoneLasts - time.Hour)
			got := b.get("/you")
			if got.status != 200 || !strings.Contains(strings.Join(got.header.Values("Set-Cookie"), ""), fmt.Sprint("Max-Age=", int(phoneLasts.Seconds()))) {
				t.Fatalf("it is used: %v %v", got, got.header)
			}
		}
		if got := b.get("/you"); got.header.Get("Set-Cookie") != "" {
			t.Error("it is noted each time")
		}
		p.later(3*time.Hour + time.Minute)
		p.surfer().get("/users").says(t, "Last seen 3 hours ago.")
		p.later(5 * 24 * time.Hour)
		p.surfer().get("/users").says(t, "Last seen 5 days ago.")
		p.later(phoneLasts)
		if got := b.get("/you"); got.status != http.StatusUnauthorized {
			t.Error("not used for half a year: ", got)
		}
		p.surfer().get("/users").says(t, "Signed out. It needs a new code.")
	})
}

// TestHeardOfWhileWriting: a phone waits for nobody who writes, only because it was
// heard of.
func TestHeardOfWhileWriting(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 0, atHome)
	p.openLan(atHome)
	b := p.phone("Luis", "").byLan()
	p.later(time.Hour)
	tx, err := p.store.Begin(t.Context(), "long.csv", "00", stamp(p.now()))
	if err != nil {
		t.Fatal(err)
	}
	defer tx.Rollback()
	began := time.Now()
	got := b.get("/you")
	if took := time.Since(began); got.status != 200 || took > 5*time.Second {
		t.Errorf("%v after %v", got, took)
	}
	if got := b.get("/you"); got.header.Get("Set-Cookie") != "" {
		t.Error("it is tried at each question")
	}
	tx.Rollback()
	p.later(2 * time.Minute)
	if got := b.get("/you"); got.header.Get("Set-Cookie") == "" {
		t.Error("it is not tried again")
	}
}

// TestAPhoneIsNobodyElse: a phone has no password and no other role, signs in by no
// form, and is no user without whom a site may not be opened to others.
func TestAPhoneIsNobodyElse(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		p := newPlace(t, dsn, 0, atHome)
		p.openLan(atHome)
		b := p.phone("Luis", "")
		owner := p.surfer()
		for _, path := range []string{"/users/1/role", "/users/1/password"} {
			if got := owner.post(path, keyField, newKey(), "role", "owner"); got.status != 404 {
				t.Errorf("%s: %v", path, got)
			}
		}
		if err := p.store.Accept(t.Context(), "x", "", store.Session{}, ""); err != store.ErrNoneSuch {
			t.Error(err)
		}
		for _, password := range []string{"", " ", nobodysHash} {
			if got := p.surfer().post("/login", "name", "Luis", "password", password); got.status != http.StatusUnauthorized {
				t.Errorf("signs in by %q: %v", password, got)
			}
		}
		if has, err := p.store.HasUsers(t.Context()); err != nil || has {
			t.Error("a phone lets others in: ", has, err)
		}
		if err := (Plan{Access: public}).MustHave(false); err == nil {
			t.Error("a site of phones alone may be opened to others")
		}
		if got := owner.post("/users/invite", keyField, newKey(), "name", "Bo", "role", "viewer"); got.status != 400 {
			t.Error("the first user beside a phone is no owner: ", got)
		}
		if got := b.get("/users"); got.status != 403 {
			t.Error("a phone at this computer is the owner: ", got)
		}
		if got := owner.post("/users/1/crew", keyField, newKey(), "crew", "no such"); got.status != 400 {
			t.Error("a crew that is none: ", got)
		}
		// Once somebody has a password, everybody signs in, here too.
		p.user("Ana", Owner)
		if got := p.surfer().get("/users"); !fits(got, entry) {
			t.Error("somebody at this computer: ", got)
		}
		ana := p.signedIn("Ana")
		if got := ana.post("/users/1/remove", keyField, newKey()); !fits(got, "303 /users") {
			t.Error("a phone beside the last owner: ", got)
		}
		if got := ana.post("/users/2/remove", keyField, newKey()); got.status != 409 {
			t.Error("the last owner: ", got)
		}
		// Through a proxy that nobody told of, a phone is no owner's pass either.
		bare := newPlace(t, storetest.SQLite(t), 0, atHome)
		bare.phone("Luis", "")
		far := bare.surfer()
		far.headers["X-Forwarded-For"] = "203.0.113.9"
		if got := far.get("/users"); !fits(got, entry) {
			t.Error("through a proxy: ", got)
		}
	})
}
