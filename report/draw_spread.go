package report

import (
	"github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"
	"github.com/go-echarts/go-echarts/v2/types"
)

// controlPlot draws a value over time with its average and the limits that
// chance keeps it within, and marks what stands out.
type controlPlot struct {
	id, says string
	scale    string // "margin, %"
	value    string // the name of the line: "margin"
	points   []controlPoint
	rules    []rule // the average and the limits
}

type controlPoint struct {
	label  string // along the foot: "2026-03"
	value  float64
	signal bool // stands out
	tip    string
}

func (p controlPlot) chart() *Chart {
	const least = 8 // METHODS: fewer months make limits of nothing
	if len(p.points) < least {
		return tooFew(p.id, len(p.points), least, "month")
	}
	return &Chart{ID: p.id, Says: p.says, Height: 340, draw: p.draw}
}

func (p controlPlot) draw() *board {
	labels, values := make([]string, len(p.points)), make([]float64, len(p.points))
	line, signals := make([]spot, len(p.points)), []spot{}
	for i, c := range p.points {
		labels[i], values[i], line[i] = c.label, c.value, spot{float64(i), c.value, c.tip}
		if c.signal {
			signals = append(signals, line[i])
		}
	}
	y := valueAxis(p.scale)
	around(&y, values, p.rules)
	b := newBoard(opts.XAxis{Type: "category", Data: labels}, y)
	b.add(charts.SingleSeries{Name: p.value, Type: types.ChartLine, Symbol: "circle", SymbolSize: 7, ShowSymbol: opts.Bool(true),
		LineStyle: &opts.LineStyle{Width: 2}, Data: lineData(line)})
	b.rules(false, p.rules...)
	if len(signals) > 0 {
		b.spots("stands out", "diamond", 15, signals)
	}
	return b
}

// fitPlot draws points with a fitted line and the band around it.
type fitPlot struct {
	id, says   string
	across, up string // names of the scales
	point      string // what a point is: "a placement"
	fits       []fit
}

// fit is one group's points with its line.
type fit struct {
	name   string // of the line and its band
	points []spot
	line   []spot
	band   []reach // nothing where empty
}

func (p fitPlot) chart() *Chart {
	const least = 3
	n := 0
	for _, f := range p.fits {
		n += len(f.points)
	}
	if n < least {
		return tooFew(p.id, n, least, "placement")
	}
	return &Chart{ID: p.id, Says: p.says, Height: 380, draw: p.draw}
}

func (p fitPlot) draw() *board {
	b := newBoard(scaleAlong(p.across), valueAxis(p.up))
	for i, f := range p.fits {
		b.add(charts.SingleSeries{Name: f.name, Type: types.ChartScatter, Symbol: symbols[i%len(symbols)], SymbolSize: 7,
			ItemStyle: &opts.ItemStyle{Opacity: opts.Float(0.6)}, Data: spotData(thin(f.points, mostSpots))})
		b.line(f.name, dashes[i%len(dashes)], f.line)
		if len(f.band) > 0 {
			b.band(f.name, f.band)
		}
	}
	return b
}

// mostSpots keeps a cloud of points small: beyond it, every so manieth.
const mostSpots = 400

func thin[T any](all []T, most int) []T {
	if len(all) <= most {
		return all
	}
	kept := make([]T, most)
	for i := range kept {
		kept[i] = all[i*len(all)/most]
	}
	return kept
}

// boxPlot draws how the values of each kind spread: the middle half as a box,
// the median as a line in it, whiskers to 1 in 10 and 9 in 10.
type boxPlot struct {
	id, says string
	scale    string
	rows     []boxRow
}

type boxRow struct {
	label string
	five  [5]float64 // 1 in 10, 1 in 4, half, 3 in 4, 9 in 10 stayed under
	n     int
	tip   string
}

func (p boxPlot) chart() *Chart {
	const least = 5 // placements of a kind
	var rows []boxRow
	for _, r := range p.rows {
		drawable := r.n >= least
		for _, v := range r.five {
			drawable = drawable && finite(v) != nil
		}
		if drawable && len(rows) < mostKinds {
			rows = append(rows, r)
		}
	}
	if len(rows) == 0 {
		return undrawn(p.id, "No chart is drawn: no kind has 5 placements or more.")
	}
	return &Chart{ID: p.id, Says: p.says, Height: sidewaysHeight(len(rows)), draw: func() *board { return p.draw(rows) }}
}

func (p boxPlot) draw(rows []boxRow) *board {
	labels, data := make([]string, len(rows)), make([]opts.BoxPlotData, len(rows))
	for i, r := range rows {
		five := make([]any, len(r.five))
		for k, v := range r.five {
			five[k] = finite(v)
		}
		labels[i], data[i] = clean(r.label, labelName), opts.BoxPlotData{Name: r.tip, Value: five}
	}
	b := sideways(labels, p.scale)
	b.add(charts.SingleSeries{Name: "spread", Type: types.ChartBoxPlot, Data: data})
	return b
}
