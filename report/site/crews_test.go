package site

import (
	"fmt"
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"pourback/ingest/record"
	"pourback/ingest/store/storetest"
)

// toCrews is what a route gives, asked about a pour of one crew, its slab and its bid.
type toCrews struct {
	nobody string // and whose phone was taken off
	own    string // the phone of that crew
	other  string // the phone of another crew
	any    string // the phone of no crew
	fields []string

	apart bool // the phone of no crew asks about another pour: what it begins is everybody's
}

// crewRoutes are all routes that crews may ask for. A route that shows or writes what is
// a crew's gives another crew what it gives of what is not on record.
var crewRoutes = map[string]toCrews{
	"GET /healthz":       {nobody: shows, own: shows, other: shows, any: shows},
	"GET /assets/{name}": {nobody: shows, own: shows, other: shows, any: shows},

	"GET /worker.js": {nobody: shows, own: shows, other: shows, any: shows},

	"GET /{$}":  {nobody: entry, own: "303 /crew", other: "303 /crew", any: "303 /crew"},
	"GET /crew": {nobody: entry, own: shows, other: shows, any: shows},
	"POST /crew": {nobody: who, own: "303 /pour/LM-{who}", other: "303 /pour/LM-{who}", any: "303 /pour/LM-{who}",
		fields: []string{"job_no", "LM-{who}", "use", "patio", "area_sqft", "240", "thickness_in", "4"}},
	"GET /pour/{job}/last-load": {nobody: entry, own: shows, other: none, any: shows},
	"POST /pour/{job}/begin": {nobody: who, own: "303 /pour/{job}", other: none, any: "303 /pour/{job}", apart: true,
		fields: []string{"use", "patio", "area_sqft", "240", "thickness_in", "4"}},
	"POST /pour/{job}/{what}":   {nobody: who, own: "303 /pour/{job}", other: none, any: "303 /pour/{job}", apart: true, fields: []string{"ticket_no", "4711", "yards", "9"}},
	"POST /pour/{job}/pictures": {nobody: who, own: "422 ", other: none, any: "422 "}, // no picture

	"GET /slabs/{job}/{placement}/visit": {nobody: entry, own: shows, other: none, any: shows},
	"POST /slabs/{job}/{placement}/visit": {nobody: who, own: "303 /slabs/{job}/{placement}", other: none, any: "303 /slabs/{job}/{placement}",
		fields: []string{"why", "planned", "finding", "sound", "seen_on", testDay.String()}},
	"POST /slabs/{job}/{placement}/close":                {nobody: who, own: "422 ", other: none, any: "422 "}, // no callback of that day
	"POST /slabs/{job}/{placement}/undo":                 {nobody: who, own: "409 ", other: none, any: "409 "}, // nothing was entered
	"POST /slabs/{job}/{placement}/pictures":             {nobody: who, own: "422 ", other: none, any: "422 "}, // no picture
	"GET /slabs/{job}/{placement}/pictures/{key}":        {nobody: entry, own: none, other: none, any: none},
	"GET /slabs/{job}/{placement}/pictures/{key}/{size}": {nobody: entry, own: none, other: none, any: none},

	"GET /invented/bids/{id}/pour-day": {nobody: entry, own: none, other: none, any: none},
	"GET /invented/bids/{id}/balance":  {nobody: entry, own: none, other: none, any: none},
	"GET /invented/crew":               {nobody: entry, own: none, other: none, any: none},
	"GET /invented/pours":              {nobody: entry, own: none, other: none, any: none},

	"GET /bids/{id}/pour-day":      {nobody: entry, own: shows, other: none, any: shows},
	"GET /bids/{id}/balance":       {nobody: entry, own: shows, other: none, any: shows},
	"GET /pours":                   {nobody: entry, own: "303 /crew", other: "303 /crew", any: "303 /crew"},
	"GET /pour/{job}":              {nobody: entry, own: shows, other: none, any: shows},
	"GET /visits":                  {nobody: entry, own: shows, other: shows, any: shows},
	"GET /slabs/{job}/{placement}": {nobody: entry, own: shows, other: none, any: shows},

	"GET /login":   {nobody: shows, own: "303 /", other: "303 /", any: "303 /"},
	"POST /login":  {nobody: who, own: who, other: who, any: who, fields: []string{"name", "own", "password", everybodys}},
	"POST /logout": {nobody: "303 /login", own: "303 /login", other: "303 /login", any: "303 /login"},
	"GET /join":    {nobody: "410 ", own: "410 ", other: "410 ", any: "410 "},
	"POST /join":   {nobody: "410 ", own: "410 ", other: "410 ", any: "410 ", fields: []string{"token", "x"}},
	"GET /you":     {nobody: entry, own: shows, other: shows, any: shows},

	"GET /calendar/{token}/visits.ics": {nobody: none, own: none, other: none, any: none},

	"GET /invented/{$}":                     {nobody: entry, own: none, other: none, any: none},
	"GET /invented/visits":                  {nobody: entry, own: none, other: none, any: none},
	"GET /invented/slabs/{job}/{placement}": {nobody: entry, own: none, other: none, any: none},
}

// crewPlace is a site of two crews that have pours before and behind them.
type crewPlace struct {
	*place
	crews [2]string
	slabs [2]record.Placement // one of each crew
	apart record.Placement    // another of the first crew, of a job of its own
	bids  [2]int64
	jobs  [2]map[string]bool // whose pours are all of the one crew

	phones  map[string]int64 // the numbers of users
	dropped *surfer          // a phone that was taken off
}

func newCrewPlace(t *testing.T, dsn string) *crewPlace {
	p := &crewPlace{place: newPlace(t, dsn, 250, public), phones: map[string]int64{}}
	p.openLan(public)
	p.user("Ana", Owner)
	ana := p.signedIn("Ana")
	of := map[string]string{} // the crew of each job, "" where there are several
	for i := range p.set.Placements {
		s := &p.set.Placements[i]
		if crew, met := of[s.JobNo]; met && crew != s.Crew {
			of[s.JobNo] = ""
		} else {
			of[s.JobNo] = s.Crew
		}
	}
	for i := range p.crews {
		at := slices.IndexFunc(p.set.Placements, func(s record.Placement) bool { return of[s.JobNo] != "" && s.Crew != p.crews[0] })
		p.slabs[i] = p.set.Placements[at]
		p.crews[i], p.jobs[i] = p.slabs[i].Crew, map[string]bool{}
		for job, crew := range of {
			p.jobs[i][job] = crew == p.crews[i]
		}
		p.bids[i] = ana.keepsBid(append(slices.Clone(aSlab), "name", "Yard of "+p.crews[i], "crew", p.crews[i], "job_no", p.slabs[i].JobNo)...)
	}
	p.apart = p.set.Placements[slices.IndexFunc(p.set.Placements, func(s record.Placement) bool {
		return of[s.JobNo] == p.crews[0] && s.JobNo != p.slabs[0].JobNo
	})]
	for name, crew := range map[string]string{"own": p.crews[0], "other": p.crews[1], "any": "", "dropped": p.crews[0]} {
		b := p.phone(name, crew)
		u, err := p.store.UserNamed(t.Context(), name)
		if err != nil {
			t.Fatal(err)
		}
		if p.phones[name] = u.ID; name == "dropped" {
			if err := p.store.RemoveUser(t.Context(), u.ID); err != nil {
				t.Fatal(err)
			}
			p.dropped = b
		}
	}
	return p
}

// by is a browser of nobody, or a phone.
func (p *crewPlace) by(who string) *surfer {
	b := p.surfer()
	switch who {
	case "nobody":
	case "dropped":
		for name, token := range p.dropped.cookies {
			b.cookies[name] = token
		}
	default:
		b.cookies[public.cookie()] = p.letIn(p.phones[who])
	}
	return b
}

// TestEveryRouteAsEveryCrew asks for every route that crews may ask for, about a pour of
// one crew, its slab and its bid, as nobody, from a phone of this crew, of another and of
// none, and from one that was taken off: at the site's own address and at the network's.
func TestEveryRouteAsEveryCrew(t *testing.T) {
	p := newCrewPlace(t, storetest.SQLite(t))
	asked := 0
	for _, r := range Routes() {
		if r.For&Crew == 0 {
			continue
		}
		at := r.Method + " " + r.Pattern
		want, ok := crewRoutes[at]
		if !ok {
			t.Errorf("%s: nothing here says what it gives to which crew", at)
			continue
		}
		asked++
		r.Pattern = strings.ReplaceAll(r.Pattern, "{id}", fmt.Sprint(p.bids[0]))
		for name, want := range map[string]string{"nobody": want.nobody, "own": want.own, "other": want.other, "any": want.any, "dropped": want.nobody} {
			slab := p.slabs[0]
			if crewRoutes[at].apart && name == "any" {
				slab = p.apart
			}
			for _, lan := range []bool{false, true} {
				p.later(time.Minute)
				b := p.by(name)
				if lan {
					b.byLan()
					want = crewOnLan(r, want)
				}
				want := strings.NewReplacer("{job}", slab.JobNo, "{placement}", slab.Placement, "{who}", name).Replace(want)
				var fields []string
				for _, f := range crewRoutes[at].fields {
					fields = append(fields, strings.ReplaceAll(f, "{who}", name))
				}
				if got := b.route(r, slab, fields); !fits(got, want) {
					t.Errorf("%s as %s, on the network %v: %v, want %s\n%.300s", at, name, lan, got, want, got.body)
				}
			}
		}
	}
	if asked != len(crewRoutes) {
		t.Errorf("%d routes were asked for, of %d", asked, len(crewRoutes))
	}
}

// crewOnLan is what a route gives at the network's own address.
func crewOnLan(r Route, want string) string {
	switch {
	case r.For&Lan == 0:
		return none
	case r.Pattern == "/logout":
		return "303 /"
	case want == entry:
		return who
	}
	return want
}

func balanceAt(bid int64) string { return fmt.Sprintf("/bids/%d/balance", bid) }

var slabAt = regexp.MustCompile(`/slabs/([^/"?]+)/`)

// main is what is a page's own.
func (a answered) main() string {
	_, main, _ := strings.Cut(a.body, "<main")
	main, _, _ = strings.Cut(main, "</main")
	return main
}

// TestACrewSeesItsOwn: lists hold its own pours and nobody's, whatever else is asked for
// by the address, also where names are left out; a slab of another crew is as good as
// none, and no page leads there.
func TestACrewSeesItsOwn(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		p := newCrewPlace(t, dsn)
		p.onePour("NOBODYS")
		p.signedIn("Ana").keepsBid(append(slices.Clone(aSlab), "name", "Yard of nobody")...)
		names := []string{"own", "other"}
		for _, nameless := range []bool{false, true} {
			p.reopen(public)
			p.site.Settings.NoNames, p.site.own.settings.NoNames = nameless, nameless
			for me, other := range []int{1, 0} {
				b := p.by(names[me])
				sees := func(path string, list ...string) answered {
					t.Helper()
					p.later(time.Second)
					got := b.get(path)
					mine := 0
					for _, found := range slabAt.FindAllStringSubmatch(got.body, -1) {
						if job, _ := url.PathUnescape(found[1]); p.jobs[other][job] {
							t.Errorf("%s leads %s to a slab of %s: %s", path, p.crews[me], p.crews[other], found[0])
						} else if p.jobs[me][job] {
							mine++
						}
					}
					if path == "/visits" && mine == 0 {
						t.Errorf("%s: nothing of their own", path)
					}
					return got
				}
				sees("/visits")
				for _, odd := range []string{"/visits?crew=" + p.crews[other], "/visits?SeenBy=&seen_by=" + p.crews[other], "/visits?as_of=2025-09-30", "/visits?use=driveway"} {
					sees(odd)
				}
				slab := func(s record.Placement) string { return "/slabs/" + url.PathEscape(s.JobNo) + "/" + s.Placement }
				if got := b.get(slab(p.slabs[me])); got.status != http.StatusOK {
					t.Error("their own slab: ", got)
				}
				if got := b.get("/slabs/NOBODYS/A"); got.status != http.StatusOK {
					t.Error("nobody's slab: ", got)
				}
				for _, path := range []string{slab(p.slabs[other]), "/slabs/" + url.PathEscape(p.slabs[other].JobNo) + "/Z"} {
					got := b.get(path)
					if _, near, _ := strings.Cut(got.main(), "Did you mean"); got.status != http.StatusNotFound || strings.Contains(near, p.slabs[other].JobNo) {
						t.Errorf("%s, another crew's slab: %v %s", path, got, got.main())
					}
				}
				mine, theirs, noBid := b.get(balanceAt(p.bids[me])), b.get(balanceAt(p.bids[other])), b.get(balanceAt(77))
				if mine.status != 200 || theirs.status != 404 || theirs.main() != strings.ReplaceAll(noBid.main(), "77", fmt.Sprint(p.bids[other])) {
					t.Errorf("their own bid %v; another crew's is told from one that is not there: %s", mine, theirs.main())
				}
				if nameless {
					continue
				}
				if got := b.get("/crew"); !strings.Contains(got.body, "Yard of nobody") || strings.Contains(got.body, "Yard of "+p.crews[other]) {
					t.Errorf("the pours of %s: %.900s", p.crews[me], got.body)
				}
			}
		}
		p.reopen(public)
		p.by("any").get("/crew").says(t, "Yard of nobody")
		for i, crew := range p.crews {
			p.by("any").get(fmt.Sprintf("/bids/%d/pour-day", p.bids[i])).says(t, "Yard of "+crew)
		}
	})
}
