package bid

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"pourback/analysis/concrete"
	"pourback/analysis/figure"
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
	p := Price{Target: cmp.Or(w.spec.TargetMargin, set.TargetMargin), Certainty: cmp.Or(w.spec.Certainty, set.Certainty), ByCertainty: []PricePair{}, Basis: w.weakest()}
	usual := setting.DefaultBidPractice()
	w.resolve("target margin", "share of the price", w.spec.TargetMargin, nil, "", set.TargetMargin, usual.TargetMargin)
	w.resolve("certainty", "chance", w.spec.Certainty, nil, "", set.Certainty, usual.Certainty)
	p.Price = priceFor(w.draws.total, p.Target, p.Certainty)
	for _, c := range certainties {
		p.ByCertainty = append(p.ByCertainty, PricePair{c, priceFor(w.draws.total, p.Target, c)})
	}
	above, _ := slices.BinarySearchFunc(w.draws.total, p.Price, func(x, price float64) int {
		if x <= price {
			return -1
		}
		return 1
	})
	p.ChanceOfLoss = float64(len(w.draws.total)-above) / float64(len(w.draws.total))
	if p.Price > 0 {
		p.ExpectedMargin = (p.Price - w.b.Cost.Total.Mean) / p.Price
	}
	p.PerSqft = p.Price / w.b.AreaSqft.Figure.Value
	return p
}

// priceFor is the price in whole cents, rounded up, from sorted costs.
func priceFor(costs []float64, target, certainty float64) float64 {
	q, err := interval.Quantiles(costs, certainty)
	if err != nil {
		return 0
	}
	return math.Ceil(q[0]/(1-target)*100-1e-6) / 100
}

// conclude says the bid in a sentence or two.
func (b *Bid) conclude() {
	b.Answer = fmt.Sprintf("Ask %s: that keeps %.0f %% of the price %.0f times in 100, and %.1f %% on average. The job costs about %s (between %s and %s eight times in ten), %.0f person-hours and %.1f yd for %.1f neat.",
		figure.DollarWords(b.Price.Price), 100*b.Price.Target, 100*b.Price.Certainty, 100*b.Price.ExpectedMargin,
		figure.DollarWords(b.Cost.Total.Mean), figure.DollarWords(b.Cost.Total.P10), figure.DollarWords(b.Cost.Total.P90), b.Labor.Mean.Figure.Value, b.UsedYd.Mean, b.NeatYd.Figure.Value)
	for _, d := range b.Days {
		b.Answer += " " + d.says(len(b.Days) > 1)
	}
	switch b.Price.Basis.From {
	case FromRecords:
		b.Answer += " It stands on your own records."
	default:
		b.Answer += " It stands on common practice, for your records are too few yet: hours and yards may well be otherwise with your crew."
	}
	if len(b.Cost.Drivers) > 0 {
		d := b.Cost.Drivers[0]
		b.Answer += fmt.Sprintf(" What moves the cost most is %s: %s between its P10 and its P90.", d.Name, figure.DollarWords(d.swing()))
	}
}

// says is the order in words.
func (d Day) says(several bool) string {
	s := "Order"
	if several {
		s = fmt.Sprintf("On day %d order", d.Day)
	}
	s += fmt.Sprintf(" %.2f yd (%.0f %% over neat), which runs short %s", d.Order.Yd, 100*d.Order.Allowance, concrete.TimesIn100(d.Order.ChanceShort.Figure.Value))
	if d.Hold.Worth {
		s += fmt.Sprintf("; or %.2f yd and about %.2f held back until %.1f are down, which saves about %s", d.Hold.FirstYd, d.Hold.HoldYd, d.Hold.CallAtYd, figure.DollarWords(d.Hold.Saves))
	}
	return s + "."
}
