package concrete

import (
	"slices"

	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/analysis/stat"
	"pourback/analysis/stat/interval"
	"pourback/ingest/record"
)

// OwnCosts are the order's costs with the company's own prices put in, where
// its lines of cost tell them, and how many kinds of job they change the order
// of. A job log has no lines of cost, and both forms of a history have to give
// the same figures: so the answers stand on the settings, and this is for the
// pages and for bids.
type OwnCosts struct {
	Costs  setting.OrderCosts
	Told   []ToldPrice // what the records told
	Orders int         // kinds whose order is another one at these costs
}

// ToldPrice is a price by the yard that the company has paid: the median of so
// many lines of cost.
type ToldPrice struct {
	Item  string // of the lines of cost: concrete, or disposal of what is left over
	Price float64
	Lines int
}

// PriceDays is how far back prices are looked for; leastForRate of them are
// wanted, else all are taken.
const PriceDays = 365

// OrderCostsOf are the costs with the median price of concrete and of disposal
// by the yard that the company has paid in the last year, where it has lines of
// cost enough, with what they told.
func OrderCostsOf(h *record.History, c setting.OrderCosts) (setting.OrderCosts, []ToldPrice) {
	c = c.Filled()
	var told []ToldPrice
	for _, item := range []struct {
		name string
		to   *float64
	}{{"concrete", &c.PricePerYd}, {"disposal", &c.DisposalPerYd}} {
		rates := RecentRates(h, item.name)
		if len(rates) < figure.LeastForRate {
			continue
		}
		median, err := interval.Quantiles(rates, 0.5)
		if err != nil || !(median[0] > 0) {
			continue
		}
		*item.to = median[0]
		told = append(told, ToldPrice{item.name, median[0], len(rates)})
	}
	return c, told
}

// RecentRates are the actual rates by the yard of an item of cost over the last
// year, or over all years where those are few.
func RecentRates(h *record.History, item string) []float64 {
	var recent, all []float64
	for j := range h.Jobs.Len() {
		last := record.Date(0)
		for _, c := range h.CostsOf(j) {
			if c.Item != item || !c.ActualRate.OK || c.ActualRate.V <= 0 || !byTheYard(c.Unit) {
				continue
			}
			if last == 0 {
				from, to := h.PlacementsOf(j)
				for i := from; i < to; i++ {
					last = max(last, h.Placements.At(i).PlacedOn())
				}
			}
			rate := c.ActualRate.V.Dollars()
			all = append(all, rate)
			if last > h.AsOf-PriceDays {
				recent = append(recent, rate)
			}
		}
	}
	if len(recent) >= figure.LeastForRate {
		return recent
	}
	return all
}

func byTheYard(unit string) bool {
	return slices.Contains([]string{"yd", "yds", "yd3", "yd³", "cy", "cu yd", "yard", "yards", "cubic yard", "cubic yards"}, record.Fold(unit))
}

// own makes the orders of the kinds again at the company's own prices.
func (w *overageWork) own(groups []Group) OwnCosts {
	costs, told := OrderCostsOf(w.h, w.costs)
	own := OwnCosts{Costs: costs, Told: told}
	if costs == w.costs {
		return own
	}
	changed := make([]bool, len(groups))
	stat.InParallel(len(groups), func(k int) {
		order, err := w.model.order(groups[k].job(), costs)
		changed[k] = err == nil && order.Yd != groups[k].OrderYd.Value
	})
	for _, c := range changed {
		if c {
			own.Orders++
		}
	}
	return own
}
