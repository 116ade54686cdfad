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

// Mostly are the one or two largest steps that a job log tells of and that led
// where the margin went; none where it came out as bid. What is paid for added
// work is no gain before its cost is known, which stands in other.
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
		if s != StepOther && s != StepChangeOrders && v.Known() && v.Value*float64(gap) > 0 && math.Abs(v.Value) >= leastTold*e.Revenue.Dollars() && len(told) < mostTold {
			told = append(told, s)
		}
	}
	return told
}

// Unexplained is the money that led where the margin went and that no step tells
// of, what was paid for added work held against it; 0 where it is too little for
// a word.
func (e *Earned) Unexplained() float64 {
	left := e.Other.Value + e.ChangeOrders.Value
	if gap, known := e.Gap(); !known || left*float64(gap) <= 0 || math.Abs(left) < leastTold*e.Revenue.Dollars() {
		return 0
	}
	return math.Abs(left)
}

// Diluted is how many points of percent lie between the margin and the one in the
// bids for no money that any step tells: change orders change the revenue that
// both are shares of. Points earned less points bid = 100 × AgainstBid/Revenue +
// Diluted, where every job has a bid.
func (e *Earned) Diluted() float64 {
	if e.Revenue == 0 || !e.BidCost.OK || !e.BidMarginPct.Known() || !e.ChangeOrders.Known() {
		return 0
	}
	return -e.BidMarginPct.Value * e.ChangeOrders.Value / e.Revenue.Dollars()
}

// AsBidInMoney says whether the money earned is what the bids meant to earn, but
// for too little for a word.
func (e *Earned) AsBidInMoney() bool {
	return e.AgainstBid.Known() && math.Abs(e.AgainstBid.Value) < leastTold*e.Revenue.Dollars()
}

// AgainstUsual is how far a month's margin lies from the usual one, the center of
// the chart, in whole points as both are shown; it is not known without a chart.
func (m *Margin) AgainstUsual(month *Month) (points int, known bool) {
	c := &m.Control
	if c.Limits == nil || !month.MarginPct.Known() {
		return 0, false
	}
	return int(math.Round(month.MarginPct.Value) - math.Round(c.Center.Value)), true
}

// MainStep is the step of a job's own bridge that led farthest where the job
// went, and whether that was to the better; it is not known without a bid, or
// where nothing moved.
func (j *Job) MainStep() (main Step, better, known bool) {
	most, down, effects := record.Cents(0), j.Effects.Sum() < 0, j.Effects
	if !j.lines { // what added work cost stands in other
		effects[StepOther] += effects[StepChangeOrders]
		effects[StepChangeOrders] = 0
	}
	for i, cents := range effects {
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
