package findings

import (
	"pourback/analysis/backtest"
	"pourback/analysis/concrete"
	"pourback/analysis/figure"
	"pourback/analysis/stat"
	"pourback/ingest/record"
)

// concreteFindings say what the way of ordering costs: against the order of
// least expected cost where the overage is known well enough to make one, and
// what was left over in any case.
func concreteFindings(y *lastYear) []candidate {
	var out []candidate
	yards := y.each(func(p record.PlacementRow) (float64, bool) { return p.LeftoverYd().V, p.LeftoverYd().OK })
	if worth := yards.dollars(y.perYd); worth.Known() {
		out = append(out, y.asBooked(sum("overage", "concrete", worth, Leftover{yards.sum, yards.events, yards.n})))
	}
	return append(out, orderFindings(y)...)
}

// mostOrders is how many of the year's placements are ordered anew; of more,
// every so-many-th.
const mostOrders = 200

// orderFindings say what orders by the factors would have saved: what the
// backtest realised on the company's own past against its orders as made, and no
// more. What a law expects of an order made long ago would be more, since whoever
// made it had seen the job, and the law has not. The allowances are over neat, in
// all.
func orderFindings(y *lastYear) []candidate {
	r := y.f.AsOrdered
	if r == nil || y.f.Overage == nil || y.f.Overage.Model == nil || r.N < figure.LeastForRate || !r.YearlySaving.Known() {
		return nil
	}
	var planned []int
	for _, i := range y.rows {
		if p := y.h.Placements.At(i); p.PlannedYd().Or(0) > 0 && p.Neat().Or(0) > 0 {
			planned = append(planned, i)
		}
	}
	step := max(1, (len(planned)+mostOrders-1)/mostOrders)
	orders := make([]concrete.Order, (len(planned)+step-1)/step)
	stat.InParallel(len(orders), func(k int) { orders[k] = y.best(y.h.Placements.At(planned[k*step])) })
	var neat, plan, best float64
	for k, o := range orders {
		if as := y.h.Placements.At(planned[k*step]).PlannedYd().V; o.Yd > 0 && !backtest.Slip(as, o.Yd) {
			neat, plan, best = neat+o.NeatYd, plan+as, best+o.Yd
		}
	}
	if !(neat > 0) {
		return nil
	}
	return []candidate{gain("overage", "concrete", r.YearlySaving, Orders{plan/neat - 1, best/neat - 1})}
}

// best is the order of least expected cost for a placement; it is empty for pours
// that no single order is made for.
func (y *lastYear) best(p record.PlacementRow) concrete.Order {
	if p.Neat().V > backtest.MostPourYd {
		return concrete.Order{}
	}
	next, err := y.f.Overage.Model.Next(concrete.Job{Use: figure.OrUnknown(p.Use()), Method: figure.OrUnknown(p.Method()), Base: figure.OrUnknown(p.Base()), NeatYd: p.Neat().V})
	if err != nil {
		return concrete.Order{}
	}
	order, err := concrete.OrderFor(next, y.order)
	if err != nil {
		return concrete.Order{}
	}
	return order
}
