package bid

import (
	"slices"
	"time"

	"pourback/analysis/concrete"
	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/ingest/record"
)

// RunningShort is what it costs a day to call for a load that nobody planned,
// beside its concrete and short-load fee, in the currency's unit.
type RunningShort struct {
	Cost      float64 `json:"cost"`       // all of it
	Fee       float64 `json:"fee"`        // of the plant
	Crew      float64 `json:"crew"`       // waiting
	Pump      float64 `json:"pump"`       // waiting
	ColdJoint float64 `json:"cold_joint"` // its cost times the chance of one
	WaitMin   float64 `json:"wait_min"`   // from the call to the truck
	AsSet     bool    `json:"as_set"`     // Cost is the owner's setting, and the parts are 0
}

// truckTimes are what the coming of a truck rests on, in minutes.
type truckTimes struct {
	call    float64 // from the call to the site: batching and haul
	haul    float64 // from leaving the plant to the site
	open    float64 // that a fresh edge may wait on a day that dries as most do in the month
	openHot float64 // the same on one that dries fast
	hot     float64 // the chance of such a day
}

// warmMonths are those whose pours are taken to dry fast until the month's own
// records tell (common practice, no published source).
var warmMonths = [...]time.Month{time.May, time.June, time.July, time.August, time.September}

// seldomHot is the chance of a fast-drying day up to which nobody plans for one.
const seldomHot = 0.1

// truck is how long a truck takes from the call, and how long the edge waits.
func (w *bidWork) truck() truckTimes {
	p, usual := w.opt.Bid, setting.DefaultBidPractice()
	set := func(name SettingName, value, usual float64) float64 {
		return w.setting(name, "min", sourced{value, asSet(value, usual)}).value
	}
	haul := w.resolve(SetHaul, "min", w.spec.HaulMin, haulMinutes(w.h, w.opt.Pour.LoadMin), OfTickets, p.HaulMin, usual.HaulMin)
	t := truckTimes{call: haul.value + set(SetBatch, p.BatchMin, usual.BatchMin), haul: haul.value,
		open: set(SetEdge, p.EdgeOpenMin, usual.EdgeOpenMin), openHot: set(SetEdgeHot, p.EdgeOpenHotMin, usual.EdgeOpenHotMin)}
	if share := w.b.Weather.Share.Figure; share.Known() {
		t.hot = share.Value
	} else if slices.Contains(warmMonths[:], time.Month(w.month)) {
		t.hot = 1
	}
	return t
}

// coldJoint is the chance that an edge which waits so long is past joining.
func (t truckTimes) coldJoint(waitMin float64) float64 {
	switch {
	case waitMin > t.open:
		return 1
	case waitMin > t.openHot:
		return t.hot
	}
	return 0
}

// edge is how long it may wait: even on a day that dries fast where there are such
// days.
func (t truckTimes) edge() float64 {
	if t.hot > seldomHot {
		return min(t.open, t.openHot)
	}
	return t.open
}

// lastTruck is what a planned last load takes at so many minutes to place a yard.
func (t truckTimes) lastTruck(placeMin, waitPerMin float64) concrete.LastTruck {
	return concrete.LastTruck{CallMin: t.call, PlaceMin: placeMin, OpenMin: t.edge(), WaitPerMin: waitPerMin}
}

// haulMinutes are those from plant to site on record: from batching to arrival,
// less what a truck takes to load.
func haulMinutes(h *record.History, loadMin float64) (minutes []float64) {
	for i := range h.Loads {
		if l := &h.Loads[i]; l.BatchedAt != 0 && l.ArrivedAt > l.BatchedAt {
			minutes = append(minutes, max(0, float64(l.ArrivedAt-l.BatchedAt)/60-loadMin))
		}
	}
	return minutes
}

// waitPerMin is what a minute of the waiting crew costs, and of the pump where
// there is one.
func (w *bidWork) waitPerMin(pumped bool) (crew, pump float64) {
	if pumped {
		pump = w.prices["pump wait"].value / 60
	}
	return w.perMinute(), pump
}

// runningShort is the cost of an extra load, made up of its parts as long as the
// owner has not set it as a whole.
func (w *bidWork) runningShort(pumped bool) RunningShort {
	if set := w.opt.Order.ExtraLoad; set != setting.DefaultOrderCosts().ExtraLoad {
		return RunningShort{Cost: set, AsSet: true}
	}
	crew, pump := w.waitPerMin(pumped)
	wait := w.trucks.call
	s := RunningShort{Fee: w.opt.Bid.ExtraLoadFee, Crew: crew * wait, Pump: pump * wait, ColdJoint: w.opt.Bid.ColdJoint * w.trucks.coldJoint(wait), WaitMin: wait}
	s.Cost = figure.SumOf([]float64{s.Fee, s.Crew, s.Pump, s.ColdJoint})
	return s
}

// costsOf are the costs around an order of placements that are pumped, or not.
func (w *bidWork) costsOf(pumped bool) setting.OrderCosts {
	c := w.costs
	c.ExtraLoad = w.runningShort(pumped).Cost
	return c
}

// shortPrices are the settings of running short and of the last load, beside
// those of every order.
func (w *bidWork) shortPrices() {
	p, usual := w.opt.Bid, setting.DefaultBidPractice()
	w.trucks = w.truck()
	if set := w.opt.Order.ExtraLoad; set != setting.DefaultOrderCosts().ExtraLoad {
		w.setting(SetExtraLoad, "$", sourced{set, Basis{From: FromSetting}})
	} else {
		w.setting(SetExtraFee, "$", sourced{p.ExtraLoadFee, asSet(p.ExtraLoadFee, usual.ExtraLoadFee)})
		w.setting(SetColdJoint, "$", sourced{p.ColdJoint, asSet(p.ColdJoint, usual.ColdJoint)})
	}
	c, usualCosts := w.opt.Order, setting.DefaultOrderCosts()
	w.setting(SetHoldFrom, "$", sourced{c.HoldBackFrom, asSet(c.HoldBackFrom, usualCosts.HoldBackFrom)})
	if c.MostShort > 0 {
		w.setting(SetMostShort, "chance", sourced{c.MostShort, Basis{From: FromSetting}})
	}
}
