package site

import (
	"bytes"
	"embed"
	"fmt"
	"html/template"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"sync"

	"pourback/report/say"
)

//go:embed templates/*.html assets/*.css assets/*.js
var files embed.FS

// shown are the pages by the name of their template: what all have, and a "main"
// of their own. They are read once the first page is shown.
var shown = sync.OnceValue(parse)

// shared are the templates that all pages have, with the parts that some are made of.
var shared = []string{"templates/layout.html", "templates/entry.html", "templates/queue.html"}

func parse() map[string]*template.Template {
	funcs := template.FuncMap{"parts": func(prose string) []string { return strings.Split(prose, "`") }, "odd": func(i int) bool { return i%2 == 1 }}
	layout := template.Must(template.New("layout.html").Funcs(funcs).ParseFS(files, shared...))
	all := map[string]*template.Template{}
	names, err := files.ReadDir("templates")
	if err != nil {
		panic(err) // it was embedded when the program was built
	}
	for _, f := range names {
		if name := strings.TrimSuffix(f.Name(), ".html"); !slices.Contains(shared, "templates/"+f.Name()) {
			all[name] = template.Must(template.Must(layout.Clone()).ParseFS(files, "templates/"+f.Name()))
		}
	}
	return all
}

// Frame is a page with what surrounds it, as templates see it.
type Frame struct {
	W        say.Site // says all words
	Words    say.FrameWords
	Title    string
	Heading  string // of the window
	Company  string
	Home     string
	Style    []string // addresses
	Script   []string
	Nav      []NavLink
	Invented bool
	SignedIn bool
	Data     any // of the page's own

	ask *Ask
}

// NavLink leads somewhere from every page.
type NavLink struct {
	Title, Href, Current string
	Lang                 string // of its title and of where it leads, where that is not the page's
}

// Link is the address of another page of the same company.
func (f Frame) Link(path string) string { return f.ask.Link(path) }

// At is the address of a page of the same company alone, for a form that asks: what
// stands behind a ? in the address of one is lost.
func (f Frame) At(path string) string { return f.ask.Base() + path }

// View are the language and the units that the reader has chosen, for a form that asks.
func (f Frame) View() (fields [][2]string) {
	c := f.ask.Choice
	for _, v := range [][3]string{{"lang", c.Lang, c.usual.lang}, {"units", c.Units, c.usual.units}} {
		if v[1] != v[2] {
			fields = append(fields, [2]string{v[0], v[1]})
		}
	}
	return fields
}

// MostPictures is how many pictures a form may bring; PlaceKept says whether the place
// where one was taken is kept with it.
func (f Frame) MostPictures() int { return mostPictures }
func (f Frame) PlaceKept() bool   { return f.ask.Site.Settings.Pictures.KeepPosition }

// Caption is what was written of an entry's pictures before, where it could not be taken.
func (f Frame) Caption() string { return f.ask.Field("caption") }

// With is the page with a part of its data, for a template that needs both.
func (f Frame) With(part any) [2]any { return [2]any{f, part} }

// Key is a new hidden key: each writing form has one of its own.
func (f Frame) Key() string { return f.ask.key() }

// Languages are this page in each language.
func (f Frame) Languages() (links []NavLink) {
	for _, code := range say.Languages() {
		c := f.ask.Choice
		c.Lang = code
		l := NavLink{Title: say.New(code, "", "").LanguageName(), Href: f.ask.here(c), Lang: code}
		if code == f.ask.Choice.Lang {
			l.Current = "true"
		}
		links = append(links, l)
	}
	return links
}

// here is the page that is asked for, in another choice. What else its address says
// (what is looked for, the page of a long list) stays; on a page that is kept for
// others there is none of that.
func (a *Ask) here(c Choice) string {
	path, query := a.URL.EscapedPath(), c.query()
	if a.kept {
		return path + query
	}
	q, err := url.ParseQuery(strings.TrimPrefix(query, "?"))
	if err != nil {
		return path + query
	}
	for name, values := range a.URL.Query() {
		if !slices.Contains(choiceNames, name) {
			q[name] = values
		}
	}
	if len(q) == 0 {
		return path
	}
	return path + "?" + q.Encode()
}

// Units are this page in the other system of units.
func (f Frame) Units() (links []NavLink) {
	for _, units := range []string{"us", "si"} {
		c := f.ask.Choice
		c.Units = units
		l := NavLink{Title: f.W.UnitsName(units), Href: f.ask.here(c)}
		if units == f.ask.Choice.Units {
			l.Current = "true"
		}
		links = append(links, l)
	}
	return links
}

// navigation is where every page leads, for who may go there: in this order.
var navigation = []struct {
	path  string
	title func(say.Site) string
	roles Roles
	at    []string // the beginnings of addresses that belong to it

	invented bool // it is there for the invented company, too
}{
	{"/", say.Site.ReportLink, Readers, []string{"/report/"}, true},
	{"/upload", say.Site.UploadLink, Owner, []string{"/upload/", "/batches"}, false},
	{"/jobs", say.Site.RecordsLink, Owner, []string{"/jobs/"}, false},
	{"/bids", say.Site.BidsTitle, Readers, []string{"/bids"}, true},
	{"/crew", say.Site.PoursTitle, SignedIn, []string{"/pour"}, true},
	{"/visits", say.Site.VisitsTitle, SignedIn, []string{"/visits", "/slabs/", "/calendar"}, true},
	{"/users", say.Site.UsersLink, Owner, []string{"/users", "/log"}, false},
}

func (a *Ask) nav() (links []NavLink) {
	at := strings.TrimPrefix(a.URL.Path, a.Base())
	for _, n := range navigation {
		if n.roles&a.Who.Role == 0 || a.Base() != "" && !n.invented || !a.reads(topicOf(n.path)) {
			continue
		}
		l := NavLink{Title: n.title(a.Say), Href: a.Link(n.path)}
		if at == n.path {
			l.Current = "page"
		}
		for _, begin := range n.at {
			if strings.HasPrefix(at, begin) && l.Current == "" {
				l.Current = "true"
			}
		}
		links = append(links, l)
	}
	return links
}

// Show shows a page: the template of that name, with its data.
func (a *Ask) Show(name, title string, data any) error {
	return a.showAs(http.StatusOK, name, title, data)
}

func (a *Ask) showAs(status int, name, title string, data any) error {
	html, err := a.render(name, title, data)
	if err != nil {
		a.Site.Log.Error("a page was not made", "page", name, "error", err.Error())
		http.Error(a.W, a.Say.Broke(), http.StatusInternalServerError)
		return nil
	}
	if a.showing != nil {
		if status == http.StatusOK {
			a.keepShown(html)
		}
		html = a.filled(html)
	}
	a.sendPage(status, html)
	return nil
}

// render is a whole page.
func (a *Ask) render(name, title string, data any) ([]byte, error) {
	return a.renderPart("layout.html", name, title, data)
}

// renderPart is a part of a page: "layout.html" is all of it, "main" what is its own.
func (a *Ask) renderPart(part, name, title string, data any) ([]byte, error) {
	t := shown()[name]
	if t == nil {
		return nil, fmt.Errorf("there is no template %q", name)
	}
	f := Frame{W: a.Say, Words: say.FrameOf(a.Say.Voice).Words(), Title: title, Company: a.Company.title(a.Say), Home: a.Link("/"), Style: []string{reportStyle().path, siteStyle().path}, Script: []string{reportScript().path, siteScript().path},
		Nav: a.nav(), Invented: a.Base() != "", SignedIn: a.Who.Role != Nobody, Data: data, ask: a}
	f.Heading = title
	if title != f.Company {
		f.Heading += " · " + f.Company
	}
	if more := besides[name]; more.style != nil {
		f.Style = append(f.Style, more.style().path)
		if more.script != nil {
			f.Script = append(f.Script, more.script().path)
		}
	}
	var out bytes.Buffer
	err := t.ExecuteTemplate(&out, part, f)
	return out.Bytes(), err
}

// title is a company's name, where it is known.
func (c *company) title(w say.Site) string {
	if c.settings.Company != "" {
		return say.Clean(c.settings.Company, say.LongName)
	}
	return w.Unnamed()
}
