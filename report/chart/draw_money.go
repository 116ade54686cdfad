package chart

import (
	"math"

	"github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"
	"github.com/go-echarts/go-echarts/v2/types"

	"pourback/report/say"
)

// ParetoPlot draws amounts with the costliest first, and the share of all that
// each adds up to with those before it.
type ParetoPlot struct {
	ID, Says string
	Scale    string // of the amounts: "minutes lost"
	Amount   string // the name of the bars: "minutes"
	Running  string // the name of the line: "with those above, % of all"
	Few      Few    // why fewer than two are not drawn
	Rows     []ParetoRow
}

type ParetoRow struct {
	Label   string
	Amount  float64
	Running float64 // share of all up to here, 0 to 1
	Tip     string
}

func (p ParetoPlot) Chart() *Chart {
	const least = 2
	if len(p.Rows) < least {
		return Undrawn(p.ID, p.Few(len(p.Rows), least))
	}
	rows := p.Rows[:min(len(p.Rows), MostKinds)]
	return &Chart{ID: p.ID, Says: p.Says, Height: SidewaysHeight(len(rows)) + LegendHeight + 24, Draw: func() *Board { return p.draw(rows) }}
}

func (p ParetoPlot) draw(rows []ParetoRow) *Board {
	labels, bars, shares := make([]string, len(rows)), make([]opts.BarData, len(rows)), make([]Spot, len(rows))
	for i, r := range rows {
		labels[i] = say.Clean(r.Label, say.LabelName)
		bars[i] = opts.BarData{Name: r.Tip, Value: Finite(r.Amount)}
		shares[i] = Spot{100 * r.Running, float64(i), r.Tip}
	}
	b := Sideways(labels, p.Scale)
	b.XAxisList = append(b.XAxisList, opts.XAxis{Type: "value", Position: "top", Min: 0, Max: 100, MinInterval: 25, MaxInterval: 25,
		SplitLine: &opts.SplitLine{Show: opts.Bool(false)}})
	b.Add(charts.SingleSeries{Name: p.Amount, Type: types.ChartBar, Data: bars, BarMaxWidth: "18"})
	b.Add(charts.SingleSeries{Name: p.Running, Type: types.ChartLine, XAxisIndex: 1, Symbol: "circle", SymbolSize: 8,
		LineStyle: &opts.LineStyle{Width: 2}, Data: lineData(shares)})
	return b
}

// BridgePlot leads from one sum to another: a bar for each end from zero, and
// between them each step from where the one before it stopped.
type BridgePlot struct {
	ID, Says string
	Scale    string // "margin, $"
	First    BridgeStep
	Steps    []BridgeStep
	Last     string // the label of the end, which is the sum of all
	LastTip  string
	LastText string

	Ends, Worse, Better string // the names of the bars: "in all", "costs more than bid" …
	NoSteps, NoAmount   string // why nothing is drawn
}

type BridgeStep struct {
	Label  string
	Amount float64
	Text   string // beside the bar: "+$1,200"
	Tip    string
}

func (p BridgePlot) Chart() *Chart {
	if len(p.Steps) == 0 {
		return Undrawn(p.ID, p.NoSteps)
	}
	for _, s := range append([]BridgeStep{p.First}, p.Steps...) {
		if math.IsNaN(s.Amount) || math.IsInf(s.Amount, 0) {
			return Undrawn(p.ID, p.NoAmount)
		}
	}
	return &Chart{ID: p.ID, Says: p.Says, Height: SidewaysHeight(len(p.Steps)+2) + LegendHeight, Draw: p.draw}
}

// floating is a bar of a sideways chart that need not begin at zero.
type floating struct {
	row      int
	from, to float64
	tip      string
}

func (p BridgePlot) draw() *Board {
	labels := []string{say.Clean(p.First.Label, say.LabelName)}
	ends := []floating{{0, 0, p.First.Amount, p.First.Tip}}
	texts := []Spot{{math.Max(0, p.First.Amount), 0, p.First.Text}}
	var better, worse []floating
	at := p.First.Amount
	for i, s := range p.Steps {
		labels = append(labels, say.Clean(s.Label, say.LabelName))
		step := floating{i + 1, at, at + s.Amount, s.Tip}
		if s.Amount < 0 {
			worse = append(worse, step)
		} else {
			better = append(better, step)
		}
		texts = append(texts, Spot{math.Max(step.from, step.to), float64(i + 1), s.Text})
		at = step.to
	}
	end := len(labels)
	labels = append(labels, say.Clean(p.Last, say.LabelName))
	ends = append(ends, floating{end, 0, at, p.LastTip})
	texts = append(texts, Spot{math.Max(0, at), float64(end), p.LastText})
	b := Sideways(labels, p.Scale)
	b.grids = []opts.Grid{{Left: "10", Right: "70", Bottom: "34", ContainLabel: opts.Bool(true)}}
	b.spans(p.Ends, ends)
	b.spans(p.Worse, worse)
	b.spans(p.Better, better)
	b.texts(0, "right", texts)
	return b
}

// spans draws bars of a sideways chart from one value to another.
func (b *Board) spans(name string, spans []floating) {
	data := []opts.CustomData{}
	for _, s := range spans {
		data = append(data, opts.CustomData{Name: s.tip, Value: []any{s.row, Finite(s.from), Finite(s.to)}})
	}
	b.Add(charts.SingleSeries{Name: name, Type: types.ChartCustom, RenderItem: DrawSpan, Data: data,
		Encode: &opts.Encode{X: []int{1, 2}, Y: 0}})
}
