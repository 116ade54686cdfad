package chart

import (
	"strconv"

	"github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"
	"github.com/go-echarts/go-echarts/v2/types"

	"pourback/analysis/figure"
	"pourback/report/say"
)

// SurvivalPlot draws how many in 100 have cracked by each age, as stepped curves
// with bands, and below them, under the ages on the scale, how many slabs are
// still watched.
type SurvivalPlot struct {
	ID, Says   string
	Across, Up string // names of the scales
	Watched    string // what the numbers below are
	Undrawn    string // why there is no chart, where there is no curve
	Curves     []NamedCurve
}

// NamedCurve is the curve of one kind of slab. Ages are in years.
type NamedCurve struct {
	Name    string
	Start   string // said of its beginning, at the pour
	End     float64
	Steps   []CurveStep
	Watched func(age float64) int // slabs still watched
}

// CurveStep is the share that has cracked by an age; where its range is not
// known, the band leaves the step out.
type CurveStep struct {
	Age   float64
	Share figure.Figure
	Tip   string
}

// dashes and symbols tell series apart without color.
var (
	Dashes  = []string{"solid", "dashed", "dotted", "solid", "dashed", "dotted"}
	symbols = []string{"circle", "triangle", "rect", "diamond", "roundRect", "circle"}
)

func (p SurvivalPlot) Chart() *Chart {
	var drawn []NamedCurve
	for _, c := range p.Curves {
		if len(c.Steps) > 0 && len(drawn) < len(Dashes) {
			drawn = append(drawn, c)
		}
	}
	if len(drawn) == 0 {
		return Undrawn(p.ID, p.Undrawn)
	}
	return &Chart{ID: p.ID, Says: p.Says, Height: 380 + watchedRow*len(drawn), Draw: func() *Board { return p.draw(drawn) }}
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
		end = max(end, c.End)
		names[i] = say.Clean(c.Name, say.LabelName)
	}
	step := RoundStep(end, 5)
	ages := func() opts.XAxis {
		x := ScaleAlong(p.Across)
		x.Min, x.Max, x.MinInterval, x.MaxInterval = 0, Finite(end), step, step
		x.AxisLabel = &opts.AxisLabel{ShowMaxLabel: opts.Bool(false)}
		return x
	}
	y := ValueAxis(p.Up)
	y.Min = 0
	b := NewBoard(ages(), y)
	rows := watchedRow * len(drawn)
	const left = "96" // the same above and below, so that the numbers stand under their ages
	b.grids = []opts.Grid{{Left: left, Right: "30", Bottom: strconv.Itoa(rows + watchedHead)},
		{Left: left, Right: "30", Bottom: "4", Height: strconv.Itoa(rows)}}
	for i, c := range drawn {
		p.curve(b, i, c)
	}
	p.watched(b, names, ages(), drawn, step, end)
	return b
}

// curve draws one curve and its band.
func (p SurvivalPlot) curve(b *Board, i int, c NamedCurve) {
	b.Add(charts.SingleSeries{Name: c.Name, Type: types.ChartLine, Step: "end", Symbol: symbols[i], SymbolSize: 6,
		LineStyle: &opts.LineStyle{Type: Dashes[i], Width: 2}, Data: c.data()})
	b.Band(c.Name, c.band())
}

// band is the range of a curve: it jumps where the curve does.
func (c NamedCurve) band() []Reach {
	var band []Reach
	for _, s := range c.Steps {
		if !s.Share.Bounded {
			continue
		}
		next := Reach{s.Age, 100 * s.Share.Low, 100 * s.Share.High}
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
		Name: p.Watched, NameLocation: "start", NameGap: 8,
		AxisLine:  &opts.AxisLine{Show: opts.Bool(false)},
		AxisLabel: &opts.AxisLabel{Interval: "0", Width: 70, Margin: 22, Overflow: "truncate"}})
	var numbers []Spot
	for row, c := range drawn {
		for k := 0; float64(k)*step <= end; k++ {
			age := float64(k) * step
			numbers = append(numbers, Spot{age, float64(row), say.Count(c.Watched(age))})
		}
	}
	b.texts(1, "inside", numbers)
}

// data is a curve's steps, from 0 at the pour.
func (c NamedCurve) data() []opts.LineData {
	data := []opts.LineData{{Name: c.Start, Value: []any{0.0, 0.0}}}
	for _, s := range c.Steps {
		data = append(data, opts.LineData{Name: s.Tip, Value: []any{Finite(s.Age), Finite(100 * s.Share.Value)}})
	}
	return data
}

// DaysPerYear turns ages in days into the years of a scale.
const DaysPerYear = 365.25
