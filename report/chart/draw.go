package chart

import (
	"math"

	"github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"
	"github.com/go-echarts/go-echarts/v2/types"
)

// Spot is a place on a chart, in the units of its scales, with the words that
// appear when it is pointed at.
type Spot struct {
	X, Y float64
	Tip  string
}

func (s Spot) drawable() bool { return Finite(s.X) != nil && Finite(s.Y) != nil }

// Reach is a range above a place on the lower scale.
type Reach struct{ X, Low, High float64 }

// spots puts a symbol at each place.
func (b *Board) spots(name, symbol string, size int, at []Spot) {
	b.Add(charts.SingleSeries{Name: name, Type: types.ChartScatter, Symbol: symbol, SymbolSize: size, Data: spotData(at)})
}

func spotData(at []Spot) []opts.ScatterData {
	data := []opts.ScatterData{}
	for _, s := range at {
		if s.drawable() {
			data = append(data, opts.ScatterData{Name: s.Tip, Value: []any{Finite(s.X), Finite(s.Y)}})
		}
	}
	return data
}

// Line joins places, in the order given, by a line that is solid, dashed or
// dotted. It breaks where a place is no number.
func (b *Board) Line(name, dash string, at []Spot) {
	b.Add(charts.SingleSeries{Name: name, Type: types.ChartLine, Symbol: "none", ShowSymbol: opts.Bool(false),
		LineStyle: &opts.LineStyle{Type: dash, Width: 2}, Data: lineData(at)})
}

func lineData(at []Spot) []opts.LineData {
	data := make([]opts.LineData, len(at))
	for i, s := range at {
		data[i] = opts.LineData{Name: s.Tip, Value: []any{Finite(s.X), Finite(s.Y)}}
	}
	return data
}

// Band shades what lies between the ends of ranges, in the color of the series
// of the same name. Ranges that are no numbers are left out.
func (b *Board) Band(name string, ranges []Reach) {
	data := []opts.CustomData{}
	for _, r := range ranges {
		if v := []any{Finite(r.X), Finite(r.Low), Finite(r.High)}; v[0] != nil && v[1] != nil && v[2] != nil {
			data = append(data, opts.CustomData{Value: v})
		}
	}
	b.Add(charts.SingleSeries{Name: name, Type: types.ChartCustom, RenderItem: DrawBand, Data: data,
		Encode: &opts.Encode{X: 0, Y: []int{1, 2}}})
}

// texts writes each tip at its place, on axes number axis.
func (b *Board) texts(axis int, position string, at []Spot) {
	b.Add(charts.SingleSeries{Type: types.ChartScatter, XAxisIndex: axis, YAxisIndex: axis, SymbolSize: 0.1, Data: spotData(at),
		Label: &opts.Label{Show: opts.Bool(true), Position: position, Formatter: "{b}"}})
}

// Rule is a line across a chart at a value that has a name. Its colors are set
// by the page's script.
type Rule struct {
	Name string
	At   float64
}

// rules draws lines across the chart, level or upright, behind the last series.
func (b *Board) rules(upright bool, rules ...Rule) {
	data := []any{}
	for _, r := range rules {
		switch {
		case Finite(r.At) == nil:
		case upright:
			data = append(data, opts.MarkLineNameXAxisItem{Name: r.Name, XAxis: Finite(r.At)})
		default:
			data = append(data, opts.MarkLineNameYAxisItem{Name: r.Name, YAxis: Finite(r.At)})
		}
	}
	position := "insideEndTop"
	if upright {
		position = "start"
	}
	b.MultiSeries[len(b.MultiSeries)-1].MarkLines = &opts.MarkLines{Data: data, MarkLineStyle: opts.MarkLineStyle{
		Symbol: []string{"none", "none"}, LineStyle: &opts.LineStyle{Type: "dashed", Width: 1.5},
		Label: &opts.Label{Show: opts.Bool(true), Position: position, Formatter: "{b}"}}}
}

// ValueAxis is an upright scale with its name above it.
func ValueAxis(name string) opts.YAxis {
	return opts.YAxis{Type: "value", Name: name, NameLocation: "end", AxisLabel: &opts.AxisLabel{}}
}

// ScaleAlong is a scale along the foot with its name below it.
func ScaleAlong(name string) opts.XAxis {
	return opts.XAxis{Type: "value", Name: name, NameLocation: "middle", NameGap: 28}
}

// around bounds an upright scale so that it holds values and rules alike.
func around(y *opts.YAxis, values []float64, rules []Rule) {
	low, high := math.Inf(1), math.Inf(-1)
	for _, r := range rules {
		values = append(values, r.At)
	}
	for _, v := range values {
		if Finite(v) != nil {
			low, high = math.Min(low, v), math.Max(high, v)
		}
	}
	if low < high {
		step := RoundStep(high-low, 5)
		y.Min, y.Max = Finite(step*math.Floor(low/step)), Finite(step*math.Ceil(high/step))
	}
}

// RoundStep is the least step of 1, 2 or 5 times a power of ten of which at most most
// steps cover a span.
func RoundStep(span float64, most int) float64 {
	if !(span > 0) || math.IsInf(span, 0) {
		return 1
	}
	unit := math.Pow(10, math.Floor(math.Log10(span/float64(most))))
	for _, m := range []float64{1, 2, 5} {
		if unit*m*float64(most) >= span {
			return unit * m
		}
	}
	return 10 * unit
}
