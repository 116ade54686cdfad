package money

import (
	"cmp"
	"math"
	"slices"

	"pourback/ingest/record"
)

// At is the place among the months of one to speak of: the one asked for, or
// where that is "" the last that is over, or the only one; -1 where there is
// none.
func (m *Margin) At(asked string) int {
	if asked != "" {
		return slices.IndexFunc(m.Months, func(month Month) bool { return month.Month == asked })
	}
	last := len(m.Months) - 1
	if last > 0 && m.Months[last].Month == m.Open {
		last--
	}
	return last
}

// leastTold is the share of revenue from which a step is worth a word, and
// mostTold how many steps are named.
const (
	leastTold = 0.005
	mostTold  = 2
)

// Gap is how far the margin lies from the one in the bids, in whole points of
// revenue as both are shown: below 0 where less was kept than bid. It is not
// known where either is not.
func (e *Earned) Gap() (points int, known bool) {
	if !e.MarginPct.Known() || !e.BidMarginPct.Known() {
		return 0, false
	}
	return int(math.Round(e.MarginPct.Value) - math.Round(e.BidMarginPct.Value)), true
}

// Mostly are the one or two largest steps that led where the margin went; none
// where it came out as bid.
func (e *Earned) Mostly() []Step {
	gap, known := e.Gap()
	if !known || gap == 0 {
		return nil
	}
	all := Steps()
	slices.SortStableFunc(all, func(a, b Step) int {
		return cmp.Compare(math.Abs(e.Step(b).Value), math.Abs(e.Step(a).Value))
	})
	var told []Step
	for _, s := range all {
		v := e.Step(s)
		if v.Known() && v.Value*float64(gap) > 0 && math.Abs(v.Value) >= leastTold*e.Revenue.Dollars() && len(told) < mostTold {
			told = append(told, s)
		}
	}
	return told
}

// MainStep is the step of a job's own bridge that led farthest where the job
// went, and whether that was to the better; it is not known without a bid, or
// where nothing moved.
func (j *Job) MainStep() (main Step, better, known bool) {
	most, down := record.Cents(0), j.Effects.Sum() < 0
	for i, cents := range j.Effects {
		if down {
			cents = -cents
		}
		if cents > most {
			main, most = Step(i), cents
		}
	}
	return main, !down, most > 0 && j.BidCost.OK
}

// AgainstBid is the margin of a job with a bid less the one in its bid.
func (j *Job) AgainstBid() record.Cents { return (j.Revenue - j.Cost) - (j.Price - j.BidCost.V) }

// Short is how far a job fell short of its bid, the least there is where it has
// none.
func (j *Job) Short() record.Cents {
	if !j.BidCost.OK {
		return math.MinInt64
	}
	return -j.AgainstBid()
}

// JobsWhere are the priced jobs for which it is so, the farthest below its bid
// first.
func (m *Margin) JobsWhere(so func(*Job) bool) []*Job {
	var jobs []*Job
	for i := range m.Jobs {
		if j := &m.Jobs[i]; so(j) {
			jobs = append(jobs, j)
		}
	}
	slices.SortStableFunc(jobs, func(x, y *Job) int { return cmp.Compare(y.Short(), x.Short()) })
	return jobs
}

// JobsOf are those that ended in a month.
func (m *Margin) JobsOf(month string) []*Job {
	return m.JobsWhere(func(j *Job) bool { return j.Last.Month() == month })
}

// LateShort are those of the last twelve months that earned less than bid.
func (m *Margin) LateShort() []*Job {
	from := m.yearBefore()
	return m.JobsWhere(func(j *Job) bool { return j.Last > from && j.Short() > 0 })
}

// yearBefore is the day after which the last twelve months begin.
func (m *Margin) yearBefore() record.Date {
	if m.h == nil {
		return 0
	}
	return m.h.AsOf - 365
}
