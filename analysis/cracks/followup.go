package cracks

import (
	"math"

	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/ingest/record"
)

const DaysPerYear = 365.25

// OneYear is the days within which the risk of a year counts.
const OneYear = 365

// followUp is how long a placement has been watched, in days, and whether the
// watch ended with a crack.
type followUp struct {
	days    float64
	cracked bool
}

// watch follows placement i to its first crack by the definition of event, or
// else to the data date (EventCallback) or the last visit (EventSeen).
func watch(h *record.History, i int, event string) followUp {
	p := h.Placements.At(i)
	if on := CrackOn(h, i, event); on != 0 {
		return followUp{float64(on - p.PlacedOn()), true}
	}
	return followUp{float64(lastLook(h, i, event) - p.PlacedOn()), false}
}

// lastLook is the day up to which a crack of placement i would be known.
func lastLook(h *record.History, i int, event string) record.Date {
	if event != setting.EventSeen {
		return h.AsOf
	}
	p := h.Placements.At(i)
	end := max(p.PlacedOn(), p.CallbackOn())
	if visits := h.VisitsOf(i); len(visits) > 0 {
		end = max(end, visits[len(visits)-1].SeenOn)
	}
	return end
}

// CrackOn is the day of placement i's crack event, or 0.
func CrackOn(h *record.History, i int, event string) record.Date {
	p := h.Placements.At(i)
	visits := h.VisitsOf(i)
	for j := range visits {
		v := &visits[j]
		if v.Finding == "crack" && v.SeenOn >= p.PlacedOn() && (event == setting.EventSeen || v.Callback()) {
			return v.SeenOn
		}
	}
	if p.CallbackKind() == "crack" {
		return p.CallbackOn()
	}
	return 0
}

// ToCallback follows a placement to its first callback, of whatever kind, for at
// most so many days; a pour of the data date counts for half a day.
func ToCallback(p record.PlacementRow, asOf record.Date, within float64) (days float64, called bool) {
	if on := p.CallbackOn(); on != 0 && on >= p.PlacedOn() && float64(on-p.PlacedOn()) <= within {
		return max(float64(on-p.PlacedOn()), halfDay), true
	}
	return max(min(float64(asOf-p.PlacedOn()), within), halfDay), false
}

// halfDay is how long a placement counts as watched on the day of its pour.
const halfDay = 0.5

// unmixed cuts a watch short at a callback of another kind that came before any
// crack: a log keeps the first callback only, and the repair changes the slab.
// Comparisons follow slabs so; counts and plain risks do not.
func (f followUp) unmixed(p record.PlacementRow) followUp {
	if p.CallbackOn() == 0 || p.CallbackKind() == "crack" {
		return f
	}
	if until := float64(p.CallbackOn() - p.PlacedOn()); until < f.days {
		return followUp{until, false}
	}
	return f
}

// What the answers about cracks assume.
const (
	Warranty     figure.Assumed = "warranty"
	CallbackCost figure.Assumed = "crack callback"
	RatioBelief  figure.Assumed = "ratio belief" // with few cracks, before the records speak
)

// CallbackCost is the mean cost of a crack callback, from the records where
// there are enough of them.
func (s *Slabs) CallbackCost(c setting.SteelCosts) figure.Assumption {
	paid := make([]float64, 0, len(s.callbackDollars))
	for _, d := range s.callbackDollars {
		if !math.IsNaN(d) {
			paid = append(paid, d)
		}
	}
	return figure.Entered(CallbackCost, figure.Dollar, c.Callback, c.PriceRange).Or(paid, figure.MeanOf)
}
