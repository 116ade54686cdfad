package chart

import (
	"math"
	"strconv"
)

// LinePlot draws lines over a scale, with their ranges as bands. Few lines bear
// their names at their ends; more have a legend. Where lines run on each other
// both are seen, and those that do so throughout share one name.
type LinePlot struct {
	ID, Says   string
	Across, Up Axis
	Lines      []Series
	Rules      []Rule // level lines with names
	Notes      []Note
	Small      bool                        // read at a glance: no words but names and the marks given
	And        func(names []string) string // joins names: "chute and buggy"
	Undrawn    string                      // why there is no chart, where no line has a place
}

// Series is one line.
type Series struct {
	Name string
	Hue  Hue
	At   []Spot  // in order; the line breaks where a place is no number
	Band []Reach // nothing where empty
	Step bool    // level until the next place
	Dots bool    // a dot at each place
	Last bool    // a dot at the last
}

// mostTagged is how many lines can bear their names at their ends.
const mostTagged = 5

// Chart is the chart, or none where no line has a place and no words say why.
func (p LinePlot) Chart() *Chart {
	drawn := 0
	for _, s := range p.Lines {
		for _, at := range s.At {
			if at.drawable() {
				drawn++
				break
			}
		}
	}
	switch {
	case drawn > 0:
		return &Chart{ID: p.ID, Says: p.Says, draw: p.draw}
	case p.Undrawn != "":
		return Undrawn(p.ID, p.Undrawn)
	}
	return nil
}

func (p LinePlot) draw() *board {
	b := newBoard(p.Small)
	l := b.lined(p.Lines, p.And)
	high, left := 190.0, 0.0
	if p.Small {
		high, left = 66, 3
	}
	n := b.naming(l, p.Rules, high)
	f := b.framed(plan{X: p.Across, Y: p.Up, xs: l.xs(), ys: append(l.ys(), rulesAt(p.Rules)...), top: n.top, high: high, left: left, right: n.room, bareY: p.Small, unmarked: p.Small})
	for _, r := range p.Rules {
		f.rule(r)
	}
	f.name(n, p.Rules, f.lines(l))
	f.notes(p.Notes)
	return b
}

// naming is where lines and rules get their names: at their ends where those of
// the lines fit, else by a legend.
type naming struct {
	tags      []tag
	direct    bool
	top, room float64 // above the chart and to its right
}

func (b *board) naming(l *lining, rules []Rule, high float64) naming {
	names, classes := l.names()
	for _, r := range rules {
		names, classes = append(names, r.Name), append(classes, "word faint")
	}
	var n naming
	n.tags, n.room = b.tagged(names, classes)
	if n.direct = len(l.lines) <= mostTagged && b.tagsFit(n.tags, high); !n.direct {
		n.top = b.legend(l.keys(), 0)
		lines := len(names) - len(rules)
		n.tags, n.room = b.tagged(names[lines:], classes[lines:])
	}
	return n
}

// name writes the names, of lines by where they end.
func (f *frame) name(n naming, rules []Rule, ends []Point) {
	for i, r := range rules {
		n.tags[len(n.tags)-len(rules)+i].at = f.ruleEnd(r)
	}
	if n.direct {
		for i := range ends {
			n.tags[i].at = ends[i]
		}
	}
	f.writeTags(n.tags)
}

// rule draws a level line.
func (f *frame) rule(r Rule) {
	if y := f.y.at(r.At); finite(r.At) && f.y.holds(r.At) {
		f.Line("rule", f.x1, y, f.x2, y)
	}
}

// ruleEnd is where a level line ends, if it is on the chart.
func (f *frame) ruleEnd(r Rule) Point {
	if !finite(r.At) || !f.y.holds(r.At) {
		return gap
	}
	return Point{f.x2, f.y.at(r.At)}
}

func rulesAt(rules []Rule) (at []float64) {
	for _, r := range rules {
		at = append(at, r.At)
	}
	return at
}

// lining are lines that are to be drawn together.
type lining struct {
	lines  []Series
	hues   []Hue
	like   []int // the first line that each runs on throughout: itself for most
	and    func([]string) string
	dashed bool
}

// lined readies lines to be drawn together.
func (b *board) lined(lines []Series, and func([]string) string) *lining {
	l := &lining{and: and, dashed: len(lines) > mostTagged}
	var hues []Hue
	for _, s := range lines {
		for _, at := range s.At {
			if at.drawable() {
				l.lines, hues = append(l.lines, s), append(hues, s.Hue)
				break
			}
		}
	}
	l.hues = apartHues(hues)
	low, high, _ := ends(l.ys()...)
	l.like = make([]int, len(l.lines))
	for i := range l.lines {
		l.like[i] = i
		for k := range i {
			if l.like[k] == k && sameCourse(l.lines[k], l.lines[i], (high-low)/100) {
				l.like[i] = k
				break
			}
		}
	}
	return l
}

// sameCourse says whether two lines lie within so much of each other throughout.
func sameCourse(a, b Series, near float64) bool {
	if len(a.At) != len(b.At) || a.Step != b.Step {
		return false
	}
	for i, p := range a.At {
		q := b.At[i]
		if p.drawable() != q.drawable() || p.drawable() && (p.X != q.X || math.Abs(p.Y-q.Y) > near) {
			return false
		}
	}
	return true
}

// names are those of the lines that bear one, with the classes of their words.
func (l *lining) names() (names, classes []string) {
	for i := range l.lines {
		if l.like[i] != i {
			continue
		}
		together, class := []string{l.lines[i].Name}, "word strong "+string(l.hues[i])
		for k := i + 1; k < len(l.lines); k++ {
			if l.like[k] == i {
				together = append(together, l.lines[k].Name)
			}
		}
		name := together[0]
		if len(together) > 1 {
			class = "word strong"
			if l.and != nil {
				name = l.and(together)
			}
		}
		names, classes = append(names, name), append(classes, class)
	}
	return names, classes
}

func (l *lining) keys() (keys []key) {
	for i, s := range l.lines {
		keys = append(keys, key{name: s.Name, class: l.class(i), dash: true})
	}
	return keys
}

// class is that of a line: many are dashed each in its own way.
func (l *lining) class(i int) string {
	class := "line " + string(l.hues[i])
	if l.dashed && i%6 > 0 {
		class += " dash" + strconv.Itoa(i%6)
	}
	return class
}

func (l *lining) xs() (all []float64) {
	for _, s := range l.lines {
		for _, p := range s.At {
			if p.drawable() {
				all = append(all, p.X)
			}
		}
	}
	return all
}

// ys are the values that the upright scale must hold: those of the lines and the
// ends of their bands.
func (l *lining) ys() (all []float64) {
	for _, s := range l.lines {
		for _, p := range s.At {
			if p.drawable() {
				all = append(all, p.Y)
			}
		}
		for _, r := range s.Band {
			all = append(all, r.Low, r.High)
		}
	}
	return all
}

// lines draws bands, then lines, then dots, and says where the lines that bear a
// name end.
func (f *frame) lines(l *lining) (tails []Point) {
	for i, s := range l.lines {
		if l.like[i] == i {
			f.band("area "+string(l.hues[i]), s.Band)
		}
	}
	drawn := make([][]Point, len(l.lines))
	for i, s := range l.lines {
		points := f.places(s.steps())
		f.keepClear(points)
		for _, part := range ridden(points, drawn[:i]) {
			class := l.class(i)
			if part.over {
				class += " over"
			}
			f.add(Shape{Class: class, Points: part.points})
		}
		drawn[i] = points
	}
	for i, s := range l.lines {
		f.dots(s, "mark "+string(l.hues[i]), symbol(i))
		if l.like[i] == i {
			tails = append(tails, lastOf(drawn[i]))
		}
	}
	return tails
}

// steps are a line's places, with a corner between two that are level until the
// next.
func (s Series) steps() []Spot {
	if !s.Step {
		return s.At
	}
	var out []Spot
	for i, p := range s.At {
		if i > 0 {
			out = append(out, Spot{X: p.X, Y: s.At[i-1].Y})
		}
		out = append(out, p)
	}
	return out
}

// dots draws those of a line, and for the rest places that can be pointed at.
func (f *frame) dots(s Series, class string, kind symbol) {
	last := gap
	alone := len(s.At) == 1
	for i, at := range s.At {
		p := f.place(at.X, at.Y)
		if !p.finite() || !f.shows(at.X, at.Y) {
			continue
		}
		switch {
		case s.Dots || alone:
			f.mark(class, kind, p, 3.6, at.Tip)
		case s.Last && i == len(s.At)-1:
			f.mark(class, circle, p, 4, at.Tip)
		case at.Tip != "" && !(math.Hypot(p.X-last.X, p.Y-last.Y) < 5):
			f.mark("hit", circle, p, 7, at.Tip)
			last = p
		}
	}
}

func lastOf(points []Point) Point {
	for i := len(points) - 1; i >= 0; i-- {
		if points[i].finite() {
			return points[i]
		}
	}
	return gap
}

// piece is a part of a line, and whether it runs on another.
type piece struct {
	points []Point
	over   bool
}

// ridden takes a line apart where it begins or ceases to run on another.
func ridden(points []Point, others [][]Point) (out []piece) {
	for i := 1; i < len(points); i++ {
		p, q := points[i-1], points[i]
		over := p.finite() && q.finite() && runsOn(p, q, others)
		if n := len(out); n > 0 && out[n-1].over == over {
			out[n-1].points = append(out[n-1].points, q)
			continue
		}
		out = append(out, piece{[]Point{p, q}, over})
	}
	if len(out) == 0 {
		out = []piece{{points: points}}
	}
	return out
}

// runsOn says whether a stretch lies on one of the other lines.
func runsOn(p, q Point, others [][]Point) bool {
	const near = 1.6
	for _, o := range others {
		on := true
		for _, share := range []float64{.02, .5, .98} {
			x, y := p.X+share*(q.X-p.X), p.Y+share*(q.Y-p.Y)
			on = on && distance(x, y, o) < near
		}
		if on {
			return true
		}
	}
	return false
}

// distance is how far a place is above or below a line.
func distance(x, y float64, line []Point) float64 {
	least := math.Inf(1)
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		if !a.finite() || !b.finite() || x < min(a.X, b.X)-.5 || x > max(a.X, b.X)+.5 {
			continue
		}
		at := a.Y
		if a.X != b.X {
			at += (x - a.X) / (b.X - a.X) * (b.Y - a.Y)
		} else if y >= min(a.Y, b.Y) && y <= max(a.Y, b.Y) {
			at = y
		}
		least = min(least, math.Abs(y-at))
	}
	return least
}
