package bid

import (
	"math/rand/v2"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/ingest/record"
)

// callbackCost is what a callback costs: each of those on record, or a mean
// where they are few, and the goodwill with it.
type callbackCost struct {
	past     []float64
	mean     float64
	goodwill float64
}

func (c callbackCost) draw(rng *rand.Rand) float64 {
	if len(c.past) > 0 {
		return c.past[rng.IntN(len(c.past))] + c.goodwill
	}
	return c.mean*rng.ExpFloat64() + c.goodwill
}

// reserve is what callbacks within the warranty may cost. Their rate is taken as
// even over the warranty, by use, drawn towards the other uses.
func (w *bidWork) reserve() error {
	months, stated := cracks.WarrantyMonths(w.h)
	r := &w.b.Reserve
	warranty := sourced{w.opt.Bid.WarrantyMonths, asSet(w.opt.Bid.WarrantyMonths, setting.DefaultBidPractice().WarrantyMonths)}
	switch {
	case w.spec.WarrantyMonths > 0:
		warranty = sourced{w.spec.WarrantyMonths, inSpec}
	case stated:
		warranty = sourced{float64(months), Basis{From: FromRecords, N: w.h.Jobs.Len(), Of: OfJobs, By: ByMostCommon}}
	}
	w.setting(SetWarranty, "months", warranty)
	r.Months = number(warranty.value, "months", warranty.basis, "as given, or the most common")
	w.callback = w.callbackPast()
	years := warranty.value / 12
	groups := callbackGroups(w.h, years*cracks.DaysPerYear)
	expected, low, high := 0.0, 0.0, 0.0
	var law rateLaw
	bounded := true
	for _, s := range w.slabs {
		s.calls = lawOfRate(groups, s.Use, w.opt.Bid.CallbacksPerYear, OfWatched)
		law = s.calls
		expected += s.calls.Mean() * years
		e, err := s.calls.Interval(w.opt.Level)
		low, high, bounded = low+e.Low*years, high+e.High*years, bounded && err == nil
	}
	f := figure.Figure{Value: expected, Low: low, High: high, Level: w.opt.Level, N: law.basis.N, Method: "gamma-Poisson rate a placement-year × warranty", Bounded: bounded, OK: true}
	r.Callbacks = Number{f, "callbacks", law.basis}
	each, eachBasis := w.callback.mean+w.callback.goodwill, basis(len(w.callback.past), OfCallbacks, 0)
	r.EachCost = number(each, "$", eachBasis, "mean, with goodwill")
	r.Cost = Number{cracks.Scaled(f, each), "$", law.basis}
	return nil
}

// callbackPast are the costs of callbacks on record, of any kind, where there
// are enough.
func (w *bidWork) callbackPast() callbackCost {
	c := callbackCost{mean: w.opt.Steel.Callback, goodwill: w.opt.Steel.Goodwill}
	var past []float64
	for i := range w.h.Placements.Len() {
		if p := w.h.Placements.At(i); p.CallbackOn() != 0 && p.CallbackCost().OK {
			past = append(past, p.CallbackCost().V.Dollars())
		}
	}
	if len(past) >= figure.LeastForRate {
		c.past, c.mean = past, figure.SumOf(past)/float64(len(past))
	}
	b := basis(len(c.past), OfCallbacks, 0)
	w.setting(SetCallback, "$", sourced{c.mean, b})
	w.setting(SetGoodwill, "$", sourced{c.goodwill, asSet(c.goodwill, setting.DefaultSteelCosts().Goodwill)})
	return c
}

// callbackGroups are first callbacks of any kind within so many days of the
// pour, and the placement-years watched within them, by use.
func callbackGroups(h *record.History, within float64) map[string]rateGroup {
	groups := map[string]rateGroup{}
	if within <= 0 {
		return groups
	}
	for i := range h.Placements.Len() {
		p := h.Placements.At(i)
		days, called := cracks.ToCallback(p, h.AsOf, within)
		g := groups[figure.OrUnknown(p.Use())]
		if g.rows, g.exposure = g.rows+1, g.exposure+days/cracks.DaysPerYear; called {
			g.events++
		}
		groups[figure.OrUnknown(p.Use())] = g
	}
	return groups
}
