package chart

import (
	"cmp"
	"encoding/json"
	"fmt"
	"math"
	"strconv"

	"github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"
	"github.com/go-echarts/go-echarts/v2/types"

	"pourback/analysis/figure"
	"pourback/report/say"
)

// Chart is a picture of the table below it. It is drawn only where it is
// looked at.
//
// Besides the sideways charts of figures made with this file's board, these
// kinds are ready-made, each a struct to fill with a method that makes the
// chart, or says on the page why there is too little to draw:
//
//	survivalPlot  stepped curves with bands, and the numbers still watched below
//	forestPlot    ratios with their ranges on a scale of doublings
//	funnelPlot    rates by how much they rest on, between limits of chance
//	paretoPlot    the costliest first, with the share that they add up to
//	bridgePlot    from one sum to another, step by step
//	controlPlot   a value over time between limits, what stands out marked
//	fitPlot       points with a fitted line and a band
//	boxPlot       how values of each kind spread
//
// [matrix] makes a shaded table of two things crossed, which reads better as a
// table than as a picture.
type Chart struct {
	ID     string // of its place on the page
	Says   string // what it shows, for those who do not see it
	Height int    // in CSS pixels
	Why    string // why it is not drawn; empty where it is

	Draw func() *Board
}

// Undrawn is a chart for which there is too little: the page says why in its
// place.
func Undrawn(id, why string) *Chart { return &Chart{ID: id, Why: why} }

// tooFew is a chart that takes more of something than there is.
func tooFew(id string, have, want int, noun string) *Chart {
	return Undrawn(id, "No chart is drawn of "+say.Plural(have, noun)+": it takes "+say.Count(want)+" or more.")
}

// Option is the chart as ECharts takes it: plain JSON, with the names of
// drawing functions ("$fn:…") in place of functions. Text in it cannot end the
// script element that holds it.
func (c *Chart) Option() (json.RawMessage, error) {
	b := c.Draw()
	b.Validate()
	option := b.JSON()
	delete(option, "color") // the page's script chooses colors, for light and dark
	delete(option, "title")
	delete(option, "toolbox")
	option["animation"] = false
	option["legend"], option["grid"] = b.surroundings()
	text, err := json.Marshal(option)
	if err != nil {
		return nil, fmt.Errorf("chart %s: %w", c.ID, err)
	}
	return text, nil
}

// Board is a chart with two axes that takes series of every kind.
type Board struct {
	*charts.Scatter
	grids []opts.Grid // where axes stand; one that fits itself where there are none
	above int         // more room above the drawing
}

// The drawing functions of the page's script.
const (
	DrawErrorBar types.FuncStr = "$fn:errorBar" // of [row, low, high]
	DrawBand     types.FuncStr = "$fn:band"     // of all [x, low, high] together
	DrawSpan     types.FuncStr = "$fn:span"     // of [row, from, to]
)

func NewBoard(x opts.XAxis, y opts.YAxis) *Board {
	b := &Board{Scatter: charts.NewScatter()}
	b.SetGlobalOptions(
		charts.WithXAxisOpts(x), charts.WithYAxisOpts(y),
		charts.WithTooltipOpts(opts.Tooltip{Trigger: "item"}))
	b.SetXAxis(x.Data)
	return b
}

// surroundings are the legend, where several series have names to tell apart,
// and the room that it and the name of an upright scale take.
func (b *Board) surroundings() (opts.Legend, []opts.Grid) {
	several, top := b.severalNames(), b.top()
	grids := b.grids
	if len(grids) == 0 {
		grids = []opts.Grid{{Left: "10", Right: "26", Bottom: "34", ContainLabel: opts.Bool(true)}}
	}
	grids[0].Top = strconv.Itoa(top)
	return opts.Legend{Show: opts.Bool(several), Top: "0", Left: "0"}, grids
}

// severalNames says whether there are series to be told apart by name.
func (b *Board) severalNames() bool {
	first := ""
	for _, s := range b.MultiSeries {
		if s.Name != "" && first != "" && s.Name != first {
			return true
		}
		first = cmp.Or(first, s.Name)
	}
	return false
}

// top is the room above the drawing for a legend of one line and for the name
// of an upright scale.
func (b *Board) top() int {
	top := 8 + b.above
	if b.severalNames() {
		top += LegendHeight
	}
	if b.YAxisList[0].Name != "" {
		top += 24
	}
	return top
}

func (b *Board) Add(s charts.SingleSeries) { b.MultiSeries = append(b.MultiSeries, s) }

// Heights in pixels.
const (
	LegendHeight = 30
	rowHeight    = 34 // of one row of a sideways chart
)

// SidewaysHeight is the height of a sideways chart without a legend.
func SidewaysHeight(rows int) int { return 70 + rowHeight*rows }

// Sideways is a chart with a row for each label and a scale along the foot:
// long names stay readable on a phone.
func Sideways(labels []string, scale string) *Board {
	return NewBoard(
		opts.XAxis{Type: "value", Name: scale, NameLocation: "middle", NameGap: 28},
		opts.YAxis{Type: "category", Data: labels, Inverse: opts.Bool(true), AxisLabel: &opts.AxisLabel{Interval: "0"}})
}

// ShownFigure is a figure in its place on a chart, with the words that appear
// when it is pointed at.
type ShownFigure struct {
	Figure figure.Figure
	Tip    string
}

// Marks puts a symbol at each known figure of a sideways chart.
func (b *Board) Marks(name, symbol string, m say.Measure, rows []ShownFigure) {
	data := []opts.ScatterData{}
	for i, r := range rows {
		if r.Figure.Known() {
			data = append(data, opts.ScatterData{Name: r.Tip, Value: []any{Finite(r.Figure.Value * m.Factor), i}})
		}
	}
	b.Add(charts.SingleSeries{Name: name, Type: types.ChartScatter, Symbol: symbol, SymbolSize: 11, Data: data})
}

// Bars draws each known figure of a sideways chart as a bar from zero.
func (b *Board) Bars(name string, m say.Measure, rows []ShownFigure) {
	data := make([]opts.BarData, len(rows))
	for i, r := range rows {
		data[i] = opts.BarData{Name: r.Tip, Value: knownValue(r.Figure, m)}
	}
	b.Add(charts.SingleSeries{Name: name, Type: types.ChartBar, Data: data, BarMaxWidth: "18"})
}

// ErrorBars draws the ranges of the figures of a sideways chart. An end that
// is not known is drawn at the value.
func (b *Board) ErrorBars(name string, m say.Measure, rows []ShownFigure) {
	data := []opts.CustomData{}
	for i, r := range rows {
		f := r.Figure
		if !f.Known() || !f.Bounded {
			continue
		}
		low, high := f.Low, f.High
		if math.IsInf(low, 0) {
			low = f.Value
		}
		if math.IsInf(high, 0) {
			high = f.Value
		}
		data = append(data, opts.CustomData{Name: r.Tip, Value: []any{i, Finite(low * m.Factor), Finite(high * m.Factor)}})
	}
	b.Add(charts.SingleSeries{Name: name, Type: types.ChartCustom, RenderItem: DrawErrorBar, Data: data,
		Encode: &opts.Encode{X: []int{1, 2}, Y: 0}})
}

func knownValue(f figure.Figure, m say.Measure) any {
	if !f.Known() {
		return nil
	}
	return Finite(f.Value * m.Factor)
}

// Finite is v rounded to what a screen can tell apart, or nil where it is no
// number: ECharts would draw nothing at all, without a word.
func Finite(v float64) any {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	if v == 0 {
		return 0.0
	}
	unit := math.Pow(10, math.Floor(math.Log10(math.Abs(v)))-5)
	if r := math.Round(v/unit) * unit; !math.IsInf(r, 0) && !math.IsNaN(r) {
		return r
	}
	return v
}
