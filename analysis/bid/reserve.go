package bid

import (
	"math/rand/v2"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/ingest/record"
)

// callbackCost is what a callback costs: one of those on record or the usual one,
// which counts as much as practiceCosts of them, and the goodwill with it.
type callbackCost struct {
	past     []float64
	usual    float64 // mean
	goodwill float64
}

// mean is drawn to the usual cost until the records carry it.
func (c callbackCost) mean() float64 {
	return (figure.SumOf(c.past) + practiceCosts*c.usual) / (float64(len(c.past)) + practiceCosts)
}

func (c callbackCost) draw(rng *rand.Rand) float64 {
	if i := rng.IntN(len(c.past) + practiceCosts); i < len(c.past) {
		return c.past[i] + c.goodwill
	}
	return c.usual*rng.ExpFloat64() + c.goodwill
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
		var err error
		if s.calls, err = lawOfRate(groups, s.Use, w.opt.Bid.CallbacksPerYear, OfWatched, w.like[s.Use]); err != nil {
			return err
		}
		law = s.calls
		expected += s.calls.Mean() * years
		e, err := s.calls.Interval(w.opt.Level)
		low, high, bounded = low+e.Low*years, high+e.High*years, bounded && err == nil
	}
	f := figure.Figure{Value: expected, Low: low, High: high, Level: w.opt.Level, N: law.basis.N, Method: "gamma-Poisson rate a placement-year × warranty", Bounded: bounded, OK: true}
	r.Callbacks = Number{f, "callbacks", law.basis}
	each, eachBasis := w.callback.mean()+w.callback.goodwill, basis(len(w.callback.past), OfCallbacks, 0)
	r.EachCost = number(each, "$", eachBasis, "mean, with goodwill")
	r.Cost = Number{cracks.Scaled(f, each), "$", law.basis}
	return nil
}

// callbackPast are the costs of callbacks on record, of any kind. What came back of
// one, a cost below nothing, is no cost.
func (w *bidWork) callbackPast() callbackCost {
	c := callbackCost{usual: w.opt.Steel.Callback, goodwill: w.opt.Steel.Goodwill}
	for i := range w.h.Placements.Len() {
		if p := w.h.Placements.At(i); p.CallbackOn() != 0 && p.CallbackCost().OK {
			c.past = append(c.past, max(0, p.CallbackCost().V.Dollars()))
		}
	}
	b := basis(len(c.past), OfCallbacks, 0)
	w.setting(SetCallback, "$", sourced{c.mean(), b})
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
