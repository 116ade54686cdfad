package site

import (
	"bytes"
	"html/template"
	"net/http"
	"net/url"
	"slices"

	"pourback/report/out"
	"pourback/report/page"
	"pourback/report/say"
)

// reportView is a page of the report as the site's template sees it.
type reportView struct {
	Nav    []out.SiteLink
	Topic  template.HTML
	Chosen []string // what is left out, and how old it is
	Old    string   // that it is being worked out anew
	Choose chooseView
	Begin  bool // nothing is on record, and who reads may change that
}

// chooseView is the form with which a reader chooses.
type chooseView struct {
	Action string
	Fields []chooseField
	Hidden [][2]string // what else is chosen
	All    string      // leads to where nothing is chosen; "" where nothing is
}

// chooseField is a field of it: a list where it has options.
type chooseField struct {
	Name, Label, Kind, Value string
	Options                  []chooseOption
}

type chooseOption struct {
	Value, Text string
	Selected    bool
}

// home is the overview, or how to begin where there is nothing yet.
func home(a *Ask) error {
	if a.Who.Role == Crew {
		http.Redirect(a.W, a.Request, "/crew"+a.Choice.View().query(), http.StatusSeeOther)
		return nil
	}
	if !a.reads(page.IndexSlug) {
		http.Redirect(a.W, a.Request, a.slugLink(a.Site.Settings.ViewersRead[0]), http.StatusSeeOther)
		return nil
	}
	is, old, err := a.Company.answer(a.Context(), a.Choice, a.wrote())
	if err != nil {
		return err
	}
	if is.of.All == 0 && a.Who.Role == Owner {
		empty, err := a.Company.empty(a.Context())
		if err != nil {
			return err
		}
		if empty {
			return startPage(a)
		}
	}
	if !a.reads(page.IndexSlug) {
		if pages := a.readable(a.Company.pagesOf(is, a.Choice)); len(pages) > 0 {
			http.Redirect(a.W, a.Request, a.slugLink(pages[0].Slug), http.StatusSeeOther)
			return nil
		}
	}
	return a.report(is, old, page.IndexSlug)
}

// reportPage is a page of the report.
func reportPage(a *Ask) error {
	slug := a.PathValue("slug")
	if slug == page.IndexSlug {
		http.Redirect(a.W, a.Request, a.slugLink(slug), http.StatusMovedPermanently)
		return nil
	}
	is, old, err := a.Company.answer(a.Context(), a.Choice, a.wrote())
	if err != nil {
		return err
	}
	return a.report(is, old, slug)
}

// report sends a page of an answer, which is written once however many ask.
func (a *Ask) report(is *answer, old bool, slug string) error {
	cache, k := &a.Company.pages, pageKey{is.number, a.Choice, slug, a.Who.Role, a.Who.Local, old}
	p := cache.get(k)
	if p == nil {
		var err error
		if p, err = a.written(is, k); err != nil {
			return err
		}
	}
	return p.send(a.W, a.Request)
}

// written writes a page, unless somebody else has meanwhile.
func (a *Ask) written(is *answer, k pageKey) (*kept, error) {
	is.writing.Lock()
	defer is.writing.Unlock()
	cache := &a.Company.pages
	if p := cache.get(k); p != nil {
		return p, nil
	}
	html, err := a.renderReport(is, k.slug, k.old)
	if err != nil {
		return nil, err
	}
	return cache.put(k, html)
}

// draw writes a page that nobody asks for yet. It may say no more than its key does.
// What goes wrong is told to whoever asks for it then.
func (s *Site) draw(c *company, is *answer, k pageKey) {
	a := &Ask{Site: s, Company: c, Now: s.Now(), Who: Person{Role: k.who, Local: k.local}, Choice: k.choice, Say: s.sayIn(k.choice)}
	to, err := url.Parse(a.slugLink(k.slug))
	if err != nil {
		return
	}
	a.Request = &http.Request{Method: http.MethodGet, URL: to}
	a.route.Do = func(a *Ask) error {
		_, err := a.written(is, k)
		return err
	}
	if err := a.do(); err != nil {
		s.Log.Info("a page was not drawn again", "page", k.slug, "error", err.Error())
	}
}

func (a *Ask) renderReport(is *answer, slug string, old bool) ([]byte, error) {
	a.kept = true
	pages := a.readable(a.Company.pagesOf(is, a.Choice))
	at := slices.IndexFunc(pages, func(p page.Page) bool { return p.Slug == slug })
	if at < 0 {
		return nil, notFound()
	}
	v := reportView{Nav: out.SiteNav(pages, at, a.slugLink), Choose: a.choose(is, slug), Chosen: a.chosen(is)}
	v.Begin = is.of.All == 0 && a.Who.Role == Owner && a.Base() == ""
	if old {
		v.Old = a.Say.BeingWorkedOut(is.made)
	}
	var topic bytes.Buffer
	if err := out.WriteTopic(&topic, pages, at, a.slugLink); err != nil {
		return nil, err
	}
	v.Topic = template.HTML(topic.String())
	return a.render("report", pages[at].Title, v)
}

// slugLink is the address of a page of the report, for the same choice.
func (a *Ask) slugLink(slug string) string {
	if slug == page.IndexSlug {
		return a.Base() + "/" + a.Choice.query()
	}
	return a.Base() + "/report/" + slug + a.Choice.query()
}

// chosen says what of the records a page is about, where that is not all.
func (a *Ask) chosen(is *answer) (says []string) {
	c := a.Choice
	if c.Part() {
		says = append(says, a.Say.Chosen(say.Chosen{From: c.From, To: c.To, Use: c.Use, Crew: c.Crew, Method: c.Method}, is.of.Placements, is.of.All))
		if is.of.Cut > 0 {
			says = append(says, a.Say.CutJobs(is.of.Cut))
		}
		says = append(says, a.Say.NoBidsHere())
	}
	if c.AsOf != c.usual.asOf {
		says = append(says, a.Say.AsKnownOn(c.AsOf))
	}
	return says
}

func (a *Ask) choose(is *answer, slug string) chooseView {
	w, c := a.Say, a.Choice
	v := chooseView{Action: a.Base() + "/report/" + slug}
	if slug == page.IndexSlug {
		v.Action = a.Base() + "/"
	}
	month := func(name, label, value string) chooseField {
		return chooseField{Name: name, Label: label, Kind: "month", Value: value}
	}
	v.Fields = []chooseField{month("from", w.FromMonth(), c.From), month("to", w.ToMonth(), c.To),
		a.listOf("use", w.UseLabel(), c.Use, is.of.Uses), a.listOf("crew", w.CrewLabel(), c.Crew, is.of.Crews), a.listOf("method", w.MethodLabel(), c.Method, is.of.Method),
		{Name: "as_of", Label: w.AsOfLabel(), Kind: "date", Value: c.AsOf.String()}, month("month", w.MonthLabel(), c.Month)}
	for _, h := range [][2]string{{"lang", c.Lang}, {"units", c.Units}} {
		if h[1] != "" {
			v.Hidden = append(v.Hidden, h)
		}
	}
	if c.Part() || c.AsOf != c.usual.asOf || c.Month != "" {
		v.All = v.Action + c.View().query()
	}
	return v
}

// listOf is a list of words to choose one of, or all.
func (a *Ask) listOf(name, label, value string, words []string) chooseField {
	f := chooseField{Name: name, Label: label, Kind: "list", Options: []chooseOption{{"", a.Say.All(), value == ""}}}
	for _, word := range words {
		text := say.Clean(word, say.ShortName)
		if name != "crew" {
			text = a.Say.Word(word)
		}
		f.Options = append(f.Options, chooseOption{word, text, word == value})
	}
	return f
}
