package page

import (
	"pourback/analysis/visits"
	"pourback/report/chart"
	"pourback/report/say"
)

// early says which of the new pours lie outside a guide.
func (a *Author) early() Page {
	w, e := say.Early{Voice: a.Voice}, &a.f.Visits.Early
	p := Page{Slug: earlySlug, Title: w.Title(), Method: w.Method(e), Cautions: a.beware(say.CausticConcrete, say.NoDesign)}
	if a.empty() {
		return a.begin(p, w.WillSay(), w.Takes())
	}
	p.Answer, p.Basis, p.Notes = w.Answer(e), w.Basis(e), w.Notes(e)
	if len(e.Listed) > 0 && e.First == nil {
		p.Do = []string{say.Todo{Voice: a.Voice}.NoSign()}
	}
	p.Do = append(p.Do, say.Todo{Voice: a.Voice}.Cure())
	p.Exhibits = some(a.earlyPours(a.f.Visits), a.earlyRecord(e))
	return p
}

func (a *Author) earlyPours(v *visits.Visits) Exhibit {
	type pour = visits.EarlyPour
	w := say.Early{Voice: a.Voice}
	heads := w.Heads()
	return Exhibit{Title: w.ListTitle(), Table: visitsTable(a, w.ListCaption(&v.Early), v.Early.Listed,
		ColumnOf[pour]{Head: heads.Slab, Cell: func(p pour) say.Cell { return a.placedAt(p.Site, p.JobNo, p.JobNo+" "+p.Placement) }},
		ColumnOf[pour]{Head: heads.Poured, Cell: func(p pour) say.Cell { return a.day(p.PlacedOn) }},
		numbers(heads.Chance, func(p pour) say.Cell { return a.Cell(say.OfHundred, p.Chance) }),
		numbers(heads.Stake, func(p pour) say.Cell { return a.Cell(a.About(), p.Worth) }),
		wordsIn(heads.Shows, func(p pour) string { return w.Recorded(&p) }))}
}

func (a *Author) earlyRecord(e *visits.EarlySigns) Exhibit {
	type sign = visits.EarlySign
	w := say.Early{Voice: a.Voice}
	heads := w.Heads()
	table := visitsTable(a, w.RecordCaption(), e.Signs,
		wordsIn(heads.Sign, func(s sign) string { return w.Name(s.Sign) }),
		counts(heads.New, func(s sign) int { return s.Now }),
		counts(heads.Before, func(s sign) int { return s.With.Placements }),
		counts(heads.Called, func(s sign) int { return s.With.Callbacks }),
		numbers(heads.Share, func(s sign) say.Cell { return a.Cell(say.OfHundred, s.With.Share) }),
		numbers(heads.Rate, func(s sign) say.Cell { return a.Cell(say.Plain, s.With.Rate) }),
		numbers(heads.Others, func(s sign) say.Cell { return a.Cell(say.Plain, s.Without.Rate) }),
		wordsIn(heads.So, func(s sign) string { return w.Stands(&s) }))
	return Exhibit{Title: w.RecordTitle(), Chart: a.signChart(e.Signs), Table: table}
}

// signChart draws the rates of pours with a sign, where any is known.
func (a *Author) signChart(signs []visits.EarlySign) *chart.Chart {
	w := say.Early{Voice: a.Voice}
	words := w.Chart()
	plot := chart.RowPlot{ID: "chart-early", Says: words.Says, Scale: words.Axis, Zero: true,
		Series: []chart.RowSeries{{Name: words.With, Hue: chart.Worse}, {Name: words.Without, Hue: chart.Own}}}
	for i := range signs {
		if s := &signs[i]; s.With.Rate.Known() {
			plot.Rows = append(plot.Rows, chart.Row{Label: say.Clean(w.Name(s.Sign), say.ShortName),
				Amounts: []chart.Amount{chart.Of(s.With.Rate, 1, w.WithTip(s)), chart.Of(s.Without.Rate, 1, w.WithoutTip(s))}})
		}
	}
	return plot.Chart()
}
