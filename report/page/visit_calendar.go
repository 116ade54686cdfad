package page

import (
	"pourback/analysis/visits"
	"pourback/ingest/record"
	"pourback/report/chart"
	"pourback/report/say"
)

// calendar shows the pours and the visits of this month and the next.
func (a *Author) calendar(c *visits.Calendar) Exhibit {
	type day = visits.CalendarDay
	w := say.Visits{Voice: a.Voice}
	heads := w.CalendarHeads()
	var rows []day
	for _, d := range c.Days {
		if d.Has != (day{}).Has {
			rows = append(rows, d)
		}
	}
	of := func(kind visits.CalendarKind) func(day) int { return func(d day) int { return d.Has[kind] } }
	return Exhibit{Title: w.CalendarTitle(), Chart: a.calendarChart(c),
		Table: visitsTable(a, w.CalendarCaption(), rows,
			ColumnOf[day]{Head: heads.Day, Cell: func(d day) say.Cell { return say.Dated(a.Day(d.On), d.On) }},
			counts(heads.Pours, of(visits.CalendarPour)),
			counts(heads.Due, of(visits.CalendarDue)),
			counts(heads.Overdue, of(visits.CalendarOverdue)))}
}

func (a *Author) calendarChart(c *visits.Calendar) *chart.Chart {
	w := say.Visits{Voice: a.Voice}
	heads := w.CalendarHeads()
	plot := chart.MonthPlot{ID: "chart-calendar", Says: w.CalendarChart(), Days: w.Weekdays(), Today: w.DataDate(),
		Kinds: []chart.DayKind{{Name: heads.Pours, Hue: chart.Own}, {Name: heads.Due, Hue: chart.Bid}, {Name: heads.Overdue, Hue: chart.Worse}}}
	for _, d := range c.Days {
		year, month, day := d.On.Time().Date()
		if day == 1 {
			plot.Months = append(plot.Months, chart.CalendarMonth{Name: say.Capital(a.Month(d.On.Month())), Year: year, Month: month})
		}
		m := &plot.Months[len(plot.Months)-1]
		if d.On == c.Now {
			m.Today = day
		}
		for kind, n := range d.Has {
			for i := range n {
				mark := chart.DayMark{Day: day, Kind: kind}
				if i < len(d.Some[kind]) {
					mark.Tip = a.onCalendar(d.On, &d.Some[kind][i])
				}
				m.Marks = append(m.Marks, mark)
			}
		}
	}
	return plot.Chart()
}

// onCalendar names what falls on a day.
func (a *Author) onCalendar(on record.Date, s *visits.CalendarSlab) string {
	return say.Visits{Voice: a.Voice}.OnCalendar(a.places[s.JobNo].Site, s)
}
