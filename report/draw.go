package report

import (
	"math"

	"github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"
	"github.com/go-echarts/go-echarts/v2/types"
)

// spot is a place on a chart, in the units of its scales, with the words that
// appear when it is pointed at.
type spot struct {
	x, y float64
	tip  string
}

func (s spot) drawable() bool { return finite(s.x) != nil && finite(s.y) != nil }

// reach is a range above a place on the lower scale.
type reach struct{ x, low, high float64 }

// spots puts a symbol at each place.
func (b *board) spots(name, symbol string, size int, at []spot) {
	b.add(charts.SingleSeries{Name: name, Type: types.ChartScatter, Symbol: symbol, SymbolSize: size, Data: spotData(at)})
}

func spotData(at []spot) []opts.ScatterData {
	data := []opts.ScatterData{}
	for _, s := range at {
		if s.drawable() {
			data = append(data, opts.ScatterData{Name: s.tip, Value: []any{finite(s.x), finite(s.y)}})
		}
	}
	return data
}

// line joins places, in the order given, by a line that is solid, dashed or
// dotted. It breaks where a place is no number.
func (b *board) line(name, dash string, at []spot) {
	b.add(charts.SingleSeries{Name: name, Type: types.ChartLine, Symbol: "none", ShowSymbol: opts.Bool(false),
		LineStyle: &opts.LineStyle{Type: dash, Width: 2}, Data: lineData(at)})
}

func lineData(at []spot) []opts.LineData {
	data := make([]opts.LineData, len(at))
	for i, s := range at {
		data[i] = opts.LineData{Name: s.tip, Value: []any{finite(s.x), finite(s.y)}}
	}
	return data
}

// band shades what lies between the ends of ranges, in the color of the series
// of the same name. Ranges that are no numbers are left out.
func (b *board) band(name string, ranges []reach) {
	data := []opts.CustomData{}
	for _, r := range ranges {
		if v := []any{finite(r.x), finite(r.low), finite(r.high)}; v[0] != nil && v[1] != nil && v[2] != nil {
			data = append(data, opts.CustomData{Value: v})
		}
	}
	b.add(charts.SingleSeries{Name: name, Type: types.ChartCustom, RenderItem: drawBand, Data: data,
		Encode: &opts.Encode{X: 0, Y: []int{1, 2}}})
}

// texts writes each tip at its place, on axes number axis.
func (b *board) texts(axis int, position string, at []spot) {
	b.add(charts.SingleSeries{Type: types.ChartScatter, XAxisIndex: axis, YAxisIndex: axis, SymbolSize: 0.1, Data: spotData(at),
		Label: &opts.Label{Show: opts.Bool(true), Position: position, Formatter: "{b}"}})
}

// rule is a line across a chart at a value that has a name. Its colors are set
// by the page's script.
type rule struct {
	name string
	at   float64
}

// rules draws lines across the chart, level or upright, behind the last series.
func (b *board) rules(upright bool, rules ...rule) {
	data := []any{}
	for _, r := range rules {
		switch {
		case finite(r.at) == nil:
		case upright:
			data = append(data, opts.MarkLineNameXAxisItem{Name: r.name, XAxis: finite(r.at)})
		default:
			data = append(data, opts.MarkLineNameYAxisItem{Name: r.name, YAxis: finite(r.at)})
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

// valueAxis is an upright scale with its name above it.
func valueAxis(name string) opts.YAxis {
	return opts.YAxis{Type: "value", Name: name, NameLocation: "end", AxisLabel: &opts.AxisLabel{}}
}

// scaleAlong is a scale along the foot with its name below it.
func scaleAlong(name string) opts.XAxis {
	return opts.XAxis{Type: "value", Name: name, NameLocation: "middle", NameGap: 28}
}

// around bounds an upright scale so that it holds values and rules alike.
func around(y *opts.YAxis, values []float64, rules []rule) {
	low, high := math.Inf(1), math.Inf(-1)
	for _, r := range rules {
		values = append(values, r.at)
	}
	for _, v := range values {
		if finite(v) != nil {
			low, high = math.Min(low, v), math.Max(high, v)
		}
	}
	if low < high {
		step := roundStep(high-low, 5)
		y.Min, y.Max = finite(step*math.Floor(low/step)), finite(step*math.Ceil(high/step))
	}
}

// roundStep is the least step of 1, 2 or 5 times a power of ten of which at most most
// steps cover a span.
func roundStep(span float64, most int) float64 {
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
