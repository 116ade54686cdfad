package bid

import (
	"cmp"
	"math"
	"slices"

	"pourback/analysis/setting"
	"pourback/analysis/stat/interval"
)

// certainties are those at which the price is shown.
var certainties = []float64{.5, .6, .7, .8, .9, .95}

// price is what has to be asked so that the margin reaches its target with the
// wanted certainty: with the cost X it is (price − X)/price ≥ target where X ≤
// (1 − target)·price, so the price is the certainty-quantile of X over 1 −
// target.
func (w *bidWork) price() Price {
	set := w.opt.Bid
	p := Price{Target: cmp.Or(w.spec.TargetMargin, set.TargetMargin), Certainty: cmp.Or(w.spec.Certainty, set.Certainty), Step: set.PriceStep, ByCertainty: []PricePair{}, Basis: w.weakest()}
	usual := setting.DefaultBidPractice()
	w.resolve(SetTarget, "share of the price", w.spec.TargetMargin, nil, "", set.TargetMargin, usual.TargetMargin)
	w.resolve(SetCertainty, "chance", w.spec.Certainty, nil, "", set.Certainty, usual.Certainty)
	k := w.load()
	prices := pricesFor(w.draws.total, p.Target, k, append([]float64{p.Certainty}, certainties...)...)
	p.Price = prices[0]
	p.Asked = math.Ceil(p.Price/set.PriceStep-1e-9) * set.PriceStep
	for i, c := range certainties {
		p.ByCertainty = append(p.ByCertainty, PricePair{c, prices[i+1]})
	}
	above, _ := slices.BinarySearchFunc(w.draws.total, p.Price, func(x, price float64) int {
		if x*k <= price {
			return -1
		}
		return 1
	})
	p.ChanceOfLoss = float64(len(w.draws.total)-above) / float64(len(w.draws.total))
	if p.Price > 0 {
		p.ExpectedMargin = (p.Price - w.b.Cost.Loaded.Mean) / p.Price
	}
	p.PerSqft = p.Price / w.b.AreaSqft.Figure.Value
	p.TurnedBy = w.turnedBy(p)
	return p
}

// pricesFor are the prices in whole cents, rounded up, by how certain they are to be, from
// sorted costs that bear overhead by a factor.
func pricesFor(costs []float64, target, load float64, certainties ...float64) []float64 {
	prices, err := interval.SortedQuantiles(costs, certainties...)
	if err != nil {
		return make([]float64, len(certainties))
	}
	for i, q := range prices {
		prices[i] = math.Ceil(q*load/(1-target)*100-1e-6) / 100
	}
	return prices
}
