package site

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"pourback/ingest/record"
	"pourback/ingest/store/storetest"
)

// TestRoutesAreWhole: each route has a handler, somebody it is for, and a place of its own.
func TestRoutesAreWhole(t *testing.T) {
	met := map[string]bool{}
	for _, r := range Routes() {
		at := r.Method + " " + r.Pattern
		if met[at] {
			t.Errorf("%s is there twice", at)
		}
		met[at] = true
		if r.Do == nil || r.For == 0 {
			t.Errorf("%s is for nobody or does nothing", at)
		}
		if writes := r.Kind != Shows; writes != (r.Method == "POST") {
			t.Errorf("%s: what is changed is changed by a POST, and nothing else is", at)
		}
	}
}

// What somebody gets of a route.
const (
	shows = "200"
	entry = "303 /login"
	no    = "403 "
	who   = "401 "
	none  = "404 "
)

// gets is what each gets of a route, where they send it what an owner would.
// Whose session was ended gets what nobody does.
type gets struct {
	nobody, crew, viewer, owner string
	fields                      []string // of a form, beside its key
}

// expected is what each route gives, by method and pattern.
var expected = map[string]gets{
	"GET /healthz":       {shows, shows, shows, shows, nil},
	"GET /assets/{name}": {shows, shows, shows, shows, nil},
	"GET /worker.js":     {shows, shows, shows, shows, nil},

	"GET /{$}":            {entry, "303 /crew", shows, shows, nil},
	"GET /report/{slug}":  {entry, no, shows, shows, nil},
	"GET /start":          {entry, no, no, shows, nil},
	"POST /invented":      {who, no, no, "303 /invented/", nil},
	"POST /invented/gone": {who, no, no, "303 /", nil},
	"GET /upload":         {entry, no, no, shows, nil},

	"POST /upload":            {who, no, no, "400 ", nil}, // it is no form with a file
	"GET /upload/{id}":        {entry, no, no, none, nil},
	"POST /upload/{id}":       {who, no, no, none, nil},
	"POST /upload/{id}/keep":  {who, no, no, none, nil},
	"POST /upload/{id}/drop":  {who, no, no, none, nil},
	"GET /batches":            {entry, no, no, shows, nil},
	"GET /batches/{id}":       {entry, no, no, shows, nil},
	"POST /batches/{id}/undo": {who, no, no, "303 /batches/1", nil},
	"POST /batches/{id}/fix":  {who, no, no, none, []string{"part", "0"}},
	"GET /jobs":               {entry, no, no, shows, nil},
	"GET /jobs/{no}":          {entry, no, no, none, nil},
	"POST /jobs/fix":          {who, no, no, "400 ", nil},

	"GET /bids":               {entry, no, shows, shows, nil},
	"GET /bids/new":           {entry, no, no, shows, nil},
	"POST /bids/work":         {who, no, no, shows, aSlab},
	"POST /bids":              {who, no, no, "303 /bids/2", aSlab},
	"GET /bids/compare":       {entry, no, none, none, nil}, // with what is not said
	"GET /bids/{id}":          {entry, no, shows, shows, nil},
	"GET /bids/{id}/json":     {entry, no, shows, shows, nil},
	"GET /bids/{id}/sheet":    {entry, no, shows, shows, nil},
	"GET /bids/{id}/proposal": {entry, no, shows, shows, nil},
	"GET /bids/{id}/pour-day": {entry, shows, shows, shows, nil},
	"GET /bids/{id}/balance":  {entry, shows, shows, shows, nil},
	"POST /bids/{id}/mark":    {who, no, no, "303 /bids/1", []string{"fate", "won"}},
	"POST /bids/{id}/job":     {who, no, no, "303 /bids/1", []string{"job_no", "SF-9"}},

	"GET /crew":                 {entry, shows, shows, shows, nil},
	"POST /crew":                {who, "303 /pour/LM-77", no, "303 /pour/LM-77", []string{"job_no", "LM-77", "use", "patio", "area_sqft", "240", "thickness_in", "4"}},
	"GET /pours":                {entry, "303 /crew", "303 /crew", "303 /crew", nil},
	"GET /pour/{job}":           {entry, shows, shows, shows, nil},
	"GET /pour/{job}/last-load": {entry, none, none, none, nil}, // no bid is for it
	"POST /pour/{job}/begin":    {who, "303 /pour/{job}", no, "303 /pour/{job}", []string{"use", "patio", "area_sqft", "240", "thickness_in", "4"}},
	"POST /pour/{job}/pictures": {who, "422 ", no, "422 ", nil}, // no picture
	"POST /pour/{job}/{what}":   {who, "303 /pour/{job}", no, "303 /pour/{job}", []string{"ticket_no", "4711", "yards", "9"}},

	"GET /visits":                                        {entry, shows, shows, shows, nil},
	"GET /slabs/{job}/{placement}":                       {entry, shows, shows, shows, nil},
	"GET /slabs/{job}/{placement}/visit":                 {entry, shows, no, shows, nil},
	"POST /slabs/{job}/{placement}/visit":                {who, "303 /slabs/{job}/{placement}", no, "303 /slabs/{job}/{placement}", []string{"why", "planned", "finding", "sound", "seen_on", testDay.String()}},
	"POST /slabs/{job}/{placement}/close":                {who, "422 ", no, "422 ", nil}, // no callback of that day
	"POST /slabs/{job}/{placement}/undo":                 {who, "409 ", no, "409 ", nil}, // nothing was entered
	"POST /slabs/{job}/{placement}/pictures":             {who, "422 ", no, "422 ", nil}, // no picture
	"GET /slabs/{job}/{placement}/pictures/{key}":        {entry, none, none, none, nil},
	"GET /slabs/{job}/{placement}/pictures/{key}/{size}": {entry, none, none, none, nil},
	"GET /calendar":                                      {entry, no, no, shows, nil},
	"POST /calendar/renew":                               {who, no, no, shows, nil},
	"POST /calendar/end":                                 {who, no, no, "303 /calendar", nil},
	"GET /calendar/{token}/visits.ics":                   {none, none, none, none, nil},

	"GET /login":   {shows, "303 /", "303 /", "303 /", nil},
	"POST /login":  {"303 /", "303 /", "303 /", "303 /", []string{"name", "victim", "password", everybodys}},
	"POST /logout": {"303 /login", "303 /login", "303 /login", "303 /login", nil},
	"GET /join":    {"410 ", "410 ", "410 ", "410 ", nil},
	"POST /join":   {"410 ", "410 ", "410 ", "410 ", []string{"token", "x", "password", everybodys, "again", everybodys}},
	"GET /you":     {entry, shows, shows, shows, nil},

	"GET /users":                {entry, no, no, shows, nil},
	"POST /users/invite":        {who, no, no, shows, []string{"name", "new", "role", "viewer"}},
	"POST /users/{id}/role":     {who, no, no, "303 /users", []string{"role", "crew"}},
	"POST /users/{id}/password": {who, no, no, shows, nil},
	"POST /users/{id}/sessions": {who, no, no, "303 /users", nil},
	"POST /users/{id}/remove":   {who, no, no, "303 /users", nil},
	"POST /users/phone":         {who, no, no, shows, []string{"name", "new"}},
	"POST /users/{id}/code":     {who, no, no, none, nil}, // a user with a password
	"POST /users/{id}/crew":     {who, no, no, "303 /users", nil},
	"POST /users/withdraw":      {who, no, no, "303 /users", []string{"hash", "x"}},
	"GET /log":                  {entry, no, no, shows, nil},

	"GET /invented/{$}":           {entry, none, none, none, nil},
	"GET /invented/report/{slug}": {entry, no, none, none, nil},

	"GET /invented/visits":                  {entry, none, none, none, nil},
	"GET /invented/bids":                    {entry, no, none, none, nil},
	"GET /invented/bids/{id}":               {entry, no, none, none, nil},
	"GET /invented/bids/{id}/sheet":         {entry, no, none, none, nil},
	"GET /invented/bids/{id}/proposal":      {entry, no, none, none, nil},
	"GET /invented/bids/{id}/pour-day":      {entry, none, none, none, nil},
	"GET /invented/bids/{id}/balance":       {entry, none, none, none, nil},
	"GET /invented/crew":                    {entry, none, none, none, nil},
	"GET /invented/pours":                   {entry, none, none, none, nil},
	"GET /invented/slabs/{job}/{placement}": {entry, none, none, none, nil},
}

// aSlab are the fields of the smallest bid there is.
var aSlab = []string{"p0.use", "patio", "p0.length_ft", "20", "p0.width_ft", "12", "p0.thickness_in", "4"}

// TestEveryRouteAsEveryRole asks for every route of the router as nobody, as a
// crew, a viewer and an owner, and with a session that was ended: at the site's own
// address, and at the network's, where phones alone are known.
func TestEveryRouteAsEveryRole(t *testing.T) {
	full := filepath.Join(t.TempDir(), "full.db")
	var first record.Placement
	func() {
		p := newPlace(t, full, 3, public)
		p.user("victim", Viewer) // number 1
		p.user("crew", Crew)
		p.user("viewer", Viewer)
		p.user("owner", Owner)
		p.phone("phone", "")
		p.keepBid("owner", aSlab...)
		first = p.set.Placements[0]
		p.store.Close() // so that all of it is in the file
	}()
	whole, err := os.ReadFile(full)
	if err != nil {
		t.Fatal(err)
	}
	asked := map[string]bool{}
	for _, r := range Routes() {
		at := r.Method + " " + r.Pattern
		asked[at] = true
		want, ok := expected[at]
		if !ok {
			t.Errorf("%s: nothing here says what each role gets", at)
			continue
		}
		dsn := storetest.SQLite(t)
		if err := os.WriteFile(dsn, whole, 0o600); err != nil {
			t.Fatal(err)
		}
		p := newPlace(t, dsn, 0, public)
		p.openLan(public)
		browsers := map[string]*surfer{}
		for _, c := range []struct{ name, want string }{{"", want.nobody}, {"ended", want.nobody}, {"crew", want.crew}, {"viewer", want.viewer}, {"owner", want.owner}} {
			p.later(time.Minute) // signing in too often is refused
			b := p.as(c.name)
			browsers[c.name] = b
			got := b.route(r, first, want.fields)
			if !fits(got, strings.NewReplacer("{job}", first.JobNo, "{placement}", first.Placement).Replace(c.want)) {
				t.Errorf("%s as %q: %v, want %s\n%.300s", at, c.name, got, c.want, got.body)
			}
			if got.header.Get("Content-Security-Policy") == "" || got.header.Get("X-Content-Type-Options") != "nosniff" {
				t.Errorf("%s as %q bears no policy", at, c.name)
			}
		}
		browsers["phone"] = p.as("phone")
		for name, b := range browsers {
			p.later(time.Minute)
			b.byLan()
			if got, want := b.route(r, first, want.fields), strings.NewReplacer("{job}", first.JobNo, "{placement}", first.Placement).Replace(onLan(r, want, name == "phone")); !fits(got, want) {
				t.Errorf("%s as %q on the network: %v, want %s\n%.300s", at, name, got, want, got.body)
			}
		}
		p.store.Close()
	}
	for at := range expected {
		if !asked[at] {
			t.Errorf("%s is expected, and no route", at)
		}
	}
}

// onLan is what a route gives at the network's own address: what a crew gets to phones
// that were added, nothing to others, and no page that is not a crew's to anybody.
func onLan(r Route, want gets, phone bool) string {
	switch at := r.Method + " " + r.Pattern; {
	case r.For&Lan == 0 && (at == "GET /login" || at == "POST /login" || r.For&Crew == 0 || strings.HasPrefix(r.Pattern, inventedBase) || strings.HasPrefix(r.Pattern, "/calendar")):
		return none
	case r.For&Lan == 0:
		return "to be marked for phones on the network, or named here"
	case at == "POST /logout":
		return "303 /"
	case phone || r.For&Nobody != 0:
		return want.crew
	}
	return who
}

// as is a browser of a user, of nobody, or of whose session was ended.
func (p *place) as(name string) *surfer {
	switch name {
	case "":
		return p.surfer()
	case "phone":
		b := p.surfer()
		u, err := p.store.UserNamed(p.t.Context(), name)
		if err != nil {
			p.t.Fatal(err)
		}
		b.cookies[public.cookie()] = p.letIn(u.ID)
		return b
	case "ended":
		b := p.signedIn("owner")
		if err := p.store.EndSession(p.t.Context(), tokenHash(b.cookies[p.site.Access.cookie()])); err != nil {
			p.t.Fatal(err)
		}
		return b
	}
	return p.signedIn(name)
}

// route asks for a route as its form would.
func (b *surfer) route(r Route, slab record.Placement, fields []string) answered {
	path := strings.NewReplacer("{$}", "", "{slug}", "waste", "{id}", "1", "{no}", "none", "{job}", slab.JobNo, "{what}", "truck", "{placement}", slab.Placement, "{token}", "x", "{name}", strings.TrimPrefix(siteStyle().path, "/assets/")).Replace(r.Pattern)
	if r.Method == "GET" {
		return b.get(path)
	}
	if r.Kind == Form || r.Kind == Entry {
		fields = append([]string{keyField, newKey()}, fields...)
	}
	return b.post(path, fields...)
}

// fits says whether an answer is as expected: its status, and where it sends to.
func fits(got answered, want string) bool {
	at, _, _ := strings.Cut(got.header.Get("Location"), "?")
	return strings.TrimSpace(fmt.Sprintf("%d %s", got.status, at)) == strings.TrimSpace(want)
}
