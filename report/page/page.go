// Package report makes the answers visible: pages for a browser and for paper,
// tables for a terminal, JSON for other programs. It computes nothing that the
// analysis has not; it says, rounds and draws.
//
// [Pages] puts the answers into words once, one file a topic. Every output
// shows those pages the same way: first the answer in one sentence, then the
// picture, then the table with the same figures.
package page

import (
	"cmp"
	"slices"
	"strings"

	"pourback/analysis"
	"pourback/analysis/bid"
	"pourback/ingest/record"
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
	Places    map[string]Place // of each job, for pages whose figures do not carry it

	OnSite bool // for the site, where pages do what commands do elsewhere
	Back   Back // on papers that are looked at on the site

	LeftOut []record.Problem // values that cannot be, of the records that a bid or a backtest stands on

	Letterhead Letterhead // the company on papers that leave the office

	Bids *bid.Record // what became of kept bids; their page is left out where there are none

	Pictures *Pictures // of the slabs that are told of; nil where nobody may be named, for they may show people and houses
}

// Back is where a paper leads back to on screens; printed it is not there.
type Back struct{ Says, Href string }

// Place is where a job is, and for whom.
type Place struct{ Site, Customer string }

// PlacesOf are the places of jobs by their numbers.
func PlacesOf(jobs *record.JobColumns) map[string]Place {
	places := make(map[string]Place, jobs.Len())
	for j := range jobs.Len() {
		places[jobs.JobNo.At(j)] = Place{Site: jobs.Site.At(j), Customer: jobs.Customer.At(j)}
	}
	return places
}

// Page is one topic's answer with all that stands behind it.
type Page struct {
	Voice    *say.Voice // in which it is said, and what stands around it; English where nil
	Slug     string     // names the page's file and its place in a single file
	Title    string
	Group    string   // what it is about, with others: the heading above it in the list of pages
	Answer   string   // one sentence that needs no chart
	Basis    string   // what the answer rests on
	LeftOut  []string // the values that its figures would hold if they could be, each with what settles it
	Reading  string   // how the ranges on it are to be read, where it has any
	Do       []string // what to do about it, or that there is nothing to do
	Exhibits []Exhibit
	Notes    []string
	Cautions []Caution
	Decides  string   // who decides about what is cautioned of, where anything is
	Method   []string // how it was computed, with the sources
	Tiles    []Tile   // on the index: what each page comes to, at a glance
}

// Exhibit is a chart with its table: the same figures twice.
type Exhibit struct {
	Title string
	Says  string       // what it comes to, in a sentence; "" where the title says it
	Chart *chart.Chart // nil where a table says it all, or there is too little to draw
	Table *Table

	Thumbs     []Thumb // pictures of what it is about, oldest first
	ThumbsLeft string  // that there are more

	// What stands under the answer at once; the rest is folded away as details.
	Leads  bool // the picture, which carries the answer
	InHand bool // the table, by which one goes
	Card   bool // what it says, with the table folded under it: one thing among many alike
}

// led are exhibits of which the first that is drawn leads: all of a page, unless it
// says which.
func led(all []Exhibit) []Exhibit {
	for i := range all {
		if c := all[i].Chart; c != nil && c.Why == "" {
			all[i].Leads = true
			break
		}
	}
	return all
}

// inHand are exhibits whose first table is used as it stands.
func inHand(all []Exhibit) []Exhibit {
	if len(all) > 0 && all[0].Table != nil {
		all[0].InHand = true
	}
	return all
}

// Link is another page.
type Link struct{ Slug, Title string }

// IndexSlug names the page that the others hang from; it comes first.
const IndexSlug = "index"

// Slugs are the names that pages of the report bear in addresses, in the order of the
// pages.
func Slugs() []string {
	return []string{IndexSlug, monthSlug, marginSlug, wasteSlug, pumpSlug, crewsSlug, weatherSlug, cracksSlug, steelSlug, seenSlug,
		visitsSlug, earlySlug, slabsSlug, callbacksSlug, warrantySlug, bidsSlug, recordsSlug}
}

// Pages says the answers: an index, a page for each topic that was asked, and
// the records to check.
func Pages(f *analysis.Factors, opt Options) []Page {
	a := NewAuthor(f, opt)
	var topics []Page
	for _, topic := range []struct {
		group say.Group
		asked bool
		write func() Page
	}{
		{say.GroupMoney, f.Margin != nil, a.thisMonth},
		{say.GroupConcrete, f.Overage != nil, a.waste},
		{say.GroupCrews, f.Crews != nil, a.crews},
		{say.GroupCrews, f.Pump != nil, a.pump},
		{say.GroupConcrete, f.Weather != nil, a.weather},
		{say.GroupAfter, f.Cracks != nil, a.cracks},
		{say.GroupConcrete, f.Reinforcement != nil, a.reinforcement},
		{say.GroupMoney, f.Margin != nil, a.margin},
		{say.GroupAfter, f.Visits != nil, a.visits},
		{say.GroupAfter, f.Visits != nil, a.early},
		{say.GroupAfter, f.Visits != nil, a.callbacks},
		{say.GroupAfter, f.Visits != nil, a.slabStories},
		{say.GroupAfter, f.Visits != nil, a.seen},
		{say.GroupAfter, f.Visits != nil, a.warranty},
		{say.GroupMoney, opt.Bids != nil && len(opt.Bids.Outcomes) > 0, func() Page { return a.bids(opt.Bids) }},
		{say.GroupRecords, true, a.records},
	} {
		if topic.asked {
			p := topic.write()
			p.Group = a.Group(topic.group)
			if len(p.Exhibits) > 0 && p.Reading == "" && p.Slug != bidsSlug {
				p.Reading = a.reading()
			}
			if !slices.ContainsFunc(p.Exhibits, func(e Exhibit) bool { return e.Leads }) {
				led(p.Exhibits)
			}
			p.LeftOut = leftOut(a.Voice, f.LeftOut, p.Slug)
			topics = append(topics, finished(a.Voice, p))
		}
	}
	index := a.index()
	index.LeftOut = leftOut(a.Voice, f.LeftOut, IndexSlug)
	return append([]Page{finished(a.Voice, index)}, topics...)
}

// Author writes the pages of one set of factors.
type Author struct {
	*say.Voice
	f       *analysis.Factors
	company string
	month   string
	named   bool             // people and sites may be named
	places  map[string]Place // empty unless they may be named

	pictures *Pictures
}

func NewAuthor(f *analysis.Factors, opt Options) *Author {
	a := &Author{Voice: say.New(opt.Lang, opt.Units, opt.Currency), f: f, company: say.Clean(opt.Company, say.LongName), month: opt.Month, pictures: opt.Pictures}
	a.OnSite = opt.OnSite
	if a.named = opt.WithSites; a.named {
		a.places = opt.Places
	}
	return a
}

// placed names something of a job, such as "J-104 A": by the job's site, where
// that may be named, and then by its number and customer.
func (a *Author) placed(jobNo, what string) say.Cell { return a.placedAt("", jobNo, what) }

// placedAt is the same of a job whose site a figure carries.
func (a *Author) placedAt(site, jobNo, what string) say.Cell {
	at := a.places[jobNo]
	at.Site = cmp.Or(at.Site, site)
	c, below := say.Word(what), say.Clean(at.Customer, say.ShortName)
	if at.Site != "" {
		c, below = say.Word(at.Site), strings.Join(slices.DeleteFunc([]string{c.Text, below}, func(s string) bool { return s == "" }), " · ")
	}
	c.Below = below
	return c
}

// empty says whether there is no history at all to speak of.
func (a *Author) empty() bool { return a.f.Placements == 0 }

// finished says around a page what does not hang on its topic: who decides about
// its dangers, how many rows its tables leave out, and how to find one in a long table.
func finished(v *say.Voice, p Page) Page {
	p.Voice = v
	if len(p.Cautions) > 0 {
		p.Decides = v.CautionsEnd()
	}
	for _, e := range p.Exhibits {
		if e.Table == nil {
			continue
		}
		if e.Table.Left > 0 && e.Table.More == "" {
			e.Table.More = v.MoreRows(e.Table.Left)
		}
		if e.Table.long() {
			e.Table.Find = say.FrameOf(v).Find(len(e.Table.Rows))
		}
	}
	return p
}

// begin is what a page says before the first record: what it will answer and
// what that takes.
func (a *Author) begin(p Page, will, takes string) Page {
	p.Answer = a.NoRecords(will)
	p.Notes = []string{a.itTakes(takes), a.HowToBegin()}
	return p
}

// itTakes says what a page that has nothing to say yet would take.
func (a *Author) itTakes(takes string) string { return a.ItTakes(takes) }

// basis says what a page rests on: n of all placements, in the words in which
// the page counts them.
func (a *Author) basis(n int, counted func(n int) string) string {
	return a.Basis(n, a.f.Placements, counted, a.f.First, a.f.Last)
}

// reading says how the ranges of a page are to be read.
func (a *Author) reading() string { return a.Reading(a.f.Level) }
