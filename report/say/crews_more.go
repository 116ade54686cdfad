package say

import (
	"strconv"

	"pourback/analysis/figure"
	"pourback/analysis/work"
)

// Hours for an area, which tasks are compared by: 100 ft², or 10 m².
func (c Crews) PerArea() (m Measure, area string) {
	if c.Units.Si {
		return Measure{Factor: 10 / c.Units.Area.Factor / 100, Digits: Cents}, "10 m²"
	}
	return Measure{Factor: 1, Digits: Cents}, c.unit("100", " ft²")
}

func (c Crews) TasksTitle() string { return c.text("Hours by task") }
func (c Crews) TasksSay() string {
	return c.text("Where each crew's hours go. A task that takes one crew far more is worth watching for a day.")
}

func (c Crews) TasksCaption() string {
	_, area := c.PerArea()
	return c.say("Person-hours for {area}, by task and crew, as worked", with{"area": area})
}

func (c Crews) TasksChart() string {
	_, area := c.PerArea()
	return c.say("Marks for each task, one for each crew: its hours for {area}.", with{"area": area})
}

func (c Crews) TasksAxis() string {
	_, area := c.PerArea()
	return c.say("person-hours for {area}", with{"area": area})
}

func (c Crews) HeadTask() string { return c.text("Task") }

// TaskTip says what a crew needs for a task.
func (c Crews) TaskTip(crew, task string, f figure.Figure) string {
	m, _ := c.PerArea()
	return c.say("{crew}, {task}: {hours}", with{"crew": c.Named(crew), "task": c.Word(task), "hours": c.Long(m, f)})
}

func (c Crews) LearningTitle() string { return c.text("How a new crew learns") }

// Learning says how fast, and from whom that is known.
func (c Crews) Learning(l *work.Labor) string {
	names := make([]string, len(l.NewCrews))
	for i, n := range l.NewCrews {
		names[i] = c.Named(n)
	}
	return c.say("Each time a new crew's placements double, its hours fall by {share}. That is learned from {crews}.", with{"share": c.At(Percent, 1-l.LearningRate.Value), "crews": c.List(names)})
}

func (c Crews) LearningCaption() string {
	return c.text("Hours of a new crew where a settled one needs 100")
}
func (c Crews) HeadPlacement() string { return c.text("Placement") }
func (c Crews) HeadHoursNeed() string { return c.text("Hours") }
func (c Crews) LearningChart() string {
	return c.text("The hours that a new crew needs at each of its placements, where a settled one needs 100. The band is the range.")
}
func (c Crews) LearningAxis() string { return c.text("placements of the crew") }
func (c Crews) HoursAxis() string    { return c.text("hours") }
func (c Crews) NewCrew() string      { return c.text("a new crew") }

// LearningTip says a point of the line.
func (c Crews) LearningTip(k int, f figure.Figure) string {
	return c.say("{placement} placement: {hours} hours", with{"placement": c.Ordinal(k), "hours": c.Long(OfHundred, f)})
}

// Ordinal is a number in order: "1st", "22nd", "25th".
func (v *Voice) Ordinal(n int) string {
	number := with{"n": strconv.Itoa(n)}
	switch {
	case n%100 >= 11 && n%100 <= 13:
		return v.say("{n}th", number)
	case n%10 == 1:
		return v.say("{n}st", number)
	case n%10 == 2:
		return v.say("{n}nd", number)
	case n%10 == 3:
		return v.say("{n}rd", number)
	}
	return v.say("{n}th", number)
}

func (c Crews) UsesTitle() string { return c.text("By kind of work, and in the heat") }
func (c Crews) UsesSay() string {
	return c.text("The hours each kind of work takes where the average kind takes 100, for the same area and thickness.")
}
func (c Crews) UsesCaption() string {
	return c.text("Hours by kind of work where the average kind needs 100")
}
func (c Crews) HeadKind() string { return c.text("Kind") }
