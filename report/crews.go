package report

import (
	"cmp"
	"slices"

	"pourback/analysis"
)

// crews says how much each crew places in a person-hour.
func (a *author) crews() Page {
	p := Page{Slug: "crews", Title: "Crews", Method: []string{
		"A crew's figure is all the area it placed over all its labor hours, from the placements that record both. A labor hour is an hour of one person.",
		"Its range is that of a ratio of totals (Cochran 1977, §6.4).",
		"“On the same job” is the same figure for one and the same job, from a model of hours by area, thickness, steel, pump and crew that lets each crew borrow from the others (Box and Tiao 1973; Gelman 2006).",
		"Hours lost to delay are delay minutes times the size of the crew, added up.",
	}}
	const takes = "the crew, the area and the labor hours of each placement"
	if a.empty() {
		return a.begin(p, "how much each crew places in an hour of work", takes)
	}
	n := 0
	for _, c := range a.f.Crews {
		n += c.N
	}
	p.Basis = a.basis(n, "placement")
	if n == 0 {
		p.Answer = "The records cannot say how fast the crews work: no placement has both its area and its labor hours."
		p.Notes = []string{"It takes " + takes + "."}
		return p
	}
	p.Answer = a.crewsRaw()
	if l := a.f.Labor; l != nil && l.Reference.Known() {
		if told := a.told(l.Answer, p.Answer); told != p.Answer {
			p.Answer, p.Notes = told, []string{"As worked, whatever the jobs were: " + p.Answer}
		}
		p.Notes = append(p.Notes, cleaned(l.Notes)...)
	}
	p.Exhibits = []Exhibit{a.crewsExhibit()}
	p.Notes = append(p.Notes, "Raw speed is no ranking: a crew that gets the small or awkward placements looks slow, and a new crew is still learning.")
	p.Cautions = []Caution{heatIllness, causticConcrete}
	return p
}

// crewsRaw compares the crews as they worked, whatever the jobs were.
func (a *author) crewsRaw() string {
	m := a.units.speed
	known := slices.DeleteFunc(slices.Clone(a.f.Crews), func(c analysis.Crew) bool { return !c.SqftPerHour.Known() })
	byRate := func(x, y analysis.Crew) int { return cmp.Compare(x.SqftPerHour.Value, y.SqftPerHour.Value) }
	slow, fast := slices.MinFunc(known, byRate), slices.MaxFunc(known, byRate)
	name := func(c analysis.Crew) string { return clean(c.Crew, shortName) }
	switch {
	case len(known) == 1:
		return capital(name(fast)) + " placed " + m.long(fast.SqftPerHour) + ", over " + plural(fast.N, "placement") + "."
	case !apart(slow.SqftPerHour, fast.SqftPerHour):
		return "The records do not show one crew to be faster than another: they run from " + m.long(slow.SqftPerHour) + " for " + name(slow) +
			" to " + m.long(fast.SqftPerHour) + " for " + name(fast) + "."
	}
	return capital(name(fast)) + " placed the most, " + m.long(fast.SqftPerHour) + ", and " + name(slow) + " the least, " + m.long(slow.SqftPerHour) +
		", before any allowance for the kind of work each was given."
}

// apart says whether the ranges of two figures, the lower first, do not meet.
func apart(low, high analysis.Figure) bool {
	return low.Bounded && high.Bounded && low.High < high.Low
}

func (a *author) crewsExhibit() Exhibit {
	type crew = analysis.Crew
	m, rate := a.units.speed, measure{factor: a.units.speed.factor}
	crews := most(a.f.Crews, func(c crew) int { return c.N })
	table := tableOf("What each crew placed", crews,
		column[crew]{head: "Crew", cell: func(c crew) Cell { return word(c.Crew) }},
		column[crew]{head: m.unit[1:], number: true, cell: func(c crew) Cell { return rate.cell(c.SqftPerHour) }},
		column[crew]{head: "On the same job", number: true, ahead: true, cell: func(c crew) Cell { return rate.cell(c.Adjusted) }},
		column[crew]{head: "Placements", number: true, cell: func(c crew) Cell { return whole(c.N) }},
		column[crew]{head: "Area," + a.units.area.unit, number: true, cell: func(c crew) Cell { return a.units.area.exact(c.AreaSqft) }},
		column[crew]{head: "Labor hours", number: true, cell: func(c crew) Cell { return plain.exact(c.LaborHours) }},
		column[crew]{head: "Hours lost to delay", number: true, cell: func(c crew) Cell { return plain.cell(c.HoursLost) }})
	drawn := slices.DeleteFunc(slices.Clone(crews[:min(len(crews), mostKinds)]), func(c crew) bool { return !c.SqftPerHour.Known() })
	if len(drawn) == 0 {
		return Exhibit{"By crew", nil, table}
	}
	return Exhibit{"By crew", &Chart{ID: "chart-crews", Height: sidewaysHeight(len(drawn)),
		Says: "A bar for each crew: how much it placed in a person-hour, with its range. The table holds the same figures.",
		draw: func() *board {
			labels, rows := make([]string, len(drawn)), make([]shownFigure, len(drawn))
			for i, c := range drawn {
				labels[i] = clean(c.Crew, labelName)
				rows[i] = shownFigure{c.SqftPerHour, clean(c.Crew, shortName) + ": " + m.long(c.SqftPerHour) + ", from " + plural(c.N, "placement")}
			}
			b := sideways(labels, m.unit[1:])
			b.bars("placed", m, rows)
			b.errorBars("placed", m, rows)
			return b
		}}, table}
}
