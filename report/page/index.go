package page

import (
	"cmp"
	"slices"
	"strings"

	"pourback/analysis/cracks"
	"pourback/analysis/findings"
	"pourback/report/say"
)

// index says in a few sentences how the company is doing: what the month kept
// and why, what to order, mesh or rebar, what goes wrong, and what is worth
// most money now.
func (a *Author) index(topics []Page) Page {
	f, w := a.f, say.Index{Voice: a.Voice}
	p := Page{Slug: IndexSlug, Title: cmp.Or(a.company, w.Title())}
	if a.empty() {
		p.Answer, p.Basis, p.Notes = w.Nothing(), w.AsOfDay(f.AsOf), []string{a.HowToBegin()}
		return p
	}
	p.Links = a.summary(topics)
	if len(p.Links) == 0 {
		p.Links = []Link{a.linkTo(topics, recordsSlug)}
	}
	p.Answer, p.Links = p.Links[0].Answer, p.Links[1:]
	p.Basis = w.Basis(f.Placements, f.Jobs, f.First, f.Last, f.AsOf)
	p.Reading = a.reading()
	return p
}

// summedUp are the pages that the index sums up: three by their answers, two by
// what goes wrong.
var summedUp = []string{monthSlug, wasteSlug, steelSlug, cracksSlug, pumpSlug}

// summary are the answers of the topics that were asked for, and what stands for
// several of them.
func (a *Author) summary(topics []Page) []Link {
	w := say.Index{Voice: a.Voice}
	var out []Link
	for _, slug := range summedUp[:3] {
		if l := a.linkTo(topics, slug); l.Slug != "" {
			out = append(out, l)
		}
	}
	if says := a.trouble(); says != "" {
		l := a.linkTo(topics, cracksSlug)
		if l.Slug == "" {
			l = a.linkTo(topics, pumpSlug)
		}
		out = append(out, Link{l.Slug, w.Trouble(), says})
	}
	if slug := a.linkTo(topics, monthSlug).Slug; slug != "" {
		// What a line above says already is not said again.
		if i := slices.IndexFunc(a.f.Findings, func(f findings.Finding) bool { return f.Told.Kind() != findings.KindSteel }); i >= 0 {
			out = append(out, Link{slug, w.Worth(), say.Findings{Voice: a.Voice}.Sentence(a.f.Findings[i])})
		}
	}
	if len(out) == 0 && len(topics) > 0 {
		t := topics[0]
		out = append(out, Link{t.Slug, t.Title, t.Answer})
	}
	return out
}

func (a *Author) linkTo(topics []Page, slug string) Link {
	i := slices.IndexFunc(topics, func(t Page) bool { return t.Slug == slug })
	if i < 0 {
		return Link{}
	}
	return Link{slug, topics[i].Title, topics[i].Answer}
}

// trouble says how often slabs crack and the pump line clogs.
func (a *Author) trouble() string {
	w := say.Index{Voice: a.Voice}
	var said []string
	if c := a.f.Cracks; c != nil && c.Conclusion.Outcome == cracks.RiskKnown {
		said = append(said, w.Cracks(c))
	}
	if pump := a.f.Pump; pump != nil && pump.All.ClogsPer100.Known() {
		said = append(said, w.Clogs(pump))
	}
	if n := a.f.RecordsToCheck; n > 0 && len(said) > 0 {
		said = append(said, w.ToCheck(n))
	}
	return strings.Join(said, " ")
}
