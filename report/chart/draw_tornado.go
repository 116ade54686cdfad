package chart

import (
	"math"

	"pourback/report/say"
)

// TornadoPlot draws what a sum swings with: a bar for each input, from what the
// sum comes to at one end of the input's range to what it comes to at the other,
// around what it comes to as things are. Where a decision turns at a value, a line
// stands there.
type TornadoPlot struct {
	ID, Says string
	Scale    string // what the sum is; along the foot
	Middle   Rule   // the sum as things are
	Turn     Rule   // where the decision turns; none where it has no name
	Rows     []Swing
	Undrawn  string // why there is no chart, where nothing swings
}

// Swing is what the sum comes to at both ends of an input's range.
type Swing struct {
	Label             string
	AtLow, AtHigh     float64 // at the input's low and its high end
	LowText, HighText string  // beside the ends
	Tip               string
}

// mostSwings are drawn at most.
const mostSwings = 8

// Chart is the chart, or none where nothing swings and no words say why.
func (p TornadoPlot) Chart() *Chart {
	var rows []Swing
	for _, s := range p.Rows {
		if finite(s.AtLow) && finite(s.AtHigh) && !flat(min(s.AtLow, s.AtHigh), max(s.AtLow, s.AtHigh)) && len(rows) < mostSwings {
			rows = append(rows, s)
		}
	}
	p.Rows = rows
	switch {
	case len(rows) > 0 && finite(p.Middle.At):
		return &Chart{ID: p.ID, Says: p.Says, draw: p.draw}
	case p.Undrawn != "":
		return Undrawn(p.ID, p.Undrawn)
	}
	return nil
}

func (p TornadoPlot) draw() *board {
	b := newBoard(false)
	labels, values := make([]string, len(p.Rows)), []float64{p.Middle.At}
	left, right := 0.0, 0.0
	for i, s := range p.Rows {
		labels[i] = say.Clean(s.Label, say.LongName)
		values = append(values, s.AtLow, s.AtHigh)
		from, to := s.texts()
		left, right = max(left, b.width(from)+7), max(right, b.width(to)+7)
	}
	turns := p.Turn.Name != "" && finite(p.Turn.At)
	if turns {
		values = append(values, p.Turn.At)
	}
	r := b.listed(listing{labels: labels, top: b.leading() + 8, each: 30, left: min(left, .2*b.Width), right: min(right, .2*b.Width), namesShare: .32})
	low, high, _ := ends(values...)
	r.x = scale{low: low, high: high, from: r.x1, to: r.x2}
	if p.Scale != "" {
		r.foot(p.Scale)
	} else {
		r.Height = math.Ceil(r.y2 + 4)
	}
	if turns {
		r.upright("rule", p.Turn)
	}
	for i, s := range p.Rows {
		r.swing(r.middle(i), s)
	}
	r.upright("axis", p.Middle)
	return b
}

// texts are those at the lesser and at the greater end of the bar.
func (s Swing) texts() (from, to string) {
	if s.AtLow <= s.AtHigh {
		return s.LowText, s.HighText
	}
	return s.HighText, s.LowText
}

// swing draws a bar between what the sum comes to at both ends.
func (r *rows) swing(y float64, s Swing) {
	const half = 9
	from, to := r.x.at(min(s.AtLow, s.AtHigh)), r.x.at(max(s.AtLow, s.AtHigh))
	r.rect("mark own", from, y-half, max(to, from+1), y+half, 2, s.Tip)
	before, behind := s.texts()
	r.line("word halo", end, before, .2*r.Width, from-5, y+r.size*.35)
	r.line("word halo", start, behind, r.Width-to-5, to+5, y+r.size*.35)
}

// upright draws a line through all rows, named above them where there is room.
func (r *rows) upright(class string, at Rule) {
	x := r.x.at(at.At)
	r.Line(class, x, r.y1-2, x, r.y2+2)
	lines, whole := r.wrap(at.Name, .5*r.Width, 1)
	w, y := r.widest(lines), r.y1-7
	for _, middleX := range []float64{x, x - w/2 - 6, x + w/2 + 6} {
		if middleX = min(max(middleX, w/2), r.Width-w/2); r.free("word faint", middle, lines, middleX, y) {
			r.write("word faint", middle, lines, middleX, y, whole)
			return
		}
	}
}
