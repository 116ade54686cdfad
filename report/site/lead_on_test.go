package site

import (
	"net/url"
	"regexp"
	"slices"
	"strings"
	"testing"

	"pourback/ingest/record"
	"pourback/ingest/store/storetest"
)

// TestEmptyPagesLeadOn: a page with nothing to show has a link to what would fill it.
func TestEmptyPagesLeadOn(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 0, atHome)
	b := p.surfer()
	for path, link := range map[string]string{"/jobs": "/upload", "/visits": "/upload", "/crew": "/bids/new", "/report/month": "/upload", "/report/records": "/start"} {
		if !leads(b.get(path).body, link) {
			t.Errorf("%s: nothing on it leads to %s", path, link)
		}
	}
	b.get("/report/month?lang=es").says(t, "Para empezar basta una hoja", "Agregar registros")
	first := b.post("/calendar/renew", keyField, newKey())
	first.says(t, "It is not shown again.")
	b.post("/calendar/renew", keyField, newKey()).says(t, "the one before leads nowhere now")

	full := newPlace(t, storetest.SQLite(t), 40, atHome).surfer()
	for path, link := range map[string]string{"/jobs": "/upload", "/visits": "/upload", "/report/month": "/upload"} {
		if leads(full.get(path).body, link) {
			t.Errorf("%s: it is full, and says how to begin", path)
		}
	}
}

// leads says whether what is a page's own, not the navigation of all, has a link.
func leads(body, link string) bool {
	_, main, _ := strings.Cut(body, "<main")
	return strings.Contains(main, `href="`+link+`"`)
}

// commandTold is a command that a page tells its reader to run.
var commandTold = regexp.MustCompile("(?:>|\\(|: |`)pourback (?:ingest|demo|fix|bids?|balance|visits|factors|report|batches|undo)\\b[^<]*")

var reportLink = regexp.MustCompile(`href="(/report/[a-z-]+)"`)

// columnsNamed are the columns of record files that a page names to its reader, by
// names that no word of people's is.
func columnsNamed(body string) (names []string) {
	if at := strings.Index(body, "<body"); at >= 0 {
		body = body[at:]
	}
	for _, name := range columnName.FindAllString(tags.ReplaceAllString(body, " "), -1) {
		for _, table := range record.Tables {
			if table.Column(name) != nil {
				names = append(names, name)
			}
		}
	}
	return names
}

var columnName = regexp.MustCompile(`[a-z]+(?:_[a-z]+)+`)

// TestRefusedFilesAreSaidInWords: what a file lacks is said as people say it, and so
// is what its cells have to do with each other.
func TestRefusedFilesAreSaidInWords(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 0, atHome)
	b := p.surfer()
	for text, says := range map[string]string{
		"placement,placed_on,use,area_sqft,thickness_in\nA,2025-06-03,patio,400,4\n": "without the column job number; add what is missing; a table of placements needs job number, ",
		"job_no,placed_on,use,area_sqft,thickness_in\nJ-1,2025-06-03,patio,,4\n":     "area and thickness, or concrete on the drawing",
		"job_no,item,actual_rate\nJ-1,pump,99.999\nJ-2,pump,1.001\n":                 "Unit price paid: finer than a cent in 2 rows",
	} {
		got := b.drop(newKey(), "placements.csv", []byte(text))
		if got.status == 303 {
			got = b.get(got.header.Get("Location"))
		}
		got.says(t, says)
		if got := columnsNamed(got.body); got != nil && !strings.Contains(text, got[0]) {
			t.Errorf("%q: the page names %q", text, got)
		}
	}
}

// TestPagesTellNoCommands: on the site, what there is to do is a link or a button.
func TestPagesTellNoCommands(t *testing.T) {
	none := newPlace(t, storetest.SQLite(t), 0, atHome).surfer()
	some := newPlace(t, storetest.SQLite(t), 300, atHome).surfer()
	some.keepsBid(aDrive...)
	paths := []string{"/bids", "/bids/1", "/bids/1/sheet", "/bids/1/pour-day", "/bids/1/balance", "/visits", "/report/month"}
	for i := 6; i < len(paths); i++ { // and every page of the report that another leads to
		for _, link := range reportLink.FindAllStringSubmatch(some.get(paths[i]).body, -1) {
			if !slices.Contains(paths, link[1]) {
				paths = append(paths, link[1])
			}
		}
	}
	if len(paths) < 20 {
		t.Error("the report has more pages than ", paths)
	}
	for name, b := range map[string]*surfer{"with nothing": none, "with records": some} {
		for _, path := range paths {
			for _, lang := range []string{"en", "es"} {
				body := b.get(path + "?lang=" + lang).body
				if found := commandTold.FindAllString(body, -1); found != nil {
					t.Errorf("%s, %s in %s tells %q", name, path, lang, found)
				}
				if found := columnsNamed(body); found != nil && !strings.HasSuffix(path, "/pour-day") { // whose blanks have them in small print
					t.Errorf("%s, %s in %s names the columns %q", name, path, lang, found)
				}
			}
		}
	}
	if !commandTold.MatchString("<code>pourback ingest FILE</code>") || !commandTold.MatchString("(pourback fix J-1/A x=1)") || commandTold.MatchString("Made by pourback as of") {
		t.Error("no command is known as one")
	}
}

// TestCodeOfPourDay: where the code on a pour-day sheet leads, there are the sheet and
// the last load of the bid by which its job is poured, for who is signed in.
func TestCodeOfPourDay(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		p := newPlace(t, dsn, 0, atHome)
		p.user("Ana", Owner)
		p.user("Bo", Crew)
		b := p.signedIn("Ana")
		const job = "LM 7/2 #1?"
		at := "/pour/" + url.PathEscape(job)
		if got := b.get(at); got.status != 404 {
			t.Error("a job without a bid: ", got)
		} else {
			got.says(t, "Nothing is known of this job yet", `action="`+at+`/begin"`)
		}
		slab := append(slices.Clone(aSlab), "job_no", job)
		b.keepsBid(slab...)
		b.keepsBid(append(slices.Clone(slab), "revises", "1")...)
		b.keepsBid(append(slices.Clone(aSlab), "job_no", "LM-8")...)
		crew := p.signedIn("Bo")
		got := crew.get(at)
		got.says(t, "LM 7/2 #1?: patio", "/bids/2/pour-day", at+"/last-load", at+"?lang=es", `action="`+at+`/truck"`)
		for _, other := range []string{"/bids/1/", "/bids/3/"} {
			if leads(got.body, other+"pour-day") {
				t.Error("it leads to a bid by which this job is not poured: ", other)
			}
		}
		crew.get(at+"?lang=es").says(t, "Todavía no hay camión registrado.")
		b.post("/bids/2/mark", keyField, newKey(), "fate", "lost")
		if got := crew.get(at); got.status != 404 {
			t.Error("a lost bid: ", got)
		}
		stranger := p.surfer()
		if got := stranger.get(at); got.header.Get("Location") != "/login" {
			t.Error("somebody unknown gets ", got)
		}
		if got := stranger.post("/login", "name", "Bo", "password", everybodys); got.header.Get("Location") != at {
			t.Error("signed in, they are led to ", got)
		}
	})
}

// TestLongName: a name that is too long is said to be that.
func TestLongName(t *testing.T) {
	b := newPlace(t, storetest.SQLite(t), 0, atHome).surfer()
	for _, name := range []string{"", strings.Repeat("Ana ", 20)} {
		got := b.post("/users/invite", keyField, newKey(), "name", name, "role", "owner")
		if got.says(t, "The name is missing or too long.", "at most 40 characters"); got.status != 400 {
			t.Error(got)
		}
	}
}
