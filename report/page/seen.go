package page

import (
	"pourback/analysis/visits"
	"pourback/ingest/record"
	"pourback/report/chart"
	"pourback/report/say"
)

// seen sets the cracks that visits found beside those that customers reported.
func (a *Author) seen() Page {
	w := say.Seen{Voice: a.Voice}
	p := Page{Slug: seenSlug, Title: w.Title(), Method: w.Method(), Cautions: a.beware(say.NoDesign)}
	if a.empty() {
		return a.begin(p, w.WillSay(), w.Takes())
	}
	v := a.f.Visits
	s := &v.Seen
	p.Answer = w.Answer(s)
	if s.Looked == 0 {
		p.Basis, p.Notes = a.basis(a.f.Placements, a.Placements), []string{a.itTakes(w.Takes()), w.Dating(&s.Dating)}
		return p
	}
	p.Basis = w.Basis(s, a.f.Placements, a.f.First, a.f.Last)
	p.Exhibits = some(a.seenAges(s), a.found(&v.Findings), a.crackKinds(&v.Findings), a.growing(&v.Findings))
	if len(v.Findings.Growing) > 0 {
		p.Do = []string{say.Todo{Voice: a.Voice}.LookAgain()}
	}
	p.Notes = w.Notes(s, &v.Findings)
	return p
}

func (a *Author) seenAges(s *visits.SeenCracks) Exhibit {
	type age = visits.SeenAt
	w := say.Seen{Voice: a.Voice}
	heads := w.AgeHeads()
	table := visitsTable(a, w.AgesCaption(), s.Ages,
		counts(heads.By, func(t age) int { return t.AgeDays }),
		numbers(heads.Called, func(t age) say.Cell { return a.Cell(say.OfHundred, t.Called) }),
		numbers(heads.Seen, func(t age) say.Cell { return a.Cell(say.OfHundred, t.Seen) }),
		numbers(heads.Between, func(t age) say.Cell { return a.Cell(say.OfHundred, t.Between) }),
		numbers(heads.Least, func(t age) say.Cell { return a.Cell(say.OfHundred, t.AtLeast) }),
		numbers(heads.Most, func(t age) say.Cell { return a.Cell(say.OfHundred, t.AtMost) }))
	e := Exhibit{Title: w.AgesTitle(), Table: table}
	if s.SeenSlabs > 0 && len(s.Curves) > 0 {
		e.Chart = a.seenChart(s.Curves)
	}
	return e
}

func (a *Author) seenChart(lines []visits.SeenLine) *chart.Chart {
	w := say.Seen{Voice: a.Voice}
	words := w.Chart()
	plot := chart.LinePlot{ID: "chart-seen", Says: words.Says, Across: chart.Axis{Name: words.Age, From: chart.At(0)},
		Up: chart.Axis{Name: words.Share, From: chart.At(0)}, And: a.List}
	for i := range lines {
		plot.Lines = append(plot.Lines, chart.Series{Name: w.Line(lines[i].Code), Hue: seenHue(lines[i].Code), Step: true, At: seenSteps(w, &lines[i])})
	}
	return plot.Chart()
}

// seenHue is the color of a line: what customers reported is the company's usual
// figure.
func seenHue(code visits.LineCode) chart.Hue {
	if code == visits.LineCalled {
		return chart.Own
	}
	return chart.Plain
}

// seenSteps are the steps of a line that the eye can tell apart.
func seenSteps(w say.Seen, l *visits.SeenLine) []chart.Spot {
	const apart = 0.002
	var at []chart.Spot
	last := -1.0
	for i, risk := range l.Risk {
		if risk-last > apart || i == len(l.Risk)-1 {
			at = append(at, chart.Spot{X: l.Age[i] / chart.DaysPerYear, Y: 100 * risk, Tip: w.StepTip(l.Code, risk, l.Age[i])})
			last = risk
		}
	}
	return at
}

func (a *Author) found(f *visits.CracksSeen) Exhibit {
	type row = visits.FindingKind
	w := say.Seen{Voice: a.Voice}
	heads := w.FoundHeads()
	return Exhibit{Title: w.FoundTitle(), Table: visitsTable(a, w.FoundCaption(), f.Found,
		wordsIn(heads.Found, func(r row) string { return a.Word(r.Finding) }),
		counts(heads.Planned, func(r row) int { return r.Planned }),
		counts(heads.Called, func(r row) int { return r.Called }))}
}

func (a *Author) crackKinds(f *visits.CracksSeen) Exhibit {
	type row = visits.CrackKind
	w := say.Seen{Voice: a.Voice}
	heads := w.CrackHeads()
	return Exhibit{Title: w.KindsTitle(), Table: visitsTable(a, w.KindsCaption(), f.Kinds,
		wordsIn(heads.Kind, func(r row) string { return a.Word(a.Named(r.Kind)) }),
		counts(heads.Slabs, func(r row) int { return r.Slabs }),
		numbers(heads.Width, func(r row) say.Cell { return a.Thousandths(a.CrackWidths(), r.Width) }),
		numbers(heads.Length, func(r row) say.Cell { return a.Bare(a.Units.Spacing, r.Length) }))}
}

func (a *Author) growing(f *visits.CracksSeen) Exhibit {
	type row = visits.Growth
	w := say.Seen{Voice: a.Voice}
	heads := w.GrowthHeads()
	width := func(head string, in func(row) float64) ColumnOf[row] {
		return numbers(head, func(r row) say.Cell { return a.CrackWidth(record.Some(in(r))) })
	}
	return Exhibit{Title: w.GrowthTitle(), Table: firstRows(a, w.GrowthCaption(), f.Growing, chart.MostKinds,
		ColumnOf[row]{Head: heads.Slab, Cell: func(r row) say.Cell { return a.placed(r.JobNo, r.JobNo+" "+r.Placement) }},
		width(heads.Was, func(r row) float64 { return r.WasIn }),
		ColumnOf[row]{Head: heads.On, Cell: func(r row) say.Cell { return a.day(r.From) }},
		width(heads.Is, func(r row) float64 { return r.IsIn }),
		ColumnOf[row]{Head: heads.On, Cell: func(r row) say.Cell { return a.day(r.To) }},
		width(heads.PerYear, func(r row) float64 { return r.PerYear }),
		wordsIn(heads.Beside, func(r row) string { return w.Beside(r.OverGuide) }))}
}
