package findings

import (
	"errors"

	"pourback/analysis/concrete"
	"pourback/analysis/figure"
	"pourback/ingest/record"
)

// concreteFindings say what the way of ordering costs: against the order of
// least expected cost where the overage is known well enough to make one, and
// what was left over in any case.
func concreteFindings(y *lastYear) []candidate {
	var out []candidate
	yards := y.each(func(p record.PlacementRow) (float64, bool) { return p.LeftoverYd().V, p.LeftoverYd().OK })
	if worth := yards.dollars(y.perYd); worth.Known() {
		out = append(out, sum("overage", "concrete", worth, Leftover{yards.sum, yards.events, yards.n}))
	}
	return append(out, orderFindings(y)...)
}

// mostOrders is how many of the year's placements are ordered anew; of more,
// every so-many-th.
const mostOrders = 200

// mostPourYd is the largest pour that is ordered anew.
const mostPourYd = 500

// orderFindings order the year's placements anew, by the rule of least expected
// cost, and say what that would have saved on average. The allowances are over
// neat, in all.
func orderFindings(y *lastYear) []candidate {
	if y.f.Overage == nil || y.f.Overage.Model == nil || y.f.Overage.All.N < figure.LeastForRate {
		return nil
	}
	var planned []int
	for _, i := range y.rows {
		if p := y.h.Placements.At(i); p.PlannedYd().Or(0) > 0 && p.Neat().Or(0) > 0 {
			planned = append(planned, i)
		}
	}
	step := max(1, (len(planned)+mostOrders-1)/mostOrders)
	orders := make([]reordered, (len(planned)+step-1)/step)
	figure.InParallel(len(orders), func(k int) { orders[k] = y.reorder(y.h.Placements.At(planned[k*step])) })
	saved := yearly{year: y}
	var neat, plan, best float64
	for _, o := range orders {
		if o.err == nil {
			saved.add(o.planned.Cost - o.best.Cost)
			neat, plan, best = neat+o.best.NeatYd, plan+o.planned.Yd, best+o.best.Yd
		}
	}
	worth := saved.dollars(float64(step))
	if !worth.Known() || !(neat > 0) {
		return nil
	}
	worth.Method = "expected cost of the order as planned less that of the best one, over placements of the last twelve months"
	return []candidate{gain("overage", "concrete", worth, Orders{plan/neat - 1, best/neat - 1})}
}

// reordered is what comes of a placement's order as planned, and of the best
// one.
type reordered struct {
	planned, best concrete.Order
	err           error
}

// errSlip is why a plan is left out: no order can be told from a slip of the
// pen that is half or twice the best one.
var errSlip = errors.New("a plan far from any order")

// reorder leaves out pours no single order is made for.
func (y *lastYear) reorder(p record.PlacementRow) (r reordered) {
	if p.Neat().V > mostPourYd {
		return reordered{err: errSlip}
	}
	next, err := y.f.Overage.Model.Next(concrete.Job{Use: figure.OrUnknown(p.Use()), Method: figure.OrUnknown(p.Method()), Base: figure.OrUnknown(p.Base()), NeatYd: p.Neat().V})
	if err != nil {
		return reordered{err: err}
	}
	if r.best, r.err = concrete.OrderFor(next, y.order); r.err != nil {
		return r
	}
	if planned := p.PlannedYd().V; planned < r.best.Yd/2 || planned > 2*r.best.Yd {
		return reordered{err: errSlip}
	}
	r.planned, r.err = concrete.OrderAt(next, y.order, p.PlannedYd().V)
	return r
}
