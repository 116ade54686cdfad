package page

import (
	"pourback/analysis/cracks"
	"pourback/report/chart"
	"pourback/report/say"
)

// mostCurves is how many curves can be told apart with their ranges shaded.
const mostCurves = 3

// crackCurves follows each reinforcement from the pour on.
func crackCurves(w say.Cracks, c *cracks.Cracks) Exhibit {
	plot := chart.SurvivalPlot{ID: "chart-curves", Says: w.CurvesChart(c), Across: w.YearsAxis(), Up: w.CrackedAxis(c), Watched: w.StillWatched(), Undrawn: w.NoCurves(), And: w.List}
	common := most(c.Reinforcements, func(r cell) int { return r.Placements })
	for _, r := range c.Reinforcements {
		if r.Placements >= common[min(len(common), mostCurves)-1].Placements {
			plot.Curves = append(plot.Curves, namedCurve(w, r))
		}
	}
	return Exhibit{Title: w.CurvesTitle(), Table: curveTable(w, c), Chart: plot.Chart()}
}

// namedCurve is the curve of one kind, with no steps where too few are watched.
func namedCurve(w say.Cracks, r cell) chart.NamedCurve {
	name := w.Made(r.Reinforcement)
	c := chart.NamedCurve{Name: name, Hue: chart.HueOf(r.Reinforcement), Start: w.PourTip(name), End: r.Curve.End() / chart.DaysPerYear,
		Watched: func(age float64) int { return r.Curve.Watched(age * chart.DaysPerYear) }}
	for _, s := range r.Curve.Steps() {
		age := s.Day / chart.DaysPerYear
		c.Steps = append(c.Steps, chart.CurveStep{Age: age, Share: s.Cracked, Tip: w.StepTip(name, s.Cracked.Value, age, s.Watched)})
	}
	return c
}

// curveTable reads the curves at round ages, of which the last few are shown.
func curveTable(w say.Cracks, c *cracks.Cracks) *Table {
	const most = 4
	end := 0.0
	for _, r := range c.Reinforcements {
		end = max(end, r.Curve.End())
	}
	columns := []ColumnOf[cell]{wordsIn(w.ReinforcementHead(), func(c cell) string { return w.Made(c.Reinforcement) })}
	var ages []int
	for _, age := range []int{1, 2, 3, 5, 7, 10, 15, 20, 25, 30, 40, 50} {
		if float64(age)*chart.DaysPerYear <= end {
			ages = append(ages, age)
		}
	}
	for _, age := range ages[max(0, len(ages)-most):] {
		columns = append(columns, numbers(w.ByHead(age), func(c cell) say.Cell {
			return w.Cell(say.OfHundred, c.Curve.CrackedBy(float64(age)*chart.DaysPerYear))
		}))
	}
	columns = append(columns, counts(w.PlacementsHead(), func(c cell) int { return c.Placements }))
	return TableOf(w.CurvesCaption(), withAll(c), columns...)
}

// forest gives a chart of ratios the reason that any has where it is not drawn.
func (a *Author) forest(p chart.ForestPlot) *chart.Chart {
	p.Undrawn = a.NoRatio()
	return p.Chart()
}

// funnelWords are those that any funnel has.
func (a *Author) funnelWords() chart.FunnelWords {
	return chart.FunnelWords{ByChance: a.ByChance(), Outside: a.Outside(), Inner: a.InnerLimits(), Outer: a.OuterLimits(), TooFew: a.TooFewGroups(chart.FewestGroups)}
}
