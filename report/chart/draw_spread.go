package chart

import "pourback/report/say"

// FitPlot draws points with a fitted line and the band around it.
type FitPlot struct {
	ID, Says   string
	Across, Up string // names of the scales
	Even       string // the name of the line where both are alike; none where empty
	Fits       []Fit
	Few        Few // why fewer than three are not drawn
	Notes      []Note
}

// Fit is one group's points with its line.
type Fit struct {
	Name   string // of the line and its band
	Hue    Hue
	Points []Spot
	Line   []Spot
	Band   []Reach // nothing where empty
}

// mostSpots keeps a cloud of points small: beyond it, every so manieth.
const mostSpots = 400

func (p FitPlot) Chart() *Chart {
	const least = 3
	n := 0
	for _, f := range p.Fits {
		for _, s := range f.Points {
			if s.drawable() {
				n++
			}
		}
	}
	if n < least {
		return Undrawn(p.ID, p.Few(n, least))
	}
	return &Chart{ID: p.ID, Says: p.Says, draw: p.draw}
}

func (p FitPlot) draw() *board {
	b := newBoard(false)
	lines := make([]Series, len(p.Fits))
	var xs, ys []float64
	for i, f := range p.Fits {
		lines[i] = Series{Name: f.Name, Hue: f.Hue, At: f.Line, Band: f.Band}
		for _, s := range f.Points {
			if s.drawable() {
				xs, ys = append(xs, s.X), append(ys, s.Y)
			}
		}
	}
	l := b.lined(lines, nil)
	xs, ys = append(xs, l.xs()...), append(ys, l.ys()...)
	names, classes := l.names()
	if p.Even != "" {
		names, classes = append(names, p.Even), append(classes, "word faint")
	}
	tags, room := b.tagged(names, classes)
	const high = 230
	top := 0.0
	if !b.tagsFit(tags, high) {
		tags, top = tags[:0], b.legend(p.keys(), 0)
	}
	f := b.framed(plan{X: Axis{Name: p.Across, From: fromZero(xs)}, Y: Axis{Name: p.Up, From: fromZero(ys)}, xs: xs, ys: ys, top: top, high: high, right: room})
	tails := f.lines(l)
	p.points(f)
	if p.Even != "" {
		tails = append(tails, f.even())
	}
	for i := range tags {
		tags[i].at = tails[i]
	}
	f.writeTags(tags)
	f.notes(p.Notes)
	return b
}

// fromZero begins a scale at zero where no value is below.
func fromZero(values []float64) *float64 {
	if low, _, ok := ends(values...); !ok || low < 0 {
		return nil
	}
	return At(0)
}

// keys name the points of each fit where their lines have no room for names.
func (p FitPlot) keys() (keys []key) {
	hues := p.hues()
	for i, f := range p.Fits {
		keys = append(keys, key{name: f.Name, class: "mark " + string(hues[i]), mark: symbol(i)})
	}
	return keys
}

func (p FitPlot) hues() []Hue {
	hues := make([]Hue, len(p.Fits))
	for i, f := range p.Fits {
		hues[i] = f.Hue
	}
	return apartHues(hues)
}

func (p FitPlot) points(f *frame) {
	hues := p.hues()
	for i, fit := range p.Fits {
		for _, s := range Thin(fit.Points, mostSpots) {
			if at := f.place(s.X, s.Y); at.finite() && f.shows(s.X, s.Y) {
				f.mark("mark cloud "+string(hues[i]), symbol(i), at, 2.6, s.Tip)
			}
		}
	}
}

// even draws the line where both scales say the same, and says where it ends.
func (f *frame) even() Point {
	low, high := max(f.x.low, f.y.low), min(f.x.high, f.y.high)
	if low >= high {
		return Point{f.x2, f.y2}
	}
	p, q := f.place(low, low), f.place(high, high)
	f.Line("rule", p.X, p.Y, q.X, q.Y)
	return q
}

// BoxPlot draws how the values of each kind spread: the middle half as a box,
// the median as a line in it, whiskers to 1 in 10 and 9 in 10.
type BoxPlot struct {
	ID, Says string
	Scale    string
	Rows     []BoxRow
	None     func(least int) string // why nothing is drawn: no row rests on so many
	Notes    []Note                 // Y counts the rows from 0
}

type BoxRow struct {
	Label string
	Five  [5]float64 // 1 in 10, 1 in 4, half, 3 in 4, 9 in 10 stayed under
	N     int
	Tip   string
	Text  string // beside it
}

func (p BoxPlot) Chart() *Chart {
	const least = 5 // placements of a kind
	var rows []BoxRow
	for _, r := range p.Rows {
		drawable := r.N >= least
		for _, v := range r.Five {
			drawable = drawable && finite(v)
		}
		if drawable && len(rows) < MostKinds {
			rows = append(rows, r)
		}
	}
	if len(rows) == 0 {
		return Undrawn(p.ID, p.None(least))
	}
	return &Chart{ID: p.ID, Says: p.Says, draw: func() *board { return p.draw(rows) }}
}

func (p BoxPlot) draw(boxes []BoxRow) *board {
	b := newBoard(false)
	labels := make([]string, len(boxes))
	beside, all := 0.0, []float64{0}
	for i, r := range boxes {
		labels[i] = say.Clean(r.Label, say.ShortName)
		beside = max(beside, b.strongWidth(r.Text)+8)
		all = append(all, r.Five[:]...)
	}
	r := b.listed(listing{labels: labels, top: 4, each: 28, right: beside})
	low, high, _ := ends(all...)
	if flat(low, high) {
		low, high = widened(low, high, 5)
	}
	r.x = scale{low: low, high: high, from: r.x1, to: r.x2}
	r.foot(p.Scale)
	if low < 0 {
		r.Line("axis", r.x.at(0), r.y1, r.x.at(0), r.y2)
	}
	for i, row := range boxes {
		y, at := r.middle(i), func(k int) float64 { return r.x.at(row.Five[k]) }
		r.Line("range", at(0), y, at(4), y)
		r.rect("half", at(1), y-8, at(3), y+8, 2, row.Tip)
		r.Line("median", at(2), y-8, at(2), y+8)
		if row.Text != "" {
			r.line("word strong", start, row.Text, r.Width-at(4)-6, at(4)+6, y+r.size*.35)
		}
	}
	r.notes(p.Notes)
	return b
}
