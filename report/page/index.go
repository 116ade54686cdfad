package page

import (
	"cmp"
	"slices"

	"pourback/report/say"
)

// index says in five sentences how the company is doing: what the month kept
// and why, what to order, mesh or rebar, what goes wrong, and what is worth
// most money now.
func (a *Author) index(topics []Page) Page {
	f := a.f
	p := Page{Slug: IndexSlug, Title: cmp.Or(a.company, "What the finished jobs say")}
	if a.empty() {
		p.Answer = "No placements are on record yet."
		p.Basis = "As of " + say.AsOfText(f.AsOf) + "."
		p.Notes = []string{"One row per placement in a spreadsheet is enough to begin: `pourback ingest FILE` takes it in, and `pourback demo` shows this report for an invented company."}
		return p
	}
	p.Links = a.summary(topics)
	if len(p.Links) == 0 {
		p.Links = []Link{a.linkTo(topics, recordsSlug)}
	}
	p.Answer, p.Links = p.Links[0].Answer, p.Links[1:]
	p.Basis = say.Capital(say.Plural(f.Placements, "placement")) + " in " + say.Plural(f.Jobs, "job") + ", poured " + a.poured() + ", as of " + say.AsOfText(f.AsOf) + "."
	p.Reading = a.reading()
	return p
}

// summary are the five sentences, as far as their topics were asked for.
func (a *Author) summary(topics []Page) []Link {
	var out []Link
	for _, slug := range []string{monthSlug, wasteSlug, steelSlug} {
		if l := a.linkTo(topics, slug); l.Slug != "" {
			out = append(out, l)
		}
	}
	if says := a.trouble(); says != "" {
		l := a.linkTo(topics, cracksSlug)
		if l.Slug == "" {
			l = a.linkTo(topics, pumpSlug)
		}
		out = append(out, Link{l.Slug, "What goes wrong", says})
	}
	if slug := a.linkTo(topics, monthSlug).Slug; slug != "" && len(a.f.Findings) > 0 {
		out = append(out, Link{slug, "Worth most money now", a.Said(a.f.Findings[0].Sentence)})
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

// trouble says in one sentence how often slabs crack and the pump line plugs.
func (a *Author) trouble() string {
	var said []string
	if c := a.f.Cracks; c != nil && c.All.Risk1Yr.Known() && c.All.Callbacks > 0 {
		_, happens := event(c)
		said = append(said, a.Long(say.ShareOf(c.All.Risk1Yr, "{value} in 100 slabs", "{value} in 1,000 slabs"), c.All.Risk1Yr)+" "+happens+" within a year")
	}
	if pump := a.f.Pump; pump != nil && pump.All.ClogsPer100.Known() {
		said = append(said, "the pump line plugs "+a.Long(say.Pump{Voice: a.Voice}.Rate(), pump.All.ClogsPer100))
	}
	if n := a.f.RecordsToCheck; n > 0 && len(said) > 0 {
		said = append(said, say.Plural(n, "placement")+" in the records deserve"+verbS(n)+" a second look")
	}
	if len(said) == 0 {
		return ""
	}
	return say.Capital(say.Listed(said)) + "."
}

// poured is the span of the pours in words.
func (a *Author) poured() string {
	if a.f.First == a.f.Last {
		return "on " + say.DayText(a.f.First)
	}
	return say.DayText(a.f.First) + " to " + say.DayText(a.f.Last)
}
