package site

import (
	"fmt"
	"net/http"
	"slices"
	"strings"
	"testing"
	"time"

	"pourback/ingest/store/storetest"
)

// TestTheNetworksAddress: it goes by its own name alone, takes forms from its own pages
// alone, knows no browser that signed in with a password, takes no password, tells
// nobody where the database is, and lets nobody try often.
func TestTheNetworksAddress(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 3, atHome)
	p.openLan(atHome)
	luis := p.phone("Luis", "").byLan()
	for host, want := range map[string]int{"192.168.7.20:8377": 200, "192.168.7.20": 200, "localhost:8377": 421, "127.0.0.1:8377": 421, "evil.example:8377": 421, "192.168.7.21:8377": 421, "x.localhost": 421, "": 421} {
		luis.host = host
		if got := luis.get("/you"); got.status != want {
			t.Errorf("asked for by %q: %v, want %d", host, got, want)
		}
	}
	luis.host = "evil.example"
	if got := luis.get("/you"); strings.Contains(got.body, "pourback serve") || !strings.Contains(got.body, "http://192.168.7.20:8377") {
		t.Errorf("by another name: %.400s", got.body)
	}
	luis.byLan()
	for origin, want := range map[string]int{"http://192.168.7.20:8377": 303, "http://192.168.7.20": 403, "http://evil.example": 403, "null": 403, "https://192.168.7.20:8377": 303, "": 303} {
		b := p.surfer().byLan()
		b.origin = origin
		if got := b.post("/logout"); got.status != want {
			t.Errorf("sent from %q: %v, want %d", origin, got, want)
		}
	}
	if got := luis.get("/healthz"); strings.Contains(got.body, "test.db") {
		t.Error("it says where the database is: ", got.body)
	}
	if got := p.surfer().get("/healthz"); !strings.Contains(got.body, "test.db") || !strings.Contains(got.body, `"lan":true`) {
		t.Error("at this computer: ", got.body)
	}

	p.user("Ana", Owner)
	ana := p.signedIn("Ana")
	link := ana.post("/users/invite", keyField, newKey(), "name", "Bo", "role", "crew").link(t)
	for _, got := range []answered{p.surfer().byLan().get(link), p.surfer().byLan().post("/join", "token", strings.TrimPrefix(link, "/join?t="), "password", everybodys, "again", everybodys)} {
		if got.says(t, "is not encrypted"); got.status != 403 || strings.Contains(got.body, "<form class") {
			t.Error("a password is taken without https: ", got)
		}
	}
	ana.byLan()
	for path, want := range map[string]int{"/crew": 401, "/visits": 401, "/you": 401, "/users": 404, "/report/waste": 404, "/bids": 404, "/bids/1": 404, "/login": 404, "/log": 404, "/upload": 404, "/jobs": 404} {
		if got := ana.get(path); got.status != want {
			t.Errorf("%s with the owner's cookie: %v, want %d", path, got, want)
		}
		if got := luis.get(path); got.status != map[int]int{401: 200, 404: 404}[want] {
			t.Errorf("%s with a phone's: %v", path, got)
		}
	}
	if got := ana.post("/logout"); !fits(got, "303 /") {
		t.Error(got)
	}
	p.later(time.Minute)
	if open, err := p.store.Sessions(t.Context(), stamp(p.now())); err != nil || len(open) != 2 {
		t.Errorf("what is not known there ends a session there: %d, %v", len(open), err)
	}

	refused := 0
	for range 20 {
		if got := p.surfer().byLan().joins("/join?t=GUESS"); got.status == http.StatusTooManyRequests {
			refused++
		}
	}
	if refused < 10 {
		t.Errorf("%d of 20 guesses were refused", refused)
	}
}

// TestWhereACodeLeads: to an address that phones reach, or nowhere, which is said with
// what to do.
func TestWhereACodeLeads(t *testing.T) {
	onTLS := Access{Port: 8377, Secure: true, Hosts: []string{"localhost", "127.0.0.1", "::1", "192.168.7.20", "office"}}
	for _, c := range []struct {
		name, host, set string
		access          Access
		lan             *Access
		want            string
	}{
		{"at this computer alone", "localhost:8377", "", atHome, nil, ""},
		{"by a name of this computer", "jobs.localhost:8377", "", atHome, nil, ""},
		{"set to this computer", "localhost:8377", "http://127.0.0.1:8377", atHome, nil, ""},
		{"on the network", "localhost:8377", "", atHome, &onNetwork, "http://192.168.7.20:8377"},
		{"as it is set", "localhost:8377", "http://office.local:8377", atHome, &onNetwork, "http://office.local:8377"},
		{"through a proxy", "jobs.example.com", "", public, nil, "https://jobs.example.com"},
		{"by https, as the owner does", "office:8377", "", onTLS, nil, "https://office:8377"},
		{"by https, from this computer", "localhost:8377", "", onTLS, nil, "https://192.168.7.20:8377"},
	} {
		p := newPlace(t, storetest.SQLite(t), 0, c.access)
		p.lan = c.lan
		p.reopen(c.access)
		p.site.Settings.Letterhead.SiteURL = c.set
		b := p.surfer()
		if !c.access.open() {
			p.user("Ana", Owner)
			b = p.signedIn("Ana")
		}
		b.host = c.host
		if c.access.Secure {
			b.origin = "https://" + c.host
		} else {
			b.origin = "http://" + c.host
		}
		page := b.get("/users")
		got := b.post("/users/phone", keyField, newKey(), "name", "Luis")
		if c.want == "" {
			page.says(t, "Phones cannot reach these pages yet.", "<code>--lan</code>", "<code>site_url</code>")
			if got.says(t, "Phones cannot reach these pages yet."); got.status != 409 || strings.Contains(page.body, "/users/phone") {
				t.Errorf("%s: %v", c.name, got)
			}
			if waiting, err := p.store.Invitations(t.Context(), stamp(p.now())); err != nil || len(waiting) != 0 {
				t.Errorf("%s: %+v, %v", c.name, waiting, err)
			}
			continue
		}
		link := linkShown.FindStringSubmatch(got.body)
		if link == nil || !strings.HasPrefix(link[1], c.want+"/join?t=") {
			t.Errorf("%s: %v %q, want %s", c.name, got, link, c.want)
		}
		if open := strings.Contains(got.body, "not encrypted"); open != strings.HasPrefix(c.want, "http:") {
			t.Errorf("%s: that it is not encrypted is said: %v", c.name, open)
		}
	}
}

// TestAPhonesLanguage: pages are in the one that the phone asks for, unless another is
// chosen; browsers that sign in have what the owner has set.
func TestAPhonesLanguage(t *testing.T) {
	there := []string{"en", "es"}
	for accepts, want := range map[string]string{"es-MX,es;q=0.9,en;q=0.8": "es", "en-US,en;q=0.9,es;q=0.8": "en", "fr-CA,es;q=0.5,en;q=0.4": "es", "EN": "en", "es;q=0": "", "fr": "", "": "", "*": "", "en;q=0.1, es": "es", ";;q=x,": ""} {
		if got := wanted(accepts, there); got != want {
			t.Errorf("%q: %q, want %q", accepts, got, want)
		}
	}
	p := newPlace(t, storetest.SQLite(t), 0, atHome)
	p.openLan(atHome)
	link := p.surfer().code("name", "Luis")
	b := p.surfer().byLan()
	b.headers["Accept-Language"] = "es-MX,es;q=0.9,en;q=0.8"
	b.get(link).says(t, `lang="es"`, "Usar este teléfono", `action="/join"`)
	b.get(link+"&lang=en").says(t, `lang="en"`, "Use this phone", `action="/join?lang=en"`)
	b.get("/pours").says(t, `lang="es"`, "Este teléfono no ha entrado.")
	if got := b.joins(link); !fits(got, "303 /") {
		t.Fatal(got)
	}
	b.get("/you").says(t, "Este es el teléfono de Luis")
	b.get("/you?lang=en").says(t, "This is the phone of Luis")
	b.lan, b.host = false, "localhost"
	b.get("/you").says(t, "Este es el teléfono de Luis")
	o := p.surfer()
	o.headers["Accept-Language"] = "es"
	o.get("/users").says(t, `lang="en"`)
}

// TestCrewsOfUsers: the owner says whose pours a phone, and somebody with a password
// who is of a crew, sees.
func TestCrewsOfUsers(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		p := newPlace(t, dsn, 60, public)
		p.user("Ana", Owner)
		p.user("Bo", Crew)
		p.user("Vi", Viewer)
		b := p.phone("Luis", "Heron")
		ana := p.signedIn("Ana")
		crews, err := p.store.Crews(t.Context())
		if err != nil || !slices.Contains(crews, "Heron") || !slices.IsSorted(crews) || len(crews) < 3 {
			t.Fatal(crews, err)
		}
		body := ana.get("/users").body
		if n := strings.Count(body, `action="/users/2/crew"`) + strings.Count(body, `action="/users/4/crew"`); n != 2 || strings.Contains(body, "/users/3/crew") || strings.Contains(body, "/users/1/crew") {
			t.Errorf("crews may be named of others: %d", n)
		}
		for _, id := range []int64{2, 4} {
			if got := ana.post(fmt.Sprintf("/users/%d/crew", id), keyField, newKey(), "crew", crews[1]); !fits(got, "303 /users") {
				t.Error(got)
			}
		}
		b.get("/you").says(t, "for crew "+crews[1])
		if u, err := p.store.UserNamed(t.Context(), "Bo"); err != nil || u.Crew != crews[1] || u.Phone {
			t.Errorf("%+v, %v", u, err)
		}
		ana.post("/users/4/crew", keyField, newKey(), "crew", "")
		b.get("/you").says(t, "for any crew")
		log, err := p.store.Log(t.Context(), 2)
		if err != nil || log[0].Did != "phone Luis, any crew" || log[1].Did != "phone Luis, crew "+crews[1] {
			t.Errorf("%+v %v", log, err)
		}
		p.site.Settings.NoNames = true
		if body := ana.get("/users").body; strings.Contains(body, ">Heron<") {
			t.Error("crews are named where names are left out")
		}
	})
}

// lookAtPhones looks at the pages on which phones are added, and at what they are told.
func lookAtPhones(t *testing.T, p *place, look func(string, answered)) {
	t.Helper()
	p.site.Settings.Letterhead.SiteURL = "http://10.0.0.5:8377"
	owner := p.surfer()
	look("/users", owner.get("/users"))
	got := owner.post("/users/phone", keyField, newKey(), "name", "7-7")
	look("the code", got)
	phone, link := p.surfer(), got.link(t)
	look("/join", phone.get(link))
	phone.joins(link)
	look("/you", phone.get("/you"))
	look("/users", owner.get("/users"))
	owner.post("/users/1/remove", keyField, newKey())
}
