package chart

import (
	"github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"
	"github.com/go-echarts/go-echarts/v2/types"

	"pourback/report/say"
)

// ControlPlot draws a value over time with its average and the limits that
// chance keeps it within, and marks what stands out.
type ControlPlot struct {
	ID, Says string
	Scale    string // "margin, %"
	Value    string // the name of the line: "margin"
	Points   []ControlPoint
	Rules    []Rule // the average and the limits
	Marked   string // the name of what stands out
	Few      Few    // why fewer than eight are not drawn
}

type ControlPoint struct {
	Label  string // along the foot: "2026-03"
	Value  float64
	Signal bool // stands out
	Tip    string
}

func (p ControlPlot) Chart() *Chart {
	const least = 8 // fewer months make limits of nothing (common practice, no published source)
	if len(p.Points) < least {
		return Undrawn(p.ID, p.Few(len(p.Points), least))
	}
	return &Chart{ID: p.ID, Says: p.Says, Height: 340, Draw: p.draw}
}

func (p ControlPlot) draw() *Board {
	labels, values := make([]string, len(p.Points)), make([]float64, len(p.Points))
	line, signals := make([]Spot, len(p.Points)), []Spot{}
	for i, c := range p.Points {
		labels[i], values[i], line[i] = c.Label, c.Value, Spot{float64(i), c.Value, c.Tip}
		if c.Signal {
			signals = append(signals, line[i])
		}
	}
	y := ValueAxis(p.Scale)
	around(&y, values, p.Rules)
	b := NewBoard(opts.XAxis{Type: "category", Data: labels}, y)
	b.Add(charts.SingleSeries{Name: p.Value, Type: types.ChartLine, Symbol: "circle", SymbolSize: 7, ShowSymbol: opts.Bool(true),
		LineStyle: &opts.LineStyle{Width: 2}, Data: lineData(line)})
	b.rules(false, p.Rules...)
	if len(signals) > 0 {
		b.spots(p.Marked, "diamond", 15, signals)
	}
	return b
}

// FitPlot draws points with a fitted line and the band around it.
type FitPlot struct {
	ID, Says   string
	Across, Up string // names of the scales
	Point      string // what a point is: "a placement"
	Fits       []Fit
	Few        Few // why fewer than three are not drawn
}

// Fit is one group's points with its line.
type Fit struct {
	Name   string // of the line and its band
	Points []Spot
	Line   []Spot
	Band   []Reach // nothing where empty
}

func (p FitPlot) Chart() *Chart {
	const least = 3
	n := 0
	for _, f := range p.Fits {
		n += len(f.Points)
	}
	if n < least {
		return Undrawn(p.ID, p.Few(n, least))
	}
	return &Chart{ID: p.ID, Says: p.Says, Height: 380, Draw: p.draw}
}

func (p FitPlot) draw() *Board {
	b := NewBoard(ScaleAlong(p.Across), ValueAxis(p.Up))
	for i, f := range p.Fits {
		b.Add(charts.SingleSeries{Name: f.Name, Type: types.ChartScatter, Symbol: symbols[i%len(symbols)], SymbolSize: 7,
			ItemStyle: &opts.ItemStyle{Opacity: opts.Float(0.6)}, Data: spotData(Thin(f.Points, mostSpots))})
		b.Line(f.Name, Dashes[i%len(Dashes)], f.Line)
		if len(f.Band) > 0 {
			b.Band(f.Name, f.Band)
		}
	}
	return b
}

// mostSpots keeps a cloud of points small: beyond it, every so manieth.
const mostSpots = 400

func Thin[T any](all []T, most int) []T {
	if len(all) <= most {
		return all
	}
	kept := make([]T, most)
	for i := range kept {
		kept[i] = all[i*len(all)/most]
	}
	return kept
}

// BoxPlot draws how the values of each kind spread: the middle half as a box,
// the median as a line in it, whiskers to 1 in 10 and 9 in 10.
type BoxPlot struct {
	ID, Says string
	Scale    string
	Rows     []BoxRow
	Spread   string                 // the name of the boxes
	None     func(least int) string // why nothing is drawn: no row rests on so many
}

type BoxRow struct {
	Label string
	Five  [5]float64 // 1 in 10, 1 in 4, half, 3 in 4, 9 in 10 stayed under
	N     int
	Tip   string
}

func (p BoxPlot) Chart() *Chart {
	const least = 5 // placements of a kind
	var rows []BoxRow
	for _, r := range p.Rows {
		drawable := r.N >= least
		for _, v := range r.Five {
			drawable = drawable && Finite(v) != nil
		}
		if drawable && len(rows) < MostKinds {
			rows = append(rows, r)
		}
	}
	if len(rows) == 0 {
		return Undrawn(p.ID, p.None(least))
	}
	return &Chart{ID: p.ID, Says: p.Says, Height: SidewaysHeight(len(rows)), Draw: func() *Board { return p.draw(rows) }}
}

func (p BoxPlot) draw(rows []BoxRow) *Board {
	labels, data := make([]string, len(rows)), make([]opts.BoxPlotData, len(rows))
	for i, r := range rows {
		five := make([]any, len(r.Five))
		for k, v := range r.Five {
			five[k] = Finite(v)
		}
		labels[i], data[i] = say.Clean(r.Label, say.LabelName), opts.BoxPlotData{Name: r.Tip, Value: five}
	}
	b := Sideways(labels, p.Scale)
	b.Add(charts.SingleSeries{Name: p.Spread, Type: types.ChartBoxPlot, Data: data})
	return b
}
