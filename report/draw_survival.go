package report

import (
	"fmt"
	"strconv"

	"github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"
	"github.com/go-echarts/go-echarts/v2/types"

	"pourback/analysis/stat/survival"
)

// survivalPlot draws how many in 100 have cracked by each age, as stepped
// Kaplan-Meier curves with bands, and below them, under the ages on the scale,
// how many slabs are still watched.
type survivalPlot struct {
	id, says string
	level    float64 // of the bands
	curves   []namedCurve
}

type namedCurve struct {
	name string
	km   *survival.KM
}

// dashes and symbols tell series apart without color.
var (
	dashes  = []string{"solid", "dashed", "dotted", "solid", "dashed", "dotted"}
	symbols = []string{"circle", "triangle", "rect", "diamond", "roundRect", "circle"}
)

func (p survivalPlot) chart() *Chart {
	var drawn []namedCurve
	for _, c := range p.curves {
		if c.km != nil && c.km.AtRiskAt(1) >= fewest && len(drawn) < len(dashes) {
			drawn = append(drawn, c)
		}
	}
	if len(drawn) == 0 {
		return undrawn(p.id, fmt.Sprintf("No chart is drawn: it takes %d slabs of a kind that are still watched.", fewest))
	}
	return &Chart{ID: p.id, Says: p.says, Height: 380 + watchedRow*len(drawn), draw: func() *board { return p.draw(drawn) }}
}

// Sizes below the curves, in pixels.
const (
	watchedRow  = 20 // a row of numbers
	watchedHead = 84 // the scale of ages, its name, and the heading of the numbers
)

func (p survivalPlot) draw(drawn []namedCurve) *board {
	end := 0.0
	names := make([]string, len(drawn))
	for i, c := range drawn {
		end = max(end, watchedTo(c.km)/daysPerYear)
		names[i] = clean(c.name, labelName)
	}
	step := roundStep(end, 5)
	ages := func() opts.XAxis {
		x := scaleAlong("years since the pour")
		x.Min, x.Max, x.MinInterval, x.MaxInterval = 0, finite(end), step, step
		x.AxisLabel = &opts.AxisLabel{ShowMaxLabel: opts.Bool(false)}
		return x
	}
	y := valueAxis("cracked, in 100 slabs")
	y.Min = 0
	b := newBoard(ages(), y)
	rows := watchedRow * len(drawn)
	const left = "96" // the same above and below, so that the numbers stand under their ages
	b.grids = []opts.Grid{{Left: left, Right: "30", Bottom: strconv.Itoa(rows + watchedHead)},
		{Left: left, Right: "30", Bottom: "4", Height: strconv.Itoa(rows)}}
	for i, c := range drawn {
		p.curve(b, i, c, end)
	}
	p.watched(b, names, ages(), drawn, step, end)
	return b
}

// curve draws one curve and its band, to its own end or that of the scale.
func (p survivalPlot) curve(b *board, i int, c namedCurve, end float64) {
	b.add(charts.SingleSeries{Name: c.name, Type: types.ChartLine, Step: "end", Symbol: symbols[i], SymbolSize: 6,
		LineStyle: &opts.LineStyle{Type: dashes[i], Width: 2}, Data: curveData(c.name, c.km)})
	b.band(c.name, p.stepped(c.km))
}

// stepped is the band of a curve: it jumps where the curve does.
func (p survivalPlot) stepped(km *survival.KM) []reach {
	var band []reach
	for _, i := range curveSteps(km) {
		risk, err := km.Risk(km.Time[i], p.level)
		if err != nil {
			continue
		}
		next := reach{km.Time[i] / daysPerYear, 100 * risk.Low, 100 * risk.High}
		if n := len(band); n > 0 {
			band = append(band, reach{next.x, band[n-1].low, band[n-1].high})
		}
		band = append(band, next)
	}
	return band
}

// watched writes the numbers still watched under the ages of the scale.
func (p survivalPlot) watched(b *board, names []string, ages opts.XAxis, drawn []namedCurve, step, end float64) {
	ages.Show, ages.GridIndex, ages.Name = opts.Bool(false), 1, ""
	b.XAxisList = append(b.XAxisList, ages)
	b.YAxisList = append(b.YAxisList, opts.YAxis{Type: "category", Data: names, GridIndex: 1, Inverse: opts.Bool(true),
		Name: "Still watched", NameLocation: "start", NameGap: 8,
		AxisLine:  &opts.AxisLine{Show: opts.Bool(false)},
		AxisLabel: &opts.AxisLabel{Interval: "0", Width: 70, Margin: 22, Overflow: "truncate"}})
	var numbers []spot
	for row, c := range drawn {
		for k := 0; float64(k)*step <= end; k++ {
			age := float64(k) * step
			numbers = append(numbers, spot{age, float64(row), count(c.km.AtRiskAt(age * daysPerYear))})
		}
	}
	b.texts(1, "inside", numbers)
}

// curveSteps are the places of a curve that are drawn: its first rise, each
// that the eye can tell from the one before, and its end, as long as enough
// slabs are watched.
func curveSteps(km *survival.KM) []int {
	const apart = 0.002
	var steps []int
	last, end := 1.0, -1
	for i := range km.Time {
		if km.AtRisk[i] < fewest {
			break
		}
		end = i
		if last-km.Survival[i] > apart || km.Event[i] > 0 && len(steps) == 0 {
			steps, last = append(steps, i), km.Survival[i]
		}
	}
	if end >= 0 && (len(steps) == 0 || steps[len(steps)-1] != end) {
		steps = append(steps, end)
	}
	return steps
}

// curveData is a curve's steps, from 0 at the pour.
func curveData(name string, km *survival.KM) []opts.LineData {
	data := []opts.LineData{{Name: name + ": at the pour", Value: []any{0.0, 0.0}}}
	for _, i := range curveSteps(km) {
		risk := 100 * (1 - km.Survival[i])
		data = append(data, opts.LineData{Value: []any{finite(km.Time[i] / daysPerYear), finite(risk)},
			Name: fmt.Sprintf("%s: %s in 100 after %s years, %s still watched", name, grouped(risk, 0), grouped(km.Time[i]/daysPerYear, 1), plural(km.AtRisk[i], "slab"))})
	}
	return data
}

const daysPerYear = 365.25

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
