package chart

import (
	"math"
	"slices"
)

// RowPlot draws a row for each name: a dot or a bar for each of one or several
// series, with its range. Long names stay readable on a phone.
type RowPlot struct {
	ID, Says string
	Scale    string // what the figures are; along the foot
	Series   []RowSeries
	Rows     []Row
	Zero     bool      // the scale begins at zero, as it does for bars
	Ratio    bool      // the figures are ratios: doubling and halving are the same way off
	Rule     Rule      // an upright line to compare with; none where it has no name
	Sides    [2]string // what it means to lie left of the line, and right of it
	Level    bool      // the marks of a row stand on one line, as those of one thing do
	Notes    []Note    // Y counts the rows from 0
	Small    bool      // read at a glance: no scale but its two ends
	Ends     [2]string // in a small picture, below the ends of the scale
	Undrawn  string    // why there is no chart, where no row has a figure
}

// RowSeries is what each row shows.
type RowSeries struct {
	Name string // in the legend, where there are several
	Hue  Hue
	Bar  bool
}

// Row is a name with an amount for each series.
type Row struct {
	Label   string
	Amounts []Amount
}

// Chart is the chart, or none where no row has a figure and no words say why.
func (p RowPlot) Chart() *Chart {
	p.Rows = slices.DeleteFunc(slices.Clone(p.Rows), func(r Row) bool {
		return !slices.ContainsFunc(r.Amounts, p.drawable)
	})
	switch {
	case len(p.Rows) > 0:
		return &Chart{ID: p.ID, Says: p.Says, draw: p.draw}
	case p.Undrawn != "":
		return Undrawn(p.ID, p.Undrawn)
	}
	return nil
}

// drawable says whether an amount has a place on the scale.
func (p RowPlot) drawable(a Amount) bool { return a.drawable() && (!p.Ratio || a.Value > 1/most) }

func (p RowPlot) draw() *board {
	b := newBoard(p.Small)
	hues := make([]Hue, len(p.Series))
	for k, s := range p.Series {
		hues[k] = s.Hue
	}
	hues = apartHues(hues)
	top := 0.0
	if len(p.Series) > 1 {
		var keys []key
		for k, s := range p.Series {
			keys = append(keys, key{name: s.Name, class: "mark " + string(hues[k]), mark: symbol(k), bar: s.Bar})
		}
		top = b.legend(keys, 0)
	}
	labels := make([]string, len(p.Rows))
	beside := 0.0
	for i, r := range p.Rows {
		labels[i] = r.Label
		for _, a := range r.Amounts {
			beside = max(beside, b.strongWidth(a.Text)+8)
		}
	}
	r := b.listed(listing{labels: labels, top: p.heads(b, top), each: p.rowHeight(), right: beside})
	r.x = p.scale(r.x1, r.x2)
	p.across(r)
	for i, row := range p.Rows {
		for k, a := range row.Amounts {
			if k < len(p.Series) && p.drawable(a) {
				p.amount(r, i, k, a, hues[k])
			}
		}
	}
	r.notes(p.Notes)
	return b
}

// heads writes what stands above the rows, and says where they begin.
func (p RowPlot) heads(b *board, top float64) float64 {
	if p.Small {
		return top + 2
	}
	if p.Rule.Name != "" || p.Sides != [2]string{} {
		top += b.leading() + 4
	}
	return top + 4
}

// rowHeight is what a row takes at least.
func (p RowPlot) rowHeight() float64 {
	switch {
	case p.Small && p.bars():
		return 26
	case p.Small:
		return 21
	}
	if p.Level {
		return 28
	}
	return max(28, 13*float64(len(p.Series))+12)
}

func (p RowPlot) bars() bool {
	return slices.ContainsFunc(p.Series, func(s RowSeries) bool { return s.Bar })
}

// scale holds all values and, but for one that is far beyond the others, all
// ranges.
func (p RowPlot) scale(from, to float64) scale {
	var values, highs, all []float64
	for _, r := range p.Rows {
		for _, a := range r.Amounts {
			if p.drawable(a) {
				values, all, highs = append(values, a.Value), append(all, a.Value, a.Low, a.High), append(highs, a.High)
			}
		}
	}
	if p.Ratio {
		low, high := ratioEnds(values, all)
		return scale{low, high, from, to, true}
	}
	low, high, _ := ends(all...)
	if p.bars() || p.Zero {
		low, high = min(low, 0), max(high, 0)
	}
	if p.Rule.Name != "" && finite(p.Rule.At) {
		low, high = min(low, p.Rule.At), max(high, p.Rule.At)
	}
	if high = min(high, reach(values, highs)); flat(low, high) {
		low, high = widened(low, low, 5)
	}
	return scale{low: low, high: high, from: from, to: to}
}

// reach is how far the ends of ranges let a scale go: twice the others where one
// alone goes farther, which is then drawn to the edge.
func reach(values, highs []float64) float64 {
	const beyond = 2
	sorted := slices.DeleteFunc(slices.Clone(highs), func(v float64) bool { return !finite(v) })
	if len(sorted) < 3 {
		return math.Inf(1)
	}
	slices.Sort(sorted)
	_, top, _ := ends(values...)
	if others := max(sorted[len(sorted)-2], top); others > 0 && sorted[len(sorted)-1] > beyond*others {
		return 1.25 * others
	}
	return math.Inf(1)
}

// across draws what runs through all rows: the scale and the line to compare with.
func (p RowPlot) across(r *rows) {
	if p.Small {
		p.smallScale(r)
	} else {
		r.foot(p.Scale)
	}
	if !p.Ratio && r.x.low < 0 && r.x.high > 0 {
		r.Line("axis", r.x.at(0), r.y1, r.x.at(0), r.y2)
	}
	if p.Rule.Name == "" && !p.Ratio || !finite(p.Rule.At) || !r.x.holds(p.Rule.At) {
		return
	}
	x := r.x.at(p.Rule.At)
	if p.Small {
		r.Line("axis", x, r.y1, x, r.y2)
		return
	}
	r.Line("rule", x, r.y1, x, r.y2)
	w := r.width(p.Rule.Name)
	y := r.y1 - 6
	r.line("word faint", middle, p.Rule.Name, r.Width, min(max(x, w/2), r.Width-w/2), y)
	if side := p.Sides[0]; side != "" && r.free("word faint", end, []string{side}, x-w/2-10, y) {
		r.write("word faint", end, []string{side}, x-w/2-10, y, "")
	}
	if side := p.Sides[1]; side != "" && r.free("word faint", start, []string{side}, x+w/2+10, y) {
		r.write("word faint", start, []string{side}, x+w/2+10, y, "")
	}
}

// smallScale writes what there is of the scale in a small picture.
func (p RowPlot) smallScale(r *rows) {
	r.Height = math.Ceil(r.y2 + 4)
	sided := p.Sides != [2]string{} && r.x.holds(p.Rule.At)
	if p.Ends == [2]string{} && !sided {
		return
	}
	y := r.y2 + r.size + 2
	r.Height = 0
	if sided {
		x := r.x.at(p.Rule.At)
		r.line("word faint", end, p.Sides[0], x-4, x-4, y)
		r.line("word faint", start, p.Sides[1], r.Width-x-4, x+4, y)
	} else {
		room := r.Width - r.x1
		if p.Ends[1] != "" {
			room /= 2
			r.line("word faint", end, p.Ends[1], room-4, r.Width, y)
		}
		r.line("word faint", start, p.Ends[0], room, r.x1, y)
	}
	r.Height = math.Ceil(y + 5)
}

// amount draws a figure of a row with its range.
func (p RowPlot) amount(r *rows, i, k int, a Amount, hue Hue) {
	if a.Hue != "" {
		hue = a.Hue
	}
	const between = 13
	y := r.middle(i)
	if !p.Level {
		y += between * (float64(k) - float64(len(p.Series)-1)/2)
	}
	x := r.x.at(r.x.within(a.Value))
	far := x
	if p.Series[k].Bar {
		high := 9.0
		switch {
		case len(p.Series) > 1:
			high = 5.5
		case p.Small:
			high = 8
		}
		r.rect("mark "+string(hue), r.x.at(r.x.within(0)), y-high, x, y+high, 2, a.Tip)
	}
	if a.ranged() {
		far = max(far, r.whisker("range", y, a, p.Series[k].Bar))
	}
	if !p.Series[k].Bar {
		r.mark("mark "+string(hue), symbol(k), Point{x, y}, 5, a.Tip)
		far = max(far, x+5)
	}
	switch {
	case a.Text == "":
	case p.Series[k].Bar:
		r.line("word strong halo", start, a.Text, r.Width-far-6, far+6, y+r.size*.35)
	default: // below each other, where a range that goes beyond the scale does not point at them
		r.line("word strong", end, a.Text, r.Width-r.x2-4, r.Width, y+r.size*.35)
	}
	r.busy = append(r.busy, Point{x, y})
}

// whisker draws a range, with an arrow to the edge where it goes beyond, and says
// where it ends.
func (r *rows) whisker(class string, y float64, a Amount, capped bool) float64 {
	low, high := r.x.at(r.x.within(a.Low)), r.x.at(r.x.within(a.High))
	r.add(Shape{Class: class, Points: []Point{{low, y}, {high, y}}, Tip: a.Tip})
	head := func(x, back float64) {
		r.add(Shape{Class: class, Points: []Point{{x + back, y - 4}, {x, y}, {x + back, y + 4}}})
	}
	end := func(x float64) { r.Line(class, x, y-4, x, y+4) }
	if r.x.holds(a.High) {
		if capped {
			end(high)
		}
	} else {
		head(high, -5)
	}
	if r.x.holds(a.Low) {
		if capped {
			end(low)
		}
	} else {
		head(low, 5)
	}
	return high
}

func (b *board) strongWidth(s string) float64 { return face{b.size, true}.width(s) }
