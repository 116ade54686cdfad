package page

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"pourback/analysis/figure"
	"pourback/analysis/findings"
	"pourback/analysis/money"
	"pourback/ingest/record"
	"pourback/report/say"
)

// The slugs of pages that others speak of.
const (
	monthSlug   = "month"
	wasteSlug   = "waste"
	pumpSlug    = "pump"
	cracksSlug  = "cracks"
	steelSlug   = "reinforcement"
	marginSlug  = "margin"
	recordsSlug = "records"
)

const priceTakes = "the contract price and the actual cost of each job, and the cost carried in its bid"

// thisMonth is the page of the first of the month: what the month kept, why,
// whether that is unusual, and what is worth most money now.
func (a *Author) thisMonth() Page {
	p := Page{Slug: monthSlug, Title: "This month", Method: []string{
		"A job belongs, with all its money, to the month of its last placement. Margin is revenue less cost, over revenue; the margin in the bids takes the same revenue against the cost carried in the bids.",
		"Each step from the bids to what was earned is exact to the cent, and what no step explains stands in “other”, so that they add up. Concrete counts at the standard price and hours at the standard wage of the settings (Horngren, Datar and Rajan, Cost Accounting, ch. 7).",
		"How far months swing by themselves comes from the changes between neighboring months: the average ± 2.66 times their mean size (Shewhart 1931; Wheeler 1993). A month beyond wider limits, which allow for how few months set them, is called a real change.",
		"Why one month earned more or less than the one before: by the amount of work at the mean margin of the two, and by the margin on it at their mean revenue (Bennet 1920).",
		"The facts worth most money are ranked by dollars a year within reach times how sure they are. Facts found by looking through many groups are held against what chance throws up among so many (Benjamini and Hochberg 1995).",
	}}
	if a.empty() {
		return a.begin(p, "what the month earned beside its bids, and why", priceTakes)
	}
	all := a.f.Margin.Months
	at := a.monthAt()
	if at < 0 {
		p.Basis = a.marginBasis()
		p.Answer = a.noMonth()
		p.Exhibits = a.findingExhibits()
		p.Notes = []string{"It takes " + priceTakes + "."}
		return p
	}
	m := &all[at]
	p.Title = say.MonthText(m.Month)
	p.Basis = fmt.Sprintf("%s that ended in %s, with %s of revenue and %s of cost.", say.Capital(say.Plural(m.Jobs, "job")), say.MonthText(m.Month), a.Money(m.Revenue), a.Money(m.Cost))
	p.Reading = "Sums of what was booked have no range."
	p.Answer = a.kept(say.MonthText(m.Month)+a.soFar(m.Month), &m.Earned) + "."
	if e := a.bridge("chart-month-bridge", "From the bids to what was earned, "+say.MonthText(m.Month)+", "+a.Currency, &m.Earned); e.Table != nil {
		p.Exhibits = append(p.Exhibits, e)
	}
	p.Exhibits = slices.Concat(p.Exhibits, []Exhibit{a.monthBeside(all, at)}, a.findingExhibits(), a.changeExhibit(m.Month), a.costLines(m.Month), a.monthJobs(m.Month))
	p.Notes = a.monthNotes(m)
	return p
}

// monthAt is the place of the month to speak of: the one asked for, or the last
// that is over, or the one that is not; -1 where there is none.
func (a *Author) monthAt() int {
	months := a.f.Margin.Months
	if a.month != "" {
		return slices.IndexFunc(months, func(m money.Month) bool { return m.Month == a.month })
	}
	last := len(months) - 1
	if last > 0 && a.soFar(months[last].Month) != "" {
		last--
	}
	return last
}

func (a *Author) noMonth() string {
	months := a.f.Margin.Months
	switch {
	case len(months) == 0:
		return "The records cannot say what the jobs earned: no job has both a contract price and an actual cost."
	case a.month != "":
		return "No job with a price and a cost on record ended in " + say.MonthText(a.month) + "; those that are ended from " + say.MonthText(months[0].Month) + " to " + say.MonthText(months[len(months)-1].Month) + "."
	}
	return "No month is over yet."
}

// soFar marks the month that the data date falls into before its end.
func (a *Author) soFar(month string) string {
	d, err := record.ParseDate(a.f.AsOf)
	if err == nil && d.Month() == month && (d+1).Month() == month {
		return " so far"
	}
	return ""
}

// monthBeside is the month among those before it, with how far months swing.
func (a *Author) monthBeside(all []money.Month, at int) Exhibit {
	const most = 13 // a year and the same month of the year before
	shown := slices.Clone(all[max(0, at+1-most) : at+1])
	slices.Reverse(shown)
	return Exhibit{Title: "Beside other months", Says: a.controlSays(&a.f.Margin.Control, all[at].Month),
		Chart: a.controlChart("chart-month-control", &a.f.Margin.Control, shown), Table: a.monthTable("Margin by month, the latest first", shown)}
}

// controlSays puts a control chart's reading of a month in a sentence.
func (a *Author) controlSays(c *money.Control, month string) string {
	if c.Limits == nil {
		return "Whether this month is unusual cannot be said yet: " + c.Why + "."
	}
	s := a.usualSwing(c)
	i := slices.IndexFunc(c.Signals, func(s money.ControlSignal) bool { return s.Month == month })
	switch {
	case i < 0 && !slices.ContainsFunc(c.Points, func(p money.ControlPoint) bool { return p.Month == month }):
		return s + "; this month is not over, so it is not judged."
	case i < 0:
		return s + ": this month is nothing out of the ordinary."
	}
	return s + "; this month is " + strings.ReplaceAll(c.Signals[i].Rule, "the center", "the average") + ": " + c.Signals[i].Verdict + "."
}

// centsSigned is centsOf where the value may be below zero.
func (a *Author) centsSigned(pct float64) string {
	if math.Round(pct) < 0 {
		return "−" + a.CentsOf(pct)
	}
	return a.CentsOf(pct)
}

// changeExhibit says why the last full month earned more or less than the one
// before it.
func (a *Author) changeExhibit(month string) []Exhibit {
	c := &a.f.Margin.Change
	if c.To != month || !c.Profit.Known() {
		return nil
	}
	type row struct {
		says string
		f    figure.Figure
	}
	rows := []row{{"Change of what was earned", c.Profit}, {"by the amount of work", c.Work}, {"by the margin on each dollar of it", c.Rate}}
	more, reason := "more", "there was more work"
	if c.Profit.Value < 0 {
		more, reason = "less", "there was less work"
	}
	if math.Abs(c.Rate.Value) > math.Abs(c.Work.Value) {
		reason = "each dollar of work left " + more
	}
	return []Exhibit{{Title: "What changed since " + say.MonthText(c.From),
		Says: fmt.Sprintf("%s earned %s %s than %s, mostly because %s.", say.MonthText(c.To), a.At(a.Cash(), math.Abs(c.Profit.Value)), more, say.MonthText(c.From), reason),
		Table: TableOf("From "+say.MonthText(c.From)+" to "+say.MonthText(c.To)+", "+a.Currency, rows,
			wordsIn("Change", func(r row) string { return r.says }),
			numbers("Money", func(r row) say.Cell { return a.SumCell(r.f) }),
			counts("Jobs of both", func(r row) int { return r.f.N }))}}
}

// findingExhibits list the facts most worth money, where all topics were asked
// for.
func (a *Author) findingExhibits() []Exhibit {
	f := a.f
	if len(f.Findings) == 0 {
		return nil
	}
	type finding = findings.Finding
	return []Exhibit{{Title: "Worth most money now",
		Says: "Over the twelve months to " + say.AsOfText(f.AsOf) + ", whatever month this page speaks of.",
		Table: TableOf(say.Capital(say.Plural(len(f.Findings), "fact"))+", the one most worth looking into first", f.Findings,
			ColumnOf[finding]{Head: "Rank", Cell: func(f finding) say.Cell { return say.Whole(f.Rank) }},
			wordsIn("Fact", func(f finding) string { return a.Said(f.Sentence) }),
			numbers("Worth a year", func(f finding) say.Cell { return a.Cell(a.About(), f.Dollars) }),
			numbers("How sure, in 100", func(f finding) say.Cell { return say.Valued(sureText(f.Sure), f.Sure) }))}}
}

// sureText is a probability as a contractor says it, and never certain.
func sureText(p float64) string {
	switch n := math.Round(100 * p); {
	case n >= 100:
		return "over 99"
	case n <= 0:
		return "under 1"
	default:
		return say.Grouped(n, 0)
	}
}

func (a *Author) monthNotes(m *money.Month) []string {
	var notes []string
	switch hot, known := a.hotIn(m.Month); {
	case known == 0:
	case hot == 0:
		notes = append(notes, "No pour of the month dried fast enough for precautions ("+say.Count(known)+" with weather on record).")
	default:
		notes = append(notes, fmt.Sprintf("%s of %s of the month with weather on record dried fast enough for precautions.", say.Count(hot), say.Plural(known, "pour")))
	}
	if says := a.f.FindingsSay; says != "" && len(a.f.Findings) == 0 {
		notes = append(notes, a.Said(says))
	}
	if r, after := m.Reserve, m.AfterReserve; r.Known() && after.Known() && r.Value > 0 {
		notes = append(notes, "Callbacks that may still come from the month's pours would cost "+a.Long(a.About(), r)+", which would leave a margin of "+a.Value(marginPct, after)+".")
	}
	return append(notes, "A month of few jobs says little: one low month is no trend.")
}
