package steel

import (
	"fmt"
	"math"

	"pourback/analysis/figure"
	"pourback/analysis/stat/decide"
)

// Needed is what it takes to answer the question that is still open: with
// records like those there are, and where mesh and rebar take turns.
type Needed struct {
	PlacementsNeeded  figure.Figure `json:"placements_needed"`
	YearsNeeded       figure.Figure `json:"years_needed"` // at the present pace
	PlacementsInTurns figure.Figure `json:"placements_needed_alternated"`
	YearsInTurns      figure.Figure `json:"years_needed_alternated"`
}

func (n *Needed) figures() []*figure.Figure {
	return []*figure.Figure{&n.PlacementsNeeded, &n.YearsNeeded, &n.PlacementsInTurns, &n.YearsInTurns}
}

// leftOut leaves a sample size out that is not asked for any more.
func (n *Needed) leftOut(why figure.Reason) {
	for _, f := range n.figures() {
		*f = figure.Unknown(why)
	}
}

// needed says how many placements would show a ratio at which rebar just pays,
// and how long that takes. Where the range of the ratio already leaves
// break-even out, chance is ruled out and only what was not recorded is open.
func (c choice) needed(e effect, even figure.Figure) Needed {
	var n Needed
	if !even.Known() {
		n.leftOut(even.Why)
		return n
	}
	n.PlacementsInTurns, n.YearsInTurns = c.sample(even.Value, 0, 0.5)
	n.PlacementsNeeded, n.YearsNeeded = c.sample(even.Value, e.bias, c.share)
	if e.ratio.Bounded && (e.ratio.Low > even.Value || e.ratio.High < even.Value) {
		n.PlacementsNeeded, n.YearsNeeded = figure.Unknown(RangeAnswers{}), figure.Unknown(RangeAnswers{})
	}
	if e.alternated {
		n.PlacementsInTurns, n.YearsInTurns = figure.Unknown(InTurnsAlready{}), figure.Unknown(InTurnsAlready{})
	}
	return n
}

// sample is how many placements would show a ratio against such a bias.
func (c choice) sample(ratio, bias, share float64) (placements, years figure.Figure) {
	events, err := decide.SchoenfeldEvents(ratio, share, decide.Test{Alpha: 1 - c.level, Power: c.costs.Power, BiasSD: bias})
	if err == nil && math.IsInf(events, 1) {
		return figure.Unknown(OnlyTurnsTell{}), figure.Unknown(OnlyTurnsTell{})
	}
	n := 0.0
	if err == nil {
		n, err = decide.PlacementsFor(events, c.risk)
	}
	if err != nil {
		return figure.Unknown(figure.ReasonOf(err)), figure.Unknown(figure.ReasonOf(err))
	}
	placements = figure.Total(math.Ceil(n), c.events, fmt.Sprintf("Schoenfeld 1983, to show break-even with power %g", c.costs.Power))
	years = figure.Total(n/c.pace, c.events, "placements needed at the present pace")
	if c.pace == 0 {
		years = figure.Unknown(NoneLately{})
	}
	return placements, years
}

// Missing says how many more placements, and years at the present pace, it takes
// until the records can show a difference that would just pay for rebar. None,
// and not enough: the slabs are there and have to grow older.
func (m MeshVsRebar) Missing() (placements, years float64, enough bool) {
	if enough = m.Detectable.Known() && math.Abs(math.Log(m.BreakEven.Value)) >= math.Log(m.Detectable.Value); enough {
		return 0, 0, true
	}
	placements = max(0, m.PlacementsNeeded.Value-float64(m.Mesh+m.Rebar))
	return placements, m.YearsNeeded.Value * placements / m.PlacementsNeeded.Value, false
}
