package site

import (
	"net/url"
	"regexp"
	"strings"
	"testing"
	"time"

	"pourback/ingest/store"
	"pourback/ingest/store/storetest"
)

var linkShown = regexp.MustCompile(`value="(https?://[^"]*/join\?t=[A-Z0-9]+)"`)

// link is the path of an invitation that a page shows.
func (a answered) link(t *testing.T) string {
	t.Helper()
	found := linkShown.FindStringSubmatch(a.body)
	if found == nil {
		t.Fatalf("no link: %v %.800s", a, a.body)
	}
	u, err := url.Parse(found[1])
	if err != nil {
		t.Fatal(err)
	}
	return u.RequestURI()
}

// TestInvitation: a link shows itself as often as it is looked at, lets in once,
// and only by a form; then it is used up, as it is when it is taken back or too old.
func TestInvitation(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		p := newPlace(t, dsn, 3, public)
		p.user("Ana", Owner)
		owner := p.signedIn("Ana")
		invite := func(name string) string {
			page := owner.get("/users")
			return owner.post("/users/invite", keyField, page.key(t), "name", name, "role", "viewer").link(t)
		}
		link := invite("Bo")
		token := strings.TrimPrefix(link, "/join?t=")
		bo := p.surfer()
		for range 3 { // a mail program looks first
			bo.get(link).says(t, "Bo")
		}
		if got := bo.post("/join", "token", token, "password", "short", "again", "short"); got.status != 400 {
			t.Error("a short password: ", got)
		}
		if got := bo.post("/join", "token", token, "password", "long enough now", "again", "another one"); got.status != 400 {
			t.Error("two passwords: ", got)
		}
		if got := bo.post("/join", "token", token, "password", "long enough now", "again", "long enough now"); !fits(got, "303 /") {
			t.Fatal(got)
		}
		if got := bo.get("/report/waste"); got.status != 200 {
			t.Error("let in: ", got)
		}
		if got := bo.get("/users"); got.status != 403 {
			t.Error("as a viewer: ", got)
		}
		if got := p.surfer().post("/join", "token", token, "password", "long enough now", "again", "long enough now"); got.status != 410 {
			t.Error("a second time: ", got)
		}
		if strings.Contains(p.logged(), token) {
			t.Error("the log holds the link")
		}

		old := invite("Cy")
		p.later(invitedFor + time.Second)
		if got := p.surfer().get(old); got.status != 410 {
			t.Error("too old: ", got)
		}
		owner = p.signedIn("Ana")
		back := invite("Di")
		owner.post("/users/withdraw", keyField, newKey(), "hash", tokenHash(strings.TrimPrefix(back, "/join?t=")))
		if got := p.surfer().get(back); got.status != 410 {
			t.Error("taken back: ", got)
		}
	})
}

// TestUsersChange: roles and removal count at once, in browsers that are signed
// in; a new password ends what the old one opened; an owner always stays.
func TestUsersChange(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		p := newPlace(t, dsn, 3, public)
		p.user("Ana", Owner)
		p.user("Bo", Viewer)
		owner, bo := p.signedIn("Ana"), p.signedIn("Bo")
		if got := owner.post("/users/2/role", keyField, newKey(), "role", "crew"); !fits(got, "303 /users") {
			t.Fatal(got)
		}
		if got := bo.get("/report/waste"); got.status != 403 {
			t.Error("a crew reads the report: ", got)
		}
		link := owner.post("/users/2/password", keyField, newKey()).link(t)
		if got := bo.get("/you"); got.status != 200 {
			t.Error("a link that nobody has used ends sessions: ", got)
		}
		p.surfer().post("/join", "token", strings.TrimPrefix(link, "/join?t="), "password", "quite a new one", "again", "quite a new one")
		if got := bo.get("/you"); !fits(got, entry) {
			t.Error("the old password's session lets in: ", got)
		}
		for _, path := range []string{"/users/1/remove", "/users/1/role"} {
			if got := owner.post(path, keyField, newKey(), "role", "viewer"); got.status != 409 {
				t.Errorf("%s of the last owner: %v", path, got)
			}
		}
		owner.post("/users/2/remove", keyField, newKey())
		if got := owner.post("/users/2/role", keyField, newKey(), "role", "crew"); got.status != 404 {
			t.Error("of nobody: ", got)
		}
		if _, err := p.store.UserNamed(t.Context(), "Bo"); err != store.ErrNoUser {
			t.Error("Bo is there: ", err)
		}
	})
}

// TestTheFirstUserIsAnOwner: until there is one whoever sits here is; from then on
// everybody signs in.
func TestTheFirstUserIsAnOwner(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 3, atHome)
	b := p.surfer()
	if got := b.post("/users/invite", keyField, newKey(), "name", "Ana", "role", "viewer"); got.status != 400 {
		t.Error("a viewer first: ", got)
	}
	got := b.post("/users/invite", keyField, newKey(), "name", "Ana", "role", "owner")
	link := got.header.Get("Location")
	if got.status != 303 || !strings.HasPrefix(link, "/join?t=") {
		t.Fatal(got)
	}
	if got := b.get("/users"); got.status != 200 {
		t.Error("an invitation alone shuts the owner out: ", got)
	}
	b.post("/join", "token", strings.TrimPrefix(link, "/join?t="), "password", everybodys, "again", everybodys)
	if got := b.get("/users"); got.status != 200 {
		t.Error("the new owner: ", got)
	}
	if got := p.surfer().get("/users"); !fits(got, entry) {
		t.Error("somebody else at this computer: ", got)
	}
}

// TestOwnerByHand: the command line's owner and link let in.
func TestOwnerByHand(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 0, public)
	if err := AddOwner(t.Context(), p.store, "Ana", everybodys, p.now()); err != nil {
		t.Fatal(err)
	}
	p.signedIn("Ana")
	if err := AddOwner(t.Context(), p.store, "ANA", everybodys, p.now()); err != store.ErrNameTaken {
		t.Error("the same name: ", err)
	}
	if err := AddOwner(t.Context(), p.store, "Bo", "short", p.now()); err == nil {
		t.Error("a short password was taken")
	}
	link, err := InviteOwner(t.Context(), p.store, "Cy", p.now())
	if err != nil {
		t.Fatal(err)
	}
	p.surfer().get(link).says(t, "Cy")
}
