package out

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/base64"
	"html/template"
	"io"
	"slices"
	"strings"

	"pourback/report/chart"
	"pourback/report/page"
	"pourback/report/say"
)

//go:embed templates/*.html assets/boot.js assets/style.css assets/pourday.css
var files embed.FS

var (
	templates = template.Must(template.New("").Funcs(template.FuncMap{
		"add":   func(a, b int) int { return a + b },
		"odd":   func(i int) bool { return i%2 == 1 },
		"parts": func(prose string) []string { return strings.Split(prose, "`") }, // every other one is a command
	}).ParseFS(files, "templates/*.html"))
	boot  = "(function () {\n'use strict';\n" + mustRead("assets/boot.js") + "})();"
	style = mustRead("assets/style.css")

	pourDayStyle = mustRead("assets/pourday.css")
)

func mustRead(name string) string {
	b, err := files.ReadFile(name)
	if err != nil {
		panic(err) // it was embedded when the program was built
	}
	return string(b)
}

// pageView is a page as the templates see it.
type pageView struct {
	page.Page
	Index       bool
	Links       []linkView
	Exhibits    []exhibitView
	CautionsEnd string
	Words       say.FrameWords
	Noted       string // what its notes are called where they are read aloud
}

type linkView struct {
	page.Link
	Href    string
	Current bool
}

// navGroup are the pages about one thing, under its heading.
type navGroup struct {
	Title string
	Links []linkView
}

type exhibitView struct {
	Title string
	Says  string
	Chart *chartView
	Table *page.Table
}

// chartView is a chart as the page holds it: drawn, or why it is not.
type chartView struct {
	ID, Says, Why string
	SVG           template.HTML
}

// sheet is what surrounds pages in one file.
type sheet struct {
	Words            say.FrameWords
	Heading, Company string
	Policy           string
	Style            template.CSS
	Boot             template.JS
	Nav              []navGroup
	Page             pageView   // of a folder's file
	Pages            []pageView // of a single file
}

// view is a page with its charts drawn.
func view(p page.Page, href func(slug string) string) pageView {
	frame := say.FrameOf(p.Voice)
	v := pageView{Page: p, Index: p.Slug == page.IndexSlug, CautionsEnd: p.Decides, Words: frame.Words(), Noted: frame.Notes(p.Title)}
	for _, l := range p.Links {
		v.Links = append(v.Links, linkView{Link: l, Href: href(l.Slug)})
	}
	for _, e := range p.Exhibits {
		ev := exhibitView{Title: e.Title, Says: e.Says, Table: e.Table}
		if e.Chart != nil {
			ev.Chart = viewOf(e.Chart)
		}
		v.Exhibits = append(v.Exhibits, ev)
	}
	return v
}

func viewOf(c *chart.Chart) *chartView {
	v := &chartView{ID: c.ID, Says: c.Says, Why: c.Why}
	if d := c.Drawing(); d != nil {
		v.SVG = d.SVG(c.ID + "-says")
	}
	return v
}

// nav lists the pages group by group, in the order in which each is met.
func nav(pages []page.Page, current string, href func(slug string) string) []navGroup {
	var groups []navGroup
	for _, p := range pages {
		title := p.Title
		if p.Slug == page.IndexSlug {
			title = say.FrameOf(p.Voice).Words().Overview
		}
		at := slices.IndexFunc(groups, func(g navGroup) bool { return g.Title == p.Group })
		if at < 0 {
			at = len(groups)
			groups = append(groups, navGroup{Title: p.Group})
		}
		groups[at].Links = append(groups[at].Links, linkView{page.Link{Slug: p.Slug, Title: title}, href(p.Slug), p.Slug == current})
	}
	return groups
}

func hash(text string) string {
	sum := sha256.Sum256([]byte(text))
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}

// policy lets a page run the given scripts and nothing else, and fetch
// nothing.
func policy(scripts string) string { return policyOf(scripts, style) }

func policyOf(scripts, style string) string {
	return "default-src 'none'; script-src " + scripts + "; style-src " + hash(style) + "; img-src data:; base-uri 'none'; form-action 'none'"
}

func newSheet(pages []page.Page, heading string) sheet {
	s := sheet{Heading: heading, Style: template.CSS(style), Boot: template.JS(boot)}
	if len(pages) > 0 {
		s.Company, s.Words = pages[0].Title, say.FrameOf(pages[0].Voice).Words()
	}
	return s
}

// renderPage writes one page of a folder.
func renderPage(w io.Writer, pages []page.Page, at int) error {
	href := func(slug string) string { return slug + ".html" }
	p := pages[at]
	s := newSheet(pages, p.Title)
	if p.Slug != page.IndexSlug {
		s.Heading = say.FrameOf(p.Voice).Sheet(s.Heading, s.Company)
	}
	s.Policy = policy(hash(boot))
	s.Nav = nav(pages, p.Slug, href)
	s.Page = view(p, href)
	return templates.ExecuteTemplate(w, "page", s)
}

// WriteSingle writes the pages as one self-contained document.
func WriteSingle(w io.Writer, pages []page.Page) error {
	href := func(slug string) string { return "#" + slug }
	s := newSheet(pages, "")
	s.Heading = s.Company
	s.Policy = policy(hash(boot))
	s.Nav = nav(pages, "", href)
	for _, p := range pages {
		s.Pages = append(s.Pages, view(p, href))
	}
	var b bytes.Buffer
	if err := templates.ExecuteTemplate(&b, "single", s); err != nil {
		return err
	}
	_, err := w.Write(b.Bytes())
	return err
}
