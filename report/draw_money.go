package report

import (
	"math"

	"github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"
	"github.com/go-echarts/go-echarts/v2/types"
)

// paretoPlot draws amounts with the costliest first, and the share of all that
// each adds up to with those before it.
type paretoPlot struct {
	id, says string
	scale    string // of the amounts: "minutes lost"
	amount   string // the name of the bars: "minutes"
	rows     []paretoRow
}

type paretoRow struct {
	label   string
	amount  float64
	running float64 // share of all up to here, 0 to 1
	tip     string
}

func (p paretoPlot) chart() *Chart {
	const least = 2
	if len(p.rows) < least {
		return tooFew(p.id, len(p.rows), least, "cause")
	}
	rows := p.rows[:min(len(p.rows), mostKinds)]
	return &Chart{ID: p.id, Says: p.says, Height: sidewaysHeight(len(rows)) + legendHeight + 24, draw: func() *board { return p.draw(rows) }}
}

func (p paretoPlot) draw(rows []paretoRow) *board {
	labels, bars, shares := make([]string, len(rows)), make([]opts.BarData, len(rows)), make([]spot, len(rows))
	for i, r := range rows {
		labels[i] = clean(r.label, labelName)
		bars[i] = opts.BarData{Name: r.tip, Value: finite(r.amount)}
		shares[i] = spot{100 * r.running, float64(i), r.tip}
	}
	b := sideways(labels, p.scale)
	b.XAxisList = append(b.XAxisList, opts.XAxis{Type: "value", Position: "top", Min: 0, Max: 100, MinInterval: 25, MaxInterval: 25,
		SplitLine: &opts.SplitLine{Show: opts.Bool(false)}})
	b.add(charts.SingleSeries{Name: p.amount, Type: types.ChartBar, Data: bars, BarMaxWidth: "18"})
	b.add(charts.SingleSeries{Name: "with those above, % of all", Type: types.ChartLine, XAxisIndex: 1, Symbol: "circle", SymbolSize: 8,
		LineStyle: &opts.LineStyle{Width: 2}, Data: lineData(shares)})
	return b
}

// bridgePlot leads from one sum to another: a bar for each end from zero, and
// between them each step from where the one before it stopped.
type bridgePlot struct {
	id, says string
	scale    string // "margin, $"
	first    bridgeStep
	steps    []bridgeStep
	last     string // the label of the end, which is the sum of all
	lastTip  string
	lastText string
}

type bridgeStep struct {
	label  string
	amount float64
	text   string // beside the bar: "+$1,200"
	tip    string
}

func (p bridgePlot) chart() *Chart {
	if len(p.steps) == 0 {
		return undrawn(p.id, "No chart is drawn: nothing leads from the one to the other.")
	}
	for _, s := range append([]bridgeStep{p.first}, p.steps...) {
		if math.IsNaN(s.amount) || math.IsInf(s.amount, 0) {
			return undrawn(p.id, "No chart is drawn: "+s.label+" is not known.")
		}
	}
	return &Chart{ID: p.id, Says: p.says, Height: sidewaysHeight(len(p.steps)+2) + legendHeight, draw: p.draw}
}

// floating is a bar of a sideways chart that need not begin at zero.
type floating struct {
	row      int
	from, to float64
	tip      string
}

func (p bridgePlot) draw() *board {
	labels := []string{clean(p.first.label, labelName)}
	ends := []floating{{0, 0, p.first.amount, p.first.tip}}
	texts := []spot{{math.Max(0, p.first.amount), 0, p.first.text}}
	var better, worse []floating
	at := p.first.amount
	for i, s := range p.steps {
		labels = append(labels, clean(s.label, labelName))
		step := floating{i + 1, at, at + s.amount, s.tip}
		if s.amount < 0 {
			worse = append(worse, step)
		} else {
			better = append(better, step)
		}
		texts = append(texts, spot{math.Max(step.from, step.to), float64(i + 1), s.text})
		at = step.to
	}
	end := len(labels)
	labels = append(labels, clean(p.last, labelName))
	ends = append(ends, floating{end, 0, at, p.lastTip})
	texts = append(texts, spot{math.Max(0, at), float64(end), p.lastText})
	b := sideways(labels, p.scale)
	b.grids = []opts.Grid{{Left: "10", Right: "70", Bottom: "34", ContainLabel: opts.Bool(true)}}
	b.spans("in all", ends)
	b.spans("costs more than bid", worse)
	b.spans("costs less than bid", better)
	b.texts(0, "right", texts)
	return b
}

// spans draws bars of a sideways chart from one value to another.
func (b *board) spans(name string, spans []floating) {
	data := []opts.CustomData{}
	for _, s := range spans {
		data = append(data, opts.CustomData{Name: s.tip, Value: []any{s.row, finite(s.from), finite(s.to)}})
	}
	b.add(charts.SingleSeries{Name: name, Type: types.ChartCustom, RenderItem: drawSpan, Data: data,
		Encode: &opts.Encode{X: []int{1, 2}, Y: 0}})
}
