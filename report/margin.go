package report

import (
	"slices"

	"github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"
	"github.com/go-echarts/go-echarts/v2/types"

	"pourback/analysis"
	"pourback/ingest/record"
)

// margin says what a month's jobs earned beside what their bids meant to earn.
func (a *author) margin() Page {
	p := Page{Slug: "margin", Title: "Margin", Method: []string{
		"A job belongs to the month of its last placement. Revenue is its contract price, cost what it came to; margin is revenue less cost, over revenue.",
		"The margin in the bids takes the same revenue against the cost carried in the bids; it is shown where every job of the month has one.",
		"Sums are exact to the cent; what is shown is rounded.",
	}}
	const takes = "the contract price and the actual cost of each job, and the cost carried in its bid"
	if a.empty() {
		return a.begin(p, "what each month's jobs earned, and what their bids meant to earn", takes)
	}
	months := a.f.Margin.Months
	jobs := 0
	for _, m := range months {
		jobs += m.Jobs
	}
	p.Basis = plural(jobs, "job") + " of " + count(a.f.Jobs) + " with a price and a cost on record, to " + dayText(a.f.Last) + "."
	if len(months) == 0 {
		p.Answer = "The records cannot say what the jobs earned: no job has both a contract price and an actual cost."
		p.Notes = []string{"It takes " + takes + "."}
		return p
	}
	p.Answer, p.Reading = a.marginAnswer(), "Sums of what was booked have no range."
	if a.month == "" {
		if told := a.told(a.f.Margin.Answer, p.Answer); told != p.Answer {
			p.Answer, p.Notes = told, []string{p.Answer}
		}
	}
	p.Exhibits = []Exhibit{a.marginExhibit(), a.bridgeExhibit()}
	p.Notes = append(p.Notes, "Volume is concrete for slabs thicker than drawn, usage what was delivered beyond the plan, labor hours against an average crew on the same jobs. Prices and wages that were paid are not in a job log: what they did stands in other.")
	if n := a.f.Margin.Unpriced; n > 0 {
		p.Notes = append(p.Notes, plural(n, "job")+" without a price or a cost "+were(n)+" left out.")
	}
	p.Notes = append(p.Notes, "Months differ by chance too: one low month among few jobs is no trend.")
	return p
}

func (a *author) marginAnswer() string {
	months := a.f.Margin.Months
	at := len(months) - 1
	if a.month != "" {
		at = slices.IndexFunc(months, func(m analysis.MarginMonth) bool { return m.Month == a.month })
		if at < 0 {
			return "No job with a price and a cost on record ended in " + monthText(a.month) + "."
		}
	}
	m := months[at]
	s := "Jobs that ended in " + monthText(m.Month) + a.soFar(m.Month)
	if !m.MarginPct.Known() {
		return s + " brought no revenue, so they have no margin."
	}
	s += " kept " + marginPct.value(m.MarginPct) + " of " + a.money(m.Revenue) + ", from " + plural(m.Jobs, "job")
	if bid := m.BidMarginPct; bid.Known() {
		switch gap := m.MarginPct.Value - bid.Value; {
		case gap < -0.5:
			s += ", where their bids meant to keep " + marginPct.value(bid)
		case gap > 0.5:
			s += ", more than the " + marginPct.value(bid) + " in their bids"
		default:
			s += ", as their bids meant to"
		}
	}
	return s + "."
}

// soFar marks the month that the data date falls into before its end.
func (a *author) soFar(month string) string {
	d, err := record.ParseDate(a.f.AsOf)
	if err == nil && d.Month() == month && (d+1).Month() == month {
		return " so far"
	}
	return ""
}

// marginPct shows margins, which are in percent already.
var marginPct = measure{factor: 1, unit: "%"}

// mostMonths is how many months are looked back on.
const mostMonths = 24

func (a *author) marginExhibit() Exhibit {
	type month = analysis.MarginMonth
	all := a.f.Margin.Months
	shown := all[max(0, len(all)-mostMonths):]
	latestFirst := slices.Clone(shown)
	slices.Reverse(latestFirst)
	table := tableOf("Margin by month, the latest first", latestFirst,
		column[month]{head: "Month", cell: func(m month) Cell { return Cell{Text: monthText(m.Month)} }},
		column[month]{head: "Margin", number: true, cell: func(m month) Cell { return marginPct.cell(m.MarginPct) }},
		column[month]{head: "In the bids", number: true, cell: func(m month) Cell { return marginPct.cell(m.BidMarginPct) }},
		column[month]{head: "Jobs", number: true, cell: func(m month) Cell { return whole(m.Jobs) }},
		column[month]{head: "Revenue", number: true, cell: func(m month) Cell { return a.moneyCell(m.Revenue) }},
		column[month]{head: "Cost", number: true, cell: func(m month) Cell { return a.moneyCell(m.Cost) }})
	table.More = a.earlierMonths(all, shown)
	return Exhibit{"By month", &Chart{ID: "chart-margin", Height: 340,
		Says: "A bar for each month: the margin of the jobs that ended in it; a diamond where their bids meant it to be. The table holds the same figures.",
		draw: func() *board { return a.marginChart(shown) }}, table}
}

// earlierMonths says where the months are that a table does not show.
func (a *author) earlierMonths(all, shown []analysis.MarginMonth) string {
	if len(all) == len(shown) {
		return ""
	}
	return "And " + plural(len(all)-len(shown), "earlier month") + "; `pourback factors margin --json` has them all."
}

// bridgeExhibit leads from the margin in the bids to the margin earned, in
// money: what was better than bid is above zero.
func (a *author) bridgeExhibit() Exhibit {
	type month = analysis.MarginMonth
	all := a.f.Margin.Months
	shown := all[max(0, len(all)-mostMonths):]
	latestFirst := slices.Clone(shown)
	slices.Reverse(latestFirst)
	step := func(head string, of func(month) analysis.Figure) column[month] {
		return column[month]{head: head, number: true, cell: func(m month) Cell { return plain.cell(of(m)) }}
	}
	table := tableOf("From the bids to what was earned, in "+a.currency+", the latest month first", latestFirst,
		column[month]{head: "Month", cell: func(m month) Cell { return Cell{Text: monthText(m.Month)} }},
		step("Against bids", func(m month) analysis.Figure { return m.AgainstBid }),
		step("Volume", func(m month) analysis.Figure { return m.Volume }),
		step("Usage", func(m month) analysis.Figure { return m.Usage }),
		step("Labor hours", func(m month) analysis.Figure { return m.LaborEfficiency }),
		step("Delay", func(m month) analysis.Figure { return m.Delay }),
		step("Callbacks", func(m month) analysis.Figure { return m.Callback }),
		step("Other", func(m month) analysis.Figure { return m.Other }))
	table.More = a.earlierMonths(all, shown)
	return Exhibit{Title: "From the bids to what was earned", Table: table}
}

func (a *author) marginChart(months []analysis.MarginMonth) *board {
	labels := make([]string, len(months))
	earned := make([]opts.BarData, len(months))
	meant := []opts.ScatterData{}
	for i, m := range months {
		labels[i] = m.Month
		tip := monthText(m.Month) + ": "
		earned[i] = opts.BarData{Name: tip + marginPct.long(m.MarginPct) + " of " + a.money(m.Revenue) + ", from " + plural(m.Jobs, "job"), Value: knownValue(m.MarginPct, marginPct)}
		if m.BidMarginPct.Known() {
			meant = append(meant, opts.ScatterData{Name: tip + marginPct.long(m.BidMarginPct) + " in the bids", Value: []any{i, finite(m.BidMarginPct.Value)}})
		}
	}
	b := newBoard(opts.XAxis{Type: "category", Data: labels}, opts.YAxis{Type: "value", Name: "margin, %", NameLocation: "end", AxisLabel: &opts.AxisLabel{}})
	b.add(charts.SingleSeries{Name: "margin", Type: types.ChartBar, Data: earned, BarMaxWidth: "26"})
	b.add(charts.SingleSeries{Name: "in the bids", Type: types.ChartScatter, Symbol: "diamond", SymbolSize: 11, Data: meant})
	return b
}
