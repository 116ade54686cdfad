package chart

import (
	"fmt"
	"strconv"

	"github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"
	"github.com/go-echarts/go-echarts/v2/types"

	"pourback/analysis/stat/survival"
	"pourback/report/say"
)

// SurvivalPlot draws how many in 100 have cracked by each age, as stepped
// Kaplan-Meier curves with bands, and below them, under the ages on the scale,
// how many slabs are still watched.
type SurvivalPlot struct {
	Id, Says string
	Level    float64 // of the bands
	Curves   []NamedCurve
}

type NamedCurve struct {
	Name string
	Km   *survival.KM
}

// dashes and symbols tell series apart without color.
var (
	Dashes  = []string{"solid", "dashed", "dotted", "solid", "dashed", "dotted"}
	symbols = []string{"circle", "triangle", "rect", "diamond", "roundRect", "circle"}
)

func (p SurvivalPlot) Chart() *Chart {
	var drawn []NamedCurve
	for _, c := range p.Curves {
		if c.Km != nil && c.Km.AtRiskAt(1) >= Fewest && len(drawn) < len(Dashes) {
			drawn = append(drawn, c)
		}
	}
	if len(drawn) == 0 {
		return Undrawn(p.Id, fmt.Sprintf("No chart is drawn: it takes %d slabs of a kind that are still watched.", Fewest))
	}
	return &Chart{ID: p.Id, Says: p.Says, Height: 380 + watchedRow*len(drawn), Draw: func() *Board { return p.draw(drawn) }}
}

// Sizes below the curves, in pixels.
const (
	watchedRow  = 20 // a row of numbers
	watchedHead = 84 // the scale of ages, its name, and the heading of the numbers
)

func (p SurvivalPlot) draw(drawn []NamedCurve) *Board {
	end := 0.0
	names := make([]string, len(drawn))
	for i, c := range drawn {
		end = max(end, WatchedTo(c.Km)/DaysPerYear)
		names[i] = say.Clean(c.Name, say.LabelName)
	}
	step := RoundStep(end, 5)
	ages := func() opts.XAxis {
		x := ScaleAlong("years since the pour")
		x.Min, x.Max, x.MinInterval, x.MaxInterval = 0, Finite(end), step, step
		x.AxisLabel = &opts.AxisLabel{ShowMaxLabel: opts.Bool(false)}
		return x
	}
	y := ValueAxis("cracked, in 100 slabs")
	y.Min = 0
	b := NewBoard(ages(), y)
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
func (p SurvivalPlot) curve(b *Board, i int, c NamedCurve, end float64) {
	b.Add(charts.SingleSeries{Name: c.Name, Type: types.ChartLine, Step: "end", Symbol: symbols[i], SymbolSize: 6,
		LineStyle: &opts.LineStyle{Type: Dashes[i], Width: 2}, Data: curveData(c.Name, c.Km)})
	b.Band(c.Name, p.stepped(c.Km))
}

// stepped is the band of a curve: it jumps where the curve does.
func (p SurvivalPlot) stepped(km *survival.KM) []Reach {
	var band []Reach
	for _, i := range curveSteps(km) {
		risk, err := km.Risk(km.Time[i], p.Level)
		if err != nil {
			continue
		}
		next := Reach{km.Time[i] / DaysPerYear, 100 * risk.Low, 100 * risk.High}
		if n := len(band); n > 0 {
			band = append(band, Reach{next.X, band[n-1].Low, band[n-1].High})
		}
		band = append(band, next)
	}
	return band
}

// watched writes the numbers still watched under the ages of the scale.
func (p SurvivalPlot) watched(b *Board, names []string, ages opts.XAxis, drawn []NamedCurve, step, end float64) {
	ages.Show, ages.GridIndex, ages.Name = opts.Bool(false), 1, ""
	b.XAxisList = append(b.XAxisList, ages)
	b.YAxisList = append(b.YAxisList, opts.YAxis{Type: "category", Data: names, GridIndex: 1, Inverse: opts.Bool(true),
		Name: "Still watched", NameLocation: "start", NameGap: 8,
		AxisLine:  &opts.AxisLine{Show: opts.Bool(false)},
		AxisLabel: &opts.AxisLabel{Interval: "0", Width: 70, Margin: 22, Overflow: "truncate"}})
	var numbers []Spot
	for row, c := range drawn {
		for k := 0; float64(k)*step <= end; k++ {
			age := float64(k) * step
			numbers = append(numbers, Spot{age, float64(row), say.Count(c.Km.AtRiskAt(age * DaysPerYear))})
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
		if km.AtRisk[i] < Fewest {
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
		data = append(data, opts.LineData{Value: []any{Finite(km.Time[i] / DaysPerYear), Finite(risk)},
			Name: fmt.Sprintf("%s: %s in 100 after %s years, %s still watched", name, say.Grouped(risk, 0), say.Grouped(km.Time[i]/DaysPerYear, 1), say.Plural(km.AtRisk[i], "slab"))})
	}
	return data
}

const DaysPerYear = 365.25

// WatchedTo is the age in days to which enough slabs are watched.
func WatchedTo(km *survival.KM) float64 {
	end := 0.0
	for i := range km.Time {
		if km.AtRisk[i] >= Fewest {
			end = km.Time[i]
		}
	}
	return end
}

// Fewest is how many slabs must still be watched for a curve to go on.
const Fewest = 5
