package chart

import "slices"

// ColumnPlot draws amounts month by month as columns, each with its range, and
// with a tick across for what is usual.
type ColumnPlot struct {
	ID, Says string
	Up       string // the upright scale, and the columns
	Usual    string // the name of the ticks; none where empty
	Marked   string // the name of the columns that stand out
	Columns  []Column
	Notes    []Note // X counts the columns from 0
	Counts   bool   // the amounts are counts
	Undrawn  string // why there is no chart, where there is no column
}

// Column is a month's amount, and what is usual of it.
type Column struct {
	Label string // below it
	Amount
	Usual    float64 // NaN for none
	UsualTip string
	Out      bool // stands out
}

// Chart is the chart, or none where there is no column and no words say why.
func (p ColumnPlot) Chart() *Chart {
	for _, c := range p.Columns {
		if finite(c.Value) {
			return &Chart{ID: p.ID, Says: p.Says, draw: p.draw}
		}
	}
	if p.Undrawn != "" {
		return Undrawn(p.ID, p.Undrawn)
	}
	return nil
}

func (p ColumnPlot) draw() *board {
	b := newBoard(false)
	ys := []float64{0}
	var marks []Rule
	for i, c := range p.Columns {
		ys = append(ys, c.Value, c.Low, c.High, c.Usual)
		marks = append(marks, Rule{c.Label, float64(i)})
	}
	up, top := Axis{Name: p.Up, Whole: p.Counts}, 0.0
	if keys := p.keys(); len(keys) > 1 {
		up.Name, top = "", b.legend(keys, 0)
	}
	f := b.framed(plan{X: Axis{Marks: marks, From: At(-.6), To: At(float64(len(p.Columns)) - .4)}, Y: up, ys: ys, top: top, high: 170})
	each := f.x.at(1) - f.x.at(0)
	wide := min(26, .7*each)
	for i, c := range p.Columns {
		if at := f.place(float64(i), c.Value); at.finite() && c.Value != 0 {
			hue := Own
			if c.Out {
				hue = Worse
			}
			f.rect("mark "+string(hue), at.X-wide/2, f.y.at(0), at.X+wide/2, at.Y, 1.5, c.Tip)
		}
	}
	for i, c := range p.Columns {
		if at := f.place(float64(i), c.Value); at.finite() && c.ranged() {
			f.whisker(at.X, f.y.at(f.y.within(c.Low)), f.y.at(f.y.within(c.High)))
		}
		if at := f.place(float64(i), c.Usual); at.finite() {
			reach := min(.46*each, wide/2+3)
			f.add(Shape{Class: "usual", Points: []Point{{at.X - reach, at.Y}, {at.X + reach, at.Y}}, Tip: c.UsualTip})
		}
	}
	f.notes(p.Notes)
	return b
}

// keys name the columns, those that stand out, and the ticks.
func (p ColumnPlot) keys() []key {
	keys := []key{{name: p.Up, class: "mark own", bar: true}}
	if slices.ContainsFunc(p.Columns, func(c Column) bool { return c.Out }) {
		keys = append(keys, key{name: p.Marked, class: "mark worse", bar: true})
	}
	if p.Usual != "" {
		keys = append(keys, key{name: p.Usual, class: "usual", dash: true})
	}
	return keys
}

// whisker draws a range with caps.
func (f *frame) whisker(x, low, high float64) {
	for _, y := range []float64{low, high} {
		f.Line("range", x-3, y, x+3, y)
	}
	f.Line("range", x, low, x, high)
}
