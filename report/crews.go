package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"pourback/analysis/figure"
	"pourback/analysis/work"
)

// crews says what hours to plan, and which crew needs fewer or more of them on
// the same job.
func (a *author) crews() Page {
	p := Page{Slug: "crews", Title: "Crews", Method: []string{
		"“On the same job” comes from a model of hours by area, thickness, steel, pump and crew that lets each crew borrow from the others (Box and Tiao 1973; Gelman 2006). Crew size is left out, because it answers the size of the job.",
		"A new crew's hours fall by the same share each time its placements double (Wright 1936), until it has done 25.",
		"“As worked” is all the area a crew placed over all its labor hours, whatever the jobs were, with the range of a ratio of totals (Cochran 1977, §6.4). A labor hour is an hour of one person.",
		"Hours lost to delay are delay minutes times the size of the crew, added up.",
	}}
	const takes = "the crew, the area and the labor hours of each placement"
	if a.empty() {
		return a.begin(p, "how many hours to plan, and which crew needs fewer", takes)
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
	p.Answer = a.crewsAnswer()
	p.Exhibits = slices.Concat(a.sameJob(), []Exhibit{a.asWorked()}, a.tasks(), a.learning(), a.usesAndHeat())
	p.Notes = append(p.Notes, "A crew that is always sent to the hard jobs looks slower than it is: no arithmetic can tell the two apart.")
	if a.f.Labor != nil {
		p.Method = append(p.Method, a.said(hoursAssumptions(a.f.Labor.Assumptions)))
	}
	p.Cautions = []Caution{heatIllness, causticConcrete}
	return p
}

// crewsAnswer: "Plan about 27 person-hours for 400 ft² at 4 in (between 18 and
// 39); on the same job Heron needs 9% fewer hours than an average crew …".
func (a *author) crewsAnswer() string {
	l := a.f.Labor
	if l == nil || !l.Reference.Known() {
		return "The records do not say yet what hours to plan: no placement has its area, thickness and labor hours."
	}
	s := "Plan " + personHours.long(l.Reference) + " for " + a.said(l.ReferenceJob)
	var apart []string
	for _, c := range a.f.Crews {
		v := c.HoursVsAverage
		if !v.Known() || v.Low <= 1 && v.High >= 1 {
			continue
		}
		if name := clean(c.Crew, labelName); len(apart) == 0 {
			apart = append(apart, name+" needs "+fewerOrMore(v.Value)+" than an average crew")
		} else {
			apart = append(apart, name+" "+strings.TrimSuffix(fewerOrMore(v.Value), " hours"))
		}
	}
	if len(apart) == 0 {
		return s + "; on the same job no crew is shown to be faster or slower than another."
	}
	return s + "; on the same job " + listed(apart) + "."
}

var personHours = measure{factor: 1, unit: " person-hours", digits: round}

// fewerOrMore says a ratio of hours: "9% fewer hours".
func fewerOrMore(ratio float64) string {
	if ratio < 1 {
		return grouped(100*(1-ratio), 0) + "% fewer hours"
	}
	return grouped(100*(ratio-1), 0) + "% more hours"
}

// sameJob compares the crews on one and the same job.
func (a *author) sameJob() []Exhibit {
	type crew = work.Crew
	crews := slices.DeleteFunc(most(a.f.Crews, func(c crew) int { return c.N }), func(c crew) bool { return !c.HoursVsAverage.Known() })
	if len(crews) == 0 {
		return nil
	}
	rate := measure{factor: a.units.speed.factor}
	plot := forestPlot{id: "chart-crews", scale: "hours, times those of an average crew", none: "average",
		says: "A mark for each crew: its hours over those of an average crew on the same job, with the range. Left of the line is faster. The table holds the same figures."}
	for _, c := range crews[:min(len(crews), mostKinds)] {
		plot.rows = append(plot.rows, forestRow{clean(c.Crew, labelName), c.HoursVsAverage, clean(c.Crew, shortName) + ": " + fewerOrMore(c.HoursVsAverage.Value) + " than an average crew"})
	}
	return []Exhibit{{Title: "On the same job", Chart: plot.chart(),
		Says: "The hours each crew needs where an average crew needs 100.",
		Table: tableOf("Crews on one and the same job", crews,
			wordsIn("Crew", func(c crew) string { return clean(c.Crew, shortName) + a.isNew(c.Crew) }),
			numbers("Hours where an average crew needs 100", func(c crew) Cell { return ofHundred.cell(c.HoursVsAverage) }),
			numbers(a.units.speed.unit[1:], func(c crew) Cell { return rate.cell(c.Adjusted) }),
			counts("Placements", func(c crew) int { return c.N }))}}
}

// isNew marks a crew whose first placement is in the records.
func (a *author) isNew(crew string) string {
	if a.f.Labor != nil && slices.Contains(a.f.Labor.NewCrews, crew) {
		return ", new"
	}
	return ""
}

// asWorked is what each crew placed, whatever the jobs were.
func (a *author) asWorked() Exhibit {
	type crew = work.Crew
	m, rate := a.units.speed, measure{factor: a.units.speed.factor}
	crews := most(a.f.Crews, func(c crew) int { return c.N })
	return Exhibit{Title: "As worked, and the hours lost to delays",
		Says: "As worked is no ranking: a crew that gets the small or awkward placements looks slow, and a new crew is still learning.",
		Table: tableOf("What each crew placed", crews,
			wordsIn("Crew", func(c crew) string { return clean(c.Crew, shortName) }),
			numbers(m.unit[1:], func(c crew) Cell { return rate.cell(c.SqftPerHour) }),
			counts("Placements", func(c crew) int { return c.N }),
			numbers("Area,"+a.units.area.unit, func(c crew) Cell { return a.units.area.exact(c.AreaSqft) }),
			numbers("Labor hours", func(c crew) Cell { return plain.exact(c.LaborHours) }),
			numbers("Hours lost to delay", func(c crew) Cell { return wholes.cell(c.HoursLost) }),
			numbers("What they cost", func(c crew) Cell { return a.cash().cell(c.CostLost) }))}
}

// mostCrews is how many crews stand side by side.
const mostCrews = 4

// tasks are the hours of each task for an area, crew by crew, which only a
// history handed in in full tells.
func (a *author) tasks() []Exhibit {
	crews := slices.DeleteFunc(most(a.f.Crews, func(c work.Crew) int { return c.N }), func(c work.Crew) bool { return len(c.Tasks) == 0 })
	crews = crews[:min(len(crews), mostCrews)]
	var names []string
	for _, c := range crews {
		for _, t := range c.Tasks {
			if !slices.Contains(names, t.Task) {
				names = append(names, t.Task)
			}
		}
	}
	if len(names) == 0 {
		return nil
	}
	per, each := a.hoursPerArea()
	find := func(c work.Crew, task string) figure.Figure {
		i := slices.IndexFunc(c.Tasks, func(t work.TaskRate) bool { return t.Task == task })
		if i < 0 {
			return figure.Figure{Why: "the crew has booked no hours on it"}
		}
		return c.Tasks[i].HoursPer1
	}
	columns := []column[string]{wordsIn("Task", func(t string) string { return clean(t, shortName) })}
	for _, c := range crews {
		columns = append(columns, numbers(clean(c.Crew, labelName), func(t string) Cell { return per.cell(find(c, t)) }))
	}
	return []Exhibit{{Title: "Hours by task", Table: tableOf("Person-hours for "+each+", by task and crew, as worked", names, columns...),
		Says:  "Where each crew's hours go: a task on which one crew needs far more is worth watching for a day.",
		Chart: a.taskChart(names, crews, per, each, find)}}
}

// hoursPerArea shows hours for 100 ft², or for 10 m².
func (a *author) hoursPerArea() (measure, string) {
	if a.units.si {
		return measure{factor: 10 / a.units.area.factor / 100, digits: cents}, "10 m²"
	}
	return measure{factor: 1, digits: cents}, "100 ft²"
}

func (a *author) taskChart(names []string, crews []work.Crew, per measure, each string, find func(work.Crew, string) figure.Figure) *Chart {
	return &Chart{ID: "chart-tasks", Height: sidewaysHeight(len(names)) + legendHeight + 8*len(names),
		Says: "Marks for each task, one for each crew: its hours for " + each + ". The table holds the same figures.",
		draw: func() *board {
			symbols := []string{"circle", "triangle", "diamond", "rect"}
			b := sideways(names, "person-hours for "+each)
			for k, c := range crews {
				rows := make([]shownFigure, len(names))
				for i, t := range names {
					f := find(c, t)
					rows[i] = shownFigure{f, clean(c.Crew, shortName) + ", " + t + ": " + per.long(f)}
				}
				b.marks(clean(c.Crew, labelName), symbols[k], per, rows)
			}
			return b
		}}
}

// practiced is how many placements a new crew takes to work like a settled one,
// as the analysis has it.
const practiced = 25

// learning shows how a new crew's hours fall with practice.
func (a *author) learning() []Exhibit {
	l := a.f.Labor
	if l == nil || !l.LearningRate.Known() || len(l.NewCrews) == 0 {
		return nil
	}
	type step struct {
		placements int
		hours      figure.Figure
	}
	var steps []step
	for _, k := range []int{1, 2, 5, 10, practiced} {
		steps = append(steps, step{k, atPractice(l.LearningRate, k)})
	}
	names := make([]string, len(l.NewCrews))
	for i, n := range l.NewCrews {
		names[i] = clean(n, shortName)
	}
	return []Exhibit{{Title: "How a new crew learns",
		Says: fmt.Sprintf("Each time a new crew's placements double, its hours fall by %s%%; learned from %s.", grouped(100*(1-l.LearningRate.Value), 0), listed(names)),
		Table: tableOf("Hours of a new crew where a settled one needs 100", steps,
			column[step]{head: "Placement", cell: func(s step) Cell { return Cell{Text: count(s.placements) + ordinal(s.placements)} }},
			numbers("Hours", func(s step) Cell { return ofHundred.cell(s.hours) })),
		Chart: a.learningChart(l.LearningRate)}}
}

// atPractice is Wright's rule: hours over those of a settled crew at the k-th
// placement.
func atPractice(rate figure.Figure, k int) figure.Figure {
	at := func(r float64) float64 { return math.Pow(r, math.Log2(float64(k)/practiced)) }
	f := rate
	f.Value = at(rate.Value)
	f.Low, f.High = min(at(rate.Low), at(rate.High)), max(at(rate.Low), at(rate.High))
	return f
}

func (a *author) learningChart(rate figure.Figure) *Chart {
	return &Chart{ID: "chart-learning", Height: 320,
		Says: "A falling line: the hours that a new crew needs at each of its placements, where a settled one needs 100, with the range as a band. The table reads it at some placements.",
		draw: func() *board {
			x, y := scaleAlong("placements of the crew"), valueAxis("hours")
			x.Min, x.Max, y.Min = 1, practiced, 0
			b := newBoard(x, y)
			var line []spot
			var band []reach
			for k := 1; k <= practiced; k++ {
				f := atPractice(rate, k)
				line = append(line, spot{float64(k), 100 * f.Value, "the " + count(k) + ordinal(k) + " placement: " + ofHundred.long(f) + " hours"})
				band = append(band, reach{float64(k), 100 * f.Low, 100 * f.High})
			}
			b.line("a new crew", "solid", line)
			b.band("a new crew", band)
			return b
		}}
}

// usesAndHeat says what the kind of work and the heat do to the hours.
func (a *author) usesAndHeat() []Exhibit {
	type use = work.UseHours
	l := a.f.Labor
	if l == nil || len(l.Uses) == 0 {
		return nil
	}
	says := "The hours each kind of work takes where the average kind takes 100, for the same area and thickness."
	if heat := l.Heat; heat.Known() {
		degrees := "each 10 °F of air above 80 °F"
		if a.units.si {
			degrees = "each 6 °C of air above 27 °C"
		}
		says += " " + heatSays(heat, degrees)
	}
	return []Exhibit{{Title: "By kind of work, and in the heat", Says: says,
		Table: tableOf("Hours by kind of work where the average kind needs 100", l.Uses,
			wordsIn("Kind", func(u use) string { return clean(u.Use, shortName) }),
			numbers("Hours", func(u use) Cell { return ofHundred.cell(u.VsAverage) }),
			counts("Placements", func(u use) int { return u.N }))}}
}

// ordinal is the end of a number in order: 1st, 2nd, 25th.
func ordinal(n int) string {
	if n%100 >= 11 && n%100 <= 13 {
		return "th"
	}
	switch n % 10 {
	case 1:
		return "st"
	case 2:
		return "nd"
	case 3:
		return "rd"
	}
	return "th"
}

// heatSays says what heat does to the hours of a job.
func heatSays(heat figure.Figure, degrees string) string {
	if heat.Low <= 1 && heat.High >= 1 {
		return "In the heat the same job takes no more hours, as far as the records can tell: for " + degrees + " they may be anything from " + fewerOrMore(heat.Low) + " to " + fewerOrMore(heat.High) + "."
	}
	return "In the heat the same job takes " + fewerOrMore(heat.Value) + " for " + degrees + " (" + fewerOrMore(heat.Low) + " to " + fewerOrMore(heat.High) + ")."
}

// hoursAssumptions are the beliefs before the records.
func hoursAssumptions(p work.HoursPriors) string {
	if len(p.Mean) == 0 {
		return ""
	}
	names := []string{"hours of the job above (log)", "area (log)", "pump", "mesh", "rebar", "fiber", "thickness (log)", "learning", "heat (10 °F of air above 80 °F)"}
	var said []string
	for i, n := range names[:min(len(names), len(p.Mean), len(p.SD))] {
		said = append(said, fmt.Sprintf("%s %s ± %s", n, plainNumber(p.Mean[i]), plainNumber(p.SD[i])))
	}
	return "Held to be likely before any record, which counts the less the more placements there are: " + strings.Join(said, ", ") +
		fmt.Sprintf("; kinds of work 0 ± %s; spread of jobs %s (as from %s placements), spread of crews %s of it.", plainNumber(p.UseSD), plainNumber(p.Sigma), plainNumber(p.Nu), plainNumber(p.RScale))
}
