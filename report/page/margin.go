package page

import (
	"math"
	"slices"

	"pourback/analysis/money"
	"pourback/report/chart"
	"pourback/report/say"
)

// margin says what the jobs have earned beside what their bids meant to earn:
// in all, by month, by year and by job.
func (a *Author) margin() Page {
	p := Page{Slug: marginSlug, Title: "Margin", Method: []string{
		"A job belongs to the month of its last placement. Revenue is its contract price, cost what it came to; margin is revenue less cost, over revenue.",
		"The margin in the bids takes the same revenue against the cost carried in the bids; of a month it is shown where every job has one.",
		"The steps from bid to earned stand at the standard price of concrete and the standard wage of the settings, since a job log holds no prices paid (Horngren, Datar and Rajan, Cost Accounting, ch. 7). Sums are exact to the cent; what is shown is rounded.",
		"The lines of cost split further: dearer units are (price paid − price planned) × units used, more units are (units used − units planned) × price planned.",
		"How far months swing: the average ± 2.66 times the mean change between neighboring months (Shewhart 1931; Wheeler 1993), with wider limits that allow for how few months set them.",
	}}
	if a.empty() {
		return a.begin(p, "what each month's jobs earned, and what their bids meant to earn", priceTakes)
	}
	m := a.f.Margin
	p.Basis = a.marginBasis()
	if len(m.Months) == 0 {
		p.Answer = "The records cannot say what the jobs earned: no job has both a contract price and an actual cost."
		p.Notes = []string{"It takes " + priceTakes + "."}
		return p
	}
	p.Reading = "Sums of what was booked have no range."
	p.Answer = a.marginAnswer()
	p.Exhibits = []Exhibit{a.marginByMonth()}
	if e := a.bridge("chart-margin-bridge", "From the bids to what was earned, all jobs, "+a.Currency, &m.Total.Earned); e.Table != nil {
		p.Exhibits = append(p.Exhibits, e)
	}
	p.Exhibits = append(p.Exhibits, a.costLines("")...)
	p.Exhibits = slices.Concat(p.Exhibits, []Exhibit{a.bridgeByMonth()}, a.marginByYear(), a.howMonthsSwing(), a.farthestJobs(), a.followOn())
	p.Notes = append(a.SaidAll(m.Notes[min(1, len(m.Notes)):]), "Months differ by chance too: one low month among few jobs is no trend.")
	if r := m.Reserve; r.Known() && r.Value > 0 {
		p.Notes = append(p.Notes, "Callbacks for cracks that may still come from "+say.Plural(r.N, "sound slab")+" in warranty would cost "+a.Long(a.About(), r)+".")
	}
	if n := m.Unpriced; n > 0 {
		p.Notes = append(p.Notes, say.Plural(n, "job")+" without a price or a cost "+say.Were(n)+" left out.")
	}
	return p
}

func (a *Author) marginBasis() string {
	jobs := 0
	for _, m := range a.f.Margin.Months {
		jobs += m.Jobs
	}
	return say.Plural(jobs, "job") + " of " + say.Count(a.f.Jobs) + " with a price and a cost on record, to " + say.DayText(a.f.Last) + "."
}

// marginAnswer: "Since May 2023 the jobs have kept 21 cents of each dollar …".
func (a *Author) marginAnswer() string {
	m := a.f.Margin
	return a.kept("Since "+say.MonthText(m.Months[0].Month)+" the company", &m.Total.Earned) + "."
}

// marginPct shows margins, which are in percent already.
var marginPct = say.Measure{Factor: 1, Unit: "%", Digits: say.Round}

// MostMonths is how many months are looked back on.
const MostMonths = 24

// latestMonths are the months that are shown, the latest first.
func (a *Author) latestMonths() []money.Month {
	shown := slices.Clone(lastOf(a.f.Margin.Months, MostMonths))
	slices.Reverse(shown)
	return shown
}

// marginByMonth shows what each month kept, with what stands out.
func (a *Author) marginByMonth() Exhibit {
	table := a.monthTable("Margin by month, the latest first", a.latestMonths())
	table.More = a.earlierMonths()
	last := a.f.Margin.Control.Points
	says := ""
	if len(last) > 0 {
		says = a.swing(&a.f.Margin.Control)
	}
	return Exhibit{Title: "By month", Says: says, Chart: a.controlChart("chart-margin", &a.f.Margin.Control, a.latestMonths()), Table: table}
}

// swing says how far months swing, and how many stood out.
func (a *Author) swing(c *money.Control) string {
	if c.Limits == nil {
		return "Whether a month is unusual cannot be said yet: " + c.Why + "."
	}
	s := a.usualSwing(c)
	switch n := len(c.Signals); n {
	case 0:
		return s + "; none of " + say.Plural(c.Months, "full month") + " stands out."
	case 1:
		return s + "; one of " + say.Plural(c.Months, "full month") + " stands out."
	default:
		return s + "; " + say.Count(n) + " of " + say.Plural(c.Months, "full month") + " stand out."
	}
}

// usualSwing: "By themselves months swing between 11 and 29 cents of each
// dollar".
func (a *Author) usualSwing(c *money.Control) string {
	low, high := math.Round(c.Limits.Low), math.Round(c.Limits.High)
	return "By themselves months swing between " + say.Grouped(low, 0) + " and " + a.centsSigned(high) + " " + a.OfEach()
}

// monthTable shows months with what is said of each.
func (a *Author) monthTable(caption string, months []money.Month) *Table {
	type month = money.Month
	return TableOf(caption, months,
		wordsIn("Month", func(m month) string { return say.MonthText(m.Month) + a.soFar(m.Month) }),
		numbers("Margin", func(m month) say.Cell { return a.Cell(marginPct, m.MarginPct) }),
		numbers("In the bids", func(m month) say.Cell { return a.Cell(marginPct, m.BidMarginPct) }),
		counts("Jobs", func(m month) int { return m.Jobs }),
		numbers("Revenue", func(m month) say.Cell { return a.MoneyCell(m.Revenue) }),
		numbers("Cost", func(m month) say.Cell { return a.MoneyCell(m.Cost) }),
		ColumnOf[month]{Head: "After callbacks to come", Number: true, Ahead: true, Cell: func(m month) say.Cell { return a.Cell(marginPct, m.AfterReserve) }},
		wordsIn("Stands out", func(m month) string { return a.verdict(m.Month) }))
}

// verdict is what the control charts say of a month: of its margin, or else of
// its margin against the bids.
func (a *Author) verdict(month string) string {
	for _, c := range []struct {
		chart *money.Control
		of    string
	}{{&a.f.Margin.Control, ""}, {&a.f.Margin.ControlAgainst, " against the bids"}} {
		for _, s := range c.chart.Signals {
			if s.Month == month {
				side := "low"
				if s.Value > c.chart.Center.Value {
					side = "high"
				}
				return side + c.of + ": " + s.Verdict
			}
		}
	}
	return "–"
}

// controlChart draws the margin of the months that are shown between the limits
// within which months swing by themselves.
func (a *Author) controlChart(id string, c *money.Control, shown []money.Month) *chart.Chart {
	plot := chart.ControlPlot{Id: id, Scale: "margin, %", Value: "margin",
		Says: "A line of what each full month kept, with the average and the limits within which months swing by themselves. A diamond marks a month that stands out. The table holds the same figures."}
	for _, p := range c.Points {
		if !slices.ContainsFunc(shown, func(m money.Month) bool { return m.Month == p.Month }) {
			continue
		}
		i := slices.IndexFunc(c.Signals, func(s money.ControlSignal) bool { return s.Month == p.Month })
		tip := say.MonthText(p.Month) + ": " + a.At(marginPct, p.Value)
		if i >= 0 {
			tip += ", " + c.Signals[i].Verdict
		}
		plot.Points = append(plot.Points, chart.ControlPoint{Label: p.Month, Value: p.Value, Signal: i >= 0, Tip: tip})
	}
	if c.Limits != nil {
		plot.Rules = []chart.Rule{{Name: "average", At: c.Center.Value}, {Name: "usual lowest", At: c.Limits.Low}, {Name: "usual highest", At: c.Limits.High}}
	}
	return plot.Chart()
}

// earlierMonths says where the months are that a table does not show.
func (a *Author) earlierMonths() string {
	n := len(a.f.Margin.Months) - MostMonths
	if n <= 0 {
		return ""
	}
	return "And " + say.Plural(n, "earlier month") + "; `pourback factors margin --json` has them all."
}

// bridgeByMonth leads from bid to earned month by month.
func (a *Author) bridgeByMonth() Exhibit {
	type month = money.Month
	columns := []ColumnOf[month]{wordsIn("Month", func(m month) string { return shortMonth(m.Month) })}
	table := TableOf("From the bids to what was earned by month, "+a.Currency+", the latest first", a.latestMonths(),
		append(columns, stepColumns(a.Voice, func(m month) *money.Earned { return &m.Earned })...)...)
	table.More = a.earlierMonths()
	return Exhibit{Title: "What led from the bids to what was earned", Table: table,
		Says: "Minus is money lost against the bids, the rest is money gained."}
}

// stepColumns are the steps of the bridge that a job log tells.
func stepColumns[T any](a *say.Voice, of func(T) *money.Earned) []ColumnOf[T] {
	all := say.Wholes
	out := []ColumnOf[T]{numbers("Against bids", func(row T) say.Cell { return a.Cell(all, of(row).AgainstBid) })}
	for _, s := range marginSteps {
		if s.head != "Prices" && s.head != "Wages" { // never in a job log
			out = append(out, numbers(s.head, func(row T) say.Cell { return a.Cell(all, s.of(of(row))) }))
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
	for i := range a.f.Margin.Years {
		rows = append(rows, years{a.f.Margin.Years[i].Year, &a.f.Margin.Years[i].Earned})
	}
	slices.Reverse(rows)
	if len(rows) > 1 {
		rows = append(rows, years{"all", &a.f.Margin.Total.Earned})
	}
	steps := []ColumnOf[years]{wordsIn("Year", func(y years) string { return y.name })}
	return []Exhibit{
		{Title: "By year", Table: TableOf("Margin by year of the last placement", rows,
			wordsIn("Year", func(y years) string { return y.name }),
			numbers("Margin", func(y years) say.Cell { return a.Cell(marginPct, y.MarginPct) }),
			numbers("In the bids", func(y years) say.Cell { return a.Cell(marginPct, y.BidMarginPct) }),
			counts("Jobs", func(y years) int { return y.Jobs }),
			numbers("Revenue", func(y years) say.Cell { return a.MoneyCell(y.Revenue) }),
			numbers("Cost", func(y years) say.Cell { return a.MoneyCell(y.Cost) }))},
		{Title: "From the bids to what was earned, year by year",
			Table: TableOf("From the bids to what was earned by year, "+a.Currency, rows, append(steps, stepColumns(a.Voice, func(y years) *money.Earned { return y.Earned })...)...)},
	}
}

// howMonthsSwing lists the averages and the limits behind what stands out.
func (a *Author) howMonthsSwing() []Exhibit {
	type row struct {
		of string
		*money.Control
	}
	rows := []row{{"margin, %", &a.f.Margin.Control}, {"margin less the bids', points", &a.f.Margin.ControlAgainst}}
	rows = slices.DeleteFunc(rows, func(r row) bool { return r.Limits == nil || r.Strict == nil })
	if len(rows) == 0 {
		return nil
	}
	bound := func(v float64) say.Cell { return say.Valued(say.Grouped(v, 0), v) }
	return []Exhibit{{Title: "How far months swing by themselves",
		Says: "Outside the usual limits a month is worth a look; outside the wide ones it is a real change, which has a cause.",
		Table: TableOf("Limits of a month", rows,
			wordsIn("Of", func(r row) string { return r.of }),
			numbers("Average", func(r row) say.Cell { return a.Cell(say.Wholes, r.Center) }),
			numbers("Usual lowest", func(r row) say.Cell { return bound(r.Limits.Low) }),
			numbers("Usual highest", func(r row) say.Cell { return bound(r.Limits.High) }),
			numbers("Wide lowest", func(r row) say.Cell { return bound(r.Strict.Low) }),
			numbers("Wide highest", func(r row) say.Cell { return bound(r.Strict.High) }),
			counts("From months", func(r row) int { return r.Base }),
			counts("Stand out", func(r row) int { return len(r.Signals) }))}}
}

// followOn says what finished jobs have sold.
func (a *Author) followOn() []Exhibit {
	f := &a.f.Margin.FollowOn
	if f.Jobs+f.NotOnRecord == 0 {
		return nil
	}
	type row struct {
		says string
		cell say.Cell
	}
	rows := []row{
		{"Jobs won from an earlier one", say.Whole(f.Jobs)},
		{"Jobs that led to them", say.Whole(f.FromJobs)},
		{"Jobs won from one that is not on record", say.Whole(f.NotOnRecord)},
		{"Their revenue", a.MoneyCell(f.Revenue)},
		{"Share of all jobs, in 100", a.Cell(say.OfHundred, f.ShareOfJobs)},
		{"Share of all revenue, in 100", a.Cell(say.OfHundred, f.ShareOfRevenue)},
		{"Revenue that a job brings in the year after it and later", a.Cell(a.About(), f.PerJob)},
	}
	says := say.Plural(f.Jobs, "job") + " " + say.Were(f.Jobs) + " won from an earlier one"
	if f.PerJob.Known() {
		says += "; a job more than a year old has brought " + a.Long(a.About(), f.PerJob) + " of further work on average"
	}
	return []Exhibit{{Title: "Work that finished jobs brought", Says: says + ".",
		Table: TableOf("Follow-on work", rows, wordsIn("What", func(r row) string { return r.says }), numbers("Figure", func(r row) say.Cell { return r.cell }))}}
}

// shortMonth is 2025-06 as "Jun 2025", for narrow columns.
func shortMonth(month string) string {
	words := say.MonthText(month)
	if len(words) > 8 && words != month {
		return words[:3] + words[len(words)-5:]
	}
	return words
}

// missed is how far a job fell short of its bid, in cents.
func missed(j *money.Job) int64 {
	if !j.BidCost.OK {
		return math.MinInt64
	}
	return int64(j.Cost - j.BidCost.V)
}
