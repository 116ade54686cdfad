package cracks

import (
	"math"

	"pourback/analysis/figure"
	"pourback/analysis/stat/survival"
)

// Curve is how many slabs of a kind have cracked by an age: 1 − Kaplan-Meier, or
// Turnbull's estimate where cracks are seen at visits. A nil curve knows nothing.
type Curve struct {
	km    *survival.KM
	looks *Between // nil where cracks are called about
	level float64  // of its limits
}

// roundAges are the ages in days at which a curve of cracks seen at visits has
// limits.
var roundAges = []float64{OneYear, 2 * OneYear, 3 * OneYear, 5 * OneYear, 7 * OneYear, 10 * OneYear, 15 * OneYear, 20 * OneYear, 25 * OneYear, 30 * OneYear, 40 * OneYear, 50 * OneYear}

// FewestWatched is how many slabs must still be watched for a curve to be shown.
const FewestWatched = 5

// Watched is how many slabs are still watched, and free of cracks, at an age in
// days.
func (c *Curve) Watched(day float64) int {
	if c == nil {
		return 0
	}
	return c.km.AtRiskAt(day)
}

// behind is how many slabs tell of an age: watched so long, or cracked before.
func (c *Curve) behind(day float64) int { return c.km.AtRiskAt(day) + c.km.EventsBy(day) }

// End is the age in days to which enough slabs are watched.
func (c *Curve) End() float64 {
	end := 0.0
	if c == nil {
		return end
	}
	for i := range c.km.Time {
		if c.km.AtRisk[i] >= FewestWatched {
			end = c.km.Time[i]
		}
	}
	return end
}

// CrackedBy is the share that has cracked by an age in days, where enough slabs
// are still watched.
func (c *Curve) CrackedBy(day float64) figure.Figure {
	seen := c != nil && c.looks != nil
	if seen {
		day = closedYear(day)
	}
	switch {
	case c.Watched(day) < FewestWatched:
		return figure.Unknown(FewWatched{})
	case seen:
		return c.looks.Risk(day)
	}
	return figure.Estimated(c.km.Risk(day, c.level))
}

// closedYear is the end of the year that a round age in days is about: looks
// close years of 365 days.
func closedYear(day float64) float64 {
	if years := math.Round(day / DaysPerYear); years >= 1 && math.Abs(day-years*DaysPerYear) < 1 {
		return years * OneYear
	}
	return day
}

// Step is the share that has cracked by an age, and how many are watched then.
type Step struct {
	Day     float64
	Cracked figure.Figure // without limits where they are not known
	Watched int
}

// Steps are those that the eye can tell apart: the first rise, each that stands
// out from the one before, and the end, as long as enough slabs are watched.
func (c *Curve) Steps() []Step {
	if c == nil {
		return nil
	}
	if c.looks != nil {
		return c.lookedSteps()
	}
	var steps []Step
	for _, i := range c.drawn() {
		s := Step{Day: c.km.Time[i], Watched: c.km.AtRisk[i]}
		if s.Cracked = figure.Estimated(c.km.Risk(s.Day, c.level)); !s.Cracked.Known() {
			s.Cracked = figure.Figure{Why: s.Cracked.Why, OK: true}
		}
		s.Cracked.Value = 1 - c.km.Survival[i]
		steps = append(steps, s)
	}
	return steps
}

// lookedSteps are those of an estimate between looks, each at the look by which
// its cracks had arisen.
func (c *Curve) lookedSteps() []Step {
	var steps []Step
	ages, shares := c.looks.Steps()
	end := c.End()
	for j, age := range ages {
		if age <= end {
			steps = append(steps, Step{Day: age, Watched: c.Watched(age), Cracked: figure.Total(shares[j], c.looks.OneOf, "Turnbull's estimate")})
		}
	}
	if n := len(steps); n > 0 && steps[n-1].Day < end {
		last := steps[n-1]
		last.Day, last.Watched = end, c.Watched(end)
		steps = append(steps, last)
	}
	return steps
}

// drawn are the places of the steps.
func (c *Curve) drawn() []int {
	const apart = 0.002
	var steps []int
	last, end := 1.0, -1
	for i := range c.km.Time {
		if c.km.AtRisk[i] < FewestWatched {
			break
		}
		end = i
		if last-c.km.Survival[i] > apart || c.km.Event[i] > 0 && len(steps) == 0 {
			steps, last = append(steps, i), c.km.Survival[i]
		}
	}
	if end >= 0 && (len(steps) == 0 || steps[len(steps)-1] != end) {
		steps = append(steps, end)
	}
	return steps
}
