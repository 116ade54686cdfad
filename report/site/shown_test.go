package site

import (
	"slices"
	"strings"
	"testing"

	"pourback/ingest/store/storetest"
)

// TestAKeptPageIsItsReaders: a page that was made for somebody else of the same role is the
// one that would be made for who asks, to the letter, but for the hidden keys of its forms,
// which are new ones each time.
func TestAKeptPageIsItsReaders(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 40, public)
	p.onePour("TODAY-1")
	roles := map[Roles][]string{Owner: {"Ana", `Bo "O'Dell" & <b>Sons</b> +1`}, Viewer: {"Vi", "Wes & Co"}, Crew: {"Cy", "Dee <i>"}}
	at := map[string]*surfer{}
	for role, names := range roles {
		for _, name := range names {
			p.user(name, role)
			at[name] = p.signedIn(name)
		}
	}
	keys := map[string]bool{}
	anew := func() { p.site.own.shown = shownPages{} }
	for role, names := range roles {
		for _, path := range []string{"/crew", "/visits", "/visits?lang=es", "/jobs", "/jobs?q=a", "/batches?units=si"} {
			if role != Owner && !strings.HasPrefix(path, "/crew") && !strings.HasPrefix(path, "/visits") {
				continue
			}
			anew()
			first := at[names[0]].get(path)
			kept := at[names[1]].get(path)
			if n := len(p.site.own.shown.pages); n != 1 {
				t.Errorf("%v %s: %d pages are kept", role, path, n)
			}
			anew()
			made := at[names[1]].get(path)
			anew()
			before := at[names[0]].get(path)
			for what, pair := range map[string][2]answered{"kept for another": {kept, made}, "the first": {first, before}} {
				got, want := hiddenKey.ReplaceAllString(pair[0].body, ""), hiddenKey.ReplaceAllString(pair[1].body, "")
				if pair[0].status != 200 || got != want || pair[0].header.Get(userHeader) != pair[1].header.Get(userHeader) || pair[0].header.Get("ETag") != pair[1].header.Get("ETag") {
					t.Errorf("%v %s: the page that was %s is another: %v and %v", role, path, what, pair[0], pair[1])
				}
				for _, is := range pair {
					for _, key := range hiddenKey.FindAllStringSubmatch(is.body, -1) {
						if keys[key[1]] || len(key[1]) < 16 {
							t.Errorf("%v %s: the key %q is there twice", role, path, key[1])
						}
						keys[key[1]] = true
					}
					if slices.ContainsFunc([]string{blankKey, blankUser, blankName}, func(blank string) bool { return strings.Contains(is.body, blank) }) {
						t.Errorf("%v %s: a blank is left", role, path)
					}
				}
			}
			if has := strings.Contains(kept.body, "data-user"); has != (kept.header.Get(userHeader) != "") {
				t.Errorf("%v %s says whose it is: %v, by its header %q", role, path, has, kept.header.Get(userHeader))
			}
		}
	}
	if len(keys) < 20 {
		t.Errorf("only %d keys were met", len(keys))
	}
}

// TestAKeptPageIsMadeAnew once something is written, and is not what another sees.
func TestAKeptPageIsMadeAnew(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		p := newPlace(t, dsn, 20, atHome)
		b := p.surfer()
		for _, path := range []string{"/jobs?q=NEW", "/batches", "/crew"} {
			before := b.get(path)
			if again := b.get(path); hiddenKey.ReplaceAllString(again.body, "") != hiddenKey.ReplaceAllString(before.body, "") {
				t.Errorf("%s changes by itself", path)
			}
		}
		p.onePour("NEW-1")
		b.get("/jobs?q=NEW").says(t, "NEW-1")
		b.get("/batches").says(t, "NEW-1.csv")
		if got := b.get("/jobs?q=NEW&lang=es"); !strings.Contains(got.body, `lang="es"`) {
			t.Error("in another language: ", got)
		}
	})
}
