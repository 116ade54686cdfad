package site

import (
	"net/http"
	"strings"
	"testing"
	"time"

	"pourback/ingest/store/storetest"
)

// TestOtherHostsAndOrigins: a page of another site may neither read, by a name of
// its own for this computer, nor have anything done (Fetch Metadata; RFC 6454).
func TestOtherHostsAndOrigins(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 3, atHome)
	for host, want := range map[string]int{"localhost:8377": 200, "127.0.0.1:8377": 200, "127.0.0.1": 200, "[::1]:8377": 200, "LOCALHOST": 200, "jobs.localhost:8377": 200,
		"evil.example": 421, "evil.example:8377": 421, "127.0.0.1.evil.example": 421, "localhost.evil.example": 421, "": 421, "192.168.1.5": 421} {
		b := p.surfer()
		b.host = host
		if got := b.get("/"); got.status != want {
			t.Errorf("asked for by %q: %v, want %d", host, got, want)
		}
	}
	for _, c := range []struct {
		origin, site string
		want         int
	}{{"http://localhost", "", 303}, {"http://localhost:8377", "", 403}, {"http://evil.example", "", 403}, {"null", "", 403}, {"file://", "", 403}, {"https://localhost", "", 303},
		{"", "cross-site", 403}, {"", "same-site", 403}, {"", "same-origin", 303}, {"", "none", 303}, {"", "", 303}} {
		b := p.surfer()
		b.origin = c.origin
		if c.site != "" {
			b.headers["Sec-Fetch-Site"] = c.site
		}
		if got := b.post("/invented/gone"); got.status != c.want {
			t.Errorf("sent from %q, %q: %v, want %d", c.origin, c.site, got, c.want)
		}
	}
}

// TestAProxyNobodyToldOfLetsNobodyIn: what has come through a proxy may come from anywhere.
func TestAProxyNobodyToldOfLetsNobodyIn(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 3, atHome)
	b := p.surfer()
	if got := b.get("/"); got.status != 200 {
		t.Fatal("at this computer: ", got)
	}
	for _, header := range []string{"X-Forwarded-For", "Forwarded", "Via", "X-Real-IP"} {
		b := p.surfer()
		b.headers[header] = "203.0.113.9"
		if got := b.get("/"); !fits(got, entry) {
			t.Errorf("with %s: %v", header, got)
		}
	}
	named := atHome
	named.Named, named.Hosts = true, append([]string{"jobs.example.com"}, atHome.Hosts...)
	p.reopen(named)
	if got := p.surfer().get("/"); !fits(got, entry) {
		t.Errorf("with a name of its own: %v", got)
	}
}

// TestSessions: a session begins anew whatever the browser held, ends when it is
// ended or too old, and stands in the database by its hash alone.
func TestSessions(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		p := newPlace(t, dsn, 3, public)
		id := p.user("Ana", Owner)
		b := p.surfer()
		b.cookies[public.cookie()] = "planted" // session fixation (OWASP): somebody else knows it
		if got := b.post("/login", "name", " ana ", "password", everybodys); !fits(got, "303 /") {
			t.Fatal(got)
		}
		token := b.cookies[public.cookie()]
		if token == "planted" || len(token) < 20 {
			t.Errorf("the session's token is %q", token)
		}
		open, err := p.store.Sessions(t.Context(), stamp(p.now()))
		if err != nil || len(open) != 1 || open[0].Hash != tokenHash(token) || open[0].UserID != id {
			t.Errorf("open sessions: %+v, %v", open, err)
		}
		if got := b.get("/users"); got.status != 200 {
			t.Error("signed in: ", got)
		}
		if strings.Contains(p.logged(), token) || strings.Contains(p.logged(), everybodys) {
			t.Error("the log holds a secret")
		}
		again := p.surfer()
		again.cookies[public.cookie()] = token
		again.post("/logout")
		if got := b.get("/users"); !fits(got, entry) {
			t.Error("a session that was ended lets in: ", got)
		}
		b = p.signedIn("Ana")
		p.later(sessionLasts + time.Second)
		if got := b.get("/users"); !fits(got, entry) {
			t.Error("a session that is too old lets in: ", got)
		}
	})
}

// TestSessionCookie: no script reads it, no other site sends it along, and it is
// of this port.
func TestSessionCookie(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 0, public)
	p.user("Ana", Owner)
	got := p.surfer().post("/login", "name", "Ana", "password", everybodys)
	cookie := strings.Join(got.header.Values("Set-Cookie"), "\n")
	for _, want := range []string{"pourback-8377=", "HttpOnly", "SameSite=Lax", "Secure", "Path=/"} {
		if !strings.Contains(cookie, want) {
			t.Errorf("the cookie is %q, without %s", cookie, want)
		}
	}
}

// TestWhereOneWantedToGo: signing in leads on there, and nowhere else.
func TestWhereOneWantedToGo(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 3, public)
	p.user("Ana", Owner)
	b := p.surfer()
	b.get("/report/waste?use=driveway")
	if got := b.post("/login", "name", "Ana", "password", everybodys); got.header.Get("Location") != "/report/waste?use=driveway" {
		t.Error(got)
	}
	for _, evil := range []string{"//evil.example", "https://evil.example", "evil", "/login", ""} {
		p.later(time.Minute)
		b := p.surfer()
		b.cookies[public.cookie()+"-next"] = evil
		if got := b.post("/login", "name", "Ana", "password", everybodys); got.header.Get("Location") != "/" {
			t.Errorf("with %q: %v", evil, got)
		}
	}
}

// TestTryingPasswords: tries are few, by browser and by name, and a wrong name
// says no more than a wrong password.
func TestTryingPasswords(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 0, public)
	p.user("Ana", Owner)
	wrong := p.surfer().post("/login", "name", "Ana", "password", "wrong password")
	unknown := p.surfer().post("/login", "name", "Bea", "password", "wrong password")
	if wrong.status != http.StatusUnauthorized || wrong.body != unknown.body {
		t.Errorf("a wrong password %v, an unknown name %v", wrong, unknown)
	}
	refused := 0
	for i := range 20 {
		b := p.surfer()
		b.headers["X-Forwarded-For"] = "203.0.113." + string(rune('0'+i%10)) // each from elsewhere
		if got := b.post("/login", "name", "Ana", "password", "wrong password"); got.status == http.StatusTooManyRequests {
			refused++
		}
	}
	if refused < 10 {
		t.Errorf("%d of 20 further tries were refused", refused)
	}
	b := p.surfer()
	b.headers["X-Forwarded-For"] = "203.0.113.99"
	if got := b.post("/login", "name", "Ana", "password", everybodys); got.status != http.StatusTooManyRequests {
		t.Errorf("the right one among them: %v", got)
	}
	p.later(10 * time.Minute)
	if got := b.post("/login", "name", "Ana", "password", everybodys); got.status != http.StatusSeeOther {
		t.Errorf("ten minutes later: %v", got)
	}
	p.site.limits.forget(p.now().Add(time.Hour))
	if n := len(p.site.limits.per); n != 0 {
		t.Errorf("%d limits are remembered for ever", n)
	}
}

// TestPasswordHashes: a hash is of argon2id with the memory and passes we say, tells
// its password from others, and does not fall over what is no hash.
func TestPasswordHashes(t *testing.T) {
	h := HashPassword("correct horse battery")
	if !strings.HasPrefix(h, "$argon2id$v=19$m=19456,t=2,p=1$") || !samePassword("correct horse battery", h) || samePassword("correct horse batterz", h) {
		t.Error(h)
	}
	if HashPassword("correct horse battery") == h {
		t.Error("two hashes of one password are alike")
	}
	// The reference implementation's own test (P-H-C/phc-winner-argon2, src/test.c): version 19, t 2, m 256 KiB, p 1.
	const reference = "$argon2id$v=19$m=256,t=2,p=1$c29tZXNhbHQ$nf65EOgLrQMR/uIPnA4rEsF5h7TKyQwu9U1bMCHGi/4"
	if !samePassword("password", reference) || samePassword("differentpassword", reference) {
		t.Error("the reference implementation's hash of a password is not known")
	}
	for _, bad := range []string{"", "x", "$argon2id$v=19$m=99999999,t=2,p=1$c29tZXNhbHQ$nf65EOgLrQMR", "$argon2id$v=19$m=0,t=0,p=0$$", nobodysHash} {
		if samePassword("", bad) || samePassword("password", bad) {
			t.Errorf("%q lets in", bad)
		}
	}
}

// TestWhatIsTooLarge is refused, and nothing of it kept.
func TestWhatIsTooLarge(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 0, atHome)
	if got := p.surfer().post("/users/invite", keyField, newKey(), "name", strings.Repeat("x", 2<<20), "role", "owner"); got.status != http.StatusRequestEntityTooLarge {
		t.Error(got)
	}
}
