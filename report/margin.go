package report

import (
	"math"
	"slices"

	"pourback/analysis/money"
)

// margin says what the jobs have earned beside what their bids meant to earn:
// in all, by month, by year and by job.
func (a *author) margin() Page {
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
	if e := a.bridge("chart-margin-bridge", "From the bids to what was earned, all jobs, "+a.currency, &m.Total.Earned); e.Table != nil {
		p.Exhibits = append(p.Exhibits, e)
	}
	p.Exhibits = append(p.Exhibits, a.costLines("")...)
	p.Exhibits = slices.Concat(p.Exhibits, []Exhibit{a.bridgeByMonth()}, a.marginByYear(), a.howMonthsSwing(), a.farthestJobs(), a.followOn())
	p.Notes = append(a.saidAll(m.Notes[min(1, len(m.Notes)):]), "Months differ by chance too: one low month among few jobs is no trend.")
	if r := m.Reserve; r.Known() && r.Value > 0 {
		p.Notes = append(p.Notes, "Callbacks for cracks that may still come from "+plural(r.N, "sound slab")+" in warranty would cost "+a.about().long(r)+".")
	}
	if n := m.Unpriced; n > 0 {
		p.Notes = append(p.Notes, plural(n, "job")+" without a price or a cost "+were(n)+" left out.")
	}
	return p
}

func (a *author) marginBasis() string {
	jobs := 0
	for _, m := range a.f.Margin.Months {
		jobs += m.Jobs
	}
	return plural(jobs, "job") + " of " + count(a.f.Jobs) + " with a price and a cost on record, to " + dayText(a.f.Last) + "."
}

// marginAnswer: "Since May 2023 the jobs have kept 21 cents of each dollar …".
func (a *author) marginAnswer() string {
	m := a.f.Margin
	return a.kept("Since "+monthText(m.Months[0].Month)+" the company", &m.Total.Earned) + "."
}

// marginPct shows margins, which are in percent already.
var marginPct = measure{factor: 1, unit: "%", digits: round}

// mostMonths is how many months are looked back on.
const mostMonths = 24

// latestMonths are the months that are shown, the latest first.
func (a *author) latestMonths() []money.Month {
	shown := slices.Clone(lastOf(a.f.Margin.Months, mostMonths))
	slices.Reverse(shown)
	return shown
}

// marginByMonth shows what each month kept, with what stands out.
func (a *author) marginByMonth() Exhibit {
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
func (a *author) swing(c *money.Control) string {
	if c.Limits == nil {
		return "Whether a month is unusual cannot be said yet: " + c.Why + "."
	}
	s := a.usualSwing(c)
	switch n := len(c.Signals); n {
	case 0:
		return s + "; none of " + plural(c.Months, "full month") + " stands out."
	case 1:
		return s + "; one of " + plural(c.Months, "full month") + " stands out."
	default:
		return s + "; " + count(n) + " of " + plural(c.Months, "full month") + " stand out."
	}
}

// usualSwing: "By themselves months swing between 11 and 29 cents of each
// dollar".
func (a *author) usualSwing(c *money.Control) string {
	low, high := math.Round(c.Limits.Low), math.Round(c.Limits.High)
	return "By themselves months swing between " + grouped(low, 0) + " and " + a.centsSigned(high) + " " + a.ofEach()
}

// monthTable shows months with what is said of each.
func (a *author) monthTable(caption string, months []money.Month) *Table {
	type month = money.Month
	return tableOf(caption, months,
		wordsIn("Month", func(m month) string { return monthText(m.Month) + a.soFar(m.Month) }),
		numbers("Margin", func(m month) Cell { return marginPct.cell(m.MarginPct) }),
		numbers("In the bids", func(m month) Cell { return marginPct.cell(m.BidMarginPct) }),
		counts("Jobs", func(m month) int { return m.Jobs }),
		numbers("Revenue", func(m month) Cell { return a.moneyCell(m.Revenue) }),
		numbers("Cost", func(m month) Cell { return a.moneyCell(m.Cost) }),
		column[month]{head: "After callbacks to come", number: true, ahead: true, cell: func(m month) Cell { return marginPct.cell(m.AfterReserve) }},
		wordsIn("Stands out", func(m month) string { return a.verdict(m.Month) }))
}

// verdict is what the control charts say of a month: of its margin, or else of
// its margin against the bids.
func (a *author) verdict(month string) string {
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
func (a *author) controlChart(id string, c *money.Control, shown []money.Month) *Chart {
	plot := controlPlot{id: id, scale: "margin, %", value: "margin",
		says: "A line of what each full month kept, with the average and the limits within which months swing by themselves. A diamond marks a month that stands out. The table holds the same figures."}
	for _, p := range c.Points {
		if !slices.ContainsFunc(shown, func(m money.Month) bool { return m.Month == p.Month }) {
			continue
		}
		i := slices.IndexFunc(c.Signals, func(s money.ControlSignal) bool { return s.Month == p.Month })
		tip := monthText(p.Month) + ": " + marginPct.at(p.Value)
		if i >= 0 {
			tip += ", " + c.Signals[i].Verdict
		}
		plot.points = append(plot.points, controlPoint{label: p.Month, value: p.Value, signal: i >= 0, tip: tip})
	}
	if c.Limits != nil {
		plot.rules = []rule{{"average", c.Center.Value}, {"usual lowest", c.Limits.Low}, {"usual highest", c.Limits.High}}
	}
	return plot.chart()
}

// earlierMonths says where the months are that a table does not show.
func (a *author) earlierMonths() string {
	n := len(a.f.Margin.Months) - mostMonths
	if n <= 0 {
		return ""
	}
	return "And " + plural(n, "earlier month") + "; `pourback factors margin --json` has them all."
}

// bridgeByMonth leads from bid to earned month by month.
func (a *author) bridgeByMonth() Exhibit {
	type month = money.Month
	columns := []column[month]{wordsIn("Month", func(m month) string { return shortMonth(m.Month) })}
	table := tableOf("From the bids to what was earned by month, "+a.currency+", the latest first", a.latestMonths(),
		append(columns, stepColumns(func(m month) *money.Earned { return &m.Earned })...)...)
	table.More = a.earlierMonths()
	return Exhibit{Title: "What led from the bids to what was earned", Table: table,
		Says: "Minus is money lost against the bids, the rest is money gained."}
}

// stepColumns are the steps of the bridge that a job log tells.
func stepColumns[T any](of func(T) *money.Earned) []column[T] {
	all := wholes
	out := []column[T]{numbers("Against bids", func(row T) Cell { return all.cell(of(row).AgainstBid) })}
	for _, s := range marginSteps {
		if s.head != "Prices" && s.head != "Wages" { // never in a job log
			out = append(out, numbers(s.head, func(row T) Cell { return all.cell(s.of(of(row))) }))
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
func (a *author) marginByYear() []Exhibit {
	var rows []years
	for i := range a.f.Margin.Years {
		rows = append(rows, years{a.f.Margin.Years[i].Year, &a.f.Margin.Years[i].Earned})
	}
	slices.Reverse(rows)
	if len(rows) > 1 {
		rows = append(rows, years{"all", &a.f.Margin.Total.Earned})
	}
	steps := []column[years]{wordsIn("Year", func(y years) string { return y.name })}
	return []Exhibit{
		{Title: "By year", Table: tableOf("Margin by year of the last placement", rows,
			wordsIn("Year", func(y years) string { return y.name }),
			numbers("Margin", func(y years) Cell { return marginPct.cell(y.MarginPct) }),
			numbers("In the bids", func(y years) Cell { return marginPct.cell(y.BidMarginPct) }),
			counts("Jobs", func(y years) int { return y.Jobs }),
			numbers("Revenue", func(y years) Cell { return a.moneyCell(y.Revenue) }),
			numbers("Cost", func(y years) Cell { return a.moneyCell(y.Cost) }))},
		{Title: "From the bids to what was earned, year by year",
			Table: tableOf("From the bids to what was earned by year, "+a.currency, rows, append(steps, stepColumns(func(y years) *money.Earned { return y.Earned })...)...)},
	}
}

// howMonthsSwing lists the averages and the limits behind what stands out.
func (a *author) howMonthsSwing() []Exhibit {
	type row struct {
		of string
		*money.Control
	}
	rows := []row{{"margin, %", &a.f.Margin.Control}, {"margin less the bids', points", &a.f.Margin.ControlAgainst}}
	rows = slices.DeleteFunc(rows, func(r row) bool { return r.Limits == nil || r.Strict == nil })
	if len(rows) == 0 {
		return nil
	}
	bound := func(v float64) Cell { return valued(grouped(v, 0), v) }
	return []Exhibit{{Title: "How far months swing by themselves",
		Says: "Outside the usual limits a month is worth a look; outside the wide ones it is a real change, which has a cause.",
		Table: tableOf("Limits of a month", rows,
			wordsIn("Of", func(r row) string { return r.of }),
			numbers("Average", func(r row) Cell { return wholes.cell(r.Center) }),
			numbers("Usual lowest", func(r row) Cell { return bound(r.Limits.Low) }),
			numbers("Usual highest", func(r row) Cell { return bound(r.Limits.High) }),
			numbers("Wide lowest", func(r row) Cell { return bound(r.Strict.Low) }),
			numbers("Wide highest", func(r row) Cell { return bound(r.Strict.High) }),
			counts("From months", func(r row) int { return r.Base }),
			counts("Stand out", func(r row) int { return len(r.Signals) }))}}
}

// followOn says what finished jobs have sold.
func (a *author) followOn() []Exhibit {
	f := &a.f.Margin.FollowOn
	if f.Jobs+f.NotOnRecord == 0 {
		return nil
	}
	type row struct {
		says string
		cell Cell
	}
	rows := []row{
		{"Jobs won from an earlier one", whole(f.Jobs)},
		{"Jobs that led to them", whole(f.FromJobs)},
		{"Jobs won from one that is not on record", whole(f.NotOnRecord)},
		{"Their revenue", a.moneyCell(f.Revenue)},
		{"Share of all jobs, in 100", ofHundred.cell(f.ShareOfJobs)},
		{"Share of all revenue, in 100", ofHundred.cell(f.ShareOfRevenue)},
		{"Revenue that a job brings in the year after it and later", a.about().cell(f.PerJob)},
	}
	says := plural(f.Jobs, "job") + " " + were(f.Jobs) + " won from an earlier one"
	if f.PerJob.Known() {
		says += "; a job more than a year old has brought " + a.about().long(f.PerJob) + " of further work on average"
	}
	return []Exhibit{{Title: "Work that finished jobs brought", Says: says + ".",
		Table: tableOf("Follow-on work", rows, wordsIn("What", func(r row) string { return r.says }), numbers("Figure", func(r row) Cell { return r.cell }))}}
}

// shortMonth is 2025-06 as "Jun 2025", for narrow columns.
func shortMonth(month string) string {
	words := monthText(month)
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
