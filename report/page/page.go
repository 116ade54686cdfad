// Package report makes the answers visible: pages for a browser and for paper,
// tables for a terminal, JSON for other programs. It computes nothing that the
// analysis has not; it says, rounds and draws.
//
// [Pages] puts the answers into words once, one file a topic. Every output
// shows those pages the same way: first the answer in one sentence, then the
// picture, then the table with the same figures.
package page

import (
	"pourback/analysis"
	"pourback/analysis/bid"
	"pourback/report/chart"
	"pourback/report/say"
)

// Options are what the owner may set about how answers are shown.
type Options struct {
	Units    string // "us", or "si"; us where empty
	Company  string // its name, at the head of the report
	Currency string // the sign before amounts of money; $ where empty
	Lang     string // en where empty
	Month    string // the month to speak of, such as 2025-06; the last full one where empty

	// Names of people and sites appear only where the owner asks for them.
	WithSites bool
	Sites     map[string]string // the site of each job, for pages whose figures do not carry it

	Bids *bid.Record // what became of kept bids; their page is left out where there are none
}

// Page is one topic's answer with all that stands behind it.
type Page struct {
	Slug     string // names the page's file and its place in a single file
	Title    string
	Group    string // what it is about, with others: the heading above it in the list of pages
	Answer   string // one sentence that needs no chart
	Basis    string // what the answer rests on
	Reading  string // how the ranges on it are to be read, where it has any
	Exhibits []Exhibit
	Notes    []string
	Cautions []Caution
	Method   []string // how it was computed, with the sources
	Links    []Link   // on the index: the sentences that other pages explain
}

// Exhibit is a chart with its table: the same figures twice.
type Exhibit struct {
	Title string
	Says  string       // what it comes to, in a sentence; "" where the title says it
	Chart *chart.Chart // nil where a table says it all, or there is too little to draw
	Table *Table
}

// Link is another page with its answer.
type Link struct{ Slug, Title, Answer string }

// IndexSlug names the page that the others hang from; it comes first.
const IndexSlug = "index"

// Pages says the answers: an index, a page for each topic that was asked, and
// the records to check.
func Pages(f *analysis.Factors, opt Options) []Page {
	a := NewAuthor(f, opt)
	var topics []Page
	for _, topic := range []struct {
		group string
		asked bool
		write func() Page
	}{
		{"Money", f.Margin != nil, a.thisMonth},
		{"Concrete", f.Overage != nil, a.waste},
		{"Crew and pump", f.Crews != nil, a.crews},
		{"Crew and pump", f.Pump != nil, a.pump},
		{"Concrete", f.Weather != nil, a.weather},
		{"After the pour", f.Cracks != nil, a.cracks},
		{"Concrete", f.Reinforcement != nil, a.reinforcement},
		{"Money", f.Margin != nil, a.margin},
		{"After the pour", f.Visits != nil, a.visits},
		{"After the pour", f.Visits != nil, a.early},
		{"After the pour", f.Visits != nil, a.callbacks},
		{"After the pour", f.Visits != nil, a.slabStories},
		{"After the pour", f.Visits != nil, a.seen},
		{"After the pour", f.Visits != nil, a.warranty},
		{"Money", opt.Bids != nil && len(opt.Bids.Outcomes) > 0, func() Page { return a.bids(opt.Bids) }},
		{"Records", true, a.records},
	} {
		if topic.asked {
			p := topic.write()
			p.Group = topic.group
			if len(p.Exhibits) > 0 && p.Reading == "" && p.Slug != "bids" {
				p.Reading = a.reading()
			}
			topics = append(topics, p)
		}
	}
	return append([]Page{a.index(topics)}, topics...)
}

// Author writes the pages of one set of factors.
type Author struct {
	*say.Voice
	f       *analysis.Factors
	company string
	month   string
	named   bool              // people and sites may be named
	sites   map[string]string // empty unless they may be named
}

func NewAuthor(f *analysis.Factors, opt Options) *Author {
	a := &Author{Voice: say.New(opt.Lang, opt.Units, opt.Currency), f: f, company: say.Clean(opt.Company, say.LongName), month: opt.Month}
	if a.named = opt.WithSites; a.named {
		a.sites = opt.Sites
	}
	return a
}

// placed names something of a job, such as "J-104 A", with the job's site where
// that may be named.
func (a *Author) placed(jobNo, what string) say.Cell {
	c := say.Word(what)
	if site := a.sites[jobNo]; site != "" {
		c.Below = say.Clean(site, say.ShortName)
	}
	return c
}

// empty says whether there is no history at all to speak of.
func (a *Author) empty() bool { return a.f.Placements == 0 }

// begin is what a page says before the first record: what it will answer and
// what that takes.
func (a *Author) begin(p Page, will, takes string) Page {
	p.Answer = "No placements are on record yet: this page will say " + will + "."
	p.Notes = []string{"It takes " + takes + ". One row per placement in a spreadsheet is enough to begin: `pourback ingest FILE` takes it in, and `pourback demo` shows this report for an invented company."}
	return p
}

// itTakes says what a page that has nothing to say yet would take.
func (a *Author) itTakes(takes string) string { return a.ItTakes(takes) }

// basis says what a page rests on: n placements of a kind.
func (a *Author) basis(n int, kind string) string {
	s, all := say.Plural(n, kind), a.f.Placements
	switch {
	case n == 0:
		s = "None of " + say.Plural(all, "placement")
	case n < all && kind == "placement":
		s = say.Count(n) + " of " + say.Plural(all, kind)
	case n < all:
		s += " of " + say.Count(all)
	}
	return s + ", poured " + a.poured() + "."
}

// reading says how the ranges of a page are to be read.
func (a *Author) reading() string {
	return "A range is drawn so that " + say.LevelText(a.f.Level) + " it holds the true figure."
}
