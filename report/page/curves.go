package page

import (
	"fmt"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/stat/survival"
	"pourback/report/chart"
	"pourback/report/say"
)

// mostCurves is how many curves can be told apart with their ranges shaded.
const mostCurves = 3

// crackCurves follows each reinforcement from the pour on.
func (a *Author) crackCurves(c *cracks.Cracks) Exhibit {
	e := Exhibit{Title: "As time goes on", Table: a.curveTable(c)}
	plot := chart.SurvivalPlot{Id: "chart-curves", Level: a.f.Level,
		Says: fmt.Sprintf("A stepped line for each of the commonest kinds of reinforcement: how many in 100 slabs have cracked by each age, as long as at least %d slabs are still watched, shaded as far as the true figure may lie. Below, how many slabs are still watched. The table reads the lines at round ages.", chart.Fewest)}
	common := most(c.Reinforcements, func(r cell) int { return r.Placements })
	for _, r := range c.Reinforcements {
		if r.Curve != nil && r.Placements >= common[min(len(common), mostCurves)-1].Placements {
			plot.Curves = append(plot.Curves, chart.NamedCurve{Name: madeOf(r), Km: r.Curve})
		}
	}
	e.Chart = plot.Chart()
	return e
}

// curveTable reads the curves at round ages, of which the last few are shown.
func (a *Author) curveTable(c *cracks.Cracks) *Table {
	const most = 4
	end := 0.0
	for _, r := range c.Reinforcements {
		if r.Curve != nil {
			end = max(end, chart.WatchedTo(r.Curve))
		}
	}
	columns := []ColumnOf[cell]{{Head: "Reinforcement", Cell: func(c cell) say.Cell { return say.Cell{Text: madeOf(c)} }}}
	var ages []float64
	for _, age := range []float64{1, 2, 3, 5, 7, 10, 15, 20, 25, 30, 40, 50} {
		if age*chart.DaysPerYear <= end {
			ages = append(ages, age)
		}
	}
	for _, age := range ages[max(0, len(ages)-most):] {
		columns = append(columns, ColumnOf[cell]{Head: "Cracked by " + say.Plural(int(age), "year"), Number: true,
			Cell: func(c cell) say.Cell { return a.crackedBy(c.Curve, age) }})
	}
	columns = append(columns, ColumnOf[cell]{Head: "Placements", Number: true, Cell: func(c cell) say.Cell { return say.Whole(c.Placements) }})
	return TableOf("Cracked by age, in 100 slabs", withAll(c), columns...)
}

// crackedBy reads a curve at an age in years.
func (a *Author) crackedBy(km *survival.KM, age float64) say.Cell {
	if km == nil || km.AtRiskAt(age*chart.DaysPerYear) < chart.Fewest {
		return say.Cell{Text: "not known", Why: fmt.Sprintf("fewer than %d slabs have been watched for so long", chart.Fewest), Unknown: true}
	}
	risk, err := km.Risk(age*chart.DaysPerYear, a.f.Level)
	if err != nil {
		return say.Cell{Text: "not known", Why: say.Clean(err.Error(), say.LongText), Unknown: true}
	}
	return a.Known(say.OfHundred, figure.Figure{Value: risk.Value, Low: risk.Low, High: risk.High, Bounded: true})
}
