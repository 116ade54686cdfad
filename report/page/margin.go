package page

import (
	"pourback/analysis/findings"
	"slices"

	"pourback/analysis/money"
	"pourback/report/chart"
	"pourback/report/say"
)

// margin says what the jobs have earned beside what their bids meant to earn:
// in all, by month, by year and by job.
func (a *Author) margin() Page {
	w := say.Margin{Voice: a.Voice}
	p := Page{Slug: marginSlug, Title: w.Title(), Method: w.Method()}
	if a.empty() {
		return a.begin(p, w.Will(), w.Takes())
	}
	m := a.f.Margin
	p.Basis, p.Answer = a.marginBasis(), w.Answer(m)
	if len(m.Months) == 0 {
		p.Notes = []string{a.itTakes(w.Takes())}
		return p
	}
	p.Reading = a.Booked(a.f.Level)
	total := m.InFull(m.Total.Earned, money.Whole)
	p.Exhibits = slices.Concat([]Exhibit{a.marginByMonth()}, a.bridge("chart-margin-bridge", say.Bridge{Voice: a.Voice}.CaptionOfAll(), &total),
		a.costLines(""), []Exhibit{a.bridgeByMonth()}, a.marginByYear(), a.howMonthsSwing(), a.farthestJobs(), a.followOn())
	if p.Do = a.todo(2, findings.KindBids, findings.KindStep, findings.KindMonth, findings.KindUnpriced, findings.KindFollowOn); len(p.Do) == 0 {
		p.Do = []string{say.Todo{Voice: a.Voice}.NoChange()}
	}
	p.Notes = append(w.PageNotes(m, &total), w.Luck())
	if r := m.Reserve; r.Known() && r.Value > 0 {
		p.Notes = append(p.Notes, w.Reserve(m))
	}
	if m.Unpriced > 0 {
		p.Notes = append(p.Notes, w.Unpriced(m.Unpriced))
	}
	return p
}

func (a *Author) marginBasis() string {
	return say.Margin{Voice: a.Voice}.Basis(len(a.f.Margin.Jobs), a.f.Jobs, a.f.Last)
}

// MostMonths is how many months are looked back on.
const MostMonths = 24

// months are all months, the latest first.
func (a *Author) months() []money.Month {
	all := slices.Clone(a.f.Margin.Months)
	slices.Reverse(all)
	return all
}

// marginByMonth shows what each month kept, with what stands out.
func (a *Author) marginByMonth() Exhibit {
	c, w := &a.f.Margin.Control, say.Margin{Voice: a.Voice}
	months := a.months()
	table := a.monthTable(months)
	table.More = a.earlierMonths()
	says := ""
	if len(c.Points) > 0 {
		says = w.Swing(c)
	}
	return Exhibit{Title: w.ByMonth(), Says: says, Chart: a.controlChart("chart-margin", c, months[:min(len(months), MostMonths)]), Table: table}
}

// monthTable shows months with what is said of each.
func (a *Author) monthTable(months []money.Month) *Table {
	type month = money.Month
	w, m := say.Margin{Voice: a.Voice}, a.f.Margin
	return firstOf(w.ByMonthCaption(), months, MostMonths,
		monthsIn(w.HeadMonth(), func(r month) string { return r.Month }, func(month string) string { return say.Month{Voice: a.Voice}.Name(m, month) }),
		numbers(w.HeadMargin(), func(r month) say.Cell { return a.Cell(say.MarginPct, r.MarginPct) }),
		numbers(w.HeadBid(), func(r month) say.Cell { return a.Cell(say.MarginPct, r.BidMarginPct) }),
		counts(w.HeadJobs(), func(r month) int { return r.Jobs }),
		numbers(w.HeadRevenue(), func(r month) say.Cell { return a.MoneyCell(r.Revenue) }),
		numbers(w.HeadCost(), func(r month) say.Cell { return a.MoneyCell(r.Cost) }),
		ColumnOf[month]{Head: w.HeadAfter(), Number: true, Ahead: true, Cell: func(r month) say.Cell { return a.Cell(say.MarginPct, r.AfterReserve) }},
		wordsIn(w.HeadOut(), func(r month) string { return w.Standing(m.StandsOut(r.Month)) }))
}

// controlChart draws the margin of the months that are shown between the limits
// of a normal month.
func (a *Author) controlChart(id string, c *money.Control, shown []money.Month) *chart.Chart {
	w := say.Margin{Voice: a.Voice}
	plot := chart.ControlPlot{ID: id, Scale: w.Charted(c.Of), Value: w.Line(), Says: w.Chart(), Marked: w.Marked(), Few: a.TooFewMonths}
	var points []money.ControlPoint
	for _, p := range c.Points {
		if slices.ContainsFunc(shown, func(m money.Month) bool { return m.Month == p.Month }) {
			s := c.Signal(p.Month)
			points = append(points, p)
			plot.Points = append(plot.Points, chart.ControlPoint{Label: a.ShortMonth(p.Month), Value: p.Value, Signal: s != nil, Tip: w.Tip(p, s)})
		}
	}
	plot.Notes = signalNotes(w, c, points)
	if c.Limits != nil {
		plot.Center = chart.Rule{Name: w.Center(c, points), At: c.Center.Value}
		plot.Limits = [2]chart.Rule{{Name: w.NormalLow(), At: c.Limits.Low}, {Name: w.NormalHigh(), At: c.Limits.High}}
	}
	return plot.Chart()
}

// signalNotes names the latest months that stand out.
func signalNotes(w say.Margin, c *money.Control, points []money.ControlPoint) (notes []chart.Note) {
	const most = 2
	for i, p := range slices.Backward(points) {
		if c.Signal(p.Month) != nil && len(notes) < most {
			notes = append(notes, chart.Note{X: float64(i), Y: p.Value, Text: w.Tip(p, nil)})
		}
	}
	return notes
}

// earlierMonths says where the months are that a table does not show.
func (a *Author) earlierMonths() string {
	n := len(a.f.Margin.Months) - MostMonths
	if n <= 0 {
		return ""
	}
	return say.Margin{Voice: a.Voice}.EarlierMonths(n)
}

// bridgeByMonth leads from bid to earned month by month.
func (a *Author) bridgeByMonth() Exhibit {
	type month = money.Month
	w := say.Margin{Voice: a.Voice}
	columns := []ColumnOf[month]{monthsIn(w.HeadMonth(), func(m month) string { return m.Month }, a.ShortMonth)}
	shown := a.months()
	for i := range shown {
		shown[i].Earned = a.f.Margin.InFull(shown[i].Earned, money.InMonth(shown[i].Month))
	}
	total := a.f.Margin.InFull(a.f.Margin.Total.Earned, money.Whole)
	table := firstOf(w.StepsByMonthCaption(), shown, MostMonths, append(columns, stepColumns(a, &total, func(m month) *money.Earned { return &m.Earned })...)...)
	table.More = a.earlierMonths()
	return Exhibit{Title: w.StepsByMonth(), Table: table, Says: say.Bridge{Voice: a.Voice}.Says(&total)}
}

// stepColumns are the steps of the bridge that the records tell.
func stepColumns[T any](a *Author, total *money.Earned, of func(T) *money.Earned) []ColumnOf[T] {
	w := say.Bridge{Voice: a.Voice}
	out := []ColumnOf[T]{numbers(w.Against(), func(row T) say.Cell { return a.Cell(say.Wholes, of(row).AgainstBid) })}
	for _, s := range shownSteps(total) {
		if s.InJobLog() || total.PaidKnown() {
			out = append(out, numbers(w.Head(s), func(row T) say.Cell { return a.Cell(say.Wholes, of(row).Step(s)) }))
		}
	}
	return out
}

// years is a year, or all of them together.
type years struct {
	name string
	*money.Earned
}

// marginByYear shows what each year kept, and what led there from the bids.
func (a *Author) marginByYear() []Exhibit {
	var rows []years
	w, m := say.Margin{Voice: a.Voice}, a.f.Margin
	for i := range m.Years {
		told := m.InFull(m.Years[i].Earned, money.InYear(m.Years[i].Year))
		rows = append(rows, years{m.Years[i].Year, &told})
	}
	total := m.InFull(m.Total.Earned, money.Whole)
	slices.Reverse(rows)
	if len(rows) > 1 {
		rows = append(rows, years{w.AllYears(), &total})
	}
	year := wordsIn(w.HeadYear(), func(y years) string { return y.name })
	return []Exhibit{
		{Title: w.ByYear(), Table: TableOf(w.ByYearCaption(), rows, year,
			numbers(w.HeadMargin(), func(y years) say.Cell { return a.Cell(say.MarginPct, y.MarginPct) }),
			numbers(w.HeadBid(), func(y years) say.Cell { return a.Cell(say.MarginPct, y.BidMarginPct) }),
			counts(w.HeadJobs(), func(y years) int { return y.Jobs }),
			numbers(w.HeadRevenue(), func(y years) say.Cell { return a.MoneyCell(y.Revenue) }),
			numbers(w.HeadCost(), func(y years) say.Cell { return a.MoneyCell(y.Cost) }))},
		{Title: w.StepsByYear(), Table: TableOf(w.StepsByYearCaption(), rows,
			append([]ColumnOf[years]{year}, stepColumns(a, &total, func(y years) *money.Earned { return y.Earned })...)...)},
	}
}

// howMonthsSwing lists the averages and the limits behind what stands out.
func (a *Author) howMonthsSwing() []Exhibit {
	type control = *money.Control
	w := say.Margin{Voice: a.Voice}
	rows := slices.DeleteFunc([]control{&a.f.Margin.Control, &a.f.Margin.ControlAgainst}, func(c control) bool { return c.Limits == nil || c.Strict == nil })
	if len(rows) == 0 {
		return nil
	}
	bound := func(v float64) say.Cell { return say.Valued(say.Grouped(v, 0), v) }
	return []Exhibit{{Title: w.Limits(), Says: w.LimitsSay(),
		Table: TableOf(w.LimitsCaption(), rows,
			wordsIn(w.HeadOf(), func(c control) string { return w.Charted(c.Of) }),
			numbers(w.HeadAverage(), func(c control) say.Cell { return a.Cell(say.Wholes, c.Center) }),
			numbers(w.HeadNormalLow(), func(c control) say.Cell { return bound(c.Limits.Low) }),
			numbers(w.HeadNormalHigh(), func(c control) say.Cell { return bound(c.Limits.High) }),
			numbers(w.HeadWideLow(), func(c control) say.Cell { return bound(c.Strict.Low) }),
			numbers(w.HeadWideHigh(), func(c control) say.Cell { return bound(c.Strict.High) }),
			counts(w.HeadFrom(), func(c control) int { return c.Base }),
			counts(w.HeadStandOut(), func(c control) int { return len(c.Signals) }))}}
}

// followOn says what finished jobs have sold.
func (a *Author) followOn() []Exhibit {
	f, w := &a.f.Margin.FollowOn, say.Margin{Voice: a.Voice}
	if f.Jobs+f.NotOnRecord == 0 {
		return nil
	}
	return []Exhibit{{Title: w.Follow(), Says: w.FollowSay(f),
		Table: TableOf(w.FollowCaption(), w.FollowRows(f),
			wordsIn(w.HeadWhat(), func(r say.FollowRow) string { return r.What }),
			numbers(w.HeadFigure(), func(r say.FollowRow) say.Cell { return r.Cell }))}}
}
