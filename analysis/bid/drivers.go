package bid

import (
	"cmp"
	"math"
	"slices"

	"pourback/analysis/figure"
	"pourback/analysis/stat/interval"
)

// driver is one thing that is not known: its unit, what it stands on, and how to
// set it in a state to one of its quantiles.
type driver struct {
	name  Unsure
	unit  string
	basis Basis
	at    [3]float64 // P10, P50, P90
	set   func(*bidState, float64)
}

// drivers are the bars of the tornado: the cost with one thing at its P10 and at
// its P90, all others at their medians.
func (w *bidWork) drivers(states []bidState) []Driver {
	all := w.driversOf(states)
	w.unsure = all
	median := func() bidState {
		s := bidState{yards: make([]float64, len(w.slabs))}
		for _, d := range all {
			d.set(&s, d.at[1])
		}
		return s
	}
	mid := w.totalOf(median())
	out := []Driver{}
	for _, d := range all {
		if d.at[0] == d.at[2] {
			continue
		}
		low, high := median(), median()
		d.set(&low, d.at[0])
		d.set(&high, d.at[2])
		out = append(out, Driver{Name: d.name, Unit: d.unit, Basis: d.basis, AtP10: d.at[0], AtP90: d.at[2], Low: w.totalOf(low), Mid: mid, High: w.totalOf(high)})
	}
	slices.SortStableFunc(out, func(a, b Driver) int { return cmp.Compare(b.Swing(), a.Swing()) })
	return out
}

// Swing is the length of the bar. Fewer yards than ordered cost too: the least
// may lie at the medians.
func (d Driver) Swing() float64 { return max(d.Low, d.Mid, d.High) - min(d.Low, d.Mid, d.High) }

func (w *bidWork) totalOf(s bidState) float64 {
	sum := 0.0
	for _, v := range w.costOf(s) {
		sum += v
	}
	return sum + w.fixed()
}

// driversOf are what is drawn, with the quantiles of the draws. Yards move
// together on all days and in all placements, as shares of neat volume.
func (w *bidWork) driversOf(states []bidState) []driver {
	neat := w.b.NeatYd.Figure.Value
	xs := make([]float64, len(states))
	quantiles := func(of func(*bidState) float64) (at [3]float64) {
		for i := range states {
			xs[i] = of(&states[i])
		}
		if q, err := interval.QuantilesInPlace(xs, .1, .5, .9); err == nil {
			copy(at[:], q)
		}
		return at
	}
	out := []driver{
		{UnsureYards, "yd", w.volumeBasis(), quantiles(func(s *bidState) float64 { return figure.SumOf(s.yards) }), func(s *bidState, v float64) {
			for i, slab := range w.slabs {
				s.yards[i] = v * slab.neatYd / neat
			}
		}},
		{UnsureHours, "person-hours", w.hoursBasis(), quantiles(func(s *bidState) float64 { return s.hours }), func(s *bidState, v float64) { s.hours = v }},
		{UnsureClogs, "min", w.b.Delay.ClogMin.Basis, quantiles(func(s *bidState) float64 { return s.clogMin }), func(s *bidState, v float64) { s.clogMin = v }},
		{UnsureDelays, "min", w.b.Delay.OtherMin.Basis, quantiles(func(s *bidState) float64 { return s.otherMin }), func(s *bidState, v float64) { s.otherMin = v }},
		{UnsureCallbacks, "$", w.b.Reserve.Callbacks.Basis, quantiles(func(s *bidState) float64 { return s.callbacks }), func(s *bidState, v float64) { s.callbacks = v }},
		{UnsureLean, "%", basis(w.b.Lean.Bids, OfRebid, 0), quantiles(func(s *bidState) float64 { return 100 * math.Expm1(s.lean) }), func(s *bidState, v float64) { s.lean = math.Log1p(v / 100) }},
	}
	return out
}
