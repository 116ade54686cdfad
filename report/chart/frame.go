package chart

import (
	"math"
	"slices"
	"strings"
)

// Axis is a scale of a chart: what is on it, and how far it goes.
type Axis struct {
	Name     string
	Marks    []Rule    // in place of round numbers
	From, To *float64  // its ends, where they are given
	Calendar *Calendar // of days; nil for numbers
	Whole    bool      // it counts, and is marked at whole numbers
}

// At is an end of an axis.
func At(v float64) *float64 { return &v }

// axisOf is an axis over values: from its given ends, or as far as they go.
func (a Axis) span(values []float64, round bool) (low, high float64) {
	low, high, ok := ends(values...)
	if !ok {
		low, high = 0, 1
	}
	if a.From != nil {
		low = *a.From
		high = max(high, low)
	}
	if a.To != nil {
		high = *a.To
		low = min(low, high)
	}
	if !round && !flat(low, high) {
		return low, high
	}
	l, h := widened(low, high, 5)
	if a.From != nil {
		l = low
	}
	if a.To != nil {
		h = high
	}
	return l, h
}

// whole are the marks of an axis, those alone at whole numbers where it counts.
func (a Axis) whole(marks []Rule) (kept []Rule) {
	if !a.Whole {
		return marks
	}
	for _, m := range marks {
		if m.At == math.Round(m.At) {
			kept = append(kept, Rule{number(m.At, 1), m.At})
		}
	}
	return kept
}

// frame is a chart with two scales: the drawing between them.
type frame struct {
	*board
	box
	x, y scale
}

// plan says what a frame is to hold.
type plan struct {
	X, Y     Axis
	xs, ys   []float64 // values that it must hold
	top      float64   // where it may begin
	high     float64   // of the part between the scales
	right    float64   // room beyond it
	left     float64   // room before it, at least
	roundX   bool      // the lower scale ends at round numbers
	bareY    bool      // no lines behind, as in a small picture
	unmarked bool      // no words on the scales but the marks given
}

// framed draws the scales.
func (b *board) framed(p plan) *frame {
	f := &frame{board: b}
	yLow, yHigh := p.Y.span(p.ys, !p.unmarked)
	xLow, xHigh := p.X.span(p.xs, p.roundX)
	up := scale{low: yLow, high: yHigh}
	marks := p.Y.Marks
	if marks == nil && !p.unmarked {
		marks = p.Y.whole(up.marks(7))
	}
	top := p.top
	if p.Y.Name != "" {
		b.line("word faint", start, p.Y.Name, b.Width-edge, edge, top+b.size)
		top += b.leading() + 6
	}
	top += b.size * .5
	f.box = box{p.left, top, b.Width - max(p.right, 8), top + p.high}
	for _, m := range marks {
		f.x1 = max(f.x1, b.width(m.Name)+8)
	}
	f.x1 = min(f.x1, b.Width*.45)
	f.x, f.y = scale{low: xLow, high: xHigh, from: f.x1, to: f.x2}, scale{low: yLow, high: yHigh, from: f.y2, to: f.y1}
	f.upright(marks, p.bareY)
	f.level(p)
	return f
}

// upright draws the lines and words of the upright scale, none over another.
func (f *frame) upright(marks []Rule, bare bool) {
	for _, m := range marks {
		y := f.y.at(m.At)
		if !f.y.holds(m.At) {
			continue
		}
		if !bare {
			f.Line("grid", f.x1, y, f.x2, y)
		}
		lines, whole := f.wrap(m.Name, f.x1-6, 1)
		if base := max(y+f.size*.35, ascent*f.size); len(lines) > 0 && f.free("word faint", end, lines, f.x1-6, base) {
			f.write("word faint", end, lines, f.x1-6, base, whole)
		}
	}
}

// level draws the lower scale, whose name stands below it, and closes the
// drawing there.
func (f *frame) level(p plan) {
	marks := p.X.Marks
	switch {
	case marks != nil || p.unmarked:
	case p.X.Calendar != nil:
		marks = p.X.Calendar.marks(f.x.low, f.x.high, 6)
	default:
		marks = f.x.marks(6)
	}
	if !p.bareY {
		f.Line("axis", f.x1, f.y2, f.x2, f.y2)
		for _, m := range marks {
			if f.x.holds(m.At) {
				f.Line("tick", f.x.at(m.At), f.y2, f.x.at(m.At), f.y2+4)
			}
		}
	}
	foot := f.y2 + 6
	if len(marks) > 0 {
		foot += f.size + 3
		f.marks("word faint", marks, f.x.at, foot)
		foot += 4
	}
	if p.X.Name != "" {
		foot += f.leading() - 2
		f.line("word faint", end, p.X.Name, f.Width, f.nameEnd(p.X.Name), foot)
		foot += 4
	}
	f.Height = math.Ceil(foot + 2)
}

// nameEnd is where the name of the lower scale ends: at its end, or as far to the
// right as it must.
func (f *frame) nameEnd(name string) float64 {
	return min(f.Width, max(f.x2, f.width(name)))
}

// place is where a pair of values lies.
func (f *frame) place(x, y float64) Point {
	if p := (Point{f.x.at(x), f.y.at(y)}); p.finite() {
		return p
	}
	return gap
}

// shows says whether a pair of values lies on the chart.
func (f *frame) shows(x, y float64) bool { return f.x.holds(x) && f.y.holds(y) }

// places are those of spots, those beyond the upright scale cut off where a line
// crosses its end.
func (f *frame) places(spots []Spot) []Point {
	var out []Point
	for i, s := range spots {
		p := f.place(s.X, s.Y)
		inside := p.finite() && f.shows(s.X, s.Y)
		if i > 0 {
			out = append(out, f.crossing(spots[i-1], s)...)
		}
		if inside {
			out = append(out, p)
		} else {
			out = append(out, gap)
		}
	}
	return out
}

// crossing is where a line between two spots leaves or enters the chart.
func (f *frame) crossing(a, b Spot) []Point {
	if !f.place(a.X, a.Y).finite() || !f.place(b.X, b.Y).finite() || f.y.holds(a.Y) == f.y.holds(b.Y) {
		return nil
	}
	edge := f.y.high
	if min(a.Y, b.Y) < f.y.low {
		edge = f.y.low
	}
	at := a.X + (edge-a.Y)/(b.Y-a.Y)*(b.X-a.X)
	if !f.x.holds(at) {
		return nil
	}
	return []Point{f.place(at, edge)}
}

// band shades what lies between the ends of ranges, cut off where the chart ends.
// It breaks where a range is no number.
func (f *frame) band(class string, ranges []Reach) {
	var over, under []Point
	flush := func() {
		if len(over) > 1 {
			for i := len(under) - 1; i >= 0; i-- {
				over = append(over, under[i])
			}
			f.Polygon(class, over)
		}
		over, under = nil, nil
	}
	for _, r := range ranges {
		if math.IsNaN(r.Low) || math.IsNaN(r.High) || !finite(r.X) || !f.x.holds(r.X) {
			flush()
			continue
		}
		over = append(over, f.place(r.X, f.y.within(r.High)))
		under = append(under, f.place(r.X, f.y.within(r.Low)))
	}
	flush()
}

// tag is a name that stands at the end of a line.
type tag struct {
	at    Point
	lines []string
	whole string
	class string
}

// tagged are names to stand at the ends of lines, and the room that they take
// beyond them: at most a share of the drawing.
func (b *board) tagged(names []string, class []string) (tags []tag, room float64) {
	const share, apart = .27, 16
	for i, n := range names {
		f := face{b.size, strings.Contains(class[i], strongly)}
		lines, whole := f.wrap(n, share*b.Width, 3)
		tags = append(tags, tag{lines: lines, whole: whole, class: class[i]})
		room = max(room, f.widest(lines)+apart)
	}
	return tags, room
}

// tagsFit says whether names have room one below the other on a height.
func (b *board) tagsFit(tags []tag, high float64) bool {
	total := 0.0
	for _, t := range tags {
		total += b.tagHeight(t)
	}
	return total <= high
}

func (b *board) tagHeight(t tag) float64 {
	const between = 2
	return float64(len(t.lines)-1)*b.leading() + (ascent+descent)*b.size + between
}

// writeTags writes names right of the chart, pushed apart, each with a leader to
// the end of its line where it had to move.
func (f *frame) writeTags(tags []tag) {
	tags = slices.DeleteFunc(slices.Clone(tags), func(t tag) bool { return !t.at.finite() || len(t.lines) == 0 })
	middles, heights := make([]float64, len(tags)), make([]float64, len(tags))
	for i, t := range tags {
		middles[i], heights[i] = t.at.Y, f.tagHeight(t)
	}
	at, ok := apart(middles, heights, f.y1-f.size*.5, f.y2+f.size*.5)
	for i := range at {
		if ok {
			f.writeTag(tags[i], at[i])
		}
	}
}

func (f *frame) writeTag(t tag, at float64) {
	x := f.x2 + 14
	if math.Abs(at-t.at.Y) > 5 || f.x2-t.at.X > 12 {
		f.Line("leader", t.at.X+3, t.at.Y, x-3, at)
	}
	top := at - float64(len(t.lines)-1)*f.leading()/2
	f.write(t.class, start, t.lines, x, top+f.size*.35, t.whole)
}

// notes writes what is said of places on the chart.
func (f *frame) notes(notes []Note) {
	for _, n := range notes {
		if p := f.place(n.X, n.Y); f.shows(n.X, n.Y) {
			f.note(p, n.Text, box{f.x1, 0, f.x2, f.y2})
		}
	}
}
