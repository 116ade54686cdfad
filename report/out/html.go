package out

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/base64"
	"html/template"
	"image/jpeg"
	"io"
	"regexp"
	"strings"

	"pourback/report/chart"
	"pourback/report/page"
	"pourback/report/say"
)

//go:embed templates/*.html assets/boot.js assets/table.js assets/tokens.css assets/drawn.css assets/style.css assets/pourday.css assets/letter.css assets/proposal.css
var files embed.FS

var (
	templates = template.Must(template.New("").Funcs(template.FuncMap{
		"add":   func(a, b int) int { return a + b },
		"odd":   func(i int) bool { return i%2 == 1 },
		"parts": func(prose string) []string { return strings.Split(prose, "`") }, // every other one is a command
	}).ParseFS(files, "templates/*.html"))
	boot  = "(function () {\n'use strict';\n" + lean("assets/boot.js") + lean("assets/table.js") + "})();"
	style = lean("assets/tokens.css") + lean("assets/drawn.css") + lean("assets/style.css")

	pourDayStyle  = lean("assets/pourday.css")
	proposalStyle = lean("assets/tokens.css") + lean("assets/drawn.css") + lean("assets/proposal.css")
	letterStyle   = lean("assets/tokens.css") + lean("assets/drawn.css") + lean("assets/letter.css")
)

// remark is a comment of a script, on a line of its own, or of a style, and the
// indent of a line: no reader has to load them.
var remark = regexp.MustCompile(`(?m)^\s*//.*\n|/\*[^*]*\*/\n?|^ +`)

// lean is a script or a style without what only its authors read.
func lean(name string) string { return remark.ReplaceAllString(mustRead(name), "") }

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
	Headless    bool       // its title and answer stand elsewhere
	Siblings    []linkView // the pages of its group, where there are several
	Tiles       []tileView
	Folded      bool           // there are details, closed until they are asked for
	FindCards   *say.FindWords // for its cards, where they are many
	ToDo        string         // the heading above what there is to do
	Exhibits    []exhibitView
	CautionsEnd string
	Words       say.FrameWords
	Noted       string // what its notes are called where they are read aloud
}

type linkView struct {
	page.Link
	Href    string
	Current string // page where it leads to the page itself, true where to one of its group
}

type tileView struct {
	page.Tile
	Href    string
	Picture template.HTML
}

type exhibitView struct {
	page.Exhibit
	Chart *chartView
	Story string // names what is folded under a card

	Pictures []pictureView
}

// pictureView is a picture within the page: no page asks for another file, so one
// that is passed on takes its pictures along.
type pictureView struct {
	page.Thumb
	Source        template.URL
	Width, Height int
}

func pictureViews(thumbs []page.Thumb) (views []pictureView) {
	for _, t := range thumbs {
		is, err := jpeg.DecodeConfig(bytes.NewReader(t.JPEG))
		if err != nil {
			continue // a thumbnail that cannot be shown is none
		}
		source := "data:image/jpeg;base64," + base64.StdEncoding.EncodeToString(t.JPEG)
		views = append(views, pictureView{t, template.URL(source), is.Width, is.Height})
	}
	return views
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
	Nav              []linkView // the overview, and each group by its first page
	Page             pageView   // of a folder's file
	Pages            []pageView // of a single file
}

// view is a page with its charts drawn.
func view(p page.Page, href func(slug string) string) pageView {
	frame := say.FrameOf(p.Voice)
	v := pageView{Page: p, Index: p.Slug == page.IndexSlug, CautionsEnd: p.Decides, Words: frame.Words(), Noted: frame.Notes(p.Title), ToDo: frame.Todo()}
	for _, t := range p.Tiles {
		tile := tileView{Tile: t, Href: href(t.Slug)}
		if t.Picture != nil {
			if d := t.Picture.Drawing(); d != nil {
				tile.Picture = d.SVG("")
			}
		}
		v.Tiles = append(v.Tiles, tile)
	}
	v.Folded = len(p.Do) > 0 && len(p.Exhibits) > 0
	cards := 0
	for _, e := range p.Exhibits {
		if e.Card {
			cards++
		}
		ev := exhibitView{Exhibit: e, Story: frame.Story(), Pictures: pictureViews(e.Thumbs)}
		v.Folded = v.Folded || e.Leads || e.InHand
		if e.Chart != nil {
			ev.Chart = viewOf(e.Chart)
		}
		v.Exhibits = append(v.Exhibits, ev)
	}
	if cards > fewCards {
		v.FindCards = frame.FindCards(cards)
	}
	return v
}

// fewCards need no search.
const fewCards = 10

func viewOf(c *chart.Chart) *chartView {
	v := &chartView{ID: c.ID, Says: c.Says, Why: c.Why}
	if d := c.Drawing(); d != nil {
		v.SVG = d.SVG(c.ID + "-says")
	}
	return v
}

// nav leads to the overview and to each group of pages, in the order in which
// they are met.
func nav(pages []page.Page, current page.Page, href func(slug string) string) (links []linkView) {
	met := map[string]bool{}
	for _, p := range pages {
		title := p.Group
		if p.Slug == page.IndexSlug {
			title = say.FrameOf(p.Voice).Words().Overview
		}
		if met[title] || title == "" {
			continue
		}
		met[title] = true
		l := linkView{Link: page.Link{Slug: p.Slug, Title: title}, Href: href(p.Slug)}
		switch alone := siblings(pages, p, href) == nil; {
		case p.Slug == current.Slug && alone:
			l.Current = "page"
		case p.Group == current.Group && current.Slug != "":
			l.Current = "true"
		}
		links = append(links, l)
	}
	return links
}

// siblings are the pages of a page's group, none where it is alone.
func siblings(pages []page.Page, of page.Page, href func(slug string) string) (links []linkView) {
	for _, p := range pages {
		if p.Group == of.Group {
			l := linkView{Link: page.Link{Slug: p.Slug, Title: p.Title}, Href: href(p.Slug)}
			if p.Slug == of.Slug {
				l.Current = "page"
			}
			links = append(links, l)
		}
	}
	if len(links) < 2 {
		return nil
	}
	return links
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
	s.Nav = nav(pages, p, href)
	s.Page = view(p, href)
	s.Page.Siblings = siblings(pages, p, href)
	return templates.ExecuteTemplate(w, "page", s)
}

// WriteSingle writes the pages as one self-contained document.
func WriteSingle(w io.Writer, pages []page.Page) error {
	href := func(slug string) string { return "#" + slug }
	s := newSheet(pages, "")
	s.Heading = s.Company
	s.Policy = policy(hash(boot))
	s.Nav = nav(pages, page.Page{}, href)
	for _, p := range pages {
		v := view(p, href)
		v.Siblings = siblings(pages, p, href)
		s.Pages = append(s.Pages, v)
	}
	return writeTemplate(w, "single", s)
}

// writeTemplate writes what a template makes of its data, all of it or nothing.
func writeTemplate(w io.Writer, template string, data any) error {
	var text bytes.Buffer
	if err := templates.ExecuteTemplate(&text, template, data); err != nil {
		return err
	}
	_, err := w.Write(text.Bytes())
	return err
}
