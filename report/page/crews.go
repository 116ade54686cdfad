package page

import (
	"pourback/analysis/findings"
	"slices"

	"pourback/analysis/work"
	"pourback/report/chart"
	"pourback/report/say"
)

// crews says what hours to plan, and which crew needs fewer or more of them on
// the same job.
func (a *Author) crews() Page {
	w := say.Crews{Voice: a.Voice}
	p := Page{Slug: crewsSlug, Title: w.Title(), Method: w.Method(a.f.Labor)}
	if a.empty() {
		return a.begin(p, w.Will(), w.Takes())
	}
	n := 0
	for _, c := range a.f.Crews {
		n += c.N
	}
	p.Basis = a.basis(n, a.Placements)
	if n == 0 {
		p.Answer, p.Notes = w.Nothing(), []string{a.itTakes(w.Takes())}
		return p
	}
	p.Answer = w.Answer(a.f.Labor)
	p.Exhibits = slices.Concat(a.sameJob(), a.crewTurns(), []Exhibit{a.asWorked()}, a.tasks(), a.learning(), a.usesAndHeat())
	p.Do = a.crewTodo()
	p.Notes = w.Notes(a.f.Labor)
	p.Cautions = a.beware(say.HeatIllness, say.CausticConcrete)
	return p
}

// sameJob compares the crews on one and the same job.
func (a *Author) sameJob() []Exhibit {
	type crew = work.Crew
	crews := a.comparedCrews()
	if len(crews) == 0 {
		return nil
	}
	w, rate := say.Crews{Voice: a.Voice}, say.Measure{Factor: a.Units.Speed.Factor}
	plot := chart.ForestPlot{ID: "chart-crews", Scale: w.SameAxis(), None: w.Average(), Says: w.SameChart()}
	for _, c := range crews[:min(len(crews), chart.MostKinds)] {
		plot.Rows = append(plot.Rows, chart.ForestRow{Label: say.Clean(c.Crew, say.LabelName), Ratio: c.HoursVsAverage, Tip: w.Tip(c.Crew, c.HoursVsAverage.Value), Hue: a.crewHue(c.Crew)})
	}
	var drawn *chart.Chart
	if len(plot.Rows) > 1 { // one crew is its own average
		drawn = a.forest(plot)
	}
	return []Exhibit{{Title: w.SameTitle(), Chart: drawn, Says: w.SameSay(),
		Table: TableOf(w.SameCaption(), crews,
			wordsIn(w.HeadCrew(), func(c crew) string { return w.Name(c.Crew, a.isNew(c.Crew)) }),
			numbers(w.HeadAgainst(), func(c crew) say.Cell { return a.Cell(say.OfHundred, c.HoursVsAverage) }),
			numbers(w.HeadSpeed(), func(c crew) say.Cell { return a.Cell(rate, c.Adjusted) }),
			counts(w.HeadPlacements(), func(c crew) int { return c.N }))}}
}

// comparedCrews are those whose hours can be held against an average crew's, the
// busiest first.
func (a *Author) comparedCrews() []work.Crew {
	return slices.DeleteFunc(most(a.f.Crews, func(c work.Crew) int { return c.N }), func(c work.Crew) bool { return !c.HoursVsAverage.Known() })
}

// crewTurns is what would change which crew needs fewer hours.
func (a *Author) crewTurns() []Exhibit {
	w, l := say.Crews{Voice: a.Voice}, a.f.Labor
	return leversOf(a.Voice, decision{id: "chart-crew-turns", says: w.TurnsSay(l), caption: w.TurnsCaption(l.Rivals), head: w.TurnsHead(), comes: a.Exactly,
		turns: turnsOf("", l.TurnedBy), scale: w.TurnsAxis(l.Rivals), factor: 1, between: true})
}

// isNew says whether a crew's first placement is in the records.
func (a *Author) isNew(crew string) bool {
	return a.f.Labor != nil && slices.Contains(a.f.Labor.NewCrews, crew)
}

// asWorked is what each crew placed, whatever the jobs were.
func (a *Author) asWorked() Exhibit {
	type crew = work.Crew
	w, rate := say.Crews{Voice: a.Voice}, say.Measure{Factor: a.Units.Speed.Factor}
	crews := most(a.f.Crews, func(c crew) int { return c.N })
	return Exhibit{Title: w.WorkedTitle(), Says: w.WorkedSay(),
		Table: TableOf(w.WorkedCaption(), crews,
			wordsIn(w.HeadCrew(), func(c crew) string { return a.Named(c.Crew) }),
			numbers(w.HeadSpeed(), func(c crew) say.Cell { return a.Cell(rate, c.SqftPerHour) }),
			counts(w.HeadPlacements(), func(c crew) int { return c.N }),
			numbers(w.HeadArea(), func(c crew) say.Cell { return a.Exact(a.Units.Area, c.AreaSqft) }),
			numbers(w.HeadHours(), func(c crew) say.Cell { return a.Exact(say.Plain, c.LaborHours) }),
			numbers(w.HeadLost(), func(c crew) say.Cell { return a.Cell(say.Wholes, c.HoursLost) }),
			numbers(w.HeadLostCost(), func(c crew) say.Cell { return a.Cell(a.Cash(), c.CostLost) }))}
}

// learning shows how a new crew's hours fall with practice.
func (a *Author) learning() []Exhibit {
	l, w := a.f.Labor, say.Crews{Voice: a.Voice}
	if l == nil || !l.LearningRate.Known() || len(l.NewCrews) == 0 {
		return nil
	}
	return []Exhibit{{Title: w.LearningTitle(), Says: w.Learning(l), Chart: a.learningChart(l),
		Table: TableOf(w.LearningCaption(), []int{1, 2, 5, 10, work.Learned},
			wordsIn(w.HeadPlacement(), a.Ordinal),
			numbers(w.HeadHoursNeed(), func(k int) say.Cell { return a.Cell(say.OfHundred, l.AtPractice(k)) }))}}
}

func (a *Author) learningChart(l *work.Labor) *chart.Chart {
	w := say.Crews{Voice: a.Voice}
	line := chart.Series{Name: w.NewCrew(), Hue: chart.Own}
	for k := 1; k <= work.Learned; k++ {
		f := l.AtPractice(k)
		line.At = append(line.At, chart.Spot{X: float64(k), Y: 100 * f.Value, Tip: w.LearningTip(k, f)})
		line.Band = append(line.Band, chart.Reach{X: float64(k), Low: 100 * f.Low, High: 100 * f.High})
	}
	return chart.LinePlot{ID: "chart-learning", Says: w.LearningChart(), Lines: []chart.Series{line},
		Across: chart.Axis{Name: w.LearningAxis(), From: chart.At(1), To: chart.At(work.Learned)}, Up: chart.Axis{Name: w.HoursAxis(), From: chart.At(0)}}.Chart()
}

// usesAndHeat says what the kind of work and the heat do to the hours.
func (a *Author) usesAndHeat() []Exhibit {
	type use = work.UseHours
	l, w := a.f.Labor, say.Crews{Voice: a.Voice}
	if l == nil || len(l.Uses) == 0 {
		return nil
	}
	says := w.UsesSay()
	if l.Heat.Known() {
		says += " " + w.Heat(l.Heat)
	}
	return []Exhibit{{Title: w.UsesTitle(), Says: says,
		Table: TableOf(w.UsesCaption(), l.Uses,
			wordsIn(w.HeadKind(), func(u use) string { return a.Word(u.Use) }),
			numbers(w.HeadHoursNeed(), func(u use) say.Cell { return a.Cell(say.OfHundred, u.VsAverage) }),
			counts(w.HeadPlacements(), func(u use) int { return u.N }))}}
}

// crewTodo says which crew to look at: one that costs money, or one to learn from.
func (a *Author) crewTodo() []string {
	w := say.Todo{Voice: a.Voice}
	if do := a.todo(2, findings.KindCrew); len(do) > 0 {
		return do
	}
	if l := a.f.Labor; l != nil {
		for _, c := range l.Apart {
			if c.HoursVsAverage.Value < 1 {
				return []string{w.FastCrew(c.Crew)}
			}
		}
	}
	if len(a.f.Crews) < 2 {
		return []string{w.NameCrews()}
	}
	return []string{w.NoCrew()}
}
