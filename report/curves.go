package report

import (
	"fmt"

	"github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"
	"github.com/go-echarts/go-echarts/v2/types"

	"pourback/analysis"
	"pourback/analysis/stat/survival"
)

const daysPerYear = 365.25

// crackCurves follows each reinforcement from the pour on.
func (a *author) crackCurves(c *analysis.Cracks) Exhibit {
	e := Exhibit{"As time goes on", nil, a.curveTable(c)}
	var drawn []cell
	for _, r := range c.Reinforcements {
		if r.Curve != nil && len(drawn) < len(dashes) && r.Curve.AtRiskAt(1) >= fewest {
			drawn = append(drawn, r)
		}
	}
	if len(drawn) > 0 {
		e.Chart = &Chart{ID: "chart-curves", Height: 360,
			Says: fmt.Sprintf("A stepped line for each reinforcement: how many in 100 slabs have cracked by each age, as long as at least %d slabs are still watched. The table reads the lines at round ages.", fewest),
			draw: func() *board { return crackCurveChart(drawn) }}
	}
	return e
}

// curveTable reads the curves at round ages, of which the last few are shown.
func (a *author) curveTable(c *analysis.Cracks) *Table {
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
	return ofHundred.known(analysis.Figure{Value: risk.Value, Low: risk.Low, High: risk.High, Bounded: true})
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

// dashes tell lines apart without colour.
var dashes = []string{"solid", "dashed", "dotted", "solid", "dashed", "dotted"}

func crackCurveChart(drawn []cell) *board {
	b := newBoard(opts.XAxis{Type: "value", Name: "years since the pour", NameLocation: "middle", NameGap: 28, Min: 0},
		opts.YAxis{Type: "value", Name: "cracked, in 100", NameLocation: "end", Min: 0, AxisLabel: &opts.AxisLabel{}})
	symbols := []string{"circle", "triangle", "rect", "diamond", "roundRect", "circle"}
	for i, c := range drawn {
		b.add(charts.SingleSeries{Name: madeOf(c), Type: types.ChartLine, Step: "end", Symbol: symbols[i], SymbolSize: 6,
			LineStyle: &opts.LineStyle{Type: dashes[i], Width: 2}, Data: curveData(madeOf(c), c.Curve)})
	}
	return b
}

// curveData is a curve's steps: 0 at the pour, each rise, and the end of what
// is drawn. Of a long curve only steps that the eye can tell apart are kept.
func curveData(name string, km *survival.KM) []opts.LineData {
	const apart = 0.002
	data := []opts.LineData{{Name: name + ": at the pour", Value: []any{0.0, 0.0}}}
	at := func(i int) opts.LineData {
		risk := 100 * (1 - km.Survival[i])
		return opts.LineData{Value: []any{finite(km.Time[i] / daysPerYear), finite(risk)},
			Name: fmt.Sprintf("%s: %s in 100 after %s years, %s still watched", name, grouped(risk, 0), grouped(km.Time[i]/daysPerYear, 1), plural(km.AtRisk[i], "slab"))}
	}
	last, drawn, end := 1.0, -1, -1
	for i := range km.Time {
		if km.AtRisk[i] < fewest {
			break
		}
		end = i
		if last-km.Survival[i] > apart || km.Event[i] > 0 && drawn < 0 {
			data = append(data, at(i))
			last, drawn = km.Survival[i], i
		}
	}
	if end > drawn {
		data = append(data, at(end))
	}
	return data
}
