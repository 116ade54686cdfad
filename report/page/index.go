package page

import (
	"cmp"
	"slices"

	"pourback/analysis/findings"
	"pourback/report/say"
)

// index says at a glance how the company is doing: a tile for each question, the
// three about money first and larger.
func (a *Author) index() Page {
	f, w := a.f, say.Index{Voice: a.Voice}
	p := Page{Slug: IndexSlug, Title: a.heading()}
	if a.empty() {
		p.Answer, p.Basis, p.Notes = w.Nothing(), w.AsOfDay(f.AsOf), []string{a.HowToBegin()}
		return p
	}
	p.Tiles = a.tiles()
	p.Basis = w.Basis(f.Placements, f.Jobs, f.First, f.Last, f.AsOf)
	p.Reading = a.reading()
	return p
}

// heading is what a report or a letter is headed by: the company's name, where it
// is known.
func (a *Author) heading() string { return cmp.Or(a.company, say.Index{Voice: a.Voice}.Title()) }

// summedUp are the pages whose figures the index shows.
var summedUp = []string{monthSlug, wasteSlug, steelSlug, crewsSlug, pumpSlug, cracksSlug, visitsSlug}

// tiles are those of every page that was asked for.
func (a *Author) tiles() (tiles []Tile) {
	f, w := a.f, say.Tiles{Voice: a.Voice}
	add := func(t Tile, big, says string) { t.Big, t.Says = big, says; tiles = append(tiles, t) }
	if m := f.Margin; m != nil {
		big, says := w.Month(m, a.month)
		add(Tile{Slug: monthSlug, Title: a.monthTitle(), Hero: true, Picture: a.monthGlance(w)}, big, says)
	}
	if o := f.Overage; o != nil {
		big, says := w.Order(o)
		add(Tile{Slug: wasteSlug, Title: w.OrderTitle(), Hero: true, Picture: a.orderGlance(w)}, big, says)
	}
	if r := f.Reinforcement; r != nil {
		big, says := w.Steel(r)
		add(Tile{Slug: steelSlug, Title: say.Steel(w).Title(), Hero: true, Picture: a.steelGlance(w)}, big, says)
	}
	if f.Crews != nil {
		big, says := w.Crews(f.Labor, len(f.Crews))
		add(Tile{Slug: crewsSlug, Title: say.Crews(w).Title(), Picture: a.crewGlance(w)}, big, says)
	}
	if p := f.Pump; p != nil {
		big, says := w.Pump(p)
		add(Tile{Slug: pumpSlug, Title: say.Pump(w).Title(), Picture: a.pumpGlance(w)}, big, says)
	}
	if c := f.Cracks; c != nil {
		big, says := w.Cracks(c)
		add(Tile{Slug: cracksSlug, Title: say.Cracks(w).Title(), Picture: a.crackGlance(w)}, big, says)
	}
	if v := f.Visits; v != nil {
		big, says := w.After(v)
		add(Tile{Slug: visitsSlug, Title: w.AfterTitle(), Lines: a.afterLines(w)}, big, says)
	}
	if f.Margin != nil && f.Found != nil {
		big, says := w.Worth(a.worth())
		add(Tile{Slug: monthSlug, Title: w.WorthTitle(), Picture: a.worthGlance(w)}, big, says)
	}
	big, says := w.Records(a.oddRecords(), len(f.LeftOut))
	add(Tile{Slug: recordsSlug, Title: say.Records(w).Title()}, big, says)
	return tiles
}

// monthTitle is the month that the report speaks of.
func (a *Author) monthTitle() string {
	if at := a.f.Margin.At(a.month); at >= 0 {
		return say.Capital(a.Month(a.f.Margin.Months[at].Month))
	}
	return say.Month{Voice: a.Voice}.Title()
}

// worth are the facts most worth money about which there is something to do.
func (a *Author) worth() []findings.Finding {
	return slices.DeleteFunc(slices.Clone(a.f.Findings), func(f findings.Finding) bool { return !slices.Contains(worthDoing, f.Told.Kind()) })
}

// afterLines are what is to be seen to after the pour.
func (a *Author) afterLines(w say.Tiles) []TileLine {
	v := a.f.Visits
	toCome := w.Unknown()
	if c := v.Warranty.Cost; c.Known() {
		toCome = a.Dollars(c.Value)
	}
	return []TileLine{{w.PassBy(), say.Count(len(v.PassBy))}, {w.Open(), say.Count(len(v.Callbacks.Open))}, {w.ToCome(), toCome}}
}

// oddRecords is how many records deserve a look.
func (a *Author) oddRecords() int {
	about := map[string]bool{}
	for i := range a.f.Checks {
		about[a.f.Checks[i].Record] = true
	}
	return len(about)
}
