package report

import "cmp"

// index says in a few sentences how the company is doing: its size, and each
// topic's answer.
func (a *author) index(topics []Page) Page {
	f := a.f
	p := Page{Slug: IndexSlug, Title: cmp.Or(a.company, "What the finished jobs say")}
	if a.empty() {
		p.Answer = "No placements are on record yet."
		p.Basis = "As of " + asOfText(f.AsOf) + "."
		p.Notes = []string{"One row per placement in a spreadsheet is enough to begin: `pourback ingest FILE` takes it in, and `pourback demo` shows this report for an invented company."}
		return p
	}
	p.Answer = capital(plural(f.Placements, "placement")) + " in " + plural(f.Jobs, "job") + ", poured " + dayText(f.First) + " to " + dayText(f.Last) + ", say the following."
	p.Basis, p.Reading = "As of "+asOfText(f.AsOf)+".", a.reading()
	for _, finding := range f.Findings {
		if !a.units.si {
			p.Notes = append(p.Notes, clean(finding.Sentence, longText))
		}
	}
	for _, t := range topics {
		p.Links = append(p.Links, Link{t.Slug, t.Title, t.Answer})
	}
	return p
}
