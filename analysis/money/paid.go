package money

import (
	"pourback/analysis/figure"
	"pourback/analysis/stat/resample"
	"pourback/ingest/record"
)

// paid is what a job's own lines of cost tell that no job log does, as effects
// on margin in exact cents.
type paid struct {
	price, wage, extra record.Cents // units and hours that cost more; work that was added after signing
	known              bool         // it has lines of cost, and a bid to hold them against
}

// paidOf is that of each job of the history; none where it has no lines of cost.
func (m *Margin) paidOf() []paid {
	h := m.h
	if len(h.Costs) == 0 {
		return nil
	}
	out := make([]paid, h.Jobs.Len())
	resample.Blocks(len(out), func() func(block, lo, hi int) {
		return func(_, lo, hi int) {
			for j := lo; j < hi; j++ {
				job, lines := h.Jobs.At(j), h.CostsOf(j)
				if len(lines) > 0 && job.BidCost().OK && job.ActualCost().OK {
					c := standardCost(h, j, lines)
					out[j] = paid{c.Concrete.Price + c.Items.Price, c.Labor.Price, c.Extra, true}
				}
			}
		}
	})
	return out
}

// paidFor is what the lines of cost of a job tell.
func (m *Margin) paidFor(j *Job) paid {
	if m.paid == nil {
		return paid{}
	}
	if all := m.paid(); j.at < len(all) {
		return all[j.at]
	}
	return paid{}
}

// by takes out of the steps of a job what its own lines of cost tell: what
// prices and wages did leaves other, and what added work cost is held against
// its pay.
func (p paid) by(e *Effects) {
	e[StepPrice] += p.price
	e[StepLaborRate] += p.wage
	e[StepChangeOrders] += p.extra
	e[StepOther] -= p.price + p.wage + p.extra
}

// Explained is the job with what its own lines of cost tell; a job log has none.
func (m *Margin) Explained(j *Job) *Job {
	p := m.paidFor(j)
	if !p.known {
		return j
	}
	told := *j
	p.by(&told.Effects)
	told.lines = true
	return &told
}

// InFull is what the jobs earned of which it is so, with the steps of the bridge
// that their own lines of cost tell beside what a job log does. Without such
// lines it is e. It is for the pages: the JSON may rest on nothing that a job
// log does not hold.
func (m *Margin) InFull(e Earned, so func(*Job) bool) Earned {
	if !e.AgainstBid.Known() {
		return e
	}
	var told Effects
	jobs := 0
	for i := range m.Jobs {
		if !so(&m.Jobs[i]) {
			continue
		}
		if p := m.paidFor(&m.Jobs[i]); p.known {
			jobs++
			p.by(&told)
		}
	}
	if jobs == 0 {
		return e
	}
	for s, cents := range told {
		f := e.steps()[s]
		switch Step(s) {
		case StepPrice, StepLaborRate:
			*f = figure.Total(cents.Dollars(), jobs, "lines of cost: −(paid − planned) × units or hours")
			if lacking := e.AgainstBid.N - jobs; lacking > 0 {
				f.Why = LinesLacking{Lacking: lacking, Jobs: e.AgainstBid.N}
			}
		default:
			f.Value = (figure.RoundCents(100*f.Value) + cents).Dollars()
		}
	}
	return e
}

// YearTo is what the jobs of the twelve months to and with one earned, in full;
// not known where the records do not reach so far back.
func (m *Margin) YearTo(month string) (e Earned, known bool) {
	last, err := record.ParseDate(month + "-01")
	if err != nil || len(m.Jobs) == 0 {
		return e, false
	}
	to := MonthNumber(last)
	within := func(j *Job) bool {
		n := MonthNumber(j.Last)
		return n > to-YearOfMonths && n <= to
	}
	var all tally
	first := to
	for i := range m.Jobs {
		j := &m.Jobs[i]
		if first = min(first, MonthNumber(j.Last)); within(j) {
			all.add(j)
		}
	}
	if first > to-YearOfMonths+1 {
		return e, false
	}
	return m.InFull(all.earned(m.Assumptions, false), within), true
}

// PaidKnown says whether lines of cost told what was paid: prices and wages.
func (b *Bridge) PaidKnown() bool {
	_, untold := b.Price.Why.(NoneTell)
	return b.Price.N > 0 && !untold
}

// Whole takes all jobs, for [Margin.InFull].
func Whole(*Job) bool { return true }

// InMonth takes the jobs of a month.
func InMonth(month string) func(*Job) bool {
	return func(j *Job) bool { return j.Last.Month() == month }
}

// InYear takes the jobs of a year.
func InYear(year string) func(*Job) bool {
	return func(j *Job) bool { return j.Last.String()[:len(year)] == year }
}
