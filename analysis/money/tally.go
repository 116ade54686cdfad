package money

import (
	"maps"
	"slices"

	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/ingest/record"
)

// tally adds up jobs in exact cents.
type tally struct {
	last              record.Date // of any of its jobs
	jobs              int
	revenue, cost     record.Cents
	bids              int          // jobs with the cost carried in their bid, of which:
	bidPrice, bidCost record.Cents // prices as signed
	effects           Effects
	known             [steps]int // jobs whose rows tell of the step
}

func (t *tally) add(j *Job) {
	t.last = max(t.last, j.Last)
	t.jobs++
	t.revenue += j.Revenue
	t.cost += j.Cost
	if !j.BidCost.OK {
		return
	}
	t.bids++
	t.bidPrice += j.Price
	t.bidCost += j.BidCost.V
	for s, cents := range j.Effects {
		t.effects[s] += cents
		if j.Known[s] {
			t.known[s]++
		}
	}
}

// MonthNumber counts months, twelve to a year from 0.
func MonthNumber(on record.Date) int {
	year, month, _ := on.Time().Date()
	return 12*year + int(month) - 1
}

// periods are tallies by the number of a month or a year.
type periods map[int]*tally

func (p periods) at(k int) *tally {
	t := p[k]
	if t == nil {
		t = &tally{}
		p[k] = t
	}
	return t
}

func (p periods) inOrder() []*tally {
	var out []*tally
	for _, k := range slices.Sorted(maps.Keys(p)) {
		out = append(out, p[k])
	}
	return out
}

// earned puts the sums into figures. Where jobs lack the cost carried in their
// bid, a whole refuses the comparison, and what is not (a year, all years)
// makes it over the others and says so.
func (t *tally) earned(rates setting.StandardRates, whole bool) Earned {
	e := Earned{Jobs: t.jobs, Revenue: t.revenue, Cost: t.cost}
	e.MarginPct = marginPct(t.revenue, t.cost, t.jobs, "(revenue − cost) / revenue")
	lacking := BidsLacking{Lacking: t.jobs - t.bids, Jobs: t.jobs}
	switch {
	case t.jobs == 0:
		e.refuse(figure.Unknown(NothingPriced{}))
		return e
	case t.bids == 0 || lacking.Lacking > 0 && whole:
		e.refuse(figure.Unknown(lacking))
		return e
	case lacking.Lacking == 0:
		e.BidCost = record.Some(t.bidCost)
	}
	e.BidMarginPct = marginPct(t.bidPrice, t.bidCost, t.bids, "(prices as signed − cost in the bids) / prices as signed")
	e.AgainstBid = figure.Total(t.effects.Sum().Dollars(), t.bids, "cost in the bids − cost + change orders")
	e.Bridge = t.bridge(rates)
	if lacking.Lacking > 0 {
		lacking.Compared = true
		e.AgainstBid.Why = lacking
		if e.BidMarginPct.Why == nil {
			e.BidMarginPct.Why = lacking
		}
	}
	return e
}

// refuse gives every comparison with the bids the same reason for having none.
func (e *Earned) refuse(why figure.Figure) {
	e.BidMarginPct, e.AgainstBid = why, why
	for _, f := range e.Bridge.steps() {
		*f = why
	}
}

func marginPct(revenue, cost record.Cents, jobs int, method string) figure.Figure {
	if revenue == 0 {
		return figure.Unknown(NoRevenue{})
	}
	return figure.Total(100*float64(revenue-cost)/float64(revenue), jobs, method)
}
