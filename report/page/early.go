package page

import (
	"strings"

	"pourback/analysis/visits"
	"pourback/report/chart"
	"pourback/report/say"
)

// early says which of the new pours went wrong in a way the record shows.
func (a *Author) early() Page {
	p := Page{Slug: "early", Title: "Early signs", Method: []string{
		"A pour is listed where a recorded value went against a published guide. The record beside each sign is that of the company's earlier pours: how many were called back, for anything, and how many a year of being watched.",
		"Share called back: Wilson's range (1927). Rate: exact for counts that come at random (Garwood 1936). A sign is said to go with more callbacks than chance makes where a test of equal rates, given their time, says so with all signs looked at (exact binomial test; Benjamini and Hochberg 1995).",
	}, Cautions: []Caution{causticConcrete, noDesign}}
	const takes = "the weather, curing, saw time, joint spacing and probed thickness of each placement, and its loads with their times and added water"
	if a.empty() {
		return a.begin(p, "which new pours went wrong in a way the record shows", takes)
	}
	e := a.f.Visits.Early
	p.Answer = a.Said(e.Answer)
	p.Basis = say.Plural(e.Pours, "pour") + " since " + say.DayText(e.From.Date) + ", beside those before."
	p.Exhibits = a.some(a.earlyPours(a.f.Visits), a.earlyRecord(e))
	p.Notes = a.SaidAll(e.Notes)
	for _, s := range e.Signs {
		p.Method = append(p.Method, say.Capital(s.Sign)+": "+a.Said(s.Limit)+".")
	}
	return p
}

func (a *Author) earlyPours(v *visits.Visits) Exhibit {
	type pour = visits.EarlyPour
	return Exhibit{Title: "New pours with a sign", Table: visitsTable("Pours since "+say.DayText(v.Early.From.Date)+" that went against a guide, those to look at first", v.Early.Listed,
		ColumnOf[pour]{Head: "Slab", Cell: func(p pour) say.Cell { return a.placed(p.JobNo, p.JobNo+" "+p.Placement) }},
		ColumnOf[pour]{Head: "Poured", Cell: func(p pour) say.Cell { return day(p.PlacedOn) }},
		ColumnOf[pour]{Head: "Callback soon, in 100", Number: true, Cell: func(p pour) say.Cell { return a.Cell(say.OfHundred, p.Chance) }},
		ColumnOf[pour]{Head: "At stake", Number: true, Cell: func(p pour) say.Cell { return a.Cell(a.About(), p.Worth) }},
		ColumnOf[pour]{Head: "What the record shows", Cell: func(p pour) say.Cell {
			return say.Cell{Text: a.Said(say.Capital(strings.Join(p.Signs, "; ")) + ". Before: " + p.Did + ".")}
		}})}
}

func (a *Author) earlyRecord(e visits.EarlySigns) Exhibit {
	type sign = visits.EarlySign
	table := visitsTable("What earlier pours with each sign did", e.Signs,
		ColumnOf[sign]{Head: "Sign", Cell: func(s sign) say.Cell { return say.Word(say.Capital(s.Sign)) }},
		ColumnOf[sign]{Head: "New", Number: true, Cell: func(s sign) say.Cell { return say.Whole(s.Now) }},
		ColumnOf[sign]{Head: "Such pours before", Number: true, Cell: func(s sign) say.Cell { return say.Whole(s.With.Placements) }},
		ColumnOf[sign]{Head: "Called back", Number: true, Cell: func(s sign) say.Cell { return say.Whole(s.With.Callbacks) }},
		ColumnOf[sign]{Head: "In 100", Number: true, Cell: func(s sign) say.Cell { return a.Cell(say.OfHundred, s.With.Share) }},
		ColumnOf[sign]{Head: "A year, in 100", Number: true, Cell: func(s sign) say.Cell { return a.Cell(say.Plain, s.With.Rate) }},
		ColumnOf[sign]{Head: "Others, a year in 100", Number: true, Cell: func(s sign) say.Cell { return a.Cell(say.Plain, s.Without.Rate) }},
		ColumnOf[sign]{Head: "So", Cell: func(s sign) say.Cell { return say.Cell{Text: a.Said(s.Says)} }})
	return Exhibit{Title: "The company's own record", Chart: a.signChart(e.Signs), Table: table}
}

// signChart draws the rates of pours with a sign, where any is known.
func (a *Author) signChart(signs []visits.EarlySign) *chart.Chart {
	var labels []string
	var with, without []chart.ShownFigure
	for _, s := range signs {
		if !s.With.Rate.Known() {
			continue
		}
		labels = append(labels, say.Clean(s.Sign, say.LabelName))
		with = append(with, chart.ShownFigure{Figure: s.With.Rate, Tip: s.Sign + ": " + a.Long(say.Plain, s.With.Rate) + " callbacks in 100 placement-years, from " + say.Plural(s.With.Placements, "pour")})
		without = append(without, chart.ShownFigure{Figure: s.Without.Rate, Tip: "without it: " + a.Long(say.Plain, s.Without.Rate) + ", from " + say.Plural(s.Without.Placements, "pour")})
	}
	if len(labels) == 0 {
		return nil
	}
	return &chart.Chart{ID: "chart-early", Height: chart.SidewaysHeight(len(labels)) + chart.LegendHeight,
		Says: "A point for each sign: callbacks in 100 placement-years of earlier pours with it, with the range; a diamond for those without it. The table holds the same figures.",
		Draw: func() *chart.Board {
			b := chart.Sideways(labels, "callbacks in 100 placement-years")
			b.Marks("with the sign", "circle", say.Plain, with)
			b.ErrorBars("with the sign", say.Plain, with)
			b.Marks("without it", "diamond", say.Plain, without)
			return b
		}}
}
