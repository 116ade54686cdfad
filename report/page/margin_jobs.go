package page

import (
	"pourback/analysis/money"
	"pourback/ingest/record"
	"pourback/report/say"
)

// mostJobs is how many jobs a list shows.
const mostJobs = 15

// monthJobs lists the jobs of a month, the one farthest below its bid first.
func (a *Author) monthJobs(month string) []Exhibit {
	jobs, w := a.f.Margin.JobsOf(month), say.Margin{Voice: a.Voice}
	if len(jobs) == 0 {
		return nil
	}
	return []Exhibit{{Title: w.JobByJob(), Table: a.jobTable(w.JobsCaption(month), jobs)}}
}

// farthestJobs lists the jobs of the last year that fell farthest below their
// bids.
func (a *Author) farthestJobs() []Exhibit {
	jobs, w := a.f.Margin.LateShort(), say.Margin{Voice: a.Voice}
	if len(jobs) == 0 {
		return nil
	}
	return []Exhibit{{Title: w.Farthest(), Says: w.FarthestSay(len(jobs)), Table: a.jobTable(w.FarthestCaption(), jobs)}}
}

func (a *Author) jobTable(caption string, jobs []*money.Job) *Table {
	type job = *money.Job
	w := say.Margin{Voice: a.Voice}
	t := firstOf(caption, jobs, mostJobs,
		ColumnOf[job]{Head: w.HeadJob(), Cell: func(j job) say.Cell { return a.placed(j.JobNo, j.JobNo) }},
		wordsIn(w.HeadWork(), w.Work),
		numbers(w.HeadArea(), func(j job) say.Cell { return a.Exact(a.Units.Area, j.AreaSqft) }),
		numbers(w.HeadRevenue(), func(j job) say.Cell { return a.MoneyCell(j.Revenue) }),
		numbers(w.HeadCost(), func(j job) say.Cell { return a.MoneyCell(j.Cost) }),
		numbers(w.HeadAgainst(), w.AgainstBid),
		wordsIn(w.HeadMostly(), func(j job) string { return w.Mostly(a.f.Margin.Explained(j)) }))
	if t.Left > 0 {
		t.More = w.MoreJobs(t.Left)
	}
	return t
}

// costLines splits what jobs cost against their bids by their own lines of
// cost: those of a month, or where it is "" of the last twelve months. A job log
// has no such lines.
func (a *Author) costLines(month string) []Exhibit {
	c, w := a.f.Margin.CostLinesOf(month), say.Margin{Voice: a.Voice}
	if c.Jobs == 0 {
		return nil
	}
	type row struct {
		line, means string
		amount      record.Cents
	}
	var rows []row
	for _, l := range c.Lines {
		rows = append(rows, row{say.Capital(w.CostLine(l.Line)), w.CostLineMeans(l.Line), l.Cost})
	}
	rows = append(rows, row{w.InAll(), w.InAllMeans(), c.Total})
	bridge := say.Bridge{Voice: a.Voice}
	return []Exhibit{{Title: w.Lines(), Says: w.LinesSay(c),
		Table: TableOf(w.LinesCaption(month, c.Jobs), rows,
			wordsIn(w.HeadLine(), func(r row) string { return r.line }),
			numbers(bridge.HeadMoney(), func(r row) say.Cell { return a.MoneyCell(r.amount) }),
			wordsIn(bridge.HeadMeans(), func(r row) string { return r.means }))}}
}
