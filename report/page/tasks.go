package page

import (
	"slices"

	"pourback/analysis/figure"
	"pourback/analysis/work"
	"pourback/report/chart"
	"pourback/report/say"
)

// mostCrews is how many crews stand side by side.
const mostCrews = 4

// tasks are the hours of each task for an area, crew by crew, which only a
// history handed in in full tells.
func (a *Author) tasks() []Exhibit {
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
	w := say.Crews{Voice: a.Voice}
	per, _ := w.PerArea()
	columns := []ColumnOf[string]{wordsIn(w.HeadTask(), a.Word)}
	for _, c := range crews {
		columns = append(columns, numbers(say.Clean(c.Crew, say.LabelName), func(t string) say.Cell { return a.Cell(per, hoursOf(c, t)) }))
	}
	return []Exhibit{{Title: w.TasksTitle(), Says: w.TasksSay(), Table: TableOf(w.TasksCaption(), names, columns...), Chart: a.taskChart(names, crews)}}
}

// hoursOf are the hours that a crew needs for a task.
func hoursOf(c work.Crew, task string) figure.Figure {
	i := slices.IndexFunc(c.Tasks, func(t work.TaskRate) bool { return t.Task == task })
	if i < 0 {
		return figure.Unknown(work.NoSuchTask{})
	}
	return c.Tasks[i].HoursPer1
}

func (a *Author) taskChart(names []string, crews []work.Crew) *chart.Chart {
	w := say.Crews{Voice: a.Voice}
	per, _ := w.PerArea()
	plot := chart.RowPlot{ID: "chart-tasks", Says: w.TasksChart(), Scale: w.TasksAxis(), Zero: true}
	for _, c := range crews {
		plot.Series = append(plot.Series, chart.RowSeries{Name: say.Clean(c.Crew, say.LabelName), Hue: a.crewHue(c.Crew)})
	}
	for _, t := range names {
		row := chart.Row{Label: a.Word(t)}
		for _, c := range crews {
			f := hoursOf(c, t)
			row.Amounts = append(row.Amounts, chart.Of(f, per.Factor, w.TaskTip(c.Crew, t, f)))
		}
		plot.Rows = append(plot.Rows, row)
	}
	return plot.Chart()
}

// crewHue is the color of a crew: the same on every page.
func (a *Author) crewHue(crew string) chart.Hue {
	names := make([]string, len(a.f.Crews))
	for i, c := range a.f.Crews {
		names[i] = c.Crew
	}
	slices.Sort(names)
	return chart.CrewHue(max(0, slices.Index(names, crew)))
}
