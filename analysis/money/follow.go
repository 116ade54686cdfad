package money

import (
	"pourback/analysis/figure"
	"pourback/analysis/stat/interval"
	"pourback/ingest/record"
)

// FollowOn is the jobs that were won from earlier ones: what a finished slab
// sold.
type FollowOn struct {
	Jobs           int           `json:"jobs"`      // won from an earlier job on record
	FromJobs       int           `json:"from_jobs"` // the jobs that led to them
	NotOnRecord    int           `json:"won_from_not_on_record"`
	Revenue        record.Cents  `json:"revenue"`
	ShareOfJobs    figure.Figure `json:"share_of_jobs"`
	ShareOfRevenue figure.Figure `json:"share_of_revenue"`
	PerJob         figure.Figure `json:"revenue_per_job"` // that a job has brought so far, a year and more after it
}

// settledAfter is the days after its last placement from which a job counts in
// FollowOn.PerJob: before, it has had little time to be seen.
const settledAfter = 365

// followOn follows won_from to jobs on record. A job that names itself, or one
// that is not there, was won from none.
func followOn(h *record.History, of []deviation, named map[string]int, level float64) FollowOn {
	f := FollowOn{}
	brought, led := make([]record.Cents, h.Jobs.Len()), make([]bool, h.Jobs.Len())
	won, revenue := make([]float64, 0, h.Jobs.Len()), make([]float64, 0, h.Jobs.Len( // of each priced job
	))
	for j := range h.Jobs.Len() {
		job := h.Jobs.At(j)
		price, here := job.Revenue(), 0.0
		switch from, found := wonFrom(named, job); {
		case job.WonFrom() == "" || job.WonFrom() == job.JobNo():
		case !found:
			f.NotOnRecord++
		default:
			f.Jobs++
			f.Revenue += price.V
			brought[from] += price.V
			led[from] = true
			here = price.V.Dollars()
		}
		if price.OK {
			won, revenue = append(won, here), append(revenue, price.V.Dollars())
		}
	}
	for _, yes := range led {
		if yes {
			f.FromJobs++
		}
	}
	f.estimate(h, of, level, won, revenue, brought)
	return f
}

func (f *FollowOn) estimate(h *record.History, of []deviation, level float64, won, revenue []float64, brought []record.Cents) {
	if h.Jobs.Len() < figure.LeastForRate {
		f.ShareOfJobs = figure.Unknown(FewJobs{Jobs: h.Jobs.Len()})
		f.ShareOfRevenue, f.PerJob = f.ShareOfJobs, f.ShareOfJobs
		return
	}
	f.ShareOfJobs = figure.Estimated(interval.Wilson(f.Jobs, h.Jobs.Len(), level))
	if all := figure.SumOf(revenue); all > 0 {
		share, err := interval.Ratio(won, revenue, level)
		f.ShareOfRevenue = figure.OrBare(share, err, figure.SumOf(won)/all, len(revenue), "ratio of totals")
	} else {
		f.ShareOfRevenue = figure.Unknown(NoPrices{})
	}
	var settled []float64
	for j := range h.Jobs.Len() {
		if h.AsOf-of[j].last >= settledAfter {
			settled = append(settled, brought[j].Dollars())
		}
	}
	if len(settled) < figure.LeastForRate {
		f.PerJob = figure.Unknown(FewSettledJobs{Jobs: len(settled)})
		return
	}
	mean, err := interval.MeanT(settled, level)
	f.PerJob = figure.OrBare(mean, err, figure.SumOf(settled)/float64(len(settled)), len(settled), "mean over jobs a year old and more")
}

// namedJobs are the jobs that others say they were won from, by number: their
// place among the jobs, or -1 where they are not on record.
func namedJobs(h *record.History) map[string]int {
	named := map[string]int{}
	for j := range h.Jobs.Len() {
		if from := h.Jobs.At(j).WonFrom(); from != "" {
			named[from] = -1
		}
	}
	if len(named) == 0 {
		return named
	}
	for j := range h.Jobs.Len() {
		if _, is := named[h.Jobs.At(j).JobNo()]; is {
			named[h.Jobs.At(j).JobNo()] = j
		}
	}
	return named
}

// wonFrom is the place of the job that led to job, if it is on record.
func wonFrom(named map[string]int, job record.JobRow) (int, bool) {
	if job.WonFrom() == "" || job.WonFrom() == job.JobNo() {
		return 0, false
	}
	from, found := named[job.WonFrom()]
	return from, found && from >= 0
}
