package analysis

import (
	"fmt"
	"math"

	"pourback/analysis/stat/interval"
)

// orderSaid is what a rule orders for a placement, in yd, with what it says of
// the yards that will be used: its P80 and, where it has one, its 80 % interval.
type orderSaid struct {
	yd, p80, low, high float64
}

// orderRule learns from the past how to order.
type orderRule struct {
	name  string
	flat  bool
	learn func(w *backtestWork, past *overageRows) func(OverageJob) orderSaid
}

// orderRules are ours and those it is held against.
func orderRules(opt Options) []orderRule {
	rules := []orderRule{{name: "our rule", learn: func(w *backtestWork, past *overageRows) func(OverageJob) orderSaid {
		return w.byModel(past, opt.Overage)
	}}}
	for _, add := range []float64{.05, .10, .15} {
		rules = append(rules, orderRule{fmt.Sprintf("flat %.0f %%", 100*add), true, func(w *backtestWork, _ *overageRows) func(OverageJob) orderSaid {
			return func(job OverageJob) orderSaid { return w.adding(job, add) }
		}})
	}
	return append(rules,
		orderRule{"last year's mean", false, lastYearsMean},
		orderRule{"own 75th percentile", false, ownPercentile},
		orderRule{"no pooling", false, withoutPooling})
}

// adding is an order of neat and a share, to the next step.
func (w *backtestWork) adding(job OverageJob, share float64) orderSaid {
	step := w.costs.IncrementYd
	yd := job.NeatYd * (1 + share)
	return orderSaid{yd: math.Ceil(yd/step-1e-9) * step, p80: yd}
}

// byModel orders by the model of overage and least expected cost. Where that has
// no answer it is neat and a tenth, as any other owner would.
func (w *backtestWork) byModel(past *overageRows, priors OveragePriors) func(OverageJob) orderSaid {
	m, _, err := fitOverage(past, priors)
	if len(past.points) == 0 {
		m, err = overageBefore(priors)
	}
	return func(job OverageJob) orderSaid {
		if err != nil {
			return w.adding(job, .10)
		}
		next, err := m.Next(job)
		if err != nil {
			return w.adding(job, .10)
		}
		used := next.Used()
		said := orderSaid{p80: used.Quantile(.8), low: used.Quantile((1 - backtestLevel) / 2), high: used.Quantile((1 + backtestLevel) / 2)}
		order, err := OrderFor(next, w.costs)
		said.yd = order.Yd
		if err != nil {
			said.yd = w.adding(job, .10).yd
		}
		return said
	}
}

// lastYearsMean adds what the company as a whole used beyond neat in the year
// before, ΣU/ΣV − 1.
func lastYearsMean(w *backtestWork, past *overageRows) func(OverageJob) orderSaid {
	last := w.h.Placements[past.points[0].Index].PlacedOn
	for _, p := range past.points {
		last = max(last, w.h.Placements[p.Index].PlacedOn)
	}
	used, neat := 0.0, 0.0
	for _, p := range past.points {
		if w.h.Placements[p.Index].PlacedOn > last-priceDays {
			used, neat = used+p.Used, neat+p.Neat
		}
	}
	return func(job OverageJob) orderSaid { return w.adding(job, used/neat-1) }
}

// ownPercentile adds the 75th percentile of the overages of the same use, of all
// where those are few.
func ownPercentile(w *backtestWork, past *overageRows) func(OverageJob) orderSaid {
	byUse, all := map[string][]float64{}, []float64{}
	for i, p := range past.points {
		use := past.use.names[past.use.of[i]]
		byUse[use] = append(byUse[use], p.Ratio())
		all = append(all, p.Ratio())
	}
	return func(job OverageJob) orderSaid {
		ratios := byUse[job.Use]
		if len(ratios) < leastForRate {
			ratios = all
		}
		q, err := interval.Quantiles(ratios, .75)
		if err != nil {
			return w.adding(job, .10)
		}
		return w.adding(job, q[0])
	}
}

// withoutPooling orders as ours does, each use by its own records alone.
func withoutPooling(w *backtestWork, past *overageRows) func(OverageJob) orderSaid {
	rules := map[string]func(OverageJob) orderSaid{}
	return func(job OverageJob) orderSaid {
		if rules[job.Use] == nil {
			own := past.without(func(p OveragePlacement) bool { return orUnknown(w.h.Placements[p.Index].Use) != job.Use })
			rules[job.Use] = w.byModel(own, w.opt.Overage)
		}
		return rules[job.Use](job)
	}
}
