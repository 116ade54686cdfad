package page

import (
	"cmp"
	"fmt"
	"slices"

	"pourback/analysis/money"
	"pourback/ingest/record"
	"pourback/report/say"
)

// mostJobs is how many jobs a list shows.
const mostJobs = 15

// monthJobs lists the jobs of a month, the one farthest below its bid first.
func (a *Author) monthJobs(month string) []Exhibit {
	jobs := a.jobsWhere(func(j *money.Job) bool { return j.Last.Month() == month })
	if len(jobs) == 0 {
		return nil
	}
	return []Exhibit{{Title: "Job by job", Table: a.jobTable("Jobs that ended in "+say.MonthText(month)+", the farthest below its bid first", jobs)}}
}

// farthestJobs lists the jobs of the last year that fell farthest below their
// bids.
func (a *Author) farthestJobs() []Exhibit {
	from := a.yearBefore()
	jobs := a.jobsWhere(func(j *money.Job) bool { return j.Last > from && missed(j) > 0 })
	if len(jobs) == 0 {
		return nil
	}
	return []Exhibit{{Title: "Jobs farthest below their bids",
		Says:  say.Plural(len(jobs), "job") + " of the last twelve months cost more than bid; look there first.",
		Table: a.jobTable("Jobs of the last twelve months, the farthest below its bid first", jobs)}}
}

// yearBefore is the day after which the last twelve months begin.
func (a *Author) yearBefore() record.Date {
	d, err := record.ParseDate(a.f.AsOf)
	if err != nil {
		d = a.f.Last
	}
	return d - 365
}

// jobsWhere are the priced jobs for which it is so, the farthest below its bid
// first.
func (a *Author) jobsWhere(so func(*money.Job) bool) []*money.Job {
	var jobs []*money.Job
	for i := range a.f.Margin.Jobs {
		if j := &a.f.Margin.Jobs[i]; so(j) {
			jobs = append(jobs, j)
		}
	}
	slices.SortStableFunc(jobs, func(x, y *money.Job) int { return cmp.Compare(missed(y), missed(x)) })
	return jobs
}

func (a *Author) jobTable(caption string, jobs []*money.Job) *Table {
	type job = *money.Job
	t := TableOf(caption, jobs[:min(len(jobs), mostJobs)],
		ColumnOf[job]{Head: "Job", Cell: func(j job) say.Cell { return a.placed(j.JobNo, j.JobNo) }},
		wordsIn("Work", func(j job) string { return say.Clean(j.Use, say.LabelName) + followed(j) }),
		numbers("Area,"+a.Units.Area.Unit, func(j job) say.Cell { return a.Exact(a.Units.Area, j.AreaSqft) }),
		numbers("Revenue", func(j job) say.Cell { return a.MoneyCell(j.Revenue) }),
		numbers("Cost", func(j job) say.Cell { return a.MoneyCell(j.Cost) }),
		numbers("Against its bid", func(j job) say.Cell {
			if !j.BidCost.OK {
				return say.Unsaid("the job has no cost carried in its bid")
			}
			return a.MoneyCell(j.BidCost.V - j.Cost)
		}),
		wordsIn("Mostly", func(j job) string { return mainStep(j) }))
	if n := len(jobs) - mostJobs; n > 0 {
		t.More = "And " + say.Plural(n, "more job") + "."
	}
	return t
}

// followed marks a job that an earlier one brought.
func followed(j *money.Job) string {
	if j.FollowOn {
		return ", follow-on"
	}
	return ""
}

// mainStep names the step of a job's own bridge that led farthest where the job
// went.
func mainStep(j *money.Job) string {
	best, most, down := -1, record.Cents(0), j.Effects.Sum() < 0
	for s, cents := range j.Effects {
		if down {
			cents = -cents
		}
		if cents > most {
			best, most = s, cents
		}
	}
	switch {
	case best < 0 || !j.BidCost.OK:
		return "–"
	case down:
		return marginSteps[best].worse
	}
	return marginSteps[best].better
}

// costLines splits what jobs cost against their bids by their own lines of
// cost: those of a month, or where it is "" of the last twelve months. A job log
// has no such lines.
func (a *Author) costLines(month string) []Exhibit {
	span, from := "the last twelve months", a.yearBefore()
	if month != "" {
		span = say.MonthText(month)
	}
	var sum money.StandardCost
	jobs := 0
	for _, c := range a.f.Margin.StandardCosts() {
		if month == "" && c.Last > from || month != "" && c.Last.Month() == month {
			jobs++
			addCosts(&sum, &c)
		}
	}
	if jobs == 0 {
		return nil
	}
	type row struct {
		line, means string
		amount      record.Cents
	}
	rows := []row{
		{"Concrete, price", "dearer or cheaper concrete", sum.Concrete.Price},
		{"Concrete, thickness", "slabs thicker or thinner than drawn", sum.Concrete.Geometry},
		{"Concrete, use", "more or less concrete at that thickness", sum.Concrete.Use},
		{"Concrete, leftover", "paid for and not placed", sum.Concrete.Leftover},
		{"Labor, wage", "dearer or cheaper hours", sum.Labor.Price},
		{"Labor, hours", "more or fewer hours than bid", sum.Labor.Usage},
		{"Other lines, price", "dearer or cheaper units", sum.Items.Price},
		{"Other lines, quantity", "more or fewer units", sum.Items.Usage},
		{"Callbacks", "what they have cost so far", sum.Callback},
		{"Not split", "lines without quantities and prices", sum.Left},
		{"In all", "cost in the bids less cost", sum.Total},
	}
	worst := slices.MinFunc(rows[:len(rows)-1], func(x, y row) int { return cmp.Compare(x.amount, y.amount) })
	says := "By its own lines of cost nothing ran over."
	if worst.amount < 0 {
		says = fmt.Sprintf("By the company's own lines of cost most was lost to %s: %s.", say.Lower(worst.line), a.Money(-worst.amount))
	}
	return []Exhibit{{Title: "By lines of cost", Says: says,
		Table: TableOf("Cost against the bids by lines of cost, "+span+", "+say.Plural(jobs, "job"), rows,
			wordsIn("Line", func(r row) string { return r.line }),
			numbers("Money", func(r row) say.Cell { return a.MoneyCell(r.amount) }),
			wordsIn("What it is", func(r row) string { return r.means }))}}
}

// addCosts adds one job's variances to a sum, in exact cents.
func addCosts(sum, c *money.StandardCost) {
	sum.Concrete.Price += c.Concrete.Price
	sum.Concrete.Geometry += c.Concrete.Geometry
	sum.Concrete.Use += c.Concrete.Use
	sum.Concrete.Leftover += c.Concrete.Leftover
	sum.Labor.Price += c.Labor.Price
	sum.Labor.Usage += c.Labor.Usage
	sum.Items.Price += c.Items.Price
	sum.Items.Usage += c.Items.Usage
	sum.Callback += c.Callback
	sum.Left += c.Left
	sum.Total += c.Total
}
