package report

import (
	"strings"

	"pourback/analysis/visits"
)

// early says which of the new pours went wrong in a way the record shows.
func (a *author) early() Page {
	p := Page{Slug: "early", Title: "Early signs", Method: []string{
		"A pour is listed where a recorded value went against a published guide. The record beside each sign is that of the company's earlier pours: how many were called back, for anything, and how many a year of being watched.",
		"Share called back: Wilson's range (1927). Rate: exact for counts that come at random (Garwood 1936). A sign is said to go with more callbacks than chance makes where a test of equal rates, given their time, says so with all signs looked at (exact binomial test; Benjamini and Hochberg 1995).",
	}, Cautions: []Caution{causticConcrete, noDesign}}
	const takes = "the weather, curing, saw time, joint spacing and probed thickness of each placement, and its loads with their times and added water"
	if a.empty() {
		return a.begin(p, "which new pours went wrong in a way the record shows", takes)
	}
	e := a.f.Visits.Early
	p.Answer = a.said(e.Answer)
	p.Basis = plural(e.Pours, "pour") + " since " + dayText(e.From.Date) + ", beside those before."
	p.Exhibits = a.some(a.earlyPours(a.f.Visits), a.earlyRecord(e))
	p.Notes = a.saidAll(e.Notes)
	for _, s := range e.Signs {
		p.Method = append(p.Method, capital(s.Sign)+": "+a.said(s.Limit)+".")
	}
	return p
}

func (a *author) earlyPours(v *visits.Visits) Exhibit {
	type pour = visits.EarlyPour
	return Exhibit{Title: "New pours with a sign", Table: visitsTable("Pours since "+dayText(v.Early.From.Date)+" that went against a guide, those to look at first", v.Early.Listed,
		column[pour]{head: "Slab", cell: func(p pour) Cell { return a.placed(p.JobNo, p.JobNo+" "+p.Placement) }},
		column[pour]{head: "Poured", cell: func(p pour) Cell { return day(p.PlacedOn) }},
		column[pour]{head: "Callback soon, in 100", number: true, cell: func(p pour) Cell { return ofHundred.cell(p.Chance) }},
		column[pour]{head: "At stake", number: true, cell: func(p pour) Cell { return a.about().cell(p.Worth) }},
		column[pour]{head: "What the record shows", cell: func(p pour) Cell {
			return Cell{Text: a.said(capital(strings.Join(p.Signs, "; ")) + ". Before: " + p.Did + ".")}
		}})}
}

func (a *author) earlyRecord(e visits.EarlySigns) Exhibit {
	type sign = visits.EarlySign
	table := visitsTable("What earlier pours with each sign did", e.Signs,
		column[sign]{head: "Sign", cell: func(s sign) Cell { return word(capital(s.Sign)) }},
		column[sign]{head: "New", number: true, cell: func(s sign) Cell { return whole(s.Now) }},
		column[sign]{head: "Such pours before", number: true, cell: func(s sign) Cell { return whole(s.With.Placements) }},
		column[sign]{head: "Called back", number: true, cell: func(s sign) Cell { return whole(s.With.Callbacks) }},
		column[sign]{head: "In 100", number: true, cell: func(s sign) Cell { return ofHundred.cell(s.With.Share) }},
		column[sign]{head: "A year, in 100", number: true, cell: func(s sign) Cell { return plain.cell(s.With.Rate) }},
		column[sign]{head: "Others, a year in 100", number: true, cell: func(s sign) Cell { return plain.cell(s.Without.Rate) }},
		column[sign]{head: "So", cell: func(s sign) Cell { return Cell{Text: a.said(s.Says)} }})
	return Exhibit{Title: "The company's own record", Chart: a.signChart(e.Signs), Table: table}
}

// signChart draws the rates of pours with a sign, where any is known.
func (a *author) signChart(signs []visits.EarlySign) *Chart {
	var labels []string
	var with, without []shownFigure
	for _, s := range signs {
		if !s.With.Rate.Known() {
			continue
		}
		labels = append(labels, clean(s.Sign, labelName))
		with = append(with, shownFigure{s.With.Rate, s.Sign + ": " + plain.long(s.With.Rate) + " callbacks in 100 placement-years, from " + plural(s.With.Placements, "pour")})
		without = append(without, shownFigure{s.Without.Rate, "without it: " + plain.long(s.Without.Rate) + ", from " + plural(s.Without.Placements, "pour")})
	}
	if len(labels) == 0 {
		return nil
	}
	return &Chart{ID: "chart-early", Height: sidewaysHeight(len(labels)) + legendHeight,
		Says: "A point for each sign: callbacks in 100 placement-years of earlier pours with it, with the range; a diamond for those without it. The table holds the same figures.",
		draw: func() *board {
			b := sideways(labels, "callbacks in 100 placement-years")
			b.marks("with the sign", "circle", plain, with)
			b.errorBars("with the sign", plain, with)
			b.marks("without it", "diamond", plain, without)
			return b
		}}
}
