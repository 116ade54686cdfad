package backtest

import (
	"math"
	"sync"

	"gonum.org/v1/gonum/stat"

	"pourback/analysis/concrete"
	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/analysis/stat/decide"
	"pourback/analysis/stat/interval"
	"pourback/analysis/stat/score"
	"pourback/ingest/record"
)

// pastOrders is what was known on the first of a month.
type pastOrders struct {
	w      *walk
	model  *concrete.Model
	costs  setting.OrderCosts
	simple func() simplePast // what the simple rules go by, made when one first asks
}

// simplePast is what simple rules knew on the first of a month.
type simplePast struct {
	meanYear float64              // Σ used / Σ neat over the twelve months before, all of the past where it had none
	p75      float64              // 75th percentile of used/neat so far
	kinds    map[[2]int][]float64 // used/neat of each use and method so far
	all      []float64            // used/neat of all placements so far
}

// backtestRule is a way to order for a placement by what was known; NaN where
// it has nothing to say.
type backtestRule struct {
	name  Name
	order func(past *pastOrders, row int, job concrete.Job, next concrete.Predictive) float64
}

// The rules, ours first. A flat rule adds its share to the neat volume and
// rounds up to the step of an order.
var backtestRules = []backtestRule{
	{Factors, (*pastOrders).byFactors},
	{Flat5, flat(0.05)},
	{Flat10, flat(0.10)},
	{Flat15, flat(0.15)},
	{LastYear, (*pastOrders).byLastYear},
	{P75, (*pastOrders).byP75},
	{NoPooling, (*pastOrders).byKindAlone},
	{AsOrdered, (*pastOrders).asOrdered},
}

func flat(share float64) func(*pastOrders, int, concrete.Job, concrete.Predictive) float64 {
	return func(p *pastOrders, _ int, job concrete.Job, _ concrete.Predictive) float64 {
		return p.roundUp(job.NeatYd * (1 + share))
	}
}

func (p *pastOrders) roundUp(yd float64) float64 {
	return math.Ceil(yd/p.costs.IncrementYd-1e-9) * p.costs.IncrementYd
}

// MostPourYd is the largest pour that a single order is made for.
const MostPourYd = 500

// mostLearned bounds the rows that a month's orders are learned from; of more,
// evenly taken ones do as well.
const mostLearned = 20_000

// past fits what was known before a month.
func (w *walk) past(split score.Split) *pastOrders {
	known := w.rows.Before(split.From).AtMost(mostLearned)
	p := &pastOrders{w: w, costs: w.opt.Order, simple: sync.OnceValue(func() simplePast { return w.simplePast(split, known) })}
	p.model, _, _ = concrete.FitRows(known, w.opt.Overage) // rows that exist can be fitted
	return p
}

func (w *walk) simplePast(split score.Split, known *concrete.Rows) simplePast {
	p := simplePast{kinds: map[[2]int][]float64{}}
	on := w.h.Placements.At(w.rows.Points[split.From].Index).PlacedOn()
	first := on - record.Date(on.Time().Day()-1) // of the month
	var used, neat, usedYear, neatYear float64
	for i, pt := range known.Points {
		used, neat = used+pt.Used, neat+pt.Neat
		if w.h.Placements.At(pt.Index).PlacedOn() >= first-cracks.OneYear {
			usedYear, neatYear = usedYear+pt.Used, neatYear+pt.Neat
		}
		kind := [2]int{known.Use.Of[i], known.Method.Of[i]}
		p.kinds[kind] = append(p.kinds[kind], pt.Used/pt.Neat)
		p.all = append(p.all, pt.Used/pt.Neat)
	}
	if p.meanYear = usedYear / neatYear; neatYear == 0 {
		p.meanYear = used / neat
	}
	if q, err := interval.Quantiles(p.all, 0.75); err == nil {
		p.p75 = q[0]
	}
	return p
}

func (p *pastOrders) byFactors(_ int, _ concrete.Job, next concrete.Predictive) float64 {
	best, err := concrete.OrderFor(next, p.costs)
	if err != nil {
		return p.roundUp(next.NeatYd * (1 + next.Ratio.Quantile(0.80))) // a need too unsure for the rule
	}
	return best.Yd
}

func (p *pastOrders) byLastYear(_ int, job concrete.Job, _ concrete.Predictive) float64 {
	return p.roundUp(job.NeatYd * p.simple().meanYear)
}

func (p *pastOrders) byP75(_ int, job concrete.Job, _ concrete.Predictive) float64 {
	return p.roundUp(job.NeatYd * p.simple().p75)
}

// byKindAlone orders by the kind's own ratios as a normal law, or by those of
// all placements where the kind has fewer than leastForRate.
func (p *pastOrders) byKindAlone(row int, job concrete.Job, _ concrete.Predictive) float64 {
	r, past := p.w.rows, p.simple()
	ratios := past.kinds[[2]int{r.Use.Of[row], r.Method.Of[row]}]
	if len(ratios) < figure.LeastForRate {
		ratios = past.all
	}
	mean, sd := stat.MeanStdDev(ratios, nil)
	u, err := decide.Normal(mean*job.NeatYd, max(concrete.LeastSpread, sd)*job.NeatYd)
	if err != nil {
		return p.roundUp(job.NeatYd * mean)
	}
	best, err := concrete.OrderAtOnce(p.costs, u, sd*job.NeatYd)
	if err != nil {
		return p.roundUp(job.NeatYd * mean)
	}
	return best.Quantity
}

func (p *pastOrders) asOrdered(row int, _ concrete.Job, _ concrete.Predictive) float64 {
	planned := p.w.h.Placements.At(p.w.rows.Points[row].Index).PlannedYd()
	if !planned.OK || planned.V <= 0 || p.w.rows.Points[row].Neat > MostPourYd {
		return math.NaN()
	}
	return planned.V
}
