package report

import (
	"fmt"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/stat/survival"
)

const daysPerYear = 365.25

// mostCurves is how many curves can be told apart with their ranges shaded.
const mostCurves = 3

// crackCurves follows each reinforcement from the pour on.
func (a *author) crackCurves(c *cracks.Cracks) Exhibit {
	e := Exhibit{Title: "As time goes on", Table: a.curveTable(c)}
	plot := survivalPlot{id: "chart-curves", level: a.f.Level,
		says: fmt.Sprintf("A stepped line for each of the commonest kinds of reinforcement: how many in 100 slabs have cracked by each age, as long as at least %d slabs are still watched, shaded as far as the true figure may lie. Below, how many slabs are still watched. The table reads the lines at round ages.", fewest)}
	common := most(c.Reinforcements, func(r cell) int { return r.Placements })
	for _, r := range c.Reinforcements {
		if r.Curve != nil && r.Placements >= common[min(len(common), mostCurves)-1].Placements {
			plot.curves = append(plot.curves, namedCurve{madeOf(r), r.Curve})
		}
	}
	e.Chart = plot.chart()
	return e
}

// curveTable reads the curves at round ages, of which the last few are shown.
func (a *author) curveTable(c *cracks.Cracks) *Table {
	const most = 4
	end := 0.0
	for _, r := range c.Reinforcements {
		if r.Curve != nil {
			end = max(end, watchedTo(r.Curve))
		}
	}
	columns := []column[cell]{{head: "Reinforcement", cell: func(c cell) Cell { return Cell{Text: madeOf(c)} }}}
	var ages []float64
	for _, age := range []float64{1, 2, 3, 5, 7, 10, 15, 20, 25, 30, 40, 50} {
		if age*daysPerYear <= end {
			ages = append(ages, age)
		}
	}
	for _, age := range ages[max(0, len(ages)-most):] {
		columns = append(columns, column[cell]{head: "Cracked by " + plural(int(age), "year"), number: true,
			cell: func(c cell) Cell { return a.crackedBy(c.Curve, age) }})
	}
	columns = append(columns, column[cell]{head: "Placements", number: true, cell: func(c cell) Cell { return whole(c.Placements) }})
	return tableOf("Cracked by age, in 100 slabs", withAll(c), columns...)
}

// crackedBy reads a curve at an age in years.
func (a *author) crackedBy(km *survival.KM, age float64) Cell {
	if km == nil || km.AtRiskAt(age*daysPerYear) < fewest {
		return Cell{Text: "not known", why: fmt.Sprintf("fewer than %d slabs have been watched for so long", fewest), unknown: true}
	}
	risk, err := km.Risk(age*daysPerYear, a.f.Level)
	if err != nil {
		return Cell{Text: "not known", why: clean(err.Error(), longText), unknown: true}
	}
	return ofHundred.known(figure.Figure{Value: risk.Value, Low: risk.Low, High: risk.High, Bounded: true})
}

// watchedTo is the age in days to which enough slabs are watched.
func watchedTo(km *survival.KM) float64 {
	end := 0.0
	for i := range km.Time {
		if km.AtRisk[i] >= fewest {
			end = km.Time[i]
		}
	}
	return end
}

// fewest is how many slabs must still be watched for a curve to go on.
const fewest = 5
